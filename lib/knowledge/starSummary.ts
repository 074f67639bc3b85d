/** Pairs of photographs of a star out of focus, as summary.json holds them. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { clean } from "../record/clean.ts";
import type { MirrorRecord, StarRow, Warning } from "../record/types.ts";
import { starFaults } from "../testing/star/starFaults.ts";
import type { TurnedPair } from "../testing/star/starTurns.ts";
import {
  type Directed,
  reduceStarPair,
  type StarPairFigure,
  type StarPhoto,
} from "../testing/star/starPair.ts";
import { judgingRadius } from "./figureSummary.ts";
import type { DecodedPhotos } from "./photoFigures.ts";
import { directedSummary, partedSummary } from "./parted.ts";
import { exactQ, toQ } from "./q.ts";
import type { Slip } from "./slips.ts";
import type {
  CurveSummary,
  DirectedSummary,
  FigureSummary,
  PartedSummary,
  StarPairSummary,
  TelescopeSummary,
} from "./summaryTypes.ts";

/** What the star photographs of a record say. */
export interface StarsFound {
  readonly pairs: readonly StarPairSummary[];
  readonly warnings: readonly Warning[];
  readonly slips: readonly Slip[];
  /** where the mirror was turned between pairs */
  readonly parted?: PartedSummary;
}

/** What is known from elsewhere. */
interface Elsewhere {
  readonly curve: CurveSummary | undefined;
  readonly telescope: TelescopeSummary | undefined;
  readonly figure: FigureSummary | undefined;
}

interface Pair {
  readonly inside: StarRow;
  readonly outside: StarRow;
}

const placeOf = ({ file, line }: StarRow): { readonly file: string; readonly line: number } => ({
  file,
  line,
});

/** Rows of one night and one seat of the mirror: the first inside with the first outside, and so on; and rows that are left. */
function pairsOf(
  rows: readonly StarRow[],
): { readonly pairs: readonly Pair[]; readonly alone: readonly StarRow[] } {
  const pairs: Pair[] = [], alone: StarRow[] = [];
  const groups = Map.groupBy(
    rows,
    ({ date, afterMin, angleDeg = 0 }) => `${date ?? ""} ${afterMin ?? ""} ${angleDeg}`,
  );
  for (const group of groups.values()) {
    const of = (wanted: StarRow["side"]): StarRow[] => group.filter(({ side }) => side === wanted);
    const inside = of("inside"), outside = of("outside");
    const count = Math.min(inside.length, outside.length);
    inside.slice(0, count).forEach((row, i) => {
      const other = outside[i];
      if (other !== undefined) pairs.push({ inside: row, outside: other });
    });
    alone.push(...inside.slice(count), ...outside.slice(count));
  }
  return { pairs, alone };
}

/** Pairs fitted at most: each costs a second or two. */
const MOST_PAIRS = 6;

/**
 * Every pair of star photographs reduced; a row whose photograph is not among the decoded ones is passed over.
 *
 * @param record  as `readRecord` gives it
 * @param known   radius, flat and figure from other readings
 * @param photos  decoded
 */
export function starSummary(
  record: MirrorRecord,
  known: Elsewhere,
  photos: DecodedPhotos,
): StarsFound {
  const seen = record.star.filter(({ photo }) => photos.has(photo));
  const { pairs, alone } = pairsOf(seen), warnings: Warning[] = [], slips: Slip[] = [];
  for (const row of alone) {
    const other = row.side === "inside" ? "outside" : "inside";
    const message = `${
      clean(row.photo)
    } has no partner ${other} focus, of the same day and angle_deg: one side alone cannot tell spherical aberration from what the camera does`;
    warnings.push({ ...placeOf(row), message });
  }
  if (pairs.length > MOST_PAIRS) {
    const last = pairs[pairs.length - MOST_PAIRS - 1] as Pair;
    const message = `only the last ${MOST_PAIRS} pairs of star photographs are fitted`;
    warnings.push({ ...placeOf(last.outside), message });
  }
  const figures: (readonly [mark: number, figure: StarPairFigure])[] = [];
  const told = pairs.slice(-MOST_PAIRS).map((pair) => {
    const found = onePair(record, known, photos, pair);
    if (found.figure !== undefined) {
      figures.push([((pair.outside.angleDeg ?? 0) * Math.PI) / 180, found.figure]);
    }
    if (found.summary.refused !== undefined) {
      warnings.push({ ...placeOf(pair.outside), message: `not reduced: ${found.summary.refused}` });
    }
    const slip = found.figure && sidesSwapped(record, known, pair, found.figure);
    if (slip !== undefined) slips.push(slip);
    return found.summary;
  });
  const parted = partedOf(figures);
  return { pairs: told, warnings, slips, ...(parted === undefined ? {} : { parted }) };
}

/** What turned with the mirror and what stayed; nothing where it was not turned. */
function partedOf(
  figures: readonly (readonly [mark: number, figure: StarPairFigure])[],
): PartedSummary | undefined {
  const seen = (fault: "astigmatism" | "threefold", m: number): readonly TurnedPair[] =>
    figures.map(([mark, figure]) => {
      const { amount: { value, u }, direction } = figure[fault], turn = m * direction.value;
      return { mark, components: [value * Math.cos(turn), value * Math.sin(turn)], u };
    });
  return partedSummary(
    { astigmatism: seen("astigmatism", 2), threefold: seen("threefold", 3), fourfold: [] },
    "star.csv",
  );
}

