// deno-lint-ignore-file no-console
/**
 * The tests of the pure layers on other Denos than the one the kit is measured with: the newest on npm and the last of the minor
 * version before it. Exits 1 where a test fails on one of them. `deno task trial denos`; the Denos come from npm.
 */
import { fileURLToPath } from "node:url";

/** The layers that touch no file and start nothing. */
const PURE = ["numeric", "quantity", "optics", "measuring", "shaping", "testing", "coating", "sky"];

const root = fileURLToPath(new URL("../../", import.meta.url));
const npm = Deno.build.os === "windows" ? "npm.cmd" : "npm";
const npx = Deno.build.os === "windows" ? "npx.cmd" : "npx";

const { stdout } = await new Deno.Command(npm, { args: ["view", "deno", "versions", "--json"] })
  .output();
const all = (JSON.parse(new TextDecoder().decode(stdout)) as string[])
  .filter((version) => /^\d+\.\d+\.\d+$/.test(version))
  .map((version) => version.split(".").map(Number))
  .sort((a, b) => a.map((n, k) => n - (b[k] ?? 0)).find((n) => n !== 0) ?? 0);
const newest = all.at(-1) ?? [];
const older = all.findLast(([major, minor]) => major !== newest[0] || minor !== newest[1]) ?? [];

let broken = 0;
for (const version of [newest, older].map((parts) => parts.join("."))) {
  const { success, stdout, stderr } = await new Deno.Command(npx, {
    args: [
      ...[
        "-y",
        `deno@${version}`,
        "test",
        "-A",
        "--no-check",
        "--no-lock",
        "--quiet",
        "--parallel",
      ],
      ...PURE.map((layer) => `tests/${layer}`),
    ],
    cwd: root,
    env: { NO_COLOR: "1" },
    stdin: "null",
  }).output();
  const text = new TextDecoder().decode(stdout) + new TextDecoder().decode(stderr);
  const count = /^(?:ok|FAILED) \|.*$/m.exec(text)?.[0] ?? text.trim().split("\n").at(-1);
  const own = version === Deno.version.deno ? ", the kit's own" : "";
  console.log(`${success ? "holds" : "DOES NOT HOLD"}  Deno ${version}${own}: ${count}`);
  if (success) continue;
  broken += 1;
  for (const [line] of text.matchAll(/^.+ => \.\/.+:\d+:\d+$|^error: .+$/gm)) {
    console.log(`  ${line}`);
  }
}
Deno.exit(broken === 0 ? 0 : 1);
