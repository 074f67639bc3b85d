/** The stage of the sky: what the reader's eyepieces show, what is up, and whether to look or to wait. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { fieldsOfView } from "../figures/drawings/fieldsOfView.ts";
import { saturnSeen, type SaturnView } from "../figures/drawings/saturnSeen.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { safe } from "../figures/html.ts";
import { lines, Plot, plotDocument, styledPlot } from "../figures/plots/style.ts";
import { type Shown, together } from "../figures/show.ts";
import { AFTER_FIGURE } from "../knowledge/nextStepLater.ts";
import type { Mirror } from "../knowledge/open.ts";
import { isGapRecalled } from "../record/rows.ts";
import { decision, doubleStars } from "../record/tables.ts";
import { limitsOf, splitOf } from "../sky/limits.ts";
import type { Evening, MoonPlace, Place, Seen } from "../sky/tonight.ts";
import {
  type StarTest,
  starTest,
  type StarView,
  surfaceFromProfile,
} from "../testing/star/star.ts";
import { ownOrDemo, type Part, type Whose } from "./base.ts";

const fixed = (value: number, digits: number): string => value.toFixed(digits).replace("-", "−");

const eyepiecePart: Part = {
  name: "eyepieces",
  noun: "eyepiece",
  count: ({ summary }) => summary.telescope?.eyepieces?.length ?? 0,
  show: ({ record, summary }) => {
    const given = record.settings.telescope?.eyepieces ?? [];
    const [low, high] = limitsOf(record.settings.aperture).magnification;
    return [
      readingsTable(
        "Eyepieces",
        [
          { title: "Eyepiece", unit: "mm" },
          { title: "Magnifies" },
          { title: "Exit pupil", unit: "mm" },
          { title: "Field", unit: "°" },
          { title: "A dioptre", unit: "mm" },
        ],
        (summary.telescope?.eyepieces ?? []).map((eyepiece, i) => ({
          cells: [
            String(given[i]?.focalLength ?? ""),
            eyepiece.magnification.toFixed(0),
            eyepiece.exitPupil.value.toFixed(1),
            eyepiece.trueField.value.toFixed(2),
            eyepiece.drawtubePerDioptre.value.toFixed(2),
          ],
        })),
      ),
      note(
        `Useful with this mirror: ${low.toFixed(0)} to ${
          high.toFixed(0)
        } times. Field from the apparent field: a few per cent rough.`,
      ),
    ];
  },
  how:
    "Read the focal length and the apparent field off each eyepiece, and write them into mirror.yaml under telescope: eyepieces.",
};

/** The reader's eyepieces on the reader's mirror. */
export function yourEyepieces(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(eyepiecePart, yours, demo);
}

/** What fits into each of the reader's eyepieces on an evening: the Moon, and Jupiter with its moons; else into the demo's. */
export function yourFields(
  yours: Mirror,
  demo: Mirror,
  { moon, planets }: Evening,
  moons: readonly MoonPlace[],
): Shown {
  const part: Part = {
    ...eyepiecePart,
    name: "fields of view",
    show: ({ record, summary }) => {
      const given = record.settings.telescope?.eyepieces ?? [];
      const jupiter = planets.find(({ name }) => name === "Jupiter");
      const fields = (summary.telescope?.eyepieces ?? []).map((eyepiece, i) => ({
        focalLength: given[i]?.focalLength ?? NaN,
        magnification: eyepiece.magnification,
        fieldArcsec: 3600 * eyepiece.trueField.value,
      }));
      return [fieldsOfView({
        ...{ fields, moons, moonArcsec: moon.diameterArcsec },
        jupiterArcsec: jupiter?.diameterArcsec ?? 40,
      })];
    },
  };
  return ownOrDemo(part, yours, demo);
}

/** The planet as it stands: sizes in arcseconds, how far the rings are open in rad. */
export type Saturn = Pick<SaturnView, "ringsArcsec" | "globeArcsec" | "ringTilt">;

/** The mirror's own wavefront, waves at (r/a)^2, from the latest zone profile; `undefined` where there is none. */
function wavefrontOf({ record, summary }: Mirror): ((q: number) => number) | undefined {
  const zones = summary.figure?.zones, profile = zones?.profile;
  if (profile === undefined || profile.length < 2) return undefined;
  const surface = surfaceFromProfile(
    profile.map(({ radius, surfaceError: surfaceError }) => ({ radius, surfaceError })),
  );
  const half = (zones?.judgedAperture?.value ?? record.settings.aperture) / 2;
  // the picture asks for it a million times: looked up once at even steps of the radius
  const steps = 200,
    waves = Float64Array.from(
      { length: steps + 2 },
      (_, i) =>
        (2 * surface((half * Math.min(i, steps)) / steps)) / record.settings.goal.wavelength,
    );
  return (q) => {
    const at = steps * Math.sqrt(Math.min(1, q)), i = Math.floor(at), low = waves[i] as number;
    return low + (at - i) * ((waves[i + 1] as number) - low);
  };
}

