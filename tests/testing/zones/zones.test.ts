import assert from "node:assert/strict";
import fc from "fast-check";
import { random } from "../../../lib/numeric/random.ts";
import { reduceZones } from "../../../lib/testing/zones/zones.ts";
import { poolRuns } from "../../../lib/testing/zones/zoneRuns.ts";
import { close } from "../../optics/close.ts";
import {
  conicCurve,
  mirrorOf,
  readings,
  referenceMirrors,
  ring,
  truth,
  turnedEdge,
} from "../judge.ts";
import { JUNE, SPELL_1, SPELL_2, zoneTest } from "../story.ts";

const within = (value: number, low: number, high: number): void =>
  assert.ok(value >= low && value <= high, `${value} should lie in ${low}..${high}`);

Deno.test("three reference mirrors without noise: RMS within 8 %, P-V within 10 % of the exact path, and in their intervals", () => {
  // what is believed of a knife beforehand (0.05 mm) holds the mean surface back a little, also without noise
  for (const mirror of referenceMirrors()) {
    const real = truth(mirror), figure = noiseFree(mirror);
    close(figure.wavefrontRms.value, real.rms, 0.08 * real.rms);
    close(figure.wavefrontPv.value, real.pv, 0.1 * real.pv);
    close(figure.strehl.value, real.strehl, 0.02);
    close(figure.conic.value, real.conic, 0.03);
    holds(figure.interval95.wavefrontPv, real.pv);
    holds(figure.interval95.wavefrontRms, real.rms);
    holds(figure.interval95.strehl, real.strehl);
    holds(figure.interval95.conic, real.conic);
  }
});

function holds([low, high]: readonly [number, number], value: number): void {
  within(value, low, high);
}

Deno.test("the judge gives the readings and truths printed for these mirrors", () => {
  // CROSS-CHECK ../secondRoute.py, reference mirrors: exact normals, quadrature over each window, exact path; printed to 1e-6 mm and 1e-5
  const printed = [
    [0.102384, 0.304614, 0.508571, 0.715902, 0.91247, 1.108745],
    [0.12154, 0.357701, 0.598772, 0.841434, 1.241292, 2.083587],
    [0.09429, 0.134689, 0.631685, 1.225145, 1.475972, 1.768466, 2.222757],
  ];
  const truths = [[0.17451, 0.052025, 0.89793], [0.31477, 0.061632, 0.86539], [
    0.21268,
    0.055087,
    0.88681,
  ]];
  referenceMirrors().forEach((mirror, i) => {
    readings(mirror).forEach((reading, z) => {
      const kink = i === 1 && z === 4; // a Gauss rule across the corner of the edge's slope is off by 3e-5 mm there
      close(reading, printed[i]?.[z] ?? 0, kink ? 3e-5 : 4e-6);
    });
    const real = truth(mirror), [pv = 0, rms = 0, strehl = 0] = truths[i] ?? [];
    close(real.pv, pv, 6e-6);
    close(real.rms, rms, 1e-6);
    close(real.strehl, strehl, 6e-4); // printed at the focus of most Strehl, here at that of least rms
  });
});

Deno.test("fixed lamp and sectors, also on a fast mirror", () => {
  const edges = [0, 80, 115, 142, 163, 182, 200];
  const parts = [conicCurve(3200, -0.97), turnedEdge(60, 160, 200)];
  for (const source of ["moves", "fixed"] as const) {
    for (const openings of ["bands", "sectors"] as const) {
      const mirror = mirrorOf(200, 3200, edges, ...parts), real = truth(mirror);
      const figure = noiseFree(mirror, source, openings);
      holds(figure.interval95.wavefrontRms, real.rms);
      holds(figure.interval95.wavefrontPv, real.pv);
      holds(figure.interval95.conic, real.conic);
    }
  }
});

