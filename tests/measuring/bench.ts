import type { Bench } from "../../lib/measuring/gauges.ts";

/** The gauges of the workshop in the story, on a 150 mm f/8. */
export const KESTREL: Bench = {
  aperture: 150,
  bevel: 1,
  focalLength: 1200,
  gauges: {
    leaves: { width: 12.7, tolerance: 0.005 },
    spherometer: { legRadius: 50, ballRadius: 3, legRadiusU: 0.05, ballRadiusU: 0.01 },
    dialStep: 0.001,
    depthGaugeStep: 0.01,
    rulerStep: 1,
    chordU: 0.15,
  },
};
