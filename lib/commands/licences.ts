// deno-lint-ignore-file no-console
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { NotDone, runTask } from "./command.ts";

/** `deno task licences`: whose work the kit stands on, and under which licence. */

const help = `deno task licences

Lists every npm package that deno.lock names, with its version and the licence that the package
itself tells, and at the end how many stand under each. Packages that only other machines need
are named as such. Needs no network.

  --help   this text

Exit status: 0 listed, 1 a package that this machine needs is not here yet or tells no licence,
2 the command was mistyped, 70 the kit itself has a fault, with a report of it.`;

const root = fileURLToPath(new URL("../../", import.meta.url));

/** What deno.lock tells of a package. */
interface Locked {
  /** what it stands on, each by its word in the lock's list of packages, or by its name where there is one version */
  readonly dependencies?: readonly string[];
  readonly optionalDependencies?: readonly string[];
  /** systems and processors it is made for; all where absent */
  readonly os?: readonly string[];
  readonly cpu?: readonly string[];
}

/** A package with what is known of its licence. */
export interface Listed {
  readonly name: string;
  readonly version: string;
  /** the package's own words; nothing where it is not here or tells none */
  readonly licence?: string;
  /** true where it is not here, and only other machines need it */
  readonly elsewhere: boolean;
}

/**
 * Name and version of a package, from deno.lock's word for it, which may name companions behind a `_`.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(nameOf("@img/colour@1.1.0"), ["@img/colour", "1.1.0"]);
 * assert.deepEqual(nameOf("a@1.2.3_b@4.5.6"), ["a", "1.2.3"]);
 * ```
 */
export function nameOf(key: string): readonly [name: string, version: string] {
  const [, name = key, version = ""] = /^(@?[^@]+)@([^_]+)/.exec(key) ?? [];
  return [name, version];
}

/**
 * The licence as a package.json tells it, in the words of any age of npm; nothing where it tells none.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(licenceIn({ license: "MIT" }), "MIT");
 * assert.equal(licenceIn({ licenses: [{ type: "MIT" }, { type: "ISC" }] }), "MIT or ISC");
 * ```
 */
export function licenceIn(told: Readonly<Record<string, unknown>>): string | undefined {
  const all = [told["license"] ?? told["licenses"]].flat().flatMap((one) => {
    const word = typeof one === "object" && one !== null ? (one as { type?: unknown }).type : one;
    return typeof word === "string" && word.trim() !== "" ? [word.trim()] : [];
  });
  return all.length === 0 ? undefined : all.join(" or ");
}

/** The folders into which Deno has put packages, one for each place they come from. */
async function stores(): Promise<readonly string[]> {
  const { stdout } = await new Deno.Command(Deno.execPath(), {
    args: ["info", "--json"],
    cwd: root,
    stderr: "null",
  }).output();
  const { npmCache } = JSON.parse(new TextDecoder().decode(stdout)) as { npmCache: string };
  const entries = await Array.fromAsync(Deno.readDir(npmCache)).catch(() => []);
  return entries.filter(({ isDirectory }) => isDirectory).map(({ name }) => join(npmCache, name));
}

async function licenceOf(
  name: string,
  version: string,
  places: readonly string[],
): Promise<string | undefined> {
  for (const place of places) {
    const folder = join(place, name, version);
    const text = await Deno.readTextFile(join(folder, "package.json")).catch(() => undefined);
    if (text === undefined) continue;
    const licence = licenceIn(JSON.parse(text));
    const file = /^SEE LICEN[CS]E IN (\S+)$/i.exec(licence ?? "")?.[1];
    if (file === undefined) return licence;
    const words = await Deno.readTextFile(join(folder, file)).catch(() => "");
    const first = words.split("\n").map((line) => line.trim()).find((line) => line !== "");
    return `${licence} (${first ?? "which it does not hold"})`;
  }
  return undefined;
}

/** Whether this machine is one that a package is made for. */
function isForHere({ os = [], cpu = [] }: Locked): boolean {
  const here = Deno.build.os === "windows" ? "win32" : Deno.build.os;
  const core = Deno.build.arch === "x86_64" ? "x64" : "arm64";
  const fits = (all: readonly string[], one: string): boolean =>
    all.length === 0 || all.includes(one);
  return fits(os, here) && fits(cpu, core);
}

type Packages = Readonly<Record<string, Locked>>;

/** The packages that this machine needs: what is asked for, and all they stand on, as far as it is made for here. */
function neededHere(npm: Packages, asked: readonly string[]): ReadonlySet<string> {
  const byName = new Map(Object.keys(npm).map((key) => [nameOf(key)[0], key]));
  const needed = new Set<string>(), open = [...asked];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const key = one in npm ? one : byName.get(one) ?? "", locked = npm[key];
    if (locked === undefined || needed.has(key) || !isForHere(locked)) continue;
    needed.add(key);
    open.push(...locked.dependencies ?? [], ...locked.optionalDependencies ?? []);
  }
  return needed;
}

/** Every package of deno.lock, by name. */
export async function allListed(): Promise<readonly Listed[]> {
  const text = await Deno.readTextFile(join(root, "deno.lock"));
  const { npm, specifiers } = JSON.parse(text) as {
    npm: Packages;
    specifiers: Readonly<Record<string, string>>;
  };
  const asked = Object.entries(specifiers).map(([specifier, version]) =>
    `${nameOf(specifier.replace(/^npm:/, ""))[0]}@${version}`
  );
  const needed = neededHere(npm, asked), places = await stores();
  const seen = new Map<string, Listed>();
  for (const key of Object.keys(npm)) {
    const [name, version] = nameOf(key);
    const licence = await licenceOf(name, version, places);
    seen.set(`${name} ${version}`, {
      name,
      version,
      ...(licence === undefined ? {} : { licence }),
      elsewhere: licence === undefined && !needed.has(key),
    });
  }
  return [...seen.values()].sort((a, b) => a.name < b.name ? -1 : 1);
}

function told({ licence, elsewhere }: Listed): string {
  return licence ?? (elsewhere ? "for other machines, not here" : "not here");
}

async function licences(): Promise<number> {
  const all = await allListed();
  const wide = Math.max(...all.map(({ name }) => name.length));
  const long = Math.max(...all.map(({ version }) => version.length));
  for (const one of all) {
    console.log(`${one.name.padEnd(wide)}  ${one.version.padEnd(long)}  ${told(one)}`);
  }
  const counts = Map.groupBy(all.filter(({ licence }) => licence !== undefined), told);
  console.log("");
  for (const [licence, under] of [...counts].sort(([, a], [, b]) => b.length - a.length)) {
    console.log(`${String(under.length).padStart(4)}  ${licence}`);
  }
  const others = all.filter(({ elsewhere }) => elsewhere).length;
  if (others > 0) console.log(`${String(others).padStart(4)}  for other machines, not here`);
  const missing = all.filter(({ licence, elsewhere }) => licence === undefined && !elsewhere);
  if (missing.length === 0) return 0;
  throw new NotDone(
    `${missing.length} that this machine needs are not here or tell no licence: ` +
      `${
        missing.map(({ name }) => name).join(", ")
      }; with a network, \`deno install\` fetches what is not here.`,
  );
}

if (import.meta.main) Deno.exit(await runTask({ name: "licences", help, act: licences }));
