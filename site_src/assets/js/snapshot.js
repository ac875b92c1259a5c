// Python's memory after its first start, kept in the browser so that the next start is quick; every failure means
// "none".

import { gunzip, gzip } from "./bytes.js";

const DATABASE = "raftwright";
const SHELF = "snapshots";

function open() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open(DATABASE, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(SHELF);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });
}

async function shelf(mode, work) {
  const database = await open();
  try {
    return await new Promise((resolve, reject) => {
      const transaction = database.transaction(SHELF, mode);
      const request = work(transaction.objectStore(SHELF));
      transaction.oncomplete = () => resolve(request.result);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  } finally {
    database.close();
  }
}

/** The kept memory of this release as bytes, or null; a damaged one is dropped. */
export async function readSnapshot(release) {
  try {
    const found = await shelf("readonly", (store) => store.get(release));
    if (!found) return null;
    try {
      const bytes = await gunzip(found.packed);
      if (bytes.byteLength === found.length) return bytes;
    } catch {
      // Damaged: dropped below.
    }
    await dropSnapshot();
    return null;
  } catch {
    return null;
  }
}

/** Keep bytes under a release, in place of every older one. Returns "" or why not. */
export async function writeSnapshot(release, bytes) {
  try {
    const packed = await gzip(bytes);
    await shelf("readwrite", (store) => {
      store.clear();
      return store.put({ packed, length: bytes.byteLength }, release);
    });
    return "";
  } catch (error) {
    return String((error && error.message) || error);
  }
}

/** Forget what was kept. */
export async function dropSnapshot() {
  try {
    await shelf("readwrite", (store) => store.clear());
  } catch {
    // Nothing kept that could be reached.
  }
}