/**
 * Saturn through the reader's own mirror: the wavefront of the zone test, the flat, the eyepieces; else through the demo's.
 *
 * @param saturn        sizes and tilt
 * @param seeingArcsec  widths of the air's blur, 0 or more, one row each
 */
export function yourSaturn(
  yours: Mirror,
  demo: Mirror,
  saturn: Saturn,
  seeingArcsec: readonly number[],
): Shown {
  const part: Part = {
    name: "Saturn",
    noun: "picture",
    count: (mirror) => wavefrontOf(mirror) === undefined ? 0 : 1,
    show: (mirror) => {
      const { record, summary } = mirror, waves = wavefrontOf(mirror), t = summary.telescope;
      if (waves === undefined) return [];
      const own = t?.eyepieces?.map(({ magnification }) => magnification) ?? [];
      return [saturnSeen({
        ...saturn,
        seeingArcsec,
        waves,
        aperture: summary.figure?.zones?.judgedAperture?.value ?? record.settings.aperture,
        wavelength: record.settings.goal.wavelength,
        obstruction: t?.obstructionByDiameter ?? 0,
        magnifications: own.length > 0 ? own : [48, 120, 200],
        mirror: "this mirror as its zones say",
      })];
    },
    how: "It needs the profile of the zone test: openings and readings in zones.csv.",
  };
  return ownOrDemo(part, yours, demo);
}

/** The reader's place, or the demo's where none is written; the pages say which. */
export function placeOf(yours: Mirror, demo: Mirror): { place: Place; zone: string; told: string } {
  const own = yours.record.settings.site, site = own ?? demo.record.settings.site;
  const { latitude = 0, longitude: turned = 0, timeZone = "UTC" } = site ?? {};
  const longitude = turned > Math.PI ? turned - 2 * Math.PI : turned; // 270 degrees east is 90 west
  const north = (latitude * 180) / Math.PI, east = (longitude * 180) / Math.PI;
  const where = `${Math.abs(north).toFixed(1)}° ${north < 0 ? "south" : "north"}, ${
    Math.abs(east).toFixed(1)
  }° ${east < 0 ? "west" : "east"}`;
  return {
    place: { latitude, longitude },
    zone: timeZone,
    told: own === undefined
      ? `no site in mirror.yaml: the demo’s, ${where}`
      : `your site, ${where}`,
  };
}

function clock(moment: Date | undefined, zone: string): string {
  if (moment === undefined) return "not within a day";
  return new Intl.DateTimeFormat("en-GB", { timeZone: zone, hour: "2-digit", minute: "2-digit" })
    .format(moment);
}

const WINDS = [
  "north",
  "north-east",
  "east",
  "south-east",
  "south",
  "south-west",
  "west",
  "north-west",
];

function where(
  { altitude, azimuth, refused }: Pick<Seen, "altitude" | "azimuth" | "refused">,
): string {
  if (altitude < 0) return "below the horizon";
  if (refused !== undefined) return `refused: ${refused}`;
  const wind = WINDS[Math.round((azimuth / (2 * Math.PI)) * 8) % 8] ?? "";
  return `${((altitude * 180) / Math.PI).toFixed(0)}° up, ${wind}`;
}

/**
 * What is up at a moment, with sizes at an eyepiece.
 *
 * @param evening        from `tonight`
 * @param magnification  of the eyepiece, above 0
 * @param zone           of the place, as "Europe/Ljubljana"
 * @throws {RangeError} where the magnification is not above 0
 */
export function upTonight(evening: Evening, magnification: number, zone: string): Shown {
  if (!(magnification > 0)) {
    throw new RangeError(`upTonight requires a magnification above 0, got ${magnification}`);
  }
  const { moon, sunset, darkFrom, planets, moment, sunUp } = evening;
  const apparent = (arcsec: number): string => fixed((arcsec * magnification) / 3600, 1);
  const rows = planets.map((planet) => ({
    cells: [
      planet.name,
      fixed(planet.magnitude, 1),
      fixed(planet.ringsArcsec ?? planet.diameterArcsec, 1),
      apparent(planet.ringsArcsec ?? planet.diameterArcsec),
      where(planet),
    ],
  }));
  const date = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    dateStyle: "long",
    timeStyle: "short",
  }).format(moment);
  const by = `${date}, ${zone}.`;
  return together(
    ...(sunUp ? [note(`${by} The Sun is up: nothing is a target now. Keep the tube capped.`)] : []),
    readingsTable("Planets", [
      { title: "Planet", text: true },
      { title: "Magnitude" },
      { title: "Wide", unit: "″" },
      { title: `At ${magnification.toFixed(0)}×`, unit: "°" },
      { title: "Where", text: true },
    ], rows),
    note(
      `${by} Sunset ${clock(sunset, zone)}, dark from ${clock(darkFrom, zone)}. The Moon ${
        (100 * moon.lit).toFixed(0)
      } % lit, ${moon.waxing ? "waxing" : "waning"}, ${
        where(moon)
      }. Saturn’s width is that of its rings.`,
    ),
  );
}

