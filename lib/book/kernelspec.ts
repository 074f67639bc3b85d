/** The kit's own kernel for Jupyter: what stops a cell is told in a sentence, Stop works, and outputs carry no colour codes. */
import { delimiter, join, posix, win32 } from "node:path";
import { fileURLToPath } from "node:url";
import { files } from "../record/fileSystem.ts";

/** The name under which notebooks ask for the kernel: the stock one's, so that they open wherever that is installed. */
export const KERNEL_NAME = "deno";
/** The name a person sees when the kit's own is in front. */
export const KERNEL_TITLE = "Deno (First Mirror)";

/** What Jupyter starts; Deno's own kernel stands behind it. */
const door = fileURLToPath(new URL("kernel/door.ts", import.meta.url));

/** A kernelspec, as Jupyter reads it from kernel.json. */
export interface Kernelspec {
  readonly argv: readonly string[];
  readonly display_name: string;
  readonly language: string;
  readonly interrupt_mode: "message" | "signal";
  readonly env: Readonly<Record<string, string>>;
}

/**
 * The kit's kernelspec for one Deno.
 *
 * @param deno  path of the Deno that shall run the cells; default: the one that runs this
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(kernelspec("/usr/bin/deno").interrupt_mode, "message");
 * ```
 */
export function kernelspec(deno: string = Deno.execPath()): Kernelspec {
  return {
    argv: [deno, "run", "-A", "--quiet", door, "{connection_file}"],
    display_name: KERNEL_TITLE,
    language: "typescript",
    interrupt_mode: "message",
    env: { NO_COLOR: "1" },
  };
}

/** What a notebook's metadata say of its kernel and language; nothing in it changes from day to day. */
export function kernelMetadata(): Record<string, unknown> {
  return {
    kernelspec: { display_name: "Deno", language: "typescript", name: KERNEL_NAME },
    language_info: {
      file_extension: ".ts",
      mimetype: "text/x.typescript",
      name: "typescript",
      nbconvert_exporter: "script",
      pygments_lexer: "typescript",
    },
  };
}

/** The kit's own folder for Jupyter: named in JUPYTER_PATH it comes before the user's, and nothing of the user's is touched. */
export const kitJupyter: string = fileURLToPath(new URL("../../.jupyter", import.meta.url));

/**
 * JUPYTER_PATH with a folder put in front.
 *
 * @param folder  a folder that holds `kernels/`
 * @param before  the path as it was; default: the environment's
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(jupyterPath("/kit", "/mine"), /^\/kit[:;]\/mine$/);
 * ```
 */
export function jupyterPath(folder: string, before = Deno.env.get("JUPYTER_PATH") ?? ""): string {
  return before === "" ? folder : `${folder}${delimiter}${before}`;
}

/**
 * Writes the kernelspec.
 *
 * @param dataDir  the folder to name in JUPYTER_PATH; default: the kit's own
 * @param deno     path of the Deno that shall run the cells; default: the one that runs this
 * @returns path of the kernel.json written
 */
export async function writeKernelspec(
  dataDir: string = kitJupyter,
  deno: string = Deno.execPath(),
): Promise<string> {
  const folder = join(dataDir, "kernels", KERNEL_NAME);
  const path = join(folder, "kernel.json");
  await Deno.mkdir(folder, { recursive: true });
  await Deno.writeTextFile(path, JSON.stringify(kernelspec(deno), null, 2) + "\n");
  return path;
}

// The kernel for every Jupyter of a person: hers to keep, and taken away again without a trace.

/**
 * Where a person's own Jupyter looks for kernels. READ: jupyter_core, `jupyter_data_dir` (Debian python3-jupyter-core)
 *
 * @param env  what the environment says; a name that is set to nothing is not set
 * @param os   default: this machine's
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const env = (name: string) => ({ APPDATA: "C:\\Users\\Asha\\AppData" })[name];
 * assert.equal(personsJupyter(env, "windows"), "C:\\Users\\Asha\\AppData\\jupyter");
 * ```
 */
export function personsJupyter(
  env: (name: string) => string | undefined,
  os: typeof Deno.build.os = Deno.build.os,
): string {
  const set = (...names: string[]): string | undefined => names.map(env).find((text) => text);
  const named = set("JUPYTER_DATA_DIR");
  if (named !== undefined) return named;
  if (os === "windows") {
    const roaming = set("APPDATA");
    if (roaming !== undefined) return win32.join(roaming, "jupyter");
    // a shell from elsewhere may name a HOME there that Jupyter does not look at
    return win32.join(set("USERPROFILE", "HOME") ?? ".", ".jupyter", "data");
  }
  const home = set("HOME") ?? ".";
  if (os === "darwin") return posix.join(home, "Library", "Jupyter");
  return posix.join(set("XDG_DATA_HOME") ?? posix.join(home, ".local", "share"), "jupyter");
}

/** Where another's kernel of the same name waits meanwhile. */
const BEFORE = "kernel.json.before-first-mirror";

async function isOurs(path: string): Promise<boolean> {
  try {
    return JSON.parse(await Deno.readTextFile(path)).display_name === KERNEL_TITLE;
  } catch {
    return false;
  }
}

/**
 * Gives a person's Jupyter the kernel, with a Deno of its own: that of `npx` may be cleared away any day. Another's kernel of the
 * same name is kept, and comes back when this one goes. The kernel starts from the kit's folder, which has to stay where it is.
 *
 * @param dataDir  as `personsJupyter` says
 * @param program  the Deno that is copied; default: the one that runs this
 * @returns path of the kernel.json written
 */
export async function installKernel(
  dataDir: string,
  program: string = Deno.execPath(),
): Promise<string> {
  const own = join(dataDir, "first-mirror");
  const name = `deno-${Deno.version.deno}${Deno.build.os === "windows" ? ".exe" : ""}`;
  const deno = join(own, name);
  await Deno.mkdir(own, { recursive: true });
  if (!await files().isThere(deno)) {
    const part = `${deno}.${Deno.pid}.part`;
    await Deno.copyFile(program, part);
    await Deno.rename(part, deno);
  }
  // an older one, or what a copy that was cut short left; one that still runs may be held by its system
  for await (const other of Deno.readDir(own)) {
    if (other.name !== name) await Deno.remove(join(own, other.name)).catch(() => {});
  }
  const path = join(dataDir, "kernels", KERNEL_NAME, "kernel.json");
  if (await files().isThere(path) && !await isOurs(path)) {
    await Deno.rename(path, join(dataDir, "kernels", KERNEL_NAME, BEFORE));
  }
  return await writeKernelspec(dataDir, deno);
}

/**
 * Takes the kernel away again, and its Deno; another's that stood there before is back.
 *
 * @returns whether there was one, and the folder that stays because its Deno still runs: Windows lets go of none that does
 */
export async function uninstallKernel(
  dataDir: string,
): Promise<{ readonly had: boolean; readonly stays?: string }> {
  const folder = join(dataDir, "kernels", KERNEL_NAME), path = join(folder, "kernel.json");
  const had = await isOurs(path), before = join(folder, BEFORE);
  if (had && await files().isThere(before)) await Deno.rename(before, path);
  else if (had) {
    await Deno.remove(path);
    // a folder in which nothing else stands goes too
    await Deno.remove(folder).catch(() => {});
  }
  const own = join(dataDir, "first-mirror");
  await Deno.remove(own, { recursive: true }).catch(() => {});
  return await files().isThere(own) ? { had, stays: own } : { had };
}
