// One box at a time; ticks and lines are kept by this browser under the chart's own name.
"use strict";

const chart = document.body.dataset.chart;
const KEY = `halfpan boxes ${chart}`;
const boxes = [...document.querySelectorAll("article")];
const by = (id) => document.getElementById(id);
const sentences = JSON.parse(document.body.dataset.words);
const say = (key, values) => sentences[key].replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);

function kept() {
  try {
    return JSON.parse(localStorage.getItem(KEY)) ?? {};
  } catch {
    return {};
  }
}

const state = kept();
let at = 0;
let holds = true;

const tick = (box) => box.querySelector("[name=painted]");
const line = (box) => box.querySelector("[name=note]");

function keep() {
  for (const box of boxes) state[box.dataset.key] = { painted: tick(box).checked, note: line(box).value };
  try {
    localStorage.setItem(KEY, JSON.stringify(state));
    holds = true;
  } catch {
    holds = false;
  }
  tell();
}

function tell() {
  const done = boxes.filter((box) => tick(box).checked).length;
  const told = [say("count", { done, total: boxes.length })];
  if (done === boxes.length) told.push(say("dry"));
  if (!holds) told.push(say("lost"));
  by("count").textContent = told.join(" ");
  const lines = boxes.map((box) => {
    const note = line(box).value.replace(/\s+/g, " ").trim();
    return `${box.dataset.key}\t${tick(box).checked ? "painted" : "-"}${note ? `\t${note}` : ""}`;
  });
  by("notes").value = [KEY, ...lines].join("\n");
}

function show(index, focus = true) {
  at = Math.max(0, Math.min(boxes.length - 1, index));
  boxes.forEach((box, k) => { box.hidden = k !== at; });
  by("before").disabled = at === 0;
  by("after").disabled = at === boxes.length - 1;
  if (focus && boxes[at]) {
    boxes[at].focus({ preventScroll: true });
    scrollTo(0, 0);
  }
}

function next(from) {
  const order = [...boxes.keys()].slice(from).concat([...boxes.keys()].slice(0, from));
  return order.find((k) => !tick(boxes[k]).checked);
}

boxes.forEach((box, k) => {
  const own = state[box.dataset.key];
  if (own) {
    tick(box).checked = tick(box).checked || own.painted;
    line(box).value = own.note || line(box).value;
  }
  line(box).addEventListener("input", keep);
  tick(box).addEventListener("change", () => {
    keep();
    const open = next(k + 1);
    if (tick(box).checked && open !== undefined) setTimeout(() => show(open), 350);
  });
});
by("before").addEventListener("click", () => show(at - 1));
by("after").addEventListener("click", () => show(at + 1));
by("copy").addEventListener("click", async () => {
  by("notes").select();
  try {
    await navigator.clipboard.writeText(by("notes").value);
    by("copied").textContent = say("copied");
  } catch {
    by("copied").textContent = say(document.execCommand("copy") ? "copied" : "marked");
  }
});
by("boxes").classList.add("one");
by("turn").hidden = by("back").hidden = boxes.length === 0;
tell();
show(next(0) ?? 0, false);
