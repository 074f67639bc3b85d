import assert from "node:assert/strict";
import { hazards, mindOnSheet } from "../../lib/knowledge/hazards.ts";
import { cautionOf, mindOfStages } from "../../lib/knowledge/nextStepCautions.ts";

/** The stages that a next step may name, in the order of the work. */
const STAGES = [
  ...["blanks", "rough grinding", "measuring", "correcting", "fine grinding", "lap", "polishing"],
  ...["band test", "zone test", "star test", "figuring", "coating", "flat and tube", "cell"],
  ...["mounting", "alignment", "first light", "care", "check the record"],
];

Deno.test("the first step of all names eyes, the mask's class and wet work", () => {
  for (const stage of ["blanks", "rough grinding"]) {
    assert.match(cautionOf(stage), /^Safety glasses on/);
    assert.match(cautionOf(stage), /class FFP2 or better.*local rules first.*grind only wet/);
    assert.match(cautionOf(stage), /used for food.*children and animals/);
  }
});

Deno.test("where the Sun is a method the step says how: card, shadow, beside, cover, adult", () => {
  assert.match(
    cautionOf("measuring"),
    /never look at it, nor at its image on the glass\. A card.*shadow aims.*beside.*covered.*adult is in charge/,
  );
  assert.match(cautionOf("first light"), /nowhere near it, and at nothing while it is up/);
});

Deno.test("hot pitch: no water near the pot and water for a burn do not contradict, and there is no solvent", () => {
  assert.match(
    cautionOf("lap"),
    /No water near the hot pot, no solvent or oil anywhere near hot pitch; cool water for burnt skin stands ready away from the plate/,
  );
});

Deno.test("every stage that a next step may name has its caution, each hazard of the stage in it", () => {
  for (const stage of STAGES) {
    const caution = cautionOf(stage);
    assert.match(caution, /\.$/, stage);
    for (const { steps, short, hazard } of hazards()) {
      assert.equal(caution.includes(short), steps.includes(stage), `${stage}: ${hazard}`);
    }
  }
  const named = hazards().flatMap(({ steps }) => steps);
  assert.deepEqual(named.filter((step) => !STAGES.includes(step)), []);
  assert.deepEqual(
    STAGES.filter((stage) => !named.includes(stage)),
    ["check the record"],
    "only a record that must be checked meets no hazard",
  );
});

Deno.test("many mirrors: each sentence once, with the stages it goes with", () => {
  const mind = mindOfStages(["polishing", "rough grinding", "polishing", "lap"]);
  const sludge = mind.find(({ short }) => /drain/.test(short));
  assert.deepEqual(sludge?.stages, ["polishing", "rough grinding"]);
  assert.equal(new Set(mind.map(({ short }) => short)).size, mind.length);
  assert.deepEqual(mindOfStages([]), []);
});

Deno.test("the sheet that goes outdoors says the whole of the Sun's caution", () => {
  assert.match(mindOnSheet("record-sun"), /never look at it.*card.*shadow.*beside.*covered.*adult/);
  assert.equal(mindOnSheet("no such sheet"), "");
});
