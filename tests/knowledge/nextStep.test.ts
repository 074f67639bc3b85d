/** Which step comes next: every way through the decision, each from the least that leads there. */
import assert from "node:assert/strict";
import { cautionOf } from "../../lib/knowledge/nextStepCautions.ts";
import { planFor } from "../../lib/knowledge/figuringStep.ts";
import { modeShape } from "../../lib/shaping/figuring/figuringModes.ts";
import type { FiguringPlan } from "../../lib/shaping/figuring/figuringPlan.ts";
import { nextStep } from "../../lib/knowledge/nextStep.ts";
import type { Known, Rules } from "../../lib/knowledge/rules.ts";
import { rules as courseRules } from "../../lib/knowledge/rules.ts";
import type {
  CurveSummary,
  DesignSummary,
  GrindingSummary,
  NextStep,
  Q,
  VerdictSummary,
} from "../../lib/knowledge/summaryTypes.ts";
import type { DiaryRow, GrindingRow, MirrorRecord, ZoneRow } from "../../lib/record/types.ts";
import { findStage } from "../../lib/lessons/course.ts";
import { read } from "../record/bench.ts";

const q = (value: number, unit: string, u?: number): Q => ({
  value,
  unit,
  ...(u === undefined ? {} : { u }),
});

/** Invented numbers, none of them the course's, so that a test can tell who decided. */
const RULES: Rules = {
  grainUm: (name) =>
    ({ coarse: 200, middle: 100, small: 50, smallest: 25 } as const)[name as "coarse"],
  ladder: ["middle", "small", "smallest"],
  sagittaTolerance: 0.01,
  runsWanted: 4,
  shareFirst: 0.6,
  forecastShare: 0.5,
  sessionMin: 7,
  blindMin: 4,
  bathMin: 22,
  coolMin: 33,
  sessionsWithoutGain: 3,
  gradeMinutes: (grade, before) =>
    grade === "oxide" || before === undefined ? undefined : { least: 30, most: 60 },
  pitUm: 4,
  edgeHours: { hours: 5, least: 3, most: 9 },
  scratchLongest: 25,
  drillU: 4,
  radiusOff: 0.01,
  bevelLeast: 0.6,
};

const record = await read({});
const design: DesignSummary = {
  aperture: q(150, "mm"),
  focalLength: q(1200, "mm"),
  focalRatio: 8,
  radius: q(2400, "mm"),
  sagitta: q(1.172, "mm"),
  shape: "paraboloid",
  sphereIsEnough: false,
  sphereDeparture: q(286, "nm"),
  airyRadius: q(5.4, "um"),
};

let line = 1;
const ground = (abrasive: string, date?: string): GrindingRow => ({
  file: "grinding.csv",
  line: ++line,
  abrasive,
  position: "mirror on top",
  minutes: 20,
  ...(date === undefined ? {} : { date }),
});
const zone = (run: string, date?: string): ZoneRow => ({
  file: "zones.csv",
  line: ++line,
  run,
  inner: 0,
  outer: 30,
  reading: 12,
  ...(date === undefined ? {} : { date }),
});

const next = (
  more: Partial<Omit<Known, "record">> & { readonly record?: Partial<MirrorRecord> },
): NextStep => nextStep({ design, ...more, record: { ...record, ...more.record } }, RULES);

/** A log whose hollow is `gap` mm short of the wanted 1.172 mm; less than zero is too deep. */
function log(
  gap: number,
  more: Partial<GrindingSummary> = {},
): { readonly grinding: GrindingSummary } {
  return {
    grinding: {
      rates: {},
      sagittaNow: q(1.172 - gap, "mm", 0.004),
      targetSagitta: q(1.172, "mm"),
      nextPosition: gap > 0 ? "mirror on top" : "tool on top",
      canForecast: true,
      minutesToTarget: q(Math.abs(gap) * 110, "min"),
      interval95: [Math.abs(gap) * 100, Math.abs(gap) * 125],
      stopAt: q(1.168, "mm"),
      ...(gap < 0 ? { overshoot: q(-gap * 1000, "um") } : {}),
      ...more,
    },
  };
}

const curveOf = (sagitta: number | undefined): { readonly curve: CurveSummary } => ({
  curve: {
    ...(sagitta === undefined ? {} : { sagitta: q(sagitta, "mm", 0.004) }),
    estimates: [],
    consistent: true,
    setAside: [],
    budget: [],
  },
});

const judged = (
  meetsGoal: VerdictSummary["meetsGoal"],
  more: Partial<VerdictSummary> = {},
): { readonly verdict: VerdictSummary } => ({
  verdict: {
    meetsGoal,
    probability: 0.5,
    why: "as the readings say",
    scope: "whole surface",
    ...more,
  },
});

Deno.test("nothing measured: bevel, and begin to grind", () => {
  const step = next({});
  assert.equal(step.stage, "blanks");
  assert.match(step.why, /Nothing is measured yet.* 1\.172 mm/);
});

Deno.test("a curve without a log: how far from the plan, and which disc on top", () => {
  const shallow = next(curveOf(1.1));
  assert.equal(shallow.stage, "measuring");
  // DERIVED: 72 µm at the usual 9 to 11 µm a minute are some 7 minutes; half of them first
  assert.match(shallow.do, /^Grind 3 minutes, mirror on top/);
  assert.match(shallow.why, /72 µm short of the plan/);
  const deep = next(curveOf(1.2));
  assert.match(deep.do, /tool on top/);
  assert.match(deep.why, /28 µm past the plan/);
  assert.match(deep.do, /^Grind 1 minute, /);
  assert.match(next(curveOf(0.4)).do, /^Grind 10 minutes, /);
});

