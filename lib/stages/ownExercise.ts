/** Exercises with the reader's own readings: asked, answered and trapped by what stands in the folder. */
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
import { bandSpacing } from "../testing/bands/ronchi.ts";
import { balance } from "../telescope/balance.ts";
import { discMass } from "../telescope/cell.ts";
import { polishPressure } from "../shaping/lap/polish.ts";
import { pitchNeeded, usualLap } from "../shaping/lap/lap.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import { decision, fact } from "../record/tables.ts";
import { discOf } from "./weight.ts";
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

/** How far the eyepiece goes out of focus for five waves at the reader's own focal ratio. */
function outOfFocus({ record: { settings }, summary }: Mirror): Asked | undefined {
  const { aperture } = settings,
    f = Math.round(summary.curve?.focalLength?.value ?? settings.focalLength);
  const ratio = f / aperture, wave = 8 * 0.00055 * ratio ** 2, answer = 5 * wave;
  return {
    ask:
      `Your mirror is ${aperture} mm wide, with f = ${f} mm. How far do you draw the eyepiece for 5 waves of 0.00055 mm out of focus? One wave takes 8 × wavelength × N².`,
    unit: "mm",
    answer,
    tolerance: 0.04 * answer,
    traps: [
      { value: 4 * answer, hint: "F" },
      { value: wave, hint: "That is for one wave. How many were asked for?" },
    ],
    hints: [
      "What is N, focal length over width?",
      `Look at N = ${digits(ratio, 3)}, and at 8 × 0.00055 × N².`,
      `5 × ${digits(wave, 3)} = ${digits(answer, 3)} mm.`,
    ],
  };
}

