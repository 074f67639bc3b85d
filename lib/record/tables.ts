/** The workshop's own tables in data/tables: glasses, abrasives, the numbers the course decides by. */
import { splitTable } from "./csv.ts";
import { Findings, RecordRefused } from "./errors.ts";
import { decodeText } from "./files.ts";
import { files, kitFolder } from "./fileSystem.ts";
import { nearest } from "./nearest.ts";
import { parseNumber } from "./written.ts";

/** A row of glasses.csv; nominal values near room temperature. */
export interface Glass {
  readonly name: string;
  readonly densityKgPerM3: number;
  readonly expansionPerK: number;
  readonly youngGPa: number;
  readonly poisson: number;
  /** refractive index at 587.6 nm */
  readonly indexD: number;
  readonly heatJPerKgK: number;
  /** how far off the heat may be, where it is common practice */
  readonly heatWithinJPerKgK?: number;
  readonly conductivityWPerMK: number;
  /** other names, read where typed and printed nowhere: makers' catalogues, and what shops say */
  readonly typedAs: readonly string[];
  readonly source: string;
}

/** A row of abrasives.csv. The scales share numbers and nothing else: F400 is 17 um, #400 is 30 um, P400 is 35 um. */
export interface Abrasive {
  /** with its letter: "F80", "#400" */
  readonly name: string;
  /** by which it is named; the scales differ */
  readonly scale: "F" | "#" | "P" | "polish";
  /** the middle grain, um: half of the volume is finer */
  readonly ds50Um: number;
  /** tolerance of the standard on it, um, where it gives one */
  readonly withinUm?: number;
  /** where the numbers come from */
  readonly source: string;
}

/** A row of double_stars.csv; what of it is from memory its last column says. */
export interface DoubleStar {
  readonly name: string;
  readonly constellation: string;
  /** hours and degrees, equator of 2000 */
  readonly raHours: number;
  readonly declinationDeg: number;
  readonly brighterMagnitude: number;
  readonly fainterMagnitude: number;
  readonly separationArcsec: number;
  readonly note: string;
  readonly source: string;
}

/** A row of decisions.csv: a number that sends the maker on or back. */
export interface Decision {
  readonly name: string;
  readonly value: number;
  /** "" for a pure number */
  readonly unit: string;
  /** number of the notebook that asks, e.g. "06" */
  readonly stage: string;
  readonly meaning: string;
  readonly status: string;
}

/** A row of facts.csv: a number that pages, cards and steps share. */
export interface Fact {
  readonly name: string;
  readonly value: number;
  /** least at which it still works; absent where only the value is meant */
  readonly low?: number;
  /** most at which it still works */
  readonly high?: number;
  /** "" for a pure number */
  readonly unit: string;
  readonly whatFor: string;
  /** how it is known, beginning "kit:", "derived:", "unsure:" or "common practice" */
  readonly provenance: string;
}

/** A row of dialect.csv: a word that lessons do not use. */
export interface Dialect {
  /** a pattern for prose, capitals and small letters alike */
  readonly pattern: string;
  /** what to write in its place */
  readonly use: string;
}

/** A row of terms.csv: a term, and what its first place must say. */
export interface KeyTerm {
  readonly term: string;
  /** a pattern that finds it in prose */
  readonly pattern: string;
  /** a pattern of the words that explain it */
  readonly explained: string;
}

const cache = new Map<string, readonly unknown[]>();

/** Reads one of our own tables, data/tables/NAME.csv, once; `rows:` in its comments must be the number of rows. */
export function rowsOf<T>(name: string, make: (cell: Cell) => T): readonly T[] {
  const read = cache.get(name);
  if (read !== undefined) return read as readonly T[];
  const file = `data/tables/${name}.csv`;
  const findings = new Findings();
  const bytes = files().readNow(`${kitFolder}/${file}`);
  const csv = splitTable(decodeText(bytes, file, findings) ?? "", file, findings);
  const rows = csv?.rows.map(({ line, cells }) => {
    const texts = new Map(csv.header.cells.map((header, index) => [header, cells[index] ?? ""]));
    return make(new Cell(texts, file, line, findings));
  }) ?? [];
  const said = csv?.comments.map((comment) => /^rows: (\d+)$/.exec(comment)?.[1]).find(Boolean);
  if (Number(said) !== rows.length) {
    const wanted = `the ${said ?? "number of"} rows of its provenance header`;
    findings.refuse(
      { file },
      `${rows.length} rows`,
      wanted,
      "mend the line `# rows:` or the table",
    );
  }
  if (findings.refused) throw new RecordRefused(findings.refusals);
  cache.set(name, rows);
  return rows;
}

