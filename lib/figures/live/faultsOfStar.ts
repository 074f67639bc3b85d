/** Live: one star inside, at and outside focus, with every fault to slide in: what each does to it, alone and mixed. */
import { STAR_ACTS, STAR_CAUSES, type StarCauseName } from "../../testing/star/starCauses.ts";
import {
  MOMENT_DEFOCUS,
  NO_TROUBLE,
  type StarMoment,
  starMoment,
  type StarTroubles,
} from "./starMoment.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, rect, stroke, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, type LiveFigure, once, valueOf, type Values } from "./figure.ts";
import { type Paint, type Pixels, sideBySide } from "./pixels.ts";

const telescope = { aperture: 150, focalLength: 1200, obstruction: 0.21 };
/** Width of a picture on the page, px, and places of the one in focus: a third of the others'. */
const width = 106, focused = 32;
/** Minutes of arc in a radian. */
const ARCMIN = (180 * 60) / Math.PI;

/** Which cause each fault stands for, and by which sign of `STAR_ACTS` it shows. */
const causes: Readonly<Record<keyof StarTroubles, readonly [StarCauseName, sign: string]>> = {
  edge: ["turned edge", "rim"],
  astigmatism: ["mirror astigmatic", "oval"],
  threefold: ["pinched cell", "three corners"],
  tilt: ["mirrors not aligned", "to one side"],
  rough: ["rough glass", "mottled"],
  warmth: ["warm mirror", "wanders"],
  tubeAir: ["air in the tube", "flat side"],
  seeing: ["air above", "boils"],
};

/** A fault's sign in words. */
function lookOf(fault: keyof StarTroubles): string {
  const key = causes[fault][1];
  return STAR_ACTS[0]?.signs.find((sign) => sign.key === key)?.said ?? key;
}

/** The faults as the sliders stand. */
export function troublesOf(values: Values): StarTroubles {
  return {
    edge: valueOf(values, "edge"),
    astigmatism: valueOf(values, "astigmatism"),
    threefold: valueOf(values, "threefold"),
    tilt: valueOf(values, "tilt") / ARCMIN,
    rough: valueOf(values, "rough"),
    warmth: valueOf(values, "warmth"),
    tubeAir: valueOf(values, "tubeAir"),
    seeing: valueOf(values, "seeing"),
  };
}

const momentNow = once((values) => starMoment(troublesOf(values), telescope));

/** The strongest faults, the worst first: those that take at least half as much as the worst. */
export function strongest({ rms }: StarMoment): readonly (keyof StarTroubles)[] {
  const faults = Object.keys(NO_TROUBLE) as (keyof StarTroubles)[];
  const most = Math.max(...faults.map((fault) => rms[fault]));
  // under a fiftieth of a wave nobody sees anything
  if (most < 0.02) return [];
  return faults.filter((fault) => rms[fault] >= most / 2).sort((a, b) => rms[b] - rms[a]);
}

/** As an eye sees brightness: faint light counts for more than its share. */
const asSeen = (light: number): number => Math.max(0, Math.min(1, light)) ** 0.45;

function seen({ across }: StarMoment, light: Float64Array, most: number): Pixels {
  return {
    width: across,
    height: across,
    values: light.map((value) => asSeen(value / most)),
  };
}

/** The middle of the picture in focus, enlarged three times by points between its own. */
function enlarged({ across, focus }: StarMoment): Pixels {
  const size = 3 * focused, first = (across - focused) / 2, values = new Float64Array(size * size);
  const at = (row: number, column: number): number => focus[row * across + column] ?? 0;
  for (let k = 0; k < values.length; k++) {
    const x = first + (k % size) / 3, y = first + Math.floor(k / size) / 3;
    const i = Math.floor(x), j = Math.floor(y), a = x - i, b = y - j;
    const light = (1 - b) * ((1 - a) * at(j, i) + a * at(j, i + 1)) +
      b * ((1 - a) * at(j + 1, i) + a * at(j + 1, i + 1));
    values[k] = asSeen(1.2 * light);
  }
  return { width: size, height: size, values };
}

function said(faults: readonly (keyof StarTroubles)[]): string {
  if (faults.length === 0) return "round rings, alike on both sides";
  return faults.map(lookOf).join("; ");
}

/** Faults as the bars are named, in their order. */
const names: Readonly<Record<keyof StarTroubles, string>> = {
  edge: "turned edge",
  astigmatism: "astigmatic",
  threefold: "pinched",
  tilt: "tilted",
  rough: "rough",
  warmth: "warm mirror",
  tubeAir: "tube’s air",
  seeing: "air above",
};
const MOST = 0.3, x = scale(0, MOST, 92, 316);

