/**
 * A maker's short sentence to the cells of a row: "polished 20 min, lap on top, side 20", "pits 3 at 60",
 * "leaves 0.88+0.25 go, 0.85+0.30 no", "zones 12.01 11.70 11.80". What is not understood is never guessed.
 */
import { findAbrasive } from "./abrasiveNames.ts";
import { clean } from "./clean.ts";
import { nearest } from "./nearest.ts";
import { SCHEMA, type TableName } from "./schema.ts";
import { abrasives } from "./tables.ts";
import { unitFactor } from "./written.ts";

/** A cell as it was typed: a word, or numbers (leaves: several) with the unit that was typed behind them. */
export type NotedCell =
  | string
  | { readonly numbers: readonly string[]; readonly unit?: string };

/** One row by its fields; of a run over the zones `zone_1` and on, empty where not read, and `first_again`. */
export type NotedRow = Readonly<Record<string, NotedCell>>;

/** What a sentence comes to. */
export interface Noted {
  readonly table: TableName;
  readonly rows: readonly NotedRow[];
  /** the grade was not typed and is that of the last such work */
  readonly abrasiveTaken?: string;
}

/** A sentence that was not understood: what in it, the nearest words, an example. */
export class NotUnderstood extends Error {
  override readonly name = "NotUnderstood";
}

/** What the parser needs to know of the mirror. */
export interface NoteContext {
  /** mm */
  readonly aperture: number;
  /** the grade of the last work of this sort in the log */
  readonly lastAbrasive: (sort: "grit" | "polish") => string | undefined;
}

const N = String.raw`[-+\u2212]?(?:\d+[ -])?\d+/\d+|[-+\u2212]?\d+(?:[.,]\d+)?`;
const UNIT = String.raw`mm|cm|inch(?:es)?|in|um|\u00b5m|\u03bcm|thou|mil`;
const STACK = String.raw`(?:${N})(?: ?\+ ?(?:${N}))*`;

/** Words that say nothing by themselves. */
const FILLERS = new Set(
  ("a an and at by for from i in is it its my of on over the then to today was we were with " +
    "after again more about cm2 per").split(" "),
);

/** The sentence, from which what is understood is taken out, bit by bit. */
class Sentence {
  constructor(public rest: string) {}

  /** Takes out the first place that this pattern fits, as whole words. */
  take(pattern: string): readonly (string | undefined)[] | undefined {
    const found = new RegExp(`(?<![\\w.#])(?:${pattern})(?![\\w])`, "i").exec(this.rest);
    if (found === null) return undefined;
    const [whole] = found;
    this.rest = `${this.rest.slice(0, found.index)} | ${
      this.rest.slice(found.index + whole.length)
    }`;
    return found.slice(1);
  }

  /** A number behind one of these words, with its unit. */
  numberBehind(words: string): NotedCell | undefined {
    return numberOf(this.take(String.raw`(?:${words})\s*:?\s*(${N})\s*(${UNIT}|")?`));
  }

  get words(): string[] {
    return this.rest.split(/[\s|,;:]+/).filter((word) =>
      word !== "" && word !== "." && !FILLERS.has(word.toLowerCase())
    );
  }
}

const plain = (text: string): string => text.replace("\u2212", "-").replace(",", ".").trim();

function unitOf(unit: string | undefined): { unit?: string } {
  if (unit === undefined) return {};
  const name = unit === '"' || /^inch/i.test(unit) ? "in" : unit;
  return unitFactor(name, "length") === undefined ? {} : { unit: name };
}

function numberOf(found: readonly (string | undefined)[] | undefined): NotedCell | undefined {
  const [number, unit] = found ?? [];
  return number === undefined ? undefined : { numbers: [plain(number)], ...unitOf(unit) };
}

