/** Why the kernel could not even read a cell: it does not say, so the cell is read again outside it. */
import { join } from "node:path";
import { denoSays } from "./denoSays.ts";
import { tempFolder } from "./tempFolder.ts";

/** What is wrong with a cell's code, and on which of its lines. */
export interface SyntaxCause {
  readonly message: string;
  readonly line?: number;
}

/** Codes of the type checker that are about form or modules, not about types. */
const OF_FORM = /^TS(?:1\d{3}|2300|2307|2451|18\d{3})$/;

/**
 * Looks for the fault in a cell that the kernel refused: first by the formatter's parser, then by the type checker,
 * which also knows repeated names and modules that are not there.
 *
 * @param source  the cell's code
 * @param config  path of the deno.json whose import map the cell uses
 * @returns the first fault found, or undefined where neither finds one
 */
export async function syntaxCause(
  source: string,
  config: string,
): Promise<SyntaxCause | undefined> {
  const folder = await tempFolder("cell");
  const file = join(folder, "cell.ts");
  try {
    await Deno.writeTextFile(file, `${source}\nexport {};\n`);
    const parsed = await say(["fmt", "--no-config", "--check", file], folder);
    const fault = parseFault(parsed);
    if (fault !== undefined && !fault.message.includes("lexing error")) return fault;
    const checked = await say(["check", "--no-lock", "--config", config, file], folder);
    return parseFault(checked) ?? formFault(checked);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Everything a Deno subcommand says. */
async function say(args: readonly string[], cwd: string): Promise<string> {
  const { out, err } = await denoSays(args, cwd);
  return out + err;
}

/**
 * The first parse error in what a Deno subcommand says.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const said = "error: SyntaxError: Expression expected\n  |\n    at file:///tmp/cell.ts:2:19\n";
 * assert.deepEqual(parseFault(said), { message: "Expression expected", line: 2 });
 * ```
 */
export function parseFault(said: string): SyntaxCause | undefined {
  const message = /SyntaxError: (.+)/.exec(said)?.[1];
  if (message === undefined) return undefined;
  const line = /\bat file:\S+?:(\d+):\d+/.exec(said)?.[1] ?? /^(\d+) \|/m.exec(said)?.[1];
  return { message, ...(line !== undefined && { line: Number(line) }) };
}

/** The first complaint about form or modules in what the type checker says. */
export function formFault(said: string): SyntaxCause | undefined {
  for (const block of said.split(/\n(?=TS\d+ \[ERROR\])/)) {
    const [, code, message] = /^(TS\d+) \[ERROR\]: (.+)/m.exec(block) ?? [];
    const line = /\bat file:\S+?:(\d+):\d+/.exec(block)?.[1];
    if (code !== undefined && message !== undefined && OF_FORM.test(code)) {
      return { message, ...(line !== undefined && { line: Number(line) }) };
    }
  }
  const [, message, line] = /^error: (.+?)\n\s+at file:\S+?:(\d+):\d+/m.exec(said) ?? [];
  return message === undefined ? undefined : { message, line: Number(line) };
}
