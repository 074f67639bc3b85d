/** The star test foretold: what a star should look like on both sides of the focus, for the glass as measured. */
import { facts, note } from "../figures/blocks.ts";
import { plotDocument } from "../figures/plots/document.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { housePlot, lines, Plot } from "../figures/plots/house.ts";
import { safe } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import {
  type StarTest,
  starTest,
  type StarView,
  surfaceFromProfile,
} from "../testing/star/star.ts";
import { ownOrDemo, type Part, type Whose } from "./whose.ts";

const WAVES = 5;

/** The star by the latest zone profile, behind the reader's own flat; `undefined` where no profile is known. */
function starOf({ record, summary }: Mirror): StarTest | undefined {
  const zones = summary.figure?.zones, profile = zones?.profile;
  const clear = zones?.judged_aperture?.value ?? record.settings.aperture;
  if (profile === undefined || profile.length < 2) return undefined;
  return starTest({
    surface: surfaceFromProfile(
      profile.map(({ radius, surface_error: surfaceError }) => ({ radius, surfaceError })),
    ),
    half: clear / 2,
    focalLength: summary.telescope?.focal_length.value ?? record.settings.focalLength,
    obstruction: summary.telescope?.obstruction_by_diameter ?? 0,
    defocusWaves: WAVES,
    wavelength: record.settings.goal.wavelength,
  });
}

interface At {
  readonly at: number;
  readonly light: number;
}

function pointsOf(view: StarView, most: number): At[] {
  return Array.from(view.distances, (at, i) => ({ at, light: (view.brightness[i] ?? 0) / most }));
}

function starFigure({ inside, outside, unlike }: StarTest, whose: Whose): Shown {
  const most = Math.max(...inside.brightness, ...outside.brightness);
  const far = inside.distances.at(-1) ?? 1;
  const finding =
    `Brightness of a star ${WAVES} waves inside and outside the focus, from its middle outwards: the two sides differ by ${
      (100 * unlike).toFixed(0)
    } per cent RMS.`;
  return figure({
    finding,
    caption:
      safe`<b>The more alike the two lines, the better the mirror.</b> Full line: eyepiece too far out. Dashed: too far in. Foretold from the zone readings, in still air.`,
    draw: (width) =>
      housePlot({
        width,
        height: isNarrow(width) ? 230 : 270,
        finding,
        x: { title: "Distance from the middle (wavelength × focal ratio)", domain: [0, far] },
        y: { title: "Brightness, of the brightest ring", domain: [0, 1.05] },
        marks: [
          Plot.line(pointsOf(inside, most), {
            x: "at",
            y: "light",
            stroke: "currentColor",
            strokeWidth: 1.5,
            strokeDasharray: "6 4",
          }),
          Plot.line(pointsOf(outside, most), { x: "at", y: "light", ...lines[whose] }),
        ],
      }, plotDocument()),
  });
}

const starPart: Part = {
  name: "star test, foretold",
  noun: "profile",
  count: (mirror) => starOf(mirror) === undefined ? 0 : 1,
  show: (mirror, whose) => {
    const found = starOf(mirror);
    if (found === undefined) return [];
    return [
      starFigure(found, whose),
      facts([
        ["Eyepiece moved, each way", `${(WAVES * found.travelPerWave).toFixed(1)}\u2009mm`],
        ["The two sides differ by", `${(100 * found.unlike).toFixed(0)}\u2009%`],
      ]),
      note("A perfect mirror: 0 %. Warm air and pinched glass add what no zone test foretells."),
    ];
  },
  how: "It needs the profile of the zone test: openings and readings in zones.csv.",
};

/** The star a little inside and outside the focus, from the reader's own zone readings, else the demo's. */
export function yourStar(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(starPart, yours, demo);
}
