/** Everything known of one mirror, with uncertainty, and the next step: what summary.json holds. */
import { CAUTIONS, silverOnGlass } from "../coating/silver.ts";
import { airyRadius } from "../optics/airy.ts";
import { departureFromParaboloid } from "../optics/conic.ts";
import { sagitta } from "../optics/sphere.ts";
import { sphereIsEnough } from "../optics/sphereEnough.ts";
import type { MirrorRecord, Settings, Warning } from "../record/types.ts";
import { limitsOf } from "../sky/limits.ts";
import { faultsOf } from "../shaping/figuring/figuringFaults.ts";
import type { ZoneFigure } from "../testing/zones/zones.ts";
import { KIT_VERSION } from "../version.ts";
import { curveSummary } from "./curveSummary.ts";
import { figureSummary, judgingOf, type ReadSurface, readSurfaces } from "./figureSummary.ts";
import { type Judged, type Learnt, learnt, planFor } from "./figuringStep.ts";
import { grindingSummary } from "./grindingSummary.ts";
import { knifeSummary, type KnivesFound } from "./knifeSummary.ts";
import { nextStep } from "./nextStep.ts";
import { oneSurface } from "./oneSurface.ts";
import { type DecodedPhotos, photoFigures, type PhotosFound } from "./photoFigures.ts";
import { photoSlips } from "./photoSlips.ts";
import { exactQ } from "./q.ts";
import { grainUm, type Known, rules } from "./rules.ts";
import { goalSlips, lampWord, slipWarning, unsettled, zoneSlips } from "./slips.ts";
import { starSummary } from "./starSummary.ts";
import type {
  CoatingSummary,
  CurveSummary,
  DesignSummary,
  FigureSummary,
  OneSurfaceSummary,
  SetAside,
  SkySummary,
  Summary,
  VerdictSummary,
} from "./summaryTypes.ts";
import { telescopeSummary } from "./telescopeSummary.ts";
import { awaitsSeats, glassLacks } from "./zoneVerdict.ts";

/** Rows the log set aside stand with those of the curve, once each, in the order of the file. */
function withLogRows(
  curve: CurveSummary | undefined,
  rows: readonly SetAside[],
): CurveSummary | undefined {
  if (curve === undefined) return undefined;
  const place = ({ file, line }: SetAside): string => `${line} ${file}`;
  const known = new Set(curve.setAside.map(place));
  const all = [...curve.setAside, ...rows.filter((row) => !known.has(place(row)))];
  return { ...curve, setAside: all.sort((a, b) => a.line - b.line) };
}

function figureParts(
  zones: FigureSummary | undefined,
  { figures: photos, parted }: PhotosFound,
  knives: KnivesFound,
  together: OneSurfaceSummary | undefined,
): Pick<Summary, "figure"> {
  const { series: knife } = knives;
  if (zones === undefined && photos.length === 0 && knife.length === 0) return {};
  return {
    figure: {
      ...(zones === undefined ? {} : { zones }),
      ...(photos.length === 0 ? {} : { photos }),
      ...(knife.length === 0 ? {} : { knife }),
      ...(parted === undefined ? {} : { parted }),
      ...(together === undefined ? {} : { together }),
    },
  };
}

/** The surface that the verdict is on, for a plan: from the zones, else the first photograph that gave a verdict. */
function surfaceOf(
  verdict: VerdictSummary | undefined,
  reduced: ZoneFigure | undefined,
  photos: readonly FigureSummary[],
): Judged | undefined {
  if (verdict === undefined) return undefined;
  if (reduced !== undefined) {
    const { profile, profileCovariance, surfaceRms, runs } = reduced;
    return {
      profile,
      covariance: profileCovariance,
      verdict: verdict.meetsGoal,
      probability: verdict.probability,
      rms: surfaceRms.value,
      runs,
    };
  }
  const profile = photos.find((photo) => photo.profile !== undefined)?.profile;
  return profile === undefined ? undefined : {
    profile: profile.map(({ radius, surfaceError: surfaceError, u }) => ({
      radius,
      surfaceError,
      u,
    })),
    verdict: verdict.meetsGoal,
    probability: verdict.probability,
  };
}

