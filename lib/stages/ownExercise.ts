/** A second exercise with the reader's own readings: asked, answered and trapped by what stands in the folder. */
import type { Shown } from "../figures/show.ts";
import { say } from "../figures/words.ts";
import { depthsRead, type MethodDepth } from "../knowledge/depthReading.ts";
import type { Mirror } from "../knowledge/open.ts";
import { ownExerciseBlock } from "../lessons/block.ts";
import type { NumberExercise } from "../lessons/exercise.ts";
import { isHollow } from "../measuring/depthsUnderChord.ts";
import { chordOf } from "../measuring/gauges.ts";
import { bracket, depthFromLeaves } from "../measuring/methods/leaves.ts";
import { CannotTell } from "../numeric/cannotTell.ts";
import { knifePosition } from "../optics/conic.ts";
import { radiusFromSagitta } from "../optics/sphere.ts";
import { typeA } from "../quantity/typeB.ts";
import { flatToFocus } from "../telescope/layout.ts";
import { effectiveRadius } from "../testing/zones/openings.ts";

type Asked = Omit<NumberExercise, "id">;

const digits = (value: number, figures: number): string =>
  String(Number(value.toPrecision(figures)));

/** The latest leaves. */
function leaves({ record: { sagitta, settings } }: Mirror): Asked | undefined {
  const row = sagitta.findLast(({ go, nogo }) => go !== undefined && nogo !== undefined);
  if (row?.go === undefined || row.nogo === undefined) return undefined;
  const { middle } = bracket(row.go, row.nogo), { aperture, gauges } = settings;
  const chord = chordOf(settings, row.chord), { width } = gauges.leaves;
  if (!isHollow(middle, chord, aperture)) return undefined;
  const depth = depthFromLeaves(middle, chord, width), answer = radiusFromSagitta(depth, chord);
  const sum = (stack: readonly number[]): string =>
    stack.reduce((all, one) => all + one, 0).toFixed(2);
  const wide = radiusFromSagitta(depth, aperture);
  return {
    ask:
      `Your latest leaves, line ${row.line} of ${row.file}: ${sum(row.go)} mm passes, ${
        sum(row.nogo)
      } mm does not, ` +
      `on a chord of ${
        digits(chord, 5)
      } mm, with leaves ${width} mm wide. What is the radius of curvature?`,
    unit: "mm",
    answer,
    tolerance: 0.01 * answer,
    traps: [
      ...(chord === aperture ? [] : [{
        value: wide,
        hint: `That is for a chord of ${aperture} mm. Where does the straight-edge rest?`,
      }]),
      { value: radiusFromSagitta(depth, 2 * chord), hint: "D" },
      { value: answer / 2, hint: "F" },
    ],
    hints: [
      "What does the straight-edge rest on, and how deep is it in the middle of the gap?",
      `Look at the chord, ${digits(chord, 5)} mm, and at ${depth.toFixed(4)} mm.`,
      `(${digits(chord / 2, 5)}² + ${depth.toFixed(4)}²) ÷ (2 × ${depth.toFixed(4)}) = ${
        answer.toFixed(0)
      } mm.`,
    ],
  };
}

/** Two depths of the log far apart, none set aside, with one grade and the mirror on top between them. */
function twoDepths(
  { record, summary }: Mirror,
): { readonly first: MethodDepth; readonly last: MethodDepth } | undefined {
  const aside = summary.curve?.setAside ?? [];
  const read = depthsRead(record).filter(({ file, line, sagitta, method }) =>
    method === "leaves" && sagitta > 0 &&
    !aside.some((one) => one.file === file && one.line === line)
  );
  const [begun] = record.grinding, first = read[0];
  const changed = record.grinding.findIndex(({ abrasive, position }) =>
    abrasive !== begun?.abrasive || position !== "mirror on top"
  );
  const alike = record.grinding.slice(0, changed < 0 ? undefined : changed)
    .reduce((sum, { minutes }) => sum + minutes, 0);
  const last = read.findLast(({ sagitta, afterMin }) =>
    first !== undefined && afterMin > first.afterMin && sagitta > first.sagitta &&
    (afterMin <= alike || begun === undefined)
  );
  return first === undefined || last === undefined ? undefined : { first, last };
}

/** How fast it deepens, from two depths of the log. */
function rate(mirror: Mirror): Asked | undefined {
  const two = twoDepths(mirror);
  if (two === undefined) return undefined;
  const { first, last } = two, min = last.afterMin - first.afterMin;
  const deep = Number((last.sagitta - first.sagitta).toFixed(3)), answer = deep / min * 1000;
  return {
    ask:
      `Your log: ${first.sagitta.toFixed(3)} mm deep after ${first.afterMin} minutes, ${
        last.sagitta.toFixed(3)
      } mm ` +
      `after ${last.afterMin}. How many micrometres a minute is that?`,
    unit: "µm/min",
    answer,
    traps: [
      { value: answer / 1000, hint: "That is in millimetres a minute." },
      { value: 1 / answer, hint: "Which of the two stands above the line?" },
      {
        value: last.sagitta / last.afterMin * 1000,
        hint: "From the first reading on, not from the beginning.",
      },
    ],
    hints: [
      "By how much is it deeper, and in how many minutes?",
      `Look at ${deep.toFixed(3)} mm in ${min} minutes.`,
      `${(1000 * deep).toFixed(0)} ÷ ${min} = ${answer.toFixed(2)} µm a minute.`,
    ],
  };
}

