/**
 * Second routes: scripts beside the tests that reckon expected numbers by other programs. A script prints lines
 * `key: value value ...`; a comment `CROSS-CHECK secondRoute.py, key: ...` in a test of its folder (or one below) says that
 * these values stand in the code or the comments after it, up to the end of the same test.
 */
import { dirname, join, normalize } from "node:path";
import ts from "typescript";

/** A value that a script gave, and how far it may lie from what a test holds; 0 where the test's last digit says it. */
export interface Given {
  readonly value: number;
  readonly within: number;
}

/** What a script printed, by key. */
export function givenBy(printed: string): Map<string, Given[]> {
  const lines = [...printed.matchAll(/^([^:\n]+): (.+)$/gm)];
  return new Map(lines.map(([, key = "", values = ""]) => [
    key,
    values.trim().split(/\s+/).map((text) => {
      const [value = "", within = "0"] = text.split("~");
      return { value: Number(value), within: Number(within) };
    }),
  ]));
}

/** A comment that names a key of a script, and all numbers from it to the end of its statement. */
export interface Named {
  readonly file: string;
  readonly line: number;
  /** from the folder of the tests */
  readonly script: string;
  readonly key: string;
  readonly numbers: readonly string[];
}

const NUMBER = /(?<![\w$.])\d*\.?\d+(?:e[+-]?\d+)?(?![\w$])/gi;

/**
 * Comments of a test file that name a script in Python and a key of it.
 * @param file from the folder of the tests
 */
export function namedIn(file: string, text: string): Named[] {
  const tree = ts.createSourceFile("a.ts", text, ts.ScriptTarget.Latest, true);
  return [...text.matchAll(/CROSS-CHECK ([\w/.-]+\.py), ([^:\n]+?)(?::|\n)/g)].map((match) => {
    const [, script = "", key = ""] = match;
    const holder = tree.statements.find(({ end }) => end > match.index);
    // what a constant holds may stand under the comment above it
    const until = holder?.end ?? text.length;
    const after = text.slice(match.index + match[0].length, until).replaceAll("_", "");
    return {
      file,
      line: text.slice(0, match.index).split("\n").length,
      script: script.startsWith("tests/")
        ? script.slice("tests/".length)
        : normalize(join(dirname(file), script)),
      key,
      numbers: after.match(NUMBER) ?? [],
    };
  });
}

/** Whether a number as it is written in a test is what a script gave: within half of its last digit, or as near as said. */
export function isGiven(written: string, { value, within }: Given): boolean {
  const [, whole = "", part = "", power = "0"] = /^(\d*)\.?(\d*)(?:e([+-]?\d+))?$/i.exec(written) ??
    [];
  const digits = `${whole}${part}`.replace(/^0+/, "").length;
  const last = 10 ** (Number(power) - part.length);
  const off = Math.abs(Number(written) - Math.abs(value));
  if (within > 0) return off <= within;
  // two digits may agree by chance; zeros at the end are not written
  return digits >= 3 && off <= 0.51 * last || off < 1e-12 * Math.abs(value);
}

/** Values of a key that stand nowhere under its comment. */
export function missing({ numbers }: Named, given: readonly Given[]): number[] {
  return given.filter((one) => !numbers.some((written) => isGiven(written, one)))
    .map(({ value }) => value);
}