/** A row under its columns' names. */
class Cell {
  constructor(
    private readonly texts: ReadonlyMap<string, string>,
    private readonly file: string,
    private readonly line: number,
    private readonly findings: Findings,
  ) {}

  text(column: string): string {
    const text = this.texts.get(column);
    if (text === undefined) this.#refuse(column, "no such column", "it in the header");
    return text ?? "";
  }

  number(column: string): number {
    const value = parseNumber(this.text(column), ".");
    if (value === undefined) this.#refuse(column, `"${this.text(column)}"`, "a number");
    return value ?? 0;
  }

  #refuse(column: string, found: string, wanted: string): void {
    this.findings.refuse(
      { file: this.file, line: this.line, column },
      found,
      wanted,
      "mend the table",
    );
  }
}

/**
 * The glasses a mirror may be made of.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(glasses().find(({ name }) => name === "soda-lime")?.densityKgPerM3, 2500);
 * ```
 */
export function glasses(): readonly Glass[] {
  return rowsOf("glasses", (cell) => ({
    name: cell.text("name"),
    densityKgPerM3: cell.number("density_kg_m3"),
    expansionPerK: cell.number("expansion_per_K"),
    youngGPa: cell.number("young_GPa"),
    poisson: cell.number("poisson"),
    indexD: cell.number("index_d"),
    heatJPerKgK: cell.number("heat_J_kgK"),
    ...(cell.text("heat_within_J_kgK") === ""
      ? {}
      : { heatWithinJPerKgK: cell.number("heat_within_J_kgK") }),
    conductivityWPerMK: cell.number("conductivity_W_mK"),
    typedAs: cell.text("typed_as").split(/\s*;\s*/).filter((name) => name !== ""),
    source: cell.text("source"),
  }));
}

/**
 * The abrasives, coarse to fine within each scale.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example F400 is not #400
 * ```ts
 * import assert from "node:assert/strict";
 * const size = (name: string) => abrasives().find((row) => row.name === name)?.ds50Um;
 * assert.deepEqual([size("F400"), size("#400")], [17.3, 30]);
 * ```
 */
export function abrasives(): readonly Abrasive[] {
  return rowsOf("abrasives", (cell) => ({
    name: cell.text("name"),
    scale: cell.text("scale") as Abrasive["scale"],
    ds50Um: cell.number("ds50_um"),
    ...(cell.text("within_um") === "" ? {} : { withinUm: cell.number("within_um") }),
    source: cell.text("source"),
  }));
}

/**
 * The numbers the course decides by; a leader may change them in the table.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(decisions().every(({ status }) => status === "common practice"), true);
 * ```
 */
export function decisions(): readonly Decision[] {
  return rowsOf("decisions", (cell) => ({
    name: cell.text("name"),
    value: cell.number("value"),
    unit: cell.text("unit"),
    stage: cell.text("stage"),
    meaning: cell.text("meaning"),
    status: cell.text("status"),
  }));
}

/**
 * The facts that pages, cards and steps share: turning, waits, charges, temperatures, hours.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const row = facts().find(({ name }) => name === "press_cold");
 * assert.deepEqual([row?.value, row?.low, row?.high, row?.unit], [15, 10, 30, "min"]);
 * ```
 */
export function facts(): readonly Fact[] {
  return rowsOf("facts", (cell) => ({
    name: cell.text("name"),
    value: cell.number("value"),
    ...(cell.text("low") === "" ? {} : { low: cell.number("low") }),
    ...(cell.text("high") === "" ? {} : { high: cell.number("high") }),
    unit: cell.text("unit"),
    whatFor: cell.text("what_for"),
    provenance: cell.text("provenance"),
  }));
}

/**
 * Words that the lessons do not use.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(dialect().some(({ use }) => use === "draws"));
 * ```
 */
export function dialect(): readonly Dialect[] {
  return rowsOf("dialect", (cell) => ({ pattern: cell.text("pattern"), use: cell.text("use") }));
}

/**
 * Terms that are explained where they first stand.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(keyTerms().some(({ term }) => term === "Strehl ratio"));
 * ```
 */
export function keyTerms(): readonly KeyTerm[] {
  return rowsOf("terms", (cell) => ({
    term: cell.text("term"),
    pattern: cell.text("pattern"),
    explained: cell.text("explained"),
  }));
}

