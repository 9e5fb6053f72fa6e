// A tin: pans are lifted and set down by pointer, by two touches or by keys, and every move is said in words.
import { change, fill, typing } from "./frame.js";

const page = document.querySelector("[data-tin-page]");
const base = page.dataset.tinPage;
const speak = page.querySelector("[data-speak]");
let lifted = null; // {seat} or {paint}, and its name
let over = "";
let drag = null;

for (const part of page.querySelectorAll("[data-with-script]")) part.hidden = false;
for (const part of page.querySelectorAll("[data-without-script]")) part.hidden = true;

const tin = () => page.querySelector("[data-tin]");
const seats = () => [...tin().querySelectorAll("[data-seat]")];
const seatOf = (name) => seats().find((seat) => seat.dataset.seat === name);
const tell = (key, values) => (speak.textContent = fill(speak.dataset[key], values));
const whoIn = (seat) => seat.dataset.name || speak.dataset.nothing;
const startWords = () => (lifted.seat ? fill(speak.dataset.from_seat, { seat: lifted.seat }) : speak.dataset.the_table);

function ready() {
  const list = seats();
  for (const seat of list) {
    seat.setAttribute("role", "button");
    seat.setAttribute("tabindex", "-1");
  }
  list[0]?.setAttribute("tabindex", "0");
  for (const part of page.querySelectorAll("[data-live='table'] [data-with-script]")) part.hidden = false;
}

function focusSeat(seat) {
  for (const other of seats()) other.setAttribute("tabindex", other === seat ? "0" : "-1");
  seat.focus();
}

function mark(name) {
  over = name;
  for (const seat of seats()) seat.classList.toggle("target", seat.dataset.seat === name);
  if (name) tell("over", { name: lifted.name, seat: name, who: whoIn(seatOf(name)) });
}

function lift(what, element) {
  drop();
  lifted = { ...what, element };
  element.classList.add("lifted");
  tell("lifted", { name: lifted.name, start: startWords() });
}

const liftSeat = (seat) => seat.dataset.paint && lift({ seat: seat.dataset.seat, name: seat.dataset.name }, seat);
const liftPaint = (item) => lift({ paint: item.dataset.tablePaint, name: item.dataset.name }, item);

function drop() {
  lifted?.element.classList.remove("lifted");
  for (const seat of seats()) seat.classList.remove("target");
  lifted = null;
  over = "";
}

function putBack() {
  const { name, element } = lifted;
  drop();
  tell("back", { name });
  if (element.dataset.seat) focusSeat(element);
  else element.querySelector("button").focus();
}

async function renew() {
  const answer = await fetch(location.pathname);
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const find = page.querySelector("[data-table-find]")?.value ?? "";
  for (const part of page.querySelectorAll("[data-live]"))
    part.replaceWith(fresh.querySelector(`[data-live="${part.dataset.live}"]`));
  ready();
  drawLid();
  const field = page.querySelector("[data-table-find]");
  if (field && find) {
    field.value = find;
    narrow(find);
  }
}

/** Ask for a change, draw the tin anew, say what happened, and go back to the seat it happened at. */
async function ask(verb, values, key, said, seat) {
  try {
    await change(`${base}/${verb}`, values);
    await renew();
    page.querySelector("[data-take-back]").hidden = false;
    tell(key, said);
  } catch (refusal) {
    speak.textContent = refusal.message;
  }
  const there = seat && seatOf(seat);
  if (there) focusSeat(there);
  else page.querySelector(".on-table").focus();
}

function setDown(seat) {
  const what = lifted;
  if (what.seat === seat) return putBack();
  const who = whoIn(seatOf(seat));
  const key = seatOf(seat).dataset.paint && what.seat ? "swapped" : "down";
  drop();
  const said = { name: what.name, seat, who, start: what.seat };
  if (what.seat) return ask("move", { start: what.seat, end: seat }, key, said, seat);
  return ask("place", { paint: what.paint, seat }, key, said, seat);
}

function takeOut(seat) {
  const { paint, name } = seat.dataset;
  drop();
  if (paint) ask("out", { paint }, "out", { name }, seat.dataset.seat);
}

function lock(seat) {
  const locked = !seat.classList.contains("locked");
  const said = { name: seat.dataset.name, seat: seat.dataset.seat };
  ask("lock", { seat: said.seat, locked }, locked ? "locked" : "freed", said, said.seat);
}

// ---- keys ------------------------------------------------------------------------------------
function beside(seat, key) {
  const list = seats();
  const row = Number(seat.dataset.row);
  if (key === "ArrowLeft") return list[list.indexOf(seat) - 1];
  if (key === "ArrowRight") return list[list.indexOf(seat) + 1];
  const other = list.filter((one) => Number(one.dataset.row) === row + (key === "ArrowDown" ? 1 : -1));
  const here = seat.getBoundingClientRect();
  const middle = here.left + here.width / 2;
  const away = (one) => Math.abs(one.getBoundingClientRect().left + one.getBoundingClientRect().width / 2 - middle);
  return other.sort((a, b) => away(a) - away(b))[0];
}

