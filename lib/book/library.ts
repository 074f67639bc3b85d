/**
 * The script beside a book's pages: the whole library, bundled once for all pages and kept until its code changes.
 *
 * It holds the program of the thread in which cells run, the page's own program, the kit's tables and the demo's texts.
 */
import { createHash } from "node:crypto";
import { join, relative } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { demoName, openMirror } from "../knowledge/open.ts";
import type { Summary } from "../knowledge/summaryTypes.ts";
import { datedRow, recordsIn, rowInputs } from "../knowledge/classOfRecords.ts";
import { recordMark, resultMark } from "../living/inPage.ts";
import { demoClassName } from "../knowledge/classBeside.ts";
import { packed } from "../living/packed.ts";
import { type BenchData, fileOf, type StoredFile } from "../living/pageData.ts";
import { photoRows } from "../record/readPhoto.ts";
import { TABLES } from "../record/schema.ts";
import type { MirrorRecord } from "../record/types.ts";
import { denoSays } from "./runner.ts";
import { tempFolder } from "./outputFolder.ts";

const root = fileURLToPath(new URL("../../", import.meta.url)).replace(/[\\/]$/, "");
const KEPT = join(root, "book", ".library");

/** Names of the scripts beside the pages. */
export const scripts = { library: "library.js", record: "record.js", editor: "editor.js" } as const;

/** Of a class's book: the demo's pictures, all benches' texts, and one bench's own in the folder of its pages. */
export const classScripts = {
  ...{ pictures: "pictures.js", shared: "class.js", bench: "bench.js" },
} as const;

/** Where the kit's own files are in a page. */
const IN_PAGE = "/kit";

/** Modules that a page has in another form: what takes its place stands in `lib/living`. */
const INSTEAD: Readonly<Record<string, string>> = {
  "lib/quantity/mathjs.ts": "lib/living/mathjs.ts",
  "lib/figures/live/runtimeScript.ts": "lib/living/noRuntimeScript.ts",
};

/** All files below a folder, by their paths from the kit's folder, in order. */
async function below(folder: string, wanted: (name: string) => boolean): Promise<string[]> {
  const entries = await Array.fromAsync(Deno.readDir(join(root, folder)));
  const found = await Promise.all(entries.map(async ({ name, isDirectory }) => {
    const path = `${folder}/${name}`;
    if (isDirectory) return await below(path, wanted);
    return wanted(name) ? [path] : [];
  }));
  return found.flat().sort();
}

/** A file as JSON holds it: a text where it is one. */
async function stored(path: string): Promise<StoredFile> {
  const bytes = await Deno.readFile(path);
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return { base64: bytes.toBase64() };
  }
}

/** JSON that may stand in a script of its own. */
const jsonOf = (value: unknown): string => JSON.stringify(value).replaceAll("<", "\\u003c");

/** The kit's files that cells read: tables, the demo, its class. */
async function kitFiles(): Promise<Readonly<Record<string, StoredFile>>> {
  const isRead = (name: string): boolean => /\.(csv|yaml|png|jpe?g)$/i.test(name);
  const folders = ["data/tables", `data/records/${demoName}`, `data/records/${demoClassName}`];
  const paths = (await Promise.all(folders.map((folder) => below(folder, isRead)))).flat();
  return Object.fromEntries(
    await Promise.all(
      paths.map(async (path) => [`${IN_PAGE}/${path}`, await stored(join(root, path))] as const),
    ),
  );
}

/** Pictures are no part of the program: they stand in the script of the record. */
const isKitPicture = (path: string): boolean => /\.(png|jpe?g)$/i.test(path);

/** The demo's photographs, which every book's cells may read. */
async function kitPictures(): Promise<Readonly<Record<string, StoredFile>>> {
  const paths = await below(`data/records/${demoName}`, isKitPicture);
  return Object.fromEntries(
    await Promise.all(
      paths.map(async (path) => [`${IN_PAGE}/${path}`, await stored(join(root, path))] as const),
    ),
  );
}

