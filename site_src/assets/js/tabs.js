// Tabs hear of each other: one that has kept a plan says so, and others that show the same plan learn it.

const CHANNEL = "raftwright.plans";

let channel = null;

function line() {
  if (channel) return channel;
  try {
    channel = new BroadcastChannel(CHANNEL);
  } catch {
    // Forbidden here; what stands on the shelf is compared at every writing all the same.
    channel = { postMessage() {} };
  }
  return channel;
}

/** Tell the other tabs that a plan was kept; `id` and `stamp` as on the shelf. */
export function tellTabs(id, stamp) {
  line().postMessage({ id, stamp });
}

/** Hear of plans kept in other tabs. */
export function hearTabs(listener) {
  line().onmessage = ({ data }) => {
    if (data && typeof data.id === "string" && typeof data.stamp === "string") listener(data.id, data.stamp);
  };
}
