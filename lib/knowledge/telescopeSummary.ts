/** The telescope a record describes: layout, cell, alignment, balance, eyepieces. Parts that are not written are absent. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { measured } from "../quantity/measured.ts";
import { decision, type Glass, glasses } from "../record/tables.ts";
import type { MirrorRecord, Settings, Telescope, Warning } from "../record/types.ts";
import { viewThrough } from "../sky/eyepiece.ts";
import { addedMoment, balance, frictionMoment } from "../telescope/balance.ts";
import { discMass, supportSag } from "../telescope/cell.ts";
import {
  collimationTolerance,
  comaFreeRadius,
  comaOf,
  screwTurns,
  shiftPerTurn,
} from "../telescope/collimation.ts";
import { cooling, FAN, STILL_AIR } from "../telescope/cooling.ts";
import { flatToFocus, layOut } from "../telescope/layout.ts";
import { exactQ, toQ } from "./q.ts";
import { grainUm, ladder } from "./rules.ts";
import type { CurveSummary, Q, TelescopeSummary } from "./summaryTypes.ts";

/** What is worked out, and what is to be told about it. */
export interface TelescopeFound {
  readonly telescope?: TelescopeSummary;
  readonly warnings: readonly Warning[];
}

/** What every part of the telescope rests on; lengths mm. */
interface Base {
  readonly settings: Settings;
  readonly telescope: Telescope;
  readonly mirror: { readonly aperture: number; readonly focalLength: number };
  readonly glass: Glass | undefined;
}

const FROM = ["mirror.yaml"];
const mm = (value: number): Q => exactQ(value, "mm", FROM);

function layoutPart({ telescope, mirror, settings }: Base): [Partial<TelescopeSummary>, string[]] {
  const { tube, focuser, fullyLitField, flats, fieldStop } = telescope;
  if (tube === undefined || focuser === undefined) return [{}, []];
  const plan = layOut({
    ...mirror,
    bend: { ...tube, ...focuser },
    ...(tube.frontLength === undefined ? {} : { frontLength: tube.frontLength }),
    ...(fullyLitField === undefined ? {} : { fullyLit: fullyLitField }),
    ...(flats === undefined ? {} : { flats }),
    ...(fieldStop === undefined ? {} : { fieldStop }),
  });
  const part = {
    flatMinorAxisNeeded: mm(plan.neededFlat),
    flatMinorAxis: mm(plan.flat),
    flatOffset: mm(plan.offset),
    flatOffsetAlongFace: mm(plan.offsetAlongFace),
    flatToFocus: mm(plan.flatToFocus),
    flatFromVertex: mm(plan.flatFromVertex),
    fullyLitField: mm(plan.fullyLit),
    obstructionByDiameter: plan.obstructionByDiameter,
    obstructionByArea: plan.obstructionByArea,
    magnitudeLoss: plan.magnitudeLoss,
    contrast: plan.contrast.map(({ ofCutoff, value }) => ({ ofCutoff: ofCutoff, value })),
    illuminationAtFieldStop: plan.illuminationAtStop,
    tubeBoreNeeded: mm(plan.tubeBore),
    tubeIsWideEnough: plan.tubeIsWideEnough,
    ...comaAtStop(mirror, (fieldStop ?? fullyLitField ?? 0) / 2, settings.goal.wavelength),
  };
  return [part, [...plan.problems]];
}

function comaAtStop(
  mirror: Base["mirror"],
  edge: number,
  wavelength: number,
): Partial<TelescopeSummary> {
  const rms = comaOf(mirror, edge).wavefrontRms / wavelength;
  return edge > 0 ? { comaRmsAtFieldStop: exactQ(rms, "wave", FROM) } : {};
}

function cellPart({ settings, mirror, glass }: Base): Partial<TelescopeSummary> {
  if (glass === undefined || settings.thickness > settings.aperture / 2) return {};
  const disc = { ...glass, aperture: mirror.aperture, thickness: settings.thickness };
  const plate = {
    aperture: disc.aperture,
    thickness: disc.thickness,
    youngGPa: glass.youngGPa,
    poisson: glass.poisson,
    densityKgPerM3: glass.densityKgPerM3,
  };
  const warm = {
    thickness: disc.thickness,
    densityKgPerM3: glass.densityKgPerM3,
    heatJPerKgK: glass.heatJPerKgK,
    conductivityWPerMK: glass.conductivityWPerMK,
  };
  // a slab's time goes with the heat it stores; anywhere within the range of common practice is as likely as elsewhere
  const heat = (glass.heatWithinJPerKgK ?? 0) / Math.sqrt(3) / glass.heatJPerKgK;
  const cools = (wPerM2K: number): Q => {
    const { timeConstant } = cooling(warm, wPerM2K);
    return toQ(measured(timeConstant, heat * timeConstant, "min"), FROM);
  };
  const sag = supportSag(plate, 3);
  return {
    supportRadius: mm(sag.radii[0] ?? 0),
    supportSurfaceRms: exactQ(sag.rms, "nm", FROM),
    supportSurfaceRmsThick: exactQ(sag.rmsThick, "nm", FROM),
    mirrorMass: exactQ(discMass(plate) / 1000, "kg", FROM),
    coolDown: cools(STILL_AIR),
    coolDownWithFan: cools(FAN),
  };
}

