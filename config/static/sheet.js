// Comforts only: every page works without this file.
"use strict";

const parse = (text) => new DOMParser().parseFromString(text, "text/html");

// A button marked data-in-place replaces the listed elements only, so that its form keeps the chosen file.
for (const button of document.querySelectorAll("button[data-in-place]")) {
  button.form.addEventListener("submit", async (event) => {
    if (event.submitter !== button) return;
    event.preventDefault();
    const form = button.form;
    form.setAttribute("aria-busy", "true");
    try {
      const answer = await fetch(form.action, { method: "POST", body: new FormData(form, button) });
      const fresh = parse(await answer.text());
      for (const id of button.dataset.inPlace.split(" ")) {
        const there = fresh.getElementById(id);
        document.getElementById(id).replaceChildren(...(there ? there.childNodes : []));
      }
    } catch {
      document.getElementById("refusal").textContent = "There is no answer. Check the connection and try again.";
    } finally {
      form.removeAttribute("aria-busy");
    }
  });
}

// What a worker is still writing is asked for again until it is there.
const watch = () => {
  const waiting = document.querySelectorAll("[data-waiting]");
  if (waiting.length) {
    window.setTimeout(async () => {
      const fresh = parse(await (await fetch(window.location.href)).text());
      for (const element of waiting) {
        const there = fresh.getElementById(element.id);
        if (there && !there.hasAttribute("data-waiting")) element.replaceWith(there);
      }
      watch();
    }, 3000);
  }
};
watch();

// Hours of the ticked openings, added up beside the button.
for (const tally of document.querySelectorAll("[data-tally]")) {
  const boxes = [...tally.closest("form").querySelectorAll("input[type=checkbox][data-person-h]")];
  const show = () => {
    const ticked = boxes.filter((box) => box.checked);
    const hours = ticked.reduce((sum, box) => sum + Number(box.dataset.personH), 0);
    tally.textContent = ticked.length ? `${ticked.length} ticked, ${hours.toFixed(2)} person-hours` : "";
  };
  tally.closest("form").addEventListener("change", show);
  show();
}
