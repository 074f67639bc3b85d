import assert from "node:assert/strict";
import { inFolder } from "../book/notebooks.ts";
import { chromium } from "../machine.ts";
import { run, type Said } from "./run.ts";

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

Deno.test({
  name: "doctor tells the browser's own version, not only where it is (needs Chromium)",
  ignore: chromium === undefined,
  fn: async () => {
    assert.match(
      (await doctor([])).out,
      /^ok +Chromium +Chromium \d+\.\d.*, for the tests of pages$/m,
    );
  },
});
