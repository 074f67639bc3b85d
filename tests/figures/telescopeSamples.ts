/** Telescopes to be drawn in tests: five from small and slow to large and fast, and the figures of the story's own. */
import { baseView } from "../../lib/figures/drawings/baseView.ts";
import { collimationView } from "../../lib/figures/drawings/collimationView.ts";
import { seesaw } from "../../lib/figures/drawings/seesaw.ts";
import type { Shown } from "../../lib/figures/show.ts";
import {
  type SectionedTelescope,
  telescopeSection,
} from "../../lib/figures/drawings/telescopeSection.ts";
import { layOut } from "../../lib/telescope/layout.ts";

/** Aperture, focal length, tube, wall, focuser, margin, field wanted. */
const FIVE = [
  [76, 760, 95, 2, 50, 10, 5],
  [114, 798, 140, 3, 60, 15, 8],
  [150, 1200, 180, 3, 70, 15, 8],
  [200, 1200, 230, 5, 70, 15, 10],
  [300, 1350, 350, 8, 70, 15, 15],
] as const;
const FLATS = [19, 25, 31, 35, 40, 46, 50, 63, 70, 82];

/** The five, laid out with the flats to be had. */
export function fiveTelescopes(): SectionedTelescope[] {
  return FIVE.map(([aperture, focalLength, innerDiameter, wall, height, margin, fullyLit]) => {
    const bend = { innerDiameter, wall, height, margin };
    const plan = layOut({ aperture, focalLength, bend, fullyLit, flats: FLATS });
    return {
      ...{ aperture, focalLength, thickness: aperture / 6, focuserHeight: height },
      tube: { innerDiameter, wall, frontLength: innerDiameter },
      ...{ flatToFocus: plan.flatToFocus, flat: plan.flat },
      ...{ offset: plan.offset, fullyLit: plan.fullyLit },
    };
  });
}

export const PARTS = [
  { name: "mirror and cell", mass: 2100, at: 60 },
  { name: "tube", mass: 3200, at: 600 },
  { name: "flat and spider", mass: 350, at: 1095 },
  { name: "focuser and eyepiece", mass: 600, at: 1095 },
  { name: "finder and rings", mass: 400, at: 1000 },
];
export const SWAP = { mass: 300, at: 1095, pull: 1.578, friction: 1.075 };
export const BASE = {
  behind: 524,
  ahead: 720,
  focuser: 571,
  half: 93,
  pivotHeight: 600,
  bearing: 90,
  altitudes: [Math.PI / 2, Math.PI / 4, Math.PI / 9],
};

/** One of each, by name. */
export const telescopeFigures: Readonly<Record<string, Shown>> = {
  ...Object.fromEntries(
    fiveTelescopes().map((
      telescope,
    ) => [`section${telescope.aperture}`, telescopeSection(telescope)]),
  ),
  seesaw: seesaw(PARTS, SWAP),
  baseView: baseView(BASE),
  collimationView: collimationView(),
};
