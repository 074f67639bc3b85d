/**
 * Records by dice with a slip of the pencil put in, and what their next step is beside that of the same record without the
 * slip. The mirrors, readings and slips are INVENTED; the readings come from the normals of a conic written here, not from the
 * library: a normal at height z of a conic K meets the axis K z beyond the centre of curvature (DERIVED from z' = r / (R - (1 + K) z)).
 */
import { join } from "node:path";
import sharp from "sharp";
import { RecordRefused } from "../../lib/record/errors.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import type { NextStep } from "../../lib/knowledge/summaryTypes.ts";
import { type Dice, dice } from "../testing/dice.ts";
import { type Grey, makePhoto } from "../testing/photoGenerator.ts";
import { bandsPhoto } from "./bandsPhoto.ts";

/** Files of a record by their path inside it. */
type Files = Record<string, string | Uint8Array>;

/** A mirror as it is, and how its maker reads it. */
interface Truth {
  readonly aperture: number;
  readonly focal: number;
  readonly conic: number;
  readonly throws: Dice;
}

/** A kind of slip: the record as meant, and as written. */
interface Kind {
  readonly name: string;
  /** the same seed gives the same mirror and readings to both */
  readonly make: (truth: Truth, slipped: boolean) => Files | Promise<Files>;
}

/** How one record of the trial ended. */
export interface Ended {
  readonly kind: string;
  readonly seed: number;
  /** named and to be looked at first; no order at all; the order of the record without the slip; an order that the slip made */
  readonly end: "checked" | "only measured" | "same order" | "confident and wrong";
  readonly sound: string;
  readonly slipped: string;
  /** the record without the slip was refused, or was to be looked at first */
  readonly falseAlarm: boolean;
}

const pick = <T>({ throws }: Truth, of: readonly T[]): T =>
  of[Math.floor(throws.uniform() * of.length)] as T;

const between = ({ throws }: Truth, low: number, high: number): number =>
  low + (high - low) * throws.uniform();

function settings({ aperture, focal }: Truth, more = ""): string {
  return `title: Invented\naperture: ${aperture} mm\nfocal_length: ${focal} mm\nbevel: 1 mm\n` +
    `gauges: { spherometer: { leg_radius: 40 mm, ball_radius: 3 mm } }\n${more}`;
}

/** Depth of a conic, mm, by its own equation r^2 = 2 R z - (1 + K) z^2. */
function depth(r: number, radius: number, conic: number): number {
  return r * r / (radius + Math.sqrt(radius * radius - (1 + conic) * r * r));
}

interface ZoneWish {
  readonly lamp?: "moves" | "fixed";
  readonly runs?: number;
  /** what becomes of a reading, mm, as it is typed */
  readonly typed?: (reading: number) => string;
  /** what becomes of the date of a run */
  readonly date?: (run: number) => string;
  /** every run is the first one again */
  readonly copied?: boolean;
  /** mm for each unit in which the openings are typed */
  readonly openings?: number;
}

const two = (reading: number): string => reading.toFixed(2);

/** Three to five runs over five openings of equal area, read to 0.01 mm by a hand that scatters 0.03 to 0.05 mm. */
function zones(truth: Truth, wish: ZoneWish = {}): string {
  const { aperture, focal, conic, throws } = truth, half = aperture / 2 - 1;
  const count = wish.runs ?? pick(truth, [3, 4, 5]), hand = between(truth, 0.03, 0.05);
  const lamp = wish.lamp === "fixed" ? 2 : 1, zero = between(truth, 8, 20);
  const edges = [0, 1, 2, 3, 4, 5].map((n) => Number((half * Math.sqrt(n / 5)).toFixed(1)));
  const lines = ["date,run,inner_mm,outer_mm,reading_mm"];
  let first: string[] = [];
  for (let run = 1; run <= count; run++) {
    const readings = edges.slice(1).map((outer, n) => {
      const r = Math.sqrt(((edges[n] ?? 0) ** 2 + outer ** 2) / 2);
      const true_ = zero - lamp * conic * depth(r, 2 * focal, conic);
      return (wish.typed ?? two)(true_ + hand * throws.normal());
    });
    if (run === 1) first = readings;
    const scale = wish.openings ?? 1;
    edges.slice(1).forEach((outer, n) => {
      const [inner, to] = [edges[n] ?? 0, outer].map((mm) => Number((mm / scale).toFixed(3)));
      const reading = (wish.copied === true ? first : readings)[n];
      lines.push(`${wish.date?.(run) ?? "2026-06-19"},${run},${inner},${to},${reading}`);
    });
  }
  return `${lines.join("\n")}\n`;
}

