// The answers on the page: change only what differs, so that what was open stays open, focus stays, and nothing jumps.

import morphdom from "morphdom";

const current = new WeakMap();

function answers(region) {
  const found = new Map();
  for (const output of region.querySelectorAll("[data-key]")) {
    const row = output.closest(".result");
    if (row) found.set(output.dataset.key, row);
  }
  return found;
}

/** Put rows that the new answers lack into them, in their order, marked as old. */
function restore(next, before) {
  const now = answers(next);
  const place = next.classList.contains("results") ? next : null;
  let previous = null;
  for (const [key, row] of before) {
    let standing = now.get(key);
    if (!standing && place) {
      standing = row.cloneNode(true);
      standing.setAttribute("data-old", "");
      if (previous) previous.after(standing);
      else place.prepend(standing);
    }
    previous = standing || previous;
  }
}

/** Rows, figures and folding parts are the same ones before and after when they are called the same. */
function nameOf(node) {
  if (node.nodeType !== Node.ELEMENT_NODE) return undefined;
  if (node.classList.contains("result")) return `row ${node.querySelector("[data-key]").dataset.key}`;
  return node.dataset.keep || node.id || undefined;
}

const keeping = {
  getNodeKey: nameOf,
  childrenOnly: true,
  onBeforeElUpdated(now, next) {
    if (now.isEqualNode(next)) return false;
    if (now.tagName === "DETAILS") next.open = now.open;
    // A working left out for now keeps its text until the new one comes.
    return !(now.hasAttribute("data-working") && !next.hasChildNodes());
  },
};

/** Put new HTML, made by calc, into a region; with `keepLost`, answers it no longer has stay, marked as old. */
export function put(region, html, keepLost = false) {
  if (current.get(region) === html) return;
  const next = region.cloneNode(false);
  next.innerHTML = html;
  if (keepLost) restore(next, answers(region));
  morphdom(region, next, keeping);
  current.set(region, html);
}

/** Put new words into rows that stand; a row marked as old has none. */
export function putTexts(texts) {
  for (const output of document.querySelectorAll("output[data-key]")) {
    const text = texts[output.dataset.key];
    if (text !== undefined && output.textContent !== text) output.textContent = text;
  }
}

/** Fill the folded workings, by the name of the folding part; what stands there already is left alone. */
export function putWorkings(workings) {
  for (const details of document.querySelectorAll("details[data-keep]")) {
    const html = workings[details.dataset.keep];
    const place = details.querySelector(":scope > [data-working]");
    if (html === undefined || !place || current.get(place) === html) continue;
    place.innerHTML = html;
    current.set(place, html);
  }
}
