/** The scripts of a folder of tests, run one after the other: benches and trials. */
import { join } from "node:path";
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
 * Runs the scripts `tests/FOLDER/NAME.KIND.ts` whose name begins so, stopping at the first that fails.
 *
 * @param env  added to this process's environment
 * @returns its exit status, 0 when all held
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
  for (const script of scripts) {
    const child = new Deno.Command(Deno.execPath(), { args: ["run", "-A", script], env }).spawn();
    const { code } = await child.status;
    if (code !== 0) return code;
  }
  return 0;
}
