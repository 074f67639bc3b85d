/**
 * mathjs from its single-file bundle, evaluated when a unit or a formula is first met, which most who import this
 * library never do; the package of many files takes 3 times as long. A page has the parts that are used here (`living/mathjs.ts`).
 *
 * Only `units.ts` and `derivative.ts` import this.
 */
import type { MathJsInstance } from "mathjs";
import defer * as bundle from "mathjs-bundle";
import { withWorkshopUnits } from "./workshopUnits.ts";

let ready: MathJsInstance | undefined;

/** The one instance, with the workshop's units. */
export function mathjs(): MathJsInstance {
  // the bundle has one default export, its types have none
  ready ??= withWorkshopUnits((bundle as unknown as { readonly default: MathJsInstance }).default);
  return ready;
}
