// Looking over a read page: boxes and cards go together; boxes and corners are moved by drag and by keys.
import { fill, typing } from "./frame.js";

for (const review of document.querySelectorAll("[data-review]")) start(review);

function start(review) {
  const overlay = review.querySelector("[data-overlay]");
  const form = review.querySelector("[data-nudge]");
  const outlines = new Map([...overlay.querySelectorAll("[data-box]")].map((g) => [g.dataset.box, g]));
  const corners = [...overlay.querySelectorAll("[data-corner]")];
  const cards = new Map([...review.querySelectorAll("[data-card]")].map((card) => [card.dataset.card, card]));
  let here = null;

  const points = (g) => g.querySelector(".line").getAttribute("points").trim().split(/\s+/).map((pair) => pair.split(",").map(Number));
  const home = new Map([...outlines].map(([box, g]) => [box, points(g)]));
  const cornerHome = corners.map((c) => [Number(c.getAttribute("cx")), Number(c.getAttribute("cy"))]);

  function goTo(box, { scroll = true } = {}) {
    for (const part of review.querySelectorAll(".here")) part.classList.remove("here");
    outlines.get(box)?.classList.add("here");
    const card = cards.get(box);
    card?.classList.add("here");
    if (scroll) card?.scrollIntoView({ block: "nearest" });
  }

  for (const [box, g] of outlines) {
    g.setAttribute("tabindex", "0");
    g.setAttribute("role", "button");
    g.setAttribute("aria-label", `${g.dataset.name}, ${box}`);
    g.addEventListener("focus", () => goTo(box, { scroll: false }));
    g.addEventListener("click", () => goTo(box));
  }
  for (const [box, card] of cards) card.addEventListener("focusin", () => goTo(box, { scroll: false }));
  if (!form) return;

  form.hidden = false;
  const words = form.querySelector("[data-nudge-words]");
  const hint = words.textContent;
  const go = form.querySelector("[data-nudge-go]");
  const back = form.querySelector("[data-nudge-back]");

  /** Pixels of one millimetre across and down, at a box. */
  function perMm(box) {
    const [a, b, , d] = home.get(box);
    const { width, height } = outlines.get(box).dataset;
    return [[(b[0] - a[0]) / width, (b[1] - a[1]) / width], [(d[0] - a[0]) / height, (d[1] - a[1]) / height]];
  }

  function moveBox(box, x, y) {
    const [across, down] = perMm(box);
    const dx = x * across[0] + y * down[0];
    const dy = x * across[1] + y * down[1];
    const text = home.get(box).map((p) => `${(p[0] + dx).toFixed(1)},${(p[1] + dy).toFixed(1)}`).join(" ");
    for (const line of outlines.get(box).querySelectorAll("polygon")) line.setAttribute("points", text);
    form.elements.box.value = box;
    form.elements.x_mm.value = x.toFixed(2);
    form.elements.y_mm.value = y.toFixed(2);
    form.elements.corners.value = "";
    const minus = (value) => value.toFixed(1).replace("-", "−");
    words.textContent = fill(form.dataset.boxWords, { box, x: minus(x), y: minus(y) });
    ready();
  }

  function moveCorner(corner, dx, dy) {
    corner.setAttribute("cx", (Number(corner.getAttribute("cx")) + dx).toFixed(1));
    corner.setAttribute("cy", (Number(corner.getAttribute("cy")) + dy).toFixed(1));
    form.elements.box.value = "";
    form.elements.corners.value = corners.map((c) => `${c.getAttribute("cx")},${c.getAttribute("cy")}`).join(" ");
    words.textContent = fill(form.dataset.cornerWords, { number: corner.dataset.corner });
    ready();
  }

  function ready() {
    go.disabled = back.disabled = false;
  }

  function putBack() {
    for (const [box, at] of home)
      for (const line of outlines.get(box).querySelectorAll("polygon")) line.setAttribute("points", at.map((p) => p.join(",")).join(" "));
    corners.forEach((c, k) => {
      c.setAttribute("cx", cornerHome[k][0]);
      c.setAttribute("cy", cornerHome[k][1]);
    });
    for (const name of ["box", "corners"]) form.elements[name].value = "";
    form.elements.x_mm.value = form.elements.y_mm.value = 0;
    words.textContent = hint;
    go.disabled = back.disabled = true;
  }

  function takeInHand(box) {
    here = box;
    overlay.classList.add("moving");
  }

  function moveMode(box) {
    takeInHand(box);
    goTo(box, { scroll: false });
    outlines.get(box).focus();
    review.querySelector(".photo").scrollIntoView({ block: "nearest" });
  }

  back.addEventListener("click", putBack);
  for (const button of review.querySelectorAll("[data-move]")) {
    button.hidden = false;
    button.addEventListener("click", () => moveMode(button.dataset.move));
  }
  form.querySelector("[data-corners]").addEventListener("click", () => {
    const on = overlay.classList.toggle("at-corners");
    overlay.classList.toggle("moving", on);
    if (on) corners[0].focus();
  });

  const STEP = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  overlay.addEventListener("keydown", (event) => {
    if (typing(event.target)) return;
    const g = event.target.closest("[data-box]");
    const corner = event.target.closest("[data-corner]");
    const far = event.shiftKey ? 10 : 1;
    if (event.key === "Escape") putBack();
    else if ((event.key === "Enter" || event.key === " ") && g) {
      event.preventDefault();
      if (here === g.dataset.box && overlay.classList.contains("moving")) {
        overlay.classList.remove("moving");
        here = null;
      } else moveMode(g.dataset.box);
    } else if (STEP[event.key] && g && here === g.dataset.box) {
      event.preventDefault();
      const same = form.elements.box.value === here;
      if (!same) putBack();
      const now = same ? [Number(form.elements.x_mm.value), Number(form.elements.y_mm.value)] : [0, 0];
      const [x, y] = STEP[event.key];
      moveBox(here, now[0] + x * 0.2 * far, now[1] + y * 0.2 * far);
    } else if (STEP[event.key] && corner) {
      event.preventDefault();
      const [x, y] = STEP[event.key];
      moveCorner(corner, x * far, y * far);
    }
  });

  // Pointers: a mouse or pen drags any box; a finger only the one in hand, for a finger also scrolls.
  let drag = null;
  const inHand = (box) => here === box && overlay.classList.contains("moving");
  const inPicture = (event) => {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(overlay.getScreenCTM().inverse());
    return [point.x, point.y];
  };
  overlay.addEventListener("pointerdown", (event) => {
    const corner = event.target.closest("[data-corner]");
    const g = event.target.closest("[data-box]");
    if (corner) drag = { corner, at: inPicture(event) };
    else if (g && (event.pointerType !== "touch" || inHand(g.dataset.box))) {
      if (form.elements.box.value && form.elements.box.value !== g.dataset.box) putBack();
      takeInHand(g.dataset.box);
      const same = form.elements.box.value === here;
      drag = { box: here, at: inPicture(event), from: same ? [Number(form.elements.x_mm.value), Number(form.elements.y_mm.value)] : [0, 0] };
    }
    if (drag) overlay.setPointerCapture(event.pointerId);
  });
  overlay.addEventListener("pointermove", (event) => {
    if (!drag) return;
    const [x, y] = inPicture(event);
    const [dx, dy] = [x - drag.at[0], y - drag.at[1]];
    if (drag.corner) {
      moveCorner(drag.corner, dx, dy);
      drag.at = [x, y];
    } else {
      const [a, d] = perMm(drag.box);
      const turn = a[0] * d[1] - a[1] * d[0];
      const across = (dx * d[1] - dy * d[0]) / turn;
      const down = (dy * a[0] - dx * a[1]) / turn;
      if (drag.moved || Math.hypot(across, down) > 0.4) {
        drag.moved = true;
        moveBox(drag.box, drag.from[0] + across, drag.from[1] + down);
      }
    }
  });
  for (const name of ["pointerup", "pointercancel"]) overlay.addEventListener(name, () => (drag = null));
  for (const corner of corners) {
    corner.setAttribute("tabindex", "0");
    corner.setAttribute("role", "button");
    corner.setAttribute("aria-label", corner.dataset.name);
  }
}
