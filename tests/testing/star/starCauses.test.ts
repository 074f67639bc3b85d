import assert from "node:assert/strict";
import {
  outcomesWith,
  STAR_ACTS,
  STAR_CAUSES,
  type StarLook,
  starPath,
  SURE_CAUSE,
} from "../../../lib/testing/star/starCauses.ts";

Deno.test("every act shows something with every cause, and its outcomes share the whole", () => {
  for (const act of STAR_ACTS) {
    for (const { name } of STAR_CAUSES) {
      const shares = outcomesWith(act, name);
      assert.ok(Math.abs(shares.reduce((sum, share) => sum + share, 0) - 1) < 1e-12);
      assert.ok(shares.every((share) => share > 0));
    }
    const named = act.outcomes.flatMap((outcome) => Object.keys(outcome.with));
    for (const name of named) assert.ok(STAR_CAUSES.some((cause) => cause.name === name), name);
    assert.equal(new Set(act.outcomes.map(({ key }) => key)).size, act.outcomes.length);
  }
});

Deno.test("chances after one look by hand", () => {
  const { causes } = starPath([{ act: "head", outcome: "turns" }]);
  // DERIVED: with the eye 0.97 x 0.95 + 0.015 = 0.9365, with each of the ten others 0.015; 0.9365 / (0.9365 + 0.15) = 0.86194
  const of = (name: string): number =>
    causes.find(({ cause }) => cause.name === name)?.probability ?? 0;
  assert.equal(of("your eye").toFixed(4), "0.8619");
  assert.equal(of("flat").toFixed(4), "0.0138");
  assert.ok(Math.abs(causes.reduce((sum, { probability }) => sum + probability, 0) - 1) < 1e-12);
});

Deno.test("what an act tells, by hand", () => {
  const head = starPath().acts.find(({ act }) => act.name === "head");
  // DERIVED: eleven alike 3.4594 bits. "turns" 0.09877: the eye 0.8620, ten others 0.0138: 1.0373 bits. "stays" 0.90123: the
  // eye 0.0064, the others 0.09936: 3.3586 bits. 3.4594 - 0.09877 x 1.0373 - 0.90123 x 3.3586 = 0.330
  assert.equal(head?.bits.toFixed(2), "0.33");
});

Deno.test("whichever one cause is at work, its likeliest signs lead to it before all others", () => {
  for (const { name } of STAR_CAUSES) {
    const looks: StarLook[] = [];
    for (;;) {
      const { found, acts: [next] } = starPath(looks);
      if (found !== undefined || next === undefined) break;
      const shares = outcomesWith(next.act, name), at = shares.indexOf(Math.max(...shares));
      looks.push({ act: next.act.name, outcome: next.act.outcomes[at]?.key ?? "" });
    }
    const { causes: [first] } = starPath(looks);
    assert.equal(first?.cause.name, name, JSON.stringify(looks));
    assert.ok((first?.probability ?? 0) > 0.8);
  }
});

Deno.test("the path looks at both sides first, and turns the head before it turns the mirror", () => {
  assert.equal(starPath().acts[0]?.act.name, "rack");
  const oval = [{ act: "rack", outcome: "oval" }] as const;
  assert.equal(starPath(oval).acts[0]?.act.name, "head");
  const stays = [...oval, { act: "head", outcome: "stays" }] as const;
  assert.equal(starPath(stays).acts[0]?.act.name, "turn mirror");
});

Deno.test("of two looks that contradict each other nothing is sure", () => {
  const { found } = starPath([
    { act: "rack", outcome: "three corners" },
    { act: "clips", outcome: "same" },
    { act: "rack", outcome: "oval" },
  ]);
  assert.equal(found, undefined);
  assert.ok(SURE_CAUSE > 0.5);
});

Deno.test("a record weighs causes; a sign that fits another still turns it round", () => {
  const first = starPath([], { "turned edge": 3 }).causes[0];
  assert.equal(first?.cause.name, "turned edge");
  const boils = starPath([{ act: "rack", outcome: "boils" }], { "turned edge": 3 }).causes[0];
  assert.equal(boils?.cause.name, "air above");
});

Deno.test("an act or an outcome that is not in the list is told with those that are", () => {
  assert.throws(
    () => starPath([{ act: "rack", outcome: "ovall" }]),
    /the act "rack" shows one of "alike", "oval".*got "ovall"/,
  );
  // deno-lint-ignore no-explicit-any -- what a notebook may write
  assert.throws(() => starPath([{ act: "rak" as any, outcome: "oval" }]), /one of rack, head/);
  assert.throws(() => starPath([], { flat: 0 }), /priors above 0, got flat=0/);
});
