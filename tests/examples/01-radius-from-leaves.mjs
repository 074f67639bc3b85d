// A radius with its uncertainty from feeler leaves under a straight-edge
import { leaves } from "first-mirror/measuring";
import { formatMeasured } from "first-mirror/quantity";

const bar = { width: 12.7, tolerance: 0.005 };
const gauges = { leaves: bar, dialStep: 0.001, depthGaugeStep: 0.01, rulerStep: 1, chordU: 0.15 };
const bench = { aperture: 150, bevel: 1, focalLength: 1200, gauges };
const { radius } = leaves([{ go: [0.88, 0.25], nogo: [0.85, 0.3] }], bench);
console.log(`R = ${formatMeasured(radius)}`);
