/** Values to typed rows by the schema, and the checks that look at more than one cell of a row. */
import type { Values } from "./cells.ts";
import { mm } from "../quantity/format.ts";
import { type Findings, type Place } from "./errors.ts";
import { nearest } from "./nearest.ts";
import { columnsOf, type TableName } from "./schema.ts";
import type { Settings } from "./settings.ts";
import { type DoubleStar, doubleStars, moonFeatures, occultedStars } from "./tables.ts";
import type { ObservationRow, RowOf } from "./types.ts";

/** What a table's checks may look at besides the row itself. */
export interface Bench {
  readonly file: string;
  readonly settings: Settings;
  readonly findings: Findings;
}

/** A row of a table with every field that was written. Its needed fields are there: a row without one was refused before. */
export function rowOf<T extends TableName>(table: T, values: Values, file: string): RowOf<T> {
  const row: Record<string, unknown> = { file, line: values.line };
  for (const { field } of columnsOf(table)) {
    const value = values.get(field);
    if (value !== undefined) row[field] = value;
  }
  return row as RowOf<T>;
}

/** Rows with their minutes of grinding so far, where they were written row by row as what was ground since the row above. */
export function withMinutesAdded<T extends TableName>(
  table: T,
  rows: readonly RowOf<T>[],
  findings: Findings,
): readonly RowOf<T>[] {
  if (table === "grinding" || rows.every(({ minutes }) => minutes === undefined)) return rows;
  let soFar: number | undefined;
  return rows.map((row) => {
    const { minutes, ...rest } = row;
    if (minutes !== undefined && row.afterMin !== undefined) {
      const { file, line } = row;
      const wanted = "one of the two, after_min (so far) or minutes (since the row above)";
      const found = "minutes and after_min in one row";
      findings.refuse({ file, line, column: "minutes" }, found, wanted, "leave one of them empty");
    }
    soFar = row.afterMin ?? (minutes === undefined ? soFar : (soFar ?? 0) + minutes);
    return { ...rest, ...(soFar === undefined ? {} : { afterMin: soFar }) } as RowOf<T>;
  });
}

/** Where a field of a row stands, under the name that the file has for it, else its usual one. */
export function placeIn({ line, headers }: Values, file: string): (field: string) => Place {
  return (field) => ({ file, line, column: headers.get(field) ?? `${field}_mm` });
}

/** Refuses a row whose cells do not go together. */
type Check<T extends TableName> = (row: RowOf<T>, values: Values, bench: Bench) => void;

/** Every row of a table: read by the schema, then looked at as a whole where its table has something to say. */
export function readRow<T extends TableName>(table: T, values: Values, bench: Bench): RowOf<T> {
  const row = rowOf(table, values, bench.file);
  const check: Check<T> | undefined = CHECKS[table];
  check?.(row, values, bench);
  return row;
}

const CHECKS: { readonly [T in TableName]?: Check<T> } = {
  grinding: onTheDisc,
  sagitta: bracket,
  sun: oneOfTwo,
  zones: opening,
  knife: slitOrHole,
  ronchi: discByHand,
  star: lampBeyondCentre,
  diary: onTheGlass,
  observations: whatProjectsNeed,
};

/** One depth: a bracket of leaves or a depth gauge. */
function bracket(
  { go, nogo, depth, chord }: RowOf<"sagitta">,
  values: Values,
  { file, settings, findings }: Bench,
): void {
  const place = placeIn(values, file);
  if (go !== undefined && nogo !== undefined) {
    const [passed, stopped] = [total(go), total(nogo)];
    if (!(stopped > passed + 1e-9)) {
      const wanted = `more than the go of ${mm(passed)}`;
      const mend = "the no-go is the next thicker stack; are they swapped?";
      findings.refuse(place("nogo"), mm(stopped), wanted, mend);
    }
  } else if (go !== undefined || nogo !== undefined) {
    const [missing, there] = go === undefined ? ["go", "no-go"] : ["nogo", "go"];
    const mend = "give the stack that passes and the next that does not";
    findings.refuse(place(missing), "nothing", `its pair, for there is a ${there}`, mend);
  } else if (depth === undefined) {
    const field = values.headers.has("depth") && !values.headers.has("go") ? "depth" : "go";
    const mend = "write the reading, or take the row out";
    findings.refuse(place(field), "nothing", "go and no-go, or a depth", mend);
  }
  if ((go !== undefined || nogo !== undefined) && depth !== undefined) {
    const mend = "give each reading a row of its own";
    findings.refuse(place("depth"), "a depth beside leaves", "one reading in a row", mend);
  }
  if (chord !== undefined && chord > settings.aperture + 1e-6) {
    const wanted = `no more than the aperture of ${mm(settings.aperture)}`;
    const mend = "measure where the straight-edge rests on the face";
    findings.refuse(place("chord"), mm(chord), wanted, mend);
  }
}

