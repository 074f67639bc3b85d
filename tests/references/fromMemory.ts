#!/usr/bin/env -S deno run --allow-read
// deno-lint-ignore-file no-console
/**
 * Prints what was not looked up: every "from memory" that is left, and every number of common practice that carries a range,
 * with what depends on it and how far the result moves from one end of the range to the other.
 *
 *     deno run --allow-read tests/references/fromMemory.ts
 */
import { fileURLToPath } from "node:url";
import { silverOnGlass } from "../../lib/coating/silver.ts";
import { abrasives, doubleStars, glasses } from "../../lib/record/tables.ts";
import { pitDepth } from "../../lib/shaping/grinding/grade.ts";
import { pitchNeeded } from "../../lib/shaping/lap/lap.ts";
import { polishRate } from "../../lib/shaping/lap/polish.ts";
import { splitOf } from "../../lib/sky/limits.ts";
import { widthArcsec } from "../../lib/sky/tonight.ts";
import { bearingRadiusFor } from "../../lib/telescope/balance.ts";
import { supportSag } from "../../lib/telescope/cell.ts";
import { cooling, FAN } from "../../lib/telescope/cooling.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));

/** Lines of lib, the tables and the notebooks that say "from memory": file, line, text. */
export function* saidFromMemory(folder = ""): Generator<readonly [string, number, string]> {
  const folders = folder === "" ? ["lib", "data/tables", "notebooks"] : [folder];
  for (const one of folders) {
    const entries = [...Deno.readDirSync(`${root}${one}`)].sort((a, b) => a.name < b.name ? -1 : 1);
    for (const { name, isDirectory } of entries) {
      const path = `${one}/${name}`;
      if (isDirectory) yield* saidFromMemory(path);
      else if (/\.(ts|csv|ipynb)$/.test(name)) {
        for (const [i, line] of Deno.readTextFileSync(root + path).split("\n").entries()) {
          if (/\bfrom memory\b|\bMEMORY\b/.test(line)) yield [path, i + 1, line.trim()];
        }
      }
    }
  }
}

/** A row of a table that is from memory, by its own last column: its name and its numbers as they are printed. */
interface Recalled {
  readonly name: string;
  readonly numbers: readonly string[];
}

