/** Exercises with the reader's own numbers, from the coating to the sky. */
import { silverOnGlass, twoMirrors } from "../../coating/mod.ts";
import type { Mirror } from "../../knowledge/open.ts";
import { thickReflectance } from "../../optics/film.ts";
import { decision } from "../../record/tables.ts";
import { balance } from "../../telescope/balance.ts";
import { collimationTolerance, tiltAfter } from "../../telescope/collimation.ts";
import { flatToFocus } from "../../telescope/layout.ts";
import { type Asked, digits } from "./asked.ts";

/** The focal length that the telescope is built for, whole millimetres. */
const focal = ({ record: { settings }, summary }: Mirror): number =>
  Math.round(summary.curve?.focalLength?.value ?? settings.focalLength);

/** The silver that the reader's own face would take. */
export function silverOwn({ record: { settings: { aperture } } }: Mirror): Asked {
  const { areaCm2, mass } = silverOnGlass({ diameter: aperture }), answer = 1000 * mass;
  return {
    ask:
      `Your mirror is ${aperture} mm wide, and a film of 100 nm weighs 0.1049 mg on each cm². How much silver would it take?`,
    unit: "mg",
    answer,
    traps: [
      { value: 4 * answer, hint: "D" },
      { value: areaCm2, hint: "That is the area in cm². How much does a cm² weigh?" },
    ],
    hints: [
      "What is the area of a disc: by its width, or by half of it?",
      `Look at π × ${aperture / 20}² = ${digits(areaCm2, 3)} cm².`,
      `${digits(areaCm2, 3)} × 0.1049 = ${digits(answer, 3)} mg.`,
    ],
  };
}

/** What two mirrors of aluminium and the reader's flat leave of the light. */
export function lightLeft({ summary: { telescope } }: Mirror): Asked | undefined {
  const wide = telescope?.obstructionByDiameter;
  if (wide === undefined || !(wide > 0)) return undefined;
  const share = Number(wide.toFixed(2)), one = thickReflectance("aluminium");
  const answer = 100 * twoMirrors("aluminium", share);
  return {
    ask: `Fresh aluminium sends back ${
      (100 * one).toFixed(1)
    } % of the light, and light meets two mirrors in your telescope. Your flat is ${share} as wide as the mirror. How many per cent of the light that falls in come to the eyepiece?`,
    unit: "%",
    answer,
    tolerance: 0.01 * answer,
    traps: [
      { value: 100 * one ** 2, hint: "And what the flat’s shadow takes?" },
      { value: 100 * one * (1 - share ** 2), hint: "The light meets metal twice." },
      { value: 100 * one ** 2 * (1 - share), hint: "Q" },
    ],
    hints: [
      "What does each mirror leave, and what part of the face does the flat hide?",
      `Look at ${one.toFixed(3)}² and at 1 − ${share}².`,
      `${one.toFixed(3)}² × (1 − ${share}²) = ${(answer / 100).toFixed(3)}, ${
        answer.toFixed(1)
      } %.`,
    ],
  };
}

/** What one turn of one of the reader's screws does. */
export function tiltOfTurn({ record: { settings } }: Mirror): Asked | undefined {
  const { screws } = settings.telescope ?? {};
  if (screws === undefined || !isEven(screws.angles)) return undefined;
  const { pitch, radius } = screws, answer = arcmin(pitch / (1.5 * radius));
  return {
    ask:
      `Your three screws have ${pitch} mm of pitch and stand on a circle of ${radius} mm radius. By how many arcminutes does one turn of one screw tilt the mirror?`,
    unit: "arcmin",
    answer,
    traps: [
      { value: 1.5 * answer, hint: "About which line does it turn?" },
      { value: pitch / (1.5 * radius), hint: "That is in radians." },
      { value: answer / 60, hint: "That is in degrees." },
      { value: 2 * answer, hint: "So far the ray turns. How far does the mirror?" },
    ],
    hints: [
      "About which line does the mirror turn when one screw moves?",
      `Look at the line through the other two screws: 1.5 × ${radius} mm away.`,
      `${pitch} ÷ ${digits(1.5 * radius, 4)} = ${digits(pitch / (1.5 * radius), 3)} rad, that is ${
        digits(answer, 3)
      } arcminutes.`,
    ],
  };
}

