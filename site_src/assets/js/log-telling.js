// What the pages of a running bath tell: states that stay, with a sign, bold words, a sentence and buttons.

import { say } from "./telling.js";

/** Take a state away. */
export function settle(name) {
  const standing = document.querySelector(`[data-state-of="${name}"]`);
  if (standing) standing.remove();
}

function button([words, act, main], close) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  if (main) made.className = "main";
  made.addEventListener("click", () => {
    close();
    act();
  });
  return made;
}

/**
 * A state that stays until one of its buttons is pressed: `sign` is fits, tight, fails or open; `choices` are
 * [words, action, whether it is the main one]. It is said once in the status line too.
 */
export function state(name, sign, lead, text, choices = [], quiet = false) {
  settle(name);
  const place = document.createElement("div");
  place.className = "verdict state";
  place.dataset.stateOf = name;
  place.dataset.state = sign;
  place.innerHTML = `<svg class="sign ${sign}" aria-hidden="true"><use href="#sign-${sign}"/></svg><div><p></p></div>`;
  const strong = document.createElement("strong");
  strong.className = sign;
  strong.textContent = lead;
  const line = place.querySelector("p");
  line.append(strong, ` ${text}`);
  if (choices.length > 0) {
    const row = document.createElement("p");
    row.className = "ways";
    row.append(...choices.map((one) => button(one, () => place.remove())));
    line.after(row);
  }
  document.getElementById("states").append(place);
  if (!quiet) say(`${lead} ${text}`);
}