/** The scatter of the Sun's image, or of the leaves. */
function mean({ record }: Mirror): Asked | undefined {
  const sun = record.sun.flatMap(({ distance }) => distance === undefined ? [] : [distance]);
  if (sun.length < 3) return undefined;
  const taken = sun.slice(0, 8), { s, u } = typeA(taken);
  if (!(u > 0)) return undefined;
  return {
    ask: `Your settings of the Sun’s image: ${taken.map((one) => digits(one, 6)).join(", ")} mm. ` +
      "What is the standard uncertainty of their mean, from their scatter alone?",
    unit: "mm",
    answer: u,
    traps: [
      { value: s, hint: "That is one reading’s spread. And that of the mean?" },
      {
        value: s / taken.length,
        hint: `Divide by the root of ${taken.length}, not by ${taken.length}.`,
      },
    ],
    hints: [
      "Of one reading, or of the mean?",
      `Look at the spread, ${digits(s, 3)} mm, and at √${taken.length}.`,
      `${digits(s, 3)} ÷ √${taken.length} = ${digits(u, 3)} mm.`,
    ],
  };
}

/** The minutes that were left at a reading of the log. */
function minutesLeft(mirror: Mirror): Asked | undefined {
  const { grinding } = mirror.summary, speed = grinding?.rates.mirrorOnTop?.value;
  const stop = grinding?.stopAt?.value ?? grinding?.targetSagitta.value;
  if (speed === undefined || stop === undefined) return undefined;
  const read = depthsRead(mirror.record).findLast(({ sagitta }) =>
    sagitta > 0 && stop - sagitta > 0.02
  );
  if (read === undefined) return undefined;
  const left = Number(stop.toFixed(3)) - Number(read.sagitta.toFixed(3));
  const answer = 1000 * left / Number(speed.toFixed(2));
  return {
    ask:
      `After ${read.afterMin} minutes you read ${
        read.sagitta.toFixed(3)
      } mm. With the mirror on top it deepens ` +
      `${speed.toFixed(2)} µm a minute, and the stop is at ${
        stop.toFixed(3)
      } mm. How many minutes were left?`,
    unit: "min",
    answer,
    traps: [
      { value: answer / 1000, hint: "Both in micrometres, or both in millimetres?" },
      { value: read.afterMin + answer, hint: "From then on, or from the start?" },
      { value: 1 / answer, hint: "Which of the two stands above the line?" },
    ],
    hints: [
      "How many micrometres were left?",
      `Look at ${stop.toFixed(3)} − ${read.sagitta.toFixed(3)} = ${
        left.toFixed(3)
      } mm, and at its unit.`,
      `${(1000 * left).toFixed(0)} ÷ ${speed.toFixed(2)} = ${answer.toFixed(1)} min.`,
    ],
  };
}

/** What a paraboloid would read through the reader's own mask. */
function maskSpread({ record, summary }: Mirror): Asked | undefined {
  const last = record.zones.at(-1), { tester } = record.settings;
  if (last === undefined) return undefined;
  const day = record.zones.filter(({ date }) => date === last.date);
  const openings = [...day].sort((a, b) => a.inner - b.inner);
  const [first, end] = [openings[0], openings.at(-1)];
  const radius = Math.round(summary.curve?.radius?.value ?? summary.design.radius.value);
  if (first === undefined || end === undefined || end.inner <= first.inner) return undefined;
  const at = [first, end].map((opening) => effectiveRadius(opening, tester.openings));
  const moves = tester.source === "moves with knife";
  const read = at.map((r) => knifePosition(r, { radius, conic: -1 }, moves ? "moves" : "fixed"));
  const answer = (read[1] ?? NaN) - (read[0] ?? NaN);
  if (!(answer > 0)) return undefined;
  return {
    ask:
      `Your mask’s first opening goes from ${digits(first.inner, 4)} to ${
        digits(first.outer, 4)
      } mm, its last from ` +
      `${digits(end.inner, 4)} to ${digits(end.outer, 4)} mm; R is ${radius} mm, and your lamp ${
        moves ? "travels with the knife" : "stays put"
      }. By how much would the reading of a perfect mirror change from the first to the last?`,
    unit: "mm",
    answer,
    traps: [{
      value: moves ? 2 * answer : answer / 2,
      hint: moves ? "So it is where the lamp does not move." : "So it is where the lamp moves too.",
    }],
    hints: [
      "At which radius does an opening count, and does the lamp travel?",
      `Look at the radii ${at.map((r) => r.toFixed(1)).join(" and ")} mm, and at R.`,
      `(${at[1]?.toFixed(1)}² − ${at[0]?.toFixed(1)}²) ÷ ${moves ? "2 × " : ""}${radius} = ${
        answer.toFixed(3)
      } mm.`,
    ],
  };
}

