/**
 * mathjs from its single-file bundle: 0.2 s to load where the package of many files takes 0.7 s.
 *
 * Only `units.ts` and `derivative.ts` import this.
 */
import type { MathJsInstance } from "mathjs";
import * as bundle from "mathjs-bundle";

/** The bundle has one default export, its types have none. */
export const mathjs = (bundle as unknown as { readonly default: MathJsInstance }).default;
