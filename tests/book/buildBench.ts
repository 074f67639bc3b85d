/** A folder with a record, a few notebooks and room for a book, for tests of building one. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { BuildOptions } from "../../lib/book/build.ts";
import { notebookText } from "../../lib/book/notebook.ts";
import { notebookOf } from "./sampleBook.ts";

/** The kit's own folder, so that the kernel finds its import map. */
const root = fileURLToPath(new URL("../../", import.meta.url));

export interface Bench {
  readonly folder: string;
  readonly options: BuildOptions;
  notebook(stem: string, ...cells: Parameters<typeof notebookOf>[0]): Promise<void>;
  record(yaml: string): Promise<void>;
}

/** A folder with a record, room for notebooks and for a book. */
export async function onBench(act: (bench: Bench) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-build-" });
  // notebooks run where they stand, and find the kit by the deno.json above them; book/ is no part of the kit
  await Deno.mkdir(join(root, "book"), { recursive: true });
  const notebooks = await Deno.makeTempDir({ dir: join(root, "book"), prefix: ".notebooks-" });
  const record = join(folder, "record");
  await Deno.mkdir(record);
  const bench: Bench = {
    folder,
    options: { record, notebooks, out: join(folder, "book"), builtOn: new Date(2026, 10, 25) },
    notebook: (stem, ...cells) =>
      Deno.writeTextFile(join(notebooks, `${stem}.ipynb`), notebookText(notebookOf(cells))),
    record: (yaml) => Deno.writeTextFile(join(record, "mirror.yaml"), yaml),
  };
  try {
    await bench.record("title: Bench seven\naperture: 150 mm\nfocal_length: 1200 mm\n");
    await act(bench);
  } finally {
    await Deno.remove(folder, { recursive: true });
    await Deno.remove(notebooks, { recursive: true });
  }
}