Deno.test("a curve without a log, on its target or as good as: nobody is sent to the coarse grade", () => {
  // DERIVED: 1.1722 mm is the plan's; 6 µm are within the 10 that are asked, 12 µm within twice a doubt of 8
  for (
    const [depth, doubt, why] of [
      [1.166, 0.004, /6 µm short of the plan, within the 10 µm/],
      [1.184, 0.008, /12 µm past the plan, within twice its doubt of 8 µm/],
    ] as const
  ) {
    const { curve } = curveOf(depth), sagitta = { value: depth, unit: "mm", u: doubt } as const;
    const step = next({ curve: { ...curve, sagitta } });
    assert.match(step.do, /^Grind nothing/);
    assert.match(step.why, why);
    assert.deepEqual([step.grade, step.minutes, step.plan], [undefined, undefined, undefined]);
  }
});

Deno.test("a curve whose every table holds a slip sends nobody back to the wheel with a number", () => {
  const step = next(curveOf(undefined));
  assert.doesNotMatch(Object.values(step).join(" "), /NaN|undefined|infin/i);
  assert.doesNotMatch(step.do, /Grind \d/, "no minutes can rest on a slip");
});

Deno.test("rough grinding: a share of the forecast, at least a minute, with its interval", () => {
  const step = next(log(0.2));
  assert.equal(step.stage, "rough grinding");
  // DERIVED: 22 minutes to go, half of them first
  assert.equal(
    step.do,
    "Grind 11 minutes, mirror on top, then measure. Strokes 50 mm long, 38 mm beside the centre; after every 8 strokes turn the upper disc by about 150° and the lower one by about 50°.",
  );
  assert.deepEqual(step.plan, [{
    ...{ position: "mirror on top", sideMm: 38, lengthMm: 50, minutes: 11 },
    ...{ upperTurnDeg: 150, lowerTurnDeg: 50, everyStrokes: 8 },
  }]);
  assert.match(
    step.why,
    /^200 µm to go: 22\.0 minutes at today's rate \(95 %: 20\.0 to 25\.0 min\)/,
  );
  assert.match(step.until, /1\.172 mm, give or take 10 µm/);
  // DERIVED: 1.21 minutes to go, known to 0.14: at 9 um a minute that is 1 um, so that all of it is ground
  const near = next(log(0.011));
  assert.deepEqual([near.do, near.minutes], [
    "Grind the last minute, mirror on top, then measure. Strokes 50 mm long, 38 mm beside the centre; after every 8 strokes turn the upper disc by about 150° and the lower one by about 50°.",
    1,
  ]);
  assert.match(near.why, /this is the last stop/);
  // DERIVED: 200 um, half each time, a tenth of it for the session: 10 um of doubt at 100 um
  assert.match(step.why, /about one more stop after this one/);
  assert.deepEqual([step.minutes, step.grade], [11, "F80"]);
});

Deno.test("rough grinding: all that is left once seven tenths of the doubt lie within the tolerance, else stops until then", () => {
  // DERIVED: 120 um to go at 9.09 um a minute, known to 1.5 minutes either way: 0.7 x 13.6 = 9.5 um, within 10
  const last = next(log(0.12));
  assert.match(last.do, /^Grind the last 13 minutes, mirror on top, then measure/);
  assert.equal(last.minutes, 13);
  // DERIVED: 130 um: 10.3 um; 14.3 minutes, half of them
  const part = next(log(0.13));
  assert.match(part.why, /Do a part and look/);
  assert.equal(part.minutes, 7);
  // DERIVED: half of the way is left after each stop, and a tenth of that is its doubt: 9.5 um after 190, 10.5 after 210
  assert.match(next(log(0.19)).why, /about one more stop after this one/);
  assert.match(next(log(0.21)).why, /about two more stops after this one/);
  // DERIVED: a rate of 9 ± 3 leaves hypot(0.1, 1.96 / 3) of what is to go: 62.8 um after the first half, 31.4, 15.7, 7.8
  const unsure = log(0.19, { rates: { mirrorOnTop: q(9, "um/min", 3) } });
  assert.match(next(unsure).why, /about four more stops after this one/);
  // DERIVED: 42.5 after 850, 21.3, 10.6, 5.3: four
  assert.match(next(log(0.85)).why, /about four more stops after this one/);
});

Deno.test("a charge that was seen to be spent since the last grinding is renewed first", () => {
  const after = (...sights: readonly (readonly [string, DiaryRow["what"]])[]): string =>
    next({
      ...log(0.2),
      record: {
        grinding: [ground("coarse", "2026-07-01"), ground("coarse", "2026-07-03")],
        diary: sights.map(([date, what]) => ({ file: "diary.csv", line: ++line, date, what })),
      },
    }).do;
  assert.match(after(["2026-07-03", "charge spent"]), /^Renew the charge: rinse both discs/);
  assert.match(after(["2026-07-04", "charge spent"], ["2026-07-05", "washed"]), /^Renew the/);
  assert.match(after(["2026-07-02", "charge spent"]), /^Grind 11 minutes/);
  assert.match(after(["2026-07-04", "washed"]), /^Grind 11 minutes/);
  assert.match(after(), /^Grind 11 minutes/);
});

Deno.test("leaves of a known set: which stacks hold the wanted depth, two or three of them", () => {
  const sagitta = [{ file: "sagitta.csv", line: 2, go: [0.88, 0.2], nogo: [0.88, 0.25] }];
  // DERIVED: 1.172 mm on 150 is 1.172 (148 / 150)^2 = 1.1410 on 148; a leaf 12.7 mm wide rides 12.7^2 / 8 R = 0.0084 higher:
  // 1.1326 mm. Of the 32 leaves two make 1.13 and 1.15, and 1.15 passes only from 18 um too deep on, over the 10 that are
  // allowed: three make 0.88 + 0.20 + 0.06 = 1.14
  assert.match(
    next({ ...log(0.2), record: { sagitta } }).until,
    / There 0\.88 \+ 0\.25 mm of leaves pass, and 0\.88 \+ 0\.2 \+ 0\.06 mm do not\.$/,
  );
  // DERIVED: 1.184 mm is 1.1442 mm under the edge: 1.15 is 6 um more, within the 10 that are allowed, so that two leaves do
  const deeper = log(0.2, { targetSagitta: q(1.184, "mm", 0) });
  assert.match(
    next({ ...deeper, record: { sagitta } }).until,
    / There \S+ \+ \S+ mm of leaves pass, and \S+ \+ \S+ mm do not\.$/,
  );
  const strange = [{ ...sagitta[0], file: "sagitta.csv", line: 2, go: [0.881, 0.2] }];
  assert.doesNotMatch(next({ ...log(0.2), record: { sagitta: strange } }).until, /leaves/);
});

