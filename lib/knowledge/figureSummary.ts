/** The figure of the mirror from its zone readings, as summary.json holds it, and the verdict on it. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { reduceZones, type ZoneFigure, type ZoneTest } from "../testing/zones/zones.ts";
import { passOf, type ZoneMeasurement, zoneMeasurements } from "./glassWork.ts";
import { numbersQ, spreadOf } from "./figureNumbers.ts";
import { exactQ, toQ } from "./q.ts";
import type { CurveSummary, FigureSummary, Summary, VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord, Warning, ZoneRow } from "../record/types.ts";
import { zoneVerdict } from "./zoneVerdict.ts";
import { inOrderRead } from "../record/readings.ts";

/** What the bench adds to a measurement. */
export interface Judging {
  /** of curvature, mm; the plan's where the curve has not been measured */
  readonly radius: number;
  /** of the flat's shadow on the mirror, mm; absent where no flat is known */
  readonly shadowRadius?: number;
}

/** What readings came to under their bench: a page tells a record again after every row that is typed. */
const known = new Map<string, ZoneFigure>();
const MOST_KNOWN = 8;

/**
 * Reduces the readings of one surface with the record's own bench; the same ones on the same bench only once.
 *
 * @param advise  whether it is worked out which further readings would tell, where these do not
 * @throws {CannotTell} where the readings cannot be reduced
 */
export function reduceMeasurement(
  { settings }: Pick<MirrorRecord, "settings">,
  { rows }: Pick<ZoneMeasurement, "rows">,
  { radius, shadowRadius }: Judging,
  advise = true,
): ZoneFigure {
  const { aperture, bevel, goal, tester } = settings;
  const test: ZoneTest = {
    readings: [...Map.groupBy(rows, passOf).values()].flatMap(inOrderRead).map(readingOf),
    aperture,
    bevel,
    radius,
    source: tester.source === "fixed" ? "fixed" : "moves",
    openings: tester.openings,
    wavelength: goal.wavelength,
    goalSurfaceWaves: goal.surfaceWaves,
    reference: goal.shape === "sphere" ? "sphere" : "paraboloid",
    ...(tester.seating === undefined ? {} : { seating: tester.seating }),
    ...(shadowRadius === undefined ? {} : { shadowRadius }),
    ...(advise ? {} : { advise }),
  };
  const under = JSON.stringify(test), before = known.get(under);
  if (before !== undefined) return before;
  const found = reduceZones(test);
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(under, found);
  return found;
}

/** A row as the zone test takes it: its place in the run's time is its place among the rows. */
function readingOf(
  { run, inner, outer, reading, date, angleDeg, knifeDeg }: ZoneRow,
): ZoneTest["readings"][number] {
  return {
    run,
    inner,
    outer,
    reading,
    ...(date === undefined ? {} : { date }),
    ...(angleDeg === undefined ? {} : { angleDeg }),
    ...(knifeDeg === undefined ? {} : { knifeDeg }),
  };
}

/** Radius of curvature to judge the figure by: the measured one where there is one, else the plan's. */
export function judgingRadius(record: MirrorRecord, curve: CurveSummary | undefined): number {
  return curve?.radius?.value ?? 2 * record.settings.focalLength;
}

/** What the figure is judged with, from what is known of curve and telescope. */
export function judgingOf(
  record: MirrorRecord,
  { curve, telescope }: Pick<Summary, "curve" | "telescope">,
): Judging {
  const flat = telescope?.flatMinorAxis?.value;
  return {
    radius: judgingRadius(record, curve),
    ...(flat === undefined ? {} : { shadowRadius: flat / 2 }),
  };
}

/** The latest surface's figure, and what was assumed or looks unlikely about it. */
export interface FigureFound {
  readonly figure?: FigureSummary;
  /** what the figure was taken from, for a plan of figuring and for what is wanted next */
  readonly reduced?: ZoneFigure;
  readonly verdict?: VerdictSummary;
  readonly warnings: readonly Warning[];
}

/** Figure and verdict from the latest surface that was read; nothing where there is none. */
export function figureSummary(record: MirrorRecord, judging: Judging): FigureFound {
  const measurement = zoneMeasurements(record).at(-1);
  if (measurement === undefined) return { warnings: [] };
  try {
    const found = reduceMeasurement(record, measurement, judging);
    const told = [...found.assumed, ...found.cautions];
    return {
      figure: toSummary(found),
      reduced: found,
      verdict: zoneVerdict(found, measurement),
      warnings: told.map((message) => ({ file: "zones.csv", message })),
    };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return {
      figure: { refused: error.message },
      warnings: [{ file: "zones.csv", message: `not reduced: ${error.message}` }],
    };
  }
}

/** A surface that was read. */
export interface ReadSurface {
  readonly measurement: ZoneMeasurement;
  /** reduced when it is first asked for, since that takes a moment; nothing where its readings cannot tell */
  readonly found: () => ZoneFigure | undefined;
}

/**
 * Every surface that was read, in the order of time.
 *
 * @param latest  the last one, where it is reduced already
 */
export function readSurfaces(
  record: MirrorRecord,
  judging: Judging,
  latest?: ZoneFigure,
): readonly ReadSurface[] {
  const all = zoneMeasurements(record);
  return all.map((measurement, i) => {
    const isLatest = latest !== undefined && i === all.length - 1;
    let kept: { readonly figure?: ZoneFigure } | undefined = isLatest
      ? { figure: latest }
      : undefined;
    const found = (): ZoneFigure | undefined => (kept ??= reducedOrNot()).figure;
    const reducedOrNot = (): { readonly figure?: ZoneFigure } => {
      try {
        return { figure: reduceMeasurement(record, measurement, judging) };
      } catch (error) {
        if (!(error instanceof CannotTell)) throw error;
        return {};
      }
    };
    return { measurement, found };
  });
}

function toSummary(found: ZoneFigure): FigureSummary {
  const from = ["zones.csv"], { astigmatism, budget, unseen, diameters } = found;
  return {
    ...numbersQ(found, from),
    reference: found.reference,
    focus: found.focus,
    noiseFloorRms: toQ(found.noiseFloorRms),
    transverseOverAiry: toQ(found.transverseOverAiry, from),
    pooledReadingS: { value: found.pooledS, unit: "mm" },
    runs: found.runs,
    judgedAperture: exactQ(found.judgedAperture, "mm"),
    ...spreadOf(found),
    diameters,
    ...(astigmatism === undefined ? {} : {
      astigmatism: {
        amplitude: toQ(astigmatism.amplitude, from),
        axis: toQ(astigmatism.axis, from),
        ...(astigmatism.stand === undefined ? {} : { stand: toQ(astigmatism.stand, from) }),
        interval95: astigmatism.interval95,
      },
    }),
    ...(budget.length === 0 ? {} : { budget }),
    ...(unseen.length === 0 ? {} : { unseen }),
  };
}