/** Every row of the tables whose last column says "from memory". */
function recalledRows(): Recalled[] {
  return [...Deno.readDirSync(`${root}data/tables`)].flatMap(({ name: file }) =>
    Deno.readTextFileSync(`${root}data/tables/${file}`).split("\n")
      .filter((line) => !line.startsWith("#") && /from memory"?$/.test(line))
      .map((line) => {
        const [name = "", ...cells] = line.split(",");
        return { name, numbers: cells.filter((cell) => /^-?\d+\.\d+$/.test(cell)) };
      })
  );
}

/** A place of a stored page where a row from memory is printed with a number of it. */
export interface Printed {
  readonly file: string;
  readonly name: string;
  /** whether the same output says to its reader that this is from memory */
  readonly isMarked: boolean;
}

/**
 * Where pages print numbers from memory: the pages, the cells' outputs and the figures as they were last recorded, output by
 * output. `rows` other than the tables' own are for a test of the search.
 */
export function printedFromMemory(rows: readonly Recalled[] = recalledRows(), folders = STORED): Printed[] {
  const found: Printed[] = [];
  for (const folder of folders) {
    for (const { name, isDirectory } of Deno.readDirSync(root + folder)) {
      const file = `${folder}/${name}`;
      if (isDirectory) found.push(...printedFromMemory(rows, [file]));
      if (!name.endsWith(".txt")) continue;
      for (const output of Deno.readTextFileSync(root + file).split(/^== /m)) {
        const lines = output.split("\n"), isMarked = /from memory/i.test(output);
        for (const row of rows) {
          if (lines.some((line) => line.includes(row.name) && row.numbers.some((one) => line.includes(one)))) {
            found.push({ file, name: row.name, isMarked });
          }
        }
      }
    }
  }
  return found;
}

const STORED = ["tests/book/snapshots", "tests/notebooks/snapshots", "tests/figures/snapshots"];

/** A number with its range, and what a result is at both ends. */
export interface Moved {
  readonly what: string;
  readonly range: string;
  readonly result: string;
  readonly ends: readonly [number, number];
}

const soda = glasses().find(({ name }) => name === "soda-lime"),
  boro = glasses().find(({ name }) => name === "borosilicate"),
  silica = glasses().find(({ name }) => name === "fused silica");
const disc = { aperture: 150, thickness: 25 };

/** How far results move: each by the library's own function, with nothing else changed. */
export function moved(): Moved[] {
  if (soda === undefined || boro === undefined || silica === undefined) throw new Error("no such glass");
  const { youngGPa, poisson, densityKgPerM3 } = soda;
  const sag = (change: Partial<typeof soda>): number =>
    supportSag({ ...disc, densityKgPerM3, youngGPa: change.youngGPa ?? youngGPa, poisson: change.poisson ?? poisson }, 3).rms;
  const cool = ({ densityKgPerM3, heatJPerKgK, conductivityWPerMK }: typeof soda, share: number): number =>
    cooling({ thickness: 25, densityKgPerM3, heatJPerKgK: share * heatJPerKgK, conductivityWPerMK }, FAN).timeConstant;
  // a face warmer than the back by a kelvin: d(1/R) = alpha / t, R 2400
  const warm = (alpha: number): number => 2400 ** 2 * alpha / 25;
  const bearing = (friction: number): number =>
    bearingRadiusFor(1.5779, 6650, { friction, padHalfAngle: (35 * Math.PI) / 180 }, 1.1);
  const hours = (wearPerPa: number): number =>
    6 / polishRate({ wearPerPa, loadKg: 3.25, aperture: 150, metrePerSecond: 0.2 });
  const rings = (km: number): number => widthArcsec(km, 8.4342 * 149_597_870.7);
  const split = (share: number): number =>
    doubleStars().filter((pair) =>
      splitOf(150, { ...pair, separationArcsec: share * pair.separationArcsec }).says !==
        "not with this mirror"
    ).length;
  const grits = abrasives().filter(({ source }) => source.includes("common practice"))
    .flatMap(({ name, ds50Um, withinUm }): Moved[] =>
      withinUm === undefined ? [] : [{
        what: `middle grain of ${name}, um`,
        range: `${ds50Um} ± ${withinUm}`,
        result: "deepest pits after it, um",
        ends: [pitDepth({ ds50Um: ds50Um - withinUm }).most, pitDepth({ ds50Um, withinUm }).most],
      }]
    );
  return [
    { what: "soda-lime, Young's modulus, GPa", range: "70 to 74", result: "sag of 150 x 25 on three points, nm", ends: [sag({ youngGPa: 74 }), sag({ youngGPa: 70 })] },
    { what: "soda-lime, Poisson's ratio", range: "0.21 to 0.24", result: "the same, nm", ends: [sag({ poisson: 0.24 }), sag({ poisson: 0.21 })] },
    { what: "soda-lime, expansion, 1e-6/K", range: "8.5 to 9.5", result: "R of a face one kelvin warmer, mm", ends: [warm(8.5e-6), warm(9.5e-6)] },
    { what: "borosilicate, expansion, 1e-6/K", range: "3.2 to 3.4", result: "the same, mm", ends: [warm(3.2e-6), warm(3.4e-6)] },
    { what: "borosilicate, heat", range: "a tenth", result: "cooling of 25 mm with a fan, min", ends: [cool(boro, 0.9), cool(boro, 1.1)] },
    { what: "fused silica, heat, J/kg K", range: "730 to 770", result: "the same, min", ends: [cool(silica, 730 / 740), cool(silica, 770 / 740)] },
    { what: "Preston's coefficient, 1/Pa", range: "5e-13 to 1e-12", result: "hours for 6 um of pits", ends: [hours(1e-12), hours(5e-13)] },
    { what: "pitch, density, kg/m3", range: "1050 to 1150", result: "pitch for a lap of 150 x 7 mm, g", ends: [pitchNeeded({ diameter: 150, thickness: 7 }, 1050).grams, pitchNeeded({ diameter: 150, thickness: 7 }, 1150).grams] },
    { what: "friction of the pads", range: "0.1 to 0.2", result: "least bearing of the demo's tube, mm", ends: [bearing(0.2), bearing(0.1)] },
    { what: "silver, density, g/cm3", range: "10.49 to 10.50", result: "silver on 150 mm, mg", ends: [1000 * silverOnGlass({ diameter: 150 }).mass, 1000 * silverOnGlass({ diameter: 150 }).mass * 10.5 / 10.49] },
    { what: "Saturn's rings, outer edge, km", range: "136,100 to 136,800", result: "their width at an opposition, arcseconds", ends: [rings(136_100), rings(136_800)] },
    { what: "Cassini's division, km", range: "4,500 to 4,800", result: "its width then, arcseconds", ends: [rings(2250), rings(2400)] },
    { what: "the Moon's rim, km", range: "0.17 less", result: "moment of an occultation, s (told with a u of 3)", ends: [0, 0.17] },
    { what: "separations of double stars", range: "a twentieth", result: `of ${doubleStars().length} pairs, split by 150 mm`, ends: [split(0.95), split(1.05)] },
    ...grits,
  ];
}

if (import.meta.main) {
  const left = [...saidFromMemory()];
  console.log(`"from memory" is left in ${left.length} lines:`);
  const files = Map.groupBy(left, ([path]) => path);
  for (const [path, lines] of files) console.log(`  ${path}: lines ${lines.map(([, line]) => line).join(", ")}`);
  const printed = printedFromMemory(), bare = printed.filter(({ isMarked }) => !isMarked);
  console.log(`\nPages print numbers of ${printed.length} such rows, ${bare.length} of them without a mark that the reader sees`);
  for (const { file, name } of bare) console.log(`  ${file}: ${name}`);
  console.log(`\nNumbers of common practice with a range, and what moves with them:`);
  for (const { what, range, result, ends: [low, high] } of moved()) {
    const middle = (low + high) / 2, share = middle === 0 ? 0 : Math.abs(high - low) / 2 / Math.abs(middle);
    console.log(
      `  ${what} (${range}): ${result} ${low.toPrecision(3)} to ${high.toPrecision(3)}, ± ${
        (100 * share).toFixed(1)
      } %`,
    );
  }
}