Deno.test("the sign of the leaves never holds already: too deep says so, and within the bracket there is none", () => {
  const sagitta = [{ file: "sagitta.csv", line: 2, go: [0.88, 0.2], nogo: [0.88, 0.25] }];
  const sure = (gap: number): Partial<GrindingSummary> => ({
    sagittaNow: q(1.172 - gap, "mm", 0.002),
  });
  // DERIVED: 17 um too deep is 1.1326 + 0.0166 = 1.149 mm under the edge: 1.14 passes
  const deep = next({ ...log(-0.017, sure(-0.017)), record: { sagitta } });
  assert.match(
    deep.until,
    / It is past that now: 0\.88 \+ 0\.2 \+ 0\.06 mm of leaves pass\. Right is when they pass no more and 0\.88 \+ 0\.25 mm still do\.$/,
  );
  // DERIVED: 5 um too deep is 1.1375 mm: 1.13 passes and 1.14 does not, as on the target
  assert.doesNotMatch(
    next({ ...log(-0.005, { sagittaNow: q(1.177, "mm", 0.001) }), record: { sagitta } }).until,
    /leaves/,
  );
});

Deno.test("a forecast without an interval is told without one", () => {
  const { grinding } = log(0.2);
  const { interval95: _, ...bare } = grinding;
  assert.doesNotMatch(next({ grinding: bare }).why, /95 %/);
});

Deno.test("rough grinding without a forecast: more of it, then read again", () => {
  const { grinding } = log(0.5);
  const { minutesToTarget: _, ...unknown } = grinding;
  for (const each of [{ ...grinding, canForecast: false }, unknown]) {
    const step = next({ grinding: each });
    assert.equal(step.stage, "rough grinding");
    assert.match(step.do, /^Grind 20 minutes more, mirror on top, and read/);
  }
});

Deno.test("too deep: swapped discs, a larger share, for the rest is measured", () => {
  const step = next(log(-0.05));
  assert.equal(step.stage, "correcting");
  // DERIVED: 5.5 minutes too many, six tenths of them first
  assert.match(step.do, /^Grind 3 minutes, tool on top, then measure\. Strokes 50 mm long/);
  assert.deepEqual(step.plan?.map(({ position, minutes }) => [position, minutes]), [[
    "tool on top",
    3,
  ]]);
  assert.match(step.why, /^50 µm too deep: 5\.5 minutes/);
});

Deno.test("too deep by less than can be told: read again before the discs are swapped", () => {
  const step = next(log(-0.0115, { sagittaNow: q(1.1835, "mm", 0.008) }));
  assert.equal(step.stage, "measuring");
  assert.match(step.do, /before you swap the discs/);
  assert.match(step.why, /12 µm too deep, which is within twice/);
});

Deno.test("on the target, or past where to stop: leave rough grinding", () => {
  for (
    const grinding of [
      log(0.005),
      log(-0.005),
      log(0.0039, { sagittaNow: q(1.1681, "mm", 0.001) }),
    ]
  ) {
    const step = next(grinding);
    assert.equal(step.stage, "fine grinding");
    assert.match(step.do, /^Stop\. .* begin middle,/);
  }
});

Deno.test("a surely known gap is mended however small a tolerance it is within", () => {
  assert.equal(next(log(0.009, { sagittaNow: q(1.163, "mm", 0.001) })).stage, "rough grinding");
});

Deno.test("fine grinding: finish the grade, then the next finer of the ladder", () => {
  const step = next({ ...log(0), record: { grinding: [ground("coarse"), ground("small")] } });
  assert.equal(step.stage, "fine grinding");
  assert.match(
    step.do,
    /^Grind 10 minutes more with small, half of them with the discs swapped, then look\. 5 minutes with the mirror on top and 5 with the tool on top\. Strokes 50 mm long, over the centre;/,
  );
  assert.deepEqual(step.plan?.map(({ position, minutes, sideMm }) => [position, minutes, sideMm]), [
    ["mirror on top", 5, 0],
    ["tool on top", 5, 0],
  ]);
  assert.match(step.why, /small has to dig out the pits of coarse. 20 of 30 to 60 minutes/);
  assert.match(step.until, /^no pit of coarse is left/);
  const twice = next({
    record: { grinding: [ground("coarse"), ground("small"), ground("small")] },
  });
  assert.match(
    twice.do,
    /^Finish small: look at five fields .* then go on to smallest\. Before that, read the sagitta/,
  );
  assert.deepEqual([twice.grade, twice.minutes], ["smallest", 30]);
  const read = next({
    ...log(0),
    record: { grinding: [ground("coarse"), ground("small"), ground("small")] },
  });
  assert.match(read.do, /then go on to smallest\. smallest takes 30 minutes: 15 minutes/);
});

Deno.test("a grade that nobody knows the minutes of: look, and go on", () => {
  const rules: Rules = { ...RULES, gradeMinutes: () => undefined };
  const step = nextStep({ design, record: { ...record, grinding: [ground("small")] } }, rules);
  assert.match(step.do, /^Finish small/);
  assert.equal(step.why, "small has to dig out the pits of middle.");
});

