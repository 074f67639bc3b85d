// How deep a 150 mm f/8 is in the middle, and how well R is known when the depth is known to 0.01 mm
import { radiusSensitivity, sagitta } from "first-mirror/optics";

const depth = sagitta(148, 2400);
const { perDepth } = radiusSensitivity(depth, 148);
console.log(`depth ${depth.toFixed(4)} mm; R to ${Math.abs(perDepth * 0.01).toFixed(0)} mm`);
