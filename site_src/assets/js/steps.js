// The steps of the planner: which sheet is in sight, its address, and the list of steps of a phone.

const STEP = /(?:^#|[#&])step=([a-z]+)/;
const NARROW = 520;

function sections() {
  return [...document.querySelectorAll("section[data-step]")];
}

/** The name of the step in sight; "" on a page without steps. */
export function current() {
  const here = document.querySelector("section[data-step][data-here]");
  return here ? here.dataset.step : "";
}

/** The step in sight as {name, title}, for whoever comes back to it; undefined on a page without steps. */
export function inSight() {
  const title = document.querySelector("section[data-step][data-here] h1");
  return title ? { name: current(), title: title.textContent } : undefined;
}

// Widths as the browser tells them, so that asking for one at every key does not make it lay out the page.
const widths = new WeakMap();
const eye = new ResizeObserver((seen) => {
  for (const { target } of seen) widths.set(target, target.clientWidth);
});

/** Whether the drawing in sight has room for its wide form. */
export function wide() {
  const place = document.querySelector("section[data-here] .plate");
  // One that was out of sight until now has no width that was told.
  const width = place && (widths.get(place) || place.clientWidth);
  return !width || width >= NARROW;
}

/** The folds of the step in sight whose content is made only when they are open. */
export function openFolds() {
  return [...document.querySelectorAll("section[data-here] details.fold[open]")].map((fold) => fold.dataset.keep);
}

/** The address of a step. */
export function address(name) {
  return `#step=${name}`;
}

function markBar(name) {
  for (const bar of document.querySelectorAll("[data-bar]")) bar.toggleAttribute("data-here", bar.dataset.bar === name);
}

function show(name, focus) {
  const next = sections().find((one) => one.dataset.step === name);
  if (!next) return;
  closeList();
  if (!next.hasAttribute("data-here")) {
    for (const one of sections()) one.toggleAttribute("data-here", one === next);
    markBar(name);
    for (const link of document.querySelectorAll("#steps a")) {
      if (link.hash === address(name)) link.setAttribute("aria-current", "step");
      else link.removeAttribute("aria-current");
    }
    document.dispatchEvent(new CustomEvent("step", { detail: name }));
  }
  const title = next.querySelector("h1");
  document.title = `${title.textContent.trim()} | Raftwright`;
  if (focus) {
    title.focus({ preventScroll: true });
    scrollTo(0, 0);
  }
}

function listButtons() {
  return document.querySelectorAll('[data-action="steps"]');
}

function closeList() {
  const list = document.getElementById("steps");
  if (!list || !list.hasAttribute("data-open")) return false;
  list.removeAttribute("data-open");
  for (const button of listButtons()) button.setAttribute("aria-expanded", "false");
  return true;
}

function toggleList(button) {
  if (closeList()) return;
  const list = document.getElementById("steps");
  list.toggleAttribute("data-open", true);
  for (const one of listButtons()) one.setAttribute("aria-expanded", "true");
  list.querySelector("[aria-current]").focus();
  list.dataset.from = button.closest("[data-bar]").dataset.bar;
}

function closeMenus(except) {
  for (const menu of document.querySelectorAll("details.menu[open], details.dangers[open], details.site-menu[open]")) {
    if (menu !== except) menu.open = false;
  }
}

/** Have drawings made anew once the place they stand in has become narrow or wide. */
function watchWidth() {
  if (typeof ResizeObserver !== "function") return;
  let known = wide();
  const observer = new ResizeObserver(() => {
    if (wide() === known) return;
    known = wide();
    document.dispatchEvent(new CustomEvent("step", { detail: current() }));
  });
  observer.observe(document.querySelector(".sheets"));
}

/** Make the sheets turn; does nothing on a page without them. */
export function turnable() {
  if (sections().length === 0) return;
  const first = STEP.exec(location.hash);
  // Without scripts the address finds its sheet by this name; with them it would only make the page jump.
  for (const one of sections()) {
    one.removeAttribute("id");
    for (const plate of one.querySelectorAll(".plate")) eye.observe(plate);
  }
  markBar(current());
  if (first) show(first[1], false);
  watchWidth();
  addEventListener("hashchange", () => {
    const found = STEP.exec(location.hash);
    if (found) show(found[1], true);
    else if (location.hash === "") show(sections()[0].dataset.step, true);
  });
  document.addEventListener("click", (event) => {
    const button = event.target.closest('[data-action="steps"]');
    if (button) toggleList(button);
    const link = event.target.closest('a[href^="#step="]');
    // The address does not change when the step in sight is asked for again.
    if (link && link.hash === location.hash) {
      event.preventDefault();
      show(STEP.exec(link.hash)[1], true);
    }
    // What was pressed in the menu is answered on the sheet; from a disk a link asks for its address in the menu.
    const pressed = event.target.closest(".menu button[data-action]");
    const asks = location.protocol === "file:" && pressed && /copy-link|square-code/.test(pressed.dataset.action);
    if (pressed && !asks) return void closeMenus();
    closeMenus(event.target.closest("details.menu, details.dangers, details.site-menu"));
  });
  document.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    if (closeList()) document.querySelector('[data-bar][data-here] [data-action="steps"]').focus();
    const menu = document.querySelector("details.menu[open], details.dangers[open], details.site-menu[open]");
    if (menu) {
      menu.open = false;
      menu.querySelector("summary").focus();
    }
  });
}