Deno.test("the lap: how much pitch, how thick, and where the channels go", () => {
  const worn = [ground("smallest"), ground("smallest")];
  const step = next({ ...log(0), record: { grinding: worn } });
  assert.equal(step.stage, "lap");
  // DERIVED: pi x 15^2 x 0.7 / 4 = 123.7 cm3 at 1.1 g: 136 g; 30 to 50 % more to melt; a sixth of 150 mm
  assert.match(
    step.do,
    /7 mm thick: 136 g of pitch, 177 to 204 g melted\. Cut channels every 25 mm/,
  );
  assert.match(step.caution, /trained adult melts and pours.*no solvent/);
});

Deno.test("polishing: an hour at a time; past the longest foreseen, count twice", () => {
  const hours = (count: number): NextStep =>
    next({
      record: {
        grinding: [ground("smallest"), ...Array.from({ length: 3 * count }, () => ground("oxide"))],
      },
    });
  const two = hours(2);
  assert.match(two.do, /polish another hour, and count again/);
  assert.match(
    two.why,
    /^2 hours are logged\. Pits 4 µm deep .* about 5\.0 hours \(3\.0 to 9\.0\)/,
  );
  const ten = hours(10);
  assert.match(ten.do, /^Count pits/);
  assert.match(ten.until, /go back to smallest/);
});

Deno.test("pits that were counted before the polish began do not count as pits that stay", () => {
  const pits = (date: string, amount: number): DiaryRow => ({
    ...{ file: "diary.csv", line: ++line, date, what: "pits", amount },
  });
  const polished = [
    ground("smallest", "2026-07-01"),
    ...Array.from({ length: 9 }, () => ground("oxide", "2026-07-10")),
    ...Array.from({ length: 9 }, () => ground("oxide", "2026-07-12")),
  ];
  const after = (...diary: readonly DiaryRow[]): NextStep =>
    next({ record: { grinding: polished, diary } });
  // INVENTED three pits a field, looked at on the ground glass, then after six hours
  assert.match(after(pits("2026-07-02", 3), pits("2026-07-12", 3)).do, /^Press the lap 15 minutes/);
  const stuck = after(pits("2026-07-10", 3), pits("2026-07-12", 3));
  assert.match(stuck.do, /^Count pits in ten fields at the edge, polish an hour on a freshly/);
  assert.match(stuck.why, /^The count has not fallen in 3 hours: 3 pits, then 3/);
  assert.match(after(pits("2026-07-10", 3), pits("2026-07-12", 2)).do, /there were 2 pits/);
});

Deno.test("the first grade of the ladder is still weighed by the log", () => {
  assert.equal(
    next({ ...log(0.2), record: { grinding: [ground("middle")] } }).stage,
    "rough grinding",
  );
});

Deno.test("the last grade leads to the lap, an oxide to pits at the edge", () => {
  assert.equal(next({ record: { grinding: [ground("smallest")] } }).stage, "fine grinding");
  const worn = [ground("smallest"), ground("smallest")];
  assert.equal(next({ ...log(0), record: { grinding: worn } }).stage, "lap");
  const unread = next({ record: { grinding: worn } });
  assert.equal(unread.stage, "measuring", "no lap before the depth is read");
  assert.match(unread.do, /^Read the sagitta before a lap is poured/);
  const step = next({ ...log(0.2), record: { grinding: [ground("coarse"), ground("oxide")] } });
  assert.equal(step.stage, "polishing");
});

Deno.test("yes: leave the surface alone, whatever the log says", () => {
  const step = next({ ...log(-0.05), ...judged("yes"), record: { zones: [zone("1")] } });
  assert.equal(step.stage, "coating");
  assert.match(step.do, /Leave the surface alone/);
  assert.equal(step.why, "as the readings say");
});

/** A surface that should be a paraboloid, and how surely that is known. */
const plan = (amount: number, u?: number) => (): FiguringPlan =>
  planFor(
    {
      profile: Array.from({ length: 60 }, (_, i) => {
        const radius = i * 74 / 59;
        const surfaceError = amount * modeShape(2, (radius / 74) ** 2);
        return { radius, surfaceError, ...(u === undefined ? {} : { u }) };
      }),
      verdict: "no",
    },
    record.settings,
    RULES.sessionMin,
  );

Deno.test("no, by a single run: no session that may leave the glass worse, but more readings", () => {
  const step = next({ ...judged("no"), plan: plan(25, 3), record: { zones: [zone("1")] } });
  assert.equal(step.stage, "zone test");
  assert.equal(step.plan, undefined);
});

Deno.test("no: one session by the plan, which disc on top, where, how long, cooled as the course says", () => {
  const zones = [zone("1"), zone("2"), zone("3")];
  const step = next({ ...judged("no"), plan: plan(25, 3), record: { zones } });
  assert.equal(step.stage, "figuring");
  const strokes = [
    ...step.do.matchAll(
      /([\d.]+) (minutes?) with the (mirror|lap) on top, (over the centre|\d+ mm to the side), strokes \d+ mm long/g,
    ),
  ];
  const minutes = strokes.reduce(
    (sum, [, text]) => sum + Number(text),
    0,
  );
  assert.ok(strokes.length >= 1 && minutes > 0 && minutes <= RULES.sessionMin + 0.5, step.do);
  assert.match(
    step.do,
    /^Press the lap, .* 22 minutes into the lidded bath of room water, dry it, let it cool 33 minutes, and measure the zones again\.$/,
  );
  assert.match(
    step.do,
    /every 8 strokes turn the upper disc by about 150° and the lower one by about 50°/,
  );
  const [, before, after, low, high] =
    /from (\d+) to (\d+) nm \(95 %: (\d+) to (\d+)\), and the chance of the goal to [01]\.\d\d\.$/
      .exec(
        step.why,
      )?.map(Number) ?? [];
  assert.ok((after ?? NaN) < (before ?? NaN) && (low ?? NaN) <= (after ?? NaN), step.why);
  assert.ok((after ?? NaN) <= (high ?? NaN), step.why);
  assert.match(step.until, /then leave the surface alone/);
  // the rows say what the sentence says
  assert.deepEqual(
    step.plan?.map(({ position, minutes, lengthMm }) => [position, minutes, lengthMm].join()),
    [...step.do.matchAll(/([\d.]+) minutes? with the (mirror|lap) on top.*?strokes (\d+) mm/g)].map(
      (
        [, minutes, top, length],
      ) => [top === "mirror" ? "mirror on top" : "tool on top", minutes, length].join(),
    ),
  );
  assert.equal(step.minutes, minutes);
  const { from = NaN, low: least = NaN, middle = NaN, high: most = NaN } = step.foreseen ?? {};
  assert.ok(
    least <= middle && middle <= most && middle < from,
    `${from} ${least} ${middle} ${most}`,
  );
});