/** Public names of the library, each with its module and the first sentence that is said of it. */
export async function publicNames(): Promise<Readonly<Record<string, readonly [string, string]>>> {
  const names: Record<string, readonly [string, string]> = {};
  const doors = (await below("lib", (name) => name === "mod.ts"))
    .filter((path) => /^lib\/\w+\/mod\.ts$/.test(path));
  for (const door of doors) {
    const layer = door.split("/")[1] ?? "";
    const text = await Deno.readTextFile(join(root, door));
    for (const [, list = "", from = ""] of text.matchAll(/export \{([^}]*)\} from "([^"]+)"/g)) {
      const source = await Deno.readTextFile(join(root, "lib", layer, from));
      for (const part of list.split(",")) {
        const [own = "", as = own] = part.trim().split(/\s+as\s+/);
        if (/^[a-z_$]\w*$/i.test(own) && !part.trim().startsWith("type ")) {
          names[as] = [`first-mirror/${layer}`, lineOn(own, source)];
        }
      }
    }
  }
  return names;
}

/** The first sentence of the comment above a declaration. */
function lineOn(name: string, source: string): string {
  const at = new RegExp(
    String
      .raw`\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*export (?:async )?(?:function|const|class|abstract class) ${name}\b`,
  ).exec(source);
  const text = (at?.[1] ?? "").replace(/^\s*\*? ?/gm, "").split(/\n\s*\n|\n@/)[0] ?? "";
  return text.replace(/\s+/g, " ").trim();
}

/** What the script is made from, as a short mark. */
async function stamp(): Promise<string> {
  const paths = [
    ...await below("lib", (name) => !name.startsWith(".")),
    ...await below("data/tables", () => true),
    ...await below(`data/records/${demoName}`, () => true),
    ...await below(`data/records/${demoClassName}`, () => true),
    "deno.json",
    "deno.lock",
  ];
  const hash = createHash("sha256").update(Deno.version.deno);
  // by what stands in them: copied to another disk they are the same
  const texts = await Promise.all(paths.map((path) => Deno.readFile(join(root, path))));
  paths.forEach((path, k) => hash.update(`\n${path}\n`).update(texts[k] ?? ""));
  return hash.digest("hex").slice(0, 20);
}

/** Programs of the page, in `lib/living`. */
const PROGRAMS = ["editor", "worker", "page"] as const;

/** The programs of the page, each bundled as one classic script; by one process, since they share most modules. */
async function bundled(
  folder: string,
  signal: AbortSignal | undefined,
): Promise<Readonly<Record<(typeof PROGRAMS)[number], string>>> {
  // a copy: the bundler writes into the lock what its own settings add to it
  const lock = join(folder, "deno.lock");
  await Deno.copyFile(join(root, "deno.lock"), lock);
  const { err } = await denoSays(
    [
      ...["bundle", "--quiet", "--platform", "browser", "--format", "iife", "--minify"],
      ...["--external", "nodejs-polars", "--external", "sharp"],
      ...["--config", await pageConfig(folder), "--lock", lock, "--outdir", folder],
      ...PROGRAMS.map((name) => join(root, "lib", "living", `${name}.ts`)),
    ],
    root,
    signal,
  );
  const read = async (name: string): Promise<string> =>
    await Deno.readTextFile(join(folder, `${name}.js`)).catch(() => {
      signal?.throwIfAborted();
      throw new Error(`the page's library cannot be bundled: ${err.trim().split("\n")[0]}`);
    });
  const [editor, worker, page] = await Promise.all(PROGRAMS.map(read));
  return { editor: editor ?? "", worker: worker ?? "", page: page ?? "" };
}

/** The kit's settings with those modules exchanged that a page has in another form. */
async function pageConfig(folder: string): Promise<string> {
  const own = JSON.parse(await Deno.readTextFile(join(root, "deno.json")));
  const urlOf = (path: string): string => pathToFileURL(join(root, path)).href;
  const imports = Object.fromEntries(
    Object.entries(own.imports as Record<string, string>).map((
      [name, to],
    ) => [name, to.startsWith("./") ? urlOf(to) : to]),
  );
  const instead = Object.fromEntries(
    Object.entries(INSTEAD).map(([path, other]) => [urlOf(path), urlOf(other)]),
  );
  const config = join(folder, "deno.json");
  await Deno.writeTextFile(
    config,
    JSON.stringify({ imports: { ...imports, ...instead }, nodeModulesDir: "none" }),
  );
  return config;
}

