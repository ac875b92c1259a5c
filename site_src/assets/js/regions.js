// The answers on the page: put in only what changed, and leave open what was open and focus where it was.

const current = new WeakMap();

function nameOf(details, at) {
  return details.dataset.keep || details.id || `#${at}`;
}

function openOnes(region) {
  return new Set([...region.querySelectorAll("details")].map((one, at) => (one.open ? nameOf(one, at) : ""))
    .filter(Boolean));
}

/** How to find the focused part again: its id, or the folding part it heads. */
function focused(region) {
  const part = document.activeElement;
  if (!part || part === region || !region.contains(part)) return null;
  if (part.id) return (where) => where.querySelector(`#${CSS.escape(part.id)}`);
  const all = [...region.querySelectorAll(part.tagName)];
  const details = part.closest("details[data-keep]");
  if (part.tagName === "SUMMARY" && details && region.contains(details)) {
    const keep = CSS.escape(details.dataset.keep);
    return (where) => where.querySelector(`details[data-keep="${keep}"] > summary`);
  }
  const at = all.indexOf(part);
  return (where) => where.querySelectorAll(part.tagName)[at];
}

function answers(region) {
  const found = new Map();
  for (const output of region.querySelectorAll("[data-key]")) {
    const row = output.closest(".result");
    if (row) found.set(output.dataset.key, row);
  }
  return found;
}

/** Put rows that the new HTML lacks back in their order, marked as old. */
function restore(region, before) {
  const now = answers(region);
  const place = region.querySelector(".results");
  let previous = null;
  for (const [key, row] of before) {
    let standing = now.get(key);
    if (!standing && place) {
      row.setAttribute("data-old", "");
      if (previous) previous.after(row);
      else place.prepend(row);
      standing = row;
    }
    previous = standing || previous;
  }
}

/** Put new HTML, made by calc, into a region; with `keepLost`, answers it no longer has stay, marked as old. */
export function put(region, html, keepLost = false) {
  if (current.get(region) === html) return;
  const open = openOnes(region);
  const find = focused(region);
  const before = keepLost ? answers(region) : new Map();
  // A working that stands open keeps its text until the new one comes, so that nothing below it jumps.
  const shown = new Map([...region.querySelectorAll("details[open] > [data-working]")]
    .map((place) => [place.parentElement.dataset.keep, [...place.childNodes]]));
  region.innerHTML = html;
  for (const [keep, nodes] of shown) {
    const place = region.querySelector(`details[data-keep="${CSS.escape(keep)}"] > [data-working]`);
    if (place && !place.hasChildNodes()) place.append(...nodes);
  }
  if (keepLost) restore(region, before);
  current.set(region, html);
  [...region.querySelectorAll("details")].forEach((one, at) => {
    const was = open.has(nameOf(one, at));
    if (one.open !== was) one.open = was;
  });
  const again = find && find(region);
  if (again) again.focus({ preventScroll: true });
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

/** Mark a region as showing the last good answer, or as fresh. */
export function markOld(region, old) {
  region.toggleAttribute("data-old", old);
  if (old) region.setAttribute("aria-label", "The last good answer; something typed since needs another look");
  else region.removeAttribute("aria-label");
}