page.addEventListener("keydown", (event) => {
  if (event.key === "Escape" && lifted) {
    event.preventDefault();
    putBack();
    return;
  }
  const seat = event.target.closest?.("[data-seat]");
  if (!seat || typing(event.target) || event.ctrlKey || event.metaKey || event.altKey) return;
  if (event.key.startsWith("Arrow")) {
    event.preventDefault();
    const next = beside(seat, event.key);
    if (!next) return;
    focusSeat(next);
    if (lifted) mark(next.dataset.seat);
  } else if (event.key === " " || event.key === "Enter") {
    event.preventDefault();
    if (lifted) setDown(seat.dataset.seat);
    else liftSeat(seat);
  } else if (event.key === "Delete" || event.key === "Backspace") {
    event.preventDefault();
    takeOut(lifted?.seat ? seatOf(lifted.seat) : seat);
  } else if (event.key === "l" || event.key === "L") {
    event.preventDefault();
    if (!lifted) lock(seat);
  }
});

// ---- the table -------------------------------------------------------------------------------
page.addEventListener("submit", (event) => {
  const item = event.target.closest("[data-table-paint]");
  if (!item) return;
  event.preventDefault();
  if (lifted?.paint === item.dataset.tablePaint) return putBack();
  if (lifted?.seat) return takeOut(seatOf(lifted.seat));
  liftPaint(item);
  if (!event.submitter?.matches(":focus-visible")) return;
  focusSeat(seats().find((seat) => !seat.dataset.paint) ?? seats()[0]);
});

function narrow(text) {
  const words = text.toLowerCase().split(/\s+/).filter(Boolean);
  for (const item of page.querySelectorAll("[data-table-paint]"))
    item.hidden = !words.every((word) => item.dataset.words.includes(word));
}
page.addEventListener("input", (event) => {
  if (event.target.matches("[data-table-find]")) narrow(event.target.value);
});

// ---- pointer: drag, or touch a pan and then its new seat --------------------------------------
const under = (event) => {
  for (const one of document.elementsFromPoint(event.clientX, event.clientY)) {
    const seat = one.closest?.("[data-seat]");
    if (seat && page.contains(seat)) return seat;
  }
  return null;
};

page.addEventListener("pointerdown", (event) => {
  if (event.button || !event.isPrimary) return;
  const seat = event.target.closest("[data-seat]");
  const item = event.target.closest("[data-table-paint]");
  if (seat || (item && event.pointerType !== "touch"))
    drag = { seat, item, x: event.clientX, y: event.clientY, held: null, id: event.pointerId };
});

document.addEventListener("pointermove", (event) => {
  if (!drag || drag.id !== event.pointerId) return;
  if (!drag.held) {
    if (Math.hypot(event.clientX - drag.x, event.clientY - drag.y) < 7) return;
    if (drag.seat && !drag.seat.dataset.paint) return;
    if (drag.seat) liftSeat(drag.seat);
    else liftPaint(drag.item);
    drag.held = Object.assign(document.createElement("div"), { className: "held", textContent: lifted.name });
    document.body.append(drag.held);
  }
  event.preventDefault();
  drag.held.style.transform = `translate(${event.clientX - 42}px, ${event.clientY - 30}px)`;
  const seat = under(event);
  if ((seat?.dataset.seat ?? "") !== over) mark(seat?.dataset.seat ?? "");
});

function end(event, kept) {
  if (!drag || drag.id !== event.pointerId) return;
  const { held, seat } = drag;
  drag = null;
  if (held) {
    held.remove();
    swallow = true;
    setTimeout(() => (swallow = false), 60);
    const there = kept && under(event);
    const onTable = kept && document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-live='table']");
    if (there) setDown(there.dataset.seat);
    else if (onTable && lifted.seat) takeOut(seatOf(lifted.seat));
    else putBack();
  } else if (kept && seat) {
    if (lifted) setDown(seat.dataset.seat);
    else {
      focusSeat(seat);
      liftSeat(seat);
    }
  }
}
// ---- the lid card ----------------------------------------------------------------------------
const lidForm = page.querySelector("[data-lid-form]");
let lidTurn = 0;

async function drawLid() {
  const turn = ++lidTurn;
  const values = new URLSearchParams(new FormData(lidForm));
  values.delete("token");
  const answer = await fetch(`${base}/card?${values}`);
  const text = await answer.text();
  if (turn === lidTurn && answer.ok) page.querySelector("[data-lid]").innerHTML = text;
}
lidForm?.addEventListener("input", drawLid);

let swallow = false;
document.addEventListener("pointerup", (event) => end(event, true));
document.addEventListener("pointercancel", (event) => end(event, false));
document.addEventListener("click", (event) => {
  if (swallow) {
    swallow = false;
    event.preventDefault();
    event.stopPropagation();
  }
}, true);

ready();
