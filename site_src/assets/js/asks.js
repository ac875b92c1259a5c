// The questions beside their drawing: which answers are only our guess, which size a question means, and the settings
// that come once the first sheet has been painted.

import * as engine from "./engine.js";
import { parts } from "./fields.js";
import { toCome } from "./source.js";
import { wide } from "./steps.js";

function isGuess(control) {
  return control.value !== "" && control.value === (control.dataset.default ?? "");
}

/** The questions, each with its control; those that decide a step, with the place of their count; and the folds. */
function countedOf(form) {
  const all = (place, selector) => [...place.querySelectorAll(selector)];
  return {
    asks: all(form, ".ask").map((ask) => ({ ask, control: ask.querySelector("input, select") })),
    deciding: all(form, "[data-guesses]").map((place) => ({ place, asks: all(place.closest("fieldset"), ".ask") })),
    folds: all(form, "[data-count-asks]").map((place) => ({
      place, asks: all(place.closest("details"), ".ask, .field-table").map((one) => ({
        one, within: all(place.closest("details"), "fieldset").filter((set) => set.contains(one)),
      })),
    })),
  };
}

/** Mark each question left at its default as our guess, and count them over a step's deciding questions. */
export function markGuesses(form) {
  const { asks, deciding, folds } = parts(form, "counted", () => countedOf(form));
  for (const { ask, control } of asks) {
    const guess = isGuess(control);
    if (ask.hasAttribute("data-guess") !== guess) ask.toggleAttribute("data-guess", guess);
  }
  for (const { place, asks: asked } of deciding) {
    const left = asked.filter((ask) => !ask.hidden && ask.hasAttribute("data-guess")).length;
    const words = left === 0 ? "" : `; ${left} ${left === 1 ? "is" : "are"} our guess`;
    if (place.textContent !== words) place.textContent = words;
  }
  for (const { place, asks: asked } of folds) {
    if (asked.length === 0) continue;
    const count = asked.filter(({ one, within }) => !one.hidden && !within.some((set) => set.hidden)).length;
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

/** Resolves once Python is there, or cannot come, or a reader turns to what is fetched later. */
function wanted() {
  return new Promise((resolve) => {
    engine.watch(({ state }) => { if (state === "ready" || state === "failed") resolve(); });
    document.addEventListener("step", resolve, { once: true });
    document.addEventListener("toggle", resolve, { once: true, capture: true });
    // A narrow page was printed with a drawing for a wide one.
    if (!wide()) resolve();
  });
}

/** Put settings into their folds and drawings into their sheets; resolves to the folds that have grown. */
export async function grow(form) {
  const places = [...form.querySelectorAll("[data-settings]")];
  if (places.length === 0) return [];
  // The way to Python is not to be shared with what nobody looks at yet.
  await wanted();
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
