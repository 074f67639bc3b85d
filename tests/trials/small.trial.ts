// deno-lint-ignore-file no-console
/**
 * Small figures that docstrings and pages tell: what mathjs costs to load from its one file and from its many, how much a kept
 * table of Bessel functions spares, how large Deno is. `deno task trial small`, seconds.
 */
import { starPlan } from "../../lib/figures/live/starPlan.ts";
import { radialGrid } from "../../lib/optics/quality.ts";
import { starProfile } from "../../lib/optics/starImage.ts";

/** Processor's seconds, user and system, of all processes that this one has started and that are gone. */
function children(): number {
  const [, after = ""] = Deno.readTextFileSync("/proc/self/stat").split(") ");
  const [cutime = 0, cstime = 0] = after.split(" ").slice(13, 15).map(Number);
  return (cutime + cstime) / 100;
}

/** Processor's seconds of a process that runs some code, least of seven. */
async function seconds(code: string): Promise<number> {
  const each: number[] = [];
  for (let turn = 0; turn < 7; turn++) {
    const start = children();
    const { success } = await new Deno.Command(Deno.execPath(), {
      args: ["eval", "--ext=ts", code],
      stdout: "null",
    }).output();
    if (!success) throw new Error(code);
    each.push(children() - start);
  }
  return Math.min(...each);
}

const nothing = await seconds("1");
const loading = async (path: string): Promise<number> =>
  await seconds(`await import("npm:mathjs@15.2.0${path}")`) - nothing;
const [one, many] = [await loading("/lib/browser/math.js"), await loading("")];
console.log(`mathjs, one file: ${one.toFixed(2)} s of the processor`);
console.log(`mathjs, many files: ${(many / one).toFixed(1)} times as long`);

const waves = radialGrid(40).q.map((q) => q * q - q);
const least = (act: () => unknown): number =>
  Math.min(...Array.from({ length: 30 }, () => {
    const start = performance.now();
    for (let k = 0; k < 5; k++) act();
    return (performance.now() - start) / 5;
  }));
// a grid of its own each time, for the function keeps what its last one needed
const kept = starPlan(40, 4, 200);
const plain = least(() => starProfile(radialGrid(40), waves, 4, 200)),
  quick = least(() => kept.image(waves));
console.log(
  `a star's profile: ${plain.toFixed(3)} ms, with its table kept ${quick.toFixed(3)} ms, ${
    (plain / quick).toFixed(0)
  } times as fast`,
);

console.log(`Deno itself: ${((await Deno.stat(Deno.execPath())).size / 1e6).toFixed(0)} MB`);
if (plain / quick < 500) Deno.exit(1);