/** Examples, by what a sentence begins with. */
export const NOTE_EXAMPLES: Readonly<Record<string, string>> = {
  ground: "ground 20 min F80, mirror on top",
  polished: "polished 20 min, lap on top, side 20",
  figured: "figured 4 min, lap on top, side 20, length 50",
  leaves: "leaves 0.88+0.25 go, 0.85+0.30 no",
  depth: "depth 1.135",
  spherometer: "spherometer mirror 5.523 5.524",
  sun: "sun 1199, image 11.1",
  lamp: "lamp 2398",
  zones: "zones 12.01 11.70 11.80 11.93 12.32",
  pits: "pits 3 at 60",
  scratch: "scratch 12 mm at 40",
};

/** What the diary's words are also called. */
const DIARY_ALSO: Readonly<Record<string, string>> = {
  "poured a lap": "lap poured",
  "poured the lap": "lap poured",
  "poured lap": "lap poured",
  "new lap": "lap poured",
  "pressed the lap": "lap pressed",
  "pressed lap": "lap pressed",
  "cold pressed": "lap pressed",
  "warm pressed": "lap pressed",
  "spent charge": "charge spent",
  "bevelled": "bevel renewed",
  "renewed the bevel": "bevel renewed",
  "renewed bevel": "bevel renewed",
  "turned edge": "edge turned",
  "turned-down edge": "edge turned",
  "edge turned down": "edge turned",
  "washed the mirror": "washed",
  "sent for coating": "sent to be coated",
  "sent to coating": "sent to be coated",
  "sent out to be coated": "sent to be coated",
  "coating came back": "coated",
  "back from coating": "coated",
  "saw a star": "star seen",
  "saw the star": "star seen",
  "first light": "star seen",
  "no pit": "no pits",
  "pit": "pits",
  "scratched": "scratch",
  "scratches": "scratch",
  "chipped": "chip",
};

const WORK =
  "(?:rough |fine )?(?:ground|grinding|grind|polished|polishing|polish|figured|figuring|figure)";

/**
 * Reads a sentence.
 *
 * @param typed    what was typed behind the record's name
 * @param context  the aperture, and which grade was used last
 * @throws {NotUnderstood} one sentence with the nearest words and an example
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const context = { aperture: 150, lastAbrasive: () => "cerium oxide" };
 * const { table, rows } = noteWords("polished 20 min, lap on top, side 20", context);
 * assert.equal(table, "grinding");
 * assert.deepEqual(rows[0]?.["side"], { numbers: ["20"] });
 * ```
 */
export function noteWords(typed: string, context: NoteContext): Noted {
  const sentence = new Sentence(typed.replace(/\s+/g, " ").trim());
  const own = /(?:^|[\s,;])note:? (.+)$/i.exec(sentence.rest);
  if (own !== null) sentence.rest = sentence.rest.slice(0, own.index);
  const day = sentence.take(String.raw`(?:on )?(\d{4}-\d\d-\d\d)`)?.[0];
  const shared: NotedRow = {
    ...(own?.[1] === undefined ? {} : { note: own[1] }),
    ...(day === undefined ? {} : { date: day }),
  };
  sentence.rest = sentence.rest.replace(/^[\s|,;]+/, "");
  if (sentence.rest === "") throw unknown("");
  const noted = begun(sentence, context);
  return { ...noted, rows: noted.rows.map((row) => ({ ...row, ...shared })) };
}

function begun(sentence: Sentence, context: NoteContext): Noted {
  const first = (words: string): boolean =>
    new RegExp(`^(?:${words})(?!\\w)`, "i").test(sentence.rest);
  const begin = (words: string): void => void sentence.take(words);
  if (first("zones?")) {
    begin("zones?");
    return zones(sentence);
  }
  if (first("leaves|leaf|feelers?|feeler leaves")) {
    begin("feeler leaves|leaves|leaf|feelers?");
    return leaves(sentence);
  }
  if (first("depth")) {
    begin("depth(?: gauge)?");
    return depth(sentence);
  }
  if (first("spherometer|dial")) {
    begin("spherometer|dial");
    return spherometer(sentence);
  }
  if (first("lamp")) {
    begin("lamp");
    return lamp(sentence);
  }
  if (first("sun")) {
    begin("sun(?:'s image)?");
    return sun(sentence);
  }
  if (first(WORK)) return work(sentence, context);
  return diary(sentence, context);
}

