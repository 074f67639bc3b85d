/** The invented logs of Kestrel Lane, as brackets of leaves, and how a bracket becomes a depth at the full aperture. */
import type {
  DepthReading,
  LogInterval,
  Position,
} from "../../lib/shaping/grinding/grindingLog.ts";

export type Bracket = readonly [afterMin: number, go: number, nogo: number];

export const ashaBrackets: readonly Bracket[] = [
  [20, 0.19, 0.20],
  [40, 0.37, 0.38],
  [60, 0.54, 0.55],
  [80, 0.71, 0.73],
  [100, 0.89, 0.90],
  [120, 1.06, 1.08],
  [130, 1.16, 1.18],
  [134, 1.11, 1.13],
  [134, 1.13, 1.15],
];

export const bramBrackets: readonly Bracket[] = [
  [60, 0.56, 0.58],
  [100, 0.93, 0.94],
  [140, 1.30, 1.31],
  [180, 1.65, 1.68],
  [210, 1.93, 1.95],
  [230, 2.11, 2.13],
  [235, 2.06, 2.08],
  [235, 2.08, 2.10],
];

/**
 * Bracket middle, plus what the leaf's width hides (w squared over 8 R, w = 12.7 mm), carried by the sphere from the
 * chord (1 mm of bevel on each side) to the full aperture.
 */
export function depthReadings(brackets: readonly Bracket[], aperture: number): DepthReading[] {
  const half = aperture / 2 - 1;
  return brackets.map(([afterMin, go, nogo], i) => {
    const middle = (go + nogo) / 2;
    let depth = middle, radius = Infinity;
    for (let turn = 0; turn < 20; turn++) {
      radius = (half * half + depth * depth) / (2 * depth);
      depth = middle + 12.7 ** 2 / (8 * radius);
    }
    const sagitta = radius - Math.sqrt(radius * radius - aperture * aperture / 4);
    return { afterMin, sagitta, u: (nogo - go) / Math.sqrt(12), file: "sagitta.csv", line: i + 2 };
  });
}

export function logLines(
  ...lines: readonly (readonly [minutes: number, position: Position, abrasive?: string])[]
): LogInterval[] {
  return lines.map(([minutes, position, abrasive = "F80"], i) => ({
    minutes,
    position,
    abrasive,
    file: "grinding.csv",
    line: i + 2,
  }));
}
