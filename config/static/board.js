// The crew board by hand: what is selected is dragged, or carried by keyboard, to another crew's day. Setting it down
// fills in the form that does the same without this file and sends it. What somebody else changes is shown in seconds.

const table = document.querySelector("table.crews");
const moveForm = document.getElementById("move");
const assignForm = document.getElementById("assign");

// Selecting

const boxesOf = (cell) => [...cell.querySelectorAll("input[name=assignments]")];
const wholeOf = (cell) => cell.querySelector(".whole input");

const settleWhole = (cell) => {
  const whole = wholeOf(cell);
  const boxes = boxesOf(cell);
  if (!whole || !boxes.length) return;
  whole.checked = boxes.every((box) => box.checked);
  whole.indeterminate = !whole.checked && boxes.some((box) => box.checked);
};

const selectedItems = () => [...document.querySelectorAll(".placed .chips > li")].filter(
  (item) => item.querySelector("input[name=assignments]:checked"));

const tally = () => {
  const output = moveForm?.querySelector("[data-selected]");
  if (!output) return;
  const items = selectedItems();
  const hours = items.reduce((sum, item) => sum + Number(item.dataset.h || 0), 0);
  output.textContent = items.length ? `${items.length} selected, ${round(hours)} labor hours` : "";
};

const round = (hours) => String(Math.round(hours * 100) / 100);

document.addEventListener("change", ({ target }) => {
  if (target.matches(".whole input")) {
    for (const box of boxesOf(target.closest("td"))) box.checked = target.checked;
  } else if (target.matches("td.cell input[name=assignments]")) settleWhole(target.closest("td"));
  tally();
});

// Carrying: what goes, where it would lie, and what the day says to that

const kindOf = (item) => (item.querySelector("input[name=openings]") ? "openings" : "assignments");

const carried = (item) => {
  const kind = kindOf(item);
  const items = [...document.querySelectorAll(".chips > li")].filter(
    (one) => one.querySelector(`input[name=${kind}]:checked`));
  return { kind, items: items.includes(item) ? items : [item] };
};

const wholeDay = (cell) => ({ kind: "whole_days", items: [...cell.querySelectorAll(".chips > li:not(.site)")], cell });

const many = (load) => {
  const count = load.items.length;
  return load.kind === "whole_days" ? "Whole day" : `${count} ${count === 1 ? "opening" : "openings"}`;
};

const verdict = (load, cell) => {
  const here = load.items.filter((item) => item.closest("td") === cell);
  if (here.length === load.items.length && load.items.length) return { text: `${cell.dataset.day}: already there`, fits: false };
  const hours = load.items.filter((item) => !here.includes(item)).reduce((sum, item) => sum + Number(item.dataset.h || 0), 0);
  const [taken, most] = [Number(cell.dataset.taken), Number(cell.dataset.hours)];
  const people = Math.max(0, ...load.items.map((item) => Number(item.dataset.n || 0)));
  if (!most) return { text: `${cell.dataset.day}: off`, fits: false };
  if (load.items.some((item) => item.dataset.from > cell.dataset.on)) return { text: `${cell.dataset.day}: not ready by then`, fits: false };
  const said = `${cell.dataset.day}: ${round(taken + hours)} of ${round(most)} labor hours`;
  if (taken + hours > most) return { text: `${said}, too much`, fits: false };
  if (people > Number(cell.dataset.people)) return { text: `${said}; lift takes ${people}, crew has ${cell.dataset.people}`, fits: false };
  return { text: said, fits: true };
};

const mark = (cell, load) => {
  for (const one of table.querySelectorAll(".over")) one.classList.remove("over", "does-not-fit");
  if (!cell) return many(load);
  const { text, fits } = verdict(load, cell);
  cell.classList.add("over");
  cell.classList.toggle("does-not-fit", !fits);
  return `${many(load)} → ${text}`;
};

const send = (form, act, { crew, on } = {}) => {
  if (crew) form.elements.crew.value = crew;
  if (on) form.elements.on.value = on;
  form.requestSubmit(form.querySelector(`button[value=${act}]`));
};

const only = (load, name) => {
  for (const box of document.querySelectorAll(`input[name=${name}]`)) {
    box.checked = load.items.some((item) => item.contains(box));
  }
};