/** Refuses what is left over, and hands on what there is. */
function whole(
  sentence: Sentence,
  table: TableName,
  like: string,
  rows: readonly NotedRow[],
): Noted {
  const [word] = sentence.words;
  if (word !== undefined) throw leftOver(sentence.words.join(" "), word, table, like);
  return { table, rows };
}

const HINTS: Partial<Record<TableName, readonly string[]>> = {
  grinding: [
    "min",
    "lap on top",
    "mirror on top",
    "tool on top",
    "side",
    "length",
    "strokes",
    "note",
  ],
  sagitta: ["go", "no", "chord", "angle", "after", "note"],
  spherometer: ["flat", "mirror", "note"],
  sun: ["distance", "image", "note"],
  lamp: ["distance", "note"],
  zones: ["run", "angle", "knife", "again", "outward", "inward", "note"],
  diary: ["at", "note"],
};

function leftOver(all: string, word: string, table: TableName, like: string): NotUnderstood {
  const known = HINTS[table] ?? [];
  const near = [...new Set([...nearest(all, known, 3), ...nearest(word, known, 3)])].slice(0, 3);
  const meant = near.length > 0
    ? `did you mean ${near.join(" or ")}?`
    : "free words go behind note";
  return new NotUnderstood(
    `"${clean(all, 60)}" is not understood here: ${meant} Such as: ${NOTE_EXAMPLES[like]}`
      .replace("note Such", "note. Such"),
  );
}

function unknown(typed: string): NotUnderstood {
  const words = [
    ...Object.keys(NOTE_EXAMPLES),
    ...SCHEMA.diary.columns.what.choices,
  ];
  const two = typed.split(" ").slice(0, 2).join(" "), [one = ""] = typed.split(" ");
  const near = [...new Set([...nearest(two, words, 3), ...nearest(one, words, 3)])].slice(0, 3);
  const example = NOTE_EXAMPLES[near[0] ?? ""] ?? near[0] ?? NOTE_EXAMPLES["polished"];
  const meant = near.length > 0
    ? `did you mean ${near.join(" or ")}?`
    : `begin with what was done or read: ground, polished, leaves, sun, zones, pits, lap poured ...`;
  return new NotUnderstood(
    typed === ""
      ? `Nothing to note: ${meant.replace(/ \.\.\.$/, "")}. Such as: ${example}`
      : `"${
        clean(typed, 60)
      }" is no act, sight or reading the kit knows: ${meant} Such as: ${example}`,
  );
}

function asked(what: string, like: string): NotUnderstood {
  return new NotUnderstood(`${what} Such as: ${NOTE_EXAMPLES[like]}`);
}

/** Minutes typed as minutes, hours, or both. */
function minutesIn(sentence: Sentence): string | undefined {
  const [hours, rest] = sentence.take(
    String.raw`(${N}) ?(?:hours?|hrs?|h)(?: ?(?:and )?(\d+) ?(?:minutes?|mins?)?)?`,
  ) ?? [];
  if (hours !== undefined) {
    return String(Number((60 * Number(plain(hours)) + Number(rest ?? 0)).toPrecision(9)));
  }
  const [minutes] = sentence.take(String.raw`(${N}) ?(?:minutes?|mins?|min\.?)`) ?? [];
  return minutes === undefined ? undefined : plain(minutes);
}

function positionIn(sentence: Sentence): string | undefined {
  const { choices, also } = SCHEMA.grinding.columns.position;
  const words: [string, string][] = [
    ...choices.map((word): [string, string] => [word, word]),
    ...Object.entries<string>(also),
  ];
  const found = words.find(([word]) => sentence.take(word) !== undefined);
  return found?.[1];
}

