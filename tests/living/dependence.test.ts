/** Which cell rests on which, and that a stamp changes exactly where it must. */
import assert from "node:assert/strict";
import { type CellNames, Dependence, digest, noNames } from "../../lib/living/dependence.ts";

const cell = (part: Partial<CellNames>): CellNames => ({ ...noNames, ...part });
const imported = "first-mirror/optics sagitta";

/** INVENTED: a page like those of the course. */
const page: readonly CellNames[] = [
  cell({
    gives: ["yours", "show", "openRecord"],
    imports: { show: "first-mirror/figures show", openRecord: "first-mirror/knowledge openRecord" },
  }),
  cell({ gives: ["depth", "sagitta"], imports: { sagitta: imported } }),
  cell({ gives: ["list"], uses: ["depth"] }),
  cell({ uses: ["list", "show"], writes: ["list"] }),
  cell({ uses: ["list", "show"] }),
  cell({ uses: ["show", "sagitta"] }),
  cell({ uses: ["yours", "show"] }),
  cell({ gives: ["depth"], uses: [] }),
  cell({ uses: ["depth", "show"] }),
];
const rests = new Dependence(page);

Deno.test("a cell needs those that give what it uses and those that change it, and no run for an import", () => {
  assert.deepEqual(page.map((_, n) => rests.needs(n)), [
    [],
    [],
    [1],
    [1, 2],
    [1, 2, 3],
    [],
    [0],
    [],
    [7],
  ]);
});

Deno.test("what rests on a cell stands below it, whatever way it comes there", () => {
  assert.deepEqual(rests.restingOn(1), [2, 3, 4, 5]);
  assert.deepEqual(rests.restingOn(3), [4]);
  assert.deepEqual(rests.restingOn(7), [8]);
  assert.deepEqual(rests.changes(3), [2]);
});

Deno.test("a stamp changes with the text of what a cell rests on, and with nothing else", () => {
  const texts = page.map((_, n) => `text ${n}`), before = rests.stamps(texts, "a");
  const changedWith = (n: number): number[] => {
    const after = rests.stamps(texts.with(n, "other"), "a");
    return after.flatMap((stamp, at) => stamp === before[at] ? [] : [at]);
  };
  assert.deepEqual(changedWith(0), [0, 6]);
  assert.deepEqual(changedWith(1), [1, 2, 3, 4]);
  assert.deepEqual(changedWith(3), [3, 4]);
  assert.deepEqual(changedWith(5), [5]);
  assert.deepEqual(changedWith(7), [7, 8]);
});

Deno.test("another record changes what reads it and what rests on that", () => {
  const texts = page.map((_, n) => `text ${n}`), before = rests.stamps(texts, "a");
  const after = rests.stamps(texts, "b");
  assert.deepEqual(after.flatMap((stamp, n) => stamp === before[n] ? [] : [n]), [0, 6]);
});

Deno.test("a function that changes a name does so where it is used", () => {
  const later = new Dependence([
    cell({ gives: ["n"] }),
    cell({ gives: ["bump"], uses: ["n"], writesLater: { bump: ["n"] } }),
    cell({ uses: ["n"] }),
    cell({ uses: ["bump"] }),
    cell({ uses: ["n"] }),
  ]);
  assert.deepEqual(later.needs(2), [0]);
  assert.deepEqual(later.needs(4), [0, 1, 3]);
  assert.deepEqual(later.restingOn(3), [4]);
});

Deno.test("a name given below only is taken from there; one that nobody gives is no cell's", () => {
  const below = new Dependence([cell({ uses: ["late", "Math"] }), cell({ gives: ["late"] })]);
  assert.deepEqual(below.needs(0), [1]);
  assert.deepEqual(below.restingOn(1), []);
});

Deno.test("digests: other texts, other marks; and where one text ends counts", () => {
  const marks = [["ab", "c"], ["a", "bc"], ["abc"], ["ab", "d"], [], [""], ["abc", ""]].map(digest);
  assert.equal(new Set(marks).size, marks.length);
});
