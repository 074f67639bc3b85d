import assert from "node:assert/strict";
import { type Machine, Patience } from "../../../lib/book/kernel/patience.ts";

/** A machine whose clock and load are set by hand. */
function machine(cores = 2): Machine & { ms: number; wanting: number } {
  const one = {
    ms: 0,
    wanting: 0,
    cores,
    now: (): number => one.ms,
    load: (): number => one.wanting,
  };
  return one;
}

Deno.test("on a machine with nothing else to do the clock is what counts", () => {
  const quiet = machine(), patience = new Patience(30_000, quiet);
  quiet.ms = 29_000;
  assert.equal(patience.left(), 1000);
  quiet.ms = 31_000;
  assert.ok(patience.left() <= 0);
});

Deno.test("a busy machine is waited for: thirty processes on two cores make 30 s seven and a half minutes", () => {
  const busy = machine(), patience = new Patience(30_000, busy);
  busy.wanting = 30;
  // DERIVED: 30 s x 30 processes / 2 cores = 450 s
  busy.ms = 449_000;
  assert.ok(patience.left() > 0);
  busy.ms = 451_000;
  assert.ok(patience.left() <= 0);
});

Deno.test("where there is an end to it, it is not waited for longer than so many times its time", () => {
  const busy = machine(), patience = new Patience(120_000, busy, 4);
  busy.wanting = 200;
  busy.ms = 479_000;
  assert.ok(patience.left() > 0);
  busy.ms = 481_000;
  assert.ok(patience.left() <= 0);
});

Deno.test("what the machine has to do is looked at all along, not once", () => {
  const one = machine(), patience = new Patience(30_000, one);
  one.wanting = 20;
  one.ms = 100_000;
  assert.equal(patience.left(), 20_000);
  one.wanting = 1;
  one.ms = 115_000;
  assert.equal(patience.left(), 5_000);
});

Deno.test("a system that tells no load counts by the clock", () => {
  const silent = machine(), patience = new Patience(1000, silent);
  silent.ms = 400;
  assert.equal(patience.left(), 600);
});

Deno.test("it is over after its time, and at once where it no longer matters", async () => {
  const stop = new AbortController(), begun = performance.now();
  await new Patience(60, { ...machine(), now: () => performance.now() }).over(stop.signal);
  assert.ok(performance.now() - begun >= 59);
  const waiting = new Patience(60_000).over(stop.signal);
  stop.abort();
  await waiting;
  assert.ok(performance.now() - begun < 20_000);
});
