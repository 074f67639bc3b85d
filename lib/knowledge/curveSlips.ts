/** Slips in the tables of the curve that one row, or one table beside another, gives away. */
import { BELIEVABLE, mistakeFromRatio } from "../measuring/mistakes.ts";
import type { Method } from "../measuring/estimate.ts";
import { mm } from "../record/errors.ts";
import { depthOf, groups, latest, median } from "../record/readings.ts";
import { grainUm } from "./rules.ts";
import type { Slip } from "./slips.ts";
import type { CurveSummary } from "./summaryTypes.ts";
import type {
  MirrorRecord,
  Row,
  SagittaRow,
  Settings,
  SpherometerRow,
  SunRow,
} from "../record/types.ts";

/** What to do about a slip in a table of the curve. */
export function readAgain(file: string, line?: number): string {
  const where = line === undefined ? file : `${file}, line ${line}`;
  return `Read ${where} again, beside the gauge and your paper notes: digits, unit, column.`;
}

/** A slip of the curve, with its place. */
export function curveSlip(file: string, message: string, line?: number): Slip {
  return {
    of: "curve",
    place: { file, ...(line === undefined ? {} : { line }) },
    message,
    do: readAgain(file, line),
  };
}

interface Seen {
  readonly row: Row;
  readonly radius: number;
  /** as read, mm */
  readonly asRead: number;
}

/** A row that is not of one series with the others: by its radius, beyond what any gauge does. */
function wild(
  method: Method,
  seen: readonly Seen[],
  expected: number,
  least: number,
): Slip | undefined {
  if (seen.length < 2) return undefined;
  const near = (one: Seen): number => Math.abs(Math.log(one.radius / expected));
  const nearest = seen.reduce((a, b) => near(b) < near(a) ? b : a);
  const middle = seen.length > 2 ? median(seen.map(({ radius }) => radius)) : nearest.radius;
  const usual = seen.length > 2 ? median(seen.map(({ asRead }) => asRead)) : nearest.asRead;
  const far = seen.find(({ radius, asRead }) => {
    const ratio = radius / middle, [low, high] = BELIEVABLE;
    return !(ratio > low && ratio < high) && Math.abs(asRead - usual) > least;
  });
  if (far === undefined) return undefined;
  const mistake = mistakeFromRatio(far.radius / middle, { method });
  const why = mistake === undefined ? "" : `; it would be so if ${mistake.explains}`;
  return curveSlip(
    far.row.file,
    `${mm(far.asRead)} does not go with the others, which lie about ${
      mm(usual)
    }${why}. ${method} is not used until this is mended`,
    far.row.line,
  );
}

/** Radius that a depth below a chord stands for, near enough to tell a slip. */
function radiusOfDepth(row: SagittaRow, depth: number, { aperture, bevel }: Settings): number {
  const half = (row.chord ?? aperture - 2 * bevel) / 2;
  return (half * half + depth * depth) / (2 * depth);
}

/** A row of leaves, or of a depth gauge, that does not go with the others of its minute. */
export function wildDepth(
  method: "leaves" | "depth gauge",
  rows: readonly SagittaRow[],
  settings: Settings,
): Slip | undefined {
  const seen = rows.flatMap((row): Seen[] => {
    const depth = depthOf(row) ?? 0;
    return depth > 0 ? [{ row, radius: radiusOfDepth(row, depth, settings), asRead: depth }] : [];
  });
  return wild(method, seen, 2 * settings.focalLength, 0.1);
}

/** An image is about a hundredth of its distance: where it is longer, the two columns are swapped. */
function swapped(rows: readonly SunRow[]): Slip | undefined {
  const row = rows.find(({ distance, image }) =>
    distance !== undefined && image !== undefined && image > distance
  );
  return row && curveSlip(
    row.file,
    `an image ${mm(row.image ?? 0)} wide at a distance of ${
      mm(row.distance ?? 0)
    }: the Sun's image is about a hundredth of its distance, so that the two columns seem swapped. The Sun is not used ` +
      "until this is mended",
    row.line,
  );
}

/** A distance or an image of 0 was not read. */
function nothingRead(rows: readonly SunRow[]): Slip | undefined {
  const row = rows.find(({ distance, image }) => distance === 0 || image === 0);
  const what = row?.distance === 0 ? "distance" : "image";
  return row && curveSlip(
    row.file,
    `0 mm is no ${what} of the Sun's image: leave the cell empty where nothing was read. The Sun is not used until this is mended`,
    row.line,
  );
}

/** Near enough to tell a slip: focal length for each mm of the Sun's image. */
const PER_IMAGE = 107.5;