Deno.test("the story's three dates: far from the goal, near it, within it as far as five openings see", () => {
  const [june, first, second] = [JUNE, SPELL_1, SPELL_2].map((runs) => reduceZones(zoneTest(runs)));
  assert.ok(june && first && second);
  assert.deepEqual([june, first, second].map((f) => f.verdict), [
    "not shown",
    "not shown",
    "not shown",
  ]);
  // INVENTED readings; RECORDED values
  within(june.wavefrontPv.value, 0.275, 0.295);
  within(june.probabilityWithinGoal, 0.02, 0.12);
  within(first.wavefrontPv.value, 0.22, 0.24);
  within(first.probabilityWithinGoal, 0.54, 0.94);
  within(second.wavefrontPv.value, 0.08, 0.095);
  within(second.probabilityWithinGoal, 0.5, 0.95);
  close(second.conic.value, -0.67, 0.03);
  close(second.strehl.value, 0.977, 0.003);
  // a ring could stand in the first opening, 0 to 30 mm; outside the flat's shadow it could not hurt
  assert.match(second.unseen.join(), /a ring \d+ mm wide, 1\d mm from the middle/);
  assert.deepEqual(second.lacks, ["another diameter", "narrower openings"]);
  assert.match(second.advice ?? "", /narrower ones should, with edges at 0, 10, 20, 30, /);
  const shaded = reduceZones(zoneTest(SPELL_2, undefined, { shadowRadius: 25 })).outsideShadow;
  assert.equal(shaded?.verdict, "yes");
});

Deno.test("a conic alone would call the second date yes: the reason why a conic is a summary and no verdict", () => {
  const conic = reduceZones(zoneTest(SPELL_1)).beside.find((m) => m.method === "conic only");
  assert.ok(conic && conic.wavefrontPvWaves < 0.225);
});

Deno.test("five runs of the second session give effective radii and departures that can be followed by hand", () => {
  const { zones } = reduceZones(zoneTest(SPELL_2));
  // DERIVED sqrt((a^2+b^2)/2)
  assert.deepEqual(zones.map((z) => z.effectiveRadius.toFixed(1)), [
    "21.2",
    "38.2",
    "51.4",
    "62.2",
    "70.6",
  ]);
  // DERIVED means of five
  assert.deepEqual(zones.map((z) => z.mean.toFixed(3)), [
    "12.126",
    "12.210",
    "12.394",
    "12.536",
    "12.758",
  ]);
  // DERIVED what is believed of one reading, over the root of five
  const { believedS } = poolRuns(zoneTest(SPELL_2).readings, () => 0);
  zones.forEach((z) => close(z.u, believedS / Math.sqrt(5), 2e-3));
});

Deno.test("the arbitrary zero of the scale changes nothing", () => {
  const plain = reduceZones(zoneTest(SPELL_2));
  fc.assert(
    fc.property(fc.double({ min: -500, max: 500, noNaN: true }), (zero) => {
      const moved = reduceZones(
        zoneTest(SPELL_2.map((run) => run.map((v) => v + zero)), undefined, { draws: 200 }),
      );
      close(moved.wavefrontPv.value, plain.wavefrontPv.value, 1e-9);
      close(moved.conic.value, plain.conic.value, 1e-9);
    }),
    { numRuns: 10 },
  );
});

Deno.test("equal seeds give equal figures; other seeds nearly equal ones", () => {
  const at = (seed: number) => reduceZones(zoneTest(SPELL_1, undefined, { seed }));
  assert.deepEqual(at(7), at(7));
  assert.notEqual(at(7).probabilityWithinGoal, at(8).probabilityWithinGoal);
  close(at(7).probabilityWithinGoal, at(8).probabilityWithinGoal, 0.025);
});

Deno.test("the order of runs and of zones changes nothing but the sense of the drift", () => {
  const test = zoneTest(JUNE), turned = { ...test, readings: [...test.readings].reverse() };
  close(reduceZones(test).wavefrontPv.value, reduceZones(turned).wavefrontPv.value, 0.002);
});

Deno.test("a larger edge reading is a turned-down edge, a hill is high glass", () => {
  const edges = [0, 33, 46, 57, 65.5, 73, 80];
  const down =
    noiseFree(mirrorOf(80, 2240, edges, conicCurve(2240, -1), turnedEdge(100, 68, 80))).profile;
  assert.ok((down.at(-1)?.surfaceError ?? 0) < -40);
  const hill = noiseFree(mirrorOf(80, 2240, edges, conicCurve(2240, -1), ring(50, 45, 12))).profile;
  const top = hill.reduce((a, b) => b.surfaceError > a.surfaceError ? b : a);
  close(top.radius, 45, 6);
});

