/** The ratios of a run of benches, gathered for the one table that `deno task bench` prints at its end. */

/** What a computation took beside its peer's, in one run. */
export interface Ratio {
  readonly what: string;
  readonly beside: string;
  /** our time over the peer's, by the median where there are several rounds */
  readonly ratio: number;
  /** the largest ratio wanted */
  readonly goal?: number;
}

/** Notes a ratio in the file named by FIRST_MIRROR_RATIOS; without one nothing is kept. */
export function noteRatio(ratio: Ratio): void {
  const file = Deno.env.get("FIRST_MIRROR_RATIOS");
  if (file === undefined) return;
  Deno.writeTextFileSync(file, `${JSON.stringify(ratio)}\n`, { append: true });
}