/** A row of the Sun that does not go with the others, or distance and image swapped. */
export function wildSun(
  method: "sun distance" | "sun image",
  rows: readonly SunRow[],
  settings: Settings,
): Slip | undefined {
  const seen = rows.flatMap((row): Seen[] => {
    const asRead = method === "sun distance" ? row.distance : row.image;
    if (asRead === undefined || asRead <= 0) return [];
    return [{ row, radius: 2 * asRead * (method === "sun distance" ? 1 : PER_IMAGE), asRead }];
  });
  return nothingRead(rows) ?? swapped(rows) ?? wild(method, seen, 2 * settings.focalLength, 1);
}

/** A dial row that lies among those of the other surface: written with the wrong word. */
export function swappedDial(rows: readonly SpherometerRow[], step: number): Slip | undefined {
  const middle = (of: SpherometerRow["surface"]): number =>
    median(rows.filter(({ surface }) => surface === of).map(({ dial }) => dial));
  const flat = middle("flat"), mirror = middle("mirror");
  const row = rows.find(({ surface, dial }) => {
    const [own, other] = surface === "flat" ? [flat, mirror] : [mirror, flat];
    return Math.abs(dial - own) > 20 * step && Math.abs(dial - other) < 0.5 * Math.abs(dial - own);
  });
  return row && curveSlip(
    row.file,
    `${mm(row.dial)} on ${
      row.surface === "flat" ? "flat glass" : "the mirror"
    } lies among the readings of the other surface: are flat and mirror swapped? The spherometer is not used until this is mended`,
    row.line,
  );
}

/** Two sessions of one spherometer with opposite signs: in one of them flat and mirror are swapped. */
export function turnedDial(rows: readonly SpherometerRow[], step: number): Slip | undefined {
  const sessions = groups(rows, ({ date = "", afterMin }) => `${date} ${afterMin ?? ""}`);
  let before: number | undefined;
  for (const session of sessions.values()) {
    const of = (surface: string): number =>
      median(session.filter((row) => row.surface === surface).map(({ dial }) => dial));
    const height = of("mirror") - of("flat"), [first] = session;
    if (!(Math.abs(height) > 20 * step) || first === undefined) continue;
    if (before !== undefined && before * height < 0) {
      return curveSlip(
        first.file,
        "here the dial goes the other way from flat glass to mirror than in the session above: in one of the two, flat " +
          "and mirror are swapped. The spherometer is not used until this is mended",
        first.line,
      );
    }
    before = height;
  }
  return undefined;
}

/** Even slow grinding with the mirror on top digs more than this, um a minute with grains of 190 um. COMMON PRACTICE */
const SLOWEST = 1.2, ITS_GRAIN = 190;

/** A hollow that grows ten or twenty-five times slower than any: depths in cm or inches, while the plan still allows them. */
function slowHollow(record: MirrorRecord): Slip | undefined {
  const read = latest(record.sagitta), [row] = read;
  if (row === undefined) return undefined;
  const depth = median(read.map((one) => depthOf(one) ?? 0));
  const last = Math.max(...record.sagitta.map(({ afterMin }) => afterMin ?? -1));
  let clock = 0, counted = 0;
  for (const { abrasive, minutes, position } of record.grinding) {
    const until = last < 0 ? clock + minutes : Math.min(last, clock + minutes);
    const share = (grainUm(abrasive) ?? 0) / ITS_GRAIN * (position === "mirror on top" ? 1 : -1);
    counted += Math.max(0, until - clock) * share;
    clock += minutes;
  }
  if (counted < 20 || depth * 1000 / counted >= SLOWEST) return undefined;
  const rate = (depth * 1000 / counted).toPrecision(2);
  return curveSlip(
    row.file,
    `by these readings the hollow grew by ${rate} µm a minute, some ten times slower than grinding does: are the depths in cm or inches, or typed a digit off?`,
  );
}

/** Tables apart by a factor, where none is near enough to the plan to be believed before the other. */
function farApart({ estimates }: CurveSummary): Slip | undefined {
  const used = estimates.filter((one) => one.used);
  const radii = used.map(({ radius }) => radius.value), [first] = used;
  const least = Math.min(...radii), most = Math.max(...radii);
  if (first === undefined || most / least < BELIEVABLE[1]) return undefined;
  const sure = used.every(({ radius }) => (radius.u ?? 0) < 0.2 * radius.value);
  if (!sure) return undefined;
  const names = used.map(({ method, radius }) => `${method} ${radius.value.toFixed(0)} mm`);
  return {
    ...curveSlip(
      "mirror.yaml",
      `the tables are apart by a factor, R by ${names.join(", by ")}: one holds a slip`,
    ),
    place: {},
    do:
      "Read the tables of the curve again, beside the gauges and your paper notes: digits, units, columns.",
  };
}

/** Slips that only the finished curve shows. */
export function slipsOfCurve(
  record: MirrorRecord,
  curve: CurveSummary | undefined,
): readonly Slip[] {
  if (curve === undefined) return [];
  const found = [slowHollow(record), farApart(curve)];
  return found.flatMap((slip) => slip ?? []);
}
