/** The reader's own program: from page to page it grows by one step on her own readings, and the kit says how near it comes. */
import { note } from "../figures/blocks.ts";
import { type Shown, together } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { zoneMeasurements } from "../knowledge/glassWork.ts";
import { grainUm } from "../knowledge/rules.ts";
import { questionBlock } from "../lessons/block.ts";
import type { Exercise } from "../lessons/exercise.ts";
import { judge } from "../lessons/grader.ts";
import { isHollow } from "../measuring/depthsUnderChord.ts";
import { chordOf } from "../measuring/gauges.ts";
import { bracket, depthFromLeaves } from "../measuring/methods/leaves.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import { knifePosition } from "../optics/conic.ts";
import { radiusFromSagitta } from "../optics/sphere.ts";
import { pitFall } from "../shaping/lap/polish.ts";
import { effectiveRadius } from "../testing/zones/openings.ts";

/** The latest row of leaves; mm. */
export interface LeafReadings {
  /** thickness of the stack that passes */
  readonly go: number;
  /** of the next, which does not */
  readonly nogo: number;
  /** where the straight-edge rests */
  readonly chord: number;
  /** width of a leaf */
  readonly leaf: number;
}

/** Two counts of pits in the same marked fields. */
export interface PitReadings {
  /** of polish before the first count */
  readonly firstHours: number;
  /** then counted */
  readonly firstPits: number;
  /** of polish before the last count */
  readonly lastHours: number;
  /** then counted */
  readonly lastPits: number;
}

/** Where the grating stood for the latest photograph of bands, and what it looked at; mm. */
export interface BandReadings {
  /** from the centre of curvature, inside or outside */
  readonly distance: number;
  /** dark lines of the grating in a millimetre */
  readonly lines: number;
  /** of curvature */
  readonly radius: number;
  /** width of the mirror inside its bevel */
  readonly across: number;
  /** 2 where the lamp travels with the grating, 1 where it stays */
  readonly k: 1 | 2;
}

/** One opening of the mask with its readings of one surface; mm. */
export interface ZoneReadings {
  /** from the centre */
  readonly inner: number;
  /** from the centre */
  readonly outer: number;
  /** one from each run */
  readonly readings: readonly number[];
  /** of the readings */
  readonly mean: number;
  /** what a paraboloid would read there, from the centre of curvature of its middle */
  readonly ideal: number;
}

/** The latest surface through the mask. */
export interface SurfaceReadings {
  /** from the middle outwards */
  readonly zones: readonly ZoneReadings[];
  /** of curvature, mm */
  readonly radius: number;
  /** 1 where the lamp travels with the knife, 2 where it stays */
  readonly k: 1 | 2;
}

/** A result and its goal, waves of the wavefront. */
export interface VerdictReadings {
  /** peak to valley */
  readonly pv: number;
  /** its standard uncertainty */
  readonly u: number;
  /** wanted at the most */
  readonly goal: number;
}

/** What each step of the program is given. */
export interface ProgramReadings {
  /** for R */
  readonly "measure-curve": LeafReadings;
  /** for its doubt */
  readonly "weigh-readings": LeafReadings;
  /** for a rate */
  readonly "polish-surface": PitReadings;
  /** for how many bands */
  readonly "read-bands": BandReadings;
  /** for differences along the axis */
  readonly "measure-zones": SurfaceReadings;
  /** for the height of the glass */
  readonly "judge-mirror": SurfaceReadings;
  /** for the decision */
  readonly "shape-surface": VerdictReadings;
}

/** A stage at which the program grows. */
export type ProgramStage = keyof ProgramReadings;