/** A log from the first grain to the oxide. */
function wholeLog({ aperture }: Truth, hours: number): string {
  const grades = ["F120", "F220", "F320", "F500", "F800", "F1200"];
  const minutes = Math.round(aperture / 2);
  return [
    "date,abrasive,position,minutes",
    "2026-04-10,F80,mirror on top,130",
    ...grades.flatMap((grade) =>
      ["mirror on top", "tool on top"].map((top) => `2026-04-20,${grade},${top},${minutes}`)
    ),
    ...Array.from({ length: hours }, () => "2026-06-01,cerium oxide,mirror on top,60"),
    "",
  ].join("\n");
}

interface CurveWish {
  /** mm for each unit that is typed as mm */
  readonly leaves?: number;
  readonly sun?: number;
  readonly dial?: number;
  readonly swapOne?: boolean;
  readonly swapAll?: boolean;
  readonly wildSun?: number;
  readonly zero?: "sun" | "depth";
}

/** The end of rough grinding: depths on the way, and a spherometer and the Sun at the end. `done` of the way is dug. */
function curve(truth: Truth, done: number, wish: CurveWish = {}): Files {
  const { aperture, focal, throws } = truth, chord = aperture - 2;
  const target = depth(aperture / 2, 2 * focal, 0), rate = between(truth, 0.006, 0.01);
  const total = Math.max(60, Math.round(done * target / rate)), looks = 6;
  const radiusAt = (minute: number): number => aperture ** 2 / (8 * rate * minute);
  const rows = ["after_min,go_mm,nogo_mm"];
  for (let n = 1; n <= looks; n++) {
    const minute = Math.round(total * n / looks);
    const gap = depth(chord / 2, radiusAt(minute), 0) + 0.004 * throws.normal();
    const low = Math.max(0.02, Math.floor(gap / 0.02) * 0.02), unit = wish.leaves ?? 1;
    const typed = (mm: number): string => String(Number((mm / unit).toFixed(unit === 1 ? 2 : 4)));
    rows.push(
      wish.zero === "depth" ? `${minute},0,0.0005` : `${minute},${typed(low)},${typed(low + 0.02)}`,
    );
  }
  const radius = radiusAt(total), legs = 40, unit = wish.dial ?? 1;
  const height = legs ** 2 / (2 * (radius - 3));
  const dial = ["after_min,surface,dial_mm"];
  for (let n = 0; n < 3; n++) {
    for (const surface of ["flat", "mirror"]) {
      const is = 5 + (surface === "mirror" ? height : 0) + 0.001 * throws.normal();
      const isSwapped = wish.swapAll === true || (wish.swapOne === true && n === 1);
      const other = surface === "flat" ? "mirror" : "flat";
      dial.push(
        `${total},${isSwapped ? other : surface},${(is / unit).toFixed(unit === 1 ? 3 : 5)}`,
      );
    }
  }
  const sun = ["after_min,distance_mm"];
  for (let n = 0; n < 4; n++) {
    const is = radius / 2 + 4 * throws.normal();
    const wild = n === 2 ? wish.wildSun ?? 1 : 1;
    const typed = wish.zero === "sun" ? 0 : is / (wish.sun ?? 1) / wild;
    sun.push(`${total},${typed.toFixed(wild > 1 || (wish.sun ?? 1) > 1 ? 3 : 0)}`);
  }
  return {
    "mirror.yaml": settings(truth),
    "grinding.csv": `abrasive,position,minutes\nF80,mirror on top,${total}\n`,
    "sagitta.csv": `${rows.join("\n")}\n`,
    "spherometer.csv": `${dial.join("\n")}\n`,
    "sun.csv": `${sun.join("\n")}\n`,
  };
}

const withScope = (more: string): string =>
  more.includes("goal: {")
    ? more.replace("goal: {", "goal: { scope: one diameter,")
    : `${more}goal: { scope: one diameter }\n`;

const judged = (
  truth: Truth,
  wish: ZoneWish = {},
  more = "",
): Files => ({
  // one diameter is enough here, so that a slip may lead to coating
  "mirror.yaml": settings(truth, withScope(more)),
  "grinding.csv": wholeLog(truth, 14),
  "zones.csv": zones(truth, wish),
});

async function png(grey: Grey, squeeze: number): Promise<Uint8Array> {
  const { width, height } = grey;
  const bytes = Uint8Array.from(grey.values, (v) => Math.round(255 * v));
  const picture = sharp(bytes, { raw: { width, height, channels: 1 } });
  const shaped = squeeze === 1
    ? picture
    : picture.resize({ width: Math.round(width * squeeze), height, fit: "fill" });
  return new Uint8Array(await shaped.toColourspace("b-w").png().toBuffer());
}

