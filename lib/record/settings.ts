/** mirror.yaml: its keys, what is taken as usual where one is not written, and what makes a mirror impossible. */
import { type Findings, shown } from "./errors.ts";
import { checked, goal } from "./goalKeys.ts";
import { nearest, suggestion } from "./nearest.ts";
import { mm } from "./readings.ts";
import { LONGEST } from "./column.ts";
import { mask, refuseBeyond, unitInside } from "./maskKey.ts";
import { glasses } from "./tables.ts";
import { readTelescope } from "./telescopeKeys.ts";
import type { Place, Settings } from "./types.ts";
import { type Reader, readYaml } from "./yaml.ts";
import { section } from "./yamlGroups.ts";
import { choice, measure, number, scalar, sourceOf, words } from "./yamlValues.ts";

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

const SHAPE = section({
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
  telescope: readTelescope,
  site: section({
    latitude: measure("angle", -90 * ANGLE, 90 * ANGLE, `${NO_MAP}: latitude ends at the poles`),
    longitude: measure("angle", -180 * ANGLE, 360 * ANGLE, `${NO_MAP}: write east as +, west as -`),
    timeZone,
  }, ["latitude", "longitude", "timeZone"]),
}, ["aperture", "focalLength"]);

type Written = NonNullable<ReturnType<typeof SHAPE>>;
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
  const read = readYaml(unitInside(text), "mirror.yaml", SHAPE, findings);
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
