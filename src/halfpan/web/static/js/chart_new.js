// A new chart: the sheet is drawn again with every choice.
const form = document.querySelector("[data-new-chart]");
const preview = document.querySelector("[data-preview]");
const paints = form.querySelector("[data-choose]");
const adding = form.querySelector("[data-adding]");
let turn = 0;
let waiting;

form.querySelector("[data-without-script]").hidden = true;
adding.hidden = false;

async function draw() {
  const mine = ++turn;
  const values = new URLSearchParams(new FormData(form));
  values.delete("token");
  history.replaceState(null, "", `/charts/new?${values}`);
  const answer = await fetch(`/charts/new/preview?${values}`);
  if (mine === turn && answer.ok) preview.innerHTML = await answer.text();
}

function soon() {
  const kind = form.elements.kind.value;
  for (const part of form.querySelectorAll("[data-for]")) part.hidden = !part.dataset.for.split(" ").includes(kind);
  paints.hidden = form.elements.which.value !== "chosen";
  clearTimeout(waiting);
  waiting = setTimeout(draw, 180);
}

form.addEventListener("input", soon);
adding.querySelector("[data-add]").addEventListener("click", () => {
  const field = form.elements.mixes;
  const begun = /\S$/.test(field.value);
  field.value += `${begun ? " + " : ""}1 ${adding.querySelector("[data-which]").value}`;
  field.focus();
  soon();
});
