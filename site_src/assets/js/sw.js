// The service worker: keeps one whole release or none, serves it without a line, and changes over only when told.

/* global RELEASE_ID, RELEASE_FILES */
const NAME = `raftwright-${RELEASE_ID}`;
const ROOT = new URL("./", self.location.href);

/** The entry that says a release is whole; written last. */
const SEAL = new URL("release-is-whole", ROOT).href;

async function tellPages(message) {
  for (const page of await self.clients.matchAll({ includeUncontrolled: true })) page.postMessage(message);
}

/** The headers that a file needs when it is served from here: its kind, and the policy the host sent with it. */
function keptHeaders(headers) {
  const found = { "Content-Type": headers.get("Content-Type") || "" };
  const policy = headers.get("Content-Security-Policy");
  if (policy) found["Content-Security-Policy"] = policy;
  return found;
}

async function storeAll() {
  const cache = await caches.open(NAME);
  if (await cache.match(SEAL)) return;
  try {
    for (const [path, size] of RELEASE_FILES) {
      const address = new URL(path, ROOT).href;
      // Hashed names never change what they hold; pages must be asked for anew.
      const response = await fetch(address, { cache: path.startsWith("assets/") ? "default" : "no-cache" });
      if (!response.ok) throw new Error(`${path}: ${response.status}`);
      const body = await response.blob();
      if (body.size !== size) throw new Error(`${path}: ${body.size} bytes in place of ${size}`);
      await cache.put(address, new Response(body, { headers: keptHeaders(response.headers) }));
    }
    await cache.put(SEAL, new Response(RELEASE_ID));
  } catch (error) {
    await caches.delete(NAME);
    await tellPages({ type: "not-stored", reason: String(error.message || error) });
    throw error;
  }
}

self.addEventListener("install", (event) => event.waitUntil(storeAll()));

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("raftwright-") && name !== NAME) await caches.delete(name);
    }
    await self.clients.claim();
  })());
});

self.addEventListener("message", ({ data }) => {
  if (data && data.type === "switch") self.skipWaiting();
});

async function answer(request) {
  const address = new URL(request.url);
  address.hash = "";
  address.search = "";
  if (address.pathname.endsWith("/")) address.pathname += "index.html";
  const cache = await caches.open(NAME);
  const kept = await cache.match(address.href);
  if (kept) return kept;
  if (request.mode === "navigate" && await cache.match(`${address.href}/index.html`)) {
    // A folder's address without its slash: with it, so that the page finds what lies beside it.
    return Response.redirect(`${address.href}/`, 302);
  }
  return fetch(request);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method === "GET" && request.url.startsWith(ROOT.href)) event.respondWith(answer(request));
});
