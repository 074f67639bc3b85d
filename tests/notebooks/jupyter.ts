/** Debian's Jupyter on the kit's notebooks, with the kit's kernelspec, in folders of its own. */
import assert from "node:assert/strict";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { KERNEL_NAME, writeKernelspec } from "../../lib/book/kernelspec.ts";
import { type Notebook, readNotebook } from "../../lib/book/notebook.ts";
import { python } from "../machine.ts";
import { RECORDS, type State } from "./books.ts";
import { paths } from "./runs.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Executes notebooks by nbconvert into a folder; a cell that fails ends it with its words. */
async function convert(
  state: State,
  notebooks: readonly string[],
  folder: string,
  kind: "notebook" | "html" = "notebook",
): Promise<void> {
  const data = join(folder, "jupyter");
  await writeKernelspec(data);
  const { success, stderr } = await new Deno.Command(python, {
    args: [
      ...["-m", "nbconvert", "--execute", "--to", kind, "--output-dir", folder],
      `--ExecutePreprocessor.kernel_name=${KERNEL_NAME}`,
      ...["--ExecutePreprocessor.timeout=120", "--log-level=WARN", ...notebooks],
    ],
    cwd: root,
    env: {
      FIRST_MIRROR_RECORD: RECORDS[state],
      JUPYTER_DATA_DIR: data,
      JUPYTER_RUNTIME_DIR: join(folder, "runtime"),
      JUPYTER_CONFIG_DIR: join(folder, "config"),
      IPYTHONDIR: join(folder, "ipython"),
    },
    stdin: "null",
    stdout: "null",
    stderr: "piped",
  }).output();
  assert.ok(success, new TextDecoder().decode(stderr).slice(-3000));
}

async function execute(state: State, notebooks: readonly string[]): Promise<readonly Notebook[]> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-nbconvert-" });
  try {
    await convert(state, notebooks, folder);
    return await Promise.all(notebooks.map((path) => readNotebook(join(folder, basename(path)))));
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** All notebooks on one record as Jupyter executes them, in the order of the course. */
export const byJupyter = (state: State): Promise<readonly Notebook[]> => execute(state, paths);

/** One notebook on one record as Jupyter executes it. */
export async function byJupyterAlone(state: State, stem: string): Promise<Notebook> {
  const [notebook] = await execute(
    state,
    paths.filter((path) => basename(path, ".ipynb") === stem),
  );
  if (notebook === undefined) throw new Error(`no notebook ${stem}`);
  return notebook;
}

/** Pages of all notebooks on one record as nbconvert makes them. */
export const htmlByJupyter = (state: State, folder: string): Promise<void> =>
  convert(state, paths, folder, "html");
