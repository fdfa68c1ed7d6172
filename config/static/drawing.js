// A drawing that follows what is typed. Without this file the form's own button draws it.
const PAUSE_MS = 300;
const NOT_TYPED = ["csrfmiddlewaretoken", "at", "act"];

for (const form of document.querySelectorAll("form[data-drawing]")) {
  const place = document.getElementById(form.dataset.drawnAt);
  let pause, asking;
  const draw = async () => {
    asking?.abort();
    asking = new AbortController();
    const typed = new URLSearchParams(new FormData(form));
    for (const name of NOT_TYPED) typed.delete(name);
    try {
      const answer = await fetch(`${form.dataset.drawing}?${typed}`, { signal: asking.signal });
      if (!answer.ok || answer.redirected) return;
      const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
      place.replaceChildren(...fresh.body.childNodes);
    } catch {
      // Asked again meanwhile, or no connection at this moment: the next key asks once more.
    }
  };
  form.addEventListener("input", () => {
    clearTimeout(pause);
    pause = setTimeout(draw, PAUSE_MS);
  });
}