function alignPart({ telescope, mirror, settings }: Base): Partial<TelescopeSummary> {
  const { wavelength } = settings.goal, { screws } = telescope;
  const tolerance = collimationTolerance(mirror, wavelength);
  const common = {
    comaFreeRadius: mm(comaFreeRadius(mirror.focalLength / mirror.aperture, wavelength)),
    tiltTolerance: exactQ((tolerance.tilt * 180 * 60) / Math.PI, "arcmin", FROM),
  };
  if (screws === undefined) return common;
  const each = shiftPerTurn(mirror.focalLength, screws);
  return {
    ...common,
    starShiftPerTurn: mm(each.reduce((sum, shift) => sum + shift, 0) / each.length),
    screwTurns: screwTurns(mirror.focalLength, screws, screws.imageAt),
  };
}

/** Where the eyepiece is swapped: the focuser's own place, else the part named after it. */
export function focuserAt({ focuser, parts }: Telescope): number | undefined {
  return focuser?.at ?? parts?.find(({ name }) => /focuser/i.test(name))?.at;
}

function balancePart({ telescope }: Base): Partial<TelescopeSummary> {
  const { parts = [], bearing, swap } = telescope;
  if (parts.length === 0) return {};
  const whole = balance(parts);
  const common = {
    balancePoint: mm(whole.at),
    totalMass: exactQ(whole.mass / 1000, "kg", FROM),
  };
  if (bearing === undefined) return common;
  const friction = frictionMoment(whole.mass, bearing), at = focuserAt(telescope);
  const held = { ...common, frictionMoment: exactQ(friction, "N m", FROM) };
  if (swap === undefined || at === undefined) return held;
  const moment = addedMoment(swap, Math.abs(at - whole.at), bearing.altitude);
  return { ...held, swapMoment: exactQ(moment, "N m", FROM), holdsBalance: friction >= moment };
}

function eyepiecePart({ telescope, mirror }: Base): Partial<TelescopeSummary> {
  const { eyepieces = [] } = telescope;
  if (eyepieces.length === 0) return {};
  return {
    eyepieces: eyepieces.map((eyepiece) => {
      const view = viewThrough(mirror, eyepiece);
      return {
        magnification: view.magnification,
        exitPupil: mm(view.exitPupil),
        trueField: exactQ((view.trueField * 180) / Math.PI, "deg", FROM),
        drawtubePerDioptre: mm(view.perDioptre),
      };
    }),
  };
}

/** Whether the hollow is made: a finer grade was begun, or polishing, or there are readings of the figure. */
export function isRoughOver({ grinding, zones, ronchi }: MirrorRecord): boolean {
  const last = grinding.at(-1)?.abrasive,
    grain = last === undefined ? Infinity : grainUm(last) ?? 0;
  return grain < 0.95 * (grainUm(ladder[0] ?? "") ?? 0) || zones.length > 0 || ronchi.length > 0;
}

/**
 * The focal length the telescope is built for: the measured one as soon as rough grinding is over, and where no log tells, too.
 * A disc still being ground has a curve that is not yet its own: until then the measured one counts only near the plan.
 */
export function buildingFocalLength(record: MirrorRecord, curve?: CurveSummary): Q {
  const planned = record.settings.focalLength, measured = curve?.focalLength;
  if (measured === undefined) return mm(planned);
  const near = Math.abs(measured.value - planned) <= decision("radius_off_most") * planned;
  const isSettled = record.grinding.length === 0 || isRoughOver(record);
  return isSettled || (near && curve?.consistent === true) ? measured : mm(planned);
}

/** Said loudly where the glass has another focal length than the plan, and everything behind it follows the glass. */
function otherThanPlan({ settings }: MirrorRecord, focal: Q): readonly Warning[] {
  const planned = settings.focalLength, off = focal.value - planned;
  if (Math.abs(off) <= Math.max(2 * (focal.u ?? 0), decision("radius_off_most") * planned)) {
    return [];
  }
  return [{
    file: "mirror.yaml",
    message: `the glass has a focal length of ${inMm(focal.value)}, the plan ${
      inMm(planned)
    }: tube, flat, cell and eyepieces are reckoned for the glass; build for ${inMm(focal.value)}`,
  }];
}

