/** A record as it is begun: a commented mirror.yaml, a table for each kind of reading, a place for photographs. */
import { basename, dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { readRecord } from "./readRecord.ts";
import { freshTable } from "./freshTable.ts";
import { TABLES } from "./schema.ts";

const template = fileURLToPath(new URL("../../data/template", import.meta.url));

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
      titled(await Deno.readTextFile(join(template, "mirror.yaml")), title),
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

/**
 * Writes a fresh class into a new folder, whole or not at all: class.yaml, what git is to pass over, a record a bench.
 *
 * @param target   a path where nothing stands yet
 * @param benches  how many, 1 to 60
 * @throws {Deno.errors.AlreadyExists} where something does
 */
export async function begunClass(target: string, benches: number): Promise<void> {
  await Deno.mkdir(dirname(target), { recursive: true });
  await Deno.mkdir(target);
  try {
    const names = Array.from({ length: benches }, (_, at) => ({
      folder: `bench-${String(at + 1).padStart(2, "0")}`,
      name: `Bench ${at + 1}`,
    }));
    const page = await Deno.readTextFile(join(template, "class.yaml"));
    const lines = names.map(({ folder, name }) => `  - { folder: ${folder}, name: ${name} }`);
    await Deno.writeTextFile(
      join(target, "class.yaml"),
      page.replace(/^title: .*?(?= +#|$)/m, () => `title: ${JSON.stringify(basename(target))}`)
        .replace(/^ {2}- \{ folder.*$/m, () => lines.join("\n")),
    );
    await Deno.copyFile(join(template, ".gitignore"), join(target, ".gitignore"));
    for (const { folder, name } of names) await begunRecord(join(target, folder), name);
  } catch (error) {
    await Deno.remove(target, { recursive: true });
    throw error;
  }
}

function titled(text: string, title: string): string {
  return text.replace(/^title: .*?(?= +#|$)/m, () => `title: ${JSON.stringify(title)}`);
}