const setDown = (load, cell) => {
  if (load.kind === "openings") {
    only(load, "openings");
    const seen = cell.querySelector("input[name=seen]")?.cloneNode();
    if (seen) {
      seen.setAttribute("form", "assign");
      cell.append(seen);
    }
    return send(assignForm, "assign", cell.dataset);
  }
  only(load, "assignments");
  for (const whole of document.querySelectorAll(".whole input")) {
    whole.checked = load.kind === "whole_days" && load.cell.contains(whole);
  }
  return send(moveForm, "move", cell.dataset);
};

const takeBack = (load) => {
  only(load, "assignments");
  send(moveForm, "withdraw");
};

// By pointer

const NEAR_PX = 6;
const EDGE_PX = 60;
let drag = null;

const label = document.createElement("output");
label.className = "carried";
label.hidden = true;
document.body.append(label);

const beneath = (event) => {
  const element = document.elementFromPoint(event.clientX, event.clientY);
  return { cell: element?.closest("td.cell"), isWaiting: Boolean(element?.closest("#waiting")) };
};

const lift = (event) => {
  const item = event.target.closest(".chips > li:not(.site), td.cell .load");
  if (!item || event.button || event.target.closest("input, label, button, summary") || !moveForm) return;
  if (event.pointerType === "touch") return; // a finger scrolls; on a phone the form moves
  const load = item.matches(".load") ? wholeDay(item.closest("td")) : carried(item);
  if (load.items.length && load.items.some((one) => one.querySelector("input") || load.cell)) drag = { load, x: event.clientX, y: event.clientY };
};

const carry = (event) => {
  if (!drag) return;
  if (!drag.isMoving && Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < NEAR_PX) return;
  drag.isMoving = true;
  document.body.classList.add("carrying");
  const { cell, isWaiting } = beneath(event);
  label.hidden = false;
  label.textContent = mark(cell, drag.load);
  if (isWaiting && drag.load.kind === "assignments") label.textContent += " → unassign";
  label.style.left = `${Math.min(event.clientX + 14, window.innerWidth - label.offsetWidth - 8)}px`;
  label.style.top = `${event.clientY + 14}px`;
  if (event.clientY < EDGE_PX) window.scrollBy(0, -24);
  else if (event.clientY > window.innerHeight - EDGE_PX) window.scrollBy(0, 24);
  event.preventDefault();
};

const leave = () => {
  drag = null;
  label.hidden = true;
  document.body.classList.remove("carrying");
  for (const one of table.querySelectorAll(".over")) one.classList.remove("over", "does-not-fit");
};

const drop = (event) => {
  if (!drag?.isMoving) return leave();
  const { load } = drag;
  const { cell, isWaiting } = beneath(event);
  leave();
  window.addEventListener("click", (click) => { click.preventDefault(); click.stopPropagation(); }, { capture: true, once: true });
  window.setTimeout(() => {
    if (cell && !load.items.every((item) => item.closest("td") === cell)) setDown(load, cell);
    else if (isWaiting && load.kind === "assignments") takeBack(load);
  });
};

// By keyboard

const spoken = document.createElement("p");
spoken.className = "spoken";
spoken.setAttribute("role", "status");
spoken.hidden = true;
table?.closest(".scroll").before(spoken);
let held = null;

const neighbor = (cell, key) => {
  const row = cell.parentElement;
  const step = { ArrowLeft: -1, ArrowRight: 1, ArrowUp: -1, ArrowDown: 1 }[key];
  if (key === "ArrowLeft" || key === "ArrowRight") {
    const cells = [...row.querySelectorAll("td.cell")];
    return cells[cells.indexOf(cell) + step];
  }
  const rows = [...table.tBodies[0].rows];
  return rows[rows.indexOf(row) + step]?.cells[cell.cellIndex];
};

const hold = (load, cell) => {
  held = { load, cell };
  spoken.hidden = false;
  spoken.textContent = `${mark(cell, load)}. Arrow keys choose the day, Enter sets down, Esc leaves.`;
  cell.scrollIntoView({ block: "nearest", inline: "nearest" });
};

const release = () => {
  held = null;
  spoken.hidden = true;
  leave();
};

const pickUp = () => {
  const focused = document.activeElement.closest(".chips > li");
  const ticked = document.querySelector(".placed input[name=assignments]:checked, #waiting input[name=openings]:checked");
  const item = focused?.querySelector("input") ? focused : ticked?.closest("li");
  if (!item) return false;
  const cell = item.closest("td.cell") ?? table.querySelector("td.cell");
  if (cell) hold(carried(item), cell);
  return Boolean(cell);
};

