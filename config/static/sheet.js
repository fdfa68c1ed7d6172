// Comforts only: every page works without this file.
"use strict";

const parse = (text) => new DOMParser().parseFromString(text, "text/html");

// What was answered has the focus, also in a browser that does not give it to what an address leads to.
const answer = window.location.hash === "#answer" && document.getElementById("answer");
if (answer && !answer.contains(document.activeElement)) answer.focus();

// What a worker is still at is asked for again until it is there: the element itself is replaced then, or the whole
// page is loaded where it says data-waiting="reload". Until then only what it says of its progress changes.
const PAUSE_MS = 2000;
const replace = (old, fresh) => {
  const hadFocus = old.contains(document.activeElement);
  old.replaceWith(fresh);
  if (hadFocus) {
    fresh.tabIndex = -1;
    fresh.focus({ preventScroll: true });
  }
};
const watch = () => {
  const waiting = document.querySelectorAll("[data-waiting]");
  if (!waiting.length) return;
  window.setTimeout(async () => {
    try {
      const answer = await fetch(window.location.href);
      const fresh = parse(await answer.text());
      for (const element of waiting) {
        const there = fresh.getElementById(element.id);
        if (element.dataset.waiting === "reload") {
          if (there?.hasAttribute("data-waiting")) element.replaceChildren(...there.childNodes);
          else if (answer.ok) return window.location.reload();
        } else if (there && !there.hasAttribute("data-waiting")) replace(element, there);
      }
    } catch {
      // No connection at this moment: asked again after the pause.
    }
    watch();
  }, PAUSE_MS);
};
watch();

// Hours of the ticked openings, added up beside the button.
for (const tally of document.querySelectorAll("[data-tally]")) {
  const boxes = [...tally.closest("form").querySelectorAll("input[type=checkbox][data-person-h]")];
  const show = () => {
    const ticked = boxes.filter((box) => box.checked);
    const hours = ticked.reduce((sum, box) => sum + Number(box.dataset.personH), 0);
    tally.textContent = ticked.length ? `${ticked.length} selected, ${hours.toFixed(2)} labor hours` : "";
  };
  tally.closest("form").addEventListener("change", show);
  show();
}

// One button checks or clears all boxes of its list.
for (const button of document.querySelectorAll("button[data-tick]")) {
  const boxes = button.closest("[data-ticks], section").querySelectorAll("input[type=checkbox]");
  button.hidden = false;
  button.addEventListener("click", () => {
    const on = [...boxes].every((box) => !box.checked);
    for (const box of boxes) {
      box.checked = on;
      box.indeterminate = false;
    }
    button.textContent = on ? "Select none" : "Select all";
  });
}

// The box of a group checks its openings, and shows what is checked of them.
for (const whole of document.querySelectorAll("input[data-whole]")) {
  const boxes = [...whole.closest("[data-group]").querySelectorAll("input[type=checkbox]")].filter((box) => box !== whole);
  const hasOthers = whole.dataset.whole !== "0";
  const show = () => {
    whole.checked = boxes.some((box) => box.checked) || (whole.checked && hasOthers);
    whole.indeterminate = whole.checked && !boxes.every((box) => box.checked);
  };
  whole.addEventListener("change", () => {
    for (const box of boxes) box.checked = whole.checked;
  });
  for (const box of boxes) box.addEventListener("change", show);
  show();
}

// The key / goes to the search of every page, except while somebody types.
document.addEventListener("keydown", (event) => {
  const isTyping = event.target.closest?.("input, select, textarea, [contenteditable]");
  if (event.key !== "/" || event.ctrlKey || event.metaKey || event.altKey || isTyping) return;
  event.preventDefault();
  document.querySelector("form.find input")?.focus();
});
