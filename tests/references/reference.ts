/** A file of check values: see README.md beside this. */
export interface Reference<Inputs, Expected, Tolerance = Readonly<Record<string, number>>> {
  readonly id: string;
  readonly source: string;
  readonly section: string;
  readonly recalled: string;
  readonly inputs: Inputs;
  readonly expected: Expected;
  readonly tolerance: Tolerance;
  readonly verified: unknown;
}

/** Reads one, by its name without ending; the caller says what it holds. */
export function reference<Inputs, Expected, Tolerance = Readonly<Record<string, number>>>(
  name: string,
): Reference<Inputs, Expected, Tolerance> {
  return JSON.parse(Deno.readTextFileSync(new URL(`./${name}.json`, import.meta.url)));
}

/** Number of decimal digits in which two numbers agree, 16 where they are equal. */
export function digitsAgreed(got: number, expected: number): number {
  if (got === expected) return 16;
  const size = Math.abs(expected) || 1;
  return Math.max(0, Math.min(16, -Math.log10(Math.abs(got - expected) / size)));
}

/** Fewest digits of a list. */
export function fewestDigits(got: readonly number[], expected: readonly number[]): number {
  if (got.length !== expected.length || got.length === 0) return 0;
  return Math.min(...got.map((v, i) => digitsAgreed(v, expected[i] ?? NaN)));
}

/** Fails, with both numbers, where they differ by more than `tolerance` (relative to the expected, if `relative`). */
export function near(
  got: number | undefined,
  expected: number,
  tolerance: number,
  what: string,
  kind: "relative" | "absolute" = "relative",
): void {
  const allowed = kind === "relative" ? tolerance * Math.abs(expected) : tolerance;
  if (got !== undefined && Math.abs(got - expected) <= allowed) return;
  throw new Error(`${what}: got ${got}, expected ${expected} within ${allowed}`);
}
