// The page of a club: what is typed is kept beside the shelf of plans, and Python says what it comes to.

import morphdom from "morphdom";
import * as engine from "./engine.js";
import * as store from "./club-store.js";
import { address } from "./plan-at-hand.js";
import { bathLines, make, memberLines, put } from "./club-rows.js";
import { defaults, fromDisk } from "./source.js";
import { download } from "./download.js";
import { linkOf, plainLine } from "./linking.js";
import { newName, shelf } from "./plans.js";
import { notice, say, withdraw } from "./telling.js";
import { offline } from "./offline.js";
import { sameState } from "./undo.js";

const CHANNEL = "raftwright.clubs";
const SHOWN = "raftwright.club";
const KEPT_DAYS = 30;
const DAY = 86_400_000;
const LARGEST_FILE = 5_000_000;
const LONGEST_CODE = 420;
const EXAMPLE = "The example (invented)";
const FOLDS = "raftwright.club.folds";
const WIDE = "(min-width: 37.5rem)";
const TEXTS = ["name", "start", "weeks", "on_duty", "extra"];
const TICKS = ["shared_tools", "signed"];

const place = document.querySelector("[data-club]");
const version = Number(place.dataset.club);
const invented = JSON.parse(place.dataset.invented);

function stamp(when = new Date()) {
  const two = (number) => String(number).padStart(2, "0");
  return `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}`;
}

function nextMonday() {
  const day = new Date();
  day.setDate(day.getDate() + ((8 - day.getDay()) % 7 || 7));
  return stamp(day);
}

function titleOf(club) {
  return club.name || "Our club";
}

function cleaned(text) {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "club";
}

/** Which parts are folded: what this reader did last, or else all on a phone and none where there is room. */
function fold() {
  const remembered = () => {
    try {
      return JSON.parse(sessionStorage.getItem(FOLDS)) || {};
    } catch {
      return {};
    }
  };
  const chosen = remembered();
  for (const one of place.querySelectorAll("details[data-fold]")) {
    one.open = chosen[one.dataset.fold] ?? matchMedia(WIDE).matches;
    one.querySelector("summary").addEventListener("click", () => {
      try {
        sessionStorage.setItem(FOLDS, JSON.stringify({ ...remembered(), [one.dataset.fold]: !one.open }));
      } catch {
        // Folded anew at the next visit.
      }
    });
  }
  // On paper nothing is folded; a style does so too, where the browser knows how.
  const all = [...place.querySelectorAll("details[data-fold]")];
  let folded = [];
  addEventListener("beforeprint", () => {
    folded = all.filter((one) => !one.open);
    for (const one of folded) one.open = true;
  });
  addEventListener("afterprint", () => { for (const one of folded) one.open = false; });
}

class Page {
  constructor() {
    this.club = structuredClone(invented);
    // The invented club is tried out and kept nowhere.
    this.trying = true;
    this.all = [];
    this.plans = [];
    this.edits = Promise.resolve();
    // How many changes are on their way into the store.
    this.pending = 0;
    this.codes = new Map();
    this.asking = false;
    this.again = false;
    this.members = memberLines(place.querySelector("[data-members]"), {
      member: (id, changes) => this.edit((club) => {
        Object.assign(club.members.find((one) => one.id === id) || {}, changes);
      }),
      removeMember: (id) => this.take("members", id),
    });
    this.baths = bathLines(place.querySelector("[data-baths]"), {
      bath: (id, changes) => this.edit((club) => {
        Object.assign(club.baths.find((one) => one.id === id) || {}, changes);
      }),
      removeBath: (id) => this.take("baths", id),
      newer: (bath) => this.newer(bath),
      renew: (id) => this.renew(id),
    });
  }

  async start() {
    try {
      this.channel = new BroadcastChannel(CHANNEL);
      this.channel.onmessage = () => this.read();
    } catch {
      // Forbidden here; what stands in the store is looked at before every change all the same.
    }
    this.listen();
    await this.read();
  }