function total(leaves: readonly number[]): number {
  return leaves.reduce((sum, leaf) => sum + leaf, 0);
}

/** A stroke that the disc has room for: to the side within its rim, no longer than it is wide. */
function onTheDisc(
  { side, length }: RowOf<"grinding">,
  values: Values,
  { file, settings, findings }: Bench,
): void {
  const place = placeIn(values, file), { aperture } = settings;
  if (side !== undefined && side > aperture / 2 + 1e-6) {
    const wanted = `a stroke to the side within the disc, whose edge is ${
      mm(aperture / 2)
    } from the centre`;
    findings.refuse(place("side"), mm(side), wanted, "look at the digits and the unit");
  }
  if (length !== undefined && length > aperture + 1e-6) {
    const wanted = `a stroke no longer than the disc is wide, ${mm(aperture)}`;
    findings.refuse(place("length"), mm(length), wanted, "look at the digits and the unit");
  }
}

/** One look at the Sun's image. */
function oneOfTwo(
  { distance, image }: RowOf<"sun">,
  values: Values,
  { file, findings }: Bench,
): void {
  if (distance !== undefined || image !== undefined) return;
  const { headers } = values;
  const field = headers.has("image") && !headers.has("distance") ? "image" : "distance";
  const mend = "write the reading, or take the row out";
  findings.refuse(placeIn(values, file)(field), "nothing", "a distance or an image", mend);
}

/** One knife reading in one opening of the mask. */
function opening(
  { inner, outer }: RowOf<"zones">,
  values: Values,
  { file, settings, findings }: Bench,
): void {
  const place = placeIn(values, file)("outer"), edge = settings.aperture / 2;
  if (inner >= outer) {
    const mend = "give the edges from the centre outward; are they swapped?";
    findings.refuse(place, mm(outer), `more than the inner edge of ${mm(inner)}`, mend);
  } else if (outer > edge + 1e-6) {
    const mend = outer <= settings.aperture + 1e-6
      ? "edges are radii, not diameters"
      : "look at the digits and the unit";
    const wanted = `an opening inside the edge at ${mm(edge)} from the centre`;
    findings.refuse(place, mm(outer), wanted, mend);
  }
}

/** The disc as the maker measured it: all three numbers or none. */
function discByHand(
  { discX, discY, discRadius }: RowOf<"ronchi">,
  values: Values,
  { file, findings }: Bench,
): void {
  const lacking = Object.entries({ disc_x_px: discX, disc_y_px: discY, disc_radius_px: discRadius })
    .flatMap(([name, value]) => value === undefined ? [name] : []);
  const [column] = lacking;
  if (column === undefined || lacking.length === 3) return;
  const place = { file, line: values.line, column };
  const wanted = "the disc's middle and radius together";
  findings.refuse(place, "nothing", wanted, "fill in all three, or none");
}

/** What shines behind the knife is a slit or a hole. */
function slitOrHole(
  { slit, hole }: RowOf<"knife">,
  values: Values,
  { file, findings }: Bench,
): void {
  if (slit === undefined || hole === undefined) return;
  const place = placeIn(values, file)("hole");
  findings.refuse(place, "slit_mm and hole_mm in one row", "one of them", "leave one empty");
}

/** A lamp in place of a star, farther away than the centre of curvature, or there is no image in the focuser. */
function lampBeyondCentre(
  { distance }: RowOf<"star">,
  values: Values,
  { file, settings, findings }: Bench,
): void {
  const least = 4 * settings.focalLength;
  if (distance === undefined || distance >= least) return;
  const wanted = `${mm(least)} or more, four focal lengths`;
  const mend = "take a lamp that is farther away; look at the digits and the unit";
  findings.refuse(placeIn(values, file)("distance"), mm(distance), wanted, mend);
}

/** An act or a sight at some place of the glass. */
function onTheGlass(
  { where }: RowOf<"diary">,
  values: Values,
  { file, settings, findings }: Bench,
): void {
  const edge = settings.aperture / 2;
  if (where === undefined || where <= edge + 1e-6) return;
  const wanted = `a place on the glass, whose edge is ${mm(edge)} from the centre`;
  const mend = "measure from the centre; look at the digits and the unit";
  findings.refuse(placeIn(values, file)("where"), mm(where), wanted, mend);
}

