// Where the worker's files come from: addresses over http, packed text in classic scripts when opened from a disk.

import { gunzip, fromBase64 } from "./bytes.js";

/* global RUNTIME */
// The folder of this very script; the current script is only known while it first runs.
const ASSETS = new URL(".", document.currentScript.src);
// Who waits longer for a script of a few kilobytes is told that it does not come.
const LONGEST = 120_000;
const FROM_DISK = location.protocol === "file:";

export const release = RUNTIME.release;
export const root = new URL("..", ASSETS);

function load(name) {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = new URL(name, ASSETS).href;
    script.onload = () => resolve();
    script.onerror = () => reject(new Error(`The file assets/${name} is missing from this folder.`));
    document.head.append(script);
  });
}

/** Everything a worker needs: `address` of its script, and `files` by name, each {url} or {packed}. */
export async function runtimeFiles() {
  if (!FROM_DISK) {
    const files = {};
    for (const [name, hashed] of Object.entries(RUNTIME.files)) files[name] = { url: new URL(hashed, ASSETS).href };
    return { address: new URL(RUNTIME.worker, ASSETS).href, files };
  }
  await Promise.all(Object.values(RUNTIME.packed).map(load));
  const packed = self.raftwrightPacked;
  const script = await gunzip(fromBase64(packed["worker.js"]));
  const files = {};
  for (const name of Object.keys(RUNTIME.files)) files[name] = { packed: packed[name] };
  return { address: URL.createObjectURL(new Blob([script], { type: "text/javascript" })), files };
}

/** What installs an extra: `wheels` in the order they are needed, the extra itself last, each with its check sum. */
export async function extraFiles(name) {
  const wheels = [...RUNTIME.installer, name].map((one) => RUNTIME.extras[one]);
  if (!FROM_DISK) return wheels.map(({ wheel, sha256, file }) => ({ wheel, sha256, url: new URL(file, ASSETS).href }));
  await Promise.all(wheels.map(({ packed }) => load(packed)));
  return wheels.map(({ wheel, sha256 }) => ({ wheel, sha256, packed: self.raftwrightPacked[wheel] }));
}

/** Settings and drawings of the sheets, HTML by step; in a file of its own, so that the first need not wait for it. */
export async function toCome() {
  await load(RUNTIME.toCome);
  return self.raftwrightToCome;
}

/** What calc declares of questions, for the links and files that the page writes itself; see tools/defaults.py. */
export async function defaults() {
  await load(RUNTIME.defaults);
  return self.raftwrightDefaults;
}

let shows = null;

/** What puts answers into the page; where it does not come, it is asked for again with the next answer. */
export function showing() {
  shows ??= Promise.race([load(RUNTIME.showing), new Promise((_, reject) => { setTimeout(reject, LONGEST); })])
    .then(() => self.raftwrightShowing || Promise.reject()).catch(() => {
      shows = null;
      throw new Error("The part of the page that shows answers could not be fetched. Change an answer, or reload the "
        + "page, to try again.");
    });
  return shows;
}

/** Names and notes in links, and plans of others to look at: what few visits need. */
export async function passing() {
  if (!self.raftwrightPassing) await load(RUNTIME.passing);
  return self.raftwrightPassing;
}

/** Whether the page was opened from a disk, where its own address helps nobody else. */
export const fromDisk = FROM_DISK;
export const lockInfo = RUNTIME.lockInfo;
