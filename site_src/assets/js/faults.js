// Faults beside their fields: told once a field is left, with a button for each ready answer that Python offers.

// The keys whose fault is told at present, or was looked at last: only these and those at fault now need a look.
let looked = new Set();

function idOf(key) {
  return key.replaceAll(".", "-");
}

function strayPlace(form) {
  const place = document.createElement("p");
  place.id = "other-faults";
  place.className = "fault";
  const status = document.getElementById("action-status");
  if (status) status.after(place);
  else form.prepend(place);
  return place;
}

/** Tell a fault; `answered(control)` is called when the reader takes one of the ready answers. */
function tell(place, fault, control, offers, answered) {
  place.dataset.fault = fault;
  place.textContent = fault;
  for (const [words, text] of (fault && offers[control.name]) || []) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = words;
    button.addEventListener("click", () => {
      control.value = text;
      control.focus();
      answered();
    });
    place.append(" ", button);
  }
}

/** Show faults (by key) where they belong; `hand` is the plan in hand. */
export function showFaults(hand, faults, offers) {
  const { form, tables } = hand;
  const active = document.activeElement;
  const strays = [];
  const keys = new Set([...looked, ...Object.keys(faults)]);
  looked = new Set(Object.keys(faults));
  for (const key of keys) {
    const control = form.elements.namedItem(key);
    const told = document.getElementById(`fault-${idOf(key)}`);
    const fault = faults[key] || "";
    if (!control || !control.name) {
      if (told && tables.some((table) => table.key === key)) told.textContent = fault;
      continue;
    }
    if (!told && !fault) continue;
    const place = told || placeFor(control);
    // While a field is being typed in, a half-typed answer is no mistake yet; one already told may change or go.
    const typing = control === active && fault && !place.dataset.fault;
    if (!typing && place.dataset.fault !== fault) tell(place, fault, control, offers, () => hand.changed());
    if (fault && !typing) control.setAttribute("aria-invalid", "true");
    else control.removeAttribute("aria-invalid");
  }
  for (const [key, fault] of Object.entries(faults)) {
    if (!document.getElementById(`fault-${idOf(key)}`)) strays.push(fault);
  }
  const place = document.getElementById("other-faults") || strayPlace(form);
  const text = strays.join(" ");
  if (place.textContent !== text) place.textContent = text;
}
