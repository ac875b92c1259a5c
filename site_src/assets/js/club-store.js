// Clubs on this machine: in a database of their own beside that of the plans; where that is forbidden in the browser's
// small storage; where that is forbidden too, only as long as the page is open.

import { Places, database, inDatabase, inMemory, inSmall } from "./places.js";

const CLUBS = "clubs";

const places = new Places(inDatabase(database("raftwright-clubs", [CLUBS]), CLUBS), inSmall("raftwright.club."),
  inMemory());

/** Whether something kept is a club that can be shown. */
export function isClub(one) {
  return Boolean(one) && typeof one.id === "string" && Array.isArray(one.members) && Array.isArray(one.baths)
    && [...one.members, ...one.baths].every((row) => row && typeof row === "object");
}

/** Whether clubs outlive the page. */
export function lasts() {
  return places.lasts;
}

/** Everything that stands there: clubs, those taken away, and what can no longer be read. */
export function everything() {
  return places.with((place) => place.all());
}

/** Put what `make` makes of a club (undefined: none stands there) in its place; resolves to what was put. */
export function change(id, make) {
  return places.with((place) => place.change(id, make));
}