/** One photograph of a paraboloid, its offset typed or its shape changed. */
async function photographed(truth: Truth, sign: number, squeeze: number): Promise<Files> {
  const { aperture, focal, conic, throws } = truth, f = focal / aperture;
  const side = throws.uniform() < 0.5 ? -1 : 1;
  const offset = side * (4.5 * f * f / 32 + 1.5);
  const photo = makePhoto({
    ...bandsPhoto,
    aperture: aperture - 2,
    radius: 2 * focal,
    conic,
    offset,
    seed: 1 + Math.floor(1e6 * throws.uniform()),
  });
  return {
    "mirror.yaml": settings(truth),
    "grinding.csv": wholeLog(truth, 14),
    "ronchi.csv": `photo,lines_per_mm,offset_mm\nfirst.png,4,${(sign * offset).toFixed(1)}\n`,
    "photos/first.png": await png(photo, squeeze),
  };
}

const goalTyped = (text: string): string => `goal: { ${text} }\n`;
const lampTyped = (source: string): string => `tester: { source: ${source} }\n`;

/** Every slip of the trial. A lamp is mistaken on mirrors near their paraboloid, where readings can give it away at all. */
export const KINDS: readonly Kind[] = [
  {
    name: "goal a digit off",
    make: (t, slipped) => {
      const wrong = pick(t, [
        "1/80 wave",
        "1/88 wave",
        "10/8 waves",
        "1/0.8 wave",
        "1/800 wave",
        "8 waves",
      ]);
      return judged(t, {}, goalTyped(`surface: ${slipped ? wrong : "1/8 wave"}`));
    },
  },
  {
    name: "wavelength a digit off",
    make: (t, slipped) => {
      const wrong = pick(t, [55, 5500, 50, 350, 850, 950, 305]);
      return judged(t, {}, goalTyped(`wavelength: ${slipped ? wrong : 550} nm`));
    },
  },
  {
    name: "lamp moves, written as fixed",
    make: (t, slipped) =>
      judged(t, { lamp: "moves" }, lampTyped(slipped ? "fixed" : "moves with knife")),
  },
  {
    name: "lamp fixed, written as moving",
    make: (t, slipped) =>
      judged(t, { lamp: "fixed" }, lampTyped(slipped ? "moves with knife" : "fixed")),
  },
  {
    name: "zones in cm",
    make: (t, slipped) => judged(t, slipped ? { typed: (mm) => (mm / 10).toFixed(3) } : {}),
  },
  {
    name: "zones in inches",
    make: (t, slipped) => {
      const digits = pick(t, [3, 4]);
      return judged(t, slipped ? { typed: (mm) => (mm / 25.4).toFixed(digits) } : {});
    },
  },
  {
    name: "zones all zero",
    make: (t, slipped) => judged(t, slipped ? { typed: () => "0" } : {}),
  },
  { name: "one run pasted", make: (t, slipped) => judged(t, { runs: 4, copied: slipped }) },
  {
    name: "scale the wrong way round",
    make: (t, slipped) => judged(t, slipped ? { typed: (mm) => two(30 - mm) } : {}),
  },
  {
    name: "openings in inches",
    make: (t, slipped) => judged(t, slipped ? { openings: 25.4 } : {}),
  },
  {
    name: "a date in 2062",
    make: (t, slipped) =>
      judged(t, { runs: 3, date: (run) => slipped && run === 3 ? "2062-06-19" : "2026-06-19" }),
  },
  {
    name: "rows without a date",
    make: (t, slipped) =>
      judged(t, { runs: 3, date: (run) => slipped && run > 1 ? "" : "2026-06-19" }),
  },
  {
    name: "two hours of polish, pits left",
    make: (t, slipped) => ({
      ...judged(t),
      "grinding.csv": wholeLog(t, slipped ? 2 : 14),
      ...(slipped ? { "diary.csv": "date,what,amount\n2026-06-02,pits,12\n" } : {}),
    }),
  },
  {
    name: "depths in cm or inches, half-way",
    make: (t, slipped) => {
      const done = between(t, 0.4, 0.8), unit = pick(t, [10, 25.4]);
      return curve(t, done, slipped ? { leaves: unit } : {});
    },
  },
  {
    name: "depths in cm or inches, at the end",
    make: (t, slipped) => {
      const unit = pick(t, [10, 25.4]);
      return curve(t, 0.97, slipped ? { leaves: unit } : {});
    },
  },
  {
    name: "Sun in cm, inches or metres",
    make: (t, slipped) => {
      const unit = pick(t, [10, 25.4, 1000]);
      return curve(t, 0.97, slipped ? { sun: unit } : {});
    },
  },
  {
    name: "one cell of the Sun a point off",
    make: (t, slipped) => {
      const off = pick(t, [10, 100, 1000]);
      return curve(t, 0.97, slipped ? { wildSun: off } : {});
    },
  },
  {
    name: "all readings zero",
    make: (t, slipped) => {
      const zero = pick(t, ["sun", "depth"] as const);
      return curve(t, 0.97, slipped ? { zero } : {});
    },
  },
  {
    name: "dial in inches",
    make: (t, slipped) => curve(t, 0.97, slipped ? { dial: 25.4 } : {}),
  },
  {
    name: "flat and mirror swapped in a pair",
    make: (t, slipped) => curve(t, 0.97, slipped ? { swapOne: true } : {}),
  },
  {
    name: "flat and mirror swapped in all",
    make: (t, slipped) => curve(t, 0.97, slipped ? { swapAll: true } : {}),
  },
  {
    name: "offset with the wrong sign",
    make: (t, slipped) => photographed(t, slipped ? -1 : 1, 1),
  },
  {
    name: "a disc squeezed by a tenth",
    make: (t, slipped) => photographed(t, 1, slipped ? 0.9 : 1),
  },
];