const press = (event) => {
  if (event.key === "Escape" && (drag || held)) return release();
  if (event.ctrlKey || event.metaKey || event.altKey || !moveForm) return;
  if (!held) {
    const isWriting = event.target.matches("select, textarea, input:not([type=checkbox])");
    if (!isWriting && event.key.toLowerCase() === "m" && pickUp()) event.preventDefault();
    return;
  }
  if (event.key.startsWith("Arrow")) {
    const next = neighbor(held.cell, event.key);
    if (next?.matches("td.cell")) hold(held.load, next);
    event.preventDefault();
  } else if (event.key === "Enter") {
    const { load, cell } = held;
    release();
    event.preventDefault();
    setDown(load, cell);
  }
};

// What somebody else changed

const PAUSE_MS = 4000;
const HIDDEN_PAUSE_MS = 30000;
const MISSES_SAID = 3;
let misses = 0;

const changedCells = async () => {
  const { versions, first, days } = table.dataset;
  const answer = await fetch(`${versions}?first=${first}&days=${days}`, { headers: { Accept: "application/json" } });
  if (!answer.ok) throw new Error(answer.status);
  return (await answer.json())
    .map((day) => ({ ...day, name: `${day.crew}-${day.on.replaceAll("-", "")}` }))
    .filter((day) => {
      const cell = document.getElementById(`cell-${day.name}`);
      return cell && cell.dataset.version !== day.version;
    })
    .map((day) => day.name);
};

const show = (fresh) => {
  const old = document.getElementById(fresh.id);
  if (!old) return;
  const ticked = new Set(boxesOf(old).filter((box) => box.checked).map((box) => box.value));
  const hadFocus = old.contains(document.activeElement) && document.activeElement.value;
  for (const box of boxesOf(fresh)) box.checked = box.checked || ticked.has(box.value);
  old.replaceWith(fresh);
  fresh.classList.add("changed");
  settleWhole(fresh);
  if (hadFocus) fresh.querySelector(`input[value="${hadFocus}"]`)?.focus({ preventScroll: true });
};

const note = document.createElement("p");
note.className = "elsewhere";
note.setAttribute("role", "status");
note.hidden = true;
table?.closest(".scroll").before(note);

const say = (text) => {
  note.hidden = !text;
  note.textContent = text;
};

const fetchCells = async (names) => {
  const asked = new URLSearchParams(names.map((name) => ["of", name]));
  asked.set("days", table.dataset.days);
  const answer = await fetch(`${table.dataset.cells}?${asked}`);
  if (!answer.ok) throw new Error(answer.status);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const cells = [...page.querySelectorAll("td.cell")].map((cell) => document.importNode(cell, true));
  for (const cell of cells) show(cell);
  say(`Changed by somebody else: ${cells.map((cell) => cell.dataset.day).slice(0, 4).join("; ")}${cells.length > 4 ? " and more" : ""}`);
  await freshWaiting();
};

// The ready list follows, unless something in it is selected or being filled in.
const freshWaiting = async () => {
  const old = document.getElementById("waiting");
  if (!old || old.querySelector("input:checked") || old.contains(document.activeElement)) return;
  const answer = await fetch(window.location.href.split("#")[0]);
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("#waiting .chips");
  const list = old.querySelector(".chips");
  if (list && fresh) list.replaceWith(document.importNode(fresh, true));
};

const watchDays = () => {
  window.setTimeout(async () => {
    try {
      if (!document.hidden && !drag && !held) {
        const names = await changedCells();
        if (names.length) await fetchCells(names);
        if (misses >= MISSES_SAID) say("");
        misses = 0;
      }
    } catch {
      misses += 1;
      if (misses === MISSES_SAID) say("No connection: what is shown here may be out of date.");
    }
    watchDays();
  }, document.hidden ? HIDDEN_PAUSE_MS : PAUSE_MS);
};

if (table) {
  for (const cell of table.querySelectorAll("td.cell")) settleWhole(cell);
  tally();
  document.addEventListener("pointerdown", lift);
  document.addEventListener("pointermove", carry);
  document.addEventListener("pointerup", drop);
  document.addEventListener("pointercancel", leave);
  document.addEventListener("dragstart", (event) => {
    if (drag) event.preventDefault();
  });
  document.addEventListener("keydown", press);
  watchDays();
}