Deno.test("a profile without uncertainty: a session for its coarsest shape, and no range", () => {
  const step = next({ ...judged("no"), plan: plan(25) });
  assert.match(step.do, /^Press the lap, then polish [\d.]+ (minute|second)/);
  assert.match(step.why, /nobody can say how surely/);
  assert.doesNotMatch(step.why, /95 %|chance/);
});

Deno.test("nothing stands above its uncertainty: more readings, no polish", () => {
  const step = next({ ...judged("no"), plan: plan(1, 20) });
  assert.equal(step.stage, "zone test");
  assert.match(step.do, /^Read more: measure the zones \d+ runs more/);
  assert.match(step.why, /nothing in the profile stands above its uncertainty/);
  const read = next({ ...judged("no"), plan: plan(1, 20), record: { zones: [zone("1")] } });
  assert.deepEqual(read.readings?.map(({ angleDeg, knifeDeg }) => [angleDeg, knifeDeg]), [[0, 0]]);
  const wanted = [{ angleDeg: 90, knifeDeg: 90, runs: 2 }];
  const one = next({ ...judged("no", { scope: "one diameter" }), plan: plan(1, 20), wanted });
  assert.deepEqual(one.readings, wanted, "readings in seats that are missing tell more");
});

Deno.test("no profile, no plan: measure for one, and at most a session", () => {
  const step = next({ ...judged("no"), record: { zones: [zone("1")] } });
  assert.equal(step.stage, "figuring");
  assert.match(step.do, /^Measure the zones with .* at most 4 minutes/);
});

Deno.test("three sessions without gain: back to polishing", () => {
  const lastRms = (): number[] => [20, 22, 21, 20];
  const step = next({ ...judged("no"), plan: plan(25, 3), lastRms });
  assert.equal(step.stage, "polishing");
  assert.match(step.why, /^3 sessions in a row brought no gain/);
  const better = next({ ...judged("no"), plan: plan(25, 3), lastRms: () => [20, 22, 21, 18] });
  assert.equal(better.stage, "figuring");
});

Deno.test("the goal shown: no plan is even asked for", () => {
  const never = (): never => {
    throw new Error("asked for");
  };
  const step = next({ ...judged("yes"), plan: never, lastRms: never });
  assert.match(step.do, /^Leave the surface alone/);
});

Deno.test("yes of one diameter: never the coating, but the seats and knives that are missing", () => {
  const one = judged("yes", {
    scope: "one diameter",
    lacks: ["another diameter", "polishing log"],
  });
  const all = next(one);
  assert.equal(all.stage, "zone test");
  // READ (contract, record and summary, second edition): three seats, 0, 45 and 90 degrees, both directions of the knife
  assert.deepEqual(
    all.readings,
    [[0, 0], [0, 90], [45, 0], [45, 90], [90, 0], [90, 90]].map(([angleDeg, knifeDeg]) => ({
      ...{ angleDeg, knifeDeg, runs: 3 },
    })),
  );
  const wanted = [
    { angleDeg: 0, knifeDeg: 90, runs: 2 },
    { angleDeg: 45, knifeDeg: 0, runs: 2 },
    { angleDeg: 45, knifeDeg: 90, runs: 1 },
  ];
  const some = next({ ...one, wanted });
  assert.deepEqual(some.readings, wanted);
  assert.match(some.do, /mark at the top: 2 runs with knife and slit on their side\./);
  assert.match(
    some.do,
    /stands at 45 degrees, .*: 2 runs with the knife upright, then 1 run with knife and slit on their side\. If the mirror was lifted .* upright at 0 degrees, read that again/,
  );
});

Deno.test("goal.scope one diameter lets a yes of one diameter be coated, and says what was not looked for", () => {
  const { settings } = record;
  const decided = {
    settings: { ...settings, goal: { ...settings.goal, scope: "one diameter" as const } },
  };
  const step = next({
    ...judged("yes", { scope: "one diameter", lacks: ["another diameter"] }),
    record: decided,
  });
  assert.equal(step.stage, "coating");
  assert.match(step.why, /astigmatism was not looked for/);
});

Deno.test("yes of the whole surface, but pits, or too little polishing", () => {
  const lacking = (...lacks: string[]): NextStep => next(judged("yes", { lacks }));
  assert.equal(lacking("polishing log").stage, "coating", "no log holds nothing back");
  assert.equal(lacking("pits", "polishing log").stage, "polishing");
  assert.match(lacking("pits").why, /^Pits were seen after the last polishing/);
  assert.equal(lacking("polishing").stage, "polishing");
  assert.match(lacking("polishing").do, /grinding\.csv/);
});

Deno.test("a fault in the flat's shadow alone is left there, once the whole surface was read", () => {
  const outside = {
    outsideShadow: {
      wavefrontPv: q(0.1, "wave", 0.02),
      interval95: [0.08, 0.14] as const,
      probability: 0.99,
      meetsGoal: "yes" as const,
    },
  };
  const step = next(judged("no", outside));
  assert.equal(step.stage, "coating");
  assert.match(step.why, /in the shadow of the flat/);
  const one = next(judged("no", { ...outside, scope: "one diameter" }));
  assert.equal(one.stage, "zone test", "of one diameter it is no more than that");
  assert.equal(one.readings?.length, 6);
  const open = judged("not shown", { ...outside, lacks: ["narrower openings", "more runs"] });
  assert.equal(next(open).stage, "coating", "narrower openings would look into the shadow");
  assert.equal(next(judged("no", { ...outside, lacks: ["pits"] })).stage, "polishing");
  for (const lack of ["narrower openings", "more runs"]) {
    assert.equal(next(judged("yes", { lacks: [lack] })).stage, "zone test", `no shadow: ${lack}`);
  }
});

