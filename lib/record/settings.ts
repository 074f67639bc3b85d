/** mirror.yaml: its keys, what is taken as usual where one is not written, and what makes a mirror impossible. */
import { isScalar, isSeq } from "yaml";
import { mm } from "../quantity/format.ts";
import { type Findings, type Place, shown } from "./errors.ts";
import { nearest, suggestion } from "./nearest.ts";
import { glasses } from "./tables.ts";
import {
  choice,
  type Context,
  lineOf,
  list,
  measure,
  number,
  type Reader,
  readYaml,
  scalar,
  section,
  sourceOf,
  words,
} from "./yaml.ts";

/** The `telescope:` part of mirror.yaml; lengths mm, angles rad, each part absent where it is not written. */
export interface Telescope {
  /** inner diameter, thickness of the wall, and from the flat's centre to the front end */
  readonly tube?: {
    readonly innerDiameter: number;
    readonly wall: number;
    readonly frontLength?: number;
  };
  /** height racked in, spare travel inward, and its place from the tube's rear end */
  readonly focuser?: { readonly height: number; readonly margin: number; readonly at?: number };
  /** width of the field wanted without any loss */
  readonly fullyLitField?: number;
  /** minor axes to be had */
  readonly flats?: readonly number[];
  /** width of the eyepiece's field stop */
  readonly fieldStop?: number;
  /** focal length, and width of the field as the eye sees it */
  readonly eyepieces?: readonly { readonly focalLength: number; readonly apparentField: number }[];
  /** pitch, circle and places of the three screws; where the image stands now, x and y in the focal plane */
  readonly screws?: {
    readonly pitch: number;
    readonly radius: number;
    readonly angles: readonly number[];
    readonly imageAt: readonly [number, number];
  };
  /** mass in g, `at` in mm from the tube's rear end */
  readonly parts?: readonly { readonly name: string; readonly mass: number; readonly at: number }[];
  /** round side's radius, friction of its pads, how far they sit from straight below, and the tube's altitude */
  readonly bearing?: {
    readonly radius: number;
    readonly friction: number;
    readonly padHalfAngle: number;
    readonly altitude: number;
  };
  /** mass added at the focuser, g */
  readonly swap?: number;
}

/** mirror.yaml with every default filled in; lengths mm, angles rad, masses g. */
export interface Settings {
  /** as the maker calls the mirror */
  readonly title: string;
  /** diameter of the disc */
  readonly aperture: number;
  /** planned */
  readonly focalLength: number;
  /** 0 where it was not written */
  readonly bevel: number;
  /** the widest that an unwritten bevel may be, each width from 0 on as likely; absent where it was written */
  readonly unknownBevel?: number;
  /** name in data/tables/glasses.csv */
  readonly glass: string;
  /** of the disc */
  readonly thickness: number;
  /** what the mirror is to be */
  readonly goal: {
    /** peak to valley on the glass, in waves */
    readonly surfaceWaves: number;
    /** nm */
    readonly wavelength: number;
    readonly shape: "sphere" | "paraboloid" | "auto";
    /** what a yes must be of before the mirror is sent out */
    readonly scope: "whole surface" | "one diameter";
  };
  /** what the maker has looked at again and lets stand; absent where nothing was */
  readonly checked?: readonly Checked[];
  /** what the curve is measured with, and how finely it can be read */
  readonly gauges: {
    readonly leaves: { readonly width: number; readonly tolerance: number };
    readonly spherometer?: {
      readonly legRadius: number;
      readonly ballRadius: number;
      readonly legRadiusU: number;
      readonly ballRadiusU: number;
    };
    readonly dialStep: number;
    readonly depthGaugeStep: number;
    readonly rulerStep: number;
    readonly chordU: number;
  };
  /** how knife, lamp and openings work */
  readonly tester: {
    readonly source: "moves with knife" | "fixed";
    readonly openings: "bands" | "sectors";
    readonly ronchi: "same grating" | "slit beside" | "fixed";
    /** how far the mirror may have moved along the axis when it was put back, mm either way; absent means 0.1 */
    readonly seating?: number;
  };
  /** openings of the mask from the centre outward, edges in mm */
  readonly mask?: readonly { readonly inner: number; readonly outer: number }[];
  /** how lengths are told; absent means mm */
  readonly shownIn?: "mm" | "inch";
  /** strokes a minute where the log does not count them */
  readonly strokeRate?: number;
  /** absent where nothing of it is written */
  readonly telescope?: Telescope;
  /** angles in rad, east and north positive */
  readonly site?: {
    readonly latitude: number;
    readonly longitude: number;
    readonly timeZone: string;
  };
}

