/** The kit's own kernel for Jupyter: what stops a cell is told in a sentence, Stop works, and outputs carry no colour codes. */
import { delimiter, join } from "node:path";
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

/** Where a person's own Jupyter looks for kernels. READ: jupyter_core, `jupyter_data_dir` (Debian python3-jupyter-core) */
export function personsJupyter(env: (name: string) => string | undefined): string {
  const named = env("JUPYTER_DATA_DIR");
  if (named !== undefined && named !== "") return named;
  const home = env("HOME") ?? env("USERPROFILE") ?? ".";
  if (Deno.build.os === "darwin") return join(home, "Library", "Jupyter");
  if (Deno.build.os !== "windows") {
    return join(env("XDG_DATA_HOME") ?? join(home, ".local", "share"), "jupyter");
  }
  const roaming = env("APPDATA");
  return roaming === undefined ? join(home, ".jupyter", "data") : join(roaming, "jupyter");
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
 * same name is kept, and comes back when this one goes.
 *
 * @param dataDir  as `personsJupyter` says
 * @returns path of the kernel.json written
 */
export async function installKernel(dataDir: string): Promise<string> {
  const own = join(dataDir, "first-mirror");
  const deno = join(own, `deno-${Deno.version.deno}${Deno.build.os === "windows" ? ".exe" : ""}`);
  await Deno.mkdir(own, { recursive: true });
  if (!await files().isThere(deno)) {
    const part = `${deno}.${Deno.pid}.part`;
    await Deno.copyFile(Deno.execPath(), part);
    await Deno.rename(part, deno);
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
 * @returns whether there was one
 */
export async function uninstallKernel(dataDir: string): Promise<boolean> {
  const folder = join(dataDir, "kernels", KERNEL_NAME), path = join(folder, "kernel.json");
  await Deno.remove(join(dataDir, "first-mirror"), { recursive: true }).catch(() => {});
  if (!await isOurs(path)) return false;
  const before = join(folder, BEFORE);
  if (await files().isThere(before)) await Deno.rename(before, path);
  else {
    await Deno.remove(path);
    // a folder in which nothing else stands goes too
    await Deno.remove(folder).catch(() => {});
  }
  return true;
}
