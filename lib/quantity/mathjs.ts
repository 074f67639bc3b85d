/**
 * mathjs from its single-file bundle, evaluated when a unit or a formula is first met: it takes 0.2 s, which most who import
 * this library never need (the package of many files takes 0.7 s).
 *
 * Only `units.ts` and `derivative.ts` import this.
 */
import type { MathJsInstance } from "mathjs";
import defer * as bundle from "mathjs-bundle";

let ready: MathJsInstance | undefined;

/** The one instance, with the workshop's units. */
export function mathjs(): MathJsInstance {
  ready ??= withWorkshopUnits();
  return ready;
}

/** A length in the workshop is also a thousandth of an inch or a millionth of a metre. */
function withWorkshopUnits(): MathJsInstance {
  // the bundle has one default export, its types have none
  const math = (bundle as unknown as { readonly default: MathJsInstance }).default;
  math.createUnit({
    thou: { definition: "0.001 inch", aliases: ["thousandth", "thousandths"] },
    micron: { definition: "1 um", aliases: ["microns"] },
  });
  return math;
}