/** A grade: one, two or three words of what is left that the abrasives' names know. */
function abrasiveIn(sentence: Sentence): string | undefined {
  const { words } = sentence;
  for (const count of [3, 2, 1]) {
    for (let at = 0; at + count <= words.length; at++) {
      const some = words.slice(at, at + count);
      const { name } = findAbrasive(some.join(" "));
      if (name === undefined) continue;
      const kept = [...words.slice(0, at), ...words.slice(at + count)];
      sentence.rest = kept.join(" ");
      return name;
    }
  }
  // a number without its scale, a misspelt oxide: its own question
  const odd = words.length === 1 ? words.find((word) => /^#?[fp]?\d/i.test(word)) : undefined;
  if (odd !== undefined) {
    throw new NotUnderstood(
      `"${clean(odd, 60)}" is no grade: ${findAbrasive(odd).mend} Such as: ${
        NOTE_EXAMPLES["ground"]
      }`,
    );
  }
  return undefined;
}

function isPolish(name: string): boolean {
  return abrasives().find((one) => one.name === name)?.scale === "polish";
}

function work(sentence: Sentence, { lastAbrasive }: NoteContext): Noted {
  const [verb = ""] = sentence.take(`(${WORK})`) ?? [];
  const sort = /gr(ou|i)nd/i.test(verb) ? "grit" : "polish";
  const like = sort === "grit" ? "ground" : /figur/i.test(verb) ? "figured" : "polished";
  const minutes = minutesIn(sentence);
  const position = positionIn(sentence);
  const strokes = numberOf(
    sentence.take(String.raw`(\d+) strokes?|strokes (\d+)`)?.filter((one) => one !== undefined),
  );
  const side = sentence.numberBehind("to the side by|to the side|aside|beside|side") ??
    numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}) (?:to the side|beside(?: the centre)?)`));
  const length = sentence.numberBehind("stroke length|strokes of|length") ??
    numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}) long`));
  const typed = abrasiveIn(sentence);
  const row: Record<string, NotedCell> = {};
  const { words } = sentence;
  if (words.length > 0 && minutes !== undefined && position !== undefined) {
    whole(sentence, "grinding", like, []);
  }
  if (minutes === undefined) throw asked("How many minutes?", like);
  if (position === undefined) {
    const near = words.length === 0
      ? undefined
      : nearest(words.join(" "), HINTS.grinding ?? [], 1)[0];
    throw asked(
      near === undefined
        ? "Which disc lay on top: mirror on top, or lap (tool) on top?"
        : `"${clean(words.join(" "), 60)}" is not understood here: did you mean ${near}?`,
      like,
    );
  }
  const abrasive = typed ?? lastAbrasive(sort);
  if (abrasive === undefined) {
    throw new NotUnderstood(
      `With which ${sort === "grit" ? "grade" : "oxide"}? The log has none yet. Such as: ${
        sort === "grit" ? NOTE_EXAMPLES["ground"] : "polished 20 min cerium oxide, lap on top"
      }`,
    );
  }
  if (isPolish(abrasive) !== (sort === "polish")) {
    throw new NotUnderstood(
      `${abrasive} ${
        sort === "grit" ? "polishes; write polished" : "is a grit and grinds; write ground"
      }. Such as: ${NOTE_EXAMPLES[sort === "grit" ? "polished" : "ground"]}`,
    );
  }
  Object.assign(row, { abrasive, position, minutes: { numbers: [minutes] } });
  if (strokes !== undefined) row["strokes"] = strokes;
  if (side !== undefined) row["side"] = side;
  if (length !== undefined) row["length"] = length;
  return {
    ...whole(sentence, "grinding", like, [row]),
    ...(typed === undefined ? { abrasiveTaken: abrasive } : {}),
  };
}

