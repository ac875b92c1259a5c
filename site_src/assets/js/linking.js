// A plan as link and as file, written here so that neither waits for Python. calc writes the same (render/link.py and
// api.py); a test holds the two together. `declared` is what calc declares of questions: see tools/defaults.py.

// What is longer is no answer that somebody typed.
const LONGEST_KEPT = 2000;
// What Python's strip takes away; trim takes away another set.
const BLANKS = "[\\t-\\r\\x1c-\\x20\\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000]+";
const ENDS = new RegExp(`^${BLANKS}|${BLANKS}$`, "g");
const BARE_NUMBER = /^\s*\d[\d\s.,/½¼¾⅛⅜⅝⅞⅓⅔]*$/;

function strip(text) {
  return text.replace(ENDS, "");
}

/** The text with a mark in place of every half of a character. */
export function wholeCharacters(text) {
  return text.replace(/[\ud800-\udbff][\udc00-\udfff]|[\ud800-\udfff]/g, (one) => (one.length === 2 ? one : "�"));
}

/** What calc takes of a plan: whole characters, and nothing too long to be an answer. */
function taken(plan) {
  const found = {};
  for (const [key, text] of Object.entries(plan)) {
    if (text.length <= LONGEST_KEPT || [...text].length <= LONGEST_KEPT) {
      found[wholeCharacters(key)] = wholeCharacters(text);
    }
  }
  return found;
}

/** The system of units of a plan. */
export function systemOfPlan(plan, declared) {
  const text = strip(plan.units ?? declared.fields.units.default[0]).toLowerCase();
  const choice = declared.systems.find((labels) => labels.some((label) => label.toLowerCase() === text));
  return choice && choice[0] === "metric" ? "metric" : "us";
}

/** The text of an answer, or of a cell, that nobody touched; undefined for a key that nothing asks. */
export function defaultText(key, plan, declared, system) {
  const at = system === "metric" ? 1 : 0;
  const field = declared.fields[key];
  if (field) {
    const moved = (field.follows || []).some((name) => plan[name] !== undefined
      && strip(plan[name]) !== declared.fields[name].default[at]);
    return moved ? "" : field.default[at];
  }
  const cut = key.split(".");
  const [number, column] = cut.splice(-2);
  const table = declared.tables[cut.join(".")];
  if (!table || !table.columns.includes(column) || !/^[0-9]{1,5}$/.test(number)) return undefined;
  if (Number(number) < 1 || Number(number) > table.most) return undefined;
  const cell = (table.rows[Number(number) - 1] || {})[column] ?? "";
  return Array.isArray(cell) ? cell[at] : cell;
}

/** The plan without what is true of one day only. */
export function lastingOf(plan, declared) {
  return Object.fromEntries(Object.entries(plan).filter(([key]) => !declared.fields[key]?.transient));
}

/** What lasts and differs from the defaults: all that a link has to carry. */
export function changedOf(plan, declared) {
  const system = systemOfPlan(plan, declared);
  return Object.fromEntries(Object.entries(lastingOf(plan, declared)).filter(([key, text]) => {
    const standing = defaultText(key, plan, declared, system);
    return standing === undefined || strip(text) !== standing;
  }));
}

/** Percent signs as a form has them. */
function quoted(text) {
  return encodeURIComponent(text).replace(/[!'()*]/g, (one) => `%${one.charCodeAt(0).toString(16).toUpperCase()}`)
    .replaceAll("%20", "+");
}

const TABLE = Uint32Array.from({ length: 256 }, (_, at) => {
  let value = at;
  for (let bit = 0; bit < 8; bit += 1) value = value & 1 ? (value >>> 1) ^ 0xedb88320 : value >>> 1;
  return value >>> 0;
});

/** The check sum CRC-32 of a text, eight hexadecimal digits. */
export function checkSum(text) {
  let sum = 0xffffffff;
  for (const byte of new TextEncoder().encode(text)) sum = TABLE[(sum ^ byte) & 0xff] ^ (sum >>> 8);
  return ((sum ^ 0xffffffff) >>> 0).toString(16).padStart(8, "0");
}

/** By code point, as Python sorts; UTF-16 puts rare characters elsewhere. */
function byCodePoint([left], [right]) {
  const a = [...left];
  const b = [...right];
  for (let at = 0; at < Math.min(a.length, b.length); at += 1) {
    if (a[at] !== b[at]) return a[at].codePointAt(0) - b[at].codePointAt(0);
  }
  return a.length - b.length;
}

/** Text as one line of whole characters, cut at `longest` of them: a name, or a note. */
export function plainLine(text, longest) {
  const line = wholeCharacters(text)
    .replace(/[\0-\x20\x7f-\xa0\u1680\u2000-\u200a\u2028-\u202f\u205f\u2066-\u2069\u3000\ufeff]+/g, " ");
  return [...line.replace(/^ /, "")].slice(0, longest).join("").replace(/ $/, "");
}

/**
 * The fragment of a plan's link; "" when nothing differs from the defaults. `version` is that of the plan, `said` what
 * stands in it beside the answers: {"link.by", "link.note"}.
 */
export function linkOf(plan, declared, version = declared.version, said = {}) {
  const given = taken(plan);
  // What an earlier version left out meant its own defaults, which are not here: say all that it said.
  const pairs = Object.entries({
    ...(version === declared.version ? changedOf(given, declared) : lastingOf(given, declared)), ...said });
  if (pairs.length === 0) return "";
  const body = pairs.sort(byCodePoint).map(([key, text]) => `${quoted(key)}=${quoted(text)}`).join("&");
  return `#plan=${version}&${body}&end=${checkSum(body).slice(0, 6)}`;
}

/**
 * The answers of a link or a starting point; null where only calc can tell what it means: one of another version, with
 * another key than today's, or not whole.
 */
export function readLink(fragment, declared) {
  const body = fragment.replace(/^#/, "").replace(/&step=[a-z]*$/, "");
  const [first, ...pairs] = [...new URLSearchParams(body)];
  if (!first || !["plan", "start"].includes(first[0]) || first[1] !== String(declared.version)) return null;
  const seal = pairs.length > 0 && pairs.at(-1)[0] === "end" ? pairs.pop()[1] : "";
  const sealed = body.slice(body.indexOf("&") + 1).replace(/&end=[^&]*$/, "");
  if (first[0] === "plan" ? seal !== checkSum(sealed).slice(0, 6) : seal) return null;
  const plan = {};
  for (const [key, text] of pairs) {
    const known = defaultText(key, {}, declared, "us") !== undefined && !declared.fields[key]?.transient;
    if (!known || key in plan) return null;
    plan[key] = text;
  }
  return pairs.length > 0 ? plan : null;
}

/** A plan's file; `name` is the reader's own for it, if there is one. */
export function fileOf(plan, declared, name = "", version = declared.version) {
  const kept = { plan: lastingOf(taken(plan), declared), version, made_with: declared.made_with };
  if (name) kept.name = wholeCharacters(name);
  return `${JSON.stringify(kept, null, 1)}\n`;
}

/** The plan with units written onto bare numbers, as far as that needs no reading: until Python has done it. */
export function withUnits(plan, system, declared) {
  const at = system === "metric" ? 1 : 0;
  return Object.fromEntries(Object.entries(plan).map(([key, text]) => {
    const cut = key.split(".");
    const column = cut.slice(0, -2).join(".");
    const units = declared.fields[key]?.units || declared.tables[column]?.units?.[cut.at(-1)];
    return [key, units && BARE_NUMBER.test(text) ? `${text.trim()} ${units[at]}` : text];
  }));
}