Deno.test("a short scratch: on ground glass the stray grain is looked for, on polished glass the scratch", () => {
  const scratched = (grade: string, amount: number): NextStep =>
    next({
      ...log(0.2),
      record: {
        grinding: [ground("coarse", "2026-07-01"), ground(grade, "2026-07-03")],
        diary: [{ file: "diary.csv", line: ++line, date: "2026-07-03", what: "scratch", amount }],
      },
    });
  const rough = scratched("coarse", 12);
  assert.match(rough.do, /^First wash everything and find the stray grain\. Mark the scratch/);
  assert.match(rough.until, /and the scratch is gone; else go back to the grade whose pits/);
  const polished = scratched("oxide", 12);
  assert.match(polished.do, /^First wash the lap and the mirror, and look at the scratch/);
  assert.match(polished.why, /grinding it out costs all of the polish/);
});

Deno.test("an open verdict: what the zone test itself asks for, before any polish", () => {
  const zones = ["a", "b", "c", "d"].map((run) => ({ ...zone(run), angleDeg: 45 }));
  const advice = "3 runs through narrower openings should settle it";
  const open = (lacks: readonly string[], more: Partial<VerdictSummary> = {}): NextStep =>
    next({
      ...judged("not shown", { lacks, why: `so far; ${advice}`, ...more }),
      advice,
      record: { zones },
    });
  const narrow = open(["narrower openings"]);
  assert.equal(narrow.stage, "zone test");
  assert.match(
    narrow.do,
    /^Polish nothing\. Cut a mask .*: 3 runs through narrower openings should settle it\.$/,
  );
  assert.match(narrow.why, /^so far\. What the glass/);
  // a mask is not cut where the reckoning says that none would tell
  const hopeless = next({
    ...judged("not shown", { lacks: ["narrower openings"], why: "so far; polish on" }),
    advice: "polish on",
    settledBy: "nothing",
    record: { zones },
  });
  assert.equal(hopeless.stage, "figuring");
  assert.deepEqual(narrow.readings, [{ angleDeg: 45, knifeDeg: 0, runs: 4 }]);
  assert.match(
    open(["more runs"]).do,
    /^Polish nothing\. Measure the zones again: .* 4 runs with the knife upright\.$/,
  );
  assert.equal(open([]).stage, "figuring", "no reading would help");
  const bad = next({
    ...judged("not shown", { lacks: ["more runs"], probability: 0.1 }),
    plan: plan(25, 3),
    record: { zones },
  });
  assert.equal(
    bad.stage,
    "figuring",
    "out by all that is known, and there is something to work on",
  );
  const wanted = [{ angleDeg: 0, knifeDeg: 90, runs: 3 }];
  const seats = next({
    ...judged("not shown", { lacks: ["more runs"], scope: "one diameter" }),
    wanted,
    record: { zones },
  });
  assert.deepEqual(seats.readings, wanted, "runs in seats that are missing are runs too");
});

Deno.test("photographs that are missing come before a yes and before figuring what is not shown", () => {
  const lacks = ["a second photograph", "a photograph from outside of focus"];
  const step = next(judged("not shown", { scope: "one diameter", lacks }));
  assert.equal(step.stage, "band test");
  assert.match(step.do, /a second photograph and a photograph from outside of focus/);
  assert.equal(next(judged("no", { scope: "one diameter", lacks })).stage, "figuring");
});

Deno.test("astigmatism that breaks the goal by itself is not figured in rings", () => {
  const astigmatism = (low: number): Partial<Known> => ({
    astigmatism: {
      amplitude: q(60, "nm", 8),
      axis: q(30, "deg", 4),
      interval95: [low, 76],
    },
  });
  // DERIVED: the goal is 1/8 of 550 nm, 68.75 nm from the highest to the lowest: an amplitude of 34.4 nm
  assert.equal(next({ ...judged("no"), ...astigmatism(35) }).stage, "polishing");
  assert.match(
    next({ ...judged("no"), ...astigmatism(35) }).do,
    /turn both discs/,
  );
  assert.equal(next({ ...judged("no"), ...astigmatism(34) }).stage, "figuring");
});

Deno.test("an edge seen turned after the last readings holds the coating back, until it was read again", () => {
  const edge = { file: "diary.csv", line: 2, date: "2026-07-05", what: "edge turned" } as const;
  const stage = (day: string): string =>
    next({ ...judged("yes"), record: { zones: [zone("1", day)], diary: [edge] } }).stage;
  assert.deepEqual(["2026-07-04", "2026-07-05", "2026-07-06"].map(stage), [
    "zone test",
    "coating",
    "coating",
  ]);
});

Deno.test("after the coating the diary leads on, until the glass is worked again", () => {
  const diary = (...words: DiaryRow["what"][]): readonly DiaryRow[] =>
    words.map((what, i) => ({ file: "diary.csv", line: i + 2, date: `2026-07-0${i + 1}`, what }));
  const stage = (rows: readonly DiaryRow[], more: Partial<MirrorRecord> = {}): string =>
    next({ ...judged("yes"), record: { diary: rows, ...more } }).stage;
  assert.equal(stage(diary("no pits", "washed")), "coating");
  assert.equal(stage(diary("sent to be coated")), "coating");
  assert.match(next({ record: { diary: diary("sent to be coated") } }).do, /^Wait/);
  assert.equal(stage(diary("sent to be coated", "coated")), "flat and tube");
  assert.equal(stage(diary("coated", "mounted")), "alignment");
  assert.equal(stage(diary("coated", "mounted", "aligned")), "first light");
  assert.equal(stage(diary("coated", "mounted", "aligned", "star seen")), "care");
  assert.equal(stage(diary("star seen")), "coating", "a star on an uncoated mirror");
  const worked = { zones: [zone("1", "2026-07-09")], grinding: [ground("oxide", "2026-07-08")] };
  assert.equal(stage(diary("coated", "mounted"), worked), "coating");
});

