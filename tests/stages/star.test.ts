import assert from "node:assert/strict";
import type { Mirror } from "../../lib/knowledge/open.ts";
import { openRecord } from "../../lib/knowledge/open.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { decideStar, starPrior, whatIsWrong, yourStarSoFar } from "../../lib/stages/star.ts";
import { STAR_ACTS, STAR_CAUSES, starPath } from "../../lib/testing/star/starCauses.ts";

const { demo } = await openRecord();

function withStar(
  faults: readonly (readonly [string, "there" | "not there" | "cannot tell"])[],
): Mirror {
  const pair = {
    photos: ["in.jpg", "out.jpg"],
    angle: { value: 0, unit: "deg" },
    faults: faults.map(([fault, says]) => ({
      fault,
      says,
      ...(says === "there" ? { causes: ["one cause"], act: "do something about it" } : {}),
    })),
  };
  return { ...demo, summary: { ...demo.summary, star: { pairs: [pair] } } as unknown as Summary };
}

Deno.test("what a record says weighs the causes, and is told", () => {
  const prior = starPrior(demo);
  assert.ok((prior["mirror's curve"] ?? 1) < 1, "a verdict of yes");
  assert.ok((prior["mirrors not aligned"] ?? 1) < 1, "screws that stand right");
  assert.equal(prior["your eye"], undefined, "of the eye no record knows");
  const { text } = yourStarSoFar(demo, demo);
  assert.match(text, /The verdict on your glass is yes/);
  assert.match(text, /No star photographs yet/);
});

Deno.test("photographs move causes both ways; what they cannot tell moves nothing", () => {
  const there = starPrior(withStar([["coma", "there"], ["threefold", "not there"]]));
  const none = starPrior(withStar([["coma", "cannot tell"]]));
  const before = starPrior(demo);
  assert.ok((there["mirrors not aligned"] ?? 1) > (before["mirrors not aligned"] ?? 1));
  assert.ok((there["pinched cell"] ?? 1) < (before["pinched cell"] ?? 1));
  assert.deepEqual(none, before);
});

Deno.test("the last night's warmth and air weigh their causes, more where they are bad", () => {
  const night = (warmer: number, air: number): Mirror => {
    const last = demo.record.observations.at(-1);
    assert.ok(last !== undefined);
    const observations = [...demo.record.observations, { ...last, warmer, air }];
    return { ...demo, record: { ...demo.record, observations } };
  };
  // INVENTED a mirror 6 degrees warmer under air of 1 of 5, and one as cool as the air under 5 of 5
  const bad = starPrior(night(6, 1)), good = starPrior(night(0.2, 5));
  for (const cause of ["warm mirror", "air in the tube", "air above"] as const) {
    assert.ok((bad[cause] ?? 1) > 1, cause);
    assert.ok((good[cause] ?? 1) < 1, cause);
  }
  // the same sign is read otherwise
  const boils = [{ act: "rack", saw: ["boils", "wanders"] }] as const;
  const of = (mirror: Mirror): number =>
    starPath(boils, starPrior(mirror)).causes
      .find(({ cause }) => cause.name === "warm mirror")?.probability ?? NaN;
  assert.ok(of(night(6, 5)) > of(night(0.2, 5)) + 0.05);
});

Deno.test("a fault that is proved is mended first, with what parts its causes", () => {
  const { text } = decideStar(withStar([["astigmatism", "there"]]));
  assert.match(text, /mend first: astigmatism/);
  assert.match(text, /do something about it/);
  assert.match(decideStar(demo).text, /look at both sides/);
});

Deno.test("every act and sign that the page names can be typed, whatever came before", () => {
  for (const { name, signs, none } of STAR_ACTS) {
    for (const { key } of [...signs, none]) {
      const { text } = whatIsWrong(demo, { rack: "oval", [name]: key });
      assert.match(text, /Do next|Found|Cannot tell|Nothing found/);
    }
  }
  assert.match(whatIsWrong(demo, { rack: ["oval", "boils"] }).text, /other side; and it boils/);
  assert.throws(() => whatIsWrong(demo, { rack: "square" }), /the act "rack" shows one of "oval"/);
});

Deno.test("what was found is told with what mends it", () => {
  const { text } = whatIsWrong(demo, { rack: "oval", head: "turns" });
  assert.match(text, /Found: your eye is astigmatic\. Glasses on/);
  assert.equal(STAR_CAUSES.length, starPath().causes.length);
});
