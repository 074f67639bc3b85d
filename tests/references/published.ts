/** Values that stand in print, by their sources: what each says, what the kit makes of it, and where a source itself errs. */
import assert from "node:assert/strict";

/** One printed value. */
export interface Printed {
  readonly printed: number;
  /** half of what its last digit is worth, or what the source's own method allows; absolute */
  readonly within: number;
  /** what it should be, where the source errs: the kit must come to this and not to the printed one */
  readonly right?: number;
  readonly why?: string;
  /** why the kit cannot reckon it yet */
  readonly cannot?: string;
}

export interface Published<Inputs> {
  readonly source: string;
  /** where and when the values were read */
  readonly read: string;
  readonly inputs: Inputs;
  readonly values: Readonly<Record<string, Printed>>;
}

const FOLDER = new URL("./published/", import.meta.url);

/** Names of all files, without ending. */
export function publishedNames(): string[] {
  return [...Deno.readDirSync(FOLDER)].map(({ name }) => name.replace(/\.json$/, "")).sort();
}

/** Reads one source's file; the caller says what its inputs are. */
export function published<Inputs>(name: string): Published<Inputs> {
  return JSON.parse(Deno.readTextFileSync(new URL(`${name}.json`, FOLDER)));
}

/** A number, or the interval that it is told with. */
export type Got = number | readonly [low: number, high: number];

/**
 * Holds everything that one source prints: fails for a value that is missed, left out or not in print, and where a source's
 * error is shared.
 */
export function hold(name: string, got: Readonly<Record<string, Got>>): void {
  const { values } = published<unknown>(name);
  const reckoned = Object.keys(values).filter((key) => values[key]?.cannot === undefined);
  assert.deepEqual(Object.keys(got).sort(), reckoned.sort(), `${name}: values held and in print`);
  for (const [key, result] of Object.entries(got)) {
    const { printed, within, right, why } = values[key] ?? assert.fail(key);
    const [low, high] = typeof result === "number" ? [result, result] : result;
    const meets = (value: number): boolean => value >= low - within && value <= high + within;
    const told = `${name}, ${key}: got ${result}, printed ${printed}, within ${within}`;
    assert.ok(meets(right ?? printed), right === undefined ? told : `${told}, right is ${right}`);
    if (right !== undefined) assert.ok(!meets(printed), `${told}: the source's error, ${why}`);
  }
}
