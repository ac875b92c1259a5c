// How texts become words of the index and a query is compared with them; the build makes the index by these rules, and
// the page reads it by the same.

import MiniSearch from "minisearch";

const COMMON = new Set(("a an and are as at be but by for from how i if in into is it its my of on or so that the then "
  + "there this to was what when where which who why will with you your do does can should").split(" "));

/** A word as the index has it: small, without the endings of the plural; "" for one that tells nothing. */
export function term(word) {
  const small = word.toLowerCase().replace(/[’']s$/, "");
  if (COMMON.has(small)) return "";
  if (small.length > 4 && small.endsWith("ies")) return `${small.slice(0, -3)}y`;
  const plural = small.length > 3 && small.endsWith("s") && !small.endsWith("ss") && !small.endsWith("us");
  return plural ? small.slice(0, -1) : small;
}

export const RULES = {
  fields: ["title", "text"],
  processTerm: term,
  searchOptions: {
    boost: { title: 4 },
    combineWith: "AND",
    prefix: (one) => one.length > 1,
    // One slip in five letters.
    fuzzy: (one) => (one.length > 4 ? 0.2 : false),
  },
};

export function fresh() {
  return new MiniSearch(RULES);
}

export function ready(index) {
  return MiniSearch.loadJS(index, RULES);
}