Deno.test("the profile has mean zero by area and no focus, and its P-V is the surface's", () => {
  const { profile, surfacePv } = reduceZones(zoneTest(SPELL_1));
  const half = profile.at(-1)?.radius ?? 0;
  let area = 0, mean = 0, focus = 0;
  profile.forEach(({ radius, surfaceError }, i) => {
    const weight = radius * (i === profile.length - 1 ? 0.5 : 1);
    area += weight;
    mean += weight * surfaceError;
    focus += weight * surfaceError * ((radius / half) ** 2 - 0.5);
  });
  close(mean / area, 0, 0.1);
  close(focus / area, 0, 0.1);
  const heights = profile.map((p) => p.surfaceError);
  close(Math.max(...heights) - Math.min(...heights), surfacePv.value, 0.01 * surfacePv.value);
});

Deno.test("a single run says its scatter is assumed and never shows a mirror good", () => {
  const figure = reduceZones(zoneTest(SPELL_2.slice(0, 1)));
  assert.equal(figure.verdict, "not shown");
  assert.match(figure.assumed.join(), /assumed: 0.05 mm/);
  assert.match(figure.advice ?? "", /two more runs/);
  assert.ok(figure.wavefrontPv.u > reduceZones(zoneTest(SPELL_2)).wavefrontPv.u);
});

Deno.test("a single run may still show a mirror bad", () => {
  const bad = JUNE.slice(0, 1).map((run) => run.map((v, z) => v - 0.2 * z));
  assert.equal(reduceZones(zoneTest(bad)).verdict, "no");
});

Deno.test("more runs make everything surer", () => {
  const edges = [0, 10, 20, 30, 38, 45, 51, 57, 62, 67, 74], dice = random(21);
  const ideal = readings(mirrorOf(74, 2396.6, edges, conicCurve(2396.6, -0.6)));
  const runs = Array.from({ length: 12 }, () => ideal.map((v) => v + 0.1 * dice.normal()));
  const few = reduceZones(zoneTest(runs.slice(0, 3), edges)),
    lots = reduceZones(zoneTest(runs, edges));
  assert.ok(lots.wavefrontRms.u < few.wavefrontRms.u);
  // DERIVED about root of 4 for the means; drift, scale and eye stay
  within(lots.noiseFloorRms.value / few.noiseFloorRms.value, 0.35, 0.65);
  const share = (f: typeof few, source: string): number =>
    f.budget.find((one) => one.source.startsWith(source))?.share ?? NaN;
  assert.ok(share(lots, "drift") > share(few, "drift"));
  close(few.budget.reduce((sum, one) => sum + one.share, 0), 1, 1e-9);
});

Deno.test("the wrong tester halves or doubles the departure from a sphere", () => {
  // DERIVED readings of a moving source taken for a fixed one: K about half; the reverse: twice
  const moving = reduceZones(zoneTest(SPELL_2)),
    wrong = reduceZones(zoneTest(SPELL_2, undefined, { source: "fixed" }));
  close(wrong.conic.value, moving.conic.value / 2, 0.02);
});

Deno.test("readings with the sign turned are caught", () => {
  const edges = [0, 30, 45, 57, 67, 74],
    mirror = mirrorOf(74, 2396.6, edges, conicCurve(2396.6, -1));
  const turned = readings(mirror).map((v) => 12 - v);
  const figure = reduceZones(zoneTest([turned, turned]));
  close(figure.conic.value, 1, 0.01);
  assert.match(figure.cautions.join(), /best conic is 1\.00.*wrong way/);
  const triple = readings(mirror).map((v) => 12 + 3 * v);
  assert.match(
    reduceZones(zoneTest([triple, triple])).cautions.join(),
    /best conic is -3\.0.*three times/,
  );
  assert.equal(figure.verdict, "no");
});

Deno.test("two zones are reduced, but what lies between them is said to be unseen", () => {
  // INVENTED readings
  const figure = reduceZones(zoneTest([[12, 12.9], [12.05, 12.93]], [0, 50, 74]));
  assert.match(figure.cautions.join(), /two zones/);
  assert.equal(figure.profile.length > 10, true);
});

