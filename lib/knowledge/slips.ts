/**
 * Slips of the pencil that end in a number one would believe: each is named, and the next step is to look at it. What a
 * warning says is wrong is not at the same time the ground of an order.
 */
import { mm } from "../quantity/format.ts";
import { conicPvWaves } from "../optics/sphereEnough.ts";
import { FACTORS } from "../quantity/misconceptions.ts";
import { groups } from "../record/readings.ts";
import { CHECKED, type Checked, LIKELY } from "../record/settings.ts";
import type { FigureSummary } from "./summaryTypes.ts";
import type { MirrorRecord, Place, Warning, ZoneRow } from "../record/types.ts";

/** Something in a record that is probably not what its maker meant. */
export interface Slip {
  /** which of the things that may be looked at again */
  readonly of: Checked;
  readonly place: Partial<Place>;
  /** what was found, and what it would be */
  readonly message: string;
  /** what to do now, an order */
  readonly do: string;
  /** when that is done, where looking again settles nothing */
  readonly until?: string;
}

/** A slip as a warning. */
export function slipWarning({ place, message }: Slip): Warning {
  return { ...place, message };
}

/** Only those that the maker has not yet looked at again. */
export function unsettled(slips: readonly Slip[], record: MirrorRecord): readonly Slip[] {
  const { checked = [] } = record.settings;
  const order = (slip: Slip): number => CHECKED.indexOf(slip.of);
  return slips.filter(({ of }) => !checked.includes(of)).toSorted((a, b) => order(a) - order(b));
}

/** A goal or a colour of light that no maker of a first mirror sets: a digit is probably off. */
export function goalSlips(
  { settings: { goal, aperture, focalLength } }: MirrorRecord,
): readonly Slip[] {
  const found: Slip[] = [], file = "mirror.yaml";
  const tell = (key: string, is: string, usual: string): void => {
    found.push({
      of: "goal",
      place: { file, column: `goal.${key}` },
      message: `${is} is far from what is usual, ${usual}: is a digit off?`,
      do: `Read goal.${key} in mirror.yaml again, digit by digit: it says ${is}.`,
    });
  };
  const [fine, coarse] = LIKELY.waves, [violet, red] = LIKELY.nm;
  const { surfaceWaves: waves, wavelength: nm } = goal;
  if (waves < fine * (1 - 1e-9) || waves > coarse) {
    const is = waves < 1
      ? `1/${Number((1 / waves).toPrecision(3))} wave`
      : `${Number(waves.toPrecision(3))} waves`;
    tell("surface", is, "1/20 wave to 1 wave on the glass");
  }
  if (nm < violet || nm > red) {
    tell(
      "wavelength",
      `${Number(nm.toPrecision(4))} nm`,
      `${violet} to ${red} nm, the light one sees`,
    );
  }
  const sphere = conicPvWaves({ aperture, focalLength }, 0, nm);
  if (goal.shape === "sphere" && sphere > SPHERE_MOST) {
    found.push({
      of: "goal",
      place: { file: "mirror.yaml", column: "goal.shape" },
      message: `a sphere of this width and focal length leaves ${
        sphere.toFixed(1)
      } waves on the wavefront at its best focus, however well it is made: no star is sharp in it`,
      do:
        "Look at goal.shape in mirror.yaml: a telescope of this focal ratio needs `shape: paraboloid`, or `auto`.",
    });
  }
  return found;
}

/** A sphere that leaves more than this, waves peak to valley on the wavefront, makes no telescope. COMMON PRACTICE */
const SPHERE_MOST = 1;

/** How far from -2 a conic may lie and still be put down to a lamp that does not move, and from -0.5 for one that does. */
const LAMP = { still: 0.6, moving: 0.15 };
/** From this conic on the scale is doubted: no polishing toward a paraboloid comes there. */
export const REVERSED = 0.45;
/** Scatter of a hand on a knife, mm: nobody sets it better than the first; the others frame what is usual. COMMON PRACTICE */
const HAND = { best: 0.004, good: 0.013, least: 0.015, most: 0.13 };

/**
 * What the zone readings give away: a lamp that does not do what the record says, a scale the wrong way round, another
 * unit, runs that are copies.
 *
 * @param record  its zone readings and its tester
 * @param figure  the figure from them
 */
