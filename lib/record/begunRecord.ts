/** A record as it is begun: a commented mirror.yaml, a table for each kind of reading, a place for photographs. */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { readRecord } from "./readRecord.ts";
import { freshTable } from "./freshTable.ts";
import { TABLES } from "./schema.ts";

const page = fileURLToPath(new URL("../../data/template/mirror.yaml", import.meta.url));

/**
 * Writes a fresh record into a new folder, whole or not at all.
 *
 * @param target  a path where nothing stands yet
 * @param title   of the mirror
 * @throws {Deno.errors.AlreadyExists} where something does
 */
export async function begunRecord(target: string, title: string): Promise<void> {
  await Deno.mkdir(dirname(target), { recursive: true });
  await Deno.mkdir(target);
  try {
    await Deno.mkdir(join(target, "photos"));
    await Deno.writeTextFile(
      join(target, "mirror.yaml"),
      titled(await Deno.readTextFile(page), title),
    );
    for (const table of TABLES) {
      await Deno.writeTextFile(join(target, `${table}.csv`), freshTable(table));
    }
    await readRecord(target);
  } catch (error) {
    await Deno.remove(target, { recursive: true });
    throw error;
  }
}

function titled(text: string, title: string): string {
  return text.replace(/^title: .*?(?= +#|$)/m, () => `title: ${JSON.stringify(title)}`);
}
