/** The figure of the mirror from each photograph of bands, as summary.json holds it. */
import { CannotTell } from "../numeric/cannotTell.ts";
import type { Measured } from "../quantity/measured.ts";
import type { TurnedPair } from "../testing/star/starTurns.ts";
import { markOf, remembered } from "../numeric/remembered.ts";
import type { PhotoTest } from "../testing/photo/photoGiven.ts";
import { type PhotoFigure, reducePhotos } from "../testing/photo/photo.ts";
import type { RonchiPhoto } from "../testing/photo/photoGiven.ts";
import type { GreyImage } from "../testing/photo/photoImage.ts";
import { clean } from "../record/clean.ts";
import { numbersQ, spreadOf } from "./figureNumbers.ts";
import { judgingRadius } from "./figureSummary.ts";
import { isOfNow } from "./glassWork.ts";
import type { BandsSeen } from "./oneSurface.ts";
import { partedSummary } from "./parted.ts";
import { exactQ, toQ } from "./q.ts";
import type { CurveSummary, FigureSummary, PartedSummary, VerdictSummary } from "./summaryTypes.ts";
import type { MirrorRecord, RonchiRow, Warning } from "../record/types.ts";

/** Photographs, decoded, by their path inside the record; `scale`: pixels here for each of the camera's, default 1. */
export type DecodedPhotos = ReadonlyMap<string, GreyImage & { readonly scale?: number }>;

/** What the photographs of a record say. */
export interface PhotosFound {
  /** one for each row of ronchi.csv, in its order; then one for each date with several, fitted together */
  readonly figures: readonly FigureSummary[];
  /** of the first figure from several photographs, else of the first from one, for a mirror without zone readings */
  readonly verdict?: VerdictSummary;
  readonly warnings: readonly Warning[];
  /** the last bands that tell of the glass as it is */
  readonly seen?: BandsSeen;
  /** where the mirror was turned between sets of photographs that see the whole surface */
  readonly parted?: PartedSummary;
}

/** A row with its picture. */
interface Seen {
  readonly row: RonchiRow;
  readonly image: GreyImage & { readonly scale?: number };
}

/** Photographs of one mirror fitted together at most: more take long and tell little more. */
const MOST_TOGETHER = 4;

/** A row's photograph as the fit takes it. */
export function photoOfRow({ row, image }: Seen): RonchiPhoto {
  const { linesPerMm, offset, offsetU, gamma, discX, discY, discRadius } = row,
    scale = image.scale ?? 1;
  return {
    image,
    linesPerMm,
    offset,
    ...(offsetU === undefined ? {} : { offsetU }),
    ...(gamma === undefined ? {} : { gamma }),
    ...(discX === undefined || discY === undefined || discRadius === undefined ? {} : {
      // measured by hand on the screen: a pixel or a thousandth of the disc either way
      outline: {
        x: discX * scale,
        y: discY * scale,
        radius: discRadius * scale,
        u: Math.max(1, discRadius / 1000) * scale,
      },
    }),
  };
}

/** What the photographs of a picture came to last, alone and with others, and under what: half a second's work each. */
const known = new WeakMap<
  GreyImage,
  Map<number, { readonly under: string; readonly found: TakenFigure }>
>();

/**
 * Reduces photographs of one mirror with the record's own bench; the same ones on the same bench only once.
 *
 * @throws {CannotTell} with the reason where they cannot tell
 */
export function reducePhotoRows(
  { settings }: MirrorRecord,
  seen: readonly Seen[],
  radius: number,
): TakenFigure {
  const { aperture, bevel, goal, tester } = settings;
  const test = {
    photos: seen.map(photoOfRow),
    aperture,
    bevel,
    radius,
    setUp: tester.ronchi,
    wavelength: goal.wavelength,
    goalSurfaceWaves: goal.surfaceWaves,
    reference: goal.shape === "sphere" ? "sphere" : "paraboloid",
  } as const;
  const [first] = seen;
  if (first === undefined) return withoutFit(test);
  const under = JSON.stringify(
    [test, test.photos.map(({ image }) => numberOf(image))],
    withoutPixels,
  );
  const before = known.get(first.image)?.get(seen.length);
  if (before?.under === under) return before.found;
  const found = remembered("reducePhotos", () => inputsOf(test), () => withoutFit(test));
  const own = known.get(first.image) ?? new Map();
  known.set(first.image, own.set(seen.length, { under, found }));
  return found;
}

/** What photographs give, without the fitted mirror itself: plain data. */
export type TakenFigure = Omit<PhotoFigure, "fit">;

