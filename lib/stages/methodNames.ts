/** What the ways of measuring the curve are called on a page. */
import type { Method } from "../knowledge/summaryTypes.ts";

export const METHOD_NAMES: Readonly<Record<Method, string>> = {
  "leaves": "Leaves",
  "depth gauge": "Depth gauge",
  "spherometer": "Spherometer",
  "sun distance": "Sun, distance",
  "sun image": "Sun, width",
};
