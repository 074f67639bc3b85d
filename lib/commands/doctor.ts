// deno-lint-ignore-file no-console
/** `deno task doctor`: whether this machine has what the kit needs. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Kernel } from "../book/kernel/kernel.ts";
import { KIT_VERSION } from "../version.ts";
import { runTask } from "./command.ts";
import { findJupyter, firstLineOf } from "./jupyter.ts";

const help = `deno task doctor

Says whether this machine has what the kit needs: the right Deno, a kernel that starts and
answers, libraries that load, folders that can be written. Needs no network. What is only
useful, such as Jupyter, is named as optional.

  --help   this text

Exit status: 0 all that is needed is here, 1 something needed is missing, 2 the command was
mistyped.`;

/** The Deno that the kit was measured with. */
const DENO = "2.9.6";
const root = fileURLToPath(new URL("../../", import.meta.url));

/** What was looked for and what was found. */
interface Finding {
  readonly what: string;
  readonly state: "ok" | "missing" | "optional";
  readonly said: string;
}

/** Libraries that bring native code or much weight, each with a line that makes it do something. */
const libraries: readonly (readonly [name: string, trial: string])[] = [
  [
    "mathjs",
    `const math = (await import("mathjs-bundle")).default; if (math.unit("1 in").toNumber("mm") !== 25.4) throw "wrong inch"`,
  ],
  [
    "polars",
    `const pl = (await import("nodejs-polars")).default; if (pl.DataFrame({ a: [1, 2] }).height !== 2) throw "wrong height"`,
  ],
  [
    "plot",
    `const plot = await import("@observablehq/plot"); if (typeof plot.plot !== "function") throw "no plot"`,
  ],
  [
    "sharp",
    `const sharp = (await import("sharp")).default; const grey = { width: 2, height: 2, channels: 3, background: "#808080" };` +
    ` if ((await sharp({ create: grey }).raw().toBuffer()).length !== 12) throw "wrong size"`,
  ],
];

function denoVersion(): Finding {
  const said = `${Deno.version.deno}, TypeScript ${Deno.version.typescript}`;
  if (Deno.version.deno === DENO) return { what: "Deno", state: "ok", said };
  const how = `the kit is measured with ${DENO}; run it by \`npx -y deno@${DENO} task ...\``;
  return { what: "Deno", state: "missing", said: `${said}: ${how}` };
}

async function kernel(): Promise<Finding> {
  const what = "kernel";
  const begun = performance.now();
  try {
    const started = await Kernel.start({ cwd: root });
    try {
      const turn = await started.run({ code: "6 * 7", cell: 1, imports: [] }, 10_000);
      const answer = JSON.stringify(turn.messages.map(({ content }) => content["data"]));
      if (!answer.includes('"42"')) {
        return { what, state: "missing", said: `starts but answers ${answer}` };
      }
      return { what, state: "ok", said: `starts and answers in ${since(begun)}` };
    } finally {
      await started.stop();
    }
  } catch (error) {
    return { what, state: "missing", said: (error as Error).message };
  }
}

/** Loads a library in a process of its own, since a native one that fails may take its process with it. */
async function library([what, trial]: readonly [string, string]): Promise<Finding> {
  const begun = performance.now();
  const command = new Deno.Command(Deno.execPath(), {
    args: ["eval", trial],
    cwd: root,
    env: { NO_COLOR: "1" },
    stdin: "null",
    stdout: "null",
    stderr: "piped",
  });
  const { success, stderr } = await command.output();
  if (success) return { what, state: "ok", said: `loads and works, ${since(begun)}` };
  const said = new TextDecoder().decode(stderr).split("\n").find((line) =>
    line.startsWith("error")
  );
  return {
    what,
    state: "missing",
    said: `${
      said ?? "its process ended"
    }; with a network, \`deno install\` fetches what is not here`,
  };
}

/** Tries a folder by a file of no account; one that had to be made for the trial is taken away again. */
async function writable(what: string, folder: string): Promise<Finding> {
  try {
    const isNew = await Deno.stat(folder).then(() => false, () => true);
    await Deno.mkdir(folder, { recursive: true });
    await Deno.remove(await Deno.makeTempFile({ dir: folder, prefix: ".doctor-" }));
    if (isNew) await Deno.remove(folder);
    return { what, state: "ok", said: `can be written: ${folder}` };
  } catch (error) {
    return { what, state: "missing", said: `cannot be written: ${(error as Error).message}` };
  }
}

async function jupyter(): Promise<Finding> {
  const found = await findJupyter();
  return found === undefined
    ? { what: "Jupyter", state: "optional", said: "not here; only `deno task lab` needs it" }
    : {
      what: "Jupyter",
      state: "ok",
      said: `${found.face} ${found.version}, for \`deno task lab\``,
    };
}

async function chromium(): Promise<Finding> {
  const places = [Deno.env.get("CHROMIUM"), "/usr/bin/chromium", "chromium"];
  for (const place of places) {
    const version = place && await firstLineOf(place, ["--version"]);
    if (version) {
      return { what: "Chromium", state: "ok", said: `${version}, for the tests of pages` };
    }
  }
  return { what: "Chromium", state: "optional", said: "not here; only the tests of pages need it" };
}

const since = (begun: number): string => `${((performance.now() - begun) / 1000).toFixed(1)} s`;

/** Looks at everything, one thing after the other, telling each as it is known. */
async function examine(): Promise<number> {
  console.log(`First Mirror ${KIT_VERSION} on ${Deno.build.os} ${Deno.build.arch}`);
  const looks: (() => Finding | Promise<Finding>)[] = [
    denoVersion,
    kernel,
    ...libraries.map((each) => (): Promise<Finding> => library(each)),
    (): Promise<Finding> => writable("records", join(root, "data", "records")),
    (): Promise<Finding> => writable("book", join(root, "book")),
    jupyter,
    chromium,
  ];
  let missing = 0;
  for (const look of looks) {
    const { what, state, said } = await look();
    if (state === "missing") missing++;
    console.log(`${state.padEnd(9)} ${what.padEnd(9)} ${said}`);
  }
  const needs = missing === 1 ? "1 thing is missing." : `${missing} things are missing.`;
  console.log(missing === 0 ? "All that is needed is here." : needs);
  return missing === 0 ? 0 : 1;
}

if (import.meta.main) Deno.exit(await runTask({ name: "doctor", help, act: examine }));