function leafReadings({ record: { sagitta, settings } }: Mirror): LeafReadings | undefined {
  const row = sagitta.findLast(({ go, nogo }) => go !== undefined && nogo !== undefined);
  if (row?.go === undefined || row.nogo === undefined) return undefined;
  const sum = (stack: readonly number[]): number =>
    Number(stack.reduce((all, one) => all + one, 0).toFixed(4));
  const chord = chordOf(settings, row.chord), { middle } = bracket(row.go, row.nogo);
  if (!isHollow(middle, chord, settings.aperture)) return undefined;
  return { go: sum(row.go), nogo: sum(row.nogo), chord, leaf: settings.gauges.leaves.width };
}

/** First and last count of the diary, by the hours of polish up to them. */
function pitReadings({ record: { diary, grinding } }: Mirror): PitReadings | undefined {
  const hours = (date: string): number =>
    grinding.filter((row) => grainUm(row.abrasive) === undefined && (row.date ?? "") <= date)
      .reduce((sum, { minutes }) => sum + minutes, 0) / 60;
  const looks = diary.flatMap(({ what, amount, date }) =>
    what === "pits" && amount !== undefined && amount > 0 && date !== undefined
      ? [{ hours: hours(date), pits: amount }]
      : []
  );
  const first = looks[0], last = looks.at(-1);
  if (first === undefined || last === undefined) return undefined;
  return last.hours > first.hours && last.pits < first.pits
    ? {
      firstHours: first.hours,
      firstPits: first.pits,
      lastHours: last.hours,
      lastPits: last.pits,
    }
    : undefined;
}

function bandReadings({ record: { ronchi, settings }, summary }: Mirror): BandReadings | undefined {
  const row = ronchi.findLast(({ offset, linesPerMm }) =>
    offset !== undefined && offset !== 0 && linesPerMm !== undefined
  );
  if (row?.offset === undefined || row.linesPerMm === undefined) return undefined;
  return {
    distance: Math.abs(row.offset),
    lines: row.linesPerMm,
    radius: Math.round(summary.curve?.radius?.value ?? summary.design.radius.value),
    across: settings.aperture - 2 * settings.bevel,
    k: settings.tester.source === "moves with knife" ? 2 : 1,
  };
}

function surfaceReadings({ record, summary }: Mirror): SurfaceReadings | undefined {
  const rows = zoneMeasurements(record).at(-1)?.rows ?? [], { tester } = record.settings;
  const [one] = rows;
  if (one === undefined) return undefined;
  // one diameter by one knife: what a sum along a radius can use
  const along = rows.filter(({ angleDeg, knifeDeg }) =>
    (angleDeg ?? 0) === (one.angleDeg ?? 0) && (knifeDeg ?? 0) === (one.knifeDeg ?? 0)
  );
  const moves = tester.source === "moves with knife";
  const radius = Math.round(summary.curve?.radius?.value ?? summary.design.radius.value);
  const zones = [...Map.groupBy(along, ({ inner, outer }) => `${inner} ${outer}`).values()]
    .flatMap((group): ZoneReadings[] => {
      const [{ inner, outer }] = group as [typeof one];
      const readings = group.map(({ reading }) => reading);
      const ideal = knifePosition(
        effectiveRadius({ inner, outer }, tester.openings),
        { radius, conic: -1 },
        moves ? "moves" : "fixed",
      );
      const mean = readings.reduce((a, b) => a + b, 0) / readings.length;
      return [{ inner, outer, readings, mean, ideal }];
    }).sort((a, b) => a.inner - b.inner);
  return zones.length < 3 ? undefined : { zones, radius, k: moves ? 1 : 2 };
}

function verdictReadings({ record: { settings: { goal } }, summary }: Mirror):
  | VerdictReadings
  | undefined {
  const found = summary.figure?.zones?.surfacePv;
  if (found?.u === undefined || !(found.u > 0)) return undefined;
  const waves = (nm: number): number => Number((2 * nm / goal.wavelength).toPrecision(3));
  return { pv: waves(found.value), u: waves(found.u), goal: 2 * goal.surfaceWaves };
}