/** Pairs of stars, from wide to close, and what the reader's mirror makes of each; what nobody looked up is said beneath. */
export function doublesFor({ record }: Mirror): Shown {
  const pairs = doubleStars();
  const bright = pairs.filter(({ source }) => /(rest|magnitudes) from memory$/.test(source));
  const apart = pairs.filter(({ name }) => isGapRecalled(name));
  return together(
    readingsTable(
      "Double stars",
      [
        { title: "Pair", text: true },
        { title: "Magnitudes" },
        { title: "Apart", unit: "″" },
        { title: "Power" },
        { title: "This mirror", text: true },
      ],
      pairs.map((pair) => {
        const { says, magnification } = splitOf(record.settings.aperture, pair);
        return {
          cells: [
            pair.name,
            `${fixed(pair.brighterMagnitude, 1)}, ${fixed(pair.fainterMagnitude, 1)}`,
            fixed(pair.separationArcsec, 1),
            says === "not with this mirror" ? "–" : `${magnification.toFixed(0)}×`,
            says,
          ],
        };
      }),
    ),
    ...(bright.length + apart.length === 0 ? [] : [note(
      `Written from memory, not looked up: the magnitudes of ${bright.length} of these ${pairs.length} pairs, good to 0.3, and how far apart ${apart.length} of them are, good to a twentieth.`,
    )]),
  );
}

/** Jupiter's moons from east to west, in the planet's radii from its middle. */
export function moonsBesideJupiter(moons: readonly MoonPlace[]): Shown {
  const order = [...moons].sort((a, b) => b.eastArcsec - a.eastArcsec);
  return readingsTable(
    "Jupiter’s moons, from east to west",
    [{ title: "Moon", text: true }, { title: "From Jupiter’s middle", unit: "radii" }, {
      title: "Where",
      text: true,
    }],
    order.map(({ name, radii, eastArcsec, seen }) => ({
      cells: [name, fixed(radii, 1), seen === "beside" ? eastArcsec > 0 ? "east" : "west" : seen],
    })),
  );
}

/** Look, align again, or wait: what the star on both sides of the focus says. */
export function decideSky({ summary }: Mirror): Shown {
  const cool = summary.telescope?.coolDown?.value;
  const wait = cool === undefined ? "an hour and a half" : `${cool.toFixed(0)} min`;
  const ready = AFTER_FIGURE.includes(summary.nextStep.stage);
  return decide({
    title: ready ? "look" : "not yet your own",
    do: ready
      ? "When tube and air agree and the rings are round on both sides of the focus: look, draw, and print your mirror’s page."
      : "Plan the evening; your own first light comes after the verdict and the coating.",
    choices: [
      {
        name: "Look",
        when: `with the tube within ${
          decision("tube_air_difference_most")
        } °C of the air and the star’s rings round on both sides.`,
        chosen: ready,
      },
      { name: "Align again", when: "when the rings are lopsided, the same way on both sides." },
      {
        name: "Wait",
        when: `when it boils: one cool-down time in still air is ${wait}; then a lower power.`,
        chosen: !ready,
      },
    ],
    after: `While the Sun is up nothing is a target; nothing within ${
      decision("sun_distance_least")
    }° of the Sun ever is.`,
  });
}

// The star test foretold: what a star should look like on both sides of the focus, for the glass as measured.

const WAVES = 5;

/** What each mirror's star came to. */
const stars = new WeakMap<Mirror, StarTest | "none">();

/** The star by the latest zone profile, behind the reader's own flat; `undefined` where no profile is known. */
function starOf(mirror: Mirror): StarTest | undefined {
  const known = stars.get(mirror) ?? starAnew(mirror) ?? "none";
  stars.set(mirror, known);
  return known === "none" ? undefined : known;
}

function starAnew({ record, summary }: Mirror): StarTest | undefined {
  const zones = summary.figure?.zones, profile = zones?.profile;
  const clear = zones?.judgedAperture?.value ?? record.settings.aperture;
  if (profile === undefined || profile.length < 2) return undefined;
  return starTest({
    surface: surfaceFromProfile(
      profile.map(({ radius, surfaceError: surfaceError }) => ({ radius, surfaceError })),
    ),
    half: clear / 2,
    focalLength: summary.telescope?.focalLength.value ?? record.settings.focalLength,
    obstruction: summary.telescope?.obstructionByDiameter ?? 0,
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
      styledPlot({
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
