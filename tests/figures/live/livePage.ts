/** A page of live figures on disk, for a browser. */
import { liveFigure, liveFigures } from "../../../lib/figures/live/figures.ts";
import { live } from "../../../lib/figures/live/live.ts";

/** Twenty figures or more, each kind at least once, with the runtime after them; an early script before them may stand for a notebook's order. */
export const twenty = Array.from(
  { length: Math.max(20, liveFigures.length) },
  (_, i) => live((liveFigures[i % liveFigures.length] ?? liveFigure("")).name),
);

/** Writes a page, and takes it away after use. */
export async function withPage(html: string, use: (file: string) => Promise<void>): Promise<void> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-live-" });
  try {
    await Deno.writeTextFile(`${folder}/live.html`, html);
    await use(`${folder}/live.html`);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
}
