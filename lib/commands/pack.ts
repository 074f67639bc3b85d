// deno-lint-ignore-file no-console
/** `deno task pack`: the kit with everything it needs in one folder, for a laptop that has nothing and reaches nothing. */
import { createHash } from "node:crypto";
import { basename, dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { gunzipSync, Zip, ZipDeflate } from "fflate";
import { parseTar } from "nanotar";
import { demoName } from "../knowledge/open.ts";
import { files } from "../record/fileSystem.ts";
import { NotDone, runTask, UsageError } from "./command.ts";
import { fromCaller, recordFromCaller } from "./fromCaller.ts";

const help = `deno task pack [RECORD] [--for SYSTEM] [--out DIR] [--zip]

Puts the kit, Deno itself, every package with the parts for that system, the records, and a book
already built into one folder, to be carried on a stick. Where it is started nothing is installed
and nothing is fetched. Packing itself asks npm for what this machine has not.

  RECORD        the mirror whose book is packed: a folder of data/records, or the path of one
                (default: ${demoName})
  --for SYSTEM  linux, macos, windows, all, or tablet: the book alone in a zip, for whatever has a
                browser (default: the system this runs on)
  --out DIR     where it goes (default: packs, beside the kit's other folders)
  --zip         one zip for each system instead of a folder
  --help        this text

Exit status: 0 packed, 1 not packed (each reason is one sentence), 2 the command was mistyped,
70 the kit itself has a fault, with a report of it.`;

const root = resolve(fileURLToPath(new URL("../../", import.meta.url)));

/** What a stick holds of the kit's folder. */
const KIT = [
  ...["README.md", "DEVELOPERS.md", "CHANGELOG.md", "LICENSE", "deno.json", "deno.lock"],
  ...["lib", "notebooks", "data"],
] as const;

type Cpu = "x64" | "arm64";

/** A system that a pack is for. */
interface System {
  readonly name: "linux" | "macos" | "windows";
  /** as npm calls it */
  readonly os: "linux" | "darwin" | "win32";
  readonly cpus: readonly Cpu[];
  readonly deno: (cpu: Cpu) => string;
  /** the file to double-click, and what stands in it */
  readonly start: string;
  readonly script: (book: string) => string;
}

const unix = (open: string, quirk: string) => (book: string): string =>
  `#!/bin/sh
# First Mirror from this folder: nothing is installed, nothing is fetched.
here=$(cd "$(dirname "$0")" && pwd)
case "$(uname -m)" in arm64 | aarch64) cpu=arm64 ;; *) cpu=x64 ;; esac
DENO_DIR="$here/cache" DENO_NO_UPDATE_CHECK=1 PATH="$here/bin/$cpu:$PATH"
export DENO_DIR DENO_NO_UPDATE_CHECK PATH
if ! deno --version >/dev/null 2>&1; then
  echo "${quirk}" >&2
  exit 1
fi
cd "$here/kit" || exit 1
if [ $# -gt 0 ]; then exec deno task "$@"; fi
${open} "$here/book/${book}/index.html" >/dev/null 2>&1 &
echo "The book is open in your browser: book/${book}/index.html"
echo "Here you can type, for instance:  deno task check ${book}"
echo "                                  deno task new my-mirror"
echo "                                  deno task --help"
exec "\${SHELL:-/bin/sh}"
`;

const cmd = (book: string): string =>
  `@echo off
rem First Mirror from this folder: nothing is installed, nothing is fetched.
chcp 65001 >nul
set "DENO_DIR=%~dp0cache"
set "DENO_NO_UPDATE_CHECK=1"
set "PATH=%~dp0bin\\x64;%PATH%"
cd /d "%~dp0kit"
if "%~1"=="" goto open
deno task %*
exit /b %errorlevel%
:open
start "" "%~dp0book\\${book}\\index.html"
echo The book is open in your browser: book\\${book}\\index.html
echo Here you can type, for instance:  deno task check ${book}
echo                                   deno task new my-mirror
echo                                   deno task --help
cmd /k
`.replaceAll("\n", "\r\n");

const SYSTEMS: readonly System[] = [
  {
    name: "linux",
    os: "linux",
    cpus: ["x64"],
    deno: (cpu) => `@deno/linux-${cpu}-glibc`,
    start: "start.sh",
    script: unix(
      "xdg-open",
      "Programs may not run from here, as on many sticks: copy the whole folder to your disk, and start it there.",
    ),
  },
  {
    name: "macos",
    os: "darwin",
    cpus: ["arm64", "x64"],
    deno: (cpu) => `@deno/darwin-${cpu}`,
    start: "start.command",
    script: unix(
      "open",
      "This Mac does not let it run yet: hold Control, click start.command, choose Open, and say Open once more.",
    ),
  },
  {
    name: "windows",
    os: "win32",
    cpus: ["x64"],
    deno: (cpu) => `@deno/win32-${cpu}`,
    start: "start.cmd",
    script: cmd,
  },
];

const readMe = ({ name, start }: System, book: string): string =>
  [
    "First Mirror: make the mirror of a Newtonian telescope by hand.",
    "",
    `Double-click ${start}. A browser opens the book; a window takes commands.`,
    ...(name === "linux"
      ? [`Where a double click opens an editor instead, type: sh ${start}`]
      : []),
    "Nothing is installed on this computer, and nothing is fetched.",
    "",
    `book/${book}/index.html   the book: its cells compute in the browser`,
    "kit/data/records         the mirrors; a folder for each",
    "kit/README.md            all commands",
    "",
  ].join(name === "windows" ? "\r\n" : "\n");

// Which packages.

/** A package as the lock names it. */
interface Package {
  readonly name: string;
  readonly version: string;
  /** sum of its archive, where the lock knows it */
  readonly integrity?: string;
}

/**
 * The packages of the lock, without those for other systems: Deno looks for all of them before it runs a task, those of the
 * tests among them.
 */
async function packagesFor({ os, cpus }: System): Promise<readonly Package[]> {
  const { npm } = JSON.parse(await Deno.readTextFile(join(root, "deno.lock"))) as {
    readonly npm: Readonly<
      Record<string, {
        readonly integrity: string;
        readonly os?: readonly string[];
        readonly cpu?: readonly string[];
      }>
    >;
  };
  return Object.entries(npm).flatMap(([key, locked]): Package[] => {
    if (locked.os?.includes(os) === false) return [];
    if (locked.cpu !== undefined && !cpus.some((cpu) => locked.cpu?.includes(cpu))) return [];
    const [, name = "", version = ""] = /^((?:@[^/]+\/)?[^@]+)@([^_]+)/.exec(key) ?? [];
    return [{ name, version, integrity: locked.integrity }];
  });
}

// Where they come from.

async function said(program: string, args: readonly string[], cwd = root): Promise<string> {
  const { success, stdout, stderr } = await new Deno.Command(program, {
    args: [...args],
    cwd,
    stdin: "null",
  }).output().catch((error: Error) => {
    throw new NotDone(`${program} does not start here (${error.message}); packing needs it.`);
  });
  if (success) return new TextDecoder().decode(stdout);
  const why = new TextDecoder().decode(stderr).trim().split("\n").slice(-1)[0];
  throw new NotDone(`${program} ${args[0]} ended: ${why}`);
}

/** Where this machine keeps npm's packages: one folder for each registry. */
async function registryHere(): Promise<string> {
  const { npmCache } = JSON.parse(await said(Deno.execPath(), ["info", "--json"])) as {
    readonly npmCache: string;
  };
  for await (const { name, isDirectory } of Deno.readDir(npmCache)) {
    const has = await Deno.stat(join(npmCache, name, "fflate")).then(() => true, () => false);
    if (isDirectory && has) return join(npmCache, name);
  }
  throw new NotDone(`${npmCache} holds no packages; run deno task doctor first.`);
}

/** A package from npm, unpacked; what the lock knows is held against it. */
async function fetched({ name, version, integrity }: Package, to: string): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-pack-" });
  try {
    const npm = Deno.build.os === "windows" ? "npm.cmd" : "npm";
    await said(npm, ["pack", `${name}@${version}`, "--pack-destination", folder, "--silent"]);
    const [file] = await Array.fromAsync(Deno.readDir(folder));
    const bytes = await Deno.readFile(join(folder, file?.name ?? ""));
    const sum = `sha512-${createHash("sha512").update(bytes).digest("base64")}`;
    if (integrity !== undefined && sum !== integrity) {
      throw new NotDone(
        `${name} ${version}: found another sum than deno.lock has, so nothing was packed; try again, or from another network.`,
      );
    }
    for (const { name: path, data, type } of parseTar(gunzipSync(bytes))) {
      // the first folder is npm's own; no path leads out of the package
      const inside = path.split("/").slice(1);
      if (type !== "file" || data === undefined || inside.includes("..")) continue;
      const place = join(to, ...inside);
      await Deno.mkdir(dirname(place), { recursive: true });
      await Deno.writeFile(place, data);
    }
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}

async function copy(from: string, to: string): Promise<void> {
  const { isDirectory } = await Deno.stat(from);
  if (!isDirectory) return await Deno.copyFile(from, to);
  await Deno.mkdir(to, { recursive: true });
  for await (const { name } of Deno.readDir(from)) {
    if (!/^\.(jupyter|ipynb_checkpoints|room)|\.part$/.test(name)) {
      await copy(join(from, name), join(to, name));
    }
  }
}

// The pack.

async function fill(part: string, system: System, record: string, built: string): Promise<void> {
  const kit = join(part, "kit"), here = await registryHere();
  await Deno.mkdir(kit);
  for (const name of KIT) await copy(join(root, name), join(kit, name));
  const own = join(kit, "data", "records", basename(record));
  if (!await files().isThere(own)) await copy(record, own);
  await copy(join(root, "book", ".library"), join(kit, "book", ".library"));
  const book = basename(built);
  await copy(built, join(part, "book", book));
  for (const one of await packagesFor(system)) {
    const to = join(part, "cache", "npm", basename(here), one.name, one.version);
    const kept = join(here, one.name, one.version);
    // what the registry says of it; without it Deno would ask anew, in vain
    const said = join(here, one.name, "registry.json");
    if (await files().isThere(said)) {
      await Deno.mkdir(to, { recursive: true });
      await Deno.copyFile(said, join(dirname(to), "registry.json"));
    }
    if (await files().isThere(kept)) await copy(kept, to);
    else {
      console.log(`  ${one.name} ${one.version} from npm`);
      await fetched(one, to);
    }
  }
  const isHere = system.os === Deno.build.os ||
    (system.os === "win32" && Deno.build.os === "windows");
  const program = system.os === "win32" ? "deno.exe" : "deno";
  for (const cpu of system.cpus) {
    const bin = join(part, "bin", cpu);
    await Deno.mkdir(bin, { recursive: true });
    const mine = { x86_64: "x64", aarch64: "arm64" }[Deno.build.arch];
    if (isHere && mine === cpu) await Deno.copyFile(Deno.execPath(), join(bin, program));
    else {
      const name = system.deno(cpu), version = Deno.version.deno;
      console.log(`  ${name} ${version} from npm`);
      const temp = await Deno.makeTempDir({ prefix: "first-mirror-pack-" });
      await fetched({ name, version }, temp);
      await Deno.copyFile(join(temp, program), join(bin, program));
      await Deno.remove(temp, { recursive: true });
    }
    if (Deno.build.os !== "windows") await Deno.chmod(join(bin, program), 0o755);
  }
  await Deno.writeTextFile(join(part, system.start), system.script(book), { mode: 0o755 });
  await Deno.writeTextFile(join(part, "READ-ME.txt"), readMe(system, book));
}

/** All files below a folder, by their paths in it. */
async function filesBelow(folder: string): Promise<string[]> {
  const entries = await Array.fromAsync(Deno.readDir(folder));
  const found = await Promise.all(entries.map(async ({ name, isDirectory }) => {
    const path = join(folder, name);
    return isDirectory ? await filesBelow(path) : [path];
  }));
  return found.flat().sort();
}

/** A folder as a zip, file by file, so that no more than one lies in memory. */
async function zipped(folder: string, file: string, top: string): Promise<void> {
  using out = await Deno.open(file, { create: true, write: true, truncate: true });
  let last = Promise.resolve();
  const zip = new Zip((error, bytes) => {
    if (error !== null) throw error;
    last = last.then(async () => {
      for (let at = 0; at < bytes.length;) at += await out.write(bytes.subarray(at));
    });
  });
  for (const path of await filesBelow(folder)) {
    const entry = new ZipDeflate(`${top}/${relative(folder, path).replaceAll("\\", "/")}`);
    entry.os = 3;
    entry.attrs = (/[\\/]bin[\\/]|start\.(sh|command)$/.test(path) ? 0o100755 : 0o100644) * 65536;
    zip.add(entry);
    entry.push(await Deno.readFile(path), true);
    await last;
  }
  zip.end();
  await last;
}

async function sizeOf(path: string): Promise<string> {
  const files = (await Deno.stat(path)).isDirectory ? await filesBelow(path) : [path];
  const bytes = (await Promise.all(files.map((file) => Deno.stat(file)))).reduce(
    (sum, { size }) => sum + size,
    0,
  );
  return `${(bytes / 1e6).toFixed(0)} MB${files.length > 1 ? `, ${files.length} files` : ""}`;
}

/** Makes something beside its place, and moves it there when it is whole. */
async function whole(place: string, make: (part: string) => Promise<void>): Promise<void> {
  if (await files().isThere(place)) {
    throw new NotDone(`${place} is there already; take it away, or name another place with --out.`);
  }
  const part = join(dirname(place), `.${basename(place)}.${crypto.randomUUID().slice(0, 8)}.part`);
  try {
    await make(part);
    await Deno.rename(part, place);
  } catch (error) {
    await Deno.remove(part, { recursive: true }).catch(() => {});
    throw error;
  }
  console.log(`${place}: ${await sizeOf(place)}`);
}

async function pack(record: string, wish: string, out: string, zip: boolean): Promise<number> {
  const systems = SYSTEMS.filter(({ name }) => wish === "all" || wish === name);
  if (systems.length === 0 && wish !== "tablet") {
    throw new UsageError(`--for takes linux, macos, windows, all or tablet, not "${wish}".`);
  }
  const folder = resolve(recordFromCaller(record)), book = basename(folder);
  await Deno.mkdir(out, { recursive: true });
  const temp = await Deno.makeTempDir({ prefix: "first-mirror-pack-" });
  try {
    const built = join(temp, book);
    console.log(`The book of ${book} is built.`);
    await said(Deno.execPath(), ["task", "book", folder, "--out", built]);
    if (wish === "tablet") {
      const name = `first-mirror-book-${book}`;
      await whole(join(out, `${name}.zip`), (part) => zipped(built, part, name));
      return 0;
    }
    for (const system of systems) {
      const name = `first-mirror-${system.name}`;
      console.log(`${name} is packed.`);
      if (!zip) {
        await whole(join(out, name), async (part) => {
          await Deno.mkdir(part);
          await fill(part, system, folder, built);
        });
        continue;
      }
      const part = join(temp, name);
      await Deno.mkdir(part);
      await fill(part, system, folder, built);
      await whole(join(out, `${name}.zip`), (file) => zipped(part, file, name));
    }
    return 0;
  } finally {
    await Deno.remove(temp, { recursive: true });
  }
}

if (import.meta.main) {
  const system = { linux: "linux", darwin: "macos", windows: "windows" }[Deno.build.os as string];
  Deno.exit(
    await runTask({
      name: "pack",
      help,
      most: 1,
      many: "pack takes one record",
      options: {
        for: { type: "string" },
        out: { type: "string" },
        zip: { type: "boolean" },
      },
      act: ([record = demoName], typed) =>
        pack(
          record,
          typed.for ?? system ?? "linux",
          resolve(typed.out === undefined ? join(root, "packs") : fromCaller(typed.out)),
          typed.zip ?? false,
        ),
    }),
  );
}
