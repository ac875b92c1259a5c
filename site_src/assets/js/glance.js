// What Python tells of the plan in hand goes onto the shelf with it: a page of many plans then need not ask for each.

import * as engine from "./engine.js";
import { release } from "./source.js";
import { shelf } from "./plans.js";

// The plan has been written and answered by then, and nobody waits for this.
const PAUSE = 1_500;

let clock = 0;

async function tell(hand, asking) {
  while (asking.busy) await asking.busy;
  const { id, plan } = hand;
  const stamp = hand.stamps.get(id);
  if (!id || !stamp || !hand.own || !engine.isReady()) return;
  try {
    const answer = await engine.run({ op: "overview", plan, version: hand.version });
    if (answer.error) return;
    await shelf.change(id, (one) => (one && one.stamp === stamp ? { ...one, glance: { ...answer, stamp, release } }
      : undefined));
  } catch {
    // The shelf asks for itself.
  }
}

/** A plan has been kept: have it told when the typing pauses. */
export function tellSoon(hand, asking) {
  clearTimeout(clock);
  clock = setTimeout(() => tell(hand, asking), PAUSE);
}
