/** The cautions of the lessons, gathered from the notebooks themselves, so that no list of them can differ from what a page says. */
import type { StageCautions } from "../figures/prints/sheetsToWriteOn.ts";
import { cellTags, isCode, type Notebook } from "./notebook.ts";

/** Prose without its marks. */
function bare(markdown: string): string {
  return markdown.replace(/\[([^\]]*)\]\([^)]*\)/g, "$1").replace(/[*_`]+/g, "")
    .replace(/\s+/g, " ").trim();
}

/** Each bullet and each paragraph of a caution is a line of its own; the first bears what the caution is about. */
function linesOf(source: string): string[] {
  const lines: string[] = [];
  const about = /^#+ Caution: (.+)$/m.exec(source)?.[1]?.trim();
  let open = false;
  for (const line of source.split("\n")) {
    const text = line.replace(/^\s*(?:-|\d+\.)\s+/, "");
    if (line.trim() === "" || line.startsWith("#")) {
      open = false;
    } else if (text !== line || !open) {
      lines.push(text);
      open = true;
    } else lines[lines.length - 1] += ` ${text.trim()}`;
  }
  const [first, ...rest] = lines.map(bare).filter((line) => line !== "");
  if (first === undefined || about === undefined) {
    return first === undefined ? [] : [first, ...rest];
  }
  const said = bare(about);
  return [`${said.charAt(0).toUpperCase()}${said.slice(1)}: ${first}`, ...rest];
}

/**
 * What a notebook warns of, under its own title.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const cells = [
 *   { id: "a", cell_type: "markdown", metadata: {}, source: "# Polishing\n\nHow long?" },
 *   { id: "b", cell_type: "markdown", metadata: { tags: ["caution"] }, source: "### Caution: oxide\n\n- Keep it **wet**.\n- Rinse." },
 * ] as const;
 * const { stage, cautions } = cautionsOf({ nbformat: 4, nbformat_minor: 5, metadata: {}, cells });
 * assert.deepEqual([stage, cautions], ["Polishing", ["Oxide: Keep it wet.", "Rinse."]]);
 * ```
 */
export function cautionsOf({ cells }: Notebook): StageCautions {
  const title = /^# (.+)$/m.exec(cells[0]?.source ?? "")?.[1] ?? "";
  const cautions = cells.filter((cell) => !isCode(cell) && cellTags(cell).includes("caution"));
  return { stage: bare(title), cautions: cautions.flatMap(({ source }) => linesOf(source)) };
}
