/** Copies of the kit's records with something changed, in folders of their own that are gone afterwards. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { recordsFolder } from "../../lib/knowledge/open.ts";

/** A disc, a wish, and nothing measured. */
export const EMPTY = fileURLToPath(new URL("../records/empty-130-f7", import.meta.url));

/** What becomes of a file: its new text, or nothing where it is to be left out. */
export type Change = (name: string, text: string) => string | undefined;

/**
 * Copies a record, changed file by file, and gives the copy's folder.
 *
 * @param record  a folder of data/records
 * @param as      the copy's name; default the record's
 */
export async function withCopy<T>(
  record: string,
  change: Change,
  use: (folder: string) => Promise<T>,
  as = record,
): Promise<T> {
  const outer = await Deno.makeTempDir({ prefix: "first-mirror-copy-" });
  try {
    const folder = join(outer, as);
    await Deno.mkdir(folder);
    for await (const { name, isFile } of Deno.readDir(join(recordsFolder, record))) {
      if (!isFile) {
        await copyPhotos(join(recordsFolder, record, name), join(folder, name));
        continue;
      }
      const text = change(name, await Deno.readTextFile(join(recordsFolder, record, name)));
      if (text !== undefined) await Deno.writeTextFile(join(folder, name), text);
    }
    return await use(folder);
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
}

/** A folder of pictures, as it stands. */
async function copyPhotos(from: string, to: string): Promise<void> {
  await Deno.mkdir(to);
  for await (const { name } of Deno.readDir(from)) {
    await Deno.copyFile(join(from, name), join(to, name));
  }
}

/** Rows of a table as they stand, with their header and remarks. */
function keepRows(text: string, keep: (cells: readonly string[]) => boolean): string | undefined {
  const lines = text.trimEnd().split("\n");
  const isRow = (line: string): boolean => /^\d{4}-/.test(line);
  const kept = lines.filter((line) => !isRow(line) || keep(line.split(",")));
  return kept.some(isRow) ? `${kept.join("\n")}\n` : undefined;
}

/**
 * A file as it stood on an evening: only rows up to a date, or up to a minute of grinding. A table without a row left is
 * left out.
 */
export function cut(
  name: string,
  text: string,
  until: { readonly date: string } | { readonly minute: number },
): string | undefined {
  if (!name.endsWith(".csv")) return text;
  if ("date" in until) return keepRows(text, ([date = ""]) => date <= until.date);
  let ground = 0;
  if (name === "grinding.csv") {
    return keepRows(text, ([, , , minutes = "0"]) => (ground += Number(minutes)) <= until.minute);
  }
  if (name === "zones.csv") return undefined;
  return keepRows(text, ([, minute = "0"]) => Number(minute) <= until.minute);
}
