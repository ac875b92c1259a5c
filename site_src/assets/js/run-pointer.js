// The pointer of a ruler follows what is typed beside it, at each key and before anything is worked out.

/** The number that stands in a text and the unit behind it; null for what is none. */
function read(text) {
  const found = /^\s*(-?\d+(?:[.,]\d+)?|[.,]\d+)\s*°?\s*([^\d\s.,]\S*)?\s*$/u.exec(text);
  return found ? { figure: Number(found[1].replace(",", ".")), unit: found[2] || "" } : null;
}

/** Move the pointer of now to what a box says; where it says nothing that can be placed, it stays. */
export function point(box) {
  const gauge = box.closest("[data-gauge]");
  const rule = gauge && gauge.querySelector("svg.aligned");
  const found = rule && read(box.value);
  if (!found) return;
  const { low, high, from, to, unit, units } = rule.dataset;
  const known = JSON.parse(units);
  const name = Object.keys(known).find((one) => one.toLowerCase() === found.unit.toLowerCase())
    ?? (found.unit ? undefined : box.dataset.meter || unit);
  if (name === undefined || !known[name]) return;
  const [factor, offset] = known[name];
  const share = (found.figure * factor + offset - low) / (high - low);
  const wide = rule.viewBox.baseVal.width;
  const x = Math.min(Math.max(Number(from) + (to - from) * share, 0), wide);
  const pointer = rule.querySelector('[data-pointer="now"]');
  pointer.setAttribute("transform", `translate(${Math.round(x * 100) / 100} 0)`);
  pointer.removeAttribute("visibility");
}
