// What the plan's menu says beside its buttons comes when it is first opened: see passing.js.

import { passing } from "./source.js";
import { shelf } from "./plans.js";

/** Fill the plan's menu whenever it is opened, if the page has one; gives what fills it anew while it is open. */
export function shelfMenu(hand) {
  const menu = document.querySelector("details.menu");
  if (!menu) return undefined;
  const fill = async () => {
    if (menu.open) (await passing()).fill(menu.querySelector(":scope > div"), hand, shelf);
  };
  menu.addEventListener("toggle", () => fill().catch(() => {}));
  return fill;
}
