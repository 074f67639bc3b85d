/** The cases of the second photographs' trial, each whole from its number, and what the reduction made of one. */
import process from "node:process";
import { CannotTell } from "../../lib/numeric/cannotTell.ts";
import { readPhoto } from "../../lib/record/readPhoto.ts";
import { type PhotoFigure, reducePhotos } from "../../lib/testing/photo/photo.ts";
import { otherDice, otherLight, type OtherMirror, otherTruth } from "./photoOther.ts";
import { type OtherCamera, otherFile, otherPicture } from "./photoOtherCamera.ts";

export const OTHER_KINDS = ["conic", "turned edge", "ring", "mixed"] as const;
export type OtherKind = (typeof OTHER_KINDS)[number];

export interface OtherCase {
  readonly seed: number;
  readonly kind: OtherKind;
  readonly mirror: OtherMirror;
  readonly camera: OtherCamera;
  /** what the maker wrote for the offset, mm */
  readonly written: number;
}

const BENCHES = [[110, 1600], [130, 1950], [150, 2400], [156, 1880], [200, 2440], [
  200,
  3200,
]] as const;

/** Of each hundred: thirty turned edges, forty conics, fifteen rings, fifteen of several shapes. */
export function kindOf(seed: number): OtherKind {
  const n = seed % 20;
  return n < 6 ? "turned edge" : n < 14 ? "conic" : n < 17 ? "ring" : "mixed";
}

/** One photograph; `small` keeps the pictures small for a quick look. */
export function otherCase(seed: number, kind = kindOf(seed)): OtherCase {
  const d = otherDice(7000 + seed), [width, radius] = d.of(BENCHES), lines = d.of([4, 4, 5]);
  const [w, h] = d.of([[640, 480], [800, 600], [1200, 900], [900, 1200]] as const);
  const r = Math.min(w, h) * (d.next() < 0.2 ? d.from(0.13, 0.2) : d.from(0.2, 0.4));
  const bands = d.from(4, 9), side = d.next() < 0.7 ? -1 : 1;
  const away = (bands * radius) / (2 * width * lines);
  const offset = side * away + (side > 0 ? (width * width) / (4 * radius) : 0);
  const soft = d.from(0.4, 0.9) * Math.max(1, w / 900);
  const mirror: OtherMirror = {
    ...{ width, radius, offset, lines },
    ...shapeOf(kind, d),
    turn: d.from(-6, 6) * Math.PI / 180,
    shift: d.from(-0.5, 0.5) / (2 * lines),
    duty: d.from(0.47, 0.53),
    colours: d.of([[[550, 1]], [[470, 0.3], [550, 0.45], [610, 0.25]], [[530, 0.5], [570, 0.5]]]),
  };
  const camera: OtherCamera = {
    ...{ width: w, height: h, r },
    x: w / 2 + d.from(-0.6, 0.6) * (w / 2 - 1.25 * r),
    y: h / 2 + d.from(-0.6, 0.6) * (h / 2 - 1.25 * r),
    slant: (d.from(0, 10) * Math.PI) / 180,
    slantAxis: d.from(0, Math.PI),
    away: (2 * radius) / width,
    k1: d.from(-0.03, 0.03),
    soft,
    shake: d.next() < 0.5 ? 0 : d.from(0.5, 3) * Math.max(1, r / 150),
    shakeAlong: d.from(0, Math.PI),
    spot: [d.from(-0.6, 0.6), d.from(-0.6, 0.6)],
    fall: d.from(0.1, 0.7),
    veil: d.from(0, 0.04),
    exposure: d.from(0.55, 0.85),
    tone: d.of([
      { kind: "power", strength: d.from(1.8, 2.4) },
      { kind: "screen", strength: 1 },
      { kind: "s-curve", strength: d.from(0.3, 0.9) },
      { kind: "filmic", strength: d.from(0.25, 0.6) },
    ]),
    grain: d.from(0.008, 0.03),
    clutter: d.of(["none", "wall", "window", "desk"]),
    quality: d.of([75, 85, 92]),
    seed: 31 * seed + 5,
  };
  return { seed, kind, mirror, camera, written: offset + 0.3 * d.bell() };
}

/** Conic and what lies on it. */
function shapeOf(
  kind: OtherKind,
  d: ReturnType<typeof otherDice>,
): Pick<OtherMirror, "conic" | "extra"> {
  const near = d.next() < 0.5; // half of them near the paraboloid
  const conic = near ? d.from(-1.1, -0.85) : d.from(-1.3, 0.1);
  if (kind === "conic") return { conic, extra: () => 0 };
  if (kind === "turned edge") {
    // half to one and a half times a quarter wave on the wavefront, in the outer 2 to 15 %
    const wide = 0.02 * Math.pow(7.5, d.next()), deep = d.from(40, 110), power = d.of([1.5, 2, 3]);
    const close = d.from(-1.06, -0.94);
    return {
      conic: close,
      extra: (rho) => rho > 1 - wide ? -deep * Math.pow((rho - 1 + wide) / wide, power) : 0,
    };
  }
  if (kind === "ring") {
    const at = d.from(0, 0.85),
      wide = d.from(0.06, 0.2),
      high = d.from(15, 50) * (d.next() < 0.5 ? -1 : 1);
    return { conic, extra: (rho) => high / (1 + ((rho - at) / wide) ** 4) };
  }
  const a = d.from(-30, 30),
    b = d.from(5, 25),
    k = d.from(1.5, 4),
    t = d.from(0, 6.28),
    c = d.from(-30, 30);
  return {
    conic: Math.max(-1.2, conic),
    extra: (rho) => a * rho ** 6 + b * Math.cos(2 * k * rho + t) + c * rho ** 3,
  };
}

/** What came of one. */
export interface OtherFound {
  readonly of: OtherCase;
  readonly refused?: string;
  readonly figure?: PhotoFigure;
  /** told less true over u: conic, P-V, RMS */
  readonly held?: Readonly<Record<"conic" | "pv" | "rms" | "strehl", boolean>>;
  readonly truth: { readonly conic: number; readonly pv: number; readonly rms: number };
  readonly seconds: number;
}

export async function otherFileOf(one: OtherCase): Promise<Uint8Array> {
  const { mirror, camera } = one, half = mirror.width / 2;
  const light = otherLight(mirror, Math.round(Math.min(480, Math.max(200, 2.2 * camera.r))));
  return await otherFile(camera, otherPicture(camera, (u, v) => light(u * half, v * half)));
}

export async function otherJudged(one: OtherCase, file?: Uint8Array): Promise<OtherFound> {
  const { mirror } = one, image = await readPhoto(file ?? await otherFileOf(one));
  const truth = otherTruth(mirror), begun = process.cpuUsage();
  const seconds = (): number => {
    const { user, system } = process.cpuUsage(begun);
    return (user + system) / 1e6;
  };
  try {
    const figure = reducePhotos({
      photos: [{ image, linesPerMm: mirror.lines, offset: one.written }],
      aperture: mirror.width,
      bevel: 0,
      radius: mirror.radius,
      setUp: "same grating",
    });
    const { interval95: i } = figure;
    const within = (v: number, [low, high]: readonly [number, number]): boolean =>
      low <= v && v <= high;
    return {
      ...{ of: one, figure, truth, seconds: seconds() },
      held: {
        conic: within(truth.conic, i.conic),
        pv: within(truth.pv, i.wavefrontPv),
        rms: within(truth.rms, i.wavefrontRms),
        strehl: within(truth.strehl, i.strehl),
      },
    };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return { of: one, refused: error.message, truth, seconds: seconds() };
  }
}