/** How much of a turn the reader's mirror may be off: what stopping goes by. */
export function turnAllowed(yours: Mirror): Asked | undefined {
  const { settings } = yours.record, { screws } = settings.telescope ?? {};
  if (screws === undefined || !isEven(screws.angles)) return undefined;
  const { tilt } = collimationTolerance(
    { aperture: settings.aperture, focalLength: focal(yours) },
    settings.goal.wavelength,
  );
  const [may, turn] = [tilt, Math.hypot(...Object.values(tiltAfter(screws, [1, 0, 0])))]
    .map((one) => Number(arcmin(one).toFixed(1)));
  if (may === undefined || turn === undefined || !(turn > 0)) return undefined;
  const answer = may / turn;
  return {
    ask:
      `Your mirror may be tilted by ${may} arcminutes before coma is seen, and a turn of one screw tilts it by ${turn}. How much of a turn is that?`,
    unit: "",
    answer,
    traps: [
      { value: 1 / answer, hint: "Which of the two stands above the line?" },
      { value: answer / 2, hint: "The mirror’s own tilt is allowed as much, not the ray’s." },
    ],
    hints: [
      "What is allowed, and what does a whole turn do?",
      `Look at ${may} and ${turn} arcminutes.`,
      `${may} ÷ ${turn} = ${digits(answer, 2)} of a turn.`,
    ],
  };
}

const arcmin = (angle: number): number => angle * 180 * 60 / Math.PI;

/** Whether three screws stand a third of a circle apart. */
function isEven(angles: readonly number[]): boolean {
  const [a = NaN, b = NaN, c = NaN] = angles.toSorted((x, y) => x - y), third = 2 * Math.PI / 3;
  return [b - a, c - b].every((gap) => Math.abs(gap - third) < 0.01);
}

/** The reader's tube. */
export function toFocus({ record }: Mirror): Asked | undefined {
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

/** Where the reader's own parts balance. */
export function balanceOwn({ record }: Mirror): Asked | undefined {
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
export function holdOwn({ summary: { telescope } }: Mirror): Asked | undefined {
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

/** How far the eyepiece goes out of focus for five waves at the reader's own focal ratio. */
export function outOfFocus({ record: { settings }, summary }: Mirror): Asked | undefined {
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

/** The reader's strongest eyepiece. */
export function power({ record: { settings }, summary }: Mirror): Asked | undefined {
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

/** How wide the light is where it meets the reader's flat: what the flat's size goes by. */
export function coneAtFlat(yours: Mirror): Asked | undefined {
  const { tube, focuser } = yours.record.settings.telescope ?? {};
  if (tube === undefined || focuser === undefined) return undefined;
  const far = flatToFocus({ ...tube, ...focuser }), f = focal(yours);
  const { aperture } = yours.record.settings, answer = aperture * far / f;
  return {
    ask:
      `Your mirror is ${aperture} mm wide, and its light comes to a point ${f} mm from it. How wide is the light where it meets the flat, ${far} mm before that point? A narrower flat would cut it.`,
    unit: "mm",
    answer,
    traps: [
      { value: answer / 2, hint: "The whole width, not half of it." },
      {
        value: aperture * (f - far) / f,
        hint: "It is narrowest at the focus. From which end do you count?",
      },
    ],
    hints: [
      "By what part of its way has the light still to go?",
      `Look at ${far} ÷ ${f} = ${digits(far / f, 3)}.`,
      `${aperture} × ${far} ÷ ${f} = ${digits(answer, 3)} mm.`,
    ],
  };
}

/** How wide a star's disc of light is, so far out of focus. */
export function discOfStar(yours: Mirror): Asked {
  const { aperture } = yours.record.settings, f = focal(yours), ratio = f / aperture;
  const out = Number((5 * 8 * 0.00055 * ratio ** 2).toPrecision(2)), answer = out / ratio;
  return {
    ask: `So far out, by ${out} mm, how wide is the star’s disc of light? N is ${
      digits(ratio, 3)
    }.`,
    unit: "mm",
    answer,
    traps: [
      { value: out * ratio, hint: "The cone is narrow: N times as long as it is wide." },
      { value: answer / 2, hint: "From the middle to the rim. And the whole width?" },
    ],
    hints: [
      "How wide is a cone of light that is N times as long as wide?",
      `Look at ${out} and ${digits(ratio, 3)}.`,
      `${out} ÷ ${digits(ratio, 3)} = ${digits(answer, 2)} mm.`,
    ],
  };
}

/** How wide the light is that comes out of the reader's weakest eyepiece. */
export function widthAtEye(yours: Mirror): Asked | undefined {
  const { settings } = yours.record;
  const longest = Math.max(
    ...(settings.telescope?.eyepieces ?? []).map(({ focalLength }) => focalLength),
  );
  if (!Number.isFinite(longest)) return undefined;
  const f = focal(yours), times = Number((f / longest).toPrecision(3));
  const answer = settings.aperture / times;
  return {
    ask:
      `Your eyepiece of ${longest} mm magnifies ${times} times. All the light of your ${settings.aperture} mm comes out of it in a round spot: how wide? An eye in the dark opens to 5 to 7 mm; what is wider is lost.`,
    unit: "mm",
    answer,
    traps: [{ value: times / settings.aperture, hint: "Which of the two stands above the line?" }],
    hints: [
      "The picture is so many times wider. And the bundle of light?",
      `Look at ${settings.aperture} and ${times}.`,
      `${settings.aperture} ÷ ${times} = ${digits(answer, 2)} mm.`,
    ],
  };
}
