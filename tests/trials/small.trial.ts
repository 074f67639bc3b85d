// deno-lint-ignore-file no-console
/**
 * Small figures that docstrings and pages tell: what mathjs costs to load from its one file and from its many, how much a kept
 * table of Bessel functions spares, how large Deno is. `deno task trial small`, seconds.
 */
import { starPlan } from "../../lib/figures/live/starPlan.ts";
import { radialGrid } from "../../lib/optics/quality.ts";
import { starProfile } from "../../lib/optics/starImage.ts";

/** Processor's seconds of a whole process that imports one thing, least of five, less those of one that imports nothing. */
async function seconds(code: string): Promise<number> {
  const each: number[] = [];
  for (let turn = 0; turn < 5; turn++) {
    const { stdout } = await new Deno.Command(Deno.execPath(), {
      args: [
        "eval",
        "--ext=ts",
        `const t = performance.now(); ${code}; console.log(performance.now() - t);`,
      ],
    }).output();
    each.push(Number(new TextDecoder().decode(stdout)) / 1000);
  }
  return Math.min(...each);
}

console.log(
  `mathjs, one file: ${
    (await seconds('await import("npm:mathjs@15.2.0/lib/browser/math.js")')).toFixed(2)
  } s`,
);
console.log(
  `mathjs, many files: ${(await seconds('await import("npm:mathjs@15.2.0")')).toFixed(2)} s`,
);

const grid = radialGrid(40), waves = grid.q.map((q) => q * q - q);
const least = (act: () => unknown): number =>
  Math.min(...Array.from({ length: 30 }, () => {
    const start = performance.now();
    for (let k = 0; k < 5; k++) act();
    return (performance.now() - start) / 5;
  }));
const kept = starPlan(40, 4, 200);
const plain = least(() => starProfile(grid, waves, 4, 200)), quick = least(() => kept.image(waves));
console.log(
  `a star's profile: ${plain.toFixed(3)} ms, with its table kept ${quick.toFixed(3)} ms, ${
    (plain / quick).toFixed(0)
  } times as fast`,
);

console.log(`Deno itself: ${((await Deno.stat(Deno.execPath())).size / 1e6).toFixed(0)} MB`);
if (plain / quick < 500) Deno.exit(1);
