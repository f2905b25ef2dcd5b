// What to look at again in a place, sorted: what speaks against an answer, and what would only make it better.

/** What would make an answer better is no reason to hold it back; and where it is entered. */
const mildDoubts = new Map(/** @type {[string, "place" | "year"][]} */ ([["elevation_of_the_land", "place"], ["station_would_pay", "year"]]));

/** @typedef {import("./sentences.js").Reason} Reason */

/** @param {readonly Reason[] | undefined} all @returns {{doubts: Reason[], mild: {reason: Reason, view: "place" | "year"}[]}} */
export function sorted(all = []) {
  return {
    doubts: all.filter(({ code }) => !mildDoubts.has(code)),
    mild: all.flatMap((reason) => {
      const view = mildDoubts.get(reason.code);
      return view ? [{ reason, view }] : [];
    }),
  };
}
