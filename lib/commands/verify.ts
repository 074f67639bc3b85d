// deno-lint-ignore-file no-console
/** `deno task verify`: all that must hold, in the order of how fast it fails, and every figure that tests/evidence tells. */
import { availableParallelism, cpus } from "node:os";
import { relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { KIT_VERSION } from "../version.ts";
import { runTask, scriptNames } from "./command.ts";
import { OF_A_NIGHT } from "./trial.ts";

const help = `deno task verify [--quick] [--write FILE]

Format, lint, types, then every test, the notebooks' cells among them; stops at the first of these that
fails. Then every trial and every bench whose figures stand in tests/evidence, two trials side by side where
none of them keeps to a time: hours on two cores. All of them are run, and those that do not hold
are told at the end. Set FIRST_MIRROR_SKIP_NOTHING=1 to make a skipped test a failure.

  --quick        no bench and no trial: what CI does before a change lands; the last line counts the tests
  --write FILE   day, commit, machine, and of each part what it said, how long it took and whether it held;
                 written after each part. Where FILE is of this commit, unchanged, and of this machine,
                 the parts that held are not run again, and FILE says when it was gone on with
  --help         this text`;

/** One part of it: a task of Deno's or of ours. */
interface Part {
  readonly name: string;
  readonly args: readonly string[];
}

/** What a part came to. */
export interface Came {
  readonly name: string;
  readonly held: boolean;
  /** of the clock */
  readonly minutes: number;
  readonly said: string;
}

const FIRST: readonly Part[] = [
  { name: "format", args: ["fmt", "--check"] },
  { name: "lint", args: ["lint"] },
  { name: "types and tests", args: ["task", "--quiet", "test"] },
];

/** Trials that keep to a time, or drive browsers, which do. */
const ALONE = [
  "book",
  "claims",
  "class",
  "faults",
  "frontEnds",
  "growth",
  "pages",
  "room",
  "small",
];

/** Runs a part. @param live  whether what it says is shown as it comes, or whole at its end */
async function take({ name, args }: Part, live: boolean): Promise<Came> {
  const begun = performance.now();
  if (live) console.log(`\n== ${name}`);
  const child = new Deno.Command(Deno.execPath(), {
    args: [...args],
    env: { NO_COLOR: "1" },
    stdout: "piped",
    stderr: "piped",
  }).spawn();
  let said = "";
  const hear = async (stream: ReadableStream<Uint8Array>): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const bytes of stream) {
      said += decoder.decode(bytes, { stream: true });
      if (live) await Deno.stdout.write(bytes);
    }
  };
  const [{ success }] = await Promise.all([child.status, hear(child.stdout), hear(child.stderr)]);
  if (!live) console.log(`\n== ${name}\n${said}`);
  return { name, held: success, minutes: (performance.now() - begun) / 6e4, said };
}

/** The trials that may share the machine, and what wants it alone, benches among them. */
async function figures(): Promise<{ readonly shared: readonly Part[]; readonly alone: Part[] }> {
  const parts = async (folder: string, kind: string): Promise<Part[]> =>
    (await scriptNames(folder, kind)).map((name) => ({
      name: `${kind} ${name}`,
      args: ["task", "--quiet", kind, name],
    }));
  const isOneOf = (names: readonly string[]) => ({ name }: Part): boolean =>
    names.some((one) => name === `trial ${one}`);
  const isAlone = isOneOf(ALONE), isLong = isOneOf(OF_A_NIGHT);
  const trials = (await parts("trials", "trial")).filter((part) => !isLong(part));
  return {
    shared: trials.filter((part) => !isAlone(part)),
    alone: [...await parts("bench", "bench"), ...trials.filter(isAlone)],
  };
}

// What is written: a heading of what it is of, then the parts.

/** What a report is of, the file of the report left out: only reports of the same are gone on with. */
async function ofWhat(file: string): Promise<string> {
  const cwd = fileURLToPath(new URL("../../", import.meta.url));
  const git = async (...args: string[]): Promise<string> => {
    const { stdout } = await new Deno.Command("git", { args, cwd }).output();
    return new TextDecoder().decode(stdout).trim();
  };
  const commit = await git("rev-parse", "HEAD");
  const changed = await git("status", "--porcelain", "--", ".", `:(exclude)${inside(cwd, file)}`);
  return [
    `First Mirror ${KIT_VERSION}, commit ${commit || "not known"}`,
    commit !== "" && changed === "" ? CLEAN : "with changes that are not committed",
    `${cpus()[0]?.model.trim() ?? "a machine"}, ${availableParallelism()} cores`,
    `Deno ${Deno.version.deno}, ${Deno.build.target}`,
  ].join("; ");
}

