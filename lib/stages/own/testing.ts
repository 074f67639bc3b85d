/** Exercises with the reader's own numbers, from the lap to the last session of figuring. */
import type { Mirror } from "../../knowledge/open.ts";
import { grainUm } from "../../knowledge/rules.ts";
import { knifePosition } from "../../optics/conic.ts";
import { fact } from "../../record/tables.ts";
import { pitchNeeded, usualLap } from "../../shaping/lap/lap.ts";
import { polishPressure } from "../../shaping/lap/polish.ts";
import { discMass } from "../../telescope/cell.ts";
import { bandSpacing } from "../../testing/bands/ronchi.ts";
import { effectiveRadius } from "../../testing/zones/openings.ts";
import { discOf } from "../weight.ts";
import { type Asked, digits, inDoubts, ofMean } from "./asked.ts";

/** Pitch for the reader's own lap. */
export function pitchOwn({ record: { settings: { aperture } } }: Mirror): Asked | undefined {
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
export function pressOwn(yours: Mirror): Asked | undefined {
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

/** Minutes of polish before the first test, as the log tells. */
function polishMinutes({ zones, grinding }: Mirror["record"]): number {
  const tested = zones.flatMap(({ date }) => date ?? []).sort()[0];
  return grinding.filter(({ abrasive, date = "" }) =>
    grainUm(abrasive) === undefined && (tested === undefined || date < tested)
  ).reduce((sum, { minutes }) => sum + minutes, 0);
}

/** What the reader's hours have taken from the rim. */
export function offTheRim({ record }: Mirror): Asked | undefined {
  const minutes = polishMinutes(record);
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
export function bandsApart(yours: Mirror): Asked | undefined {
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
export function bandsDoubt(yours: Mirror): Asked | undefined {
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

/** What a paraboloid would read through the reader's own mask. */
export function maskSpread({ record, summary }: Mirror): Asked | undefined {
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
export function wavefront({ summary }: Mirror): Asked | undefined {
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

/** Minutes of ordinary rubbing for some nanometres of glass. */
function minutesFor(nm: number, ask: string, then = ""): Asked {
  const answer = nm / (1300 / 60);
  return {
    ask,
    unit: "min",
    answer,
    traps: [
      { value: answer / 60, hint: "Those are hours." },
      { value: 2 * answer, hint: "W" },
    ],
    hints: [
      "How many nanometres go in a minute?",
      `Look at 1300 ÷ 60 = 21.7 nm a minute, and at ${nm} nm.`,
      `${nm} ÷ 21.7 = ${digits(answer, 2)} min.${then}`,
    ],
  };
}

/** Minutes of ordinary rubbing for what the reader's glass stands too high. */
export function minutesForHeight({ summary }: Mirror): Asked | undefined {
  const found = summary.figure?.zones?.surfacePv;
  if (found === undefined || !(found.value > 0)) return undefined;
  const glass = Number(found.value.toPrecision(2));
  return minutesFor(
    glass,
    `Your glass is ${glass} nm from its highest to its lowest. At 1.3 µm an hour, how many minutes of rubbing are that?`,
  );
}

/** How far the reader's mirror has slid over its lap. */
export function wayOverLap({ record }: Mirror): Asked | undefined {
  const minutes = polishMinutes(record);
  if (!(minutes > 0)) return undefined;
  const pace = fact("pace"),
    third = Number((record.settings.aperture * fact("stroke_length")).toPrecision(3));
  const answer = 2 * minutes * pace * third / 1e6;
  return {
    ask:
      `${minutes} minutes of polish at ${pace} strokes a minute, each ${third} mm forth and as much back. How many kilometres has the mirror slid over the lap?`,
    unit: "km",
    answer,
    traps: [
      { value: answer / 2, hint: "Forth and back is one stroke." },
      { value: 1000 * answer, hint: "Those are metres." },
      { value: 1e6 * answer, hint: "Those are millimetres." },
    ],
    hints: [
      "How many strokes, and how far is one?",
      `Look at ${minutes} × ${pace} strokes and at 2 × ${third} mm.`,
      `${minutes} × ${pace} × ${digits(2 * third, 4)} = ${digits(answer * 1e6, 3)} mm, ${
        digits(answer, 3)
      } km.`,
    ],
  };
}

/** How sure the mean of the readings of one opening is. */
export function openingMean({ record: { zones } }: Mirror): Asked | undefined {
  const alike = Map.groupBy(
    zones,
    ({ date, knifeDeg, angleDeg, inner, outer }) =>
      [date, knifeDeg, angleDeg, inner, outer].join(" "),
  );
  const read = [...alike.values()].findLast((rows) => rows.length >= 3)?.slice(0, 6) ?? [];
  if (read[0] === undefined) return undefined;
  const { inner, outer } = read[0];
  return ofMean(
    `Your readings of the opening from ${digits(inner, 4)} to ${digits(outer, 4)} mm`,
    read.map(({ reading }) => reading),
    (one) => one.toFixed(2),
  );
}

/** How far the light's error is from the goal, in its own doubt: what the verdict goes by. */
export function goalInDoubts(
  { record: { settings: { goal } }, summary }: Mirror,
): Asked | undefined {
  const found = summary.figure?.zones?.wavefrontPv;
  if (found?.u === undefined) return undefined;
  const [value, u] = [Number(found.value.toFixed(3)), Number(found.u.toFixed(3))];
  const allowed = 2 * goal.surfaceWaves;
  return inDoubts({
    ask: `Your wavefront has a P-V of ${value.toFixed(3)} ± ${
      u.toFixed(3)
    } wave (± u), the goal allows ${allowed}. By how many u is it over? Below 0 it is within; closer than two either way nobody can tell yet.`,
    first: value,
    second: allowed,
    u,
    unit: "waves",
    digitsAfter: 3,
  });
}

/** How sure those minutes are. */
export function minutesDoubt({ summary }: Mirror): Asked | undefined {
  const found = summary.figure?.zones?.surfacePv;
  if (found?.u === undefined || !(found.u > 0)) return undefined;
  const u = Number(found.u.toPrecision(2));
  return minutesFor(
    u,
    `Those nanometres have u = ${u} nm. What does that make of the minutes: how many of them are unsure, if the rate itself is sure?`,
    " So stop well before, and test.",
  );
}