/** INVENTED counts for a page whose reader has none yet: those of the page of polishing. */
const EXAMPLE: PitReadings = { firstHours: 2, firstPits: 40, lastHours: 4, lastPits: 6 };

const readers: {
  readonly [S in ProgramStage]: (mirror: Mirror) => ProgramReadings[S] | undefined;
} = {
  "measure-curve": leafReadings,
  "weigh-readings": leafReadings,
  "polish-surface": pitReadings,
  "read-bands": bandReadings,
  "measure-zones": surfaceReadings,
  "judge-mirror": surfaceReadings,
  "shape-surface": verdictReadings,
};

function found<S extends ProgramStage>(
  yours: Mirror,
  demo: Mirror,
  stage: S,
): { readonly readings: ProgramReadings[S]; readonly of: Mirror | undefined } {
  const read: ((mirror: Mirror) => ProgramReadings[S] | undefined) | undefined = readers[stage];
  if (read === undefined) {
    throw new RangeError(
      `a step of the program requires one of ${Object.keys(readers).join(", ")}, got "${stage}"`,
    );
  }
  const safely = (mirror: Mirror): ProgramReadings[S] | undefined => {
    try {
      return read(mirror);
    } catch (error) {
      if (error instanceof CannotTell) return undefined;
      throw error;
    }
  };
  const own = safely(yours);
  if (own !== undefined) return { readings: own, of: yours };
  const theirs = safely(demo);
  if (theirs !== undefined) return { readings: theirs, of: demo };
  return { readings: EXAMPLE as ProgramReadings[S], of: undefined };
}

/**
 * The readings that a step of the program begins with: the reader's own, the demo's where she has none yet.
 *
 * @param stage  "measure-curve"
 * @throws {RangeError} for a stage at which the program does not grow
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.deepEqual(programReadings(demo, demo, "measure-curve"), { go: 1.13, nogo: 1.14, chord: 148, leaf: 12.7 });
 * ```
 */
export function programReadings<S extends ProgramStage>(
  yours: Mirror,
  demo: Mirror,
  stage: S,
): ProgramReadings[S] {
  return found(yours, demo, stage).readings;
}

const digits = (value: number, figures: number): string =>
  String(Number(value.toPrecision(figures)));

function radiusOf({ go, nogo, chord, leaf }: LeafReadings): number {
  return radiusFromSagitta(depthFromLeaves((go + nogo) / 2, chord, leaf), chord);
}

function curveStep(given: LeafReadings): Exercise {
  const { go, nogo, chord, leaf } = given, middle = (go + nogo) / 2, answer = radiusOf(given);
  return {
    id: "measure-curve-program",
    ask: `From go, no-go, chord and leaf to R. What does your program say?`,
    unit: "mm",
    answer,
    tolerance: 0.003 * answer,
    traps: [
      {
        value: radiusFromSagitta(middle, chord),
        hint: "The leaf has a width: lying flat it does not reach the bottom of a hollow.",
      },
      { value: radiusFromSagitta(middle, 2 * chord), hint: "D" },
      { value: answer / 2, hint: "F" },
    ],
    hints: [
      "What is the middle of go and no-go, and what does a flat leaf miss?",
      `Look at ${digits(middle, 5)} mm, at half of ${digits(chord, 5)} mm, and at ${leaf}² ÷ 8R.`,
      `R = (r² + s²) ÷ 2s with s = ${depthFromLeaves(middle, chord, leaf).toFixed(4)}: ${
        answer.toFixed(0)
      } mm.`,
    ],
  };
}

