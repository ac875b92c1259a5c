// The worker that holds Python: it gets bytes or addresses, starts once, and answers plain text with plain text.
// The build puts Pyodide's two scripts before this one, so that one file serves web addresses and double-click alike.

import { readSnapshot, writeSnapshot, dropSnapshot } from "./snapshot.js";
import { gunzip, fromBase64 } from "./bytes.js";

const HOME = "https://runtime.invalid/";
// More than this is not worth its room on the reader's disk.
const LARGEST_SNAPSHOT = 64 * 1024 * 1024;
// What a kept memory holds, so that no later visit reads it again.
const EVERY_MODULE = `
import calc, importlib, pkgutil
for found in pkgutil.walk_packages(calc.__path__, "calc."):
    if not found.name.endswith("__main__"):
        importlib.import_module(found.name)
`;
const WASM_PAGE = 64 * 1024;

let pyodide = null;
let api = null;
let release = "";
let fromSnapshot = false;
let fresh = false;
let grown = false;

/** What the page is told; never an Error object, which some browsers cannot pass on. */
function tell(type, more = {}) {
  self.postMessage({ type, ...more });
}

function words(error) {
  if (error && typeof error.message === "string") return `${error.name || "Error"}: ${error.message}`;
  return String(error);
}

/** Give one of the runtime's files as a Response, from bytes in hand or an address; refuses what is no such file. */
async function give(name, from) {
  const isWasm = name.endsWith(".wasm");
  if (from.packed !== undefined) {
    const bytes = await gunzip(fromBase64(from.packed));
    const type = isWasm ? "application/wasm" : "application/octet-stream";
    return new Response(bytes, { headers: { "Content-Type": type } });
  }
  let response;
  try {
    response = await realFetch(from.url, { cache: fresh ? "reload" : "default" });
  } catch {
    throw new Error(`The file ${name} could not be fetched: there is no connection, or the host did not answer.`);
  }
  if (!response.ok) throw new Error(`The file ${name} could not be fetched: the host answered ${response.status}.`);
  const type = (response.headers.get("Content-Type") || "").split(";")[0].trim();
  if (!isWasm || type === "application/wasm") return response;
  // A host that mislabels the file: look at the bytes themselves, and label them right.
  const bytes = await response.arrayBuffer();
  const head = new Uint8Array(bytes.slice(0, 4));
  if (String.fromCharCode(...head) !== "\0asm") {
    throw new Error(`The host sent something else in place of the file ${name}.`);
  }
  return new Response(bytes, { headers: { "Content-Type": "application/wasm" } });
}

const realFetch = self.fetch.bind(self);

/** Answer Pyodide's requests from the site's own files, and nothing else. */
function answerFetches(files) {
  self.fetch = (address) => {
    const name = String(address && address.url ? address.url : address).split("/").pop();
    if (!(name in files)) return Promise.reject(new TypeError(`no such file here: ${name}`));
    const found = give(name, files[name]);
    found.catch((error) => tell("failed", { reason: words(error).replace(/^Error: /, "") }));
    return found;
  };
}

/** A heap that had grown when it was kept needs as much room again before it can be put back. */
function makeRoom(memory, bytes) {
  const missing = Math.ceil((bytes - memory.buffer.byteLength) / WASM_PAGE);
  if (missing > 0) memory.grow(missing);
}

/** Pyodide only warns when WebAssembly is refused, and then waits for ever; say it at once. */
function watchWasm(snapshot) {
  for (const way of ["instantiateStreaming", "instantiate"]) {
    const original = WebAssembly[way];
    WebAssembly[way] = async (...given) => {
      try {
        const made = await original.apply(WebAssembly, given);
        const memory = Object.values(made.instance?.exports ?? {}).find((one) => one instanceof WebAssembly.Memory);
        if (snapshot && memory) makeRoom(memory, snapshot.byteLength);
        return made;
      } catch (error) {
        const forbidden = /content security policy|unsafe-eval/i.test(words(error));
        const why = forbidden ? "the security policy sent with this page forbids it" : words(error);
        tell("failed", { reason: `The browser refused the calculator's program: ${why}.` });
        throw error;
      }
    };
  }
}

