// Lines of Today that are put off: each until a day, kept beside the log, and back on the list by itself.

import { bathLog, INVENTED, now, stamp } from "./log-bath.js";
import { log, setting } from "./log-store.js";

const RECORD = "off";

/** Under which name it is kept; a list worked from the reader's own reading is about the reader's own bath. */
function bathName(own = !bathLog.invented) {
  return own ? bathLog.bath.id || "none" : INVENTED;
}

/** The day after today, as a date field writes it. */
export function tomorrow() {
  const at = new Date();
  at.setDate(at.getDate() + 1);
  return now(at).slice(0, 10);
}

async function held() {
  const record = await log.beside(RECORD).catch(() => undefined);
  return record && record.held ? record.held : {};
}

/** What is put off for this bath: the day on which it returns, by code. */
export async function putOff(own) {
  return (await held())[bathName(own)] || {};
}

/** Put a line off until a day; an empty day brings it back at once. */
export async function wait(code, until, own) {
  const all = await held();
  const today = now().slice(0, 10);
  const mine = Object.entries({ ...all[bathName(own)], [code]: until }).filter(([, day]) => day > today);
  await log.keepBeside({ id: RECORD, held: { ...all, [bathName(own)]: Object.fromEntries(mine) },
    changed: new Date().toISOString() });
}

/** The jug test of this bath and this day: as typed, and when. */
export function jugOf() {
  try {
    const kept = JSON.parse(setting.read("jug") || "{}");
    if (kept.bath === bathName(true) && kept.day === now().slice(0, 10)) return kept;
  } catch {
    // Nothing that can be read was kept.
  }
  return { typed: {}, changed: "" };
}

export function keepJug(typed) {
  const some = Object.keys(typed).length > 0;
  setting.write("jug", some ? JSON.stringify({ bath: bathName(true), day: now().slice(0, 10), typed, changed: stamp() })
    : "");
}

/** Whether a jug test says nothing any more: something was poured since, and the pH measured anew. */
export function jugIsPast(phIsTyped) {
  const { changed } = jugOf();
  const since = bathLog.entries.filter((one) => changed && (one.changed || "") > changed);
  const pours = since.filter(({ typed }) => typed.acid || /^(acid|base)/.test(typed.code || ""))
    .map((one) => one.changed).sort();
  return pours.length > 0 && (phIsTyped || since.some((one) => one.kind === "reading" && one.typed.ph
    && one.changed > pours.at(-1)));
}
