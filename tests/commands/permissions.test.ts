/** No task may do more than it needs; with what deno.json gives it each does its work. The other tests of commands run so too. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { inFolder, permissionsOf, run } from "./run.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const { tasks } = JSON.parse(await Deno.readTextFile(join(root, "deno.json"))) as {
  tasks: Readonly<Record<string, { readonly command: string }>>;
};

/** What only some may do, and why. */
const DOORS: Readonly<Record<string, { readonly tasks: readonly string[]; readonly why: string }>> =
  {
    "--allow-run": {
      tasks: [
        "book",
        "lab",
        "doctor",
        "licences",
        "pack",
        "package",
        "room",
        "test",
        "bench",
        "trial",
        "verify",
      ],
      why: "they start kernels, Jupyter, or Deno itself",
    },
    "--allow-net=127.0.0.1": {
      tasks: ["book", "doctor"],
      why: "they talk to kernels on this machine",
    },
    "--allow-ffi": {
      tasks: ["check", "note", "print", "book"],
      why: "the decoder of photographs is native code",
    },
    "--allow-sys=loadavg": { tasks: ["book", "doctor"], why: "a busy machine is waited for" },
    "--allow-sys=cpus": { tasks: ["bench", "verify"], why: "they name the machine they ran on" },
    "--allow-sys=networkInterfaces": {
      tasks: ["room"],
      why: "on every address, phones are told one that leads outside",
    },
  };

Deno.test("no task may do everything, or reach beyond this machine", () => {
  for (const [name, { command }] of Object.entries(tasks)) {
    assert.doesNotMatch(
      command,
      / -A\b| --allow-(all|import|net)( |$)| --allow-(env|sys)( |$)/,
      name,
    );
    // the one other word opens no door: it keeps memory small
    assert.match(
      command,
      /^deno run( --v8-flags=--max-semi-space-size=\d+)?( --allow-\S+)+ lib\/\S+\.ts$/,
      name,
    );
  }
});

Deno.test("each door stands open for those alone that need it", () => {
  for (const [door, { tasks: wanted, why }] of Object.entries(DOORS)) {
    const open = Object.keys(tasks).filter((name) => permissionsOf(name).includes(door));
    assert.deepEqual(open.sort(), [...wanted].sort(), `${door}: ${why}`);
  }
  const kinds = Object.values(tasks).flatMap(({ command }) => command.match(/--allow-\S+/g) ?? [])
    .filter((word) => !/^--allow-(read|write|env)/.test(word));
  assert.deepEqual([...new Set(kinds)].sort(), Object.keys(DOORS).sort(), "and there is no other");
});

Deno.test("a real call of each that takes no minutes ends well", async () => {
  await inFolder(async (folder) => {
    const calls: readonly (readonly [name: string, ...args: string[]])[] = [
      ["check", "demo-150-f8", "--json", "out.json"],
      ["check", "class-kestrel-lane", "--page", "class.html"],
      ["hazards"],
      ["course"],
      ["new", join(folder, "mine")],
      ["print", "halfway-200-f6", "--out", join(folder, "sheets")],
      ["note", "demo-150-f8", "sun 1199", "--dry"],
      ["licences"],
      ["doctor"],
      ["package", join(folder, "package")],
      ["lab", "--kernel-only", "--data", join(folder, "jupyter")],
    ];
    for (const [name, ...args] of calls) {
      const { code, out, err } = await run(name, args, folder);
      assert.equal(code, 0, `${name}: ${out}${err}`);
      assert.doesNotMatch(out + err, /NotCapable|Requires \w+ access/, name);
    }
  });
});

Deno.test("CI lets no package change unseen, and so do the tests", async () => {
  const ci = await Deno.readTextFile(join(root, ".ci", "run"));
  assert.match(ci, /^npx -y deno@\S+ install --frozen/m);
  assert.doesNotMatch(ci, /--frozen=false|--no-lock/);
  const test = await Deno.readTextFile(join(root, "lib", "commands", "test.ts"));
  assert.equal(test.match(/"--frozen"/g)?.length, 2, "types and tests");
});
