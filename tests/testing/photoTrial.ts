/** Sixty photographs of invented mirrors with everything a phone does to them, and the judge of what the fit makes of them. */
import { CannotTell } from "../../lib/numeric/cannotTell.ts";
import process from "node:process";
import sharp from "sharp";
import { readPhoto } from "../../lib/record/readPhoto.ts";
import { reducePhotos } from "../../lib/testing/photo/photo.ts";
import type { GreyImage } from "../../lib/testing/photo/photoImage.ts";
import { type Dice, dice } from "./dice.ts";
import { type MadePhoto, makePhoto } from "./photoGenerator.ts";
import { missed, truthOf } from "./photoTruth.ts";

/** What kind of mirror, or why no fit can tell. */
export type Kind = "conic" | "ring" | "turned edge" | "astigmatism" | "hopeless";

/** One reduction asked for: one photograph, or two of one mirror. */
export interface Case {
  readonly name: string;
  readonly kind: Kind;
  readonly made: readonly MadePhoto[];
  /** how the maker's ruler erred, mm, for each */
  readonly slips: readonly number[];
}

const SIZES = [[640, 480], [1280, 960], [1600, 1200], [3000, 4000], [4000, 3000]] as const;
const BENCHES = [[114, 1824], [150, 2400], [200, 2400], [200, 3000], [250, 2500]] as const;

/** A mirror on a bench, photographed by a phone: all but its figure drawn. */
function phone(d: Dice, seed: number): MadePhoto {
  const [aperture, radius] = d.pick(BENCHES), [width, height] = d.pick(SIZES);
  const r = Math.min(width, height) * d.between(0.22, 0.4), side = d.pick([-1, -1, 1]);
  // three to eight pitches of the grating across the face; outside, a paraboloid's light has to be overtaken first
  const away = (d.between(3, 8) * radius) / (2 * aperture * 4);
  const offset = side * away + (side > 0 ? (aperture * aperture) / (4 * radius) : 0);
  return {
    aperture,
    radius,
    conic: -1,
    offset,
    linesPerMm: 4,
    light: d.pick([[550], [530, 550, 570], [470, 550, 610]]),
    width,
    height,
    x: width / 2 + d.between(-1, 1) * (width / 2 - 1.15 * r),
    y: height / 2 + d.between(-1, 1) * (height / 2 - 1.15 * r),
    r,
    turn: d.between(-5, 5),
    shift: d.between(-0.06, 0.06),
    gamma: d.between(1.8, 2.4),
    uneven: d.between(0, 0.4),
    fog: d.between(0, 0.04),
    noise: d.between(0.01, 0.03),
    hot: Math.floor(d.between(0, 30)),
    stand: d.uniform() < 0.3,
    exposure: d.between(0.6, 0.9),
    blur: d.between(0.3, 0.8) * Math.max(1, width / 1600),
    seed,
  };
}

/** One case of a kind, whole from its seed. */
export function caseOf(seed: number, kind: Kind): Case {
  const d = dice(1000 + seed), base = phone(d, seed), half = base.aperture / 2;
  const slips = [0.3 * d.normal(), 0.3 * d.normal()];
  const whole = (name: string, ...made: MadePhoto[]): Case => ({ name, kind, made, slips });
  if (kind === "conic") {
    const conic = d.between(-1.4, 0.3);
    return whole(`conic ${conic.toFixed(2)}`, { ...base, conic });
  }
  if (kind === "ring") {
    const at = d.between(0.35, 0.75) * half, wide = d.between(0.1, 0.18) * half;
    const high = d.pick([-1, 1]) * d.between(20, 45), conic = d.between(-1.1, -0.5);
    const error = (x: number, y: number): number =>
      high * Math.exp(-(((Math.hypot(x, y) - at) / wide) ** 2) / 2);
    return whole(`ring ${high.toFixed(0)} nm at ${(at / half).toFixed(2)}`, {
      ...base,
      conic,
      error,
    });
  }
  if (kind === "turned edge") {
    const from = d.between(0.82, 0.93), down = d.between(40, 150), conic = d.between(-1.1, -0.5);
    const error = (x: number, y: number): number => {
      const t = (Math.hypot(x, y) / half - from) / (1 - from);
      return t > 0 ? -down * t * t : 0;
    };
    return whole(`edge ${down.toFixed(0)} nm from ${from.toFixed(2)}`, { ...base, conic, error });
  }
  if (kind === "hopeless") return hopeless(seed, base, slips);
  // the mirror has been turned until its bands slant most, by eye; then one photograph from each side
  const amount = d.between(40, 100),
    along = Math.PI / 4 + d.between(-0.2, 0.2) + ((base.turn ?? 0) * Math.PI) / 180;
  const c = Math.cos(2 * along), s = Math.sin(2 * along), conic = d.between(-1.1, -0.3);
  const error = (x: number, y: number): number =>
    (amount * ((x * x - y * y) * c + 2 * x * y * s)) / (half * half);
  const one = { ...base, conic, error, offset: -Math.abs(base.offset) };
  const other = { ...one, offset: 1.1 * Math.abs(base.offset), seed: seed + 500 };
  return whole(`astigmatism ${amount.toFixed(0)} nm`, one, other);
}

