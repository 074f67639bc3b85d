/** The kit's commands as a person runs them, from a folder of one's own. */
import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const config = fileURLToPath(new URL("../../deno.json", import.meta.url));

/** What a command said, and how it ended. */
export interface Said {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

const { tasks } = JSON.parse(await Deno.readTextFile(config)) as {
  tasks: Readonly<Record<string, { readonly command: string }>>;
};

/** What a task may do, as deno.json says it; folders counted from the kit's own. */
export function permissionsOf(name: string): readonly string[] {
  const words = (tasks[name]?.command ?? "").split(" ").slice(2, -1);
  return words.map((word) => {
    const [, what, folders] = /^(--allow-(?:read|write)=)(.*)$/.exec(word) ?? [];
    if (what === undefined || folders === undefined) return word;
    return what + folders.split(",").map((folder) => join(dirname(config), folder)).join(",");
  });
}

/** The process that `deno task NAME` starts, with no more than that may do. */
export function command(
  name: string,
  args: readonly string[],
  cwd = Deno.cwd(),
  env: Readonly<Record<string, string>> = {},
  deno = Deno.execPath(),
): Deno.Command {
  const script = fileURLToPath(new URL(`../../lib/commands/${name}.ts`, import.meta.url));
  return new Deno.Command(deno, {
    args: [
      "run",
      ...permissionsOf(name),
      "--no-prompt",
      "--no-check",
      "--config",
      config,
      script,
      ...args,
    ],
    cwd,
    env: { NO_COLOR: "1", ...env },
    stdin: "null",
    stdout: "piped",
    stderr: "piped",
  });
}

const decoded = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

/** What became of a process. */
export async function saidBy(process: Deno.ChildProcess): Promise<Said> {
  const { code, stdout, stderr } = await process.output();
  return { code, out: decoded(stdout), err: decoded(stderr) };
}

/** Runs a command to its end. */
export async function run(
  name: string,
  args: readonly string[],
  cwd?: string,
  env?: Readonly<Record<string, string>>,
): Promise<Said> {
  const { code, stdout, stderr } = await command(name, args, cwd, env).output();
  return { code, out: decoded(stdout), err: decoded(stderr) };
}

/** Words for a person: no stack trace, no address of a source file, no name of an error's class. */
export function assertForPeople(text: string): void {
  assert.doesNotMatch(text, /^\s+at |file:\/\/|^(error: )?Uncaught|^\w*Error: /m);
}

/** Runs something in a temporary folder, its name having a space in it, that is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = await Deno.realPath(await Deno.makeTempDir({ prefix: "first mirror " }));
  try {
    return await work(folder);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** Names in a folder, sorted; all that lies there, hidden or not. */
export async function names(folder: string): Promise<readonly string[]> {
  return (await Array.fromAsync(Deno.readDir(folder))).map(({ name }) => name).sort();
}

/** A book as it lies there: every file with its text. */
export async function contents(folder: string): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const name of await names(folder)) {
    const path = join(folder, name);
    if ((await Deno.stat(path)).isFile) found[name] = await Deno.readTextFile(path);
  }
  return found;
}
