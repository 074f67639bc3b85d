/** The kernel that Jupyter sees, driven by Jupyter's own client: what a front end is told, and what Stop reaches. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { parseCell } from "../../../lib/living/cellCode.ts";
import { stoppable } from "../../../lib/book/kernel/door.ts";
import { writeKernelspec } from "../../../lib/book/kernelspec.ts";
import { hasNbconvert, python } from "../../machine.ts";
import { home, inFolder } from "../notebooks.ts";

Deno.test("door: Stop reaches what a cell itself awaits, wherever it stands; no line moves", () => {
  const made = (source: string): string =>
    stoppable(parseCell(source)).replaceAll(/globalThis\[.*?\]\.stoppable/g, "S");
  assert.equal(made("await a;\nawait b(await c);"), "await S(a);\nawait S(b(await S(c)));");
  assert.equal(made("if (1) {\n  x = [await y];\n}"), "if (1) {\n  x = [await S(y)];\n}");
  const inside = "const f = async () => await 1;\nasync function g() { await 2; }";
  assert.equal(made(inside), inside);
});

/** Runs what is asked, one request after the other, and prints what came of it. */
const CLIENT = `
import json, sys, time
from jupyter_client.manager import start_new_kernel
manager, client = start_new_kernel(kernel_name="deno", startup_timeout=120, cwd=sys.argv[1])
def gather(ids):
    came = {i: [] for i in ids}; replies = {}
    end = time.time() + 120
    idle = set()
    while len(idle) < len(ids) and time.time() < end:
        try: m = client.get_iopub_msg(timeout=1)
        except Exception: continue
        parent = m["parent_header"].get("msg_id")
        if parent not in came: continue
        kind, content = m["msg_type"], m["content"]
        if kind == "status" and content["execution_state"] == "idle": idle.add(parent)
        if kind in ("stream",): came[parent].append([kind, content["name"], content["text"]])
        if kind in ("execute_result", "display_data"): came[parent].append([kind, content["data"].get("text/plain")])
        if kind == "error": came[parent].append([kind, content["ename"], content["evalue"], content["traceback"]])
    while len(replies) < len(ids) and time.time() < end:
        try: m = client.get_shell_msg(timeout=1)
        except Exception: continue
        if m["parent_header"].get("msg_id") in came: replies[m["parent_header"]["msg_id"]] = [m["content"]["status"], m["content"].get("execution_count")]
    return [[came[i], replies.get(i)] for i in ids]
def ask(*codes): return gather([client.execute(c, allow_stdin=False) for c in codes])
def late(first, second):
    delayed = client.session.msg("execute_request", {"code": second, "silent": False, "store_history": True, "user_expressions": {}, "allow_stdin": False, "stop_on_error": True})
    time.sleep(0.02)
    came = ask(first)
    client.shell_channel.send(delayed)
    return came + gather([delayed["header"]["msg_id"]])
def stopped(*codes):
    ids = [client.execute(c, allow_stdin=False) for c in codes]
    time.sleep(1.5)
    manager.interrupt_kernel()
    return gather(ids)
def questioned(code, answer):
    came = []
    def question(m): came.append(m["content"]["prompt"]); client.input(answer)
    client.execute_interactive(code, timeout=60, allow_stdin=True, stdin_hook=question, output_hook=lambda m: m["msg_type"] == "execute_result" and came.append(m["content"]["data"]["text/plain"]))
    return came
out = {}
for name, how, codes in json.loads(sys.argv[2]):
    out[name] = {"ask": ask, "late": late, "stop": stopped, "question": questioned}[how](*codes)
manager.restart_kernel(now=False)
client.wait_for_ready(timeout=120)
out["restarted"] = ask("typeof keep")
process = client.execute("Deno.pid", allow_stdin=False)
out["pid"] = gather([process])
if len(sys.argv) > 3:
    print(json.dumps(out), flush=True)
    import os, signal
    os.kill(os.getpid(), signal.SIGKILL)
client.stop_channels()
manager.shutdown_kernel(now=False)
out["alive"] = manager.is_alive()
print(json.dumps(out))
`;