/** A file's path from a folder, as git writes it; no file's where it lies outside. */
function inside(folder: string, file: string): string {
  const path = relative(folder, resolve(file));
  return path.startsWith("..") ? ".git" : path.replaceAll("\\", "/");
}

const TITLE = "What `deno task verify` found", MARK = "\n\n===== ";
/** Said where the tree is the commit's own: what changed since cannot be told from one day to the next. */
const CLEAN = "nothing changed since";

/** What a part said, without the tests that passed. */
const inShort = (said: string): string =>
  said.split("\n").filter((line) => !/^running \d+ tests? from|\.\.\. ok \(|\.\.\.$/.test(line))
    .join("\n").trim();

/** The report, whole. @param times  when it was begun and gone on with */
export function reportText(what: string, times: readonly string[], parts: readonly Came[]): string {
  const head = (one: Came): string =>
    `${one.name}: ${one.held ? "held" : "DID NOT HOLD"}, ${one.minutes.toFixed(1)} min`;
  const lines = parts.map(head), minutes = parts.reduce((sum, one) => sum + one.minutes, 0);
  const all = `${parts.filter(({ held }) => held).length} of ${parts.length} parts held; ` +
    `${minutes.toFixed(0)} minutes of the clock, added up`;
  const whole = parts.map((one) => `${MARK}${head(one)}\n${inShort(one.said)}`);
  return `${[TITLE, what, `Begun ${times.join("; gone on ")}`, all, "", ...lines].join("\n")}${
    whole.join("")
  }\n`;
}

/** The times and parts of a report; nothing where it is of something else, or of a tree with changes. */
export function readReport(
  text: string,
  what: string,
): { readonly times: string[]; readonly parts: Came[] } | undefined {
  const [head = "", ...bodies] = text.split(MARK), [title, of, begun = ""] = head.split("\n");
  if (title !== TITLE || of !== what || !what.includes(CLEAN)) return undefined;
  const parts = bodies.flatMap((body) => {
    const [, name, held, minutes, said] =
      /^(.+): (held|DID NOT HOLD), ([\d.]+) min\n([\s\S]*)$/.exec(body) ?? [];
    return name === undefined
      ? []
      : [{ name, held: held === "held", minutes: Number(minutes), said: said ?? "" }];
  });
  return { times: begun.replace(/^Begun /, "").split("; gone on "), parts };
}

/** Keeps what the parts came to in a file, where one is wanted. */
class Report {
  readonly #file: string | undefined;
  readonly #what: string;
  readonly #times: readonly string[];
  readonly #parts: Came[];

  private constructor(file: string | undefined, what: string, before?: string) {
    const known = before === undefined ? undefined : readReport(before, what);
    this.#file = file;
    this.#what = what;
    this.#times = [...known?.times ?? [], new Date().toISOString().slice(0, 16)];
    this.#parts = known?.parts.filter(({ held }) => held) ?? [];
  }

  static async open(file: string | undefined): Promise<Report> {
    if (file === undefined) return new Report(file, "");
    const before = await Deno.readTextFile(file).catch(() => undefined);
    return new Report(file, await ofWhat(file), before);
  }

  holds({ name }: Part): boolean {
    return this.#parts.some((part) => part.name === name);
  }

  async add(came: Came): Promise<void> {
    this.#parts.push(came);
    if (this.#file === undefined) return;
    const { writeWhole } = await import("./check.ts");
    const text = reportText(this.#what, this.#times, this.#parts);
    await writeWhole(this.#file, text, (before) => before.startsWith(TITLE));
  }
}

async function verify(quick: boolean, file: string | undefined): Promise<number> {
  const report = await Report.open(file), broken: string[] = [];
  const run = async (part: Part, live: boolean): Promise<boolean> => {
    if (report.holds(part)) return true;
    const came = await take(part, live);
    await report.add(came);
    if (!came.held) broken.push(part.name);
    return came.held;
  };
  for (const part of FIRST) {
    if (await run(part, true)) continue;
    console.log(`\nStopped: ${part.name} does not hold.`);
    return 1;
  }
  if (quick) return 0;
  const { shared, alone } = await figures(), waiting = [...shared];
  const lane = async (): Promise<void> => {
    for (let part = waiting.shift(); part !== undefined; part = waiting.shift()) {
      await run(part, false);
    }
  };
  await Promise.all([lane(), lane()]);
  for (const part of alone) await run(part, true);
  if (broken.length > 0) console.log(`\nDid not hold: ${broken.join(", ")}.`);
  return broken.length > 0 ? 1 : 0;
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "verify",
      help,
      options: { quick: { type: "boolean" }, write: { type: "string" } },
      act: async (_, { quick = false, write }) => {
        const place = write && (await import("./fromCaller.ts")).fromCaller(write);
        return await verify(quick, place);
      },
    }),
  );
}
