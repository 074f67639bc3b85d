/** The kit's own kernel for Jupyter: Stop works (the stock one dies of it), and outputs carry no colour codes. */
import { join } from "node:path";

/** The name under which notebooks ask for the kernel. */
export const KERNEL_NAME = "first-mirror";
/** The name a person sees. */
export const KERNEL_TITLE = "First Mirror (Deno)";

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
    argv: [deno, "jupyter", "--kernel", "--conn", "{connection_file}"],
    display_name: KERNEL_TITLE,
    language: "typescript",
    interrupt_mode: "message",
    env: { NO_COLOR: "1" },
  };
}

/** What a notebook's metadata say of its kernel and language; nothing in it changes from day to day. */
export function kernelMetadata(): Record<string, unknown> {
  return {
    kernelspec: { display_name: KERNEL_TITLE, language: "typescript", name: KERNEL_NAME },
    language_info: {
      file_extension: ".ts",
      mimetype: "text/x.typescript",
      name: "typescript",
      nbconvert_exporter: "script",
      pygments_lexer: "typescript",
    },
  };
}

/**
 * The folder in which Jupyter looks for a user's own kernels and settings.
 *
 * @param os   operating system; default: this one
 * @param env  reads a variable of the environment
 * @throws {Error} where the environment names no home
 * @see jupyter_core 4.12, `jupyter --paths` (the Linux place was run, the others are from memory)
 */
export function jupyterDataDir(
  os: typeof Deno.build.os = Deno.build.os,
  env: (name: string) => string | undefined = (name) => Deno.env.get(name),
): string {
  const set = env("JUPYTER_DATA_DIR");
  if (set) return set;
  const home = env("HOME") ?? env("USERPROFILE");
  if (os === "windows") {
    const appData = env("APPDATA");
    if (appData) return join(appData, "jupyter");
  }
  if (home === undefined) {
    throw new Error(
      "jupyterDataDir requires HOME or JUPYTER_DATA_DIR in the environment, got neither",
    );
  }
  if (os === "darwin") return join(home, "Library", "Jupyter");
  if (os === "windows") return join(home, ".jupyter", "data");
  return join(env("XDG_DATA_HOME") || join(home, ".local", "share"), "jupyter");
}

/**
 * Writes the kernelspec where Jupyter finds it.
 *
 * @param dataDir  Jupyter's data folder; default: the user's own
 * @returns path of the kernel.json written
 */
export async function writeKernelspec(dataDir: string = jupyterDataDir()): Promise<string> {
  const folder = join(dataDir, "kernels", KERNEL_NAME);
  const path = join(folder, "kernel.json");
  await Deno.mkdir(folder, { recursive: true });
  await Deno.writeTextFile(path, JSON.stringify(kernelspec(), null, 2) + "\n");
  return path;
}
