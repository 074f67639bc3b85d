/** Exercises with the reader's own numbers, from the plan to the last grade. */
import { depthsRead, type MethodDepth } from "../../knowledge/depthReading.ts";
import type { Mirror } from "../../knowledge/open.ts";
import { ladder } from "../../knowledge/rules.ts";
import { isHollow } from "../../measuring/depthsUnderChord.ts";
import { chordOf } from "../../measuring/gauges.ts";
import { bracket, depthFromLeaves } from "../../measuring/methods/leaves.ts";
import { radiusFromSagitta, sagitta } from "../../optics/sphere.ts";
import { conicPvWaves } from "../../optics/sphereEnough.ts";
import { decision } from "../../record/tables.ts";
import { discMass } from "../../telescope/cell.ts";
import { discOf } from "../weight.ts";
import { type Asked, digits, inDoubts, ofMean, signedText } from "./asked.ts";

/** How deep the planned hollow is. */
export function depthPlanned({ record: { settings } }: Mirror): Asked {
  const { aperture, focalLength } = settings, radius = 2 * focalLength;
  const answer = sagitta(aperture, radius);
  return {
    ask:
      `Your disc is ${aperture} mm across, and its focal length is to be ${focalLength} mm. How deep is the curve?`,
    unit: "mm",
    answer,
    tolerance: 0.01 * answer,
    traps: [
      { value: sagitta(2 * aperture, radius), hint: "D" },
      { value: sagitta(aperture, focalLength), hint: "F" },
    ],
    hints: [
      "Which radius does the compass have, and where does the formula start?",
      `Look at r = ${aperture / 2} mm and R = ${radius} mm.`,
      `${aperture / 2}² ÷ (2 × ${radius}) = ${answer.toFixed(3)} mm.`,
    ],
  };
}

/** Whether the planned mirror may stay a sphere: what the choice of its shape goes by. */
export function sphereOverGoal({ record: { settings } }: Mirror): Asked {
  const { aperture, focalLength, goal } = settings, allowed = 2 * goal.surfaceWaves;
  const waves = Number(
    conicPvWaves({ aperture, focalLength }, 0, goal.wavelength).toPrecision(2),
  );
  const answer = waves / allowed;
  return {
    ask:
      `A perfect sphere of your size has ${waves} wave of error in its light, and your goal allows ${allowed} wave of light. How many times what is allowed is that? Up to 1 it may stay a sphere.`,
    unit: "times",
    answer,
    traps: [
      { value: 1 / answer, hint: "Which of the two stands above the line?" },
      { value: waves / goal.surfaceWaves, hint: "W" },
    ],
    hints: [
      "Which is the error, and which is allowed?",
      `Look at ${waves} and ${allowed}.`,
      `${waves} ÷ ${allowed} = ${digits(answer, 3)}.`,
    ],
  };
}

/** What a bevel that is forgotten does to the radius under the reader's own straight-edge. */
export function bevelForgotten(
  { record: { settings: { aperture, bevel } } }: Mirror,
): Asked | undefined {
  if (!(bevel > 0)) return undefined;
  const chord = aperture - 2 * bevel, answer = 100 * ((aperture / chord) ** 2 - 1);
  return {
    ask:
      `Your disc is ${aperture} mm across, its bevel ${bevel} mm wide on the face. By how many per cent is R too long if you take ${aperture} mm for the chord?`,
    unit: "%",
    answer,
    traps: [
      { value: answer / 2, hint: "Q" },
      {
        value: 100 * ((aperture / (aperture - bevel)) ** 2 - 1),
        hint: "A bevel stands at both ends of the chord.",
      },
    ],
    hints: [
      "How does R go with the chord: as it is, or squared?",
      `Look at ${aperture} and at ${aperture} − 2 × ${bevel} = ${digits(chord, 5)} mm.`,
      `(${aperture} ÷ ${digits(chord, 5)})² − 1 = ${digits(answer, 3)} %.`,
    ],
  };
}

