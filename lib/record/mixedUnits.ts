/** Slips that a ratio gives away: inches among millimetres, a diameter for a radius, R for f. */
import type { Findings } from "./errors.ts";
import { depthOf, latest, median, mm, type Readings } from "./readings.ts";

/** What a ratio between two radii of one curve gives away. */
const RATIOS: readonly { readonly ratio: number; readonly meant: string }[] = [
  { ratio: 25.4, meant: "inches where mm are meant, or the other way round" },
  { ratio: 1 / 25.4, meant: "inches where mm are meant, or the other way round" },
  { ratio: 4, meant: "a diameter where a radius is meant, or the other way round" },
  { ratio: 1 / 4, meant: "a diameter where a radius is meant, or the other way round" },
  {
    ratio: 2,
    meant: "a radius of curvature where a focal length is meant, or the other way round",
  },
  {
    ratio: 1 / 2,
    meant: "a radius of curvature where a focal length is meant, or the other way round",
  },
];

/** Lays the latest readings of the three gauges beside each other and beside the design: they look at one curve. */
export function mixedUnits(record: Readings, findings: Findings): void {
  const radii = [...curveRadii(record)];
  for (const [index, one] of radii.entries()) {
    for (const other of radii.slice(index + 1)) {
      const meant = slipOf(one.radius / other.radius);
      if (meant === undefined) continue;
      const message = `radius about ${mm(Math.round(one.radius))} by ${one.file}, ` +
        `${mm(Math.round(other.radius))} by ${other.file}: ${meant}?`;
      findings.warn({ file: one.file }, message);
    }
    againstDesign(one, record, findings);
  }
}

/** A curve is shallower than wanted until it is done; far deeper, or 25 times shallower after an hour, it never is. */
function againstDesign(
  { file, radius }: { file: string; radius: number },
  { settings, grinding }: Readings,
  findings: Findings,
): void {
  const wanted = 2 * settings.focalLength;
  const ground = grinding.reduce((sum, { minutes }) => sum + minutes, 0);
  const meant = slipOf(radius / wanted);
  const unlikely = radius < wanted || (radius > 10 * wanted && ground >= 60);
  if (meant === undefined || !unlikely) return;
  const message =
    `radius about ${mm(Math.round(radius))}, while the focal length in mirror.yaml asks for ` +
    `${mm(Math.round(wanted))}: ${meant}?`;
  findings.warn({ file }, message);
}

function slipOf(ratio: number): string | undefined {
  return RATIOS.find((row) => Math.abs(Math.log(ratio / row.ratio)) < Math.log(1.12))?.meant;
}

function* curveRadii(record: Readings): Generator<{ file: string; radius: number }> {
  const { aperture, bevel, gauges } = record.settings;
  const bowl = (half: number, depth: number): number => (half * half + depth * depth) / (2 * depth);
  const leaves = latest(record.sagitta).flatMap((row) => {
    const depth = depthOf(row);
    return depth === undefined || depth <= 0
      ? []
      : [bowl((row.chord ?? aperture - 2 * bevel) / 2, depth)];
  });
  if (leaves.length > 0) yield { file: "sagitta.csv", radius: median(leaves) };
  const legs = gauges.spherometer;
  const dials = latest(record.spherometer);
  const dial = (surface: string): number =>
    median(dials.filter((row) => row.surface === surface).map((row) => row.dial));
  const height = Math.abs(dial("mirror") - dial("flat"));
  if (legs !== undefined && height > 0) {
    yield { file: "spherometer.csv", radius: bowl(legs.legRadius, height) + legs.ballRadius };
  }
  const distances = latest(record.sun).flatMap(({ distance }) => distance ?? []);
  if (distances.length > 0) yield { file: "sun.csv", radius: 2 * median(distances) };
}
