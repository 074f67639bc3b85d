// deno-lint-ignore-file no-console
import { basename, relative } from "node:path";
import { buildBook } from "../book/build.ts";
import { buildClassBook } from "../book/classBook.ts";
import { type Progress, progressText } from "../book/runner.ts";
import { isClass } from "../knowledge/classOfRecords.ts";
import { demoName } from "../knowledge/open.ts";
import { dayTyped, isFault, runTask } from "./command.ts";
import { whenStopped } from "./stopped.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

/** `deno task book`: run the notebooks on a record and write the pages. */

const help = `deno task book [RECORD | CLASS] [--learner] [--out DIR] [--today DAY] [--kernels]

Runs all notebooks on a maker's record and writes the book: pages to read, print and project,
from disk, without a network. The last good book stays until the new one is whole. What has not
changed since the last build is not run again, nor what was done in a build that was stopped.
For a folder of records it writes one book: the lessons once, with a choice of the bench on top of
each, and for every bench its own page, report and sheets. The cells then run in the page on the
readings of the bench that is chosen.

  RECORD      a folder of data/records, or the path of any folder with a mirror.yaml
              (default: ${demoName})
  CLASS       a folder that holds records and no mirror.yaml of its own
  --learner   the learner's edition: exercises without their answers, in pages and notebooks, and
              no page about a class (default: the leader's, with answers to unfold)
  --out DIR   where the book goes (default: book/NAME, NAME being the record's; the learner's
              edition goes to book/NAME-learner)
  --today DAY the day on the pages, such as 2026-04-18 (default: the clock's); a record that
              tells of a later day is refused
  --kernels   run each notebook in a kernel of its own, as Jupyter runs your copies: slower, and the
              same to the byte (default: all in this one process)
  --help      this text

Exit status: 0 built, 1 not built (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

/** The path as one would type it here. */
function here(path: string): string {
  const near = relative(Deno.cwd(), path);
  return near.startsWith("..") ? path : near;
}

async function build(
  record: string,
  out: string | undefined,
  learner: boolean,
  today: string | undefined,
  kernels: boolean,
): Promise<number> {
  const watch = new Watch(Deno.stderr.isTerminal());
  using stopped = whenStopped("Stopped. The last book stands as it was.");
  try {
    const folder = recordFromCaller(record), isMany = await isClass(folder);
    const built = await (isMany ? buildClassBook : buildBook)({
      record: folder,
      ...(out === undefined ? {} : { out: fromCaller(out) }),
      ...(learner ? { edition: "learner" } as const : {}),
      ...(today === undefined ? {} : { today }),
      kernels,
      onProgress: (step: Progress) => watch.step({ ...step, notebook: basename(step.notebook) }),
      signal: stopped.signal,
    });
    watch.end();
    console.log(`The book:    ${here(built.index)}`);
    console.log(`In numbers:  ${here(built.summary)}`);
    for (const path of built.saved) {
      console.log(`Yours, changed in the last book, is now in ${here(path)}`);
    }
    return 0;
  } catch (error) {
    watch.end();
    if (!(error instanceof Error) || isFault(error)) throw error;
    console.error(error.message);
    return 1;
  }
}

// Progress of notebooks for a person: one line that rewrites itself in a terminal, plain lines elsewhere.

/** How wide the rewritten line may be. */
const width = 78;

/** Writes progress to standard error. */
export class Watch {
  readonly #running = new Map<string, Progress>();
  #done = 0;

  /**
   * @param isTerminal  true: one line that rewrites itself; false: a line when a notebook begins and ends
   * @param write       where text goes; default standard error
   */
  constructor(
    private readonly isTerminal: boolean,
    private readonly write: (text: string) => void = (text) =>
      void Deno.stderr.writeSync(new TextEncoder().encode(text)),
  ) {}

  /** Tells one step. */
  step(progress: Progress): void {
    const { notebook, state } = progress;
    const isOver = state === "done" || state === "failed" || state === "kept";
    if (isOver) {
      this.#running.delete(notebook);
      this.#done++;
    } else this.#running.set(notebook, progress);
    if (this.isTerminal) this.#rewrite(progress);
    else if (isOver || state === "starting") this.write(`${progressText(progress)}\n`);
  }

  /** Clears the line that rewrites itself. */
  end(): void {
    if (this.isTerminal) this.write("\r\u001b[K");
  }

  #rewrite({ secondsLeft }: Progress): void {
    const parts = [...this.#running.values()].map(({ notebook, cell, cells }) =>
      `${notebook.replace(/\.ipynb$/, "")} ${cell}/${cells}`
    );
    const left = secondsLeft === undefined ? [] : [`about ${secondsLeft} s left`];
    const text = [`${this.#done} done`, ...parts, ...left].join(" · ");
    this.write(`\r\u001b[K${text.length > width ? `${text.slice(0, width - 1)}…` : text}`);
  }
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "book",
      help,
      options: {
        out: { type: "string" },
        learner: { type: "boolean" },
        today: { type: "string" },
        kernels: { type: "boolean" },
      },
      most: 1,
      many: "book is built from one record, or from one class",
      act: ([record = demoName], { out, learner = false, today, kernels = false }) =>
        build(record, out, learner, dayTyped(today), kernels),
    }),
  );
}
