/** The cells of a page, with a thread that runs in this very process: marks, needs, stopping, as it was. */
import assert from "node:assert/strict";
import { Cells, type CellState, type CellThread } from "../../lib/living/cells.ts";
import type { Asked, Said } from "../../lib/living/messages.ts";
import { answering } from "../../lib/living/thread.ts";
import { Session } from "../../lib/living/session.ts";

/** How many threads were begun, and what each ran. */
interface Log {
  threads: number;
  readonly ran: number[];
}

function threadHere(log: Log): CellThread {
  log.threads += 1;
  const session = new Session({
    load: (module) => Promise.resolve(module === "m" ? { one: 1 } : undefined),
    modules: ["m"],
    library: new Map(),
  });
  let isEnded = false;
  const thread: CellThread = {
    onmessage: null,
    onerror: null,
    terminate: () => void (isEnded = true),
    postMessage: async (message: { readonly number: number } & Asked) => {
      if (message.ask === "run") log.ran.push(message.cell);
      const say = (said: Said): void => isEnded ? undefined : thread.onmessage?.({ data: said });
      const answer = await answering(session, say)(message);
      say({ to: message.number, answer });
    },
  };
  return thread;
}

function cellsOf(
  ...sources: string[]
): { cells: Cells; log: Log; states: () => CellState[]; texts: () => string[] } {
  const log: Log = { threads: 0, ran: [] };
  const cells = new Cells({
    sources,
    thread: () => threadHere(log),
    begin: () => ({ files: new Map() }),
    onChange: () => {},
    seconds: 0.3,
  });
  const views = () => sources.map((_, n) => cells.view(n));
  return {
    cells,
    log,
    states: () => views().map(({ state }) => state),
    texts: () =>
      views().map(({ shown, stopped }) =>
        stopped?.says ?? (shown ?? []).map(({ text }) => text).join()
      ),
  };
}

const chain = ["const a = 1;", "const b = a * 2;\nb", "b + 1", "'alone'"];

Deno.test("a cell runs what it needs first, once, and nothing else", async () => {
  const { cells, log, states } = cellsOf(...chain);
  assert.deepEqual(await cells.run(2), { text: "3", failed: false });
  assert.deepEqual(log.ran, [0, 1, 2]);
  assert.deepEqual(states(), ["done", "done", "done", "as built"]);
  assert.deepEqual(await cells.run(2), { text: "3", failed: false });
  assert.deepEqual(log.ran, [0, 1, 2, 2]);
});

Deno.test("what rests on a changed cell is stale, and can be run on", async () => {
  const { cells, log, states, texts } = cellsOf(...chain);
  await cells.runAll();
  assert.deepEqual(await cells.run(0, "const a = 5;"), { text: "", failed: false });
  assert.deepEqual(states(), ["done", "stale", "stale", "done"]);
  assert.equal(cells.view(1).since, 0);
  log.ran.splice(0);
  assert.deepEqual(await cells.runOn(1), { text: "10", failed: false });
  assert.deepEqual(log.ran, [1, 2]);
  assert.deepEqual([states(), texts()], [["done", "done", "done", "done"], [
    "",
    "10",
    "11",
    '"alone"',
  ]]);
});

Deno.test("a stale cell that another needs is run with it", async () => {
  const { cells, log } = cellsOf(...chain);
  await cells.runAll();
  await cells.run(0, "const a = 5;");
  log.ran.splice(0);
  assert.deepEqual(await cells.run(2), { text: "11", failed: false });
  assert.deepEqual(log.ran, [1, 2]);
});

Deno.test("as it was: the cell as built, what rests on it stale, and its old names again where they are needed", async () => {
  const { cells, states } = cellsOf(...chain);
  await cells.runAll();
  await cells.run(0, "const a = 5, c = 6;");
  await cells.runOn(1);
  await cells.asItWas(0);
  assert.deepEqual(states(), ["as built", "stale", "stale", "done"]);
  assert.equal(cells.view(0).source, "const a = 1;");
  assert.deepEqual(await cells.run(2), { text: "3", failed: false });
  assert.deepEqual(await cells.run(3, "c"), {
    text: "there is nothing called c.",
    failed: true,
  });
});

