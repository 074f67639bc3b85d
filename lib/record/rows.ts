/** Values to typed rows, table by table, with the checks that look at more than one cell. */
import type { Values } from "./cells.ts";
import { mm } from "./readings.ts";
import { type Findings, shown } from "./errors.ts";
import type {
  GrindingRow,
  RonchiRow,
  Row,
  SagittaRow,
  Settings,
  SpherometerRow,
  SunRow,
} from "./types.ts";

/** What a table's checks may look at besides the row itself. */
export interface Bench {
  readonly file: string;
  readonly settings: Settings;
  readonly findings: Findings;
}

/** What every row has. */
export function base(values: Values, file: string): Row {
  const date = values.texts.get("date");
  const afterMin = values.numbers.get("after");
  const note = values.texts.get("note");
  return {
    file,
    line: values.line,
    ...(date === undefined ? {} : { date }),
    ...(afterMin === undefined ? {} : { afterMin }),
    ...(note === undefined ? {} : { note }),
  };
}

/** The optional numbers of a row, by the names they bear in it. */
export function optional<K extends string>(
  values: Values,
  names: Readonly<Record<K, string>>,
): Partial<Record<K, number>> {
  const found: Partial<Record<K, number>> = {};
  for (const key of Object.keys(names) as K[]) {
    const value = values.numbers.get(names[key]);
    if (value !== undefined) found[key] = value;
  }
  return found;
}

/** One stretch of grinding. */
export function grindingRow(values: Values, { file }: Bench): GrindingRow | undefined {
  const abrasive = values.texts.get("abrasive");
  const position = values.texts.get("position");
  const minutes = values.numbers.get("minutes");
  if (abrasive === undefined || position === undefined || minutes === undefined) return undefined;
  return {
    ...base(values, file),
    abrasive,
    position: position === "tool on top" ? "tool on top" : "mirror on top",
    minutes,
    ...optional(values, { strokes: "strokes" }),
  };
}

/** One depth: a bracket of leaves or a depth gauge. */
export function sagittaRow(values: Values, { file, settings, findings }: Bench): SagittaRow {
  const place = (name: string): { file: string; line: number; column: string } => ({
    file,
    line: values.line,
    column: values.headers.get(name) ?? `${name}_mm`,
  });
  const go = values.leaves.get("go");
  const nogo = values.leaves.get("nogo");
  const more = optional(values, { depth: "depth", chord: "chord", angle: "angle" });
  if (go !== undefined && nogo !== undefined) {
    const [passed, stopped] = [total(go), total(nogo)];
    if (!(stopped > passed + 1e-9)) {
      const wanted = `more than the go of ${mm(passed)}`;
      findings.refuse(
        place("nogo"),
        mm(stopped),
        wanted,
        "the no-go is the next thicker stack; are they swapped?",
      );
    }
  } else if (go !== undefined || nogo !== undefined) {
    const [missing, there] = go === undefined ? ["go", "no-go"] : ["nogo", "go"];
    const mend = "give the stack that passes and the next that does not";
    findings.refuse(place(missing), "nothing", `its pair, for there is a ${there}`, mend);
  } else if (more.depth === undefined) {
    const column = values.headers.has("depth") && !values.headers.has("go") ? "depth" : "go";
    findings.refuse(
      place(column),
      "nothing",
      "go and no-go, or a depth",
      "write the reading, or take the row out",
    );
  }
  if ((go !== undefined || nogo !== undefined) && more.depth !== undefined) {
    const found = "a depth beside leaves";
    findings.refuse(
      place("depth"),
      found,
      "one reading in a row",
      "give each reading a row of its own",
    );
  }
  if (more.chord !== undefined && more.chord > settings.aperture + 1e-6) {
    const wanted = `no more than the aperture of ${mm(settings.aperture)}`;
    findings.refuse(
      place("chord"),
      mm(more.chord),
      wanted,
      "measure where the straight-edge rests on the face",
    );
  }
  return {
    ...base(values, file),
    ...(go === undefined ? {} : { go }),
    ...(nogo === undefined ? {} : { nogo }),
    ...more,
  };
}

function total(leaves: readonly number[]): number {
  return leaves.reduce((sum, leaf) => sum + leaf, 0);
}

/** One dial reading. */
export function spherometerRow(values: Values, { file }: Bench): SpherometerRow | undefined {
  const surface = values.texts.get("surface");
  const dial = values.numbers.get("dial");
  if (surface === undefined || dial === undefined) return undefined;
  return { ...base(values, file), surface: surface === "flat" ? "flat" : "mirror", dial };
}

/** One look at the Sun's image. */
export function sunRow(values: Values, { file, findings }: Bench): SunRow {
  const row = {
    ...base(values, file),
    ...optional(values, { distance: "distance", image: "image" }),
  };
  if (row.distance === undefined && row.image === undefined) {
    const column = values.headers.get("distance") ?? values.headers.get("image") ?? "distance_mm";
    const mend = "write the reading, or take the row out";
    findings.refuse({ file, line: values.line, column }, "nothing", "a distance or an image", mend);
  }
  return row;
}

/** One photograph through a grating. Its file is looked at later. */
export function ronchiRow(values: Values, { file, findings }: Bench): RonchiRow | undefined {
  const photo = values.texts.get("photo");
  const linesPerMm = values.numbers.get("lines_per");
  const offset = values.numbers.get("offset");
  if (photo !== undefined && photo.includes("\0")) {
    findings.refuse(
      { file, line: values.line, column: "photo" },
      shown(photo),
      "a file name",
      "mend it",
    );
  }
  if (photo === undefined || linesPerMm === undefined || offset === undefined) return undefined;
  const inPhotos = /[\\/]/.test(photo) ? photo : `photos/${photo}`;
  return {
    ...base(values, file),
    photo: inPhotos,
    linesPerMm,
    offset,
    ...optional(values, { offsetU: "offset_u", gamma: "gamma" }),
    ...discByHand(values, file, findings),
  };
}

/** The disc as the maker measured it: all three numbers or none. */
function discByHand(
  values: Values,
  file: string,
  findings: Bench["findings"],
): Pick<RonchiRow, "disc"> {
  const names = ["disc_x_px", "disc_y_px", "disc_radius_px"] as const;
  const [x, y, radius] = names.map((name) => values.numbers.get(name));
  if (x !== undefined && y !== undefined && radius !== undefined) return { disc: { x, y, radius } };
  const lacking = names.filter((name) => values.numbers.get(name) === undefined);
  const [column] = lacking;
  if (lacking.length < 3 && column !== undefined) {
    findings.refuse(
      { file, line: values.line, column },
      "nothing",
      "the disc's middle and radius together",
      "fill in all three, or none",
    );
  }
  return {};
}
