/** A time that a kernel may take, counted by what the machine can give it: on a busy one it is waited for accordingly longer. */
import { availableParallelism } from "node:os";
import { setTimeout as sleep } from "node:timers/promises";

/** What patience looks at; a test brings its own. */
export interface Machine {
  /** ms, running evenly */
  readonly now: () => number;
  /** how many processes want a processor, the last minute's mean; 0 where the system does not tell */
  readonly load: () => number;
  readonly cores: number;
}

const thisMachine: Machine = {
  now: () => performance.now(),
  load: () => Deno.loadavg()[0] ?? 0,
  cores: availableParallelism(),
};

/** Looked at this often, ms. */
const LOOK = 250;
/** A look that comes this many times later than it was asked for says that the machine is busy, before its load does. */
const LATE = 2;

/**
 * A limit of time that runs slower the busier the machine is: with four processes for each core, at a quarter of the
 * clock's pace.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * let ms = 0;
 * const patience = new Patience(1000, { now: () => ms, load: () => 8, cores: 2 });
 * ms = 2000;
 * assert.equal(patience.left(), 500);
 * ```
 */
export class Patience {
  #left: number;
  #seen: number;

  /**
   * @param ms       how long on a machine with nothing else to do
   * @param slowest  how many times as long at most, however busy it is; default without end
   */
  constructor(
    ms: number,
    private readonly machine: Machine = thisMachine,
    private readonly slowest = Infinity,
  ) {
    this.#left = ms;
    this.#seen = machine.now();
  }

  /** What is left, ms, on a machine with nothing else to do; 0 or less when it is over. */
  left(): number {
    const { now, load, cores } = this.machine;
    const seen = now(), passed = seen - this.#seen;
    this.#seen = seen;
    const pace = Math.min(1, cores / Math.max(load(), Number.MIN_VALUE));
    this.#left -= passed * Math.max(1 / this.slowest, pace);
    return this.#left;
  }

  /** Settles when the time is over, or `signal` says that it no longer matters. */
  async over(signal: AbortSignal): Promise<void> {
    for (let left = this.left(); left > 0; left = this.left()) {
      const asked = Math.min(left, LOOK), begun = this.machine.now();
      await sleep(asked, undefined, { signal }).catch(() => {});
      if (signal.aborted) return;
      // a process that is not even woken in time has no time to be judged by
      const late = this.machine.now() - begun;
      if (late > LATE * asked + LOOK) this.#seen += late - asked;
    }
  }
}