/** mm as a cell of pure numbers has them. */
function inMm(cell: NotedCell): NotedCell {
  if (typeof cell === "string" || cell.unit === undefined) return cell;
  const factor = unitFactor(cell.unit, "length") ?? 1;
  return { numbers: cell.numbers.map((one) => trimmed(valueOf(one) * factor)) };
}

/** A typed number, fractions too. */
export function valueOf(typed: string): number {
  const fraction = /^([-+]?)(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(typed);
  if (fraction === null) return Number(typed);
  const [, sign, whole = "0", top, bottom] = fraction;
  return (sign === "-" ? -1 : 1) * (Number(whole) + Number(top) / Number(bottom));
}

function trimmed(value: number): string {
  return String(Number(value.toPrecision(9)));
}

function diary(sentence: Sentence, { aperture }: NoteContext): Noted {
  const typed = sentence.rest, { choices } = SCHEMA.diary.columns.what;
  const words: [string, string][] = [
    ...choices.map((word): [string, string] => [word, word]),
    ...Object.entries(DIARY_ALSO),
  ];
  const found = words.sort(([a], [b]) => b.length - a.length)
    .find(([word]) => new RegExp(`^(?:a |an |the )?${word}(?!\\w)`, "i").test(typed));
  if (found === undefined) throw unknown(typed);
  const [word, what] = found;
  sentence.take(word);
  const row: Record<string, NotedCell> = { what };
  const place = sentence.take("at (?:the )?(edge|rim|centre|center|middle)")?.[0];
  const where = place !== undefined
    ? { numbers: [/edge|rim/i.test(place) ? trimmed(aperture / 2) : "0"], unit: "mm" }
    : sentence.numberBehind("at|where");
  if (where !== undefined) row["where"] = where;
  const minutes = what === "lap pressed" ? minutesIn(sentence) : undefined;
  const amount = minutes !== undefined
    ? { numbers: [minutes] }
    : numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}|")?`));
  if (amount !== undefined) row["amount"] = inMm(amount);
  const like = what === "pits" || what === "scratch" ? what : "pits";
  return whole(sentence, "diary", like, [row]);
}

function stack(text: string, unit: string | undefined): NotedCell {
  return { numbers: text.split("+").map(plain), ...unitOf(unit) };
}

function leaves(sentence: Sentence): Noted {
  const row: Record<string, NotedCell> = {};
  for (const [field, words] of [["chord", "chord"], ["angle", "angle"], ["afterMin", "after"]]) {
    const cell = sentence.numberBehind(words ?? "");
    if (cell !== undefined) row[field ?? ""] = cell;
  }
  sentence.take("minutes?|mins?");
  const isNumberFirst = /^[\s|,;:]*[\d(]/.test(sentence.rest);
  const stops = "no-go|nogo|no go|not|no|stops?|does not(?: go| pass)?";
  const goes = "goes|go|passes|passed|pass|yes";
  const behind = (words: string): NotedCell | undefined => {
    const [text, unit] = sentence.take(String.raw`(${STACK}) ?(${UNIT}|")? ?(?:${words})`) ?? [];
    return text === undefined ? undefined : stack(text, unit);
  };
  const before = (words: string): NotedCell | undefined => {
    const [text, unit] = sentence.take(String.raw`(?:${words}):? ?(${STACK}) ?(${UNIT}|")?`) ?? [];
    return text === undefined ? undefined : stack(text, unit);
  };
  const found = isNumberFirst
    ? { nogo: behind(stops), go: behind(goes) }
    : { nogo: before(stops), go: before(goes) };
  const bare = (): NotedCell | undefined => {
    const [text, unit] = sentence.take(String.raw`(${STACK}) ?(${UNIT}|")?`) ?? [];
    return text === undefined ? undefined : stack(text, unit);
  };
  const go = found.go ?? bare(), nogo = found.nogo ?? bare();
  if (go === undefined || nogo === undefined) {
    throw asked("Two stacks are wanted: the leaves that go, and the next that do not.", "leaves");
  }
  return whole(sentence, "sagitta", "leaves", [{ ...row, go, nogo }]);
}

function depth(sentence: Sentence): Noted {
  const row: Record<string, NotedCell> = {};
  for (const [field, words] of [["chord", "chord"], ["angle", "angle"], ["afterMin", "after"]]) {
    const cell = sentence.numberBehind(words ?? "");
    if (cell !== undefined) row[field ?? ""] = cell;
  }
  sentence.take("minutes?|mins?");
  const value = numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}|")?`));
  if (value === undefined) throw asked("Which depth?", "depth");
  return whole(sentence, "sagitta", "depth", [{ ...row, depth: value }]);
}