/** Photographs that cannot tell, each for another reason. */
const HOPELESS:
  readonly (readonly [why: string, change: (base: MadePhoto) => Partial<MadePhoto>])[] = [
    ["burnt out", () => ({ exposure: 3.5 })],
    ["no light", () => ({ exposure: 0.002 })],
    ["out of focus", ({ r }) => ({ blur: r / 8 })],
    [
      "too few bands",
      ({ radius, aperture }) => ({ offset: (-0.5 * radius) / (8 * aperture), conic: 0 }),
    ],
    ["bands finer than pixels", ({ radius, aperture }) => ({
      ...{
        offset: (-36 * radius) / (8 * aperture),
        width: 640,
        height: 480,
        x: 320,
        y: 240,
        r: 90,
        blur: 0.5,
      },
    })],
    ["half out of the picture", ({ width }) => ({ x: -0.02 * width })],
    ["fog", () => ({ exposure: 0.05, fog: 0.6 })],
    ["covered by a hand", () => ({ covered: 0.45 })],
  ];

function hopeless(seed: number, base: MadePhoto, slips: readonly number[]): Case {
  const [why, change] = HOPELESS[seed % HOPELESS.length] as (typeof HOPELESS)[number];
  return { name: why, kind: "hopeless", made: [{ ...base, conic: -0.8, ...change(base) }], slips };
}

/** The whole trial: sixty photographs. */
export const WHOLE: readonly (readonly [kind: Kind, cases: number])[] = [
  ["conic", 24],
  ["ring", 8],
  ["turned edge", 8],
  ["astigmatism", 6], // two photographs each
  ["hopeless", 8],
];

/** What a fit made of a case. */
export interface Judged {
  readonly name: string;
  readonly kind: Kind;
  readonly size: string;
  /** why it was refused */
  readonly refused?: string;
  /** nm RMS of glass by which the fit misses */
  readonly glass: number;
  readonly conic: number;
  readonly conicU: number;
  /** mm, the worst of its photographs */
  readonly offset: number;
  /** mm, the largest of theirs */
  readonly offsetU: number;
  /** whether each 95 % interval holds the truth */
  readonly held: Readonly<Record<"conic" | "pv" | "rms" | "strehl", boolean>>;
  readonly terms: string;
  /** CPU seconds of one core: decoding, reduction */
  readonly decoding: number;
  readonly fitting: number;
}

/** A photograph as the phone stores it. */
export async function stored(made: MadePhoto): Promise<Uint8Array> {
  const { width, height, values } = makePhoto(made);
  const grey = Uint8Array.from(values, (v) => Math.round(255 * v));
  const image = sharp(grey, { raw: { width, height, channels: 1 } }).toColourspace("srgb");
  return new Uint8Array(await image.jpeg({ quality: 80 }).toBuffer());
}

function seconds(since: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1e6;
}

/** Makes a case's photographs, stores them as JPEG, reads and reduces them as a record would, and judges the result. */
export async function judge(case_: Case): Promise<Judged> {
  const files: Uint8Array[] = [];
  for (const one of case_.made) files.push(await stored(one));
  return await judgeFiles(case_, files);
}

/** The same for photographs made before. */
export async function judgeFiles(
  { name, kind, made, slips }: Case,
  files: readonly Uint8Array[],
): Promise<Judged> {
  const [first] = made as [MadePhoto], size = `${first.width} x ${first.height}`;
  const begun = process.cpuUsage(), images: GreyImage[] = [];
  for (const file of files) images.push(await readPhoto(file));
  const decoding = seconds(begun), after = process.cpuUsage();
  const none = { glass: NaN, conic: NaN, conicU: NaN, offset: NaN, offsetU: NaN, terms: "" };
  const held = { conic: false, pv: false, rms: false, strehl: false };
  try {
    const found = reducePhotos({
      photos: made.map(({ offset, linesPerMm }, n) => ({
        image: images[n] as GreyImage,
        linesPerMm,
        offset: offset + (slips[n] ?? 0),
      })),
      aperture: first.aperture,
      bevel: 0,
      radius: first.radius,
      setUp: first.lamp ?? "same grating",
    });
    const fitting = seconds(after), truth = truthOf(first), { interval95: i } = found;
    const within = (value: number, [low, high]: readonly [number, number]): boolean =>
      low <= value && value <= high;
    return {
      ...{ name, kind, size, decoding, fitting },
      glass: missed(first, found.fit),
      conic: found.conic.value - truth.conic,
      conicU: found.conic.u,
      offsetU: Math.max(...found.photos.map((p) => p.offset.u)),
      // each photograph's own offset, and what the figure's focus shifts it by
      offset: Math.max(
        ...found.photos.map((p, n) => Math.abs(p.offset.value - truthOf(made[n] ?? first).offset)),
      ),
      held: {
        conic: within(truth.conic, i.conic),
        pv: within(truth.pv, i.wavefrontPv),
        rms: within(truth.rms, i.wavefrontRms),
        strehl: within(truth.strehl, i.strehl),
      },
      terms: found.terms.map((t) => t.name).join(", "),
    };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return {
      name,
      kind,
      size,
      refused: error.message,
      ...none,
      held,
      decoding,
      fitting: seconds(after),
    };
  }
}
