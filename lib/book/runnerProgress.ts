/** What a person can watch while notebooks run. */

/** One step of the run. */
export interface Progress {
  /** the notebook's path, as it was given */
  readonly notebook: string;
  /** `kept`: done by an earlier try */
  readonly state: "starting" | "running" | "done" | "failed" | "kept";
  /** number of the code cell that runs or has run last; 0 before the first */
  readonly cell: number;
  /** how many code cells the notebook has */
  readonly cells: number;
  /** estimate for everything asked for, in seconds; absent until there is something to go by */
  readonly secondsLeft?: number;
}

/** Estimates the time left from the cells done so far, at the pace they were done. */
export class Pace {
  #done = 0;
  readonly #begun: number;

  /**
   * @param total  code cells in all
   * @param now    a clock in milliseconds
   */
  constructor(
    private total: number,
    private readonly now: () => number = () => performance.now(),
  ) {
    this.#begun = now();
  }

  /** Notes that one more cell, or several, need not be waited for any longer. */
  finish(cells = 1): void {
    this.#done += cells;
  }

  /** Takes cells out that need not be run at all. */
  skip(cells: number): void {
    this.total -= cells;
  }

  /** Seconds left, rounded up; undefined before the first cell is done. */
  secondsLeft(): number | undefined {
    if (this.#done === 0) return undefined;
    const perCell = (this.now() - this.#begun) / this.#done;
    return Math.ceil((perCell * Math.max(0, this.total - this.#done)) / 1000);
  }
}

/**
 * A step in one line for a terminal.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const step = { notebook: "notebooks/02-read.ipynb", state: "running", cell: 3, cells: 14 } as const;
 * assert.equal(progressText(step), "notebooks/02-read.ipynb  cell 3 of 14");
 * ```
 */
export function progressText({ notebook, state, cell, cells, secondsLeft }: Progress): string {
  const what = {
    starting: "starting",
    running: `cell ${cell} of ${cells}`,
    done: `done, ${cells} cells`,
    kept: `done by the last try, ${cells} cells`,
    failed: `failed in cell ${cell} of ${cells}`,
  }[state];
  const left = secondsLeft === undefined ? "" : `  about ${spell(secondsLeft)} left`;
  return `${notebook}  ${what}${left}`;
}

function spell(seconds: number): string {
  if (seconds < 60) return `${seconds} s`;
  return `${Math.floor(seconds / 60)} min ${String(seconds % 60).padStart(2, "0")} s`;
}
