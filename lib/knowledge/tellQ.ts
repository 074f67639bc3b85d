/** A quantity of the summary in print. */
import { formatMeasured } from "../quantity/format.ts";
import type { Q } from "./summaryTypes.ts";

/** A quantity as printed: rounded by its uncertainty where it has one. */
export function tellQ(quantity: Q, digits = 1): string {
  const { value, u, unit, dof = Infinity } = quantity;
  if (u !== undefined) return formatMeasured({ value, u, unit, dof });
  const plain = String(Number(value.toFixed(digits))).replace("-", "−");
  return unit === "" ? plain : `${plain} ${unit}`;
}
