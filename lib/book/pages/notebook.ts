/** The parts of a notebook file (nbformat 4.5) that a page is made from. */

/** Text in a notebook: one string, or its lines. */
export type Text = string | readonly string[];

/** What a cell left behind when it ran. */
export interface Output {
  readonly output_type: string;
  /** of a display or a result: one entry for each form it can be shown in */
  readonly data?: Readonly<Record<string, unknown>>;
  /** of a stream: "stdout" or "stderr" */
  readonly name?: string;
  readonly text?: Text;
  /** of an error */
  readonly ename?: string;
  readonly evalue?: string;
}

export interface Cell {
  readonly cell_type: string;
  readonly source: Text;
  readonly metadata?: { readonly tags?: readonly string[] };
  readonly outputs?: readonly Output[];
}

export interface Notebook {
  readonly cells: readonly Cell[];
}

/**
 * A notebook's text as one string, whichever way the file holds it.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(joined(["one\n", "two"]), "one\ntwo");
 * ```
 */
export function joined(text: unknown): string {
  if (Array.isArray(text)) return text.join("");
  return typeof text === "string" ? text : "";
}

/** Whether a cell bears a tag. */
export function hasTag(cell: Cell, tag: string): boolean {
  return cell.metadata?.tags?.includes(tag) ?? false;
}