/** What the next step may ask for; worked out only then. */
function laterParts(
  { settings }: MirrorRecord,
  surfaces: readonly ReadSurface[],
  { hands }: Learnt,
  surface: Judged | undefined,
): Pick<Known, "plan" | "lastRms" | "hands" | "faults"> {
  const { sessionMin } = rules();
  return {
    lastRms: () => surfaces.flatMap(({ found }) => found()?.surfaceRms.value ?? []),
    hands,
    ...(surface === undefined ? {} : {
      plan: () => planFor(surface, settings, sessionMin, hands),
      faults: () => surface.profile.length < 10 ? [] : faultsOf(surface.profile),
    }),
  };
}

/** The verdict with the word on the lamp, told once: here. */
function withLamp(
  verdict: VerdictSummary | undefined,
  word: string | undefined,
): VerdictSummary | undefined {
  if (verdict === undefined || word === undefined) return verdict;
  return { ...verdict, why: `${verdict.why}; ${word}` };
}

/** What is known of seats, for the next step. */
function seatParts(
  figure: FigureSummary | undefined,
  reduced: ZoneFigure | undefined,
): Pick<Known, "wanted" | "awaitsSeats" | "astigmatism" | "advice" | "settledBy"> {
  const wanted = reduced?.wanted?.map(({ angleDeg, knifeDeg, runs }) => ({
    angleDeg: angleDeg,
    knifeDeg: knifeDeg,
    runs,
  }));
  return {
    ...(wanted === undefined || wanted.length === 0 ? {} : { wanted }),
    ...(reduced !== undefined && awaitsSeats(reduced) ? { awaitsSeats: true } : {}),
    ...(figure?.astigmatism === undefined ? {} : { astigmatism: figure.astigmatism }),
    ...(reduced?.advice === undefined ? {} : {
      advice: reduced.advice,
      settledBy: reduced.moreRuns === true
        ? "more runs"
        : reduced.narrower === true
        ? "narrower openings"
        : "nothing",
    }),
  };
}

/** The verdict with what the glass itself lacks, whatever its figure. */
function withGlass(
  verdict: VerdictSummary | undefined,
  record: MirrorRecord,
): VerdictSummary | undefined {
  if (verdict === undefined) return undefined;
  const lacks = [...verdict.lacks ?? [], ...glassLacks(record, rules())];
  return lacks.length === 0 ? verdict : { ...verdict, lacks };
}

/** The same sentence about the same place is told once. */
function distinct(warnings: readonly Warning[]): readonly Warning[] {
  const seen = new Set<string>();
  return warnings.filter((warning) => {
    const key = JSON.stringify(warning);
    return seen.has(key) ? false : seen.add(key);
  });
}

/**
 * Works out everything a record allows to be known.
 *
 * What cannot be known is absent. The same record gives the same summary on any day and any machine: every random draw
 * is seeded.
 *
 * @param record  a record as `readRecord` gives it
 * @param photos  its photographs as `readPhotos` decodes them; without them `figure.photos` is absent
 */
