/**
 * The search itself: which places hold all the words that were typed, the best first.
 *
 * The same function runs in the page, which writes out its source; so it uses nothing but the language itself.
 */

/** One place that can be found: a section of a page, or a word of the glossary. */
export interface Place {
  /** file and place in it: "04-measure-curve.html#three-feet-and-a-dial" */
  readonly to: string;
  /** the page's title, or "Glossary" */
  readonly page: string;
  /** the section's heading, or the word */
  readonly head: string;
  /** everything said there, without markup */
  readonly text: string;
}

/** A place that was found, with the words around the first hit. */
export interface Found {
  readonly place: Place;
  readonly before: string;
  readonly hit: string;
  readonly after: string;
}

/**
 * Finds the places that hold every word typed, each as the beginning of a word, without regard to capitals or accents.
 *
 * A word in a heading counts most, then one in a title, then how often the words stand in the text.
 *
 * @param places  all places
 * @param typed   what was typed
 * @param most    how many are told at most
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const places = [{ to: "a.html", page: "Grinding", head: "The bevel", text: "Stone it wet." }];
 * assert.equal(findPlaces(places, "BEV wet", 10)[0]?.place.to, "a.html");
 * assert.deepEqual(findPlaces(places, "pitch", 10), []);
 * ```
 */
export function findPlaces(places: readonly Place[], typed: string, most: number): Found[] {
  const plain = (text: string): string =>
    text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase().replace(/\u2019/g, "'");
  const words = plain(typed).split(/[^a-z0-9'.+/-]+/).filter((word) => word !== "").slice(0, 8);
  if (words.length === 0) return [];
  const patterns = words.map((word) =>
    new RegExp("(?<![a-z0-9])" + word.replace(/[.+*?^${}()|[\]\\]/g, "\\$&"), "g")
  );
  const count = (text: string, pattern: RegExp): number => (text.match(pattern) || []).length;
  const scored = places.map((place) => {
    const head = plain(place.head), page = plain(place.page), text = plain(place.text);
    let score = 0;
    for (const pattern of patterns) {
      const inHead = count(head, pattern), inPage = count(page, pattern);
      const inText = count(text, pattern);
      if (inHead + inPage + inText === 0) return { place, score: 0 };
      score += (inHead > 0 ? 20 : 0) + (inPage > 0 ? 6 : 0) + Math.min(inText, 5);
      if (head === words.join(" ")) score += 30;
    }
    return { place, score };
  }).filter(({ score }) => score > 0).sort((a, b) => b.score - a.score).slice(0, most);
  return scored.map(({ place }) => {
    const composed = place.text.normalize("NFC");
    const text = plain(composed).length === composed.length ? composed : plain(composed);
    const first = patterns.map((pattern) => plain(text).search(new RegExp(pattern.source)));
    const at = Math.min(...first.filter((index) => index >= 0));
    if (!Number.isFinite(at)) return { place, before: "", hit: "", after: text.slice(0, 160) };
    const long = words[first.indexOf(at)] || "";
    const start = Math.max(0, text.lastIndexOf(" ", Math.max(0, at - 60)) + 1);
    return {
      place,
      before: (start > 0 ? "… " : "") + text.slice(start, at),
      hit: text.slice(at, at + long.length),
      after: text.slice(at + long.length, at + 120) + (text.length > at + 120 ? " …" : ""),
    };
  });
}
