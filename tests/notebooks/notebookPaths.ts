/** The kit's own notebooks, in their order. */
import { fileURLToPath } from "node:url";
import { join } from "node:path";

const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));

/** Paths of all notebooks of a folder, sorted by name, which is the order of the course. */
export async function notebookPaths(from: string = folder): Promise<string[]> {
  const names: string[] = [];
  for await (const { name, isFile } of Deno.readDir(from)) {
    if (isFile && name.endsWith(".ipynb")) names.push(name);
  }
  return names.sort().map((name) => join(from, name));
}
