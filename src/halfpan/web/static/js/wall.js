// The wall: narrowing as you type, arrows from box to box, the tray, and the painter's own order.
import { change, fill, typing } from "./frame.js";

const form = document.querySelector("[data-filters]");
const wall = document.querySelector("[data-wall]");
const places = [...wall.querySelectorAll("[data-paint]")];
const byId = new Map(places.map((place) => [place.dataset.paint, place]));
const speak = document.querySelector("[data-speak]");
const name = (place) => place.querySelector(".nm").firstChild.textContent.trim();

// ---- narrowing -------------------------------------------------------------------------------
form.querySelector("[data-without-script]").hidden = true;
let asked = 0;
let waiting;

function wanted() {
  const values = new URLSearchParams(new FormData(form));
  for (const [key, value] of [...values]) if (!value) values.delete(key);
  return values;
}

async function narrow() {
  const turn = ++asked;
  const values = wanted();
  history.replaceState(null, "", `/paints?${values}`);
  const ask = new URLSearchParams([...values].filter(([key]) => ["find", "only", "by"].includes(key)));
  const found = await (await fetch(`/api/paints/narrow?${ask}`)).json();
  if (turn !== asked) return;
  const shown = new Set(found.paints);
  for (const [paint, place] of byId) place.hidden = !shown.has(paint);
  for (const part of wall.querySelectorAll(":is(.strip, .group, tbody)"))
    part.hidden = !part.querySelector("[data-paint]:not([hidden])");
  for (const count of form.querySelectorAll("[data-count]"))
    count.textContent = found.counts[count.dataset.count].toLocaleString(document.documentElement.lang);
  document.querySelector("[data-says]").textContent = found.says;
  const clash = document.querySelector("[data-clash]");
  clash.hidden = !found.clash;
  clash.querySelector("b").textContent = found.clash;
}

form.addEventListener("input", (event) => {
  clearTimeout(waiting);
  if (event.target.matches("[data-go]")) location.assign(`/paints?${wanted()}`);
  else waiting = setTimeout(narrow, event.target.type === "search" ? 90 : 0);
});
form.addEventListener("submit", (event) => {
  event.preventDefault();
  narrow();
});
if (places.length && wanted().has("find")) narrow();

// ---- arrows ----------------------------------------------------------------------------------
const shownPlaces = () => order().filter((place) => !place.hidden);

function upOrDown(list, from, down) {
  const here = from.getBoundingClientRect();
  const middle = here.left + here.width / 2;
  let best = null;
  let least = Infinity;
  for (const place of list) {
    const box = place.getBoundingClientRect();
    const away = down ? box.top - here.top : here.top - box.top;
    if (away < 8) continue;
    const cost = away * 4 + Math.abs(box.left + box.width / 2 - middle);
    if (cost < least) [best, least] = [place, cost];
  }
  return best;
}

function neighbour(place, key) {
  const list = shownPlaces();
  const at = list.indexOf(place);
  if (key === "ArrowLeft") return list[at - 1];
  if (key === "ArrowRight") return list[at + 1];
  const near = list.slice(Math.max(0, at - 120), at + 120);
  return upOrDown(near, place, key === "ArrowDown");
}

const link = (place) => place.querySelector("a");

wall.addEventListener("keydown", (event) => {
  const place = event.target.closest("[data-paint]");
  if (!place || typing(event.target)) return;
  if (event.key.startsWith("Arrow") && !event.altKey) {
    const next = neighbour(place, event.key);
    event.preventDefault();
    if (lifted) moveTo(next);
    else if (next) link(next).focus();
  } else if (event.key === " " && arranging) {
    event.preventDefault();
    if (lifted) putDown();
    else lift(place);
  } else if (event.key === "Escape" && lifted) {
    event.preventDefault();
    putBack();
  } else if (event.key === " " && comparing) {
    event.preventDefault();
    pick(place);
  }
});

// ---- the tray --------------------------------------------------------------------------------
const tray = document.querySelector("[data-tray]");
const compare = document.querySelector("[data-compare]");
let comparing = false;
const chosen = [];