  // --- what stands there ----------------------------------------------------------------------------------------

  /** The club of the address or the one shown last, as it stands in the store; the invented one where there is none. */
  async read() {
    const everything = await store.everything();
    const old = Date.now() - KEPT_DAYS * DAY;
    this.broken = everything.filter((one) => !store.isClub(one));
    const clubs = everything.filter((one) => store.isClub(one));
    this.all = clubs.filter((one) => !one.deleted).sort((left, right) => (right.changed || 0) - (left.changed || 0));
    this.gone = clubs.filter((one) => one.deleted && one.deleted > old);
    this.plans = await shelf.all();
    let last = "";
    try {
      last = sessionStorage.getItem(SHOWN) || "";
    } catch {
      // The newest is shown.
    }
    const found = this.all.find((one) => one.id === (this.trying ? last : this.club.id)) || this.all[0];
    if (found) this.look(found);
    else if (!this.trying) this.tryOut();
    this.show();
    this.ask();
  }

  look(club) {
    this.club = club;
    this.trying = false;
    try {
      sessionStorage.setItem(SHOWN, club.id);
    } catch {
      // A tab that forgets what it showed shows the newest.
    }
  }

  tryOut() {
    this.club = structuredClone(invented);
    this.trying = true;
  }

  // --- changing -------------------------------------------------------------------------------------------------

  /** Change the club as it stands in the store: what another tab wrote meanwhile stays. */
  edit(change) {
    const { id } = this.club;
    if (this.trying) {
      change(this.club);
      this.show();
      this.ask();
      return this.edits;
    }
    this.pending += 1;
    place.removeAttribute("data-settled");
    this.edits = this.edits.then(async () => {
      const made = await store.change(id, (standing) => {
        const club = structuredClone(store.isClub(standing) ? standing : this.club);
        change(club);
        return { ...club, changed: Date.now(), stamp: newName() };
      });
      if (this.club.id === id && made) this.club = made;
      if (this.channel) this.channel.postMessage(id);
      this.show();
    }).catch((error) => say(`This could not be kept on this machine. ${error.message}`)).finally(() => {
      this.pending -= 1;
      this.ask();
    });
    return this.edits;
  }

  /** Take a line away; it can be brought back where it stood. */
  take(list, id) {
    const at = this.club[list].findIndex((one) => one.id === id);
    if (at < 0) return;
    const line = this.club[list][at];
    this.edit((club) => { club[list] = club[list].filter((one) => one.id !== id); });
    notice("taken", `“${line.name || "The line"}” was taken away.`, { choices: [["Undo", () => {
      this.edit((club) => { if (!club[list].some((one) => one.id === id)) club[list].splice(at, 0, line); });
    }]] });
    document.querySelector('[data-notice="taken"] button').focus();
  }

  addMember() {
    const box = place.querySelector("[data-new-member]");
    const name = box.value.trim();
    if (!name) {
      say("Type the member’s name first.");
      box.focus();
      return;
    }
    box.value = "";
    say("");
    this.edit((club) => { club.members.push({ id: newName(), name, shares: "1" }); });
    box.focus();
  }

  addBath() {
    const choice = place.querySelector("[data-new-bath]").value;
    const record = this.plans.find((one) => one.id === choice);
    const id = newName();
    const line = record
      ? { id, name: record.name || "Your raft bath", count: "1", plan: record.plan, version: record.version,
        from: record.id }
      : { id, name: EXAMPLE, count: "1", plan: {}, version };
    this.edit((club) => { club.baths.push(line); }).then(() => this.baths.focus(id));
  }

  newer(bath) {
    const there = this.plans.find((one) => one.id === bath.from);
    return there && !sameState({ plan: there.plan }, { plan: bath.plan }) ? there : undefined;
  }

