import assert from "node:assert/strict";
import { join } from "node:path";
import { inFolder } from "../book/notebooks.ts";
import { run, type Said } from "./run.ts";

const lab = (args: readonly string[], env?: Record<string, string>): Promise<Said> =>
  run("lab", args, undefined, env);

/** A stand-in for Jupyter that tells how it was called. */
async function withJupyter(
  folder: string,
  faces: readonly string[],
): Promise<Record<string, string>> {
  const file = join(folder, "jupyter");
  const known = faces.map((face) => `[ "$1" = ${face} ]`).join(" || ");
  await Deno.writeTextFile(
    file,
    `#!/bin/sh\nif ! { ${known}; }; then exit 1; fi\nif [ "$2" = --version ]; then echo 9.8.7; exit 0; fi\n` +
      'echo "called: $* in $PWD about $FIRST_MIRROR_RECORD with $JUPYTER_PATH"\nexit 5\n',
    { mode: 0o755 },
  );
  return { PATH: `${folder}:/usr/bin:/bin` };
}

const unix = { ignore: Deno.build.os === "windows" };

Deno.test("lab --help says in plain words what it does", async () => {
  const { code, out } = await lab(["--help"]);
  assert.equal(code, 0);
  assert.match(out, /^deno task lab \[RECORD\]/);
  for (const line of out.split("\n")) assert.ok(line.length <= 100, line);
});

Deno.test("lab mistyped is told so", async () => {
  for (const args of [["--ouch"], ["one", "two"]]) {
    const { code, err } = await lab(args);
    assert.equal(code, 2);
    assert.match(err, /Try: deno task lab --help/);
    assert.doesNotMatch(err, /^\s+at /m);
  }
});

Deno.test(
  "lab --learner without a learner's book says how to build it",
  unix,
  () =>
    inFolder(async (folder) => {
      const env = await withJupyter(folder, ["notebook"]);
      const { code, err } = await lab(["no-such-mirror", "--learner", "--data", folder], env);
      assert.equal(code, 1);
      assert.match(err, /deno task book no-such-mirror --learner/);
    }),
);

Deno.test("lab --kernel-only writes the kernel where it is told and opens nothing", async () => {
  await inFolder(async (folder) => {
    const { code, out } = await lab(["--kernel-only", "--data", folder]);
    const path = join(folder, "kernels", "deno", "kernel.json");
    assert.equal(code, 0);
    assert.equal(out, `Kernel "Deno (First Mirror)" written: ${path}\n`);
    assert.equal(JSON.parse(await Deno.readTextFile(path)).interrupt_mode, "message");
  });
});

Deno.test("lab without Jupyter says in one line how to get it", async () => {
  await inFolder(async (folder) => {
    const { code, err } = await lab(["--data", folder], { PATH: folder });
    assert.equal(code, 1);
    assert.match(err, /^No Jupyter on this machine: .*pip install notebook.*\n$/);
    assert.equal(err.trim().split("\n").length, 1);
  });
});

Deno.test("lab where nothing can be written says so in one sentence", async () => {
  await inFolder(async (folder) => {
    const file = join(folder, "file");
    await Deno.writeTextFile(file, "");
    const { code, err } = await lab(["--data", file]);
    assert.equal(code, 1);
    assert.match(err, /^The kernel could not be written in .*file: /);
  });
});

Deno.test({
  name: "lab opens the notebooks with the kit's kernel, about the record asked for",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const env = await withJupyter(folder, ["lab", "notebook"]);
      const { code, out } = await lab(["./mine", "--data", folder], env);
      assert.equal(code, 5, "Jupyter's own exit status");
      assert.match(out, /Opening Jupyter \(lab 9\.8\.7\)/);
      const [, args, where, record] = /called: (.*) in (\S+) about (\S+) with/.exec(out) ?? [];
      assert.equal(args, "lab --MultiKernelManager.default_kernel_name=deno");
      assert.match(where ?? "", /notebooks$/);
      assert.equal(record, join(Deno.cwd(), "mine"));
    }),
});

Deno.test({
  name:
    "lab opens the older face where there is no newer one; a record by its name is one of the kit's",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const { out } = await lab(
        ["demo", "--data", folder],
        await withJupyter(folder, ["notebook"]),
      );
      assert.match(out, /called: notebook .* about \S*data.records.demo with/);
    }),
});
