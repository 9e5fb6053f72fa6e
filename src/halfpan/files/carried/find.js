// Finds entries as one types. Codes are exact: PB29 is not nearly PB28. Words forgive a slip or two.
"use strict";

const fold = (text) => text.normalize("NFKD").replace(/\p{M}/gu, "").toLowerCase().replace(/ß/g, "ss");
const wordsOf = (text) => fold(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
const CODE = /^[pn][a-z]{0,2}\d+(:\d+)?$/;

const entries = [...document.querySelectorAll("li[data-words]")].map((item) => ({
  item,
  owned: item.dataset.state === "owned",
  words: wordsOf(item.dataset.words),
  codes: fold(item.dataset.codes).split(" ").filter(Boolean),
}));
const groups = [...document.querySelectorAll(".group")];
const answer = document.getElementById("answer");
const sentences = JSON.parse(document.body.dataset.words);
const say = (key, values) => sentences[key].replace(/\{(\w+)\}/g, (whole, name) => values[name] ?? whole);
const field = document.getElementById("find");

/** How many slips lie between two words: letters wrong, missing, added, or two that changed places. */
function slips(one, other, most) {
  if (Math.abs(one.length - other.length) > most) return most + 1;
  let before = [];
  let last = Array.from({ length: other.length + 1 }, (_, k) => k);
  for (let i = 1; i <= one.length; i++) {
    const row = [i];
    for (let j = 1; j <= other.length; j++) {
      const same = one[i - 1] === other[j - 1];
      row[j] = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (same ? 0 : 1));
      if (i > 1 && j > 1 && one[i - 1] === other[j - 2] && one[i - 2] === other[j - 1])
        row[j] = Math.min(row[j], before[j - 2] + 1);
    }
    if (Math.min(...row) > most) return most + 1;
    before = last;
    last = row;
  }
  return last[other.length];
}

const allowed = (word) => (word.length < 4 ? 0 : word.length < 7 ? 1 : 2);

/** Whether an entry has a word; a code must be the code, or its beginning while it is being typed. */
function has(entry, word, whole) {
  if (CODE.test(word)) return entry.codes.some((code) => (whole ? code === word || code.split(":")[0] === word : code.startsWith(word)));
  return entry.words.some((own) => own.startsWith(word)) || entry.codes.some((code) => code.startsWith(word));
}

function nearly(entry, word) {
  if (CODE.test(word)) return has(entry, word, true);
  const most = allowed(word);
  return has(entry, word, true) || (most > 0 && entry.words.some((own) =>
    slips(word, own, most) <= most || (own.length > word.length && slips(word, own.slice(0, word.length), most) <= most)));
}

function asked() {
  const text = fold(field.value).replace(/\b([pn][a-z]{0,2})\s+(\d)/g, "$1$2");
  return text.split(/[^\p{L}\p{N}:]+/u).filter(Boolean);
}

function find() {
  const wanted = asked();
  const matching = (test) => entries.filter((entry) => wanted.every((word) => test(entry, word)));
  let found = matching((entry, word) => has(entry, word, true));
  let near = false;
  if (!found.length) found = matching((entry, word) => has(entry, word, false));
  if (!found.length) {
    found = matching(nearly);
    near = found.length > 0;
  }
  const shown = new Set(found);
  for (const entry of entries) entry.item.hidden = !shown.has(entry);
  for (const group of groups) group.hidden = !group.querySelector("li:not([hidden])");
  answer.textContent = wanted.length ? sentence(found, near) : "";
}

function sentence(found, near) {
  const text = field.value.trim();
  const owned = found.filter((entry) => entry.owned).length;
  const wished = found.length - owned;
  const kind = !found.length ? "nothing" : near ? "near" : owned === 0 ? "none" : owned === 1 ? "one" : "other";
  return [say(kind, { text, n: owned }), ...(wished ? [say("wished", { n: wished })] : [])].join(" ");
}

field.addEventListener("input", find);
field.form.addEventListener("submit", (event) => event.preventDefault());
field.form.addEventListener("reset", () => setTimeout(() => { find(); field.focus(); }));
find();
