// The one worker, its state and its clock: the page asks `run`, and hears plain words when Python cannot answer.

import { extraFiles, lockInfo, release, runtimeFiles } from "./source.js";

// Long enough for a slow phone, short enough that nobody waits for ever. Fetching may be slow on a poor line.
const LONGEST = { fetching: 180_000, starting: 180_000, snapshot: 20_000, run: 20_000 };
const QUIET_BEFORE_KEEPING = 2_500;
// An idle worker is asked whether it lives; who has not answered within LIFELESS is started anew.
const BEAT = 600;
const LIFELESS = 1_500;
// A calculation that takes longer is said to be under way.
const LONG = 1_000;

/** What may happen to one start; `reason` is a whole sentence for the reader when the state is "failed". */
const store = { state: "idle", reason: "", slow: false };
const listeners = new Set();

let worker = null;
let clock = 0;
let keepClock = 0;
let beatClock = 0;
let slowClock = 0;
// When the worker was asked whether it lives and has not answered yet, and when the page's own clock ticked last.
let beatSent = 0;
let ticked = 0;
let keeping = false;
let counter = 0;
let triedSnapshot = true;
let waiting = new Map();
let queue = [];
let installed = new Map();
const marks = {};

/** Hear of every change of state. */
export function watch(listener) {
  listeners.add(listener);
  listener({ ...store });
}

function set(state, reason = "") {
  store.state = state;
  store.reason = reason;
  const page = document.documentElement.dataset;
  page.engine = state === "ready" || state === "failed" ? state : "starting";
  page.engineState = state;
  if (state === "ready") marks.ready = performance.now();
  for (const listener of listeners) listener({ ...store });
}

function watchClock(after, action) {
  clearTimeout(clock);
  if (after) clock = setTimeout(action, after);
}

function end() {
  clearTimeout(clock);
  clearTimeout(keepClock);
  clearInterval(beatClock);
  beatSent = 0;
  keeping = false;
  if (worker) worker.terminate();
  worker = null;
  installed = new Map();
}

/** Every question that hangs on the worker gets an answer, if only that there is none. */
function refuseAll(reason) {
  const left = [...waiting.values(), ...queue];
  waiting = new Map();
  queue = [];
  for (const one of left) {
    clearTimeout(one.clock);
    one.reject(new Error(reason));
  }
}

function fail(reason) {
  if (store.state === "failed") return;
  end();
  set("failed", reason);
  refuseAll(reason);
}

/** Start Python; does nothing while it is starting or there. */
export async function start({ useSnapshot = true, dropFirst = false, pastCache = false } = {}) {
  if (worker || store.state === "fetching") return;
  set("fetching");
  triedSnapshot = useSnapshot;
  marks.start = performance.now();
  if (typeof Worker !== "function" || typeof WebAssembly !== "object" || typeof DecompressionStream !== "function") {
    fail("This browser cannot run the calculator: it lacks WebAssembly or workers. A current browser has both.");
    return;
  }
  watchClock(LONGEST.fetching, () => fail("Fetching the calculator took too long."));
  let found;
  try {
    found = await runtimeFiles();
    // The clock may have ended this start in the meantime.
    if (store.state !== "fetching") return;
    // A script kept by the browser is kept with the headers it came with, so a policy mended since would go unseen.
    const anew = pastCache && !found.address.startsWith("blob:") ? `?again=${Date.now()}` : "";
    worker = new Worker(found.address + anew);
  } catch (error) {
    fail(`The calculator could not be loaded. ${error.message}`);
    return;
  }
  const mine = worker;
  worker.onerror = () => {
    if (worker === mine) fail("The calculator's program could not be loaded or stopped short.");
  };
  worker.onmessage = ({ data }) => { if (worker === mine) hear(data); };
  worker.postMessage({ type: "start", files: found.files, lockInfo, useSnapshot, dropFirst, pastCache,
    releaseId: release });
}

/** Ask an idle worker whether it lives: one that was ended by the browser says nothing by itself. */
function beat() {
  const now = performance.now();
  // A page that was asleep, or a machine that is busy, has kept the answer waiting too.
  const late = now - ticked > BEAT + 300;
  ticked = now;
  if (store.state !== "ready" || keeping || document.visibilityState !== "visible" || late) {
    if (beatSent) beatSent = now;
  } else if (!beatSent) {
    if (waiting.size > 0) return;
    beatSent = now;
    worker.postMessage({ type: "beat" });
  } else if (now - beatSent > LIFELESS - BEAT) {
    restart({});
  }
}

