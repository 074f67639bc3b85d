// deno-lint-ignore-file no-console
/** `deno task package`: the library's pure layers as an npm package, ESM with types, for Node 20, bundlers and browsers. */
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import ts from "typescript";
import { KIT_VERSION } from "../version.ts";
import { NotDone, runTask } from "./command.ts";
import { fromCaller } from "./fromCaller.ts";

const help = `deno task package [FOLDER]

Writes the library as an npm package: the layers that need neither Deno nor files, as ES modules with
types, for Node 20 and later, bundlers and browsers. \`npm pack FOLDER\` then makes one file of it.

Beside it, in FOLDER-api, stand pages on every public name, these layers' and those of the notebooks: open
its index.html in a browser. They need no network.

  FOLDER   a folder that is not there yet, or one this task wrote (default: first-mirror-${KIT_VERSION})
  --help   this text`;

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Layers in the package: what reckons, without files. */
const LAYERS: readonly string[] = [
  ...["numeric", "quantity", "optics", "measuring", "shaping", "testing"],
  ...["telescope", "coating", "sky"],
];

/** What the package is called where it is wanted: as in the notebooks. */
const NAME = "first-mirror";

/** Files of lib that a module needs, itself first. */
async function needed(from: readonly string[]): Promise<Map<string, string>> {
  const found = new Map<string, string>(), waiting = [...from];
  for (let path = waiting.pop(); path !== undefined; path = waiting.pop()) {
    if (found.has(path)) continue;
    const text = await Deno.readTextFile(path);
    found.set(path, text);
    for (const { fileName } of ts.preProcessFile(text, true, true).importedFiles) {
      if (fileName.startsWith(".")) waiting.push(join(dirname(path), fileName));
    }
  }
  return found;
}

/**
 * A module as JavaScript and as its declarations.
 *
 * @throws {Error} where a declaration cannot be written from the file alone: a fault of the library
 */
export function compiled(
  path: string,
  text: string,
): { readonly js: string; readonly types: string } {
  // Node 20 and bundlers know no deferred import; there the bundle is loaded at once
  const plain = text.replace(/import defer \* as/g, "import * as")
    .replaceAll('"mathjs-bundle"', '"mathjs/lib/browser/math.js"');
  const common: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2022,
    module: ts.ModuleKind.ESNext,
    rewriteRelativeImportExtensions: true,
    strict: true,
  };
  const given = { fileName: path, reportDiagnostics: true };
  const js = ts.transpileModule(plain, { ...given, compilerOptions: common });
  const types = ts.transpileDeclaration(plain, {
    ...given,
    compilerOptions: { ...common, declaration: true, isolatedDeclarations: true },
  });
  const wrong = [...js.diagnostics ?? [], ...types.diagnostics ?? []].map(({ messageText }) =>
    ts.flattenDiagnosticMessageText(messageText, " ")
  );
  if (wrong.length > 0) throw new Error(`${path}: ${wrong.join("; ")}`);
  return {
    js: js.outputText,
    types: types.outputText.replace(/(from |import\()"(\.[^"]+)\.ts"/g, '$1"$2.js"'),
  };
}

/** Versions of the packages that the files import, from the kit's own list. */
async function dependencies(texts: Iterable<string>): Promise<Record<string, string>> {
  const { imports } = JSON.parse(await Deno.readTextFile(join(root, "deno.json"))) as {
    readonly imports: Readonly<Record<string, string>>;
  };
  const found = new Map<string, string>();
  for (const text of texts) {
    for (const { fileName } of ts.preProcessFile(text, true, true).importedFiles) {
      const [, name = "", version = ""] =
        /^npm:((?:@[^/]+\/)?[^@/]+)@([^/]+)/.exec(imports[fileName] ?? "") ?? [];
      if (name !== "") found.set(name, version);
    }
  }
  return Object.fromEntries([...found].sort());
}

/**
 * Writes the package.
 *
 * @param folder  where; must not be there, or be a package this wrote
 * @returns number of modules
 */
