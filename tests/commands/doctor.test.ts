import assert from "node:assert/strict";
import { join } from "node:path";
import { installedKernel } from "../../lib/commands/doctor.ts";
import { installKernel } from "../../lib/book/kernelspec.ts";
import { inFolder } from "../book/notebooks.ts";
import { chromium, firefox, webkit } from "../machine.ts";
import { command, run, type Said, saidBy } from "./run.ts";

const doctor = (args: readonly string[], env?: Record<string, string>): Promise<Said> =>
  run("doctor", args, undefined, env);

/** What the doctor said of one thing. */
const state = (out: string, what: string): string | undefined =>
  new RegExp(`^(ok|missing|optional) +${what} `, "m").exec(out)?.[1];

Deno.test("doctor --help says in plain words what it does", async () => {
  const { code, out } = await doctor(["--help"]);
  assert.equal(code, 0);
  assert.match(out, /^deno task doctor\n/);
  for (const line of out.split("\n")) assert.ok(line.length <= 100, line);
});

Deno.test("doctor mistyped is told so", async () => {
  const { code, err } = await doctor(["--ouch"]);
  assert.equal(code, 2);
  assert.match(err, /Try: deno task doctor --help/);
});

Deno.test("doctor finds what is needed, with no network to be had", async () => {
  // every way out leads to a port where nobody listens
  const nowhere = {
    HTTP_PROXY: "http://127.0.0.1:9",
    HTTPS_PROXY: "http://127.0.0.1:9",
    NO_PROXY: "",
  };
  const { code, out } = await doctor([], nowhere);
  assert.equal(code, 0, out);
  for (const what of ["Deno", "kernel", "mathjs", "polars", "plot", "sharp", "records", "book"]) {
    assert.equal(state(out, what), "ok", `${what} in\n${out}`);
  }
  assert.match(out, /kernel +starts and answers in \d/);
  // a browser that is here shows a page, and is told by its own version
  if (chromium !== undefined) {
    assert.match(out, /^ok +Chromium +Chromium \d+\.\d.*, for the tests of pages$/m);
  }
  if (firefox !== undefined) {
    assert.match(out, /^ok +Firefox +Mozilla Firefox \d+\.\d.*, for the tests of pages$/m);
  }
  if (webkit !== undefined) assert.match(out, /^ok +WebKit +its driver answers/m);
  assert.match(out, /All that is needed is here\.\n$/);
});

Deno.test("doctor: what is only useful may be missing, what is needed may not", async () => {
  await inFolder(async (folder) => {
    // an empty store of packages and no network: no library can be loaded; nothing on the PATH
    const bare = {
      DENO_DIR: folder,
      PATH: folder,
      HTTPS_PROXY: "http://127.0.0.1:9",
      HTTP_PROXY: "http://127.0.0.1:9",
      CHROMIUM: "",
      NPM_CONFIG_REGISTRY: "http://127.0.0.1:9/",
    };
    const { code, out } = await doctor([], bare);
    assert.equal(code, 1, out);
    assert.equal(state(out, "Jupyter"), "optional");
    for (const what of ["mathjs", "polars", "plot", "sharp"]) {
      assert.equal(state(out, what), "missing", out);
    }
    for (const what of ["Deno", "kernel", "records"]) assert.equal(state(out, what), "ok", out);
    assert.match(out, /4 things are missing\.\n$/);
    assert.doesNotMatch(out, /^\s+at /m);
  });
});

Deno.test("doctor says whether the kernel for all Jupyters is there, and what it lacks", async () => {
  await inFolder(async (folder) => {
    const said = async (): Promise<string> => {
      const { state, said } = await installedKernel(folder);
      return `${state}: ${said}`;
    };
    assert.match(await said(), /^optional: not installed/);
    const path = await installKernel(folder);
    assert.equal(await said(), "ok: Deno (First Mirror), for all your Jupyters");
    const { argv } = JSON.parse(await Deno.readTextFile(path));
    await Deno.remove(argv[0]);
    assert.match(await said(), /^optional: .* is gone; `deno task lab --install`$/);
  });
});

/** A network of one's own in which not even this machine is reached. */
const hasNamespace = Deno.build.os === "linux" &&
  await new Deno.Command("unshare", { args: ["-rn", "true"] }).output()
    .then(({ success }) => success, () => false);

Deno.test({
  name: "doctor where the machine does not reach itself says so, and ends (needs unshare)",
  ignore: !hasNamespace,
  fn: () =>
    inFolder(async (folder) => {
      const within = join(folder, "deno");
      await Deno.writeTextFile(
        within,
        `#!/bin/sh\nexec unshare -rn '${Deno.execPath()}' "$@"\n`,
        { mode: 0o755 },
      );
      const { code, out } = await saidBy(
        command("doctor", [], undefined, { CHROMIUM: "" }, within).spawn(),
      );
      assert.equal(code, 1, out);
      assert.match(
        out,
        /^missing +kernel +.*does not reach itself \(.*\); switch its loopback on$/m,
      );
      assert.match(out, /1 thing is missing\.\n$/);
    }),
});
