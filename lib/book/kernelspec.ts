/** The kit's own kernel for Jupyter: Stop works (the stock one dies of it), and outputs carry no colour codes. */
import { delimiter, join } from "node:path";
import { fileURLToPath } from "node:url";

/** The name under which notebooks ask for the kernel: the stock one's, so that they open wherever that is installed. */
export const KERNEL_NAME = "deno";
/** The name a person sees when the kit's own is in front. */
export const KERNEL_TITLE = "Deno (First Mirror)";

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
 * @returns path of the kernel.json written
 */
export async function writeKernelspec(dataDir: string = kitJupyter): Promise<string> {
  const folder = join(dataDir, "kernels", KERNEL_NAME);
  const path = join(folder, "kernel.json");
  await Deno.mkdir(folder, { recursive: true });
  await Deno.writeTextFile(path, JSON.stringify(kernelspec(), null, 2) + "\n");
  return path;
}