/** The telescope less the groups that hold a fault, so that what rests on them stays absent. */
function without(telescope: Telescope, faulty: readonly Faulty[]): Telescope {
  const { tube, screws, parts, ...others } = telescope;
  const sound = (part: Faulty): boolean => !faulty.includes(part);
  return {
    ...others,
    ...(tube !== undefined && sound("layout") ? { tube } : {}),
    ...(screws !== undefined && sound("screws") ? { screws } : {}),
    ...(parts !== undefined && sound("balance") ? { parts } : {}),
  };
}

/**
 * The telescope's part of the summary.
 *
 * A part that cannot be built becomes a warning that says why; the others stay.
 *
 * @param record  with or without a `telescope:` part; without one there is nothing to say
 * @param curve   of the same record
 */
export function telescopeSummary(record: MirrorRecord, curve?: CurveSummary): TelescopeFound {
  const { settings } = record, { telescope } = settings;
  if (telescope === undefined) return { warnings: [] };
  const focal = buildingFocalLength(record, curve);
  const mirror = { aperture: settings.aperture, focalLength: focal.value };
  const faults = telescopeFaults(telescope, mirror);
  const problems = faults.map(([, sentence]) => sentence);
  const base: Base = {
    settings,
    mirror,
    telescope: without(telescope, faults.map(([part]) => part)),
    glass: glasses().find(({ name }) => name === settings.glass),
  };
  const attempt = (
    make: (base: Base) => Partial<TelescopeSummary> | [Partial<TelescopeSummary>, string[]],
  ): Partial<TelescopeSummary> => {
    try {
      const made = make(base);
      if (!Array.isArray(made)) return made;
      problems.push(...made[1]);
      return made[0];
    } catch (error) {
      if (!(error instanceof CannotTell)) throw error;
      problems.push(error.message);
      return {};
    }
  };
  const made = [layoutPart, cellPart, alignPart, balancePart, eyepiecePart].map(attempt);
  return {
    telescope: Object.assign(
      { builtFor: focal, focalLength: focal },
      ...made,
    ) as TelescopeSummary,
    warnings: [
      ...otherThanPlan(record, focal),
      ...problems.map((message) => ({ file: "mirror.yaml", message: `telescope: ${message}` })),
    ],
  };
}

/** Parts that a fault keeps from being worked out. */
export type Faulty = "layout" | "screws" | "balance";

const inMm = (value: number): string => `${Number(value.toFixed(1))} mm`;

function layoutFault(
  { tube, focuser, fullyLitField = 0, flats = [] }: Telescope,
  mirror: { readonly aperture: number; readonly focalLength: number },
): string | undefined {
  if (tube === undefined || focuser === undefined) return undefined;
  const out = flatToFocus({ ...tube, ...focuser }), { aperture, focalLength } = mirror;
  if (out >= focalLength) {
    return `the focuser cannot reach the focus: from the middle of the tube to its end are ${
      inMm(out)
    }, the focal length is ${inMm(focalLength)}; take a lower focuser or a narrower tube`;
  }
  if (fullyLitField >= aperture) {
    return `fully_lit_field is ${inMm(fullyLitField)}, as wide as the mirror of ${
      inMm(aperture)
    }: write the width of the field in the eyepiece, some 5 to 20 mm`;
  }
  const wide = flats.find((flat) => flat >= aperture);
  return wide === undefined
    ? undefined
    : `a flat of ${inMm(wide)} would cover the mirror of ${
      inMm(aperture)
    }: flats holds minor axes in mm`;
}

function screwsFault({ screws }: Telescope): string | undefined {
  if (screws === undefined) return undefined;
  const places = screws.angles.map((angle) => Math.round((angle * 180) / Math.PI) % 360);
  const turned = new Set(places.map((place) => (place + 360) % 360));
  return turned.size === 3
    ? undefined
    : `two screws stand at one angle (${
      places.join("°, ")
    }°): two cannot point a mirror; write the three angles as they are`;
}

function balanceFault({ parts = [] }: Telescope): string | undefined {
  const weightless = parts.length > 0 && parts.every(({ mass }) => mass === 0);
  return weightless ? "no part has any mass: weigh them and write kg or g" : undefined;
}

/**
 * Faults of a telescope part, each with what it keeps from being worked out.
 *
 * @param telescope  as written
 * @param mirror     aperture and focal length, mm
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const parts = [{ name: "tube", mass: 0, at: 0 }];
 * const [[part, sentence] = []] = telescopeFaults({ parts }, { aperture: 150, focalLength: 1200 });
 * assert.deepEqual([part, sentence], ["balance", "no part has any mass: weigh them and write kg or g"]);
 * ```
 */
export function telescopeFaults(
  telescope: Telescope,
  mirror: { readonly aperture: number; readonly focalLength: number },
): readonly (readonly [part: Faulty, sentence: string])[] {
  const found = [
    ["layout", layoutFault(telescope, mirror)],
    ["screws", screwsFault(telescope)],
    ["balance", balanceFault(telescope)],
  ] as const;
  return found.flatMap(([part, sentence]) => sentence === undefined ? [] : [[part, sentence]]);
}
