// The plans kept on this machine: many, in the browser's database; where that is forbidden, in its small storage; where
// that is forbidden too, only as long as the page is open.

import { Places, database, inDatabase, inMemory, inSmall } from "./places.js";

const PLANS = "plans";
const ORIGINALS = "originals";

/** A name for a plan, or for a state of one, that no other has. */
export function newName() {
  const bytes = crypto.getRandomValues(new Uint8Array(9));
  return [...bytes].map((byte) => byte.toString(36).padStart(2, "0")).join("");
}

// What is kept of a plan beside its answers: a page that writes the answers anew knows nothing of it.
const BESIDE = ["note", "from", "copyOf", "glance", "step"];

/** A record as it is put in the place of what stood there. */
function over(kept, record) {
  const beside = Object.fromEntries(BESIDE.filter((name) => kept && kept[name] !== undefined)
    .map((name) => [name, kept[name]]));
  return { ...beside, ...record };
}

/** Whether a kept plan is what a page that began from `base` may write over; null is no kept plan at all. */
function meets(kept, base) {
  return !kept || base === undefined || kept.stamp === base;
}

const within = database("raftwright-plans", [PLANS, ORIGINALS]);

/** Whether something kept is a plan that can be shown. */
export function isPlan(one) {
  return Boolean(one) && typeof one.id === "string" && Boolean(one.plan) && typeof one.plan === "object"
    && !Array.isArray(one.plan);
}

/** The kept plans, and the texts of those that could not be read whole, as this browser allows them. */
class Shelf {
  constructor() {
    this.places = new Places(
      { plans: inDatabase(within, PLANS), originals: inDatabase(within, ORIGINALS) },
      { plans: inSmall("raftwright.kept."), originals: inSmall("raftwright.original.") },
      { plans: inMemory(), originals: inMemory() });
  }

  /** Whether plans outlive the page. */
  get lasts() {
    return this.places.lasts;
  }

  /** Every record as it stands there: plans, those deleted and set aside, and what can no longer be read. */
  everything() {
    return this.places.with(({ plans }) => plans.all());
  }

  /** The plans. */
  async all() {
    return (await this.everything()).filter((one) => isPlan(one) && !one.deleted);
  }

  async read(id) {
    const found = await this.places.with(({ plans }) => plans.read(id));
    return isPlan(found) && !found.deleted ? found : undefined;
  }

  /**
   * Put what `make` makes of a record (undefined: none stands there) in its place; nothing where it makes nothing.
   * Resolves to what was put.
   */
  change(id, make) {
    return this.places.with(({ plans }) => plans.change(id, make));
  }

  /**
   * Keep a plan. `base` is the stamp of the state it was made from (null: it is a new one; undefined: whatever is
   * there). Resolves to undefined, or to the plan that stands there in another state and was left alone.
   */
  async write(record, base) {
    let rival;
    await this.change(record.id, (kept) => {
      rival = meets(kept, base) ? undefined : kept;
      return rival ? undefined : over(kept, record);
    });
    return rival;
  }

  remove(id) {
    return this.places.with(({ plans }) => plans.remove(id));
  }

  /** Keep the text of something that could not be read whole. */
  keepOriginal(one) {
    return this.places.with(({ originals }) => originals.change(one.id, () => one));
  }

  /** The texts that could not be read whole. */
  originals() {
    return this.places.with(({ originals }) => originals.all());
  }
}

export const shelf = new Shelf();