/** Whether a calculation takes long enough to be told. */
function watchSlow() {
  clearTimeout(slowClock);
  if (waiting.size > 0) {
    slowClock = setTimeout(() => setSlow(true), LONG);
  } else {
    setSlow(false);
  }
}

function setSlow(slow) {
  if (store.slow === slow) return;
  store.slow = slow;
  for (const listener of listeners) listener({ ...store });
}

function hear(data) {
  if (data.type === "beat") {
    beatSent = 0;
  } else if (data.type === "state") {
    set(data.state);
    watchClock(LONGEST[data.state], () => fail(`The calculator got no further than ${data.state}.`));
  } else if (data.type === "ready") {
    watchClock(0);
    document.documentElement.dataset.engineFrom = data.fromSnapshot ? "snapshot" : "start";
    set("ready");
    ticked = performance.now();
    beatClock = setInterval(beat, BEAT);
    for (const one of queue.splice(0)) send(one);
  } else if (data.type === "failed") {
    fail(data.reason);
  } else if (data.type === "snapshot-failed") {
    restart({ useSnapshot: false, dropFirst: true });
  } else if (data.type === "kept-nothing") {
    keeping = false;
  } else if (data.type === "snapshot-kept") {
    keeping = false;
    document.documentElement.dataset.snapshot = data.kept ? "kept" : `not kept: ${data.reason}`;
  } else if (data.type === "answer" || data.type === "broken") {
    const one = waiting.get(data.id);
    if (!one) return;
    waiting.delete(data.id);
    clearTimeout(one.clock);
    if (data.type === "answer") one.resolve(JSON.parse(data.text));
    else one.reject(new Error(`The calculator stumbled over its own mistake: ${data.reason}`));
    watchSlow();
    keepWhenQuiet();
  }
}

function keepWhenQuiet() {
  clearTimeout(keepClock);
  if (document.documentElement.dataset.snapshot || document.documentElement.dataset.engineFrom === "snapshot") return;
  keepClock = setTimeout(() => {
    if (!worker || waiting.size > 0) return;
    keeping = true;
    worker.postMessage({ type: "keep" });
  }, QUIET_BEFORE_KEEPING);
}

function send(one) {
  waiting.set(one.id, one);
  if (waiting.size === 1) watchSlow();
  one.clock = setTimeout(() => {
    waiting.delete(one.id);
    one.reject(new Error("This calculation took too long and was stopped. Change an answer to try again."));
    restart({});
  }, LONGEST.run);
  worker.postMessage({ type: one.wheels ? "install" : "run", id: one.id, text: one.text, wheels: one.wheels });
}

function restart(how) {
  end();
  // What was asked but not answered is asked again of the new worker.
  queue = [...waiting.values(), ...queue];
  for (const one of queue) clearTimeout(one.clock);
  waiting = new Map();
  store.state = "idle";
  start(how);
}

/** Try once more after a failure, without whatever was kept from an earlier visit. */
export function retry() {
  if (store.state !== "failed") return;
  store.state = "idle";
  // A damaged file may sit in the browser's own cache.
  start({ useSnapshot: false, dropFirst: triedSnapshot, pastCache: true });
}

/** Whether Python is there to answer at once. */
export function isReady() {
  return store.state === "ready";
}

/** Ask Python one of its operations; `question` and the answer are plain data. Waits while Python starts. */
export function run(question) {
  return ask({ text: JSON.stringify(question) });
}

/** Have an extra that few readers want (by its package's name) installed in the worker; once is enough. */
export async function extra(name) {
  if (!installed.has(name)) {
    const wheels = await extraFiles(name);
    const done = ask({ wheels });
    installed.set(name, done);
    done.catch(() => installed.delete(name));
  }
  await installed.get(name);
}

function ask(question) {
  if (store.state === "failed") return Promise.reject(new Error(store.reason));
  return new Promise((resolve, reject) => {
    counter += 1;
    const one = { id: counter, ...question, resolve, reject, clock: 0 };
    if (store.state === "ready") send(one);
    else queue.push(one);
  });
}

/** Times of this start, in milliseconds since the page began. */
export function times() {
  return { ...marks };
}