function withoutFit(test: PhotoTest): TakenFigure {
  const { fit: _, ...found } = reducePhotos(test);
  return found;
}

/** A test in words, its pixels by their marks. */
function inputsOf(test: PhotoTest): string {
  return JSON.stringify(
    test,
    (_, value: unknown) => value instanceof Float32Array ? markOf(value) : value,
  );
}

const withoutPixels = (name: string, value: unknown): unknown =>
  name === "image" ? undefined : value;

/** Pictures are told apart by themselves, not by their pixels. */
const numbers = new WeakMap<GreyImage, number>();
let last = 0;
function numberOf(image: GreyImage): number {
  const number = numbers.get(image) ?? ++last;
  numbers.set(image, number);
  return number;
}

/**
 * Figures from all photographs, one by one and those of a date together; one that cannot be reduced stands with the reason.
 *
 * @param record  as `readRecord` gives it
 * @param curve   the radius to judge by, where it has been measured
 * @param photos  decoded; a row whose photograph is not among them is passed over
 * @param zones   the figure from the zones, to compare with
 */
export function photoFigures(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
  photos: DecodedPhotos,
  zones?: FigureSummary,
): PhotosFound {
  const radius = judgingRadius(record, curve), figures: FigureSummary[] = [];
  const warnings: Warning[] = [], good: Seen[] = [];
  let single: VerdictSummary | undefined, several: VerdictSummary | undefined;
  let seen: BandsSeen | undefined;
  for (const row of record.ronchi) {
    const image = photos.get(row.photo);
    if (image === undefined) continue;
    const place = { file: row.file, line: row.line };
    const name = clean(row.photo);
    const found = attempt(record, [{ row, image }], radius, name, figures);
    if (typeof found === "string") {
      warnings.push({ ...place, message: `not reduced: ${found}` });
      continue;
    }
    good.push({ row, image });
    seen = bandsSeen(record, row, found) ?? seen;
    single ??= verdictFrom(found);
    const fair = found.photos[0]?.remarks.filter(({ grade }) => grade === "fair") ?? [];
    const apart = disagreement(name, found, zones);
    const told = [...fair.map(({ says }) => says), ...found.cautions];
    if (apart !== undefined) told.push(apart);
    warnings.push(...told.map((message) => ({ ...place, message })));
  }
  const turned: (readonly [mark: number, found: TakenFigure])[] = [];
  for (const together of sameDay(good)) {
    const name = together.map(({ row }) => clean(row.photo)).join(" + "), [first] = together;
    const place = { file: first?.row.file ?? "ronchi.csv", line: first?.row.line ?? 1 };
    const found = attempt(record, together, radius, name, figures);
    if (typeof found === "string") {
      warnings.push({ ...place, message: `not reduced together: ${found}` });
      continue;
    }
    several ??= verdictFrom(found);
    if (first !== undefined) seen = bandsSeen(record, first.row, found) ?? seen;
    if (first !== undefined && found.missing.length === 0 && isOfNow(record, first.row)) {
      turned.push([((first.row.angleDeg ?? 0) * Math.PI) / 180, found]);
    }
    warnings.push(
      ...found.cautions.filter((caution) => caution.startsWith("between the photographs"))
        .map((message) => ({ ...place, message })),
    );
  }
  const verdict = several ?? single, parted = partedOf(turned, record.settings.goal.wavelength);
  return {
    figures,
    warnings,
    ...(verdict === undefined ? {} : { verdict }),
    ...(seen === undefined ? {} : { seen }),
    ...(parted === undefined ? {} : { parted }),
  };
}

/** What photographs say of the glass as it is, for the other tests; nothing of glass that was worked on since. */
function bandsSeen(
  record: MirrorRecord,
  row: RonchiRow,
  { seen, missing }: TakenFigure,
): BandsSeen | undefined {
  if (!isOfNow(record, row)) return undefined;
  return { seen, mark: ((row.angleDeg ?? 0) * Math.PI) / 180, isWhole: missing.length === 0 };
}

