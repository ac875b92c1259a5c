// The filter over the check values: rows of one kind, rows with some words. Without it all rows stand in their folds.

const form = document.querySelector("form.filter");
const kind = document.getElementById("filter-kind");
const words = document.getElementById("filter-words");
const status = form.querySelector(".filter-status");
const folds = [...document.querySelectorAll("details.values")];
const rows = folds.flatMap((fold) => [...fold.querySelectorAll("tbody tr")].map((row) => ({
  row, kind: row.dataset.kind,
  text: `${row.closest("section").querySelector("h3").textContent} ${row.textContent}`.toLowerCase(),
})));

function show() {
  const asked = words.value.toLowerCase().split(/\s+/).filter(Boolean);
  const filtering = asked.length > 0 || kind.value !== "";
  let found = 0;
  for (const one of rows) {
    const fits = (!kind.value || one.kind === kind.value) && asked.every((word) => one.text.includes(word));
    one.row.hidden = !fits;
    found += fits;
  }
  for (const fold of folds) {
    for (const section of fold.querySelectorAll("section")) {
      section.hidden = filtering && !section.querySelector("tbody tr:not([hidden])");
    }
    const left = fold.querySelectorAll("tbody tr:not([hidden])").length;
    fold.querySelector(".count").textContent = left;
    fold.hidden = left === 0;
    fold.open = filtering && left > 0;
  }
  status.textContent = !filtering ? "" : found > 0 ? `${found} of ${rows.length} values`
    : "No value fits. Try fewer words, or all kinds.";
}

/** Whoever comes for a topic finds it open. */
function openAsked() {
  const fold = document.getElementById(location.hash.slice(1));
  if (fold && fold.matches("details")) fold.open = true;
}

form.hidden = false;
form.addEventListener("submit", (event) => event.preventDefault());
form.addEventListener("input", show);
openAsked();
addEventListener("hashchange", openAsked);