export function zoneSlips(
  record: MirrorRecord,
  figure: FigureSummary | undefined,
): readonly Slip[] {
  const { zones } = record;
  if (zones.length === 0) return [];
  const first = zones[0] as ZoneRow, place = { file: first.file, line: first.line };
  const plain = [...sameEverywhere(zones), ...copiedRuns(zones), ...narrowOpenings(record)];
  if (plain.length > 0) return plain;
  if (figure?.refused !== undefined) return [refusedSlip(figure.refused, zones)];
  if (figure?.conic === undefined) return [];
  const { value: k, u = 0 } = figure.conic, { source } = record.settings.tester;
  const s = figure.pooledReadingS?.value;
  const unit = s === undefined ? undefined : unitSlip(k, s, zones);
  if (unit !== undefined) return [{ ...unit, place }];
  if (record.settings.goal.shape === "sphere") return [];
  const told = k.toFixed(2);
  if (k > REVERSED && k > 2 * u) {
    return [{
      of: "scale",
      place: { ...place, column: "reading" },
      message:
        `the best conic is ${told}, which no polishing toward a paraboloid gives; a scale read the wrong way round ` +
        `would make ${told} of ${(-k).toFixed(2)}: larger must be farther from the mirror`,
      do:
        "Move the knife away from the mirror and look at the scale: does its number grow? If not, write every reading of zones.csv with the other sign.",
    }];
  }
  if (source === "moves with knife" && Math.abs(k + 2) < LAMP.still && k + 1 < -2 * u) {
    return [{
      of: "lamp",
      place: { file: "mirror.yaml", column: "tester.source" },
      message:
        `the best conic is ${told}; it would be ${
          (k / 2).toFixed(2)
        } if the lamp stood still while the knife moved, ` +
        "and the record says that it moves with the knife",
      do:
        "Look at the tester: does the lamp move when the knife is moved along the axis? If it stands still, write `tester: { source: fixed }`.",
    }];
  }
  if (k < -1 - LAMP.still && k + 1 < -2 * u) {
    return [{
      of: "scale",
      place: { ...place, column: "reading" },
      message:
        `the best conic is ${told}, which no polishing toward a paraboloid gives: the readings spread far more than ` +
        "the mirror can; it would be so with another unit, another radius of curvature, or a scale the wrong way round",
      do:
        "Compare one run of zones.csv with the paper note: unit, digits, and which way the scale grows.",
    }];
  }
  return [];
}

/**
 * A word on the lamp beside the verdict, where a fixed lamp gives a conic near -0.5: a paraboloid under a lamp that moves
 * would look like that, and so does a mirror half-way to a paraboloid. Nothing where the maker has looked.
 */
export function lampWord(
  record: MirrorRecord,
  figure: FigureSummary | undefined,
): string | undefined {
  const { conic } = figure ?? {}, { tester, goal, checked = [] } = record.settings;
  if (conic === undefined || tester.source !== "fixed" || goal.shape === "sphere") return undefined;
  if (checked.includes("lamp")) return undefined;
  const near = Math.abs(conic.value + 0.5) < Math.max(LAMP.moving, 2 * (conic.u ?? 0));
  return near && conic.value + 1 > 0.25
    ? `a conic of ${
      conic.value.toFixed(2)
    } with a fixed lamp is either a mirror half-way to its paraboloid, or a finished one whose lamp moved with the knife: ` +
      "look whether the lamp moves"
    : undefined;
}

/** Readings that no mirror gives are to be looked at before anything is done. */
function refusedSlip(refused: string, zones: readonly ZoneRow[]): Slip {
  const [first] = zones, openings = new Set(zones.map(({ inner, outer }) => `${inner} ${outer}`));
  const isOne = openings.size < 2;
  return {
    of: "units",
    place: { file: first?.file ?? "zones.csv", column: "reading" },
    message: `the zones cannot be reduced: ${refused}`,
    ...(isOne ? { until: "zones.csv has three runs through two openings or more." } : {}),
    do: isOne
      ? "Read two zones or more, three runs of each, before anything is polished."
      : "Compare zones.csv with the paper note, digit by digit, before anything is polished.",
  };
}

