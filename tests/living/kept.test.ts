/** What a reader wrote: kept by book and record, by two tabs, when storage is full or forbidden, and taken along. */
import assert from "node:assert/strict";
import { Kept, readWork, type Storing, workFile } from "../../lib/living/kept.ts";

/** A browser's storage: a map, and as full or closed as the test wants it. */
class Drawer implements Storing {
  readonly map = new Map<string, string>();
  state: "open" | "full" | "closed" = "open";
  get length(): number {
    return this.map.size;
  }
  key(index: number): string | null {
    return [...this.map.keys()][index] ?? null;
  }
  getItem(key: string): string | null {
    return this.map.get(key) ?? null;
  }
  setItem(key: string, value: string): void {
    if (this.state === "full") throw new DOMException("no room", "QuotaExceededError");
    this.map.set(key, value);
  }
  removeItem(key: string): void {
    this.map.delete(key);
  }
  readonly open = (): Storing => {
    if (this.state === "closed") throw new DOMException("not here", "SecurityError");
    return this;
  };
}

const whose = { book: "demo, learner's", record: "demo-150-f8" };

Deno.test("one book's work never shows in another's, nor one record's", () => {
  const drawer = new Drawer(), kept = new Kept(whose, drawer.open);
  kept.set("guess", "measure-curve", "1", "5");
  kept.set("cell", "measure-curve", "a/b %", "show(1)");
  assert.equal(kept.get("guess", "measure-curve", "1"), "5");
  assert.equal(kept.get("cell", "measure-curve", "a/b %"), "show(1)");
  assert.deepEqual(kept.all().map(({ kind, page, key }) => [kind, page, key]).sort(), [
    ["cell", "measure-curve", "a/b %"],
    ["guess", "measure-curve", "1"],
  ]);
  for (const other of [{ ...whose, book: "demo" }, { ...whose, record: "demo" }]) {
    assert.deepEqual(new Kept(other, drawer.open).all(), []);
  }
  for (const key of drawer.map.keys()) assert.match(key, /demo%2C%20learner's\/demo-150-f8\//);
  // what another version of the kit or another page left there is neither shown nor touched
  drawer.map.set([...drawer.map.keys()][0]?.replace("guess", "dream") ?? "", "{}");
  drawer.map.set("first-mirror-theme", "dark");
  assert.equal(kept.all().length, 2);
  assert.equal(drawer.map.size, 4);
});

Deno.test("two tabs write side by side, and hear of one another", () => {
  const drawer = new Drawer(),
    one = new Kept(whose, drawer.open),
    two = new Kept(whose, drawer.open);
  let heard = 0;
  const end = two.hear(() => heard++);
  one.set("guess", "measure-curve", "1", "5");
  two.set("guess", "measure-curve", "4", "7");
  two.changedElsewhere([...drawer.map.keys()][0] ?? "");
  two.changedElsewhere("first-mirror/other/record/guess/p/1");
  assert.equal(heard, 2);
  end();
  two.set("guess", "measure-curve", "4", undefined);
  assert.equal(heard, 2);
  assert.deepEqual(one.of("guess", "measure-curve").map(({ value }) => value), ["5"]);
});

Deno.test("storage that is full or forbidden is said; what was written stays in the page and can be taken along", () => {
  const drawer = new Drawer(), kept = new Kept(whose, drawer.open);
  kept.set("answer", "measure-curve", "measure-curve-1", "241");
  drawer.state = "full";
  kept.set("answer", "measure-curve", "measure-curve-1", "242");
  kept.set("answer", "measure-curve", "measure-curve-2", "12");
  assert.equal(kept.notKept, "full");
  assert.equal(kept.get("answer", "measure-curve", "measure-curve-1"), "242");
  assert.equal(kept.all().length, 2);
  drawer.state = "open";
  kept.set("answer", "measure-curve", "measure-curve-1", "242");
  assert.equal(kept.notKept, "full", "the other answer is not kept yet");
  kept.set("answer", "measure-curve", "measure-curve-2", "12");
  assert.equal(kept.notKept, undefined);
  drawer.state = "closed";
  const closed = new Kept(whose, drawer.open);
  closed.set("guess", "p", "1", "3");
  assert.deepEqual([closed.notKept, closed.get("guess", "p", "1")], ["forbidden", "3"]);
  assert.equal(JSON.parse(workFile(closed)).pieces.length, 1);
});

Deno.test("work taken along is put in again: the younger of two stays, nothing is doubled", () => {
  const drawer = new Drawer(), kept = new Kept(whose, drawer.open);
  kept.set("guess", "measure-curve", "1", "5");
  kept.set("reading", "sagitta", "id-1", '{"go_mm":"0.88"}');
  const text = workFile(kept, { "sagitta.csv": "go_mm\n0.88\n" });
  const work = readWork(text);
  assert.ok(typeof work !== "string");
  assert.deepEqual([work.book, work.record, work.pieces.length], [whose.book, whose.record, 2]);
  const other = new Kept(whose, new Drawer().open);
  assert.equal(other.putIn(work.pieces), 2);
  assert.equal(other.putIn(work.pieces), 0);
  other.set("guess", "measure-curve", "1", "6");
  assert.equal(other.putIn(work.pieces), 0);
  assert.equal(other.get("guess", "measure-curve", "1"), "6");
});

Deno.test("what is no file of work is said, and of a damaged one the good pieces are taken", () => {
  for (const text of ["", "{", "[]", "null", '{"what":"other"}', '{"what":"first-mirror work"}']) {
    assert.match(String(readWork(text)), /^This file is no work taken along/);
  }
  const work = readWork(JSON.stringify({
    what: "first-mirror work",
    book: "b",
    record: "r",
    pieces: [
      { kind: "guess", page: "p", key: "1", value: "5", at: "2026-11-30T10:00:00.000Z" },
      { kind: "session", page: "p", key: "1", value: "5", at: "2026-11-30T10:00:00.000Z" },
      { kind: "guess", page: "p", key: "1", value: 5, at: "2026-11-30T10:00:00.000Z" },
      { kind: "guess", page: "p", key: "1", value: "5", at: "never" },
      null,
    ],
    files: { "sun.csv": "x", "photos/a.jpg": 3 },
  }));
  assert.ok(typeof work !== "string");
  assert.deepEqual([work.pieces.length, Object.keys(work.files)], [1, ["sun.csv"]]);
});
