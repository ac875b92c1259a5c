// All plans in one file, and a file of plans put among those that stand here: none twice, none lost, each told.

import { checkSum, wholeCharacters } from "./linking.js";
import { sameState } from "./undo.js";

const KIND = "raftwright shelf";
const FORMAT = 1;
const LONGEST_NAME = 60;
const LONGEST_NOTE = 300;
const LONGEST_ANSWER = 2000;
const UNNAMED = "Your raft bath";

function same(left, right) {
  return sameState({ plan: left }, { plan: right });
}

/** The file that holds all of these plans. */
export function wholeShelf(records, madeWith) {
  const plans = records.map(({ id, name, note, from, copyOf, changed, version, plan }) => ({
    id, name: name || undefined, note: note || undefined, from, copyOf, changed, version, plan }));
  return `${JSON.stringify({ kind: KIND, format: FORMAT, made_with: madeWith, saved: new Date().toISOString(), plans },
    null, 1)}\n`;
}

function text(value, longest) {
  return typeof value === "string" ? wholeCharacters(value).trim().slice(0, longest) : "";
}

/** The answers of a plan that are answers, and the keys of the others. */
function answersOf(given) {
  const plan = {};
  const lost = [];
  for (const [key, value] of Object.entries(given)) {
    if (typeof value === "string" && value.length <= LONGEST_ANSWER) plan[key] = wholeCharacters(value);
    else if (typeof value === "number" && Number.isFinite(value)) plan[key] = String(value);
    else lost.push(key);
  }
  return { plan, lost };
}

/** The plans that a file holds, as {entry} or {wrong: sentence}; and whether it is newer, or no file of plans. */
async function entriesOf(given, { name, version, ask }) {
  if (given && Array.isArray(given.plans)) {
    return { entries: given.plans, newer: Number(given.format) > FORMAT };
  }
  if (given && typeof given === "object" && given.plan && typeof given.plan === "object") {
    return { entries: [{ name: name.replace(/\.(json|txt)$/i, ""), version, ...given }] };
  }
  if (given && typeof given === "object" && !Array.isArray(given)) {
    // A bare list of answers, as scripts write it, is for Python to read.
    const answer = await ask({ op: "file_read", text: JSON.stringify(given) });
    if (answer.plan && Object.keys(answer.plan).length > 0) {
      return { entries: [{ name: name.replace(/\.(json|txt)$/i, ""), version, plan: answer.plan }],
        notes: answer.notes || [] };
    }
  }
  return { entries: null };
}

class Merge {
  constructor(standing, version) {
    this.standing = new Map(standing.map((one) => [one.id, one]));
    this.version = version;
    this.records = [];
    this.said = [];
    this.counts = { added: 0, here: 0, back: 0, unread: 0 };
    this.original = false;
  }

  /** Take in one entry of a file; `at` is its place, for what cannot be named. */
  take(entry, at, of) {
    const name = text(entry && entry.name, LONGEST_NAME);
    const called = name ? `“${name}”` : `Plan ${at} of ${of}`;
    if (!entry || typeof entry !== "object" || !entry.plan || typeof entry.plan !== "object"
      || Array.isArray(entry.plan)) {
      return this.cannot(`${called} cannot be read: it holds no answers.`);
    }
    const { plan, lost } = answersOf(entry.plan);
    if (Object.keys(plan).length === 0) return this.cannot(`${called} cannot be read: none of its answers is one.`);
    const notes = [];
    if (lost.length > 0) {
      this.original = true;
      notes.push(`${lost.length === 1 ? "one answer" : `${lost.length} answers`} could not be read (`
        + `${lost.slice(0, 3).map((key) => key.slice(0, 40)).join(", ")}${lost.length > 3 ? ", …" : ""})`);
    }
    const version = Number.isInteger(entry.version) && entry.version > 0 ? entry.version : this.version;
    if (version > this.version) notes.push("made by a newer version; all of it is kept, opens as far as known");
    const id = typeof entry.id === "string" && /^[a-z0-9-]{6,60}$/.test(entry.id) ? entry.id : "";
    const changed = Number.isFinite(entry.changed) && entry.changed > 0 ? entry.changed : Date.now();
    const record = { id, name, plan, version, changed };
    if (text(entry.note, LONGEST_NOTE)) record.note = text(entry.note, LONGEST_NOTE);
    if (text(entry.from, LONGEST_NAME)) record.from = text(entry.from, LONGEST_NAME);
    if (typeof entry.copyOf === "string" && /^[a-z0-9-]{6,60}$/.test(entry.copyOf)) record.copyOf = entry.copyOf;
    return this.place(record, called, notes);
  }