async function start({ files, lockInfo, useSnapshot, dropFirst, releaseId, pastCache }) {
  release = releaseId;
  fresh = pastCache;
  if (typeof WebAssembly !== "object") {
    tell("failed", {
      reason: "This browser has no WebAssembly, which the calculator runs on. A current browser has it.",
    });
    return;
  }
  tell("state", { state: "fetching" });
  answerFetches(files);
  if (dropFirst) await dropSnapshot();
  const snapshot = useSnapshot ? await readSnapshot(release) : null;
  watchWasm(snapshot);
  fromSnapshot = Boolean(snapshot);
  const archive = give("calc.whl", files["calc.whl"]).then((response) => response.arrayBuffer());
  archive.catch(() => {});
  try {
    pyodide = await self.loadPyodide({
      indexURL: HOME,
      packageBaseUrl: HOME,
      lockFileContents: { info: lockInfo, packages: {} },
      createPyodideModule: self.createPyodideModule,
      enableRunUntilComplete: false,
      ...(snapshot ? { _loadSnapshot: snapshot } : { _makeSnapshot: true }),
    });
    tell("state", { state: "starting" });
    // A snapshot keeps memory, not files: unpack in both cases.
    pyodide.unpackArchive(await archive, "wheel");
    // Only what the first answer needs; the other modules are read once they are asked for, or before memory is kept.
    api = pyodide.pyimport("calc.api");
  } catch (error) {
    if (fromSnapshot) tell("snapshot-failed");
    else tell("failed", { reason: `Python did not start (${words(error).slice(0, 300)}).` });
    return;
  }
  tell("ready", { fromSnapshot });
}

function run({ id, text }) {
  try {
    tell("answer", { id, text: api.run(text) });
  } catch (error) {
    // calc.api answers every mistake of a reader's; what arrives here is a mistake of ours.
    const last = words(error).trim().split("\n").pop();
    tell("broken", { id, reason: last.slice(0, 300) });
  }
}

/** Install one extra from the site's own wheels: the installer is unpacked, and fetches nothing from anywhere. */
async function install({ id, wheels }) {
  try {
    // From here on memory holds more than a start; it is not kept for the next visit.
    grown = true;
    const digest = pyodide.pyimport("hashlib").sha256;
    for (const [place, one] of wheels.entries()) {
      const bytes = new Uint8Array(await (await give(one.wheel, one)).arrayBuffer());
      if (digest(pyodide.toPy(bytes)).hexdigest() !== one.sha256) throw new Error(`The file ${one.wheel} is damaged.`);
      if (place < wheels.length - 1) {
        pyodide.unpackArchive(bytes, "wheel");
      } else {
        pyodide.FS.mkdirTree("/extras");
        pyodide.FS.writeFile(`/extras/${one.wheel}`, bytes);
        await pyodide.pyimport("micropip").install(`emfs:/extras/${one.wheel}`);
      }
    }
    tell("answer", { id, text: "{}" });
  } catch (error) {
    tell("broken", { id, reason: words(error).trim().split("\n").pop().slice(0, 300) });
  }
}

async function keep() {
  if (fromSnapshot || grown || !pyodide) {
    tell("kept-nothing");
    return;
  }
  let bytes;
  try {
    pyodide.runPython(EVERY_MODULE);
    bytes = pyodide.makeMemorySnapshot();
  } catch (error) {
    tell("snapshot-kept", { kept: false, reason: words(error).slice(0, 200) });
    return;
  }
  if (bytes.byteLength > LARGEST_SNAPSHOT) {
    tell("snapshot-kept", { kept: false, reason: "memory has grown" });
    return;
  }
  const reason = await writeSnapshot(release, bytes);
  tell("snapshot-kept", { kept: reason === "", reason });
}

self.onmessage = ({ data }) => {
  if (data.type === "start") {
    start(data).catch((error) => tell("failed", { reason: `Python did not start (${words(error).slice(0, 300)}).` }));
  } else if (data.type === "beat") tell("beat");
  else if (data.type === "run") run(data);
  else if (data.type === "install") install(data);
  else if (data.type === "keep") keep();
};
