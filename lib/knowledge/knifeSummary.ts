/** Photographs behind the knife, as summary.json holds them. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { clean } from "../record/clean.ts";
import type { KnifeRow, MirrorRecord, Warning } from "../record/types.ts";
import { knifeReader } from "../testing/knife/loaded.ts";
import type { KnifeFigure, KnifeSeries } from "../testing/knife/knifeSeries.ts";
import { judgingRadius } from "./figureSummary.ts";
import { isOfNow } from "./glassWork.ts";
import type { DecodedPhotos } from "./photoFigures.ts";
import { exactQ, toQ } from "./q.ts";
import type { CurveSummary, KnifeSummary, Q } from "./summaryTypes.ts";

/** What the photographs behind the knife say. */
export interface KnivesFound {
  readonly series: readonly KnifeSummary[];
  /** the last that tells the whole surface, and the seats of the mirror in it */
  readonly whole?: { readonly figure: KnifeFigure; readonly seats: number };
  readonly warnings: readonly Warning[];
}

/** Series that are fitted at most: each costs some seconds. */
const MOST_SERIES = 3;

/** Width of a slit that nobody measured, mm. */
const USUAL_SLIT = 0.03;

/**
 * Every sitting's photographs behind the knife reduced, of the glass as it is now; a row whose photograph is not among the decoded ones is
 * passed over.
 *
 * @param record  as `readRecord` gives it
 * @param curve   for the radius, where it is measured
 * @param photos  decoded
 */
export function knifeSummary(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  photos: DecodedPhotos,
): KnivesFound {
  const seen = record.knife.filter((row) => photos.has(row.photo) && isOfNow(record, row));
  const warnings: Warning[] = [];
  const sittings = [
    ...Map.groupBy(seen, ({ date, afterMin }) => `${date ?? ""} ${afterMin ?? ""}`).values(),
  ];
  const [first] = sittings[sittings.length - MOST_SERIES - 1] ?? [];
  if (first !== undefined) {
    const message =
      `only the last ${MOST_SERIES} sittings of photographs behind the knife are fitted`;
    warnings.push({ file: first.file, line: first.line, message });
  }
  let whole: KnivesFound["whole"];
  const series = sittings.slice(-MOST_SERIES).map((rows) => {
    const { figure, ...found } = oneSeries(record, curve, photos, rows), [row] = rows;
    if (figure !== undefined && figure.directions > 1) {
      whole = { figure, seats: found.seats ?? 1 };
    }
    if (found.refused !== undefined && row !== undefined) {
      warnings.push({ file: row.file, line: row.line, message: `not reduced: ${found.refused}` });
    }
    return found;
  });
  return { series, ...(whole === undefined ? {} : { whole }), warnings };
}

function oneSeries(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  photos: DecodedPhotos,
  rows: readonly KnifeRow[],
): KnifeSummary & { readonly figure?: KnifeFigure } {
  const names = { photos: rows.map(({ photo }) => clean(photo)) };
  try {
    const wanted = seriesOf(record, curve, photos, rows);
    const figure = reduced(wanted);
    return { ...names, ...numbersOf(wanted, figure, record.settings.goal.wavelength), figure };
  } catch (error) {
    if (error instanceof CannotTell) return { ...names, refused: error.message };
    throw error;
  }
}

function seriesOf(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  photos: DecodedPhotos,
  rows: readonly KnifeRow[],
): KnifeSeries {
  const { aperture, bevel, goal, tester, mask } = record.settings, half = aperture / 2 - bevel;
  const named = new Set(rows.map(({ photo }) => photo));
  if (named.size < rows.length) {
    throw new CannotTell("one photograph stands in two rows of one sitting");
  }
  const hole = rows.find((row) => row.hole !== undefined)?.hole;
  const slit = rows.find((row) => row.slit !== undefined)?.slit;
  return {
    photos: rows.map(({ photo, at, across, angleDeg, knifeDeg }) => ({
      image: photos.get(photo) ?? { width: 0, height: 0, values: new Float32Array() },
      name: clean(photo),
      at,
      ...(across === undefined ? {} : { across }),
      ...(angleDeg === undefined ? {} : { angleDeg }),
      ...(knifeDeg === undefined ? {} : { knifeDeg }),
    })),
    aperture: aperture - 2 * bevel,
    radius: judgingRadius(record, curve),
    wavelength: goal.wavelength,
    source: tester.source === "fixed" ? "fixed" : "moves",
    slit: hole ?? slit ?? USUAL_SLIT,
    isSlitKnown: hole !== undefined || slit !== undefined,
    isRound: hole !== undefined,
    ...(mask === undefined ? {} : {
      windows: mask.map(({ inner, outer }) => ({
        inner: inner / half,
        outer: Math.min(0.97, outer / half),
      })).filter(({ inner, outer }) => inner < outer),
    }),
  };
}

