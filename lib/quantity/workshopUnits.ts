/** The workshop's units, for whichever mathjs there is. */
import type { MathJsInstance } from "mathjs";

/** A length in the workshop is also a thousandth of an inch or a millionth of a metre. */
export function withWorkshopUnits(math: MathJsInstance): MathJsInstance {
  math.createUnit({
    thou: { definition: "0.001 inch", aliases: ["thousandth", "thousandths"] },
    micron: { definition: "1 um", aliases: ["microns"] },
  });
  return math;
}
