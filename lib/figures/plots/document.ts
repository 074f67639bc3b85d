/** The document figures are drawn in: the browser's own, or one in memory where there is no browser. */
import { parseHTML } from "linkedom";

/** As much of a document as Plot needs to draw. */
export interface DrawingDocument {
  createElement(name: string): unknown;
  createElementNS(namespace: string, name: string): unknown;
}

let inMemory: DrawingDocument | undefined;

/**
 * A document that Plot can draw in.
 *
 * @returns the browser's document; elsewhere one from linkedom, the same at every call
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(typeof plotDocument().createElement, "function");
 * ```
 */
export function plotDocument(): DrawingDocument {
  const here = (globalThis as { document?: DrawingDocument }).document;
  if (here !== undefined) return here;
  inMemory ??= (parseHTML("<html><body></body></html>") as unknown as {
    document: DrawingDocument;
  }).document;
  return inMemory;
}