export async function writePackage(folder: string): Promise<number> {
  await clear(folder);
  const doors = LAYERS.map((layer) => join(root, "lib", layer, "mod.ts"));
  const files = await needed(doors);
  const put = async (path: string, text: string): Promise<void> => {
    await Deno.mkdir(dirname(join(folder, path)), { recursive: true });
    await Deno.writeTextFile(join(folder, path), text);
  };
  for (const [path, text] of files) {
    const at = relative(join(root, "lib"), path).replace(/\.ts$/, "");
    const { js, types } = compiled(path, text);
    await put(`${at}.js`, js);
    await put(`${at}.d.ts`, types);
  }
  const about = {
    name: NAME,
    version: KIT_VERSION,
    description: "Quantities with their doubt for people who make a telescope's mirror by hand",
    type: "module",
    license: "MIT",
    engines: { node: ">=20" },
    sideEffects: false,
    exports: Object.fromEntries(LAYERS.map((layer) => [
      `./${layer}`,
      { types: `./${layer}/mod.d.ts`, default: `./${layer}/mod.js` },
    ])),
    dependencies: await dependencies(files.values()),
  };
  await put("package.json", `${JSON.stringify(about, null, 2)}\n`);
  for (const name of ["LICENSE", "CHANGELOG.md"]) {
    await Deno.copyFile(join(root, name), join(folder, name));
  }
  await put("README.md", await readme());
  return files.size;
}

/** The examples, each a file that runs by itself, as the package's own page. */
async function readme(): Promise<string> {
  const folder = join(root, "tests/examples"), parts: string[] = [];
  const names = [...Deno.readDirSync(folder)].map(({ name }) => name)
    .filter((name) => name.endsWith(".mjs")).sort();
  for (const name of names) {
    const text = await Deno.readTextFile(join(folder, name));
    const [, title = name, code = text] = /^\/\/ (.+)\n([\s\S]+)$/.exec(text) ?? [];
    parts.push(`## ${title}\n\n\`\`\`js\n${code.trim()}\n\`\`\``);
  }
  return `# ${NAME}\n\nThe library behind the notebooks: lengths in mm, heights of glass in nm, angles in rad; every value that was measured carries its doubt.\n\n${
    parts.join("\n\n")
  }\n`;
}

/**
 * Writes pages on every public name: `deno doc --html` of the modules that deno.json offers.
 *
 * @param folder  where; must not be there, or hold such pages
 * @returns number of files
 * @throws {NotDone} where something else is in the folder, or `deno doc` fails
 */
export async function writeApi(folder: string): Promise<number> {
  await clear(folder);
  const { exports } = JSON.parse(await Deno.readTextFile(join(root, "deno.json"))) as {
    readonly exports: Readonly<Record<string, string>>;
  };
  const given = ["doc", "--html", `--name=First Mirror ${KIT_VERSION}`, `--output=${folder}`];
  const { success, stderr } = await new Deno.Command(Deno.execPath(), {
    args: [...given, ...Object.values(exports)],
    cwd: root,
    env: { NO_COLOR: "1" },
  }).output();
  const told = new TextDecoder().decode(stderr);
  const [, count = ""] = /Written (\d+) files/.exec(told) ?? [];
  if (!success || count === "") throw new NotDone(`deno doc wrote no pages: ${told.trim()}`);
  return Number(count);
}

/** Only what this task wrote is replaced: a package by its name, pages by the list of all names that they have. */
async function clear(folder: string): Promise<void> {
  const about = await Deno.readTextFile(join(folder, "package.json")).catch(() => undefined);
  const isOurs = about === undefined
    ? await isThere(join(folder, "all_symbols.html"))
    : (JSON.parse(about) as { readonly name?: unknown }).name === NAME;
  if (isOurs) await Deno.remove(folder, { recursive: true });
  else if (await isThere(folder)) {
    throw new NotDone(`${folder} is there and is no package of this task; name another folder.`);
  }
}

const isThere = (path: string): Promise<boolean> => Deno.stat(path).then(() => true, () => false);

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "package",
      help,
      most: 1,
      many: "package writes one folder",
      act: async ([typed = `first-mirror-${KIT_VERSION}`]) => {
        const folder = fromCaller(typed);
        const modules = await writePackage(folder), pages = await writeApi(`${folder}-api`);
        console.log(`${folder}: ${modules} modules. Next: npm pack ${folder}`);
        console.log(`${folder}-api/index.html: every public name, ${pages} files`);
        return 0;
      },
    }),
  );
}