function showTray() {
  tray.hidden = !comparing;
  const list = tray.querySelector("[data-tray-list]");
  list.replaceChildren(
    ...chosen.map((place) => Object.assign(document.createElement("li"), { textContent: name(place) })),
  );
  const go = tray.querySelector("[data-tray-go]");
  const ready = chosen.length >= 2 && chosen.length <= 6;
  go.setAttribute("aria-disabled", String(!ready));
  if (ready) go.href = `/compare?${new URLSearchParams(chosen.map((place) => ["paint", place.dataset.paint]))}`;
  else go.removeAttribute("href");
}

function pick(place) {
  const at = chosen.indexOf(place);
  if (at >= 0) chosen.splice(at, 1);
  else if (chosen.length < 6) chosen.push(place);
  place.classList.toggle("chosen", chosen.includes(place));
  link(place).setAttribute("aria-current", String(chosen.includes(place)));
  showTray();
}

compare.hidden = false;
compare.addEventListener("click", () => {
  comparing = !comparing;
  compare.setAttribute("aria-pressed", String(comparing));
  if (!comparing) for (const place of [...chosen]) pick(place);
  showTray();
});
tray.querySelector("[data-tray-clear]").addEventListener("click", () => {
  for (const place of [...chosen]) pick(place);
});
wall.addEventListener("click", (event) => {
  const place = event.target.closest("[data-paint]");
  if (!place || !(comparing || arranging)) return;
  event.preventDefault();
  if (comparing) pick(place);
});

// ---- the painter's own order -----------------------------------------------------------------
const arrange = document.querySelector("[data-arrange]");
let arranging = false;
let lifted = null;
let home = null;

function order() {
  return [...wall.querySelectorAll("[data-paint]")];
}

function tell(key) {
  const list = order();
  const values = { name: name(lifted), place: list.indexOf(lifted) + 1, total: list.length };
  speak.textContent = fill(speak.dataset[key], values);
}

function lift(place) {
  lifted = place;
  home = place.nextElementSibling;
  place.classList.add("lifted");
  tell("picked");
}

function moveTo(next) {
  if (!next || next === lifted) return;
  const after = lifted.compareDocumentPosition(next) & Node.DOCUMENT_POSITION_FOLLOWING;
  next[after ? "after" : "before"](lifted);
  link(lifted).focus();
  tell("moved");
}

function putBack() {
  if (home) home.before(lifted);
  tell("back");
  lifted.classList.remove("lifted");
  link(lifted).focus();
  lifted = null;
}

async function putDown() {
  const place = lifted;
  tell("moved");
  place.classList.remove("lifted");
  lifted = null;
  link(place).focus();
  const list = order();
  const after = list[list.indexOf(place) + 1];
  try {
    await change("/paints/order", { paint: place.dataset.paint, before: after ? after.dataset.paint : "" });
  } catch (refusal) {
    speak.textContent = refusal.message;
  }
}

if (arrange) {
  arrange.hidden = false;
  arrange.addEventListener("click", () => {
    arranging = !arranging;
    arrange.setAttribute("aria-pressed", String(arranging));
    wall.classList.toggle("arranging", arranging);
    if (!arranging && lifted) putBack();
  });
  wall.addEventListener("dragstart", (event) => arranging && event.preventDefault());
  wall.addEventListener("pointerdown", (event) => {
    const place = event.target.closest("[data-paint]");
    if (!arranging || !place || event.button) return;
    event.preventDefault();
    wall.setPointerCapture(event.pointerId);
    lift(place);
  });
  wall.addEventListener("pointermove", (event) => {
    if (!lifted || !wall.hasPointerCapture(event.pointerId)) return;
    const under = document.elementFromPoint(event.clientX, event.clientY)?.closest?.("[data-paint]");
    if (under && wall.contains(under)) moveTo(under);
  });
  const end = (event) => {
    if (lifted && wall.hasPointerCapture(event.pointerId)) putDown();
  };
  wall.addEventListener("pointerup", end);
  wall.addEventListener("pointercancel", () => lifted && putBack());
}
