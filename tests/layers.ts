/** The layers of lib, and what a file imports: for the test that holds and prints them. */
import { dirname, join, relative } from "node:path";

/**
 * From the bottom up. A layer may import those before it; several in one row stand side by side and know nothing of
 * one another.
 */
export const layers: readonly (readonly string[])[] = [
  ["numeric"],
  ["quantity"],
  ["optics"],
  ["measuring", "shaping", "testing", "telescope", "coating", "sky"],
  ["record"],
  ["knowledge"],
  ["figures"],
  ["lessons"],
  ["stages", "forms"],
  ["living"],
  ["book", "room"],
  ["commands"],
];

/** Every TypeScript file below a folder: its path from there, and its text. */
export function sources(folder: string): Map<string, string> {
  const found = new Map<string, string>();
  const walk = (at: string): void => {
    for (const { name, isDirectory } of Deno.readDirSync(at)) {
      const path = join(at, name);
      if (isDirectory) walk(path);
      else if (name.endsWith(".ts")) found.set(relative(folder, path), Deno.readTextFileSync(path));
    }
  };
  walk(folder);
  return new Map([...found].sort());
}

/** The files that a source imports by a relative path, types too; examples in its comments are not its own. */
export function importsOf(file: string, source: string): string[] {
  const found = source.matchAll(/^(?!\s*\*).*(?:\bfrom|\bimport)[\s(]*"(\.[^"]+)"/gm);
  return [...found].map(([, path = ""]) => join(dirname(file), path));
}

const layerOf = (file: string): string => file.includes("/") ? file.split("/", 1)[0] ?? "" : "";
const heightOf = (layer: string): number => layers.findIndex((row) => row.includes(layer));

/** Whether one layer may import another; what stands in no folder, the kit's version, all may import. */
function isDownhill(from: string, to: string): boolean {
  return to === "" || from === to || (from !== "" && heightOf(to) < heightOf(from));
}

/** The imports of a file that go up or to the side, in words. */
export function uphill(file: string, source: string): string[] {
  return importsOf(file, source).filter((to) => !isDownhill(layerOf(file), layerOf(to)))
    .map((to) => `${file} imports ${to}`);
}

/** Files that import one another in a circle: the strongly connected groups of more than one (Tarjan's search). */
export function circles(files: ReadonlyMap<string, string>): string[][] {
  const index = new Map<string, number>(), low = new Map<string, number>();
  const stack: string[] = [], onStack = new Set<string>(), found: string[][] = [];
  const visit = (file: string): number => {
    const own = index.size;
    let lowest = own;
    index.set(file, own);
    stack.push(file);
    onStack.add(file);
    for (const to of importsOf(file, files.get(file) ?? "")) {
      if (!files.has(to)) continue;
      if (!index.has(to)) lowest = Math.min(lowest, visit(to));
      else if (onStack.has(to)) lowest = Math.min(lowest, index.get(to) ?? own);
    }
    low.set(file, lowest);
    if (lowest === own) {
      const group = stack.splice(stack.indexOf(file));
      for (const one of group) onStack.delete(one);
      if (group.length > 1) found.push(group.sort());
    }
    return lowest;
  };
  for (const file of files.keys()) if (!index.has(file)) visit(file);
  return found.sort();
}

/** The layers from the top down, with files and lines of each folder, and the counts of what must be nothing. */
export function drawLayers(files: ReadonlyMap<string, string>): string {
  const row = (layer: string): string => {
    const own = [...files].filter(([file]) => layerOf(file) === layer);
    const lines = own.reduce((sum, [, source]) => sum + source.split("\n").length - 1, 0);
    return `${layer} ${own.length} files, ${lines} lines`;
  };
  const up = [...files].flatMap(([file, source]) => uphill(file, source)).length;
  return [
    ...layers.toReversed().map((side) => side.map(row).join(" | ")),
    `uphill ${up}, circles ${circles(files).length}`,
  ].join("\n");
}
