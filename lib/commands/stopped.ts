/** When a long task has to end before it is done: told to by the terminal or the system, or left alone by who started it. */

/** How often a task looks whether the process that started it is still there, ms. */
const LOOK = 500;

const SIGNALS: readonly Deno.Signal[] = Deno.build.os === "windows"
  ? ["SIGINT", "SIGBREAK"]
  : ["SIGINT", "SIGTERM", "SIGHUP"];

/** Listens for the end; to be let go when the task is done. */
export interface Stopped extends Disposable {
  readonly signal: AbortSignal;
}

/**
 * A signal that fires at Ctrl-C, at the system's TERM and HUP, and when the `deno task` that started this is gone: a task
 * that nobody waits for any more must not go on in secret. Started by anything else, a task goes on without its parent.
 *
 * @param why  the reason that the signal gives, a sentence
 */
export function whenStopped(why: string): Stopped {
  const stop = new AbortController();
  const onSignal = (): void => stop.abort(new Error(why));
  for (const signal of SIGNALS) Deno.addSignalListener(signal, onSignal);
  const parent = Deno.ppid, byTask = Deno.env.get("INIT_CWD") !== undefined;
  const watch = byTask
    ? setInterval(() => {
      if (Deno.ppid !== parent) onSignal();
    }, LOOK)
    : undefined;
  return {
    signal: stop.signal,
    [Symbol.dispose]: () => {
      for (const signal of SIGNALS) Deno.removeSignalListener(signal, onSignal);
      clearInterval(watch);
    },
  };
}
