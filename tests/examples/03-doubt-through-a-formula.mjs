// The doubt of any formula, and which reading it comes from
import { formatMeasured, measured, propagate } from "first-mirror/quantity";

const inputs = { r: measured(74, 0.25, "mm"), s: measured(1.141, 0.004, "mm") };
const radius = propagate(({ r, s }) => (r * r) / (2 * s) + s / 2, inputs, { unit: "mm" });
for (const { source, share } of radius.budget) {
  console.log(`${source}: ${(100 * share).toFixed(0)} %`);
}
console.log(formatMeasured(radius));
