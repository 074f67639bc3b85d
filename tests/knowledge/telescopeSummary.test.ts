import assert from "node:assert/strict";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import {
  buildingFocalLength,
  focuserAt,
  telescopeSummary,
} from "../../lib/knowledge/telescopeSummary.ts";
import type { Q } from "../../lib/knowledge/summaryTypes.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import type { MirrorRecord, Telescope } from "../../lib/record/types.ts";

const demo = await openMirror(`${recordsFolder}/demo-150-f8`);
const halfway = await openMirror(`${recordsFolder}/halfway-200-f6`);
const empty = await openMirror(new URL("../records/empty-130-f7", import.meta.url).pathname);

/** A quantity as it is printed. */
function is(quantity: Q | undefined, unit: string, digits: number, wanted: string): void {
  assert.equal(quantity?.unit, unit);
  assert.equal(quantity?.value.toFixed(digits), wanted);
}

function withTelescope(telescope: Telescope, record: MirrorRecord = demo.record): MirrorRecord {
  return { ...record, settings: { ...record.settings, telescope } };
}

Deno.test("the story's telescope number by number: light", () => {
  // CROSS-CHECK tests/telescope/secondRoute.py, the demo's telescope: the layout of the demo's INVENTED telescope
  const t = demo.summary.telescope;
  assert.ok(t !== undefined);
  is(t.focalLength, "mm", 1, "1198.3");
  is(t.flatToFocus, "mm", 0, "178");
  is(t.flatFromVertex, "mm", 1, "1020.3");
  is(t.flatMinorAxisNeeded, "mm", 1, "29.2");
  is(t.flatMinorAxis, "mm", 0, "31");
  is(t.fullyLitField, "mm", 1, "10.1");
  is(t.flatOffset, "mm", 2, "0.91");
  is(t.flatOffsetAlongFace, "mm", 2, "1.28");
  assert.equal(t.obstructionByDiameter?.toFixed(3), "0.207");
  assert.equal(t.obstructionByArea?.toFixed(3), "0.043");
  assert.equal(t.magnitudeLoss?.toFixed(3), "0.047");
  assert.equal(t.illuminationAtFieldStop?.toFixed(2), "0.79");
  is(t.tubeBoreNeeded, "mm", 1, "170.5");
  assert.equal(t.tubeIsWideEnough, true);
  assert.deepEqual(t.contrast?.map(({ ofCutoff }) => ofCutoff), [0.25, 0.5, 0.75]);
});

Deno.test("the story's telescope number by number: weight and alignment", () => {
  const t = demo.summary.telescope;
  assert.ok(t !== undefined);
  is(t.supportRadius, "mm", 1, "48.4");
  is(t.supportSurfaceRms, "nm", 2, "1.22");
  is(t.supportSurfaceRmsThick, "nm", 1, "1.6");
  is(t.mirrorMass, "kg", 3, "1.104");
  is(t.totalMass, "kg", 2, "6.65");
  is(t.balancePoint, "mm", 1, "524.2");
  is(t.swapMoment, "N m", 2, "1.58");
  is(t.frictionMoment, "N m", 2, "1.07");
  assert.equal(t.holdsBalance, false);
  is(t.starShiftPerTurn, "mm", 1, "26.6");
  assert.deepEqual(t.screwTurns?.map((turn) => turn.toFixed(3)), ["-0.050", "-0.040", "0.090"]);
  is(t.comaFreeRadius, "mm", 2, "5.44");
  is(t.tiltTolerance, "arcmin", 1, "15.6");
  // DERIVED in tests/telescope/cooling.test.ts: still air on both faces 89 min, with a fan 46
  is(t.coolDown, "min", 0, "89");
  is(t.coolDownWithFan, "min", 0, "46");
});

Deno.test("three eyepieces", () => {
  const eyepieces = demo.summary.telescope?.eyepieces ?? [];
  assert.deepEqual(eyepieces.map(({ magnification }) => magnification.toFixed(0)), [
    "48",
    "120",
    "200",
  ]);
  is(eyepieces[0]?.exitPupil, "mm", 1, "3.1");
  is(eyepieces[0]?.trueField, "deg", 2, "1.04");
  is(eyepieces[0]?.drawtubePerDioptre, "mm", 3, "0.625");
});

Deno.test("half-way the plan's focal length counts, not the curve of the day: a 46 mm flat", () => {
  const t = halfway.summary.telescope;
  assert.ok(t !== undefined);
  is(t.focalLength, "mm", 0, "1200");
  is(t.flatToFocus, "mm", 0, "205");
  is(t.flatMinorAxisNeeded, "mm", 1, "42.8");
  is(t.flatMinorAxis, "mm", 0, "46");
  assert.equal(t.screwTurns, undefined);
  assert.equal(t.balancePoint, undefined);
  assert.equal(buildingFocalLength(halfway.record, halfway.summary.curve).value, 1200);
});