Deno.test("as it was of a cell that was only written in changes nothing below", async () => {
  const { cells, states } = cellsOf(...chain);
  cells.write(0, "const a = 7;");
  await cells.asItWas(0);
  assert.deepEqual(states(), ["as built", "as built", "as built", "as built"]);
  assert.equal(cells.view(0).source, "const a = 1;");
});

Deno.test("a cell that never settles is ended by itself; the cells above have their values again when they are needed", async () => {
  const { cells, log, states } = cellsOf("const a = 1;", "await new Promise(() => {});", "a");
  await cells.run(0);
  const { text, failed } = await cells.run(1);
  assert.ok(failed);
  assert.equal(
    text,
    "still waiting in line 1 after 0.3 s, for something that never comes; stopped.",
  );
  assert.deepEqual(await cells.run(2), { text: "1", failed: false });
  assert.deepEqual([states(), log.threads], [["done", "failed", "done"], 2]);
});

Deno.test("stop says that it was stopped, and where", async () => {
  const { cells } = cellsOf("const a = 1;\nawait new Promise(() => {});", "2");
  const run = cells.run(0);
  await new Promise((later) => setTimeout(later, 100));
  cells.stop();
  assert.deepEqual(await run, {
    text: "stopped by you in line 2; the cells above are as they were.",
    failed: true,
  });
  assert.deepEqual(await cells.run(1), { text: "2", failed: false });
});

Deno.test("run all begins anew, goes on after a failure, and counts what ended well; what failed is not tried again for others", async () => {
  const { cells, log, states, texts } = cellsOf(
    "const n = [];",
    "n.push(1);",
    "throw 'no';\nconst x = 1;",
    "x",
    "n.length",
  );
  assert.equal(await cells.runAll(), 3);
  assert.equal(await cells.runAll(), 3);
  assert.deepEqual(states(), ["done", "done", "failed", "failed", "done"]);
  assert.equal(texts()[3], "cell 3, which this cell needs, stopped: the cell threw “no”.");
  assert.equal(texts()[4], "1");
  assert.deepEqual(log.ran, [0, 1, 2, 4, 0, 1, 2, 4]);
});

Deno.test("what changes another's list makes what shows it stale each time it runs again", async () => {
  const { cells, states } = cellsOf("const n = [];", "n.push(1);", "n.length");
  await cells.runAll();
  await cells.run(1);
  assert.deepEqual(states(), ["done", "done", "stale"]);
  assert.equal((await cells.run(2)).text, "2");
  // the giver anew: what changed it has to run again
  await cells.run(0);
  assert.equal((await cells.run(2)).text, "1");
});

Deno.test("a cell that cannot be read fails alone; nothing of it is taken, nothing below is stale", async () => {
  const { cells, states } = cellsOf(...chain);
  await cells.runAll();
  assert.deepEqual(await cells.run(0, "const a = 1,5;"), {
    text: "write 1.5 with a point, because a comma here ends the number.",
    failed: true,
  });
  assert.deepEqual(states(), ["failed", "done", "done", "done"]);
  assert.equal((await cells.run(1)).text, "2");
});

Deno.test("a name given to something else fails where it is used, and the rest is kept", async () => {
  const { cells, states, texts } = cellsOf("import { one } from 'm';", "one + 1", "'kept'");
  await cells.runAll();
  await cells.run(0, "const one = { of: 2 };");
  assert.deepEqual(states(), ["done", "stale", "done"]);
  assert.equal((await cells.run(1)).text, '"[object Object]1"');
  assert.equal(texts()[2], '"kept"');
});

Deno.test("another record makes stale what reads it, and the thread begins anew", async () => {
  const { cells, log } = cellsOf("const a = 1;", "a");
  await cells.run(1);
  await cells.recordChanged("b");
  assert.equal((await cells.run(1)).text, "1");
  assert.equal(log.threads, 2);
});

Deno.test("a number that is no cell's is told", async () => {
  await assert.rejects(cellsOf("1").cells.run(7), /there is no cell 7; the page has 1, from 0/);
});
