// Picking a colour from a reference picture. The picture is looked at in this browser and goes nowhere.
import { fill } from "./frame.js";

const part = document.querySelector("[data-picture]");
const canvas = part.querySelector("[data-canvas]");
const [x, y] = [part.querySelector("[data-x]"), part.querySelector("[data-y]")];
const picked = part.querySelector("[data-picked]");
const MOST = 900;
const HALF = 4;

part.hidden = false;

function pick() {
  const col = Math.round((Number(x.value) / 100) * (canvas.width - 1));
  const row = Math.round((Number(y.value) / 100) * (canvas.height - 1));
  const left = Math.max(0, col - HALF);
  const top = Math.max(0, row - HALF);
  const width = Math.min(canvas.width, col + HALF + 1) - left;
  const height = Math.min(canvas.height, row + HALF + 1) - top;
  const data = canvas.getContext("2d").getImageData(left, top, width, height).data;
  const sum = [0, 0, 0];
  for (let i = 0; i < data.length; i += 4) for (let c = 0; c < 3; c++) sum[c] += data[i + c];
  const colour = `#${sum.map((v) => Math.round(v / (width * height)).toString(16).padStart(2, "0")).join("")}`;
  document.querySelector("[data-colour]").value = colour;
  picked.textContent = fill(picked.dataset.words, { colour });
  const mark = part.querySelector("[data-mark]");
  mark.style.left = `${x.value}%`;
  mark.style.top = `${y.value}%`;
}

part.querySelector("[data-picture-file]").addEventListener("change", async (event) => {
  const [file] = event.target.files;
  if (!file) return;
  const picture = await createImageBitmap(file);
  const scale = Math.min(1, MOST / Math.max(picture.width, picture.height));
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  canvas.getContext("2d", { willReadFrequently: true }).drawImage(picture, 0, 0, canvas.width, canvas.height);
  part.querySelector("[data-pick]").hidden = false;
  pick();
});
for (const slide of [x, y]) slide.addEventListener("input", pick);
canvas.addEventListener("click", (event) => {
  const box = canvas.getBoundingClientRect();
  x.value = ((event.clientX - box.left) / box.width) * 100;
  y.value = ((event.clientY - box.top) / box.height) * 100;
  pick();
});
