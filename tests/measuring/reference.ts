// deno-lint-ignore-file no-console
/** Reads a file of reference values; its own fields tell source, tolerance and how it was checked. */
export function readReference<T>(name: string): T {
  const url = new URL(`../references/${name}.json`, import.meta.url);
  return JSON.parse(Deno.readTextFileSync(url)) as T;
}

/** Largest relative difference among the pairs compared through it; `digits` says how many digits agreed. */
export class Agreement {
  #worst = 0;
  #count = 0;

  /** Asserts |got - expected| <= rel |expected|. */
  check(got: number, expected: number, rel: number, what: string): void {
    const difference = Math.abs(got - expected) / (expected === 0 ? 1 : Math.abs(expected));
    this.#worst = Math.max(this.#worst, difference);
    this.#count++;
    if (!(difference <= rel)) {
      throw new Error(
        `${what}: got ${got}, expected ${expected}, differs by ${difference} (allowed ${rel})`,
      );
    }
  }

  report(name: string): void {
    const digits = this.#worst === 0 ? "all" : (-Math.log10(this.#worst)).toFixed(1);
    console.log(`${name}: ${this.#count} values, ${digits} digits agreed at worst`);
  }
}
