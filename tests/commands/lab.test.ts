import assert from "node:assert/strict";
import { kitFolder } from "../../lib/record/fileSystem.ts";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { inFolder } from "../book/notebooks.ts";
import { alive, descendants, until } from "./processes.ts";
import { command, contents, run, type Said, saidBy } from "./run.ts";
import { stemOf } from "../stems.ts";

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

Deno.test("lab --kernel-only writes the kernel where it is told and opens nothing", async () => {
  await inFolder(async (folder) => {
    const { code, out } = await lab(["--kernel-only", "--data", folder]);
    const path = join(folder, "kernels", "deno", "kernel.json");
    assert.equal(code, 0);
    assert.equal(out, `Kernel "Deno (First Mirror)" written: ${path}\n`);
    assert.equal(JSON.parse(await Deno.readTextFile(path)).interrupt_mode, "message");
  });
});

Deno.test({
  name:
    "lab --install gives all of a person's Jupyters the kernel, with a Deno of its own, and --uninstall leaves all as it was",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const data = join(folder, "mine"), kernels = join(data, "kernels", "deno");
      const path = join(kernels, "kernel.json"), env = { JUPYTER_DATA_DIR: data };
      await Deno.mkdir(kernels, { recursive: true });
      const stock = '{ "argv": ["deno"], "display_name": "Deno", "language": "typescript" }';
      await Deno.writeTextFile(path, stock);
      for (let twice = 0; twice < 2; twice++) {
        const { code, out, err } = await lab(["--install"], env);
        assert.deepEqual([code, err], [0, ""]);
        assert.equal(
          out,
          `Kernel "Deno (First Mirror)" for all your Jupyters: ${path}\n` +
            `It starts from ${kitFolder}; where you move that folder, install it again there.\n`,
        );
        const { argv, display_name } = JSON.parse(await Deno.readTextFile(path));
        assert.equal(display_name, "Deno (First Mirror)");
        assert.ok(argv[0].startsWith(data), "its Deno lies beside it");
        const { stdout } = await new Deno.Command(argv[0], { args: ["--version"] }).output();
        assert.match(new TextDecoder().decode(stdout), new RegExp(`^deno ${Deno.version.deno}`));
      }
      const gone = await lab(["--uninstall"], env);
      assert.deepEqual([gone.code, gone.out], [0, `The kernel is gone from ${data}.\n`]);
      assert.equal(await Deno.readTextFile(path), stock);
      assert.deepEqual([...Deno.readDirSync(data)].map(({ name }) => name), ["kernels"]);
      const again = await lab(["--uninstall"], env);
      assert.deepEqual([again.code, again.out], [
        0,
        `There was no kernel of the kit's in ${data}.\n`,
      ]);
      assert.equal(await Deno.readTextFile(path), stock);
    }),
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

/** A record of one's own, and a folder for the kernel. */
async function withRecord(folder: string): Promise<string> {
  const record = join(folder, "mine");
  await Deno.mkdir(record);
  await Deno.writeTextFile(
    join(record, "mirror.yaml"),
    "aperture: 150 mm\nfocal_length: 1200 mm\n",
  );
  return record;
}

/** What lies in the kit's own folders of notebooks and books, to be found unchanged. */
async function kitsOwn(): Promise<Record<string, string>> {
  return await contents(fileURLToPath(new URL("../../notebooks", import.meta.url)));
}

Deno.test({
  name: "lab opens the reader's own copies with the kit's kernel, about the record asked for",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const env = await withJupyter(folder, ["lab", "notebook"]), record = await withRecord(folder);
      const before = await kitsOwn();
      const { code, out } = await lab([record, "--data", folder], env);
      assert.equal(code, 5, "Jupyter's own exit status");
      const copies = join(record, "notebooks");
      assert.match(out, new RegExp(`Your notebooks: ${copies}, \\d+ of them new\n`));
      assert.match(out, /Opening Jupyter \(lab 9\.8\.7\)/);
      const [, args, where, about] = /called: (.*) in (.+) about (.+) with/.exec(out) ?? [];
      assert.equal(args, "lab --MultiKernelManager.default_kernel_name=deno");
      assert.equal(where, copies);
      assert.equal(about, record);
      const own = join(copies, `${stemOf("measure-curve")}.ipynb`);
      await Deno.writeTextFile(own, "what I think");
      const second = await lab([record, "--data", folder], env);
      assert.match(second.out, /Newer lessons beside yours: \d\d-measure-curve-2\.ipynb\n/);
      assert.equal(await Deno.readTextFile(own), "what I think");
      assert.deepEqual(await kitsOwn(), before, "the kit's own notebooks are as they were");
    }),
});