Deno.test("not shown: more runs while there are few, then a session", () => {
  const runs = (count: number): ZoneRow[] =>
    Array.from({ length: count }, (_, i) => [zone(`${i}`), zone(`${i}`)]).flat();
  const few = next({ ...judged("not shown"), record: { zones: runs(3) } });
  assert.equal(few.stage, "zone test");
  assert.match(few.do, /until there are 4 runs/);
  assert.equal(next({ ...judged("not shown"), record: { zones: runs(4) } }).stage, "figuring");
});

Deno.test("runs of earlier days, of a former surface, do not count", () => {
  const before = ["a", "b", "c", "d"].map((run) => zone(run, "2026-06-12"));
  const zones = [...before, zone("a", "2026-06-19")];
  const grinding = [ground("oxide", "2026-06-13")];
  const step = next({ ...judged("not shown"), record: { zones, grinding } });
  assert.match(step.do, /until there are 4 runs/);
  assert.deepEqual(step.readings, [{ angleDeg: 0, knifeDeg: 0, runs: 3 }]);
  // no work between: five runs of one surface
  assert.equal(next({ ...judged("not shown"), record: { zones } }).stage, "figuring");
});

Deno.test("polished since the last reading: measure the zones again, whatever the verdict was", () => {
  for (const meets of ["yes", "no", "not shown"] as const) {
    const after = { zones: [zone("1", "2026-06-12")], grinding: [ground("oxide", "2026-06-13")] };
    assert.match(next({ ...judged(meets), record: after }).do, /worked on since/);
    const same = { zones: [zone("1", "2026-06-12")], grinding: [ground("oxide", "2026-06-12")] };
    assert.doesNotMatch(next({ ...judged(meets), record: same }).do, /worked on since/);
    const undated = { zones: [zone("1")], grinding: [ground("oxide", "2026-06-13")] };
    assert.doesNotMatch(next({ ...judged(meets), record: undated }).do, /worked on since/);
  }
});

Deno.test("every step names a stage of the course, ends its sentences, and carries a caution", () => {
  const steps = [
    next({}),
    next(curveOf(1.1)),
    next(curveOf(undefined)),
    next(log(0.2)),
    next(log(-0.05)),
    next(log(0)),
    next({ record: { grinding: [ground("small")] } }),
    next({ record: { grinding: [ground("smallest")] } }),
    next({ record: { grinding: [ground("oxide")] } }),
    ...(["yes", "no", "not shown"] as const).map((meets) => next(judged(meets))),
    ...["pits", "polishing", "a second photograph"].map((lack) =>
      next(judged("yes", { lacks: [lack] }))
    ),
    next(judged("yes", { scope: "one diameter" })),
    next(judged("not shown", { lacks: ["narrower openings"] })),
    next({
      ...judged("not shown", { lacks: ["more runs"] }),
      record: { zones: ["a", "b", "c", "d"].map((run) => zone(run)) },
    }),
    ...(["sent to be coated", "coated", "mounted", "aligned", "star seen"] as const).map((what) =>
      next({
        record: {
          diary: ["coated" as const, what].map((what) => ({
            ...{ file: "diary.csv", line: 2, date: "2026-07-01" },
            what,
          })),
        },
      })
    ),
    next({ ...judged("no"), plan: plan(25, 3) }),
    next({ ...judged("no"), plan: plan(1, 20) }),
    next({ ...judged("no"), lastRms: () => [1, 1, 1, 1] }),
  ];
  for (const step of steps) {
    assert.ok(findStage(step.stage) !== undefined, `${step.stage} is no stage`);
    for (const part of ["do", "until", "why", "caution"] as const) {
      assert.match(step[part], /\S.*\S$/s, `${step.stage}: ${part}`);
      assert.doesNotMatch(step[part], /undefined|NaN/);
    }
    for (const part of ["do", "caution"] as const) assert.match(step[part], /\.$/, step[part]);
    assert.ok(step.caution.endsWith(cautionOf(step.stage)), "by the one list of hazards");
  }
});

Deno.test("the course's own numbers are read from its table", () => {
  const { grainUm, ladder, gradeMinutes, edgeHours, ...numbers } = courseRules();
  // COMMON PRACTICE, as data/tables/decisions.csv has them
  assert.deepEqual(numbers, {
    sagittaTolerance: 0.01,
    runsWanted: 3,
    shareFirst: 0.6,
    forecastShare: 0.5,
    sessionMin: 25,
    blindMin: 5,
    bathMin: 20,
    coolMin: 30,
    sessionsWithoutGain: 3,
    pitUm: 5,
    scratchLongest: 30,
    drillU: 5,
    radiusOff: 0.01,
    bevelLeast: 0.7,
  });
  // the ladder's own minutes and hours: none between papers, oxides and grades of one size
  assert.ok((gradeMinutes("F120", "F80", 150)?.least ?? 0) > 20);
  assert.equal(gradeMinutes("F80", "F120", 150), undefined);
  assert.equal(gradeMinutes("cerium oxide", "F1200", 150), undefined);
  // DERIVED: 5 um at 0.7 of 1.3 um an hour take 5.49 h; the rate may be twice or half of that
  assert.deepEqual(
    [edgeHours.hours, edgeHours.least, edgeHours.most].map((h) => h.toFixed(1)),
    ["5.5", "2.7", "11.0"],
  );
  const sizes = ladder.map((grade) => grainUm(grade) ?? 0);
  assert.deepEqual(sizes, sizes.toSorted((a, b) => b - a), "from coarse to fine");
  assert.ok(sizes.every((size) => size > 0));
  assert.equal(grainUm("cerium oxide"), undefined);
});

