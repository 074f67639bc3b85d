/** The library as an npm package: packed, installed in a fresh folder, run by Node, bundled. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { compiled, writeApi, writePackage } from "../../lib/commands/package.ts";
import { KIT_VERSION } from "../../lib/version.ts";

const kit = fileURLToPath(new URL("../../", import.meta.url));

async function run(program: string, args: string[], cwd: string): Promise<string> {
  const { success, stdout, stderr } = await new Deno.Command(program, { args, cwd }).output();
  const [out, err] = [stdout, stderr].map((bytes) => new TextDecoder().decode(bytes));
  assert.ok(success, `${program} ${args.join(" ")}: ${err}`);
  return out ?? "";
}

Deno.test("package: packed, installed where nothing is, and run by Node: ten examples as in the kit, types and a bundle", async () => {
  const folder = await Deno.makeTempDir({ prefix: "package-" });
  try {
    assert.ok(await writePackage(join(folder, "made")) > 100);
    const packed = JSON.parse(await run("npm", ["pack", "--json", "./made"], folder)) as
      | { readonly filename: string }[]
      | Record<string, { readonly filename: string }>;
    const [{ filename } = { filename: "" }] = Object.values(packed);
    const user = join(folder, "user");
    await Deno.mkdir(user);
    await Deno.writeTextFile(join(user, "package.json"), '{ "type": "module", "private": true }');
    const quiet = ["--no-audit", "--no-fund", "--silent", "--prefer-offline"];
    await run("npm", ["i", ...quiet, `../${filename}`, "esbuild@0.28.2", "typescript@5.9.3"], user);

    const examples = [...Deno.readDirSync(join(kit, "tests/examples"))].map(({ name }) => name)
      .sort();
    assert.equal(examples.length, 10);
    for (const name of examples) {
      const at = join(kit, "tests/examples", name);
      await Deno.copyFile(at, join(user, name));
      const lines = (await Deno.readTextFile(at)).split("\n").filter((line) => line.trim() !== "");
      assert.ok(lines.length <= 11, `${name}: ${lines.length - 1} lines under its title`);
      // what Node prints from the package is what Deno prints from the sources
      assert.equal(
        await run("node", [name], user),
        await run(Deno.execPath(), ["run", "-A", at], kit),
        name,
      );
    }
    assert.match(await run("node", [examples[0] ?? ""], user), /^R = 23\d\d mm ± \d+ mm\n$/);

    // a bundler takes it, and what is not asked for stays out
    await run("npx", [
      "esbuild",
      "02-depth-wanted.mjs",
      "--bundle",
      "--format=esm",
      "--outfile=b.mjs",
    ], user);
    assert.equal(
      await run("node", ["b.mjs"], user),
      await run("node", ["02-depth-wanted.mjs"], user),
    );
    assert.ok(
      (await Deno.stat(join(user, "b.mjs"))).size < 20_000,
      "one formula brings the library along",
    );

    // types reach a user, and hold
    const typed =
      'import { sagitta } from "first-mirror/optics";\nexport const s: number = sagitta(150, 2400);\n';
    const options = [
      "--noEmit",
      "--strict",
      "--module",
      "nodenext",
      "--target",
      "es2022",
      "--skipLibCheck",
      "false",
    ];
    await Deno.writeTextFile(join(user, "good.ts"), typed);
    await run("npx", ["tsc", ...options, "good.ts"], user);
    await Deno.writeTextFile(join(user, "bad.ts"), typed.replace("150", '"150"'));
    await assert.rejects(run("npx", ["tsc", ...options, "bad.ts"], user));
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});

Deno.test("package: nothing in it is newer than Node 20", () => {
  const layers = [
    "numeric",
    "quantity",
    "optics",
    "measuring",
    "shaping",
    "testing",
    "telescope",
    "coating",
    "sky",
  ];
  const program = ts.createProgram(layers.map((layer) => join(kit, "lib", layer, "mod.ts")), {
    target: ts.ScriptTarget.ES2022,
    lib: ["lib.es2023.d.ts", "lib.dom.d.ts"],
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    allowImportingTsExtensions: true,
    noEmit: true,
    skipLibCheck: true,
  });
  const newer = ts.getPreEmitDiagnostics(program)
    .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, " "))
    .filter((message) => /target library/.test(message));
  assert.deepEqual(newer, []);
});

Deno.test("package: name, version and layers are said once", async () => {
  const { version, exports } = JSON.parse(await Deno.readTextFile(join(kit, "deno.json"))) as {
    readonly version: string;
    readonly exports: Readonly<Record<string, string>>;
  };
  assert.equal(version, KIT_VERSION);
  for (const [name, at] of Object.entries(exports)) {
    assert.equal(at, `./lib${name.slice(1)}/mod.ts`);
  }
});

Deno.test("package: pages on every public name, which fetch nothing, and are written anew", async () => {
  const folder = await Deno.makeTempDir(), api = join(folder, "api");
  try {
    const count = await writeApi(api);
    assert.ok(count > 1000, `${count} files`);
    const page = await Deno.readTextFile(join(api, "optics/~/sagitta.html"));
    assert.match(page, /nearly equal numbers never subtracted/);
    const all = [page];
    for (const { name } of Deno.readDirSync(api)) {
      if (/\.(html|js|css)$/.test(name)) all.push(await Deno.readTextFile(join(api, name)));
    }
    for (const text of all) {
      assert.doesNotMatch(text, /(?:src|href)=["']?(?:https?:)?\/\/|url\(["']?https?:|@import/);
      assert.doesNotMatch(text, /file:\/\//);
    }
    assert.equal(await writeApi(api), count);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});

Deno.test("package: a folder that is not the task's own is left alone", async () => {
  const folder = await Deno.makeTempDir();
  try {
    await assert.rejects(writePackage(folder), /is there and is no package of this task/);
    await assert.rejects(writeApi(folder), /is there and is no package of this task/);
  } finally {
    await Deno.remove(folder);
  }
});

Deno.test("package: a module keeps its types, loses its endings and its deferred import", () => {
  const { js, types } = compiled(
    "a.ts",
    'import defer * as bundle from "mathjs-bundle";\nexport type { T } from "./t.ts";\nexport const n: number = bundle.n;',
  );
  assert.match(js, /import \* as bundle from "mathjs\/lib\/browser\/math.js"/);
  assert.match(types, /export type \{ T \} from "\.\/t\.js"/);
  assert.throws(() => compiled("a.ts", "export const n = f();"), /explicit type/);
});
