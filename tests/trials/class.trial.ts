// deno-lint-ignore-file no-console
/**
 * A class of 12 under 5 s, of 2,000 generated records under 60 s on two cores and under 1 GB; prints, and exits 1 where not.
 *
 * On a machine that is busy with other work the clock says nothing: there the processor's time is held to the bound, two
 * cores' worth of it.
 */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeMakers } from "../record/classBench.ts";
import { recordsFolder } from "../../lib/knowledge/open.ts";

const check = fileURLToPath(new URL("../../lib/commands/check.ts", import.meta.url));

interface Cost {
  readonly seconds: number;
  /** processor time of all threads */
  readonly cpuSeconds: number;
  /** most memory held at once */
  readonly peakMb: number;
  readonly lines: string;
}

/** Runs `check` with its page and its Parquet on a folder, measured from outside, by the kernel's own account of it. */
async function cost(folder: string, page: string, table: string): Promise<Cost> {
  const begun = performance.now();
  const shell = `deno="$1"; shift; "$deno" "$@" & pid=$!
peak=0
while kill -0 $pid 2>/dev/null; do
  now=$(sed -n 's/^VmHWM:[^0-9]*\\([0-9]*\\).*/\\1/p' /proc/$pid/status 2>/dev/null)
  [ -n "$now" ] && peak=$now
  ticks=$(awk '{print $14+$15}' /proc/$pid/stat 2>/dev/null)
  [ -n "$ticks" ] && last=$ticks
  sleep 0.05
done
wait $pid; code=$?; echo "$peak $last" >&2; exit $code`;
  const { code, stdout, stderr } = await new Deno.Command("bash", {
    args: [
      ...["-c", shell, "bash", Deno.execPath(), "run", "-A", check],
      ...[folder, "--page", page, "--parquet", table],
    ],
    stdout: "piped",
    stderr: "piped",
  }).output();
  const said = new TextDecoder().decode(stderr).trim();
  if (code !== 0) throw new Error(said);
  const [peak = 0, ticks = 0] = (said.split("\n").at(-1) ?? "").split(" ").map(Number);
  return {
    seconds: (performance.now() - begun) / 1000,
    cpuSeconds: ticks / 100,
    peakMb: peak / 1024,
    lines: new TextDecoder().decode(stdout),
  };
}

const folder = await Deno.makeTempDir({ prefix: "class-trial-" });
const cores = 2;
const count = Number(Deno.args[0] ?? 2000);
let holds = true;
try {
  const bound = async (
    what: string,
    records: string,
    most: { readonly seconds: number; readonly mb: number },
  ): Promise<void> => {
    const { seconds, cpuSeconds, peakMb, lines } = await cost(
      ...[records, join(folder, "page.html"), join(folder, "class.parquet")] as const,
    );
    const size = (await Deno.stat(join(folder, "page.html"))).size / 1024;
    const table = (await Deno.stat(join(folder, "class.parquet"))).size / 1024;
    console.log(
      `${what}: ${seconds.toFixed(1)} s (bound ${most.seconds}), processor ${
        cpuSeconds.toFixed(1)
      } s, peak ${peakMb.toFixed(0)} MB (bound ${most.mb}), page ${size.toFixed(0)} kB, Parquet ${
        table.toFixed(0)
      } kB`,
    );
    console.log(`  ${lines.split("\n")[0]}`);
    const busy = (Deno.loadavg()[0] ?? 0) > cores + 1;
    if (busy) console.log("  the machine is busy: judged by the processor's time on two cores");
    if ((busy ? cpuSeconds / cores : seconds) > most.seconds || peakMb > most.mb) holds = false;
    await Deno.remove(join(folder, "page.html"));
  };
  await bound("12 records", join(recordsFolder, "class-kestrel-lane"), { seconds: 5, mb: 1000 });
  const made = join(folder, "generated");
  await writeMakers(made, count);
  await bound(`${count} records`, made, { seconds: 60, mb: 1000 });
} finally {
  await Deno.remove(folder, { recursive: true });
}
console.log(`load of the machine: ${Deno.loadavg().map((load) => load.toFixed(1)).join(" ")}`);
if (!holds) Deno.exit(1);