  place(record, called, notes) {
    const more = notes.length > 0 ? `; ${notes.join("; ")}` : "";
    const mark = checkSum(JSON.stringify(Object.entries(record.plan).sort()));
    // What has no name of its own gets one from what it says, so that it is known when it comes again.
    const id = record.id || `f${mark}${checkSum(record.name)}`;
    const there = this.standing.get(id);
    if (there && there.plan && same(there.plan, record.plan)) return this.known(there, called, more);
    if (!there) {
      const twin = [...this.standing.values()].find((one) => !record.id && one.plan && same(one.plan, record.plan)
        && (one.name || UNNAMED) === (record.name || UNNAMED));
      if (twin) return this.known(twin, called, more);
      return this.add({ ...record, id }, `${called}: added${more}.`);
    }
    const beside = `${id.slice(0, 40)}-${mark}`;
    const already = this.standing.get(beside);
    if (already) return this.known(already, called, more);
    const name = `${record.name || UNNAMED}, from the file`.slice(0, LONGEST_NAME);
    return this.add({ ...record, id: beside, name }, `${called}: here it says something else. Both are kept; the `
      + `file's is “${name}”${more}.`);
  }

  known(there, called, more) {
    if (there.deleted && !there.back) {
      there.back = true;
      this.records.push({ id: there.id, back: true });
      this.counts.back += 1;
      this.said.push(`${called}: was deleted here, and is back${more}.`);
      return;
    }
    this.counts.here += 1;
    this.said.push(`${called}: here already${more}.`);
  }

  add(record, words) {
    this.standing.set(record.id, record);
    this.records.push(record);
    this.counts.added += 1;
    this.said.push(words);
  }

  cannot(words) {
    this.original = true;
    this.counts.unread += 1;
    this.said.push(words);
  }

  sum() {
    const { added, here, back, unread } = this.counts;
    const plans = (many) => (many === 1 ? "1 plan" : `${many} plans`);
    const parts = [`${plans(added)} added`];
    if (here > 0) parts.push(`${here} here already`);
    if (back > 0) parts.push(`${back} brought back`);
    if (unread > 0) parts.push(`${unread} could not be read`);
    return `${parts.join(", ")}.`;
  }
}

/**
 * What a file's text brings to the plans that stand here: `records` to put there, `said` a sentence for each plan of
 * the file, `sum` all of it in one, and whether its text must be kept (`original`) since not all was understood.
 */
export async function mergeFile(given, { name, standing, version, ask }) {
  let read;
  try {
    read = JSON.parse(given);
  } catch {
    return { records: [], said: ["It is not JSON text, or was cut on its way here."], original: true,
      sum: "No plan could be read from this file; nothing here was changed." };
  }
  const { entries, newer, notes } = await entriesOf(read, { name, version, ask });
  if (!entries) {
    return { records: [], said: ["It holds no list of answers."], original: true,
      sum: "No plan could be read from this file; nothing here was changed." };
  }
  const merge = new Merge(standing, version);
  merge.said.push(...(notes || []));
  if (newer) {
    merge.original = true;
    merge.said.push("The file was made by a newer version; what is understood of it was read.");
  }
  entries.forEach((entry, at) => merge.take(entry, at + 1, entries.length));
  return { records: merge.records, said: merge.said, original: merge.original || (notes || []).length > 0,
    sum: merge.sum() };
}