export function summarize(record: MirrorRecord, photos: DecodedPhotos = new Map()): Summary {
  const design = designSummary(record.settings);
  const { curve: ownCurve, warnings: curveWarnings, slips: curveSlips } = curveSummary(record);
  const { grinding, setAside, warnings: logWarnings } = grindingSummary(record, ownCurve);
  const curve = withLogRows(ownCurve, setAside);
  const { telescope, warnings: telescopeWarnings } = telescopeSummary(record, curve);
  const judging = judgingOf(record, {
    ...(curve === undefined ? {} : { curve }),
    ...(telescope === undefined ? {} : { telescope }),
  });
  const { figure, reduced, verdict: fromZones, warnings: zoneWarnings } = figureSummary(
    record,
    judging,
  );
  const seen = photoFigures(record, curve, photos, figure);
  const lamp = lampWord(record, figure);
  const knives = knifeSummary(record, curve, photos);
  const stars = starSummary(record, { curve, telescope, figure }, photos);
  const together = oneSurface(record, curve, {
    zones: reduced,
    bands: seen.seen,
    pairs: stars.pairs,
    knife: knives.whole,
  });
  const alone = fromZones ?? seen.verdict;
  const judged = together === undefined ? alone : together.verdict(alone);
  const verdict = withGlass(withLamp(judged, lamp), record);
  const slips = [
    ...goalSlips(record),
    ...zoneSlips(record, figure),
    ...photoSlips(record, seen.figures, photos),
    ...stars.slips,
    ...(together?.slips ?? []),
    ...curveSlips,
  ];
  const parts = {
    design,
    ...(curve === undefined ? {} : { curve }),
    ...(grinding === undefined ? {} : { grinding }),
    ...(verdict === undefined ? {} : { verdict }),
  };
  const surfaces = readSurfaces(record, judging, reduced);
  const taught = learnt(record, surfaces, (name) => grainUm(name) === undefined);
  const later = laterParts(record, surfaces, taught, surfaceOf(verdict, reduced, seen.figures));
  return {
    record: record.name,
    title: record.settings.title,
    kitVersion: KIT_VERSION,
    warnings: distinct([
      ...record.warnings,
      ...curveWarnings,
      ...logWarnings,
      ...zoneWarnings,
      ...seen.warnings,
      ...knives.warnings,
      ...stars.warnings,
      ...slips.map(slipWarning),
      ...telescopeWarnings,
    ]),
    ...parts,
    ...figureParts(figure, seen, knives, together?.summary),
    ...(stars.pairs.length === 0 ? {} : {
      star: {
        pairs: stars.pairs,
        ...(stars.parted === undefined ? {} : { parted: stars.parted }),
      },
    }),
    ...(taught.summary === undefined ? {} : { figuring: taught.summary }),
    ...(telescope === undefined ? {} : { telescope }),
    coating: coatingSummary(record.settings),
    sky: skySummary(record.settings),
    nextStep: nextStep({
      record,
      ...parts,
      ...(telescope === undefined ? {} : { telescope }),
      ...later,
      ...seatParts(figure, reduced),
      slips: unsettled(slips, record),
      doubtsLamp: lamp !== undefined,
    }, rules()),
  };
}

/**
 * Mass of 100 nm of silver on the mirror's own face.
 *
 * @param settings  the aperture counts, nothing else
 */
export function coatingSummary({ aperture }: Pick<Settings, "aperture">): CoatingSummary {
  return {
    silverMass: exactQ(1000 * silverOnGlass({ diameter: aperture }).mass, "mg"),
    cautions: CAUTIONS,
  };
}

/**
 * The design: radius, sagitta, shape, and how far a sphere is from a paraboloid at the edge.
 *
 * A sphere is enough when its wavefront, at the best focus, stays within the goal over the full aperture; `goal.shape`
 * may say otherwise, and then does.
 */
export function designSummary({ aperture, focalLength, goal }: Settings): DesignSummary {
  const radius = 2 * focalLength;
  const focalRatio = focalLength / aperture;
  const enough = sphereIsEnough({ aperture, focalLength }, goal.surfaceWaves, goal.wavelength);
  const departure = departureFromParaboloid(aperture / 2, { radius, conic: 0 });
  return {
    aperture: exactQ(aperture, "mm", ["mirror.yaml"]),
    focalLength: exactQ(focalLength, "mm", ["mirror.yaml"]),
    focalRatio: focalRatio,
    radius: exactQ(radius, "mm"),
    sagitta: exactQ(sagitta(aperture, radius), "mm"),
    shape: goal.shape !== "auto" ? goal.shape : enough ? "sphere" : "paraboloid",
    sphereIsEnough: enough,
    sphereDeparture: exactQ(departure, "nm"),
    airyRadius: exactQ(1000 * airyRadius(focalRatio, goal.wavelength), "um"),
  };
}

/**
 * Limits of the mirror's width, for a perfect surface and still air.
 *
 * @param settings  the aperture counts, nothing else
 */
export function skySummary({ aperture }: Pick<Settings, "aperture">): SkySummary {
  const { dawesArcsec, rayleighArcsec, faintest } = limitsOf(aperture);
  return {
    dawesLimit: exactQ(dawesArcsec, "arcsec"),
    rayleighLimit: exactQ(rayleighArcsec, "arcsec"),
    limitingMagnitude: faintest,
  };
}