Deno.test("no telescope part, no telescope key; coating and sky stand with the aperture alone", () => {
  assert.equal("telescope" in empty.summary, false);
  assert.equal(tell(empty.summary).includes("Telescope"), false);
  assert.ok((empty.summary.coating?.cautions.length ?? 0) >= 5);
  assert.ok(empty.summary.sky !== undefined);
});

Deno.test("what cannot be built becomes a warning, and the rest stays", () => {
  const telescope = demo.record.settings.telescope ?? {};
  const tall = withTelescope({ ...telescope, focuser: { height: 2000, margin: 10 } });
  const { telescope: left, warnings } = telescopeSummary(tall, demo.summary.curve);
  assert.equal(left?.flatMinorAxis, undefined);
  assert.equal(left?.totalMass?.value, 6.65);
  assert.match(
    warnings[0]?.message ?? "",
    /^telescope: the focuser cannot reach the focus: .* 2103 mm/,
  );
  const thin = telescopeSummary(withTelescope({ ...telescope, flats: [20] }), demo.summary.curve);
  assert.match(thin.warnings[0]?.message ?? "", /nothing is fully lit/);
  assert.ok((thin.telescope?.fullyLitField?.value ?? 0) < 0);
});

Deno.test("two screws at one angle are told, not used", () => {
  const telescope = demo.record.settings.telescope ?? {}, { screws } = telescope;
  assert.ok(screws !== undefined);
  const bad = withTelescope({ ...telescope, screws: { ...screws, angles: [0, 0, 2] } });
  const { telescope: left, warnings } = telescopeSummary(bad, demo.summary.curve);
  assert.equal(left?.screwTurns, undefined);
  assert.match(warnings[0]?.message ?? "", /two cannot point a mirror/);
});

Deno.test("the swap goes to focuser.at, else to the part named after the focuser", () => {
  // INVENTED parts
  const parts = [{ name: "Focuser and eyepiece", mass: 600, at: 1095 }];
  assert.equal(focuserAt({ parts }), 1095);
  assert.equal(focuserAt({ parts, focuser: { height: 1, margin: 1, at: 900 } }), 900);
  assert.equal(focuserAt({ parts: [{ name: "tube", mass: 1, at: 1 }] }), undefined);
  const bare = withTelescope({
    parts: [{ name: "tube", mass: 3000, at: 600 }],
    bearing: { radius: 90, friction: 0.15, padHalfAngle: 0.6, altitude: 0.3 },
    swap: 300,
  });
  const { telescope } = telescopeSummary(bare);
  assert.equal(telescope?.holdsBalance, undefined);
  assert.ok(telescope?.frictionMoment !== undefined);
});

Deno.test("an unknown glass or a block too thick leaves the cell out", () => {
  const { record } = demo, { settings } = record;
  const thick = telescopeSummary({ ...record, settings: { ...settings, thickness: 90 } });
  assert.equal(thick.telescope?.supportRadius, undefined);
  const odd = telescopeSummary({ ...record, settings: { ...settings, glass: "ice" } });
  assert.equal(odd.telescope?.mirrorMass, undefined);
});

Deno.test("in plain lines: the flat, the hole, the balance; of the silver no quantity", () => {
  const lines = tell(demo.summary).join("\n");
  assert.match(lines, /flat +needed 29.2 mm, taken 31 mm, hole at 1020.3 mm/);
  assert.match(lines, /lets go with a swapped eyepiece/);
  assert.match(lines, /coating +send the mirror out/);
  assert.doesNotMatch(lines, /\d+\.?\d* mg/);
});

Deno.test("glass whose heat is common practice cools in a time that is known no better", () => {
  const { settings } = demo.record, { telescope = {} } = settings;
  const of = (glass: string): Q | undefined =>
    telescopeSummary(
      withTelescope(telescope, { ...demo.record, settings: { ...settings, glass } }),
      undefined,
    ).telescope?.coolDown;
  // DERIVED a tenth either way, alike likely throughout: 0.1 / sqrt 3 of the time, which goes with the heat
  const pyrex = of("borosilicate"), silica = of("fused silica");
  assert.equal(
    ((pyrex?.u ?? 0) / (pyrex?.value ?? NaN)).toFixed(4),
    (0.1 / Math.sqrt(3)).toFixed(4),
  );
  assert.equal(
    ((silica?.u ?? 0) / (silica?.value ?? NaN)).toFixed(4),
    (20 / 740 / Math.sqrt(3)).toFixed(4),
  );
  assert.equal(of("soda-lime")?.u, undefined, "read in a handbook");
});