  renew(id) {
    const there = this.newer(this.club.baths.find((one) => one.id === id) || {});
    if (there) {
      this.edit((club) => Object.assign(club.baths.find((one) => one.id === id) || {}, { plan: there.plan,
        version: there.version }));
    }
  }

  async begin() {
    const id = newName();
    const club = { id, name: "", units: this.club.units || "us", start: nextMonday(), weeks: "12", on_duty: "1",
      shared_tools: true, signed: false, extra: "", members: [], baths: [], prices: {}, buyers: {},
      changed: Date.now(), stamp: newName() };
    this.look(await store.change(id, () => club));
    await this.read();
    say("This is your club now. Begin with its name and its members.");
    place.querySelector('[data-text="name"]').focus();
  }

  async remove() {
    const { id } = this.club;
    await store.change(id, (club) => club && { ...club, deleted: Date.now() });
    if (this.channel) this.channel.postMessage(id);
    await this.read();
    notice("taken", `The club is taken away. It is set aside here for ${KEPT_DAYS} days.`, {
      choices: [["Undo", () => this.bringBack(id)]] });
  }

  async bringBack(id) {
    const made = await store.change(id, (club) => {
      if (!club) return undefined;
      const { deleted, ...left } = club;
      return deleted ? left : undefined;
    });
    if (made) this.look(made);
    if (this.channel) this.channel.postMessage(id);
    await this.read();
  }

  // --- files ----------------------------------------------------------------------------------------------------

  async save() {
    const answer = await this.run({ op: "club_write", club: this.club });
    download(`${cleaned(titleOf(this.club))}-${stamp()}-club.json`, answer.text, "application/json");
    say("Saved as a file. Names and prices of your club are in it: give it to those who may know them.");
  }

  chooseFile() {
    const picker = make("input", { type: "file", accept: ".json,application/json,text/plain", hidden: "" });
    picker.addEventListener("change", () => {
      const [file] = picker.files;
      picker.remove();
      if (file) this.bringIn(file).catch((error) => say(`The file could not be read. ${error.message}`));
    });
    document.body.append(picker);
    picker.click();
  }

  async bringIn(file) {
    if (file.size > LARGEST_FILE) return say("This file is larger than any club; nothing was read from it.");
    const text = await file.text();
    const answer = await this.run({ op: "club_read", clubs: await store.everything(), text });
    if (answer.club) {
      const made = await store.change(answer.club.id, () => ({ ...answer.club, deleted: undefined, changed: Date.now(),
        stamp: newName() }));
      this.look(made);
      if (this.channel) this.channel.postMessage(made.id);
    }
    if (answer.original) {
      await shelf.keepOriginal({ id: newName(), name: file.name, text, why: answer.told, at: Date.now() });
    }
    await this.read();
    notice("brought", answer.sum + (answer.original && shelf.lasts
      ? " The file’s own text is set aside on the shelf." : ""), { list: answer.told });
    return say(answer.sum);
  }

  // --- showing --------------------------------------------------------------------------------------------------

  show() {
    const { club } = this;
    place.toggleAttribute("data-trying", this.trying);
    for (const part of place.querySelectorAll("[data-when-trying]")) part.hidden = !this.trying;
    for (const part of place.querySelectorAll("[data-when-own]")) part.hidden = this.trying;
    for (const one of document.querySelectorAll("[data-club-name]")) one.textContent = titleOf(club);
    for (const key of TEXTS) put(place.querySelector(`[data-text="${key}"]`), String(club[key] ?? ""));
    for (const key of TICKS) place.querySelector(`[data-tick="${key}"]`).checked = club[key] ?? key === "shared_tools";
    put(place.querySelector('[data-text="units"]'), club.units === "metric" ? "metric" : "us");
    this.members.show(club.members);
    this.baths.show(club.baths);
    this.showChoices();
    this.showClubs();
    this.showAside();
    place.querySelector("[data-from-disk]").hidden = !fromDisk;
    place.querySelector("[data-not-kept]").hidden = store.lasts();
  }