function doubtStep(given: LeafReadings): Exercise {
  const { go, nogo, chord, leaf } = given, depth = depthFromLeaves((go + nogo) / 2, chord, leaf);
  const radius = radiusOf(given), half = (nogo - go) / 2;
  const answer = radius * half / Math.sqrt(3) / depth;
  return {
    id: "weigh-readings-program",
    ask:
      "The gap lies anywhere between go and no-go. What standard uncertainty does that alone give your R?",
    unit: "mm",
    answer,
    traps: [
      {
        value: answer * Math.sqrt(3),
        hint: "Half the bracket is the furthest it can be off: divide by √3.",
      },
      { value: 2 * answer, hint: "Half the bracket, not all of it." },
      {
        value: half / Math.sqrt(3),
        hint: "That is the depth’s u. How many mm of R is one mm of depth?",
      },
    ],
    hints: [
      "How far may the depth be off, and what is one per cent of depth to R?",
      `Look at ${digits(half, 2)} ÷ √3 mm of depth, and at R ÷ s = ${digits(radius / depth, 4)}.`,
      `${digits(radius, 4)} ÷ ${depth.toFixed(4)} × ${digits(half, 2)} ÷ √3 = ${
        digits(answer, 2)
      } mm.`,
    ],
  };
}

function pitStep({ firstHours, firstPits, lastHours, lastPits }: PitReadings): Exercise {
  const answer = (lastHours - firstHours) / Math.log2(firstPits / lastPits);
  return {
    id: "polish-surface-program",
    ask: `${firstPits} pits after ${digits(firstHours, 3)} hours, ${lastPits} after ${
      digits(lastHours, 3)
    }, in the same fields. In how many hours do they halve?`,
    unit: "h",
    answer,
    traps: [
      {
        value: (lastHours - firstHours) / Math.log(firstPits / lastPits),
        hint: "That is the time for a fall to 37 %: halves go by the logarithm to 2.",
      },
      { value: 1 / answer, hint: "That is halvings in an hour. And hours for one halving?" },
    ],
    hints: [
      "How many times did they halve?",
      `Look at log₂(${firstPits} ÷ ${lastPits}), and at ${
        digits(lastHours - firstHours, 3)
      } hours.`,
      `${digits(lastHours - firstHours, 3)} ÷ ${digits(Math.log2(firstPits / lastPits), 3)} = ${
        digits(answer, 2)
      } h.`,
    ],
  };
}

function bandStep({ distance, lines, radius, across, k }: BandReadings): Exercise {
  const spacing = radius / (k * distance * lines), answer = across / spacing;
  return {
    id: "read-bands-program",
    ask: `The grating stood ${digits(distance, 3)} mm from the centre, ${
      digits(lines, 3)
    } lines to the millimetre. How many bands lie side by side across ${
      digits(across, 4)
    } mm of a sphere? Then count them on your photograph.`,
    unit: "bands",
    answer,
    traps: [
      {
        value: k === 2 ? answer / 2 : 2 * answer,
        hint: k === 2
          ? "Your lamp travels with the grating: a step counts twice."
          : "Your lamp stays: a step counts once.",
      },
      { value: spacing, hint: "That is from one band to the next, in mm. How many fit?" },
      { value: answer / 2, hint: "D" },
    ].filter(({ value }, i, all) =>
      all.findIndex((one) => Math.abs(one.value / value - 1) < 0.03) === i
    ),
    hints: [
      "How far is it from one band to the next, and how many fit on the glass?",
      `Look at R ÷ (${k} × ${digits(distance, 3)} × ${digits(lines, 3)}), and at ${
        digits(across, 4)
      } mm.`,
      `${digits(across, 4)} ÷ ${digits(spacing, 3)} = ${digits(answer, 3)}.`,
    ],
  };
}