Deno.test("a log without a depth: read one now, whatever else was polished", () => {
  const grinding = [ground("coarse"), ground("coarse"), ground("coarse")];
  const step = next({ record: { grinding } });
  assert.equal(step.stage, "measuring");
  assert.match(step.do, /^Read the sagitta now/);
  assert.match(step.why, /^60 minutes are logged, and no depth/);
  assert.ok(findStage(step.stage) !== undefined);
});

Deno.test("a curve and a log whose minutes run backwards: mend that line first", () => {
  const lines = [20, 60, 40].map((afterMin, i): GrindingRow => ({
    ...ground("coarse"),
    line: 2 + i,
    afterMin,
  }));
  const step = next({ ...curveOf(0.4), record: { grinding: lines } });
  assert.match(step.do, /^Mend grinding\.csv, line 4: its after_min is less than the 60 min above/);
  assert.match(step.why, /60 minutes is not used/);
});

Deno.test("a curve and a log, but no depth that tells its minute: write the minutes down", () => {
  const row = { file: "sagitta.csv", line: 2, depth: 0.4 };
  const grinding = [ground("coarse")];
  const step = next({ ...curveOf(0.4), record: { grinding, sagitta: [row] } });
  assert.match(step.do, /^Write into sagitta\.csv, as after_min/);
  const timed = next({
    ...curveOf(0.4),
    record: { grinding, sagitta: [{ ...row, afterMin: 20 }] },
  });
  assert.match(timed.do, /^Grind 10 minutes/);
});

const quarrelling = {
  curve: {
    ...curveOf(1.144).curve,
    consistent: false,
    estimates: [
      { method: "leaves" as const, radius: q(2459, "mm", 6), readings: 6, setAside: 0, used: true },
      {
        method: "sun distance" as const,
        radius: q(2394, "mm", 2),
        readings: 6,
        setAside: 0,
        used: true,
      },
    ],
  },
};

Deno.test("methods that gainsay one another: the cause before a finer grade, until the maker says that each stands", () => {
  const worn = [ground("coarse"), ground("small"), ground("small")];
  const rows = { grinding: worn, sagitta: [{ file: "sagitta.csv", line: 2, depth: 1.1 }] };
  const step = next({ ...log(0.028), ...quarrelling, record: rows });
  assert.equal(step.stage, "measuring");
  assert.match(step.do, /^Grind no finer yet\. Measure the bevel .* Read each method again/);
  assert.match(step.why, /2459 mm by leaves and 2394 mm by sun distance: they disagree/);
  assert.doesNotMatch(step.do, /go on to/);
  const settings = { ...record.settings, checked: ["curve" as const] };
  assert.match(
    next({ ...log(0.028), ...quarrelling, record: { ...rows, settings } }).do,
    /^Finish small: .* then go on to smallest/,
  );
  const rough = next({ ...log(0), ...quarrelling, record: { grinding: [ground("coarse")] } });
  assert.match(rough.do, /^Grind no finer yet\./, "nor is rough grinding left by such a depth");
});

Deno.test("a radius farther off than the course allows: no finer grade before somebody decided; within it, on", () => {
  const worn = [ground("F80"), ground("F120"), ground("F320"), ground("F320")];
  const GRAINS = { F80: 185, F120: 109, F220: 58, F320: 33, F500: 14 } as const;
  const off = (share: number): NextStep => {
    const radius = 2400 * (1 - share), sagitta = 150 ** 2 / 8 / radius;
    const curve: CurveSummary = {
      ...curveOf(sagitta).curve,
      radius: q(radius, "mm", 6),
      focalLength: q(radius / 2, "mm", 3),
    };
    const known = { sagittaNow: q(sagitta, "mm", 0.002) };
    return nextStep(
      { design, curve, ...log(1.172 - sagitta, known), record: { ...record, grinding: worn } },
      {
        ...RULES,
        grainUm: (name) => GRAINS[name as "F120"],
        ladder: ["F120", "F220", "F320", "F500"],
      },
    );
  };
  // INVENTED: 1.1 and 0.9 % too short; the course's limit is 1 %
  const far = off(0.011);
  assert.deepEqual([far.stage, far.plan?.[0]?.position], ["correcting", "tool on top"]);
  assert.match(far.do, /^Begin no finer grade yet; decide\. Either go back: .* Or live with it:/);
  assert.match(far.why, /1\.1 % too short, more than the 1 % within which/);
  assert.doesNotMatch(off(0.009).do, /decide/);
});

Deno.test("a written bevel that is none stands in the caution before the glass is rubbed; an unwritten one is asked for", () => {
  const bevelled = (bevel: number): NextStep =>
    next({ ...log(0.2), record: { settings: { ...record.settings, bevel } } });
  assert.match(
    bevelled(0).caution,
    /^Look at the rim first: mirror\.yaml says that the bevel is 0 mm.*stone the edge, wet, an adult beside, before anything else\. Safety glasses/,
  );
  assert.match(bevelled(0.5).caution, /the bevel is 0\.5 mm/);
  assert.doesNotMatch(bevelled(0.6).caution, /Look at the rim/);
});

Deno.test("sent to be coated: a known focal length is told, an unknown one never comes from the Sun", () => {
  const zones = [zone("1")];
  const focal = (u: number): NextStep =>
    next({
      ...judged("yes"),
      curve: { ...curveOf(1.172).curve, focalLength: q(1198.3, "mm", u) },
      record: { zones },
    });
  assert.match(focal(1.2).until, /the focal length that is known, 1198\.3 ± 1\.2 mm/);
  for (const step of [focal(1.2), focal(9), next({ ...judged("yes"), record: { zones } })]) {
    assert.match(step.until, /never .*by the Sun/);
  }
  assert.match(focal(9).until, /by lamp and card on one box at the centre of curvature/);
});