/** What a bevel that is forgotten does to the radius under the reader's own straight-edge. */
function bevelForgotten({ record: { settings: { aperture, bevel } } }: Mirror): Asked | undefined {
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
function massOfDisc(yours: Mirror): Asked | undefined {
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

/** How sure that rate is. */
function rateDoubt(mirror: Mirror): Asked | undefined {
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

/** How far the depth is from the wanted one, in its own doubt: what the decision goes by. */
function depthInDoubts({ summary }: Mirror): Asked | undefined {
  const now = summary.grinding?.sagittaNow, wanted = summary.grinding?.targetSagitta.value;
  if (now?.u === undefined || wanted === undefined) return undefined;
  const depth = Number(now.value.toFixed(4)), u = Number(now.u.toFixed(4));
  const target = Number(wanted.toFixed(4)), off = Number((depth - target).toFixed(4));
  if (!(u > 0) || off === 0) return undefined;
  const answer = off / u;
  return {
    ask: `Your depth is ${depth.toFixed(4)} ± ${u.toFixed(4)} mm, wanted are ${
      target.toFixed(4)
    } mm. How many of its own u is it too deep? Below 0 it is too shallow; under two either way nobody can tell it from right.`,
    unit: "",
    answer,
    traps: [
      { value: -answer, hint: "S" },
      { value: off, hint: "That is in millimetres. How many u is it?" },
    ],
    hints: [
      "How far is it from the wanted depth, and how far may it be off by itself?",
      `Look at ${depth.toFixed(4)} − ${target.toFixed(4)} = ${signedText(off)} mm.`,
      `${signedText(off)} ÷ ${u.toFixed(4)} = ${signedText(answer, 2)}.`,
    ],
  };
}

const signedText = (value: number, figures = 3): string => digits(value, figures).replace("-", "−");

/** Rows of the fine grades. */
function fineMinutes({ record }: Mirror): readonly [top: number, all: number] {
  const fine = record.grinding.filter(({ abrasive }) => ladder.includes(abrasive));
  const sum = (rows: typeof fine): number => rows.reduce((all, { minutes }) => all + minutes, 0);
  return [sum(fine.filter(({ position }) => position === "mirror on top")), sum(fine)];
}

/** The share of fine grinding with the mirror on top, of the reader's own log. */
function shareOnTop(mirror: Mirror): Asked | undefined {
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

/** Pitch for the reader's own lap. */
function pitchOwn({ record: { settings: { aperture } } }: Mirror): Asked | undefined {
  const lap = usualLap(aperture), { grams } = pitchNeeded(lap);
  return {
    ask:
      `Your lap is ${aperture} mm across and ${lap.thickness} mm thick; a cubic centimetre of pitch weighs 1.1 g. How much pitch is in it?`,
    unit: "g",
    answer: grams,
    traps: [{ value: 4 * grams, hint: "D" }, {
      value: grams / 1.1,
      hint: "Those are cubic centimetres. And the grams?",
    }],
    hints: [
      "How many cubic centimetres are poured?",
      `Look at π × ${aperture / 20}² × ${lap.thickness / 10}.`,
      `π × ${aperture / 20}² × ${lap.thickness / 10} × 1.1 = ${grams.toFixed(0)} g.`,
    ],
  };
}

/** The pressure of the reader's own mirror with two kilograms on it. */
function pressOwn(yours: Mirror): Asked | undefined {
  const disc = discOf(yours);
  if (disc === undefined) return undefined;
  const { aperture } = disc, weight = fact("press_weight");
  const kilos = Number((discMass(disc) / 1000).toFixed(2));
  const answer = polishPressure(kilos + weight, aperture);
  return {
    ask:
      `Your mirror weighs about ${kilos} kg, and ${weight} kg lie on it. How hard does it press on a lap of ${aperture} mm, in pascals, newtons on a square metre?`,
    unit: "Pa",
    answer,
    traps: [
      { value: answer / 4, hint: "D" },
      { value: answer / 9.80665, hint: "Kilograms are no newtons: one kilogram weighs 9.81 N." },
      { value: polishPressure(weight, aperture), hint: "The mirror presses too." },
    ],
    hints: [
      "How many newtons, on how many square metres?",
      `Look at ${digits(kilos + weight, 3)} × 9.81 N and π × ${aperture / 2000}² m².`,
      `${digits(kilos + weight, 3)} × 9.81 ÷ (π × ${aperture / 2000}²) = ${answer.toFixed(0)} Pa.`,
    ],
  };
}

/** What the reader's hours have taken from the rim. */
function offTheRim({ record }: Mirror): Asked | undefined {
  const tested = record.zones.flatMap(({ date }) => date ?? []).sort()[0];
  const minutes = record.grinding.filter(({ abrasive, date = "" }) =>
    grainUm(abrasive) === undefined && (tested === undefined || date < tested)
  ).reduce((sum, row) => sum + row.minutes, 0);
  if (!(minutes > 0)) return undefined;
  const answer = 0.9 * minutes / 60;
  return {
    ask:
      `Your log has ${minutes} minutes of polish. At 0.9 µm an hour at the rim, how much glass went there?`,
    unit: "µm",
    answer,
    traps: [
      { value: 0.9 * minutes, hint: "The rate is for an hour." },
      { value: 1.3 * minutes / 60, hint: "That is the middle’s rate, 1.3." },
    ],
    hints: [
      "How many hours are that?",
      `Look at ${minutes} ÷ 60 hours.`,
      `0.9 × ${minutes} ÷ 60 = ${digits(answer, 3)} µm.`,
    ],
  };
}

/** Minutes of ordinary rubbing for what the reader's glass stands too high. */
function minutesForHeight({ summary }: Mirror): Asked | undefined {
  const found = summary.figure?.zones?.surfacePv;
  if (found === undefined || !(found.value > 0)) return undefined;
  const glass = Number(found.value.toPrecision(2)), answer = glass / (1300 / 60);
  return {
    ask:
      `Your glass is ${glass} nm from its highest to its lowest. At 1.3 µm an hour, how many minutes of rubbing are that?`,
    unit: "min",
    answer,
    traps: [
      { value: answer / 60, hint: "Those are hours." },
      { value: 2 * answer, hint: "W" },
    ],
    hints: [
      "How many nanometres go in a minute?",
      `Look at 1300 ÷ 60 = 21.7 nm a minute, and at ${glass} nm.`,
      `${glass} ÷ 21.7 = ${digits(answer, 2)} min.`,
    ],
  };
}

/** Where the reader's own parts balance. */
function balanceOwn({ record }: Mirror): Asked | undefined {
  const parts = record.settings.telescope?.parts ?? [];
  if (parts.length < 2) return undefined;
  const { at: answer, mass } = balance(parts);
  const moments = parts.map(({ mass, at }) => `${mass} × ${at}`).join(" + ");
  const middle = parts.reduce((sum, part) => sum + part.at, 0) / parts.length;
  return {
    ask: `Your parts, grams and millimetres from the rear end: ${
      parts.map(({ name, mass, at }) => `${name} ${mass} g at ${at}`).join(", ")
    }. Where do they balance?`,
    unit: "mm",
    answer,
    tolerance: 0.01 * answer,
    traps: Math.abs(middle / answer - 1) < 0.05
      ? []
      : [{ value: middle, hint: "A heavy part counts for more than a light one." }],
    hints: [
      "What does each part pull with: its grams, or its grams times its distance?",
      `Look at the sum of grams, ${mass} g.`,
      `(${moments}) ÷ ${mass} = ${answer.toFixed(0)} mm.`,
    ],
  };
}

/** How many times the bearings hold what a swapped eyepiece pulls: what the decision goes by. */
function holdOwn({ summary: { telescope } }: Mirror): Asked | undefined {
  const hold = telescope?.frictionMoment?.value, pull = telescope?.swapMoment?.value;
  if (hold === undefined || pull === undefined || !(pull > 0)) return undefined;
  const [h, p] = [Number(hold.toFixed(2)), Number(pull.toFixed(2))];
  if (!(p > 0)) return undefined;
  const answer = h / p, least = decision("friction_margin_least");
  return {
    ask:
      `Your bearings hold ${h} N m by their friction, the heavier eyepiece pulls with ${p} N m. How many times does it hold? ${least} times at the least is wanted.`,
    unit: "times",
    answer,
    traps: [{ value: 1 / answer, hint: "Which of the two stands above the line?" }],
    hints: [
      "Which must be the larger?",
      `Look at ${h} and ${p}.`,
      `${h} ÷ ${p} = ${digits(answer, 2)} times.`,
    ],
  };
}

/** The latest photograph through the grating, with R. */
function latestBands(
  { record, summary }: Mirror,
):
  | { readonly lines: number; readonly offset: number; readonly u: number; readonly radius: number }
  | undefined {
  const row = record.ronchi.findLast(({ offset }) => Math.abs(offset) >= 0.5);
  if (row === undefined) return undefined;
  const radius = Math.round(summary.curve?.radius?.value ?? summary.design.radius.value);
  return { lines: row.linesPerMm, offset: row.offset, u: row.offsetU ?? 0, radius };
}

/** How far apart the bands of the reader's own photograph stand on a sphere. */
function bandsApart(yours: Mirror): Asked | undefined {
  const last = latestBands(yours), { ronchi } = yours.record.settings.tester;
  if (last === undefined) return undefined;
  const { lines, offset, radius } = last, moves = ronchi !== "fixed", far = Math.abs(offset);
  const answer = Math.abs(bandSpacing(radius, offset, lines, ronchi));
  return {
    ask: `Your latest photograph: ${digits(lines, 3)} lines in a mm, ${digits(far, 3)} mm ${
      offset < 0 ? "inside" : "outside"
    } the centre, R = ${radius} mm, the lamp ${
      moves ? "moving along" : "standing still"
    }. How far is it on a sphere from one bright band to the next?`,
    unit: "mm",
    answer,
    traps: [
      {
        value: moves ? 2 * answer : answer / 2,
        hint: moves
          ? "So it is where the lamp stands still."
          : "So it is where the lamp moves along.",
      },
      { value: answer / 2 / (moves ? 1 : 2), hint: "F" },
    ].filter(({ value }, i, all) => all.findIndex((one) => one.value === value) === i),
    hints: [
      "What is above the line: R, or the offset?",
      `Look at R = ${radius} mm, ${digits(far, 3)} mm and ${digits(lines, 3)} lines.`,
      `${radius} ÷ (${moves ? "2 × " : ""}${digits(far, 3)} × ${digits(lines, 3)}) = ${
        digits(answer, 3)
      } mm.`,
    ],
  };
}

/** What the doubt of the offset does to it. */
function bandsDoubt(yours: Mirror): Asked | undefined {
  const last = latestBands(yours);
  if (last === undefined || !(last.u > 0)) return undefined;
  const { offset, u } = last, far = Math.abs(offset), answer = 100 * u / far;
  return {
    ask: `That offset is ${digits(far, 3)} ± ${
      digits(u, 2)
    } mm. The distance of the bands goes as one over it: how many per cent does its u do to them?`,
    unit: "%",
    answer,
    traps: [
      { value: answer / 100, hint: "That is the share. And per cent?" },
      { value: 2 * answer, hint: "2" },
    ],
    hints: [
      "What part of the offset is its u?",
      `Look at ${digits(u, 2)} ÷ ${digits(far, 3)}.`,
      `${digits(u, 2)} ÷ ${digits(far, 3)} = ${digits(answer, 3)} %.`,
    ],
  };
}

/** How far R is from the plan, in per cent: what fine grinding is left by. */
function radiusOff({ summary }: Mirror): Asked | undefined {
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

/** Readings that an exercise is made from, in words, and how it is made. */
type Maker = readonly [needs: string, make: (yours: Mirror) => Asked | undefined];

/** The exercises of each stage that has its reader's own numbers, in the order in which they stand on its page. */
const made: Readonly<Record<string, readonly Maker[]>> = {
  "prepare-discs": [
    ["a bevel in mirror.yaml", bevelForgotten],
    ["glass and thickness in mirror.yaml", massOfDisc],
  ],
  "grind-hollow": [
    ["two depths in sagitta.csv, with their minutes,", rate],
    ["two depths in sagitta.csv, with their minutes,", rateDoubt],
  ],
  "measure-curve": [["a row of leaves in sagitta.csv", leaves]],
  "weigh-readings": [["three settings of the Sun’s image in sun.csv", mean]],
  "correct-depth": [
    ["a log with a rate and a depth before the stop", minutesLeft],
    ["a log and a depth", depthInDoubts],
  ],
  "smooth-surface": [
    ["minutes of fine grades both ways up in grinding.csv", shareOnTop],
    ["a radius that was measured", radiusOff],
  ],
  "pour-lap": [
    ["an aperture in mirror.yaml", pitchOwn],
    ["glass and thickness in mirror.yaml", pressOwn],
  ],
  "polish-surface": [["minutes of polish in grinding.csv", offTheRim]],
  "read-bands": [
    ["a photograph in ronchi.csv", bandsApart],
    ["a photograph with offset and offset_u in ronchi.csv", bandsDoubt],
  ],
  "measure-zones": [["zones read through your mask, in zones.csv,", maskSpread]],
  "judge-mirror": [["a surface from zones.csv", wavefront]],
  "shape-surface": [["a surface from zones.csv", minutesForHeight]],
  "place-flat": [["tube and focuser in mirror.yaml", toFocus]],
  "carry-weight": [
    ["parts of the tube in mirror.yaml", balanceOwn],
    ["parts, bearing and a swapped eyepiece in mirror.yaml", holdOwn],
  ],
  "read-star": [["an aperture and a focal length in mirror.yaml", outOfFocus]],
  "observe-sky": [["an eyepiece in mirror.yaml", power]],
};

/**
 * An exercise with the reader's own numbers, judged as the others are, its answer out of plain sight; where there are no
 * readings yet, which are wanted.
 *
 * @param yours  the reader's mirror
 * @param stage  "measure-curve"
 * @param which  1, or 2 where the stage has a second
 * @throws {RangeError} for a stage that has none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.match(ownExercise(demo, "judge-mirror").text, /^With your numbers: Your glass is \d+\.?\d* nm/);
 * ```
 */
export function ownExercise(yours: Mirror, stage: string, which: 1 | 2 = 1): Shown {
  const entry = made[stage]?.[which - 1];
  if (entry === undefined) {
    throw new RangeError(
      `ownExercise requires one of ${
        Object.keys(made).join(", ")
      }, and a second only where it has one, got "${stage}", ${which}`,
    );
  }
  const [needs, make] = entry;
  const asked = askedOf(yours, make);
  return asked === undefined
    ? say`With ${needs} an exercise stands here with your own numbers.`
    : ownExerciseBlock(
      { id: `${stage}-yours${which === 1 ? "" : `-${which}`}`, ...asked },
      which === 1 ? "With your numbers" : "And one more with your numbers",
    );
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