function onePair(
  record: MirrorRecord,
  known: Elsewhere,
  photos: DecodedPhotos,
  { inside, outside }: Pair,
): { readonly summary: StarPairSummary; readonly figure?: StarPairFigure } {
  const { angleDeg = 0 } = outside;
  const names = {
    photos: [clean(inside.photo), clean(outside.photo)] as const,
    angle: exactQ(angleDeg, "deg", ["star.csv"]),
  };
  if (inside.photo === outside.photo) {
    return { summary: { ...names, refused: "one photograph stands for both sides of focus" } };
  }
  try {
    const figure = reduced(record, known, photos, [inside, outside]);
    return { figure, summary: { ...names, ...numbersOf(figure, angleDeg) } };
  } catch (error) {
    if (!(error instanceof CannotTell)) throw error;
    return { summary: { ...names, refused: error.message } };
  }
}

/** What pairs came to last, by the picture outside focus, and under what: a second's work each. */
const reckoned = new WeakMap<
  object,
  { readonly under: string; readonly inside: object; readonly found: StarPairFigure | CannotTell }
>();

function reduced(
  record: MirrorRecord,
  { curve, telescope }: Elsewhere,
  photos: DecodedPhotos,
  rows: readonly [inside: StarRow, outside: StarRow],
): StarPairFigure {
  const { aperture, bevel, goal } = record.settings;
  const image = (row: StarRow): StarPhoto["image"] & { readonly scale?: number } =>
    photos.get(row.photo) ?? { width: 0, height: 0, values: new Float32Array() };
  const [inside, outside] = rows;
  const arcsec = outside.arcsecPerPixel ?? inside.arcsecPerPixel;
  const distance = outside.distance ?? inside.distance;
  const obstruction = telescope?.obstructionByDiameter;
  const rest = {
    aperture: aperture - 2 * bevel,
    radius: judgingRadius(record, curve),
    wavelength: goal.wavelength,
    ...(obstruction === undefined ? {} : { obstruction }),
    ...(arcsec === undefined ? {} : { arcsecPerPixel: arcsec / (image(outside).scale ?? 1) }),
    ...(distance === undefined ? {} : { distance }),
  };
  const pictures = rows.map((row): StarPhoto => ({
    image: image(row),
    side: row.side,
    ...(row.defocus === undefined ? {} : { defocus: row.defocus }),
  }));
  const under = JSON.stringify([rest, rows.map(({ defocus }) => defocus)]);
  const before = reckoned.get(image(outside));
  const known = before?.under === under && before.inside === image(inside)
    ? before.found
    : attempt(() => reduceStarPair({ photos: pictures, ...rest }));
  reckoned.set(image(outside), { under, inside: image(inside), found: known });
  if (known instanceof CannotTell) throw known;
  return known;
}

function attempt(act: () => StarPairFigure): StarPairFigure | CannotTell {
  try {
    return act();
  } catch (error) {
    if (error instanceof CannotTell) return error;
    throw error;
  }
}

function numbersOf(
  figure: StarPairFigure,
  angleDeg: number,
): Omit<StarPairSummary, "photos" | "angle"> {
  const from = ["star.csv"];
  // from the right of the picture to its top, and on to the mark
  const directed = (fault: Directed, turns: number): DirectedSummary =>
    directedSummary(fault, turns, 90 + angleDeg, "star.csv");
  return {
    spherical: toQ(figure.spherical, from),
    astigmatism: directed(figure.astigmatism, 2),
    coma: directed(figure.coma, 1),
    threefold: directed(figure.threefold, 3),
    edge: toQ(figure.edge, from),
    seeing: figure.seeing.map((q) => toQ(q)),
    defocus: figure.defocus.map((q) => toQ(q)),
    obstruction: toQ(figure.obstruction),
    ...(figure.fromDistance === 0 ? {} : { fromDistance: exactQ(figure.fromDistance, "wave") }),
    faults: starFaults(figure).map(({ fault, says, causes, act }) =>
      says === "there" ? { fault, says, causes, act } : { fault, says }
    ),
    misfit: figure.misfit,
  };
}

/** Both sides told the wrong way round turn spherical aberration's sign, which the zones know. */
function sidesSwapped(
  record: MirrorRecord,
  { curve, figure }: Elsewhere,
  { outside }: Pair,
  { spherical }: StarPairFigure,
): Slip | undefined {
  const { aperture, bevel, goal } = record.settings, conic = figure?.conic;
  if (conic?.u === undefined) return undefined;
  const half = aperture / 2 - bevel, radius = judgingRadius(record, curve);
  // the wave of a conic under a star's light: (K + 1) a^4 / (4 R^3) at the rim, its RMS by 6 sqrt 5
  const each = (half ** 4 * 1e6) / (4 * radius ** 3 * goal.wavelength * 6 * Math.sqrt(5));
  const zones = each * (conic.value + 1), u = Math.hypot(spherical.u, each * conic.u);
  const apart = Math.abs(spherical.value - zones), turned = Math.abs(spherical.value + zones);
  if (!(apart > 3 * u && turned < 2 * u)) return undefined;
  return {
    of: "photographs",
    place: { ...placeOf(outside), column: "side" },
    message: `the star's spherical aberration is ${
      spherical.value.toFixed(2)
    } wave RMS where the zones make it ${
      zones.toFixed(2)
    }: with inside and outside exchanged the two would agree`,
    do: `Look which way the eyepiece was moved for ${
      clean(outside.photo)
    } and its partner: nearer the mirror is inside. Mend side in star.csv.`,
  };
}