function spreadStep({ zones, k }: SurfaceReadings): Exercise {
  const first = zones[0]?.mean ?? NaN, last = zones.at(-1)?.mean ?? NaN, answer = last - first;
  const one = (zones.at(-1)?.readings[0] ?? NaN) - (zones[0]?.readings[0] ?? NaN);
  return {
    id: "measure-zones-program",
    ask:
      "From the runs of your latest surface: by how much does the last opening read farther out than the first, mean less mean?",
    unit: "mm",
    answer,
    tolerance: Math.max(0.003, 0.01 * Math.abs(answer)),
    traps: [
      { value: -answer, hint: "S" },
      ...(Math.abs(one - answer) < 0.02
        ? []
        : [{ value: one, hint: "That is the first run alone." }]),
      { value: answer * (k === 1 ? 2 : 0.5), hint: "2" },
    ],
    hints: [
      "What is the mean of each opening’s runs?",
      `Look at ${first.toFixed(3)} and ${last.toFixed(3)} mm.`,
      `${last.toFixed(3)} − ${first.toFixed(3)} = ${answer.toFixed(3).replace("-", "−")} mm.`,
    ],
  };
}

/** Heights at the edges of the rings, nm, by straight sums; `focused` false leaves the focus where the first ring has it. */
function heightsOf({ zones, radius, k }: SurfaceReadings, focused = true): number[] {
  const off = zones.map(({ mean, ideal }) => mean - ideal);
  const areas = zones.map(({ outer }, i) => outer ** 2 - (zones[i - 1]?.outer ?? 0) ** 2);
  const whole = areas.reduce((a, b) => a + b, 0);
  const focus = focused
    ? areas.reduce((sum, area, i) => sum + area * (off[i] ?? 0) / whole, 0)
    : off[0] ?? 0;
  const heights = [0];
  areas.forEach((area, i) => {
    const step = ((off[i] ?? 0) - focus) * area * 1e6 / (2 * k * radius ** 2);
    heights.push((heights[i] ?? 0) - step);
  });
  return heights;
}

const pvOf = (heights: readonly number[]): number => Math.max(...heights) - Math.min(...heights);

function heightStep(given: SurfaceReadings): Exercise {
  const answer = pvOf(heightsOf(given)), raw = pvOf(heightsOf(given, false));
  return {
    id: "judge-mirror-program",
    ask:
      "Add up the slopes of your latest surface, ring by ring. From its highest to its lowest, how many nanometres of glass?",
    unit: "nm",
    answer,
    traps: [
      { value: 2 * answer, hint: "W" },
      ...(Math.abs(raw / answer - 1) < 0.1
        ? []
        : [{ value: raw, hint: "Take away what refocusing can mend: the mean of all rings." }]),
      { value: answer * given.radius ** 2, hint: "Each slope has R squared below the line." },
    ],
    hints: [
      "What is left of each reading when the paraboloid’s and the focus are taken away?",
      "Look at the ring’s area, outer² − inner², and at 2kR².",
      `Σ −(ΔL − focus) × area ÷ 2kR², from the middle outwards: ${digits(answer, 2)} nm.`,
    ],
  };
}

function decisionStep({ pv, u, goal }: VerdictReadings): Exercise {
  const many = (goal - pv) / u;
  const answer = many >= 1.645 ? "yes" : many <= -1.645 ? "no" : "not shown";
  return {
    id: "shape-surface-program",
    ask: `P-V ${pv} ± ${u} wave, the goal ${goal}. Taken as a bell, is the goal met?`,
    choices: ["yes", "no", "not shown"],
    answer,
    traps: (["yes", "no", "not shown"] as const).filter((one) => one !== answer).map((value) => ({
      value,
      hint: `The goal lies ${
        digits(many, 2).replace("-", "−")
      } u above your result; 1.645 are 95 %.`,
    })),
    hints: [
      "How many u lie between the result and the goal?",
      `Look at (${goal} − ${pv}) ÷ ${u}.`,
      `${digits(many, 2).replace("-", "−")} u: ${answer}.`,
    ],
  };
}

const steps: {
  readonly [S in ProgramStage]: (given: ProgramReadings[S]) => Exercise;
} = {
  "measure-curve": curveStep,
  "weigh-readings": doubtStep,
  "polish-surface": pitStep,
  "read-bands": bandStep,
  "measure-zones": spreadStep,
  "judge-mirror": heightStep,
  "shape-surface": decisionStep,
};

