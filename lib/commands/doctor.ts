// deno-lint-ignore-file no-console
/** `deno task doctor`: whether this machine has what the kit needs. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Kernel } from "../book/kernel/kernel.ts";
import { Patience } from "../book/kernel/patience.ts";
import { KERNEL_NAME, KERNEL_TITLE, type Kernelspec, personsJupyter } from "../book/kernelspec.ts";
import { files } from "../record/fileSystem.ts";
import { KIT_VERSION } from "../version.ts";
import { runTask } from "./command.ts";
import { firstLineOf, jupyters } from "./jupyter.ts";

const help = `deno task doctor

Says whether this machine has what the kit needs: the right Deno, a kernel that starts and
answers, libraries that load, folders that can be written. Needs no network. What is only
useful is named as optional: Jupyter, the kit's kernel in it, browsers, packs for a stick.

  --help   this text

Exit status: 0 all that is needed is here, 1 something needed is missing, 2 the command was
mistyped.`;

/** The Deno that the kit was measured with. */
const DENO = "2.9.6";
/** How long a browser may take to show a page. */
const BROWSER_MS = 10_000;
/** On a busy machine it is given so many times as long at most. */
const BROWSER_SLOWEST = 12;
const root = fileURLToPath(new URL("../../", import.meta.url));

/** What was looked for and what was found. */
export interface Finding {
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
  const found = (await Array.fromAsync(jupyters())).map(({ face, version }) =>
    `${face} ${version}`
  );
  return found.length === 0
    ? { what: "Jupyter", state: "optional", said: "not here; only `deno task lab` needs it" }
    : { what: "Jupyter", state: "ok", said: `${found.join(" and ")}, for \`deno task lab\`` };
}

/** The kernel that `lab --install` gives to all of a person's Jupyters: all that it is made of has to be where it says. */
export async function installedKernel(
  data = personsJupyter((name) => Deno.env.get(name)),
): Promise<Finding> {
  const what = "its kernel";
  const path = join(data, "kernels", KERNEL_NAME, "kernel.json");
  let spec: Partial<Kernelspec> = {};
  try {
    spec = JSON.parse(await Deno.readTextFile(path));
  } catch { /* none, or no kernel's */ }
  if (spec.display_name !== KERNEL_TITLE) {
    const said = "not installed for all your Jupyters; `deno task lab` brings its own";
    return { what, state: "optional", said };
  }
  const [deno = "", , , , door = ""] = spec.argv ?? [];
  const said = `${KERNEL_TITLE}, for all your Jupyters`;
  const runs = await firstLineOf(deno, ["--version"]) !== undefined;
  const isThere = await files().isThere(door);
  return runs && isThere ? { what, state: "ok", said } : {
    what,
    state: "optional",
    said: `${said}, does not start: ${runs ? door : deno} is gone; \`deno task lab --install\``,
  };
}

/** Over when a browser has had its time, which is longer on a busy machine. */
function soon(): AbortSignal {
  const over = new AbortController();
  void new Patience(BROWSER_MS, undefined, BROWSER_SLOWEST).over(over.signal)
    .then(() => over.abort());
  return over.signal;
}

/** Whether a browser starts and draws a page: what it is asked for, and the sign that it did so. */
async function draws(program: string, args: readonly string[], sign: RegExp): Promise<boolean> {
  try {
    const { success, stdout } = await new Deno.Command(program, {
      args: [...args],
      stdin: "null",
      stderr: "null",
      signal: soon(),
    }).output();
    return success && sign.test(new TextDecoder().decode(stdout));
  } catch {
    return false;
  }
}

async function browser(
  what: string,
  places: readonly (string | undefined)[],
  tried: (program: string) => Promise<boolean>,
): Promise<Finding> {
  for (const place of places) {
    const version = place && await firstLineOf(place, ["--version"]);
    if (!version) continue;
    if (await tried(place)) {
      return { what, state: "ok", said: `${version}, for the tests of pages` };
    }
    return { what, state: "optional", said: `${version}, is here but shows no page` };
  }
  return { what, state: "optional", said: "not here; only the tests of pages need it" };
}

const chromium = (): Promise<Finding> =>
  browser("Chromium", [Deno.env.get("CHROMIUM"), "/usr/bin/chromium", "chromium"], (program) => {
    const quiet = ["--headless", "--no-sandbox", "--disable-gpu", "--dump-dom"];
    return draws(program, [...quiet, "data:text/html,<p>drawn</p>"], /<p>drawn<\/p>/);
  });