/** The demo's summary, by the mark of its files. */
async function demoSummary(
  files: Readonly<Record<string, StoredFile>>,
): Promise<Readonly<Record<string, Summary>>> {
  const { summary } = await openMirror(join(root, "data", "records", demoName));
  return summaryOf(`${IN_PAGE}/data/records/${demoName}`, files, summary);
}

/** Rows of the demo's class, so that a page need not work out twelve mirrors. */
async function classRows(): Promise<Readonly<Record<string, unknown>>> {
  const folder = join(root, "data", "records", demoClassName), rows: Record<string, unknown> = {};
  for (const name of await recordsIn(folder)) {
    const path = join(folder, name), inputs = await rowInputs(path);
    const row = await datedRow(path).catch(() => undefined);
    if (inputs !== undefined && row !== undefined) rows[resultMark("datedRow", inputs)] = row;
  }
  return rows;
}

function summaryOf(
  folder: string,
  files: Readonly<Record<string, StoredFile>>,
  summary: Summary,
): Readonly<Record<string, Summary>> {
  const own = Object.entries(files).filter(([path]) => path.startsWith(`${folder}/`));
  const all = new Map(own.map(([path, file]) => [path, fileOf(path, file)]));
  return { [recordMark(folder, all)]: summary };
}

/** The scripts that are the same for all books made by the code as it stands. */
export interface KitScripts {
  readonly library: string;
  readonly editor: string;
}

