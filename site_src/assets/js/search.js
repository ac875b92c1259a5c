// The search: its index is loaded when the box is first used, and everything happens in this browser.

import { ready, term } from "./finding.js";

const MOST = 30;
const PAUSE = 120;
const KINDS = { guide: "Guide", safety: "Safety", word: "Word", question: "Question of the planner", result: "Figure",
  reference: "Reference", formula: "Formula", page: "Page" };
// What settles a draw: what explains comes before what is only listed.
const WEIGHTS = { guide: 2.2, word: 2, safety: 2, page: 2, reference: 1.5, question: 0.9, result: 0.5,
  formula: 0.4 };

const form = document.querySelector("form.search");
const box = document.getElementById("search-box");
const status = document.getElementById("search-status");
const list = document.getElementById("search-results");
const offered = document.getElementById("search-offered");
const top = new URL(form.dataset.top, location.href);
let loading = null;
let clock = 0;

/** The entries and their index, from a script of their own: a page from a disk may load one, and fetch nothing. */
function load() {
  loading ||= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = form.dataset.index;
    script.onload = () => {
      const { kinds, pages, entries, index } = self.raftwrightFinding;
      resolve({
        entries: entries.map(([kind, title, page, place, text]) => ({
          kind: kinds[kind], title, at: pages[page] + (place && `#${place}`), text,
        })),
        index: ready(index),
      });
    };
    script.onerror = () => {
      loading = null;
      script.remove();
      reject(new Error("The index of the search could not be loaded. Type again to try once more."));
    };
    document.head.append(script);
  });
  return loading;
}

function line({ kind, title, at, text }) {
  const item = document.createElement("li");
  const link = document.createElement("a");
  link.href = new URL(at, top).href;
  link.textContent = title;
  const about = document.createElement("p");
  const sort = document.createElement("b");
  sort.textContent = KINDS[kind];
  about.append(sort, `: ${text}`);
  item.append(link, about);
  return item;
}

function offer(words) {
  const buttons = words.map((word) => {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = word;
    button.addEventListener("click", () => {
      box.value = word;
      box.focus();
      show();
    });
    return button;
  });
  offered.replaceChildren(...buttons);
  offered.hidden = buttons.length === 0;
}

function remember(words) {
  history.replaceState(null, "", words ? `#q=${encodeURIComponent(words)}` : "index.html");
}

async function show() {
  const words = box.value.trim();
  remember(words);
  if (!words.split(/[\s,.;:!?]+/).some(term)) {
    list.replaceChildren();
    offer([]);
    status.textContent = words ? "Type one more word: these are in every text." : "";
    return;
  }
  let found;
  try {
    found = await load();
  } catch (error) {
    status.textContent = error.message;
    return;
  }
  // Something else was typed while the index came.
  if (box.value.trim() !== words) return;
  const boost = { boostDocument: (id) => WEIGHTS[found.entries[id].kind] };
  let hits = found.index.search(words, boost);
  // Where nothing has all words, what has some of them.
  const all = hits.length > 0;
  if (!all && /\s/.test(words)) hits = found.index.search(words, { ...boost, combineWith: "OR" });
  list.replaceChildren(...hits.slice(0, MOST).map((hit) => line(found.entries[hit.id])));
  if (hits.length === 0) {
    const near = found.index.autoSuggest(words, { fuzzy: 0.4, prefix: true, combineWith: "OR" });
    offer([...near.slice(0, 3).map((one) => one.suggestion), ...form.dataset.offers.split(", ")].slice(0, 6));
    status.textContent = `Nothing was found for “${words}”. Try another word, such as these:`;
    return;
  }
  offer([]);
  const count = hits.length === 1 ? "1 result" : `${hits.length} results`;
  const shown = hits.length > MOST ? `${count}, the first ${MOST} of them` : count;
  status.textContent = all ? `${shown}.` : `Nothing has all of these words. ${shown} with some of them.`;
}

function fromAddress() {
  const found = /^#q=(.*)$/.exec(location.hash);
  if (!found) return;
  try {
    box.value = decodeURIComponent(found[1]);
  } catch {
    box.value = "";
  }
  show();
}

form.hidden = false;
form.addEventListener("submit", (event) => {
  event.preventDefault();
  clearTimeout(clock);
  show();
});
box.addEventListener("input", () => {
  clearTimeout(clock);
  clock = setTimeout(show, PAUSE);
});
box.addEventListener("focus", () => { load().catch(() => {}); }, { once: true });
addEventListener("hashchange", fromAddress);
fromAddress();