/** The reader's disc on the scales. */
export function massOfDisc(yours: Mirror): Asked | undefined {
  const disc = discOf(yours);
  if (disc === undefined) return undefined;
  const { aperture, thickness, densityKgPerM3 } = disc, answer = discMass(disc) / 1000;
  return {
    ask:
      `Your disc: ${aperture} mm across, ${thickness} mm thick, glass of ${densityKgPerM3} kg in a cubic metre. What should the scales say?`,
    unit: "kg",
    answer,
    traps: [{ value: 4 * answer, hint: "D" }, { value: 1000 * answer, hint: "That is in grams." }],
    hints: [
      "How large is the round face, and how thick?",
      `Look at π × ${aperture / 2}² × ${thickness} cubic millimetres.`,
      `π × ${aperture / 2}² × ${thickness} × ${densityKgPerM3} ÷ 10⁹ = ${digits(answer, 3)} kg.`,
    ],
  };
}

/** The latest leaves. */
export function leaves({ record: { sagitta, settings } }: Mirror): Asked | undefined {
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
export function rate(mirror: Mirror): Asked | undefined {
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

/** How sure that rate is. */
export function rateDoubt(mirror: Mirror): Asked | undefined {
  const two = twoDepths(mirror);
  if (two === undefined || !(two.first.u > 0 && two.last.u > 0)) return undefined;
  const { first, last } = two, min = last.afterMin - first.afterMin;
  const [a, b] = [first.u, last.u].map((u) => Number((1000 * u).toFixed(1)));
  if (a === undefined || b === undefined || !(a > 0 && b > 0)) return undefined;
  const answer = Math.hypot(a, b) / min;
  return {
    ask:
      `The two depths of that rate have u = ${a} and ${b} µm, and lie ${min} minutes apart. What is the standard uncertainty of the rate?`,
    unit: "µm/min",
    answer,
    traps: [
      {
        value: (a + b) / min,
        hint: "Two doubts that know nothing of one another add by their squares.",
      },
      { value: Math.hypot(a, b), hint: "That is the doubt of the difference. And of the rate?" },
    ],
    hints: [
      "How sure is the difference of two depths?",
      `Look at √(${a}² + ${b}²) µm, and at ${min} minutes.`,
      `√(${a}² + ${b}²) ÷ ${min} = ${digits(answer, 2)} µm a minute.`,
    ],
  };
}

/** The scatter of the Sun's image. */
export function mean({ record }: Mirror): Asked | undefined {
  const sun = record.sun.flatMap(({ distance }) => distance === undefined ? [] : [distance]);
  if (sun.length < 3) return undefined;
  return ofMean("Your settings of the Sun’s image", sun.slice(0, 8), (one) => digits(one, 6));
}

/** The minutes that were left at a reading of the log. */
export function minutesLeft(mirror: Mirror): Asked | undefined {
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

/** How far the depth is from the wanted one, in its own doubt: what the decision goes by. */
export function depthInDoubts({ summary }: Mirror): Asked | undefined {
  const now = summary.grinding?.sagittaNow, wanted = summary.grinding?.targetSagitta.value;
  if (now?.u === undefined || wanted === undefined) return undefined;
  const [depth, u, target] = [now.value, now.u, wanted].map((one) => Number(one.toFixed(4)));
  if (depth === undefined || u === undefined || target === undefined) return undefined;
  return inDoubts({
    ask: `Your depth is ${depth.toFixed(4)} ± ${u.toFixed(4)} mm, wanted are ${
      target.toFixed(4)
    } mm. How many of its own u is it too deep? Below 0 it is too shallow; under two either way nobody can tell it from right.`,
    first: depth,
    second: target,
    u,
    unit: "mm",
    digitsAfter: 4,
  });
}

/** Rows of the fine grades. */
function fineMinutes({ record }: Mirror): readonly [top: number, all: number] {
  const fine = record.grinding.filter(({ abrasive }) => ladder.includes(abrasive));
  const sum = (rows: typeof fine): number => rows.reduce((all, { minutes }) => all + minutes, 0);
  return [sum(fine.filter(({ position }) => position === "mirror on top")), sum(fine)];
}

/** The share of fine grinding with the mirror on top, of the reader's own log. */
export function shareOnTop(mirror: Mirror): Asked | undefined {
  const [top, all] = fineMinutes(mirror);
  if (!(top > 0 && top < all)) return undefined;
  const answer = 100 * top / all;
  return {
    ask: `Your log of the fine grades: ${top} minutes with the mirror on top, ${
      all - top
    } with the tool on top. For how many per cent of the time was the mirror on top?`,
    unit: "%",
    answer,
    traps: [
      { value: 100 * top / (all - top), hint: "Of all the minutes, not of the others." },
      { value: 100 - answer, hint: "That is the tool’s share." },
    ],
    hints: [
      "Which minutes are all of them?",
      `Look at ${top} and ${all}.`,
      `${top} ÷ ${all} = ${answer.toFixed(0)} %.`,
    ],
  };
}

/** How far R is from the plan, in per cent: what fine grinding is left by. */
export function radiusOff({ summary }: Mirror): Asked | undefined {
  const found = summary.curve?.radius?.value, planned = summary.design.radius.value;
  if (found === undefined) return undefined;
  const [now, plan] = [Math.round(found), Math.round(planned)], most = decision("radius_off_most");
  if (now === plan) return undefined;
  const answer = 100 * (now - plan) / plan;
  return {
    ask:
      `Your R is ${now} mm, planned were ${plan}. By how many per cent is it too long? Below 0 it is too short; beyond ${
        100 * most
      } % either way fine grinding is not left yet.`,
    unit: "%",
    answer,
    traps: [
      { value: -answer, hint: "S" },
      { value: answer / 100, hint: "That is the share. And per cent?" },
    ],
    hints: [
      "How many millimetres is it off, and of how many?",
      `Look at ${now} − ${plan} = ${signedText(now - plan)} mm.`,
      `${signedText(now - plan)} ÷ ${plan} = ${signedText(answer)} %.`,
    ],
  };
}

/** What the gap between the latest leaves leaves open. */
export function leavesDoubt({ record: { sagitta, settings } }: Mirror): Asked | undefined {
  const row = sagitta.findLast(({ go, nogo }) => go !== undefined && nogo !== undefined);
  if (row?.go === undefined || row.nogo === undefined) return undefined;
  const { middle, width } = bracket(row.go, row.nogo);
  if (!(width > 0) || !isHollow(middle, chordOf(settings, row.chord), settings.aperture)) {
    return undefined;
  }
  const gap = Number(width.toFixed(3)), depth = Number(middle.toFixed(3));
  const answer = 100 * gap / Math.sqrt(12) / depth;
  return {
    ask:
      `Those leaves leave ${gap} mm open: the depth, about ${depth} mm, may lie anywhere between, so its standard uncertainty from this alone is the gap over √12. How many per cent of the depth is that? R has as many.`,
    unit: "%",
    answer,
    traps: [
      { value: 100 * gap / depth, hint: "That is the whole gap. And its standard uncertainty?" },
      { value: answer / 100, hint: "That is the share. And per cent?" },
      {
        value: 100 * gap / 12 / depth,
        hint: "The root of 12: the mean of the squares is a twelfth, u is its root.",
      },
    ],
    hints: [
      "How wide is the gap, and what does one divide by where all in it is as likely?",
      `Look at ${gap} ÷ 3.464 = ${digits(gap / Math.sqrt(12), 2)} mm, and at ${depth} mm.`,
      `${digits(gap / Math.sqrt(12), 2)} ÷ ${depth} = ${digits(answer, 2)} %.`,
    ],
  };
}

const inWords = (method: string): string => method.replace(/^sun/, "the Sun’s");

/** How far the two surest methods stand apart, in their common doubt: what weighing goes by. */
export function methodsApart({ summary }: Mirror): Asked | undefined {
  const [one, two] = (summary.curve?.estimates ?? [])
    .flatMap(({ method, radius: { value, u } }) => u === undefined ? [] : [{ method, value, u }])
    .toSorted((a, b) => a.u - b.u);
  if (one === undefined || two === undefined) return undefined;
  const said = [one, two].map(({ value, u }) => `${value.toFixed(1)} ± ${u.toFixed(1)} mm`);
  const u = Math.hypot(Number(one.u.toFixed(1)), Number(two.u.toFixed(1)));
  return inDoubts({
    ask: `Your R by ${inWords(one.method)} is ${said[0]}, by ${inWords(two.method)} ${
      said[1]
    } (± u). By how many u of their difference is the first too long? Below 0 it is shorter; under two either way they agree.`,
    first: Number(one.value.toFixed(1)),
    second: Number(two.value.toFixed(1)),
    u,
    unit: "mm",
    digitsAfter: 1,
  });
}