/** What the kit itself makes of all the readings: told when the step is right, since it would give it away. */
function kitSays(stage: ProgramStage, of: Mirror | undefined, given: unknown): string {
  const leaves = of?.summary.curve?.estimates.find(({ method }) => method === "leaves");
  const surface = of?.summary.figure?.zones?.surfacePv, verdict = of?.summary.verdict;
  const says: Readonly<Record<ProgramStage, () => string | undefined>> = {
    "measure-curve": () =>
      leaves &&
      `From all your leaves together the kit has R = ${leaves.radius.value.toFixed(0)} ± ${
        leaves.radius.u?.toFixed(0) ?? "?"
      } mm.`,
    "weigh-readings": () =>
      leaves?.radius.u === undefined
        ? undefined
        : `For all rows together, with the leaves’ own make and the place of the straight-edge, the kit has ± ${
          digits(leaves.radius.u, 2)
        } mm.`,
    "polish-surface": () => {
      const { firstHours, firstPits, lastHours, lastPits } = given as PitReadings;
      const fall = pitFall([
        { hours: firstHours, pits: firstPits, fields: 1 },
        { hours: lastHours, pits: lastPits, fields: 1 },
      ]);
      return fall === undefined
        ? "The kit doubts that the count falls at all: it scatters by its root."
        : `The kit has ${fall.halving.value.toFixed(2)} ± ${
          fall.halving.u.toFixed(2)
        } h: a count scatters by its root.`;
    },
    "read-bands": () => {
      const photo = of?.summary.figure?.photos?.at(-1)?.offset;
      return `More or fewer on the photograph: the grating stood elsewhere than you wrote${
        photo?.value === undefined
          ? "."
          : `. The kit fitted every pixel, and has ${
            Math.abs(photo.value).toFixed(2)
          } mm from the centre.`
      }`;
    },
    "measure-zones": () => {
      const { zones } = given as SurfaceReadings;
      const ideal = (zones.at(-1)?.ideal ?? NaN) - (zones[0]?.ideal ?? NaN);
      return `A paraboloid would read ${ideal.toFixed(2)} mm.`;
    },
    "judge-mirror": () =>
      surface &&
      `The kit, with every diameter, smooth between the rings and out to the rim, has ${
        surface.value.toFixed(0)
      } ± ${surface.u?.toFixed(0) ?? "?"} nm.`,
    "shape-surface": () =>
      verdict &&
      `The kit, which draws the readings and asks what hides between the rings, says ${verdict.meetsGoal}, with a probability of ${
        digits(verdict.probability, 2)
      }.`,
  };
  return says[stage]() ?? "";
}

/**
 * Judges a step of the reader's own program against the kit's sum of the same readings, and then says what the kit makes of all.
 *
 * @param stage  "measure-curve"
 * @param mine   what the program in the cell gave; undefined where nothing was written yet
 * @throws {RangeError} for a stage at which the program does not grow
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * const { go, nogo, chord } = programReadings(demo, demo, "measure-curve"), s = (go + nogo) / 2;
 * assert.match(ownProgram(demo, demo, "measure-curve", chord ** 2 / (8 * s)).text, /The leaf has a width/);
 * ```
 */
export function ownProgram<S extends ProgramStage>(
  yours: Mirror,
  demo: Mirror,
  stage: S,
  mine?: number | string,
): Shown {
  const { readings, of } = found(yours, demo, stage);
  const asked: Exercise = steps[stage](readings), title = "Your own program";
  const whose = of === undefined
    ? "There are no readings of yours yet: these are an example."
    : of === yours && !yours.isDemo
    ? ""
    : "There are no readings of yours yet: these are the demo’s.";
  const isRight = mine !== undefined && judge(asked, mine).is === "right";
  const words = `${whose} ${isRight ? kitSays(stage, of, readings) : ""}`.trim();
  const block = questionBlock(asked, title, mine);
  return words === "" ? block : together(block, note(words));
}