/** Nothing on a bench is longer than this, mm: 100 m. */
const LONGEST = 100_000;

const length = (least = 0, most = LONGEST): Reader<number> => measure("length", least, most);

/** A focal length, or `f/6`: so many times the aperture, which only the whole page knows. */
const focalLength: Reader<number | { readonly ratio: number }> = (node, context) => {
  const ratio = /^f\s*\/?\s*(\d{1,2}(?:\.\d+)?)$/i.exec(sourceOf(node).trim())?.[1];
  if (ratio === undefined) return length(10)(node, context);
  if (Number(ratio) >= 1 && Number(ratio) <= 40) return { ratio: Number(ratio) };
  const mend = "no mirror has this ratio; write the focal length, such as 1200 mm";
  context.findings.refuse(context.place, shown(sourceOf(node)), "f/1 to f/40", mend);
  return undefined;
};

const glass = scalar((text, { findings, place }) => {
  const names = glasses().map(({ name }) => name);
  const plain = (name: string): string => name.toLowerCase().replace(/[\s-]+/g, "");
  const found = glasses().find(({ name, typedAs }) =>
    [name, ...typedAs].some((one) => plain(one) === plain(text))
  )?.name;
  if (found === undefined) {
    findings.refuse(
      place,
      shown(text),
      "a row of data/tables/glasses.csv",
      suggestion(text, names),
    );
  }
  return found;
});

/** Names in use that the engine's own list keeps under an older one. */
const NEWER_ZONES = ["UTC", "Asia/Kolkata", "Asia/Kathmandu", "Asia/Yangon", "Europe/Kyiv"];

const timeZone = scalar((text, { findings, place }) => {
  try {
    new Intl.DateTimeFormat("en", { timeZone: text });
    return text;
  } catch {
    const [near] = nearest(text, [...NEWER_ZONES, ...Intl.supportedValuesOf("timeZone")], 1);
    const mend = near === undefined ? "write it like Europe/Ljubljana" : `did you mean ${near}?`;
    findings.refuse(place, shown(text), "a time zone", mend);
    return undefined;
  }
});

/** Seen on the face, mm: what hands make, where nobody wrote it. COMMON PRACTICE */
const WIDEST_BEVEL = 1.5;

const ANGLE = Math.PI / 180;

const NO_MAP = "this place is on no map";

/** A goal or a wavelength beyond these is refused; beyond `LIKELY` the record is checked first. */
const POSSIBLE = { waves: [1 / 100, 4], nm: [300, 1100] } as const;

/** Peak to valley on the glass in waves, and nm of light, within which a goal is usual. COMMON PRACTICE */
export const LIKELY = { waves: [1 / 20, 1], nm: [380, 780] } as const;

/** `1/8 wave`, `0.125 waves`, `lambda/8`: a share of the wavelength. */
const waves = scalar((text, { findings, place }) => {
  const plain = text.toLowerCase().replace(/\s+/g, "").replace(/waves?$/, "lambda").replace(
    "λ",
    "lambda",
  );
  const share = /^(\d*\.?\d+)(?:\/(\d*\.?\d+))?lambda$/.exec(plain) ??
    /^lambda\/(\d*\.?\d+)$/.exec(plain);
  if (share === null) {
    const comma = /^(\d+),(\d+)lambda$/.exec(plain);
    const bare = /^[\d./]+$/.test(plain)
      ? `write ${text} wave, if that is meant`
      : comma !== null
      ? `write ${comma[1]}.${comma[2]} wave, with a decimal point`
      : "write it like 1/8 wave";
    findings.refuse(place, shown(text), "a part of a wave on the glass, peak to valley", bare);
    return undefined;
  }
  const value = plain.startsWith("lambda")
    ? 1 / Number(share[1])
    : Number(share[1]) / Number(share[2] ?? 1);
  const [least, most] = POSSIBLE.waves;
  if (value >= least * (1 - 1e-9) && value <= most) return value;
  const mend = "no maker's goal is that; look at the digits, 1/8 wave is usual";
  findings.refuse(place, shown(text), "1/100 to 4 waves", mend);
  return undefined;
});

