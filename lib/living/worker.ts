/**
 * The entry of the thread in which a page's cells run: the whole library, and nothing of the page.
 *
 * It has the page's policy: no network, no code but the cells that come as blobs.
 */
import { frames } from "./frames.ts";
import { type HeldAsked, holding, isHeld } from "./heldThread.ts";
import type { MemoryFile } from "../record/memoryFiles.ts";
import { readFromPage } from "./inPage.ts";
import type { Asked, Said } from "./messages.ts";
import { modules, publicNames } from "./modules.ts";
import { browserPhotos } from "./photos.ts";
import { Session } from "./session.ts";
import { answering } from "./thread.ts";

/** As much of a worker's own world as is used here. */
interface Thread {
  postMessage(message: Said): void;
  addEventListener(type: string, listener: (event: ThreadEvent) => void): void;
}
interface ThreadEvent {
  readonly data: { readonly number: number } & (Asked | HeldAsked);
  readonly reason?: unknown;
  readonly error?: unknown;
  preventDefault(): void;
}

/** Lists of so many parts are refused before a browser breaks over them. */
const MOST_PARTS = 1e8;

/** Puts a limit before the two calls that fill a list of any length at once. */
function withLimits(): void {
  const { fill } = Array.prototype, { from } = Array;
  const refuse = (count: unknown): void => {
    if (typeof count === "number" && count > MOST_PARTS) throw new RangeError("out of memory");
  };
  Array.prototype.fill = function (this: unknown[], ...args: Parameters<typeof fill>): unknown[] {
    refuse(this.length);
    return fill.apply(this, args);
  };
  Array.from = function (this: unknown, ...args: unknown[]): unknown {
    refuse(Reflect.get(Object(args[0]), "length"));
    return Reflect.apply(from, this, args);
  } as typeof from;
}

const thread = globalThis as unknown as Thread;
const session = new Session({
  load: (module) => Promise.resolve(modules.get(module)),
  modules: [...modules.keys()],
  library: publicNames,
});
// taken once: a cell may do what it likes with the world it runs in
const post = thread.postMessage.bind(thread);
const answer = answering(
  session,
  post,
  (beginning) => readFromPage({ ...beginning, photos: browserPhotos, frames }),
);
// the same program holds the record for a page's forms, in a thread of its own
let held: ReturnType<typeof holding> | undefined;

thread.addEventListener("message", async ({ data }) => {
  if (!("ask" in data)) return;
  try {
    const { number: to } = data;
    if (!isHeld(data)) {
      if (data.ask === "begin") {
        const { files, record, today } = data.with;
        held = record === undefined
          ? undefined
          : holding(files as Map<string, MemoryFile>, record, today);
      }
      post({ to, answer: await answer(data) });
      return;
    }
    try {
      post({ to, answer: await held?.(data) });
    } catch (error) {
      post({ to, answer: { failed: error instanceof Error ? error.message : String(error) } });
    }
  } catch (fault) {
    post({ fault: String(fault) });
  }
});
withLimits();
const uncaught = (event: ThreadEvent): void => {
  event.preventDefault();
  session.fault(event.reason ?? event.error);
};
thread.addEventListener("unhandledrejection", uncaught);
thread.addEventListener("error", uncaught);
