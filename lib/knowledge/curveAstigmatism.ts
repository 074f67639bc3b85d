/** Whether the hollow is deeper along one diameter than along another, from depths or images that were read at several angles. */
import { inversePositive } from "../numeric/positive.ts";
import { sagitta } from "../optics/sphere.ts";
import { ofLatestMinute } from "../record/readings.ts";
import type { MirrorRecord, Warning } from "../record/types.ts";
import { depthReading } from "./depthReading.ts";
import type { Q } from "./summaryTypes.ts";

/** A depth over the whole disc along one diameter: mm, and the diameter's angle from the mark, rad. */
interface AtAngle {
  readonly depth: number;
  readonly u: number;
  readonly angle: number;
}

/** Diameters nearer than this are one, rad. */
const SAME = 12 * Math.PI / 180;

/** Smallest angle between two diameters, rad. */
function apart(a: number, b: number): number {
  const turn = Math.abs(a - b) % Math.PI;
  return Math.min(turn, Math.PI - turn);
}

function underEdge({ sagitta: rows, settings }: MirrorRecord): AtAngle[] {
  return ofLatestMinute(rows).flatMap((row) => {
    const { angle } = row;
    const read = depthReading({ ...row, afterMin: row.afterMin ?? 0 }, settings);
    return angle === undefined || read === undefined
      ? []
      : [{ depth: read.sagitta, u: read.u, angle }];
  });
}

/** By where the Sun's image is sharpest along a diameter: half of R from the glass, to a hundredth where repeats do not tell. */
function bySun({ sun, settings: { aperture } }: MirrorRecord): AtAngle[] {
  return ofLatestMinute(sun).flatMap(({ angle, distance }) => {
    if (angle === undefined || distance === undefined || !(distance > aperture)) return [];
    const depth = sagitta(aperture, 2 * distance);
    return [{ depth, u: 0.01 * depth, angle }];
  });
}

/** Where so many readings are more than diameters need, their own scatter is taken in place of what was assumed. */
function scaled(chiSquare: number, free: number): number {
  return free < 1 ? 1 : Math.sqrt(chiSquare / free);
}

/** Least squares of depth = mean + c cos 2 a + s sin 2 a; two diameters tell their difference, no axis. */
function between(read: readonly AtAngle[], isScaleKnown: boolean): Q | undefined {
  const diameters: number[] = [];
  for (const { angle } of read) {
    if (diameters.every((other) => apart(angle, other) > SAME)) diameters.push(angle);
  }
  const [first = 0, second = 0] = diameters;
  if (diameters.length < 2) return undefined;
  if (diameters.length === 2 && apart(first, second) < Math.PI / 3) return undefined;
  const rows = read.map(({ angle, depth, u }) => {
    const turn = diameters.length === 2 ? 2 * (angle - first) : 2 * angle;
    const terms = diameters.length === 2
      ? [1, Math.cos(turn)]
      : [1, Math.cos(turn), Math.sin(turn)];
    return { terms, depth, u };
  });
  const size = rows[0]?.terms.length ?? 0, square = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (const { terms, depth, u } of rows) {
    terms.forEach((a, i) => {
      right[i] = (right[i] as number) + a * depth / (u * u);
      terms.forEach((b, k) =>
        square[i * size + k] = (square[i * size + k] as number) + a * b / (u * u)
      );
    });
  }
  const inverse = inversePositive(square, size);
  if (inverse === undefined) return undefined;
  const at = Array.from(
    { length: size },
    (_, i) => right.reduce((sum, v, k) => sum + (inverse[i * size + k] as number) * v, 0),
  );
  const chiSquare = rows.reduce((sum, { terms, depth, u }) => {
    const off = depth - terms.reduce((all, term, i) => all + term * (at[i] as number), 0);
    return sum + (off / u) ** 2;
  }, 0);
  const own = scaled(chiSquare, rows.length - size), scale = isScaleKnown ? Math.max(1, own) : own;
  const [c = 0, s = 0] = at.slice(1), amplitude = Math.hypot(c, s);
  const ofEach = Array.from(
    { length: size - 1 },
    (_, i) => inverse[(i + 1) * (size + 1)] as number,
  );
  const u = scale * Math.sqrt(ofEach.reduce((sum, v) => sum + v, 0) / ofEach.length);
  // of two diameters nobody knows how far they lie from the deepest: as much again may hide between them
  const hidden = size === 2 ? amplitude / 2 : 0;
  return { value: 2000 * amplitude, unit: "um", u: 2000 * Math.hypot(u, hidden) };
}

/**
 * Micrometres of sagitta between the deepest and the flattest diameter, from the latest readings that tell their angle: leaves or a
 * depth gauge, else the Sun's image. Nothing where fewer than two diameters well apart were read.
 *
 * @param record  its sagitta.csv and sun.csv
 */
export function curveAstigmatism(record: MirrorRecord): Q | undefined {
  const edge = between(underEdge(record), true);
  if (edge !== undefined) return { ...edge, from: ["sagitta.csv"] };
  const sun = bySun(record), found = sun.length > 3 ? between(sun, false) : between(sun, true);
  return found === undefined ? undefined : { ...found, from: ["sun.csv"] };
}

/** A difference above this can be seen in the figure later, um. COMMON PRACTICE */
const TELLS = 5;

/** What is to be minded where diameters surely differ; nothing where they may be alike. */
export function notRoundWarning(found: Q | undefined): Warning | undefined {
  if (found === undefined || found.value < Math.max(TELLS, 3 * (found.u ?? 0))) return undefined;
  return {
    file: found.from?.[0] ?? "sagitta.csv",
    message: `the hollow is ${found.value.toFixed(0)} µm ± ${
      (found.u ?? 0).toFixed(0)
    } µm deeper along one diameter than across it: turn both discs after every set of strokes, walk round the bench, and read the same diameters again`,
  };
}
