// The copy kept for use without a line: registers the service worker, and says quietly when a new release waits.

import { root } from "./source.js";

function line() {
  let found = document.getElementById("release-status");
  if (!found) {
    found = document.createElement("p");
    found.id = "release-status";
    found.className = "release-status";
    found.setAttribute("role", "status");
    document.body.append(found);
  }
  return found;
}

function offerNew(registration) {
  const place = line();
  place.textContent = "A new version is ready. ";
  const button = document.createElement("button");
  button.type = "button";
  button.textContent = "Use it now";
  button.addEventListener("click", () => registration.waiting && registration.waiting.postMessage({ type: "switch" }));
  place.append(button);
}

/** Keep the site for offline use where the browser can; from a disk it is offline already. */
export function offline() {
  if (!("serviceWorker" in navigator) || !location.protocol.startsWith("http")) return;
  const workers = navigator.serviceWorker;
  // Only a switch from one release to the next reloads; the first take-over of a fresh page does not.
  let controlled = Boolean(workers.controller);
  workers.addEventListener("controllerchange", () => {
    if (controlled) location.reload();
    controlled = true;
  });
  workers.addEventListener("message", ({ data }) => {
    // With an older whole copy in place there is nothing to tell: it stays, and the next visit tries again.
    if (data && data.type === "not-stored" && !workers.controller) {
      line().textContent = "The offline copy is not stored; the page works online.";
    }
  });
  addEventListener("load", async () => {
    try {
      const registration = await workers.register(new URL("sw.js", root).href, { updateViaCache: "none" });
      if (registration.waiting && workers.controller) offerNew(registration);
      registration.addEventListener("updatefound", () => {
        const next = registration.installing;
        next.addEventListener("statechange", () => {
          if (next.state === "installed" && workers.controller) offerNew(registration);
        });
      });
    } catch {
      // Forbidden or unsupported here: the site works online as before.
    }
  });
}