type Step = readonly [
  name: string,
  how: "ask" | "late" | "stop" | "question",
  codes: readonly string[],
];
type Came = readonly (readonly [
  outputs: readonly (readonly [kind: string, ...said: unknown[]])[],
  reply: readonly [status: string, count: number | null],
])[];

async function asked(
  folder: string,
  steps: readonly Step[],
  ...more: string[]
): Promise<Readonly<Record<string, Came>>> {
  await writeKernelspec(folder);
  const command = new Deno.Command(python, {
    args: ["-c", CLIENT, home, JSON.stringify(steps), ...more],
    env: { JUPYTER_PATH: folder, JUPYTER_RUNTIME_DIR: join(folder, "runtime") },
    stdin: "null",
  });
  const { stdout, stderr } = await command.output();
  const text = new TextDecoder().decode(stdout);
  assert.match(text, /^\{/, new TextDecoder().decode(stderr));
  return JSON.parse(text);
}

/** What a reader may write, the line she is told, and the sentence; the pages' own (tests/living/session.test.ts). */
const BAD: readonly (readonly [source: string, line: number, says: string | RegExp])[] = [
  [
    "const mine = 2384,8;",
    1,
    "write 2384.8 with a point, because a comma here ends the number.",
  ],
  [
    "let x;\nx = 2384,8;",
    2,
    "write 2384.8 with a point, because a comma here ends the number.",
  ],
  ["keep;\nif (", 2, "the ( here is not closed."],
  ["keep;\n\nnothing + 1;", 3, "there is nothing called nothing."],
  ["keeep", 1, "there is nothing called keeep; did you mean keep?"],
  [
    "show(3)",
    1,
    /^show is not there yet: begin with import \{ show \} from "first-mirror\/figures"/,
  ],
  ["throw 'no glass';", 1, "the cell threw “no glass”."],
  ["const a = 1;\nconst a = 2;", 2, /^a is declared twice in this cell;/],
  ["const fixed = 1;\nfixed = 2;", 2, /^\w+( \w+)* is fixed; declare it with let/],
  ["const again = () => again() + 1;\nagain();", 2, "a function calls itself without end."],
  ["await Promise.reject(new RangeError('too steep'));", 1, "too steep."],
];

const needs = { ignore: !hasNbconvert };

Deno.test({
  name:
    "door: what stops a cell is told in the pages' sentences, with its line; nothing leaves an empty row (needs Jupyter)",
  ...needs,
  fn: () =>
    inFolder(async (folder) => {
      const steps: Step[] = [
        ["keep", "ask", ["let keep: number = 41;\nkeep"]],
        ...BAD.map(([source], k): Step => [`bad ${k}`, "ask", [source]]),
        ["show", "ask", ['import { show } from "first-mirror/figures";\nshow(3, "mm")']],
        ["unshown", "ask", ["0 / 0"]],
        ["nothing", "ask", ["undefined"]],
        ["more", "ask", ["export const more: number = 2;\nenum Face { Up }\nmore + Face.Up"]],
        ["burst", "ask", ["'one'", "nope", "'three'"]],
        ["late burst", "late", ["nope", "'three'"]],
        ["late", "ask", [
          "console.log('a');\nawait new Promise((r) => setTimeout(r, 50));\nconsole.log('b');\n5",
        ]],
        ["question", "question", ["prompt('how many?')", "seven"]],
      ];
      const came = await asked(folder, steps);
      assert.deepEqual(came["keep"], [[[["execute_result", "41"]], ["ok", 1]]]);
      BAD.forEach(([source, line, says], k) => {
        const [[outputs, reply] = [[], ["", null]]] = came[`bad ${k}`] ?? [];
        assert.equal(reply[0], "error", source);
        const [[kind, ename, evalue, traceback] = [""], ...others] = outputs;
        assert.deepEqual([kind, ename, others], ["error", `Line ${line}`, []], source);
        if (typeof says === "string") assert.equal(evalue, says, source);
        else assert.match(String(evalue), says, source);
        assert.deepEqual(traceback, [`Line ${line}: ${evalue}`], source);
      });
      assert.deepEqual(came["show"]?.[0]?.[0], [["display_data", "3\u2009mm"]]);
      assert.deepEqual(came["unshown"]?.[0]?.[0], [["execute_result", "NaN"]]);
      assert.deepEqual(came["nothing"]?.[0]?.[0], []);
      assert.deepEqual(came["more"]?.[0]?.[0], [["execute_result", "2"]]);
      assert.deepEqual(came["burst"]?.map(([, [status]]) => status), ["ok", "error", "aborted"]);
      // sent before the fault, come after it: a busy machine, a slow line
      assert.deepEqual(came["late burst"]?.map(([, [status]]) => status), ["error", "aborted"]);
      assert.deepEqual(came["late"]?.[0]?.[0], [
        ["stream", "stdout", "a\n"],
        ["stream", "stdout", "b\n"],
        ["execute_result", "5"],
      ]);
      assert.deepEqual(came["question"], ["how many?", '"seven"']);
      assert.deepEqual(came["restarted"], [[[["execute_result", '"undefined"']], ["ok", 1]]]);
      assert.equal(came["alive"], false);
    }),
});

Deno.test({
  name:
    "door: Stop ends a loop and an await that never settles, and keeps the values; what ends the kernel is told (needs Jupyter)",
  ...needs,
  fn: () =>
    inFolder(async (folder) => {
      const never = "new Promise(() => {})";
      const came = await asked(folder, [
        ["keep", "ask", ["let keep = 41;"]],
        ["loop", "stop", ["let i = 0;\nfor (;;) i++;", "'behind'"]],
        ["after", "ask", ["keep + 1"]],
        ["wait", "stop", [`keep++;\nawait ${never};`]],
        ["deep", "stop", [`const f = async () => await ${never};\nawait f();`]],
        ["again", "ask", ["await Promise.resolve(keep)"]],
        ["hard", "stop", [`for await (const x of (async function* () { await ${never}; })()) x;`]],
        ["exit", "ask", ["Deno.exit(3)"]],
        ["alive", "ask", ["6 * 7"]],
      ]);
      const first = (name: string): string => String(came[name]?.[0]?.[0]?.[0]?.[2]);
      const stopped = (line: number): string =>
        `Stopped by you in line ${line}; the cells above are as they were.`;
      assert.equal(first("loop"), stopped(2));
      assert.deepEqual(came["loop"]?.[1]?.[1][0], "aborted");
      assert.deepEqual(came["after"]?.[0]?.[0], [["execute_result", "42"]]);
      assert.equal(first("wait"), stopped(2));
      assert.equal(first("deep"), stopped(2));
      assert.deepEqual(came["again"]?.[0]?.[0], [["execute_result", "42"]]);
      // what no one holds may be swept away before Stop comes
      assert.match(
        first("hard"),
        /^stopped by you, .* run the notebook from its top\.$|^Stopped by you in|never comes/,
      );
      assert.match(first("exit"), /^the kernel ended with exit code 3: the values of all cells/);
      assert.deepEqual(came["alive"], false, "and at the end it is gone");
    }),
});

Deno.test({
  name: "door: whoever started it may be killed, and no kernel is left (needs Jupyter, Linux)",
  ignore: !hasNbconvert || Deno.build.os !== "linux",
  fn: () =>
    inFolder(async (folder) => {
      const came = await asked(folder, [], "killed");
      const [, pid] = came["pid"]?.[0]?.[0]?.[0] ?? [];
      const isThere = (): boolean => {
        try {
          return Deno.statSync(`/proc/${pid}`).isDirectory;
        } catch {
          return false;
        }
      };
      for (let tries = 0; tries < 300 && isThere(); tries++) {
        await new Promise((later) => setTimeout(later, 100));
      }
      assert.equal(isThere(), false);
    }),
});
