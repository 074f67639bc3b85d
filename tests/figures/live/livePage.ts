/** A page of live figures on disk, for a browser. */
import { liveFigure, liveFigures } from "../../../lib/figures/live/figures.ts";
import { live } from "../../../lib/figures/live/live.ts";

/** Every figure, and the first once more, with the runtime after them; an early script before them may stand for a notebook's order. */
export const everyFigure = [...liveFigures, liveFigure(liveFigures[0]?.name ?? "")].map((
  { name },
) => live(name));

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
