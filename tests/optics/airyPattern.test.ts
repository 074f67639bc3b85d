import { AIRY_DARK_RINGS } from "../../lib/optics/airy.ts";
import { airyEncircled, airyIntensity } from "./airyPattern.ts";
import { close } from "./close.ts";

Deno.test("light inside the dark rings", () => {
  // CROSS-CHECK secondRoute.py, light inside: 1 - J0^2 - J1^2, printed to 1e-8
  const printed = [0.83778487, 0.90993054, 0.93764747];
  AIRY_DARK_RINGS.forEach((ring, i) => close(airyEncircled(ring), printed[i] ?? 0, 6e-9));
});

Deno.test("bright rings and half width", () => {
  // CROSS-CHECK secondRoute.py, bright rings: found as maxima, printed to 1e-8
  close(airyIntensity(1.63471935), 0.01749786, 6e-9);
  close(airyIntensity(2.67929202), 0.004158, 6e-9);
  close(airyIntensity(1.02899397 / 2), 0.5, 1e-8);
});

Deno.test("with an obstruction: dark at its first ring, and the light inside it", () => {
  // CROSS-CHECK secondRoute.py, annular rings: annular pupil, printed to 1e-6
  const rows = [
    [0, 1.21967, 0.837785],
    [0.1, 1.20506, 0.818419],
    [0.15, 1.188132, 0.795046],
    [0.2, 1.166507, 0.763763],
    [0.25, 1.141567, 0.725773],
    [0.3, 1.114518, 0.682368],
    [0.35, 1.086314, 0.634825],
    [0.4, 1.057666, 0.584336],
  ];
  for (const [eps = 0, ring = 0, inside = 0] of rows) {
    close(airyIntensity(ring, eps), 0, 1e-12);
    close(airyEncircled(ring, eps), inside, 1e-6);
  }
});