Deno.test("what cannot be reduced is refused in one sentence that says what stood there", () => {
  // INVENTED readings
  const refused = (
    test: Parameters<typeof reduceZones>[0],
    message: RegExp,
    name = "RangeError",
  ): void => assert.throws(() => reduceZones(test), { name, message });
  const untold = (test: Parameters<typeof reduceZones>[0], message: RegExp): void =>
    refused(test, message, "CannotTell");
  untold(zoneTest([[12]], [0, 50]), /one zone tells only focus: read two zones or more/);
  refused(zoneTest(SPELL_1, [0, 30, 45, 57, 67, 76]), /inside the edge, 75 mm .* got outer=76/);
  refused(zoneTest(SPELL_1, [0, 30, 30, 57, 67, 74]), /inner=30, outer=30/);
  untold(
    zoneTest([[12.3, 12.2, 12190, 12.2, 12.3]]),
    /^in run 1 the zone 45-57 reads 12190 mm, where the others are near 12\.3 mm/,
  );
  refused(zoneTest([[12.3, NaN, 12.1, 12.2, 12.3]]), /finite reading/);
  untold(zoneTest(SPELL_1, undefined, { radius: 100 }), /100 mm is less than the disc is wide/);
  refused(zoneTest(SPELL_1, undefined, { radius: -1 }), /radius > aperture/);
  refused(zoneTest(SPELL_1, undefined, { bevel: 80 }), /bevel < aperture/);
  refused(zoneTest(SPELL_1, undefined, { goalSurfaceWaves: 0 }), /goal above 0/);
  untold(zoneTest([]), /read two zones or more/);
});

Deno.test("openings that stop short of the edge, or reach onto the bevel, are told", () => {
  const short = zoneTest(SPELL_1.map((run) => run.slice(0, 4)), [0, 30, 45, 57, 67]);
  assert.match(reduceZones(short).cautions.join(), /no opening reaches the last 7\.0 mm/);
  assert.match(
    reduceZones(zoneTest(SPELL_1, undefined, { bevel: 2 })).cautions.join(),
    /1\.0 mm beyond the judged 146/,
  );
});

Deno.test("a mask that stands off reads rings a little farther out", () => {
  // DERIVED edges x R/(R-t): the same as reading rings 10/2386.6 larger through a mask on the glass
  const wider = [0, 30, 45, 57, 67, 74].map((edge) => (edge * 2396.6) / 2386.6);
  const off = reduceZones(zoneTest(SPELL_1, undefined, { maskStandOff: 10 }));
  const on = reduceZones(zoneTest(SPELL_1, wider));
  close(off.wavefrontPv.value, on.wavefrontPv.value, 1e-9);
  assert.ok(Math.abs(off.conic.value - reduceZones(zoneTest(SPELL_1)).conic.value) > 1e-3);
});

Deno.test("lamp beside the knife is told with the astigmatism it hides", () => {
  // CROSS-CHECK tests/optics/secondRoute.py, lamp beside the knife: b = 10 mm, R = 2400: 0.0208 mm (20 mm, R = 1200: 0.1666)
  assert.match(
    reduceZones(zoneTest(SPELL_1, undefined, { sideBySide: 10 })).cautions.join(),
    /20 mm apart.*0\.021 mm/,
  );
});

Deno.test("a sphere judged as a sphere is one", () => {
  const edges = [0, 10, 20, 30, 38, 45, 51, 57, 62, 67, 74],
    row = readings(mirrorOf(74, 2396.6, edges, conicCurve(2396.6, 0)));
  const figure = reduceZones(zoneTest([row, row, row], edges, { reference: "sphere" }));
  close(figure.conic.value, 0, 1e-6);
  assert.equal(figure.verdict, "yes");
  const starlight = reduceZones(zoneTest([row, row, row], edges));
  // DERIVED D^4 / (512 f^3 lambda) / 4 = 0.248 wave for a sphere, D = 148 mm, f = 1198.3 mm
  close(starlight.wavefrontPv.value, 0.248, 0.001);
});

Deno.test("with its advice it does not keep anybody waiting", () => {
  const begin = performance.now();
  reduceZones(zoneTest(SPELL_1));
  reduceZones(zoneTest(SPELL_2));
  const each = (performance.now() - begin) / 2;
  assert.ok(each < 6000, `took ${each} ms`); // the machine is shared; `task bench zones` prints what it takes at rest
});

function noiseFree(
  mirror: ReturnType<typeof mirrorOf>,
  source: "moves" | "fixed" = "moves",
  openings: "bands" | "sectors" = "bands",
): ReturnType<typeof reduceZones> {
  const row = readings(mirror, source, openings);
  return reduceZones(
    zoneTest([row, row], [...mirror.edges], {
      aperture: 2 * mirror.half,
      bevel: 0,
      radius: mirror.radius,
      source,
      openings,
      draws: 300,
    }),
  );
}
