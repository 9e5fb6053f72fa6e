// A new chart: the sheet is drawn again with every choice.
const form = document.querySelector("[data-new-chart]");
const preview = document.querySelector("[data-preview]");
const paints = form.querySelector("[data-choose]");
let turn = 0;
let waiting;

form.querySelector("[data-without-script]").hidden = true;

async function draw() {
  const mine = ++turn;
  const values = new URLSearchParams(new FormData(form));
  values.delete("token");
  history.replaceState(null, "", `/charts/new?${values}`);
  const answer = await fetch(`/charts/new/preview?${values}`);
  if (mine === turn && answer.ok) preview.innerHTML = await answer.text();
}

form.addEventListener("input", () => {
  paints.hidden = form.elements.which.value !== "chosen";
  clearTimeout(waiting);
  waiting = setTimeout(draw, 180);
});
