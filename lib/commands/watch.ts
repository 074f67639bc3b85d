/** Progress of notebooks for a person: one line that rewrites itself in a terminal, plain lines elsewhere. */
import { type Progress, progressText } from "../book/runnerProgress.ts";

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
