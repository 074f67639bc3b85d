// deno-lint-ignore-file no-console
/**
 * Packs for every system, made here: which files are in them, for which processor each program and each native part is, and
 * whether the start files can be read by their shells. Windows' and macOS' packs are looked at; they are not run.
 */
import { join } from "node:path";
import { command, saidBy } from "../commands/run.ts";

/** How programs and native parts begin. READ: the ELF, Mach-O and PE formats' own headers, as Debian's `file` reads them. */
function kindOf(bytes: Uint8Array): string {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (view.getUint32(0) === 0x7f454c46) {
    return `ELF ${({ 62: "x64", 183: "arm64" })[view.getUint16(18, true)] ?? "other"}`;
  }
  if (view.getUint32(0, true) === 0xfeedfacf) {
    return `Mach-O ${
      ({ 0x01000007: "x64", 0x0100000c: "arm64" })[view.getUint32(4, true)] ?? "other"
    }`;
  }
  if (view.getUint16(0) === 0x4d5a) {
    const at = view.getUint32(0x3c, true);
    return `PE ${({ 0x8664: "x64", 0xaa64: "arm64" })[view.getUint16(at + 4, true)] ?? "other"}`;
  }
  return "no program";
}

async function filesBelow(folder: string): Promise<string[]> {
  const all: string[] = [];
  for await (const { name, isDirectory } of Deno.readDir(folder)) {
    const path = join(folder, name);
    if (isDirectory) all.push(...await filesBelow(path));
    else all.push(path);
  }
  return all;
}

const WANTED = {
  linux: { kinds: ["ELF x64"], start: "start.sh" },
  macos: { kinds: ["Mach-O arm64", "Mach-O x64"], start: "start.command" },
  windows: { kinds: ["PE x64"], start: "start.cmd" },
} as const;

const folder = await Deno.makeTempDir({ prefix: "first-mirror-packs-" });
let broken = 0;
const check = (what: string, holds: boolean): void => {
  if (!holds) broken += 1;
  console.log(`${holds ? "holds" : "DOES NOT HOLD"}  ${what}`);
};
try {
  const { code, out, err } = await saidBy(
    command("pack", ["--for", "all", "--out", folder]).spawn(),
  );
  console.log(out);
  check(`all three are packed${code === 0 ? "" : `: ${err}`}`, code === 0);
  for (const [system, { kinds, start }] of Object.entries(WANTED)) {
    const pack = join(folder, `first-mirror-${system}`), files = await filesBelow(pack);
    const native = files.filter((path) =>
      path.startsWith(join(pack, "bin")) || /\.(node|dll|dylib|so(\.\d+)*)$/.test(path)
    );
    const found = new Map<string, string[]>();
    for (const path of native) {
      const kind = kindOf(await Deno.readFile(path));
      found.set(kind, [...found.get(kind) ?? [], path.slice(pack.length + 1)]);
    }
    const others = [...found].filter(([kind]) => !(kinds as readonly string[]).includes(kind));
    check(
      `${system}: ${native.length} programs and native parts, ${[...found.keys()].join(" and ")}${
        others.length === 0
          ? ""
          : `; not its own: ${others.flatMap(([, paths]) => paths).join(", ")}`
      }`,
      others.length === 0 && found.size === kinds.length,
    );
    for (const kind of kinds) {
      const parts = (found.get(kind) ?? []).join(" ");
      check(
        `${system}: Deno, sharp and polars for ${kind}`,
        /bin[\\/]/.test(parts) && /sharp/.test(parts) && /polars/.test(parts),
      );
    }
    const text = await Deno.readTextFile(join(pack, start));
    if (system === "windows") {
      const labels = [...text.matchAll(/^:(\w+)/gm)].map(([, label]) => label);
      const jumps = [...text.matchAll(/goto (\w+)/g)].map(([, label]) => label);
      check(
        "windows: each line of start.cmd ends as Windows ends it, each jump has its place",
        !/[^\r]\n/.test(text) && jumps.every((label) => labels.includes(label)),
      );
    } else {
      const { success } = await new Deno.Command("sh", { args: ["-n", join(pack, start)] })
        .output();
      check(`${system}: a shell reads ${start}`, success);
    }
    const long = files.filter((path) => path.length - pack.length > 200);
    check(`${system}: no path inside is longer than 200 letters`, long.length === 0);
    const names = files.map((path) => path.slice(pack.length).toLowerCase());
    check(
      `${system}: no two paths differ by capitals alone`,
      new Set(names).size === names.length,
    );
    const strange = files.filter((path) => /[<>:"|?*]|[. ]$/.test(path.slice(pack.length)));
    check(
      `${system}: every name can stand on a stick that Windows formatted`,
      strange.length === 0,
    );
  }
} finally {
  await Deno.remove(folder, { recursive: true });
}
console.log(broken === 0 ? "holds" : `${broken} do not hold`);
Deno.exit(broken === 0 ? 0 : 1);