/** The reader's glass as a wavefront. */
function wavefront({ summary }: Mirror): Asked | undefined {
  const found = summary.figure?.zones?.surfacePv;
  if (found === undefined || !(found.value > 0)) return undefined;
  const glass = Number(found.value.toPrecision(3)), answer = 2 * glass / 550;
  return {
    ask:
      `Your glass is ${glass} nm from its highest to its lowest. What is the P-V of its wavefront, in waves of 550 nm?`,
    unit: "wave",
    answer,
    traps: [{ value: answer / 2, hint: "W" }],
    hints: [
      "How many times does the light meet the error of the glass?",
      `Look at ${glass} nm of glass and 550 nm of light.`,
      `2 × ${glass} ÷ 550 = ${digits(answer, 3)} wave.`,
    ],
  };
}

/** The reader's tube. */
function toFocus({ record }: Mirror): Asked | undefined {
  const { tube, focuser } = record.settings.telescope ?? {};
  if (tube === undefined || focuser === undefined) return undefined;
  const { innerDiameter, wall } = tube, { height, margin } = focuser;
  const answer = flatToFocus({ innerDiameter, wall, height, margin });
  return {
    ask:
      `Your tube is ${innerDiameter} mm wide inside, its wall ${wall} mm thick; your focuser is ${height} mm high, and ` +
      `${margin} mm are to be spare. How far is it from the flat’s centre to the focus?`,
    unit: "mm",
    answer,
    tolerance: 0.02 * answer,
    traps: [{ value: answer + innerDiameter / 2, hint: "D" }],
    hints: [
      "From which line in the tube is the distance counted?",
      `Look at half of ${innerDiameter} mm.`,
      `${innerDiameter / 2} + ${wall} + ${height} + ${margin} = ${digits(answer, 5)} mm.`,
    ],
  };
}

/** The reader's strongest eyepiece. */
function power({ record: { settings }, summary }: Mirror): Asked | undefined {
  const eyepieces = settings.telescope?.eyepieces ?? [];
  const shortest = Math.min(...eyepieces.map(({ focalLength }) => focalLength));
  if (!Number.isFinite(shortest)) return undefined;
  const f = Math.round(summary.curve?.focalLength?.value ?? settings.focalLength);
  const answer = f / shortest;
  return {
    ask:
      `How many times does your eyepiece of ${shortest} mm magnify on your mirror of f = ${f} mm?`,
    unit: "",
    answer,
    traps: [{ value: 2 * answer, hint: "F" }],
    hints: [
      "Which of the mirror’s two lengths makes the image?",
      `Look at ${f} and ${shortest}.`,
      `${f} ÷ ${shortest} = ${digits(answer, 3)} times.`,
    ],
  };
}

/** Which readings each exercise is made from, and how. */
const made: Readonly<
  Record<string, readonly [needs: string, make: (yours: Mirror) => Asked | undefined]>
> = {
  "grind-hollow": ["two depths in sagitta.csv, with their minutes,", rate],
  "measure-curve": ["a row of leaves in sagitta.csv", leaves],
  "weigh-readings": ["three settings of the Sun’s image in sun.csv", mean],
  "correct-depth": ["a log with a rate and a depth before the stop", minutesLeft],
  "measure-zones": ["zones read through your mask, in zones.csv,", maskSpread],
  "judge-mirror": ["a surface from zones.csv", wavefront],
  "place-flat": ["tube and focuser in mirror.yaml", toFocus],
  "observe-sky": ["an eyepiece in mirror.yaml", power],
};

/**
 * An exercise with the reader's own numbers, judged as the others are, its answer out of plain sight; where there are no
 * readings yet, which are wanted.
 *
 * @param yours  the reader's mirror
 * @param stage  "measure-curve"
 * @throws {RangeError} for a stage that has none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.match(ownExercise(demo, "judge-mirror").text, /^With your numbers: Your glass is \d+\.?\d* nm/);
 * ```
 */
export function ownExercise(yours: Mirror, stage: string): Shown {
  const entry = made[stage];
  if (entry === undefined) {
    throw new RangeError(
      `ownExercise requires one of ${Object.keys(made).join(", ")}, got "${stage}"`,
    );
  }
  const [needs, make] = entry;
  const asked = askedOf(yours, make);
  return asked === undefined
    ? say`With ${needs} a second exercise stands here, with your own numbers.`
    : ownExerciseBlock({ id: `${stage}-yours`, ...asked }, "With your numbers");
}

/** Readings that cannot tell give no exercise. */
function askedOf(yours: Mirror, make: (yours: Mirror) => Asked | undefined): Asked | undefined {
  try {
    const asked = make(yours);
    return asked !== undefined && Number.isFinite(asked.answer) ? asked : undefined;
  } catch (error) {
    if (error instanceof CannotTell) return undefined;
    throw error;
  }
}