const wavelength: Reader<number> = (node, context) => {
  const mm = measure("length", 1e-9, 1)(node, context), [least, most] = POSSIBLE.nm;
  if (mm === undefined) return undefined;
  const nm = Number((mm * 1e6).toPrecision(12));
  if (nm >= least && nm <= most) return mm;
  const mend = "no test is done in that light; look at the digits, 550 nm is usual";
  context.findings.refuse(
    context.place,
    `${Number(nm.toPrecision(6))} nm`,
    `${least} to ${most} nm`,
    mend,
  );
  return undefined;
};

/** The keys of `goal`. */
export const goal = section({
  surface: waves,
  wavelength,
  shape: choice("sphere", "paraboloid", "auto"),
  scope: choice("whole surface", "one diameter"),
});

/** What a maker may have looked at again; a slip of that kind then no longer holds up the next step. */
export const CHECKED = [
  "goal",
  "lamp",
  "scale",
  "units",
  "runs",
  "photographs",
  "curve",
] as const;
/** What may be looked at again and then stand. */
export type Checked = typeof CHECKED[number];

/** `checked: [goal, lamp]`. */
export const checked = list(choice(...CHECKED), 0, CHECKED.length);

type Mask = NonNullable<Settings["mask"]>;

/** Openings in a mask, at least and at most. */
const [FEWEST_OPENINGS, MOST_OPENINGS] = [2, 60];

const EDGE_LENGTH = length();

/** An edge; nothing is nothing in any unit. */
const edge: Reader<number> = (node, context) =>
  isScalar(node) && sourceOf(node).trim() === "0" ? 0 : EDGE_LENGTH(node, context);

const pair = list(edge, 2, 2, "give the inner edge and the outer one");
const edges = list(
  edge,
  FEWEST_OPENINGS + 1,
  MOST_OPENINGS + 1,
  "a mask has two openings or more, side by side",
);
const pairs = list(pair, FEWEST_OPENINGS, MOST_OPENINGS, "a mask has two openings or more");

/**
 * Reads `[0 mm, 30 mm, 45 mm]` or `[[5 mm, 25 mm], [30 mm, 42 mm]]`; refuses edges out of order and openings that overlap.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * import { readYaml } from "./yaml.ts";
 * const read = readYaml("[0 mm, 30 mm, 45 mm]", "m.yaml", mask, new Findings());
 * assert.deepEqual(read?.value, [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }]);
 * ```
 */
export const mask: Reader<Mask> = (node, context) => {
  const { findings, lines, place } = context, before = findings.count;
  const items = isSeq(node) ? node.items : [];
  const openings = items.some((item) => isSeq(item))
    ? pairs(node, context)?.map(([inner = 0, outer = 0]) => ({ inner, outer }))
    : adjoining(edges(node, context));
  if (openings === undefined || findings.count > before) return undefined;
  const isPaired = isSeq(items[0]);
  openings.forEach(({ inner, outer }, index) => {
    const at = isPaired ? index : index + 1;
    const where = {
      ...place,
      line: lineOf(items[at], lines),
      column: `${place.column}[${at + 1}]`,
    };
    const last = openings[index - 1]?.outer ?? 0;
    if (outer <= inner) refuseOrder(where, outer, inner, findings);
    else if (inner < last) {
      const wanted = `an inner edge at or beyond ${mm(last)}, where the opening before it ends`;
      findings.refuse(where, mm(inner), wanted, "openings of one mask do not overlap; mend one");
    }
  });
  return findings.count > before ? undefined : openings;
};

function adjoining(edges: readonly number[] | undefined): Mask | undefined {
  return edges?.slice(1).map((outer, index) => ({ inner: edges[index] ?? 0, outer }));
}

