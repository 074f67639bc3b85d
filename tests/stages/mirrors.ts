/** Mirrors at the states a reader may be in, and one whose words would do harm on a page that forgot to escape them. */
import { join } from "node:path";
import { type Mirror, openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import type { MirrorRecord } from "../../lib/record/types.ts";
import type { Shown } from "../../lib/figures/show.ts";
import { EMPTY } from "../contract/copies.ts";
import { type Files, read } from "../record/bench.ts";

export const demo = await openMirror(join(recordsFolder, "demo-150-f8"));
export const halfway = await openMirror(join(recordsFolder, "halfway-200-f6"));
export const empty = await openMirror(EMPTY);

/** A mirror from a record. */
export const mirrorOf = (record: MirrorRecord): Mirror => ({
  record,
  summary: summarize(record),
  isDemo: false,
});

/** A mirror from the text of its files. */
export const mirror = async (files: Files): Promise<Mirror> => mirrorOf(await read(files));

/** INVENTED: the demo of 27 June with a hill of 80 nm on the middle 20 mm, which the flat's 31 mm shade. */
export const shadowed: Mirror = mirrorOf({
  ...demo.record,
  zones: demo.record.zones.filter(({ date }) => date === "2026-06-27").map((row) => ({
    ...row,
    reading: row.reading + (row.outer <= 10 ? 5 : row.outer <= 20 ? 0.5 : 0),
  })),
});

export const HARM = `<img src=x onerror="alert('1')"> & </section><script>alert(2)</script>`;

/** The demo's readings under a title, a folder and notes that mean harm. */
export const hostile: Mirror = mirrorOf({
  ...demo.record,
  name: HARM,
  settings: { ...demo.record.settings, title: HARM },
  defaults: [HARM],
  warnings: [{ file: HARM, line: 3, message: HARM }],
  sagitta: demo.record.sagitta.map((row) => ({ ...row, note: HARM })),
  zones: demo.record.zones.map((row) => ({ ...row, run: `${HARM}${row.run}`, note: HARM })),
});

/** Whose blocks a piece of a page holds, in order: y yours, d the demo's, n not yet. */
export function marks({ html }: Shown): string {
  return [...html.matchAll(/<section class="(yours empty|yours|demo)"/g)]
    .map(([, kind]) => kind === "yours" ? "y" : kind === "demo" ? "d" : "n").join("");
}

/** The name, in a decision's markup, of the way on that is chosen. */
export function chosen(html: string): string | undefined {
  return /<li class="chosen"><b>([^<]*)<\/b>/.exec(html)?.[1];
}
