/** Names that a mistyped name was probably meant to be. */

/**
 * Edit distance: how many mistakes of the finger turn one word into the other: a letter left out, put in, changed, or two swapped
 * (Damerau-Levenshtein distance with adjacent swaps). Capitals do not count.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(editDistance("raeding", "reading"), 1);
 * assert.equal(editDistance("F80", "f80"), 0);
 * ```
 */
export function editDistance(one: string, other: string): number {
  const a = [...one.toLowerCase()];
  const b = [...other.toLowerCase()];
  let older: number[] = [];
  let old = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      const options = [at(old, j) + 1, at(row, j - 1) + 1, at(old, j - 1) + change];
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        options.push(at(older, j - 2) + 1);
      }
      row.push(Math.min(...options));
    }
    older = old;
    old = row;
  }
  return at(old, b.length);
}

function at(row: readonly number[], index: number): number {
  return row[index] ?? Infinity;
}

/**
 * The known names nearest to a word, nearest first; empty when none is near (more than half the letters differ).
 *
 * @param word   what was typed; only its first 40 characters are looked at
 * @param known  the names there are
 * @param most   how many to offer
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(nearest("focal_lenght", ["aperture", "focal_length"]), ["focal_length"]);
 * ```
 */
export function nearest(word: string, known: readonly string[], most = 2): string[] {
  const typed = word.slice(0, 40);
  const lower = typed.toLowerCase();
  const ranked = known
    .map((name) => ({
      name,
      far: editDistance(typed, name) - (name.toLowerCase().includes(lower) ? typed.length / 2 : 0),
    }))
    .filter(({ name, far }) => far <= Math.max(typed.length, name.length) / 2)
    .sort((x, y) => x.far - y.far || x.name.localeCompare(y.name));
  const best = ranked[0];
  if (best === undefined || lower === "") return [];
  return ranked.filter(({ far }) => far <= best.far + 1).slice(0, most).map(({ name }) => name);
}

/** A refusal offers no more names than these. */
const MOST_OFFERED = 3;

/**
 * The end of a refusal's sentence: `did you mean focal_length?`, three names at most; where none is near, the first three of
 * those that there are.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(suggestion("bevle", ["bevel", "glass"]), "did you mean bevel?");
 * assert.equal(suggestion("zzz", ["bevel", "glass"]), "the names are bevel, glass");
 * ```
 */
export function suggestion(word: string, known: readonly string[]): string {
  const names = nearest(word, known, MOST_OFFERED);
  if (names.length > 0) return `did you mean ${names.join(" or ")}?`;
  return known.length <= MOST_OFFERED
    ? `the names are ${known.join(", ")}`
    : `among the names are ${
      known.slice(0, MOST_OFFERED).join(", ")
    }; data/records/README.md has all`;
}