  showChoices() {
    const select = place.querySelector("[data-new-bath]");
    const options = [["", EXAMPLE], ...this.plans.map((one) => [one.id, one.name || "Your raft bath"])];
    const before = select.value;
    select.replaceChildren(...options.map(([value, words]) => make("option", { value, words })));
    if (options.some(([value]) => value === before)) select.value = before;
  }

  showClubs() {
    const label = place.querySelector("[data-clubs]");
    label.hidden = this.all.length < 2;
    const select = label.querySelector("select");
    select.replaceChildren(...this.all.map((one) => make("option", { value: one.id, words: titleOf(one) })));
    select.value = this.club.id;
  }

  showAside() {
    const fold = place.querySelector("[data-aside]");
    const line = (words, act, work) => {
      const button = make("button", { type: "button", words: act });
      button.addEventListener("click", work);
      return make("li", {}, make("span", { words }), button);
    };
    const lines = [
      ...(this.gone || []).map((one) => line(`“${titleOf(one)}”, taken away; kept for ${KEPT_DAYS} days.`, "Bring back",
        () => this.bringBack(one.id))),
      ...(this.broken || []).map((one) => line("A kept club that can no longer be read; it is left as it is.",
        "Save it as a file", () => download("raftwright-unreadable.txt", one.unread || JSON.stringify(one, null, 1),
          "text/plain")))];
    fold.querySelector("ul").replaceChildren(...lines);
    fold.querySelector("[data-aside-count]").textContent = lines.length;
    fold.hidden = lines.length === 0;
  }

  // --- what Python says -----------------------------------------------------------------------------------------

  async run(question) {
    engine.start();
    const answer = await engine.run(question);
    if (answer.error) throw new Error(answer.error);
    return answer;
  }

  /** Have Python say what the club comes to; what is changed meanwhile is asked about next. */
  ask() {
    place.removeAttribute("data-settled");
    this.again = true;
    if (!this.asking) this.answered = this.answer();
    return this.answered;
  }

  async answer() {
    this.asking = true;
    try {
      while (this.again) {
        this.again = false;
        const club = structuredClone(this.club);
        const { links, codes } = await this.linksOf(club);
        this.put(await this.run({ op: "club", club, links, codes }));
        if (this.again) continue;
        if (this.pending === 0) place.setAttribute("data-settled", "");
        // What draws the codes is fetched only now; the rest stands without them.
        if (await this.makeCodes(Object.values(links))) this.again = true;
      }
    } catch (error) {
      say(`${error.message} What you typed is kept; the sums come when the calculator does.`);
    } finally {
      this.asking = false;
    }
  }

  put(answer) {
    for (const [name, html] of Object.entries(answer.parts)) {
      const region = place.querySelector(`[data-part="${name}"]`);
      const next = region.cloneNode(false);
      next.innerHTML = html;
      morphdom(region, next, { childrenOnly: true, onBeforeElUpdated: (now, then) => {
        if (now === document.activeElement && now.matches("input")) return false;
        if (now.matches(".strip input")) return false;
        if (now.matches("input")) now.value = then.getAttribute("value") || "";
        return !now.isEqualNode(then);
      } });
    }
    this.showFaults(answer.faults);
  }

  showFaults(faults) {
    for (const one of place.querySelectorAll("[data-fault]")) one.remove();
    for (const one of place.querySelectorAll("[aria-invalid]")) {
      one.removeAttribute("aria-invalid");
      one.removeAttribute("aria-describedby");
    }
    Object.entries(faults).forEach(([key, sentence], at) => {
      const control = key.startsWith("prices.")
        ? [...place.querySelectorAll("[data-price]")].find((one) => `prices.${one.dataset.price}` === key)
        : place.querySelector(`[data-field="${key}"], [data-text="${key}"]`);
      if (!control || control.tagName !== "INPUT") return;
      const told = make("p", { class: "fault", id: `club-fault-${at}`, "data-fault": "", words: sentence });
      control.setAttribute("aria-invalid", "true");
      control.setAttribute("aria-describedby", told.id);
      // A sentence about a price has the width of the line, not that of its box.
      const line = control.closest("tr");
      if (line) line.cells[0].append(told);
      else (control.closest("label") || control).after(told);
    });
  }