Deno.test({
  name: "lab --learner opens copies without answers, needs no book, and goes where --in says",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const env = await withJupyter(folder, ["notebook"]), record = await withRecord(folder);
      const { out } = await lab([record, "--learner", "--data", folder], env);
      assert.match(out, new RegExp(`in ${join(record, "learner-notebooks")} about`));
      const desk = join(folder, "Bram's desk");
      const other = await lab([record, "--learner", "--in", desk, "--data", folder], env);
      assert.match(other.out, /Your notebooks: .*Bram's desk, \d+ of them new/);
      const text = await Deno.readTextFile(join(desk, `${stemOf("measure-curve")}.ipynb`));
      assert.match(text, /= undefined; \/\/ your answer/);
    }),
});

Deno.test(
  "lab about what is no record, or where nothing can be written, says so in one sentence",
  unix,
  () =>
    inFolder(async (folder) => {
      const env = await withJupyter(folder, ["notebook"]), record = await withRecord(folder);
      const none = await lab([folder, "--data", folder], env);
      assert.equal(none.code, 1);
      assert.match(none.err, /is no mirror's record, for it holds no mirror\.yaml; .*\n$/);
      await Deno.writeTextFile(join(folder, "file"), "");
      const place = join(folder, "file", "copies");
      const closed = await lab([record, "--in", place, "--data", folder], env);
      assert.equal(closed.code, 1);
      assert.match(
        closed.err,
        /copies cannot be written \(.*\); name another folder with --in\.\n$/,
      );
    }),
);

Deno.test({
  name:
    "lab opens the older face where there is no newer one; a record by its name is one of the kit's",
  ...unix,
  fn: () =>
    inFolder(async (folder) => {
      const { out } = await lab(
        ["halfway-200-f6", "--in", join(folder, "own"), "--data", folder],
        await withJupyter(folder, ["notebook"]),
      );
      assert.match(out, /called: notebook .* about \S*data.records.halfway-200-f6 with/);
    }),
});

/** A stand-in for Jupyter that starts a kernel of its own and then waits, as a server does. */
async function withServer(folder: string): Promise<Record<string, string>> {
  await Deno.writeTextFile(
    join(folder, "jupyter"),
    '#!/bin/sh\nif [ "$2" = --version ]; then echo 9.8.7; exit 0; fi\n' +
      "sleep 600 &\necho serving\nwait\n",
    { mode: 0o755 },
  );
  return { PATH: `${folder}:/usr/bin:/bin` };
}

const ends: readonly (readonly [how: string, signal: Deno.Signal])[] = [
  ["at Ctrl-C", "SIGINT"],
  ["at TERM", "SIGTERM"],
  ["at HUP", "SIGHUP"],
  ["when lab itself is killed", "SIGKILL"],
];

for (const [how, signal] of ends) {
  Deno.test({
    name: `no Jupyter, and nothing that it started, is left ${how}`,
    ignore: Deno.build.os !== "linux",
    fn: () =>
      inFolder(async (folder) => {
        const env = await withServer(folder), record = await withRecord(folder);
        const child = command("lab", [record, "--data", folder], undefined, env).spawn();
        const ended = saidBy(child);
        await until("a server and its kernel", async () =>
          (await descendants(child.pid)).length >= 3);
        const below = await descendants(child.pid);
        child.kill(signal);
        const { code } = await ended;
        if (signal !== "SIGKILL") {
          assert.equal(code, 0, "it was closed");
        }
        await until("all of them to end", async () =>
          (await alive(below)).length === 0);
      }),
  });
}
