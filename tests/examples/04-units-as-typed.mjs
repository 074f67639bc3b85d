// Quantities as people write them
import { convert, formatMeasured, measured, quantity } from "first-mirror/quantity";

const { value, unit } = quantity("6 inch", "mm");
console.log(`${value} ${unit}, ${convert(45, "thou", "um")} um`);
console.log(formatMeasured(measured(2398.66, 13.94, "mm")));