/**
 * Double stars worth a look, from wide to close.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(doubleStars()[0]?.name ?? "", /^Albireo/);
 * ```
 */
export function doubleStars(): readonly DoubleStar[] {
  return rowsOf("double_stars", (cell) => ({
    name: cell.text("name"),
    constellation: cell.text("constellation"),
    raHours: cell.number("ra_h"),
    declinationDeg: cell.number("dec_deg"),
    brighterMagnitude: cell.number("brighter_mag"),
    fainterMagnitude: cell.number("fainter_mag"),
    separationArcsec: cell.number("separation_arcsec"),
    note: cell.text("note"),
    source: cell.text("source"),
  }));
}

/** A crater or a mountain of the Moon whose shadow tells a height. */
export interface MoonFeature {
  /** as it is called */
  readonly name: string;
  /** its rim, or a mountain beside a crater */
  readonly kind: "rim" | "mountain";
  /** degrees, north positive */
  readonly latitudeDeg: number;
  /** degrees, positive toward the Sea of Crises */
  readonly longitudeDeg: number;
  /** of the crater itself, or of the crater named in the note by which a mountain's shadow is measured */
  readonly widthKm: number;
  /** rim over floor, or mountain over plain, as it is told elsewhere */
  readonly heightKm: number;
  /** what else there is to know */
  readonly note: string;
  /** where the numbers come from */
  readonly source: string;
}

/**
 * Craters and mountains of the Moon for the shadow project.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(moonFeatures().find(({ name }) => name === "Copernicus")?.widthKm, 96);
 * ```
 */
export function moonFeatures(): readonly MoonFeature[] {
  return rowsOf("moon_features", (cell) => ({
    name: cell.text("name"),
    kind: cell.text("kind") === "rim" ? "rim" : "mountain",
    latitudeDeg: cell.number("lat_deg"),
    longitudeDeg: cell.number("lon_deg"),
    widthKm: cell.number("width_km"),
    heightKm: cell.number("height_km"),
    note: cell.text("note"),
    source: cell.text("source"),
  }));
}

/** A bright star that the Moon can cover. */
export interface OccultedStar {
  /** as it is called */
  readonly name: string;
  /** right ascension of 2000, hours */
  readonly raHours: number;
  /** north positive, degrees of 2000 */
  readonly declinationDeg: number;
  /** own motion along right ascension on the sky, milliarcseconds a year */
  readonly motionRa: number;
  /** own motion northward, milliarcseconds a year */
  readonly motionDec: number;
  /** visual */
  readonly magnitude: number;
  /** where the numbers come from */
  readonly source: string;
}

/**
 * Bright stars near the Moon's way.
 *
 * @throws {RecordRefused} when the table is damaged
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(occultedStars().some(({ name }) => name === "Taygeta"));
 * ```
 */
export function occultedStars(): readonly OccultedStar[] {
  return rowsOf("occulted_stars", (cell) => ({
    name: cell.text("name"),
    raHours: cell.number("ra_h"),
    declinationDeg: cell.number("dec_deg"),
    motionRa: cell.number("motion_ra_mas"),
    motionDec: cell.number("motion_dec_mas"),
    magnitude: cell.number("magnitude"),
    source: cell.text("source"),
  }));
}

/**
 * The value of one decision number, in the unit its row gives.
 *
 * @throws {RangeError} when there is no such row
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(decision("probability_yes"), 0.95);
 * ```
 */
export function decision(name: string): number {
  return named("decision", decisions(), name).value;
}

/**
 * The value of one shared fact, in the unit its row gives.
 *
 * @throws {RangeError} when there is no such row
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(fact("turn_strokes"), 8);
 * ```
 */
export function fact(name: string): number {
  return factRow(name).value;
}

/**
 * One row of the shared facts.
 *
 * @throws {RangeError} when there is no such row
 */
export function factRow(name: string): Fact {
  return named("fact", facts(), name);
}

function named<T extends { readonly name: string }>(
  kind: "decision" | "fact",
  rows: readonly T[],
  name: string,
): T {
  const row = rows.find((one) => one.name === name);
  if (row === undefined) {
    const near = nearest(name, rows.map((one) => one.name)).join(" or ");
    throw new RangeError(
      `${kind} requires a name of data/tables/${kind}s.csv, got ${name}; near: ${near}`,
    );
  }
  return row;
}