async function made({ after, signal }: Beside): Promise<KitScripts> {
  const folder = await tempFolder("library");
  try {
    const [{ editor, worker, page }, files, names] = await Promise.all([
      bundled(folder, signal),
      kitFiles(),
      publicNames(),
    ]);
    const thread = packed(worker);
    await after;
    const summaries = await demoSummary(files), results = await classRows();
    const texts = Object.fromEntries(
      Object.entries(files).filter(([path]) => !isKitPicture(path)),
    );
    const data = jsonOf({ thread, files: texts, summaries, results, names });
    const library =
      `globalThis.firstMirrorShared = { ...globalThis.firstMirrorShared, ...${data} };\n${page}`;
    return { library, editor };
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

/** What the scripts are made beside. */
export interface Beside {
  /** what works out some of the same, to be waited for */
  readonly after?: Promise<unknown>;
  /** ends it */
  readonly signal?: AbortSignal;
}

/**
 * The scripts beside the pages, made once for the code as it stands.
 *
 * @throws the signal's reason where it was ended
 */
export async function kitScripts(beside: Beside = {}): Promise<KitScripts> {
  const file = join(KEPT, `${await stamp()}.json`);
  try {
    return JSON.parse(await Deno.readTextFile(file)) as KitScripts;
  } catch { /* not made yet */ }
  const all = await made(beside), part = `${file}.${Deno.pid}.part`;
  try {
    await Deno.remove(KEPT, { recursive: true }).catch(() => {});
    await Deno.mkdir(KEPT, { recursive: true });
    await Deno.writeTextFile(part, JSON.stringify(all));
    await Deno.rename(part, file);
  } catch { /* made again the next time */ }
  return all;
}

// The record in a page: its own texts, and in a script of their own its pictures and the records beside it.

/** A record as a page has it. */
export interface RecordInPage {
  /** its folder there */
  readonly folder: string;
  /** its texts, for the page itself */
  readonly files: Readonly<Record<string, StoredFile>>;
  /** what all pages share */
  readonly beside: Readonly<Record<string, StoredFile>>;
}

/** Texts of more than this are shared, not carried by each page; characters. */
const MOST_IN_PAGE = 200_000;

/** The files of one record: its settings and tables, and the pictures named. */
async function recordFiles(
  folder: string,
  as: string,
  pictures: readonly string[],
): Promise<Record<string, StoredFile>> {
  const names = ["mirror.yaml", ...TABLES.map((table) => `${table}.csv`), ...pictures];
  const found: Record<string, StoredFile> = {};
  for (const name of names) {
    const file = await stored(join(folder, name)).catch(() => undefined);
    if (file !== undefined) found[`${as}/${name}`] = file;
  }
  return found;
}

/** What a page needs to read a record as it stands, and the class it lies in. */
export async function recordInPage(
  record: Pick<MirrorRecord, "folder" | "name" | "ronchi" | "star" | "knife">,
): Promise<RecordInPage> {
  const above = join(record.folder, "..");
  const inKit = relative(root, above) === join("data", "records");
  const there = inKit ? `${IN_PAGE}/data/records` : "/records";
  const folder = `${there}/${record.name}`;
  const pictures = [...new Set(photoRows(record).map(({ photo }) => photo))];
  const own = await recordFiles(record.folder, folder, pictures);
  const isPicture = ([path]: [string, StoredFile]): boolean =>
    pictures.some((name) => path === `${folder}/${name}`);
  const texts = Object.entries(own).filter((file) => !isPicture(file));
  const isLong = JSON.stringify(texts).length > MOST_IN_PAGE;
  const shared = Object.entries(own).filter((file) => isLong || isPicture(file));
  const others: Record<string, StoredFile> = {};
  for await (const { name, isDirectory } of Deno.readDir(above)) {
    const known = inKit && [demoName, demoClassName].includes(name);
    if (!isDirectory || name === record.name || known || name.startsWith(".")) continue;
    Object.assign(others, await recordFiles(join(above, name), `${there}/${name}`, []));
  }
  const isDemo = inKit && record.name === demoName;
  return {
    folder,
    files: Object.fromEntries(isLong ? [] : texts),
    beside: {
      ...await kitPictures(),
      ...(isDemo ? {} : Object.fromEntries(shared)),
      ...others,
    },
  };
}

/** The script with what all pages of one book share of the record. */
export function recordScript(
  { folder, files, beside }: RecordInPage,
  record: Summary,
): string {
  const summary = summaryOf(folder, { ...beside, ...files }, record);
  const data = jsonOf({ beside, summary }).slice(1, -1);
  return `globalThis.firstMirrorShared = { ...globalThis.firstMirrorShared, ${data} };\n`;
}

// A class in pages: the texts of all its records in one script, what is one bench's own in another.

/** Where the benches of a class are in a page. */
const CLASS_IN_PAGE = "/records";

/** Adds files to those that all pages share. */
const shares = (beside: Readonly<Record<string, StoredFile>>): string =>
  `(function (beside) {
  const shared = globalThis.firstMirrorShared ?? {};
  globalThis.firstMirrorShared = { ...shared, beside: { ...shared.beside, ...beside } };
})(${jsonOf(beside)});
`;

/** The script with the demo's pictures, which every book's cells may read. */
export async function picturesScript(): Promise<string> {
  return shares(await kitPictures());
}

/** The script that all pages of a class's book share: every bench's texts. */
export async function classScript(folder: string, records: readonly string[]): Promise<string> {
  const texts = await Promise.all(
    records.map((name) => recordFiles(join(folder, name), `${CLASS_IN_PAGE}/${name}`, [])),
  );
  return shares(Object.assign({}, ...texts));
}

/** What a bench's script brings beside its files. */
export interface BenchOwn extends Pick<BenchData, "inInches" | "refusals" | "parts"> {
  /** its folder's name */
  readonly name: string;
  /** as far as it can be read */
  readonly record?: Pick<MirrorRecord, "ronchi">;
  readonly summary?: Summary;
}

/** The script of one bench: its files as they are now, its summary, and what is its own on each page. */
export async function benchScript(
  folder: string,
  { name, record, summary, ...own }: BenchOwn,
): Promise<string> {
  const there = `${CLASS_IN_PAGE}/${name}`;
  const pictures = [...new Set((record?.ronchi ?? []).map(({ photo }) => photo))];
  const beside = await recordFiles(join(folder, name), there, pictures);
  const bench: BenchData = { ...own, record: name, folder: there };
  const data = jsonOf({
    beside,
    bench,
    ...(summary === undefined ? {} : { summary: summaryOf(there, beside, summary) }),
  });
  return `(function (own) {
  const shared = globalThis.firstMirrorShared ?? {};
  globalThis.firstMirrorShared = { ...shared, ...own, beside: { ...shared.beside, ...own.beside } };
  document.dispatchEvent(new Event("first-mirror:bench"));
})(${data});
`;
}
