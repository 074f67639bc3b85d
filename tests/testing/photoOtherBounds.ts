/** Bounds of the second trial of photographs, and one line of its account. */
import type { OtherFound } from "./photoOtherCases.ts";

/** Shares of the 95 % intervals that hold the truth, and processor's seconds of a photograph by the median. */
export const LEAST_SHARE = 0.92, MOST_SHARE = 0.98, MOST_MEDIAN = 1;

/** What does not hold of many photographs. */
export function otherFaults(all: readonly OtherFound[]): string[] {
  const read = all.filter(({ figure }) => figure !== undefined), faults: string[] = [];
  for (const what of ["conic", "pv", "rms"] as const) {
    const share = read.filter(({ held }) => held?.[what]).length / read.length;
    if (share < LEAST_SHARE || share > MOST_SHARE) {
      faults.push(`${what} held in ${(100 * share).toFixed(1)} %, wanted 92 to 98`);
    }
  }
  const yes = all.filter(({ figure }) => figure?.verdict === "yes").length;
  if (yes > 0) faults.push(`${yes} single photographs called good`);
  // a person sees bands in every one of them
  const refused = all.length - read.length;
  if (refused > 0) faults.push(`${refused} of ${all.length} refused`);
  const seconds = read.map((found) => found.seconds).sort((a, b) => a - b);
  if (!((seconds[seconds.length >> 1] ?? 0) < MOST_MEDIAN)) faults.push("too slow by the median");
  return faults;
}

export function otherLine({ of, figure, held, refused, truth, seconds }: OtherFound): string {
  const { camera, kind, seed } = of;
  const begin = `${String(seed).padStart(4)} ${kind.padEnd(11)} ${camera.tone.kind.padEnd(7)}`;
  if (figure === undefined) return `${begin} refused: ${refused?.slice(0, 100)}`;
  const { interval95: i } = figure,
    ends = (pair: readonly number[]): string => pair.map((v) => v.toFixed(3)).join(" to ");
  const misses = Object.entries(held ?? {}).filter(([, ok]) => !ok).map(([key]) => key);
  return `${begin} K ${truth.conic.toFixed(2)}: ${figure.conic.value.toFixed(2)} u ${
    figure.conic.u.toFixed(3)
  }  P-V ${truth.pv.toFixed(3)}: ${ends(i.wavefrontPv)}  RMS ${truth.rms.toFixed(3)}: ${
    ends(i.wavefrontRms)
  }  ${figure.verdict} ${figure.probabilityWithinGoal.toFixed(2)}  ${seconds.toFixed(2)} s  [${
    [...new Set(figure.terms.map(({ name }) => name))].join(", ")
  }]${misses.length === 0 ? "" : `  outside: ${misses.join(" ")}`}`;
}
