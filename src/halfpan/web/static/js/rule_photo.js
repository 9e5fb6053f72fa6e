// A grid over a photo: four corners by drag and by keys, the lines between them drawn as they will be read.
import { fill } from "./frame.js";

const form = document.querySelector("[data-rule]");
const [overlay, picture, said] = ["overlay", "picture", "said"].map((name) => form.querySelector(`[data-${name}]`));
const STEP = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
const SVG = "http://www.w3.org/2000/svg";
let points = [];
let placed = false;

const circles = [0, 1, 2, 3].map((k) => {
  const circle = document.createElementNS(SVG, "circle");
  circle.setAttribute("class", "corner");
  circle.setAttribute("tabindex", "0");
  circle.setAttribute("role", "button");
  circle.setAttribute("aria-label", fill(form.dataset.cornerName, { number: k + 1 }));
  circle.addEventListener("keydown", (event) => {
    const step = STEP[event.key];
    if (!step) return;
    event.preventDefault();
    const far = (event.shiftKey ? 20 : 1) * Math.max(1, picture.naturalWidth / 1000);
    move(k, points[k][0] + step[0] * far, points[k][1] + step[1] * far);
    say(k);
  });
  overlay.append(circle);
  return circle;
});

// The perspective that carries a unit square onto the four corners.
function inPicture(u, v) {
  const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = points;
  const [dx1, dx2, dx3] = [x1 - x2, x3 - x2, x0 - x1 + x2 - x3];
  const [dy1, dy2, dy3] = [y1 - y2, y3 - y2, y0 - y1 + y2 - y3];
  const turn = dx1 * dy2 - dx2 * dy1 || 1e-9;
  const g = (dx3 * dy2 - dx2 * dy3) / turn;
  const h = (dx1 * dy3 - dx3 * dy1) / turn;
  const w = g * u + h * v + 1;
  return [((x1 - x0 + g * x1) * u + (x3 - x0 + h * x3) * v + x0) / w, ((y1 - y0 + g * y1) * u + (y3 - y0 + h * y3) * v + y0) / w];
}

function draw() {
  if (!points.length) return;
  circles.forEach((circle, k) => {
    circle.setAttribute("cx", points[k][0].toFixed(1));
    circle.setAttribute("cy", points[k][1].toFixed(1));
  });
  const [rows, columns] = ["rows", "columns"].map((name) => Math.min(60, Math.max(1, Number(form.elements[name].value) || 1)));
  const line = (a, b) => `M${a.map((n) => n.toFixed(1)).join(" ")}L${b.map((n) => n.toFixed(1)).join(" ")}`;
  let path = "";
  for (let r = 0; r <= rows; r++) path += line(inPicture(0, r / rows), inPicture(1, r / rows));
  for (let c = 0; c <= columns; c++) path += line(inPicture(c / columns, 0), inPicture(c / columns, 1));
  for (const one of overlay.querySelectorAll("path")) one.setAttribute("d", placed ? path : "");
}

function move(k, x, y) {
  points[k] = [Math.min(picture.naturalWidth - 1, Math.max(0, x)), Math.min(picture.naturalHeight - 1, Math.max(0, y))];
  placed = true;
  form.elements.corners.value = points.map((p) => p.map((n) => n.toFixed(1)).join(",")).join(" ");
  for (const name of ["rows", "columns"]) form.elements[name].required = true;
  draw();
}

function say(k) {
  said.textContent = fill(form.dataset.cornerAt, { number: k + 1, x: Math.round(points[k][0]), y: Math.round(points[k][1]) });
}

function begin() {
  const [w, h] = [picture.naturalWidth, picture.naturalHeight];
  overlay.setAttribute("viewBox", `0 0 ${w} ${h}`);
  for (const circle of circles) circle.setAttribute("r", (w / 45).toFixed(1));
  points = [[0.1, 0.1], [0.9, 0.1], [0.9, 0.9], [0.1, 0.9]].map(([x, y]) => [x * w, y * h]);
  placed = false;
  form.elements.corners.value = "";
  for (const name of ["rows", "columns"]) form.elements[name].required = false;
  draw();
}

form.elements.photo.addEventListener("change", () => {
  const [file] = form.elements.photo.files;
  if (!file) return;
  URL.revokeObjectURL(picture.src);
  picture.src = URL.createObjectURL(file);
});
const shown = (yes) => {
  form.querySelector("[data-photo]").hidden = !yes;
  form.querySelector("[data-not-shown]").hidden = yes;
};
picture.addEventListener("load", () => (shown(true), begin()));
picture.addEventListener("error", () => shown(false));
for (const name of ["rows", "columns"]) form.elements[name].addEventListener("input", draw);
form.elements.corners.addEventListener("change", () => {
  const given = form.elements.corners.value.trim().split(/\s+/).map((pair) => pair.split(",").map(Number));
  if (!points.length || given.length !== 4 || given.flat().length !== 8 || given.flat().some(Number.isNaN)) return;
  given.forEach(([x, y], k) => move(k, x, y));
});
form.querySelector("[data-find]").addEventListener("click", () => {
  begin();
  said.textContent = form.dataset.found;
});

let drag = null;
const at = (event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(overlay.getScreenCTM().inverse());
overlay.addEventListener("pointerdown", (event) => {
  drag = circles.indexOf(event.target);
  if (drag < 0) drag = null;
  else overlay.setPointerCapture(event.pointerId);
});
overlay.addEventListener("pointermove", (event) => {
  if (drag === null) return;
  const { x, y } = at(event);
  move(drag, x, y);
});
for (const name of ["pointerup", "pointercancel"])
  overlay.addEventListener(name, () => {
    if (drag !== null && placed) say(drag);
    drag = null;
  });

const adding = form.querySelector("[data-adding]");
if (adding) {
  adding.hidden = false;
  adding.querySelector("[data-add]").addEventListener("click", () => {
    const list = form.elements.paints;
    const before = list.value.trimEnd();
    list.value = `${before}${before ? "\n" : ""}${adding.querySelector("[data-which]").value}\n`;
  });
}