/** What was found last of a series, by its first picture: a page asks again and again. */
const reckoned = new WeakMap<
  object,
  { readonly under: string; readonly found: KnifeFigure | CannotTell }
>();

function reduced(series: KnifeSeries): KnifeFigure {
  const { reduceKnifeSeries: reduce } = knifeReader() ?? {}, [first] = series.photos;
  if (reduce === undefined || first === undefined) {
    throw new CannotTell("photographs behind the knife were not read");
  }
  const pictures = series.photos.map(({ image: { width, height, values } }) => [
    width,
    height,
    values[values.length >> 1],
    values[values.length >> 2],
  ]);
  const under = JSON.stringify([
    { ...series, photos: 0 },
    pictures,
    series.photos.map(({ image: _, ...row }) => row),
  ]);
  const before = reckoned.get(first.image);
  if (before?.under === under) {
    if (before.found instanceof CannotTell) throw before.found;
    return before.found;
  }
  try {
    const found = reduce(series);
    reckoned.set(first.image, { under, found });
    return found;
  } catch (error) {
    if (error instanceof CannotTell) reckoned.set(first.image, { under, found: error });
    throw error;
  }
}

function numbersOf(
  { photos, aperture }: KnifeSeries,
  figure: KnifeFigure,
  wavelength: number,
): Omit<KnifeSummary, "photos"> {
  const from = ["knife.csv"], half = aperture / 2, degree = 180 / Math.PI;
  // the light goes to the glass and back: twice its height
  const waves = (q: Q): Q => ({
    ...q,
    value: (2 * q.value) / wavelength,
    unit: "wave",
    ...(q.u === undefined ? {} : { u: (2 * q.u) / wavelength }),
  });
  const inWaves = ([low, high]: readonly [number, number]): [number, number] => [
    (2 * low) / wavelength,
    (2 * high) / wavelength,
  ];
  const sections = figure.sections.map(({ angle, places }) => ({
    angle: exactQ(angle * degree, "deg"),
    places: places.map(({ at, height, u }) => ({ at: at * half, surfaceError: height, u })),
  }));
  const common = {
    directions: figure.directions,
    seats: new Set(photos.map(({ angleDeg = 0 }) => angleDeg)).size,
    sections,
    zones: figure.zones.map(({ inner, outer, toward, at }) => ({
      inner: inner * half,
      outer: outer * half,
      knife: toward * degree,
      reading: toQ(at, from),
    })),
    misfit: figure.misfit,
  };
  if (figure.directions < 2) return common;
  const { surfacePv, surfaceRms, conic } = figure.interval95,
    { amount, interval95, axis } = figure.astigmatism;
  const pv = toQ(figure.surfacePv, from), rms = toQ(figure.surfaceRms, from);
  return {
    ...common,
    surfacePv: pv,
    surfaceRms: rms,
    wavefrontPv: waves(pv),
    wavefrontRms: waves(rms),
    conic: toQ(figure.conic, from),
    astigmatism: {
      amplitude: toQ(amount, from),
      axis: toQ({ ...axis, value: axis.value * degree, u: axis.u * degree, unit: "deg" }),
      interval95,
    },
    interval95: {
      surfacePv,
      surfaceRms,
      wavefrontPv: inWaves(surfacePv),
      wavefrontRms: inWaves(surfaceRms),
      conic,
    },
    shapes: figure.shapes.map(({ n, m, width, value, u }) => ({
      ...(n === undefined || m === undefined ? {} : { n, m }),
      ...(width === undefined ? {} : { width }),
      amount: { value, u, unit: "nm" },
    })),
    doubt: figure.doubt.map(({ share, u }) => ({ radius: share * half, u })),
  };
}
