// What every page can do: choices of grey, keys, and forms that never lose what was typed.

export const token = document.body.dataset.token;

/** Ask the studio to do something; answers with the document, or throws the sentence of a refusal. */
export async function change(url, values = {}, method = "POST") {
  const body = values instanceof FormData ? values : new URLSearchParams(values);
  const answer = await fetch(url, { method, body, headers: { "X-Halfpan-Token": token, Accept: "application/json" } });
  const document_ = answer.status === 204 ? {} : await answer.json();
  if (!answer.ok) throw new Error(document_.refused ?? answer.statusText);
  return document_;
}

/** Fill the braces of a sentence that came with the page. */
export function fill(sentence, values) {
  return sentence.replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
}

export function typing(target) {
  return target instanceof Element && target.closest("input, textarea, select, [contenteditable]") !== null;
}

function choose(form) {
  form.addEventListener("submit", (event) => {
    const button = event.submitter;
    if (!button) return;
    event.preventDefault();
    const name = form.dataset.choices;
    document.documentElement.setAttribute(`data-${name}`, button.value);
    for (const other of document.querySelectorAll(`[data-choices="${name}"] button`))
      other.setAttribute("aria-pressed", String(other.value === button.value));
    const values = new URLSearchParams({ [name]: button.value, back: "/" });
    fetch("/choose", { method: "POST", body: values, redirect: "manual", headers: { "X-Halfpan-Token": token } });
  });
}

function keepTyped(field) {
  const key = `halfpan ${location.pathname} ${field.dataset.keep}`;
  if (!field.value) field.value = sessionStorage.getItem(key) ?? "";
  field.addEventListener("input", () => sessionStorage.setItem(key, field.value));
}

const GO = { p: "/paints", c: "/charts", m: "/mixes", t: "/tins", s: "/stock", h: "/history" };
let going = false;

function keys(event) {
  if (event.defaultPrevented || typing(event.target) || event.altKey) return;
  if ((event.ctrlKey || event.metaKey) && event.key === "z" && !("readOnly" in document.body.dataset)) {
    event.preventDefault();
    undo();
    return;
  }
  if (event.ctrlKey || event.metaKey) return;
  if (going) {
    going = false;
    if (GO[event.key]) location.assign(GO[event.key]);
  } else if (event.key === "g") {
    going = true;
  } else if (event.key === "?") {
    document.getElementById("keys")?.showModal();
  } else if (event.key === "/") {
    const find = document.querySelector("input[type=search]");
    if (find) {
      event.preventDefault();
      find.focus();
    } else location.assign("/paints");
  }
}

function undo() {
  const form = document.createElement("form");
  form.method = "post";
  form.action = "/undo";
  for (const [name, value] of Object.entries({ token, back: location.pathname })) {
    const field = document.createElement("input");
    Object.assign(field, { type: "hidden", name, value });
    form.append(field);
  }
  document.body.append(form);
  form.submit();
}

document.querySelectorAll("form[data-choices]").forEach(choose);
document.querySelectorAll("[data-keep]").forEach(keepTyped);
document.addEventListener("keydown", keys);
for (const button of document.querySelectorAll("[data-keys]")) {
  button.hidden = false;
  button.addEventListener("click", () => document.getElementById("keys")?.showModal());
}