function truthOf(seed: number): Truth {
  const throws = dice(seed);
  throws.uniform();
  const aperture = 10 * Math.round(13 + 12 * throws.uniform());
  const f = 5 + 3 * throws.uniform();
  return {
    aperture,
    focal: 10 * Math.round(aperture * f / 10),
    conic: -0.88 - 0.24 * throws.uniform(),
    throws,
  };
}

async function stepOf(files: Files): Promise<NextStep | "refused"> {
  const outer = await Deno.makeTempDir({ prefix: "slips-" });
  try {
    const folder = join(outer, "record");
    await Deno.mkdir(join(folder, "photos"), { recursive: true });
    for (const [name, content] of Object.entries(files)) {
      const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content;
      await Deno.writeFile(join(folder, name), bytes);
    }
    return (await openMirror(folder)).summary.nextStep;
  } catch (error) {
    if (error instanceof RecordRefused) return "refused";
    throw error;
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
}

/** Steps that take no glass off and send nothing away. */
const MEASURING = ["zone test", "measuring", "measuring the curve", "star test", "band test"];

const numbers = (text: string): number[] => (text.match(/\d+(\.\d+)?/g) ?? []).map(Number);

/** The same order: the same stage and words, and every number within a factor of 1.6. */
function alike(a: NextStep, b: NextStep): boolean {
  const words = ({ do: text }: NextStep): string =>
    text.replace(/\d+(\.\d+)?/g, "#").replace(/seconds?|minutes?/g, "min");
  if (a.stage !== b.stage || words(a) !== words(b)) return false;
  const [x, y] = [numbers(a.do), numbers(b.do)];
  return x.every((value, n) => {
    const ratio = (value + 1) / ((y[n] ?? 0) + 1);
    return ratio > 1 / 1.6 && ratio < 1.6;
  });
}

/** Runs one record of a kind, with and without its slip. */
export async function trySlip(kind: Kind, seed: number): Promise<Ended> {
  const sound = await stepOf(await kind.make(truthOf(seed), false));
  const slipped = await stepOf(await kind.make(truthOf(seed), true));
  const say = (step: NextStep | "refused"): string =>
    step === "refused" ? step : `${step.stage}: ${step.do}`;
  const falseAlarm = sound === "refused" || sound.stage === "check the record" ||
    /^First look/.test(sound.do);
  const told = { kind: kind.name, seed, sound: say(sound), slipped: say(slipped), falseAlarm };
  if (
    slipped === "refused" || slipped.stage === "check the record" || /^First look/.test(slipped.do)
  ) {
    return { ...told, end: "checked" };
  }
  const isPits = kind.name.startsWith("two hours");
  const sends = ["coating", "silvering"].includes(slipped.stage);
  if (isPits) return { ...told, end: sends ? "confident and wrong" : "only measured" };
  if (sound !== "refused" && alike(sound, slipped)) return { ...told, end: "same order" };
  return {
    ...told,
    end: MEASURING.includes(slipped.stage) ? "only measured" : "confident and wrong",
  };
}

/** Runs so many records, the kinds in turn, from a number on. */
export async function trySlips(
  count: number,
  each: (ended: Ended) => void = () => {},
  from = 0,
): Promise<readonly Ended[]> {
  const all: Ended[] = [];
  for (let n = from; n < from + count; n++) {
    const ended = await trySlip(KINDS[n % KINDS.length] as Kind, 1000 + n);
    all.push(ended);
    each(ended);
  }
  return all;
}