function spherometer(sentence: Sentence): Noted {
  const surface = sentence.take("on (?:the )?(flat|mirror)|(flat|mirror)")?.find((one) =>
    one !== undefined
  )?.toLowerCase();
  if (surface === undefined) throw asked("On flat glass, or on the mirror?", "spherometer");
  const rows: NotedRow[] = [];
  for (;;) {
    const dial = numberOf(sentence.take(String.raw`(${N}) ?(${UNIT})?`));
    if (dial === undefined) break;
    rows.push({ surface, dial });
  }
  if (rows.length === 0) throw asked("What does the dial show?", "spherometer");
  return whole(sentence, "spherometer", "spherometer", rows);
}

function sun(sentence: Sentence): Noted {
  const image = sentence.numberBehind("image");
  const distance = sentence.numberBehind("distance") ??
    numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}|m)?`));
  if (image === undefined && distance === undefined) throw asked("How far, or how wide?", "sun");
  return whole(sentence, "sun", "sun", [{
    ...(distance === undefined ? {} : { distance }),
    ...(image === undefined ? {} : { image }),
  }]);
}

function lamp(sentence: Sentence): Noted {
  const distance = sentence.numberBehind("distance") ??
    numberOf(sentence.take(String.raw`(${N}) ?(${UNIT}|m)?`));
  if (distance === undefined) throw asked("How far from the glass?", "lamp");
  return whole(sentence, "lamp", "lamp", [{ distance }]);
}

function zones(sentence: Sentence): Noted {
  const row: Record<string, NotedCell> = {};
  const run = sentence.take(String.raw`run:? ([\w.-]+)`)?.[0];
  if (run !== undefined) row["run"] = run;
  for (
    const [field, words] of [
      ["angleDeg", "angle|mark at|mark"],
      ["knifeDeg", "knife at|knife"],
      ["first_again", "first again|again"],
    ]
  ) {
    const cell = sentence.numberBehind(words ?? "");
    if (cell !== undefined) row[field ?? ""] = cell;
  }
  sentence.take("deg(?:rees)?");
  const order = sentence.take("(outward|inward)s?")?.[0]?.toLowerCase();
  if (order !== undefined) row["order"] = order;
  // a dash or an x is a zone that was not read; a slash between two spaces begins the next run
  const isEach = (one: string): boolean => new RegExp(`^(?:${N})$`).test(one);
  const rows = sentence.rest.split(/\s\/(?=\s|$)/).map((part): NotedRow => {
    const parts = part.split(/[\s|;]+|,(?=\s|$)/).filter((one) => one !== "");
    const stranger = parts.find((one) => !isEach(one) && !/^[-x]$/i.test(one));
    if (stranger !== undefined) throw leftOver(stranger, stranger, "zones", "zones");
    if (!parts.some(isEach)) {
      throw asked("The knife's readings are wanted, from the centre outward.", "zones");
    }
    const readings = parts.map((one, at): [string, NotedCell] => [
      `zone_${at + 1}`,
      isEach(one) ? { numbers: [plain(one)] } : "",
    ]);
    return { ...row, ...Object.fromEntries(readings) };
  });
  return { table: "zones", rows };
}
