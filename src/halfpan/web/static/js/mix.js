// A mix: sliders and numbers move together, and the prediction follows.
const form = document.querySelector("form[data-mix]");
if (form) {
  const place = document.querySelector("[data-predicted]");
  const says = document.querySelector("[data-mix-says]");
  const kept = document.querySelector("[data-mix-words]");
  let turn = 0;
  let waiting;

  form.querySelector("[data-without-script]").hidden = true;
  for (const slide of form.querySelectorAll("[data-slide]")) slide.hidden = false;

  const query = () => new URLSearchParams(new FormData(form));

  async function follow() {
    const asked = ++turn;
    const answer = await fetch(`/mixes/predicted?${query()}`);
    const text = await answer.text();
    if (asked !== turn || !answer.ok) return;
    place.innerHTML = text;
    const told = place.querySelector("[data-says]");
    history.replaceState(null, "", `/mixes?${query()}`);
    if (!told) return;
    says.textContent = told.dataset.says;
    if (kept) kept.value = told.dataset.mix;
  }

  function together(row, field) {
    const slide = row.querySelector("[data-slide]");
    const number = row.querySelector("[data-parts]");
    if (field === slide) number.value = slide.value;
    if (field === number) slide.value = number.value;
    if (field.matches("select") && field.value && Number(number.value) === 0) number.value = slide.value = 1;
  }

  form.addEventListener("input", (event) => {
    const row = event.target.closest(".mix-row");
    if (row) together(row, event.target);
    clearTimeout(waiting);
    waiting = setTimeout(follow, 140);
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    follow();
  });
}
