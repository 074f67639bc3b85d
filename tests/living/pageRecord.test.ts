/** A page's record before its threads: a reading's answer waits for no photograph, and of what waits for photographs only the latest is asked. */
import assert from "node:assert/strict";
import type { HeldAsked } from "../../lib/living/heldThread.ts";
import type { KeptPiece } from "../../lib/living/kept.ts";
import { PageRecord } from "../../lib/living/pageRecord.ts";

const FOLDER = "/record/mine";

/** A thread that answers when it is let. */
class SlowThread {
  readonly asked: HeldAsked[] = [];
  #waiting: { done(answer: unknown): void; failed(reason: Error): void }[] = [];
  ended = 0;

  constructor(private readonly isSlow: (asked: HeldAsked) => boolean) {}

  ask<A extends HeldAsked>(asked: A): Promise<never> {
    this.asked.push(asked);
    const answer = asked.ask === "lay"
      ? { marks: new Map(), changed: new Map() }
      : asked.ask === "told"
      ? `told ${this.asked.length}`
      : asked.ask === "add photo"
      ? true
      : [];
    if (!this.isSlow(asked)) return Promise.resolve(answer as never);
    return new Promise((done, failed) =>
      this.#waiting.push({ done: () => done(answer as never), failed })
    );
  }

  let(): void {
    for (const { done } of this.#waiting.splice(0)) done(undefined);
  }

  end(why: string): void {
    this.ended++;
    for (const { failed } of this.#waiting.splice(0)) failed(new Error(why));
  }

  /** how many rows each laying had */
  get laid(): readonly number[] {
    return this.asked.flatMap((one) => one.ask === "lay" ? [one.rows.length] : []);
  }
}

function page(): { record: PageRecord; thread: SlowThread; behind: SlowThread } {
  const pieces: KeptPiece[] = [], thread = new SlowThread(() => false);
  const behind = new SlowThread(({ ask }) => ask === "told");
  const record = new PageRecord({
    files: new Map([[`${FOLDER}/photos/a.png`, "x"]]),
    folder: FOLDER,
    kept: {
      of: () => pieces,
      set: (kind: string, page: string, key: string, value: string) =>
        pieces.push({ kind, page, key, value, at: "2026-11-30T10:00:00Z" } as KeptPiece),
    } as never,
    keptFiles: { keepPhoto: () => Promise.resolve() } as never,
    thread,
    behind,
    changed: () => {},
  });
  return { record, thread, behind };
}

/** Lets whatever can go on go on. */
const settled = (): Promise<void> => new Promise((done) => setTimeout(done));

Deno.test("readings are told while photographs are reduced; then once more for the latest of them alone", async () => {
  const { record, thread, behind } = page();
  const whole: Promise<unknown>[] = [];
  for (let n = 1; n <= 4; n++) {
    record.add("sagitta", { go_mm: `0.${n}`, nogo_mm: `0.${n}5` });
    await record.lay();
    assert.match(String(await record.told("sagitta")), /^told/);
    whole.push(record.toldWithPhotos("sagitta"));
    await settled();
  }
  // three readings came while the first one's photographs were at work, and the thread of readings was never asked for them
  assert.deepEqual(behind.laid, [1]);
  assert.deepEqual(thread.laid, [1, 2, 3, 4]);
  assert.ok(thread.asked.every((one) => one.ask !== "told" || !one.withPhotos));
  behind.let();
  await settled();
  assert.deepEqual(behind.laid, [1, 4]);
  behind.let();
  const told = await Promise.all(whole);
  assert.deepEqual(told.map((one) => one === undefined), [false, true, true, false]);
});

Deno.test("photographs of a record that is another by now are told to nobody, and begun anew", async () => {
  const { record, behind } = page();
  const first = record.toldWithPhotos("sagitta");
  await settled();
  await record.addPhoto(new File(["y"], "b.png"));
  assert.equal(await first, undefined);
  assert.equal(behind.ended, 1);
  const next = record.toldWithPhotos("sagitta");
  await settled();
  behind.let();
  assert.notEqual(await next, undefined);
});

Deno.test("a fault of the thread is told, and the next asking is not kept waiting", async () => {
  const { record, behind } = page();
  const first = record.toldWithPhotos("sagitta");
  await settled();
  behind.end("out of memory");
  await assert.rejects(first, /out of memory/);
  const next = record.toldWithPhotos("sagitta");
  await settled();
  behind.let();
  assert.notEqual(await next, undefined);
});
