// deno-lint-ignore-file no-console
/** `deno task lab`: the kit's own kernel written, and Jupyter opened on the notebooks. */
import { basename, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import {
  jupyterPath,
  KERNEL_NAME,
  KERNEL_TITLE,
  kitJupyter,
  writeKernelspec,
} from "../book/kernelspec.ts";
import { demoName } from "../record/open.ts";
import { runTask } from "./command.ts";
import { recordFromCaller } from "./fromCaller.ts";
import { findJupyter, HOW_TO_GET_JUPYTER } from "./jupyter.ts";

const help = `deno task lab [RECORD] [--learner]

Opens the notebooks in Jupyter, to change numbers in them and run them cell by cell. First it
tells Jupyter of the kit's own kernel, "${KERNEL_TITLE}", in which Stop works. Nothing of
your own Jupyter is changed.

  RECORD          the mirror the notebooks are about: a folder of data/records or the path of
                  one; without it, the demo mirror
  --learner       the notebooks of the learner's book, without the exercises' answers; build it
                  first: deno task book RECORD --learner
  --kernel-only   write the kernel and open nothing
  --data DIR      where the kernel is written; without it, the kit's folder .jupyter
  --help          this text

Exit status: 0 when Jupyter was closed again, 1 when it could not be opened, 2 the command was
mistyped.`;

const root = fileURLToPath(new URL("../../", import.meta.url));

/** The folder that is opened; undefined where the learner's book has not been built. */
async function notebooksFor({ record, learner }: Wish): Promise<string | undefined> {
  if (!learner) return join(root, "notebooks");
  const name = basename(record === undefined ? demoName : forKernel(record));
  const folder = join(root, "book", `${name}-learner`, "notebooks");
  return await Deno.stat(folder).then(() => folder, () => undefined);
}

interface Wish {
  readonly record?: string;
  readonly data: string;
  /** the learner's notebooks instead of the kit's own */
  readonly learner: boolean;
  readonly kernelOnly: boolean;
}

/** The record as the kernel finds it, which works in another folder than this command. */
function forKernel(record: string): string {
  return resolve(recordFromCaller(record));
}

async function open(wish: Wish): Promise<number> {
  const { record, data } = wish, notebooks = await notebooksFor(wish);
  if (notebooks === undefined) {
    console.error(
      `There is no learner's book yet: deno task book${
        record === undefined ? "" : ` ${record}`
      } --learner`,
    );
    return 1;
  }
  const jupyter = await findJupyter();
  if (jupyter === undefined) {
    console.error(HOW_TO_GET_JUPYTER);
    return 1;
  }
  console.log(`Opening Jupyter (${jupyter.face} ${jupyter.version}); Ctrl-C here closes it.`);
  Deno.addSignalListener("SIGINT", () => {});
  const child = new Deno.Command("jupyter", {
    args: [jupyter.face, `--MultiKernelManager.default_kernel_name=${KERNEL_NAME}`],
    cwd: notebooks,
    env: {
      JUPYTER_PATH: jupyterPath(data),
      ...(record !== undefined && { FIRST_MIRROR_RECORD: forKernel(record) }),
    },
  }).spawn();
  return (await child.status).code;
}

async function lab(wish: Wish): Promise<number> {
  try {
    console.log(`Kernel "${KERNEL_TITLE}" written: ${await writeKernelspec(wish.data)}`);
  } catch (error) {
    console.error(`The kernel could not be written in ${wish.data}: ${(error as Error).message}`);
    return 1;
  }
  return wish.kernelOnly ? 0 : await open(wish);
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "lab",
      help,
      options: {
        "kernel-only": { type: "boolean" },
        data: { type: "string" },
        learner: { type: "boolean" },
      },
      most: 1,
      many: "lab takes one record",
      act: ([record], { data = kitJupyter, learner = false, "kernel-only": kernelOnly = false }) =>
        lab({ data, learner, kernelOnly, ...(record !== undefined && { record }) }),
    }),
  );
}
