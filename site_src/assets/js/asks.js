// The questions beside their drawing: which answers are only our guess, which size a question means, and the settings
// that come once the first sheet has been painted.

import { toCome } from "./source.js";
import { wide } from "./steps.js";

function isGuess(control) {
  return control.value !== "" && control.value === (control.dataset.default ?? "");
}

/** Mark each question left at its default as our guess, and count them over a step's deciding questions. */
export function markGuesses(form) {
  for (const ask of form.querySelectorAll(".ask")) {
    const control = ask.querySelector("input, select");
    ask.toggleAttribute("data-guess", isGuess(control));
  }
  for (const place of form.querySelectorAll("[data-guesses]")) {
    const asked = [...place.closest("fieldset").querySelectorAll(".ask:not([hidden])")];
    const left = asked.filter((ask) => ask.hasAttribute("data-guess")).length;
    const words = left === 0 ? "" : `; ${left} ${left === 1 ? "is" : "are"} our guess`;
    if (place.textContent !== words) place.textContent = words;
  }
  for (const place of form.querySelectorAll("[data-count-asks]")) {
    const fold = place.closest("details");
    const asked = fold.querySelectorAll(".ask, .field-table");
    if (asked.length === 0) continue;
    const count = [...asked].filter((one) => !one.hidden && !one.closest("fieldset[hidden]")).length;
    if (place.textContent !== String(count)) place.textContent = String(count);
  }
}

/** Thicken the size in the drawing that the question with the focus means. */
export function lightSizes(form) {
  form.addEventListener("focusin", (event) => {
    const ask = event.target.closest("[data-at]");
    for (const one of form.querySelectorAll("[data-lit]")) one.removeAttribute("data-lit");
    if (!ask) return;
    const place = ask.closest("section, form");
    for (const size of place.querySelectorAll(`[data-dim="${CSS.escape(ask.dataset.at)}"]`)) {
      size.toggleAttribute("data-lit", true);
    }
  });
}

/** Rows are printed as plain lines, to be few bytes; each becomes one that opens to its working. */
export function openable(form) {
  for (const line of form.querySelectorAll(".results > p")) {
    const row = document.createElement("details");
    const output = line.querySelector("output");
    row.className = "result";
    row.dataset.keep = `w-${output.dataset.key}`;
    const summary = document.createElement("summary");
    summary.append(...line.childNodes);
    const place = document.createElement("div");
    place.toggleAttribute("data-working", true);
    row.append(summary, place);
    line.replaceWith(row);
  }
}

/** Put settings into their folds and drawings into their sheets; resolves to the folds that have grown. */
export async function grow(form) {
  const places = [...form.querySelectorAll("[data-settings]")];
  if (places.length === 0) return [];
  const found = await toCome();
  for (const place of places) {
    const step = place.dataset.settings;
    place.innerHTML = found[step].settings;
    place.removeAttribute("class");
    const drawing = form.querySelector(`[data-region="picture-${step}"]`);
    // Python may have drawn the reader's own in the meantime; the one that was printed is wide.
    const waits = document.documentElement.dataset.engine !== "ready";
    if (!drawing.hasChildNodes() || (waits && !wide())) drawing.innerHTML = found[step][wide() ? "wide" : "narrow"];
  }
  return places;
}