function refuseOrder(where: Place, outer: number, inner: number, findings: Findings): void {
  const wanted = `more than the edge before it, ${mm(inner)}`;
  findings.refuse(where, mm(outer), wanted, "give the edges from the centre outward");
}

/** Refuses a mask that reaches beyond the disc. */
export function refuseBeyond(
  openings: Mask,
  aperture: number,
  place: Place,
  findings: Findings,
): void {
  const half = aperture / 2, widest = openings.at(-1)?.outer ?? 0;
  if (widest <= half + 1e-6) return;
  const mend = widest <= aperture + 1e-6
    ? "edges are radii, not diameters"
    : "look at the digits and the unit";
  findings.refuse(
    place,
    mm(widest),
    `openings inside the edge at ${mm(half)} from the centre`,
    mend,
  );
}

/**
 * A unit that stands once behind the list, `[[5, 25], [30, 42]] mm`, written behind each number.
 *
 * @param text  the whole of mirror.yaml; its lines stay where they are
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(unitInside("mask: [[5, 25], [30, 42]] mm"), "mask: [[5 mm, 25 mm], [30 mm, 42 mm]]");
 * ```
 */
export function unitInside(text: string): string {
  return text.replace(
    /^(mask:[ \t]*)(\[[\d.,\[\] \t]*\])[ \t]*([a-zµμ]{1,20}|")([ \t]*(?:#.*)?)$/gim,
    (_, key: string, edges: string, unit: string, rest: string) =>
      `${key}${edges.replace(/[\d.]+/g, (edge) => `${edge} ${unit === '"' ? "in" : unit}`)}${rest}`,
  );
}

const TURN = 2 * Math.PI;
const angle = (least: number, most: number): Reader<number> => measure("angle", least, most);
const mass = measure("mass", 0, 1e7);

/** What a number below zero would mean, for those that are not merely mistyped. */
const MARGIN = "below zero the focus would lie inside the racked-in drawtube, where no eyepiece " +
  "reaches it: take a lower focuser, or move the mirror nearer to it";
const FIELD = "below zero would mean that not even a star in the middle gets all the light: " +
  "write the width of field you want, 0 or more";

const TELESCOPE = section({
  tube: section(
    { innerDiameter: length(1), wall: length(), frontLength: length() },
    ["innerDiameter", "wall"],
  ),
  focuser: section(
    { height: length(), margin: measure("length", 0, LONGEST, MARGIN), at: length() },
    ["height", "margin"],
  ),
  fullyLitField: measure("length", 0, LONGEST, FIELD),
  flats: list(length(1), 1),
  fieldStop: length(0.1),
  eyepieces: list(
    section({ focalLength: length(0.5, 1000), apparentField: angle(0.01, Math.PI) }, [
      "focalLength",
      "apparentField",
    ]),
  ),
  screws: section({
    pitch: length(0.05, 20),
    radius: length(1),
    angles: list(
      angle(-TURN, TURN),
      3,
      3,
      "three screws point a mirror, two cannot: write three angles",
    ),
    imageAt: list(length(-LONGEST), 2, 2),
  }, ["pitch", "radius", "angles", "imageAt"]),
  parts: list(section({ name: words, mass, at: length(-LONGEST) }, ["name", "mass", "at"])),
  bearing: section({
    radius: length(1),
    friction: number(0, 10),
    padHalfAngle: angle(0, 1.56),
    altitude: angle(0, Math.PI / 2),
  }, ["radius", "friction", "padHalfAngle", "altitude"]),
  swap: mass,
});

/** Reads the keys under `telescope:`; lengths mm, angles rad, masses g. */
function telescopeOf(node: unknown, context: Context): Telescope | undefined {
  const keys = TELESCOPE(node, context);
  if (keys === undefined) return undefined;
  const { screws, ...others } = keys;
  const [x, y] = screws?.imageAt ?? [];
  if (screws === undefined || x === undefined || y === undefined) return others;
  return { ...others, screws: { ...screws, imageAt: [x, y] } };
}

const telescope: Reader<Telescope> = Object.assign(telescopeOf, { keys: TELESCOPE.keys });

/** Every key there is, with its reader. */
export const KEYS = section({
  title: words,
  aperture: length(10, 3000),
  focalLength,
  bevel: length(0, 100),
  glass,
  thickness: length(0.5, 1000),
  goal,
  checked,
  gauges: section({
    leaves: section({ width: length(1, 100), tolerance: length(0, 1) }),
    spherometer: section({
      legRadius: length(1, 1500),
      ballRadius: length(0, 100),
      legRadiusU: length(0, 10),
      ballRadiusU: length(0, 10),
    }, ["legRadius", "ballRadius"]),
    dial: section({ step: length(1e-6, 10) }, ["step"]),
    depthGauge: section({ step: length(1e-6, 10) }, ["step"]),
    ruler: section({ step: length(1e-3, 100) }, ["step"]),
    chordU: length(0, 100),
  }),
  tester: section({
    source: choice("moves with knife", "fixed"),
    openings: choice("bands", "sectors"),
    ronchi: choice("same grating", "slit beside", "fixed"),
    seating: length(0, 10),
  }),
  mask,
  shownIn: choice("mm", "inch"),
  strokeRate: number(1, 300),
  telescope,
  site: section({
    latitude: measure("angle", -90 * ANGLE, 90 * ANGLE, `${NO_MAP}: latitude ends at the poles`),
    longitude: measure("angle", -180 * ANGLE, 360 * ANGLE, `${NO_MAP}: write east as +, west as -`),
    timeZone,
  }, ["latitude", "longitude", "timeZone"]),
}, ["aperture", "focalLength"]);

type Written = NonNullable<ReturnType<typeof KEYS>>;
type Keys = Omit<Written, "focalLength"> & { readonly focalLength: number };

/** The keys with a focal length that was written as a ratio worked out. */
function withLength({ focalLength: focal, ...keys }: Written): Keys {
  return { ...keys, focalLength: typeof focal === "number" ? focal : focal.ratio * keys.aperture };
}

/** mirror.yaml as understood; `told` has one sentence for each value that was taken as usual. */
export interface ReadSettings {
  readonly settings: Settings;
  readonly told: readonly string[];
  /** the line of each key that stands in the file, by its path such as `gauges.leaves` */
  readonly keyLines: ReadonlyMap<string, number>;
}

/**
 * Reads the text of mirror.yaml.
 *
 * @param text      the whole file
 * @param folder    the folder's own name, the title where none is written
 * @param findings  where refusals go
 * @returns `undefined` when aperture or focal length could not be understood
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { Findings } from "./errors.ts";
 * const read = readSettings("aperture: 6 in\nfocal_length: 48 in\n", "six-inch", new Findings());
 * assert.equal(read?.settings.aperture, 152.4);
 * ```
 */
export function readSettings(
  text: string,
  folder: string,
  findings: Findings,
): ReadSettings | undefined {
  const read = readYaml(unitInside(text), "mirror.yaml", KEYS, findings);
  if (read === undefined) return undefined;
  const keys = withLength(read.value), { keyLines } = read;
  refuseImpossible(keys, keyLines, findings);
  return { ...withDefaults(keys, folder), keyLines };
}

function refuseImpossible(
  keys: Keys,
  keyLines: ReadonlyMap<string, number>,
  findings: Findings,
): void {
  const { aperture, focalLength, bevel = 0, thickness } = keys;
  const at = (column: string): Place => ({
    file: "mirror.yaml",
    line: keyLines.get(column) ?? 1,
    column,
  });
  if (4 * focalLength <= aperture) {
    const wanted = `more than a quarter of the aperture of ${mm(aperture)}`;
    findings.refuse(
      at("focal_length"),
      mm(focalLength),
      wanted,
      "no bowl is that deep; look at both numbers",
    );
  }
  if (bevel >= aperture / 4) {
    const wanted = `less than a quarter of the aperture of ${mm(aperture)}`;
    findings.refuse(at("bevel"), mm(bevel), wanted, "give its width as seen on the face");
  }
  if (thickness !== undefined && thickness > aperture) {
    const wanted = `no more than the aperture of ${mm(aperture)}`;
    findings.refuse(at("thickness"), mm(thickness), wanted, "look at both numbers");
  }
  if (keys.mask !== undefined) refuseBeyond(keys.mask, aperture, at("mask"), findings);
}

/** mm to nm, without the last digits that the reading's unit left: 550 nm is 550. */
function nm(millimetres: number): number {
  return Number((millimetres * 1e6).toPrecision(12));
}

/** Takes a value as usual where none was written, and tells it. */
class Usual {
  readonly told: string[] = [];

  take<T>(written: T | undefined, usual: T, sentence: string): T {
    if (written !== undefined) return written;
    this.told.push(sentence);
    return usual;
  }
}

function withDefaults(keys: Keys, folder: string): Omit<ReadSettings, "keyLines"> {
  const usual = new Usual();
  const { aperture, focalLength, telescope, site } = keys;
  const sixth = Number((aperture / 6).toPrecision(4));
  const settings: Settings = {
    title: usual.take(keys.title, folder, `title: the folder's name, ${folder}`),
    aperture,
    focalLength,
    bevel: usual.take(
      keys.bevel,
      0,
      `bevel: not written; 0 to ${WIDEST_BEVEL} mm on the face, each as likely, is in the doubt of what rests on the rim`,
    ),
    ...(keys.bevel === undefined ? { unknownBevel: WIDEST_BEVEL } : {}),
    glass: usual.take(keys.glass, "soda-lime", "glass: soda-lime"),
    thickness: usual.take(
      keys.thickness,
      aperture / 6,
      `thickness: a sixth of the aperture, ${sixth} mm`,
    ),
    goal: {
      surfaceWaves: usual.take(keys.goal?.surface, 1 / 8, "goal.surface: 1/8 wave on the glass"),
      wavelength: nm(usual.take(keys.goal?.wavelength, 550e-6, "goal.wavelength: 550 nm")),
      shape: usual.take(
        keys.goal?.shape,
        "auto",
        "goal.shape: auto, a sphere where that is enough",
      ),
      scope: keys.goal?.scope ?? "whole surface",
    },
    gauges: gauges(keys, usual),
    tester: {
      source: usual.take(
        keys.tester?.source,
        "moves with knife",
        "tester.source: moves with knife",
      ),
      openings: usual.take(keys.tester?.openings, "bands", "tester.openings: bands"),
      ronchi: keys.tester?.ronchi ?? "same grating",
      ...written("seating", keys.tester?.seating),
    },
    ...written("checked", keys.checked),
    ...written("mask", keys.mask),
    ...written("shownIn", keys.shownIn),
    ...written("strokeRate", keys.strokeRate),
    ...(telescope === undefined ? {} : { telescope }),
    ...(site === undefined ? {} : { site }),
  };
  return { settings, told: usual.told };
}

/** A key that has no usual value: there where it was written. */
function written<K extends string, T>(key: K, value: T | undefined): { readonly [P in K]?: T } {
  return value === undefined ? {} : { [key]: value } as { readonly [P in K]?: T };
}

function gauges({ gauges: keys }: Keys, usual: Usual): Settings["gauges"] {
  const leaves = keys?.leaves;
  const legs = keys?.spherometer;
  return {
    leaves: {
      width: usual.take(leaves?.width, 12.7, "gauges.leaves.width: 12.7 mm"),
      tolerance: usual.take(
        leaves?.tolerance,
        0.005,
        "gauges.leaves.tolerance: 0.005 mm either way",
      ),
    },
    ...(legs === undefined ? {} : {
      spherometer: {
        legRadius: legs.legRadius,
        ballRadius: legs.ballRadius,
        legRadiusU: usual.take(legs.legRadiusU, 0.05, "gauges.spherometer.leg_radius_u: 0.05 mm"),
        ballRadiusU: usual.take(
          legs.ballRadiusU,
          0.01,
          "gauges.spherometer.ball_radius_u: 0.01 mm",
        ),
      },
    }),
    dialStep: keys?.dial?.step ?? 0.001,
    depthGaugeStep: keys?.depthGauge?.step ?? 0.01,
    rulerStep: keys?.ruler?.step ?? 1,
    chordU: keys?.chordU ?? 0.15,
  };
}
