// deno-lint-ignore-file no-console
import { join, resolve } from "node:path";
import { setGuard } from "../book/kernel/guard.ts";
import {
  installKernel,
  jupyterPath,
  KERNEL_NAME,
  KERNEL_TITLE,
  kitJupyter,
  personsJupyter,
  uninstallKernel,
  writeKernelspec,
} from "../book/kernelspec.ts";
import { copiesOf, layCopies, makeKitKnown } from "../book/workingCopies.ts";
import { demoName } from "../knowledge/open.ts";
import { kitFolder } from "../record/fileSystem.ts";
import { NotDone, runTask } from "./command.ts";
import { whenStopped } from "./stopped.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";
import { findJupyter, HOW_TO_GET_JUPYTER } from "./jupyter.ts";

/** `deno task lab`: a reader's own copies of the notebooks laid out, the kit's kernel written, and Jupyter opened on them. */

const help = `deno task lab [RECORD] [--learner] [--in DIR]

Opens your own copies of the notebooks in Jupyter, to change numbers in them and run them cell
by cell. They are made once and never replaced: what you write in them stays. A lesson that is
newer than your copy is laid beside it with its number, as 04-measure-curve-2.ipynb. First it
tells Jupyter of the kit's own kernel, "${KERNEL_TITLE}", in which Stop works. Nothing of
your own Jupyter is changed.

  RECORD          the mirror the notebooks are about: a folder of data/records or the path of
                  one; without it, the demo mirror
  --learner       the learner's notebooks, without the exercises' answers
  --in DIR        where the copies are; without it, the record's folder notebooks, for a
                  learner its folder learner-notebooks
  --kernel-only   write the kernel and open nothing
  --install       write the kernel for every Jupyter of yours, with a Deno of its own (some 100 MB)
                  that stays when npx clears its cache, and open nothing; a kernel of the same name
                  that is there already waits meanwhile. It starts from this folder of the kit,
                  which has to stay where it is
  --uninstall     take that away again; what waited is back
  --data DIR      where the kernel is written; without it, the kit's folder .jupyter
  --help          this text

Exit status: 0 when Jupyter was closed again, 1 when it could not be opened, 2 the command was
mistyped, 70 the kit itself has a fault, with a report of it.`;

interface Wish {
  /** as typed; the demo where nothing was */
  readonly record: string;
  readonly data: string;
  /** the learner's notebooks instead of the leader's */
  readonly learner: boolean;
  /** where the copies are to be, as typed */
  readonly copies?: string;
  readonly kernelOnly: boolean;
}

/** The record's folder, as the kernel finds it, which works in another folder than this command. */
async function folderOf(record: string): Promise<string> {
  const folder = resolve(recordFromCaller(record));
  const isRecord = await Deno.stat(join(folder, "mirror.yaml")).then(() => true, () => false);
  if (isRecord) return await Deno.realPath(folder);
  throw new NotDone(
    `${folder} is no mirror's record, for it holds no mirror.yaml; begin one: deno task new NAME`,
  );
}

/** Lays out the copies and says where they are. @returns their folder */
async function layOut({ learner, copies }: Wish, record: string): Promise<string> {
  const folder = copies === undefined ? copiesOf(record, learner) : resolve(fromCaller(copies));
  const { made, newer } = await layCopies(folder, learner).catch((error: unknown) => {
    if (!(error instanceof Error) || !("code" in error)) throw error;
    const why = error.message;
    throw new NotDone(`${folder} cannot be written (${why}); name another folder with --in.`);
  });
  await makeKitKnown(folder);
  console.log(`Your notebooks: ${folder}${made.length > 0 ? `, ${made.length} of them new` : ""}`);
  if (newer.length > 0) console.log(`Newer lessons beside yours: ${newer.join(", ")}`);
  return folder;
}

/** Runs Jupyter until it is closed. Whatever ends this task ends the server too, and all that it has started. */
async function serve(
  face: string,
  cwd: string,
  env: Readonly<Record<string, string>>,
): Promise<number> {
  using stopped = whenStopped("Closed.");
  const child = new Deno.Command("jupyter", {
    args: [face, `--MultiKernelManager.default_kernel_name=${KERNEL_NAME}`],
    cwd,
    env,
  }).spawn();
  const guard = setGuard(child.pid);
  const end = (): void => void guard.end();
  stopped.signal.addEventListener("abort", end);
  if (stopped.signal.aborted) end();
  const { code } = await child.status;
  // where it was asked to end the guard is at it, and is waited for
  await guard.release();
  return stopped.signal.aborted ? 0 : code;
}

async function open(wish: Wish): Promise<number> {
  const record = await folderOf(wish.record);
  const jupyter = await findJupyter();
  if (jupyter === undefined) {
    console.error(HOW_TO_GET_JUPYTER);
    return 1;
  }
  const folder = await layOut(wish, record);
  console.log(`Opening Jupyter (${jupyter.face} ${jupyter.version}); Ctrl-C here closes it.`);
  return await serve(jupyter.face, folder, {
    JUPYTER_PATH: jupyterPath(wish.data),
    FIRST_MIRROR_RECORD: record,
  });
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

/** Gives a person's own Jupyter the kernel, or takes it away. */
async function forAll(data: string, isWanted: boolean): Promise<number> {
  try {
    if (isWanted) {
      console.log(`Kernel "${KERNEL_TITLE}" for all your Jupyters: ${await installKernel(data)}`);
      console.log(
        `It starts from ${kitFolder}; where you move that folder, install it again there.`,
      );
    } else {
      const { had, stays } = await uninstallKernel(data);
      console.log(
        had ? `The kernel is gone from ${data}.` : `There was no kernel of the kit's in ${data}.`,
      );
      if (stays !== undefined) {
        console.log(
          `Its Deno is still at work: close Jupyter and call this again to clear ${stays}.`,
        );
      }
    }
    return 0;
  } catch (error) {
    console.error(`${data} cannot be written: ${(error as Error).message}`);
    return 1;
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "lab",
      help,
      options: {
        "kernel-only": { type: "boolean" },
        data: { type: "string" },
        in: { type: "string" },
        learner: { type: "boolean" },
        install: { type: "boolean" },
        uninstall: { type: "boolean" },
      },
      most: 1,
      many: "lab takes one record",
      act: ([record = demoName], typed) => {
        if (typed.install === true || typed.uninstall === true) {
          const data = typed.data ?? personsJupyter((name) => Deno.env.get(name));
          return forAll(data, typed.install === true);
        }
        return lab({
          record,
          data: typed.data ?? kitJupyter,
          learner: typed.learner ?? false,
          kernelOnly: typed["kernel-only"] ?? false,
          ...(typed.in !== undefined && { copies: typed.in }),
        });
      },
    }),
  );
}
