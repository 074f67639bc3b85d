/** The stage of rough grinding: what routines, and slips in the turning, make of the mirror on top. */
import { readingsTable } from "../figures/blocks.ts";
import type { Shown } from "../figures/show.ts";
import { grindTogether, type Ground } from "../shaping/grinding/grindTogether.ts";
import type { Routine } from "../shaping/grinding/routine.ts";
import { checkRoutine } from "../shaping/grinding/routineCheck.ts";
import { wearSettings } from "../shaping/grinding/wearSettings.ts";

/** A routine with what sets it apart: "never turn the upper disc". */
export interface NamedRoutine {
  readonly name: string;
  readonly routine: Routine;
}

/** Coarse enough for a page: sagitta to a percent, astigmatism to a tenth. */
const detail = { rings: 12, angles: 48 } as const;

/** Two discs of F80 ground by a routine, the mirror on top; a coarse grid, one seed. */
export function grindBy(routine: Routine, aperture: number, minutes: number): Ground {
  return grindTogether({
    settings: wearSettings(aperture),
    routine,
    spells: [{ position: "mirror on top", minutes }],
    detail,
  });
}

/**
 * What routines make of the mirror on top, in the same time: sagitta, astigmatism, all that is no sphere, overhang.
 *
 * @param aperture  of both discs, mm
 * @param minutes   of grinding with F80, above 0
 * @throws {RangeError} for a routine that cannot be done
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { chordRoutine } from "../shaping/grinding/routine.ts";
 * const usual = { name: "as usual", routine: chordRoutine(150) };
 * assert.match(routinesCompared([usual], 150, 12).text, /as usual \| 0\.1\d\d \| \d\.\d \| \d+ \| 86 %/);
 * ```
 */
export function routinesCompared(
  routines: readonly NamedRoutine[],
  aperture: number,
  minutes: number,
): Shown {
  return readingsTable(
    `The mirror after ${minutes} min on top`,
    [
      { title: "Routine", text: true },
      { title: "Sagitta", unit: "mm" },
      { title: "Astigmatism", unit: "µm" },
      { title: "Off the sphere, RMS", unit: "µm" },
      { title: "Overhang, of the limit" },
    ],
    routines.map(({ name, routine }) => {
      const { sagitta, departures } = grindBy(routine, aperture, minutes).mirror;
      const { astigmatismUm, rmsUm } = departures;
      return {
        cells: [
          name,
          sagitta.toFixed(3),
          astigmatismUm.toFixed(astigmatismUm < 10 ? 1 : 0),
          rmsUm.toFixed(0),
          `${(100 * checkRoutine(routine, aperture).limitShare).toFixed(0)} %`,
        ],
      };
    }),
  );
}

/**
 * The mirror's sagitta at some minutes of a spell, and how fast it grew up to each from the one before.
 *
 * @param minutes  rising, above 0, the last within the spell
 * @throws {RangeError} for minutes that do not rise or were not ground
 */
export function depthsAlong({ course }: Ground, minutes: readonly number[]): Shown {
  const end = course.at(-1)?.minutes ?? 0;
  if (!minutes.every((at, i) => at > (minutes[i - 1] ?? 0) && at <= end + 1e-6)) {
    throw new RangeError(
      `depthsAlong requires minutes that rise from above 0 to ${end}, got ${minutes.join(", ")}`,
    );
  }
  const at = (minute: number): number =>
    1000 * (course.findLast((one) => one.minutes <= minute + 1e-6)?.mirrorSagitta ?? 0);
  return readingsTable(
    "Sagitta minute by minute",
    [
      { title: "Ground for", unit: "min" },
      { title: "Sagitta", unit: "µm" },
      { title: "Rate since the line above", unit: "µm/min" },
    ],
    minutes.map((minute, i) => {
      const before = minutes[i - 1] ?? 0;
      return {
        cells: [
          minute,
          at(minute).toFixed(0),
          ((at(minute) - at(before)) / (minute - before)).toFixed(1),
        ],
      };
    }),
  );
}