/** What turned with the mirror and what stayed in its stand; a three- or fourfold figure only where every set surely shows one. */
function partedOf(
  turned: readonly (readonly [mark: number, found: TakenFigure])[],
  wavelength: number,
): PartedSummary | undefined {
  // heights at the rim, nm of glass, to the wavefront's RMS: by root six, eight and ten
  const seen = (cos: string, sin: string, times: number): readonly TurnedPair[] => {
    const wave = 2 / (wavelength * Math.sqrt(2 * times + 2));
    const read = turned.flatMap(([mark, { terms, axes }]): TurnedPair[] => {
      const of = (wanted: string): Measured | undefined =>
        terms.find(({ name }) => name === wanted)?.amounts[0];
      const c = of(cos), s = of(sin);
      if (c === undefined || s === undefined) return [];
      const u = Math.hypot(c.u, s.u) / Math.SQRT2;
      // from the axes of the first photograph's lines to the picture's right
      const turn = times * axes, one = Math.cos(turn), other = Math.sin(turn);
      return [{
        mark,
        components: [
          wave * (one * c.value - other * s.value),
          wave * (other * c.value + one * s.value),
        ],
        u: wave * u,
      }];
    });
    return read.length === turned.length ? read : [];
  };
  return partedSummary({
    astigmatism: seen("astigmatism, upright", "astigmatism, oblique", 2),
    threefold: seen("three waves", "three waves, upright", 3),
    fourfold: seen("four waves", "four waves, oblique", 4),
  }, "ronchi.csv");
}

/** Reduces, and writes down figure or refusal; the reason where it is refused. */
function attempt(
  record: MirrorRecord,
  seen: readonly Seen[],
  radius: number,
  photo: string,
  figures: FigureSummary[],
): TakenFigure | string {
  try {
    const found = reducePhotoRows(record, seen, radius);
    figures.push(toSummary(photo, found));
    return found;
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    figures.push({ photo, refused: error.message });
    return error.message;
  }
}

/** Photographs of one date and one seat, the same glass: two or more of them. */
function sameDay(good: readonly Seen[]): readonly (readonly Seen[])[] {
  const days = Map.groupBy(
    good,
    ({ row }) => `${row.date ?? ""} ${row.afterMin ?? ""} ${row.angleDeg ?? 0}`,
  );
  return [...days.values()].filter((day) => day.length > 1)
    .map((day) => day.slice(0, MOST_TOGETHER));
}

/** One photograph alone is never a yes; several are of the whole surface once no view is missing. */
function verdictFrom(found: TakenFigure): VerdictSummary {
  const { verdict, probabilityWithinGoal, wavefrontPv, interval95, photos, missing } = found;
  const [low, high] = interval95.wavefrontPv.map((v) => v.toFixed(3));
  return {
    meetsGoal: verdict,
    scope: missing.length === 0 ? "whole surface" : "one diameter",
    ...(missing.length === 0 ? {} : { lacks: missing }),
    probability: probabilityWithinGoal,
    why: `from ${
      photos.length === 1 ? "a photograph" : `${photos.length} photographs`
    } of bands: wavefront P-V ${
      wavefrontPv.value.toFixed(3)
    } waves, 95 % between ${low} and ${high}; what ${
      photos.length === 1 ? "one photograph" : "they"
    } cannot see is not in it`,
  };
}

/** A sentence where photograph and zones part by more than both allow. */
function disagreement(
  photo: string,
  found: TakenFigure,
  zones?: FigureSummary,
): string | undefined {
  const { conic } = zones ?? {};
  if (conic === undefined) return undefined;
  const apart = found.conic.value - conic.value;
  if (Math.abs(apart) <= 3 * Math.hypot(found.conic.u, conic.u ?? 0)) return undefined;
  return `${photo} says K ${found.conic.value.toFixed(2)}, the zones ${
    conic.value.toFixed(2)
  }: more apart than both allow; is the lamp where the record says, the grating's pitch right, the zero of both tests the same day?`;
}

function inDegrees({ value, u }: Measured): Measured {
  const turn = 180 / Math.PI;
  return { value: value * turn, u: u * turn, dof: Infinity, unit: "deg" };
}

/** A grating's place by the bands: the figure's own focus, as far as the lines see it. */
const OFFSET_FROM =
  "the centre of curvature of the conic that fits the whole figure best, across the grating's lines; - is nearer the mirror";

function toSummary(photo: string, found: TakenFigure): FigureSummary {
  const from = ["ronchi.csv"], [seen] = found.photos;
  return {
    photo,
    ...numbersQ(found, from),
    reference: found.reference,
    focus: found.focus,
    judgedAperture: exactQ(found.judgedAperture, "mm"),
    ...(seen === undefined ? {} : {
      offset: toQ(seen.offset, from),
      offsetFrom: OFFSET_FROM,
      tilt: toQ(inDegrees(seen.turn), from),
    }),
    ...(found.terms.length === 0 ? {} : {
      terms: found.terms.map(({ name, amounts }) => ({
        name,
        amounts: amounts.map((amount) => toQ(amount)),
      })),
    }),
    ...spreadOf(found),
  };
}