const firefox = (): Promise<Finding> =>
  browser("Firefox", ["/usr/bin/firefox-esr", "firefox"], async (program) => {
    const profile = await Deno.makeTempDir({ prefix: "first-mirror-doctor-" });
    try {
      const file = join(profile, "drawn.png");
      const quiet = ["--headless", "--no-remote", "--profile", profile, "--screenshot", file];
      await draws(program, [...quiet, "data:text/html,<p>drawn</p>"], /^/);
      return await files().isThere(file);
    } finally {
      await Deno.remove(profile, { recursive: true }).catch(() => {});
    }
  });

/** Whether a driver of a browser answers at a port; asked past any proxy that is set. */
async function saysReady(port: number): Promise<boolean> {
  using connection = await Deno.connect({ hostname: "127.0.0.1", port });
  await connection.write(new TextEncoder().encode("GET /status HTTP/1.0\r\n\r\n"));
  const bytes = new Uint8Array(64), read = await connection.read(bytes) ?? 0;
  return /^HTTP\/1\.\d 200/.test(new TextDecoder().decode(bytes.subarray(0, read)));
}

/** WebKit's driver tells no version; that it answers is all that it can be asked for without a screen. */
async function webkit(): Promise<Finding> {
  const what = "WebKit";
  try {
    const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 }), { port } = listener.addr;
    listener.close();
    const signal = soon();
    const quiet = { stdin: "null", stdout: "null", stderr: "null", signal } as const;
    const driver = new Deno.Command("WebKitWebDriver", { args: ["-p", `${port}`], ...quiet })
      .spawn();
    let answers = false;
    while (!answers && !signal.aborted) {
      answers = await saysReady(port).catch(() => false);
      if (!answers) await new Promise((later) => setTimeout(later, 50));
    }
    if (answers) driver.kill();
    await driver.status;
    return answers
      ? { what, state: "ok", said: "its driver answers, for the tests of pages" }
      : { what, state: "optional", said: "its driver is here and does not answer" };
  } catch {
    return { what, state: "optional", said: "not here; only the tests of pages need it" };
  }
}

/** Packs that stand where `task pack` puts them: whole, and where they are for this system, able to run. */
async function packs(): Promise<Finding> {
  const what = "packs", folder = join(root, "packs"), found: string[] = [];
  for (const name of ["linux", "macos", "windows"]) {
    const pack = join(folder, `first-mirror-${name}`);
    if (!await files().isThere(pack)) continue;
    const parts = ["kit/deno.json", "cache/npm", "book", "bin", "READ-ME.txt"];
    const there = await Promise.all(parts.map((part) => files().isThere(join(pack, part))));
    const lacks = parts.filter((_, k) => there[k] !== true);
    const isOurs = name === { darwin: "macos" }[Deno.build.os as string] || name === Deno.build.os;
    const cpu = Deno.build.arch === "aarch64" ? "arm64" : "x64";
    const deno = join(pack, "bin", cpu, Deno.build.os === "windows" ? "deno.exe" : "deno");
    const runs = isOurs && await firstLineOf(deno, ["--version"]) !== undefined;
    const state = lacks.length > 0
      ? `lacks ${lacks.join(", ")}`
      : runs
      ? "whole, runs here"
      : isOurs
      ? "its Deno does not run here"
      : "whole, for another system";
    found.push(`${name}: ${state}`);
  }
  return found.length === 0
    ? { what, state: "optional", said: "none in packs/; `deno task pack` makes one for a stick" }
    : { what, state: "ok", said: found.join("; ") };
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
    (): Promise<Finding> => installedKernel(),
    ...[chromium(), firefox(), webkit()].map((each) => (): Promise<Finding> => each),
    packs,
  ];
  let missing = 0;
  for (const look of looks) {
    const { what, state, said } = await look();
    if (state === "missing") missing++;
    console.log(`${state.padEnd(9)} ${what.padEnd(10)} ${said}`);
  }
  const needs = missing === 1 ? "1 thing is missing." : `${missing} things are missing.`;
  console.log(missing === 0 ? "All that is needed is here." : needs);
  return missing === 0 ? 0 : 1;
}

if (import.meta.main) Deno.exit(await runTask({ name: "doctor", help, act: examine }));
