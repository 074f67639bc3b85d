// deno-lint-ignore-file no-console
/** The scripts of a folder of tests, run one after the other: benches and trials. */
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Mistyped } from "./command.ts";

/** The scripts whose name begins so, in order; none where there is no such folder. */
async function scriptsOf(folder: string, ending: string, prefix: string): Promise<string[]> {
  const place = fileURLToPath(new URL(`../../tests/${folder}`, import.meta.url));
  const names: string[] = [];
  try {
    for await (const { name } of Deno.readDir(place)) {
      if (name.endsWith(ending) && name.startsWith(prefix)) names.push(name);
    }
  } catch (error) {
    if (!(error instanceof Deno.errors.NotFound)) throw error;
  }
  return names.sort().map((name) => join(place, name));
}

/**
 * Runs the scripts `tests/FOLDER/NAME.KIND.ts` whose name begins so, all of them, and tells which did not hold.
 *
 * @param env  added to this process's environment
 * @returns 0 when all held, else 1
 * @throws Mistyped where no name begins so
 */
export async function runScripts(
  folder: string,
  kind: string,
  prefix = "",
  env: Readonly<Record<string, string>> = {},
): Promise<number> {
  const scripts = await scriptsOf(folder, `.${kind}.ts`, prefix);
  if (scripts.length === 0) {
    throw new Mistyped(`No ${kind} in tests/${folder} begins with "${prefix}".`);
  }
  const broken: string[] = [];
  for (const script of scripts) {
    const name = basename(script, `.${kind}.ts`);
    if (scripts.length > 1) console.log(`\n= ${kind} ${name}`);
    const child = new Deno.Command(Deno.execPath(), { args: ["run", "-A", script], env }).spawn();
    if (!(await child.status).success) broken.push(name);
  }
  if (broken.length > 0) console.log(`\nDid not hold: ${broken.join(", ")}.`);
  return broken.length > 0 ? 1 : 0;
}