  /** The links of the club's baths and the codes that are drawn already, by the baths' ids. */
  async linksOf(club) {
    const declared = await defaults();
    const name = club.signed ? plainLine(club.name || "", 60) : "";
    const links = {};
    const codes = {};
    for (const bath of club.baths) {
      if (!bath.plan || typeof bath.plan !== "object") continue;
      const texts = Object.fromEntries(Object.entries(bath.plan).filter(([, text]) => typeof text === "string"));
      const link = address(linkOf(texts, declared, bath.version, name ? { "link.by": name } : {}));
      if (link) links[bath.id] = link;
      if (this.codes.get(link)) codes[bath.id] = this.codes.get(link);
    }
    return { links, codes };
  }

  /** Have the codes drawn that are missing; whether there are any new ones. */
  async makeCodes(links) {
    const missing = [...new Set(links)].filter((one) => one.length <= LONGEST_CODE && !this.codes.has(one));
    if (missing.length === 0) return false;
    try {
      await engine.extra("segno");
      for (const link of missing) this.codes.set(link, (await engine.run({ op: "square_code", text: link })).svg || "");
      return true;
    } catch {
      // The handout is whole without its codes.
      for (const link of missing) this.codes.set(link, "");
      return false;
    }
  }

  // --- what is pressed ------------------------------------------------------------------------------------------

  async print(what) {
    // What was just typed, and the QR codes, belong on the paper.
    await this.edits;
    await this.answered;
    document.documentElement.dataset.print = what;
    addEventListener("afterprint", () => delete document.documentElement.dataset.print, { once: true });
    window.print();
  }

  listen() {
    const does = {
      "add-member": () => this.addMember(), "add-bath": () => this.addBath(), begin: () => this.begin(),
      "save-club": () => this.save(), "open-club": () => this.chooseFile(), "remove-club": () => this.remove(),
      "print-handout": () => this.print("handout"), "print-list": () => this.print("list"),
    };
    document.addEventListener("click", (event) => {
      const button = event.target.closest("[data-action]");
      if (button && does[button.dataset.action]) {
        withdraw("brought");
        Promise.resolve(does[button.dataset.action]()).catch((error) => say(error.message));
      }
      for (const menu of document.querySelectorAll("details.menu[open], details.site-menu[open]")) {
        if (!menu.contains(event.target) || (button && menu.contains(button))) menu.open = false;
      }
    });
    document.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && event.target.matches("[data-new-member]")) this.addMember();
      const menu = event.key === "Escape" && document.querySelector("details.menu[open], details.site-menu[open]");
      if (!menu) return;
      menu.open = false;
      menu.querySelector("summary").focus();
    });
    place.addEventListener("change", ({ target }) => {
      const { text, tick, price, buyer } = target.dataset;
      if (text) this.edit((club) => { club[text] = target.value.trim(); });
      if (tick) this.edit((club) => { club[tick] = target.checked; });
      if (price) this.edit((club) => { club.prices = { ...club.prices, [price]: target.value.trim() }; });
      if (buyer) this.edit((club) => { club.buyers = { ...club.buyers, [buyer]: target.value }; });
      if (target.matches("[data-clubs] select")) {
        this.look(this.all.find((one) => one.id === target.value) || this.club);
        this.show();
        this.ask();
      }
    });
    addEventListener("pageshow", (event) => { if (event.persisted) this.read(); });
  }
}

fold();
const page = new Page();
page.start();
offline();
self.raftwright = { run: (question) => page.run(question), times: engine.times };