function unitSlip(
  k: number,
  s: number,
  zones: readonly ZoneRow[],
): Omit<Slip, "place"> | undefined {
  if (zones.length < 6) return undefined;
  const read = (factor: number): boolean =>
    s * factor > HAND.least && s * factor < HAND.most && k * factor > -1.5 && k * factor < -0.5;
  const named = ([[FACTORS.inch, "inches"], [FACTORS.point, "cm"]] as const).find(([factor]) =>
    read(factor)
  );
  if (s > HAND.good || (s > HAND.best && named === undefined)) return undefined;
  const by = s.toPrecision(1);
  return {
    of: "units",
    message: `one reading scatters by ${by} mm, less than a hand sets a knife: ` +
      (named === undefined
        ? "are they in cm or inches, or copied?"
        : `read as ${named[1]} they would be an everyday set of readings, with a conic of ${
          (k * named[0]).toFixed(2)
        }`),
    do: `Compare one run of zones.csv with the paper note and with the scale: are these ${
      named?.[1] ?? "mm"
    }? The header names the unit: reading_mm, reading_cm, reading_in.`,
  };
}

/** Every reading the same number, 0 for one: nothing was measured. */
function sameEverywhere(zones: readonly ZoneRow[]): readonly Slip[] {
  const [first] = zones, openings = new Set(zones.map(({ inner, outer }) => `${inner} ${outer}`));
  if (first === undefined || openings.size < 2 || zones.length < 3) return [];
  if (zones.some(({ reading }) => reading !== first.reading)) return [];
  return [{
    of: "units",
    place: { file: first.file, line: first.line, column: "reading" },
    message: `every reading is ${mm(first.reading)}: was nothing read yet?`,
    do:
      "Look at zones.csv: write down what the scale showed, or take the rows out until it was read.",
  }];
}

/** Chance that one reading repeats by itself: its last digit against what a hand scatters, mm. COMMON PRACTICE */
const HAND_SCATTER = 0.05;
/** Runs alike less often than this are copies. */
const COPY_CHANCE = 1e-3;

/** Runs whose readings are all the same, zone for zone: one run, copied. */
function copiedRuns(zones: readonly ZoneRow[]): readonly Slip[] {
  const digits = Math.max(0, ...zones.map(({ reading }) => decimals(reading)));
  const one = Math.min(1, 10 ** -digits / (3.5 * HAND_SCATTER));
  const runs = groups(
    zones,
    ({ date = "", run, angleDeg, knifeDeg }) =>
      `${date}\u0000${angleDeg ?? 0}\u0000${knifeDeg ?? 0}\u0000${run}`,
  );
  const alike = groups(
    [...runs.values()],
    (rows) =>
      rows.map(({ inner, outer, reading }) => `${inner} ${outer} ${reading}`).sort().join("; "),
  );
  for (const same of alike.values()) {
    const [first, second] = same, count = first?.length ?? 0;
    if (second === undefined || one ** (count * (same.length - 1)) > COPY_CHANCE) continue;
    const row = second[0] as ZoneRow, names = same.map((rows) => rows[0]?.run ?? "");
    return [{
      of: "runs",
      place: { file: row.file, line: row.line, column: "run" },
      message:
        `the runs ${
          names.slice(0, 5).join(", ")
        } have the same reading in every zone: one run, copied? ` +
        "Copies make the scatter look smaller than it is",
      do:
        "Keep one of the runs that are alike in zones.csv and take the copies out; then measure two more runs.",
    }];
  }
  return [];
}

/** Digits behind the point, four at most. */
function decimals(value: number): number {
  for (let digits = 0; digits < 4; digits++) {
    if (Math.abs(value - Number(value.toFixed(digits))) < 1e-9) return digits;
  }
  return 4;
}

/** A mask that ends before a quarter of the radius is one in other units. */
function narrowOpenings({ settings, zones }: MirrorRecord): readonly Slip[] {
  const widest = zones.reduce((most, { outer }) => Math.max(most, outer), 0);
  const edge = settings.aperture / 2, [first] = zones;
  if (first === undefined || widest >= edge / 4) return [];
  return [{
    of: "units",
    place: { file: first.file, line: first.line, column: "outer" },
    message: `the outermost opening ends at ${mm(widest)} of ${
      mm(edge)
    }: are the openings in cm or inches?`,
    do: "Measure one opening of the mask and compare it with zones.csv and the unit in its header.",
  }];
}