/** What each fault takes, beside the fourteenth of a wave that nobody sees. */
function bars({ rms }: StarMoment): Html {
  const faults = Object.keys(names) as (keyof StarTroubles)[];
  const limit = 1 / 14, bottom = 26 + 17 * faults.length;
  const told = faults.filter((fault) => rms[fault] >= 0.005)
    .map((fault) => `${names[fault]} ${fixed(rms[fault], 2)}`).join(", ");
  return drawing({
    width: 340,
    height: bottom + 18,
    finding: `What each fault does to the wave, in waves RMS: ${
      told === "" ? "nothing" : told
    }. Under a fourteenth of a wave an eye finds nothing wrong.`,
    contents: group(
      words([0, 14], "Wave RMS by each fault"),
      faults.map((fault, i) => {
        const y = 26 + 17 * i, end = x(Math.min(MOST, rms[fault]));
        return group(
          words([86, y + 11], names[fault], { kind: "soft", anchor: "end" }),
          rect("steel", [x(0), y + 2], end - x(0), 10),
          rms[fault] > MOST ? words([x(MOST) + 6, y + 11], "→") : [],
        );
      }),
      stroke("limit", [x(limit), 22], [x(limit), bottom]),
      words([x(limit), bottom + 14], "1/14", { kind: "t-rouge", anchor: "middle" }),
      words([x(0), bottom + 14], "0", { kind: "soft", anchor: "middle" }),
      words([x(0.2), bottom + 14], "0.2", { kind: "soft", anchor: "middle" }),
    ),
  });
}

function picture(values: Values, paint: Paint): Html {
  const moment = momentNow(values), what = said(strongest(moment));
  const waves = fixed(MOMENT_DEFOCUS), light = fixed(100 * moment.strehl);
  const stars = sideBySide([
    [
      "inside focus",
      paint(seen(moment, moment.inside, 2.5), {
        shown: width,
        finding: `The star with the eyepiece ${waves} waves inside focus: ${what}.`,
      }),
    ],
    [
      "in focus, 3 ×",
      paint(enlarged(moment), {
        shown: width,
        finding:
          `The star in focus, three times enlarged: its middle has ${light} percent of a perfect star’s brightness.`,
      }),
    ],
    [
      "outside focus",
      paint(seen(moment, moment.outside, 2.5), {
        shown: width,
        finding: `The star with the eyepiece ${waves} waves outside focus: ${what}.`,
      }),
    ],
  ]);
  return safe`${stars}<div style="height:.5rem"></div>${bars(moment)}`;
}

function reading(values: Values): Html {
  const moment = momentNow(values), faults = strongest(moment);
  const middle = safe`Middle of the star <big><output>${
    fixed(100 * moment.strehl)
  } %</output></big> as bright as a perfect one.`;
  if (faults.length === 0) return safe`${middle} Nothing here that an eye would find.`;
  const named = faults.map((fault) => {
    const [name] = causes[fault];
    const cause = STAR_CAUSES.find((one) => one.name === name)?.said ?? name;
    return safe` <b>${cause}</b> (<output>${fixed(moment.rms[fault], 2)}</output> wave RMS): ${
      lookOf(fault)
    }.`;
  });
  return safe`${middle}${named}`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "edge", label: "Turned edge, at the rim", min: 0, max: 1.2, step: 0.05, digits: 2 },
    ...{ unit: "wave", spoken: "waves" },
  },
  {
    ...{ key: "astigmatism", label: "Astigmatic glass", min: 0, max: 0.3, step: 0.01, digits: 2 },
    ...{ unit: "wave RMS", spoken: "waves RMS" },
  },
  {
    ...{ key: "threefold", label: "Pinched at three clips", min: 0, max: 0.3, step: 0.01 },
    ...{ digits: 2, unit: "wave RMS", spoken: "waves RMS" },
  },
  {
    ...{ key: "tilt", label: "Main mirror tilted", min: 0, max: 40, step: 1, digits: 0 },
    ...{ unit: "′", spoken: "minutes of arc" },
  },
  {
    ...{ key: "rough", label: "Rough glass", min: 0, max: 30, step: 1, digits: 0 },
    ...{ unit: "nm RMS", spoken: "nanometres RMS" },
  },
  {
    ...{ key: "warmth", label: "Mirror warmer than the air", min: 0, max: 12, step: 0.5 },
    ...{ digits: 1, unit: "K", spoken: "kelvins" },
  },
  {
    ...{ key: "tubeAir", label: "Warm air under the tube’s wall", min: 0, max: 1, step: 0.05 },
    ...{ digits: 2, unit: "K", spoken: "kelvins" },
  },
  {
    ...{ key: "seeing", label: "Blur by the air above", min: 0, max: 4, step: 0.1, digits: 1 },
    ...{ unit: "″", spoken: "arcseconds" },
  },
];

/** The figure: eight faults to slide into one star. */
export const faultsOfStar: LiveFigure = {
  name: "faults-of-star",
  controls,
  start: {
    edge: 0,
    astigmatism: 0.12,
    threefold: 0,
    tilt: 0,
    rough: 0,
    warmth: 0,
    tubeAir: 0,
    seeing: 0,
  },
  picture,
  reading,
  value: (values) => momentNow(values).strehl,
  caption:
    safe`A star through 150 mm f/8 at one moment, simulated by the wave’s own diffraction, 3 waves to both sides of focus. Faults of the glass stay as they are; <b>what air does changes from moment to moment</b>, and here it stands still.`,
};