/** The moons of Jupiter that small telescopes show. */
const JUPITER_MOONS = ["Io", "Europa", "Ganymede", "Callisto"];

/** Which cells a project cannot do without, and whose names it knows. */
const NEEDS: Readonly<
  Record<ObservationRow["what"], {
    readonly fields: readonly (keyof ObservationRow)[];
    readonly events?: readonly string[];
    readonly names?: () => readonly string[];
  }>
> = {
  "seen": { fields: [] },
  "moon of jupiter": {
    fields: ["time", "event"],
    events: ["vanishes", "appears"],
    names: () => JUPITER_MOONS,
  },
  "double star": { fields: ["right", "tries"] },
  "moon shadow": {
    fields: ["time", "tenths"],
    names: () => moonFeatures().map(({ name }) => name),
  },
  "variable star": { fields: ["time", "tenths", "brighter", "fainter"] },
  "occultation": {
    fields: ["time", "event"],
    events: ["vanishes", "appears"],
    names: () => occultedStars().map(({ name }) => name),
  },
  "star image": {
    fields: ["event", "tenths"],
    events: ["before cooling", "after cooling"],
  },
};

/** A row of a project: with all that its number needs, of a name that is known, its numbers going together. */
function whatProjectsNeed(
  row: ObservationRow,
  values: Values,
  { file, findings }: Bench,
): void {
  const { what, object, event, right, tries, brighter, fainter, tenths } = row;
  const { fields, events, names } = NEEDS[what];
  const usual = new Map(columnsOf("observations").map(({ field, name }) => [field, name]));
  const place = (field: string): Place => ({
    ...placeIn(values, file)(field),
    column: values.headers.get(field) ?? usual.get(field) ?? field,
  });
  const refuse = (field: string, found: string, wanted: string, mend: string): void =>
    findings.refuse(place(field), found, wanted, mend);
  for (const field of fields.filter((one) => row[one] === undefined)) {
    const mend = `write it, or call the row seen where nothing was measured`;
    refuse(field, "nothing", `what a row of ${what} needs`, mend);
  }
  if (event !== undefined && events?.includes(event) === false) {
    refuse("event", `"${event}"`, `${events.join(" or ")} for ${what}`, "write one of them");
  }
  const known = names?.();
  if (known?.some((name) => sameName(name, object)) === false) {
    const near = nearest(object, known, 3).join(" or ");
    const mend = near === "" ? `such as ${known.slice(0, 3).join(", ")}` : `did you mean ${near}?`;
    refuse("object", `"${object}"`, `a name that ${what} knows`, mend);
  }
  if (right !== undefined && tries !== undefined && right > tries) {
    refuse("right", String(right), `no more than the ${tries} tries`, "are the two changed over?");
  }
  if (what === "variable star" && brighter !== undefined && fainter !== undefined) {
    if (fainter <= brighter) {
      const wanted = `more than ${brighter}: fainter stars have greater magnitudes`;
      refuse("fainter", String(fainter), wanted, "are the two changed over?");
    }
    if (tenths !== undefined && tenths > 10) {
      const mend = "0 is like the brighter neighbour, 10 like the fainter; take other neighbours";
      refuse("tenths", String(tenths), "0 to 10, between its neighbours", mend);
    }
  }
  const isPair = what === "double star" || what === "star image";
  if (isPair && row.gap === undefined && gapOf(object) === undefined) {
    const wanted = "the gap, for double_stars.csv does not know this pair";
    refuse("gap", "nothing", wanted, "write it in arcseconds, or the pair's name as there");
  }
}

/** The same name, whatever its capitals, and without what stands in brackets behind it. */
export function sameName(one: string, other: string): boolean {
  const plain = (name: string): string =>
    name.replace(/\(.*\)/, "").trim().toLowerCase().replace(/\s+/g, " ");
  return plain(one) === plain(other);
}

/** Gap of a pair that data/tables/double_stars.csv has, arcseconds. */
export function gapOf(object: string): number | undefined {
  return pairNamed(object)?.separationArcsec;
}

/** Whether that table has the pair's gap from memory, good to a twentieth, and not of a year from a catalogue. */
export function isGapRecalled(object: string): boolean {
  const source = pairNamed(object)?.source ?? "";
  return source.endsWith("from memory") && !/separation of \d{4}/.test(source);
}

function pairNamed(object: string): DoubleStar | undefined {
  return doubleStars().find(({ name }) => sameName(name, object));
}
