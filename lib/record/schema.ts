/**
 * Every table's columns as data. Row types, reader, refusals, frames, template, the guide's tables and the sheets to write
 * on follow from these rows; a column more is a row more here, and `RECORD=1 deno test -A tests/record/guide.test.ts`
 * writes it into the guide.
 */
import { BASE, type Dimension } from "./written.ts";

/** What a cell may hold, and the range beyond which it is refused. */
export type Holds =
  /** a length in mm, a time in min, a mass in g, an angle in rad, within a range in that unit; the header names its unit */
  | { readonly kind: Dimension; readonly least: number; readonly most: number }
  /** a direction, 0 to a full turn; a row holds it in degrees */
  | { readonly kind: "turn" }
  /** how many per mm; header such as `lines_per_mm` */
  | { readonly kind: "per length"; readonly least: number; readonly most: number }
  /** a pure number, or one whose unit stands in the column's name */
  | { readonly kind: "number"; readonly least: number; readonly most: number }
  /** feeler leaves joined by plus signs; `most` is what they may come to, mm */
  | { readonly kind: "leaves"; readonly most: number }
  /** words to choose from; `also`: what else is read, in small letters, and as which of them */
  | {
    readonly kind: "choice";
    readonly choices: readonly string[];
    readonly also?: Readonly<Record<string, string>>;
  }
  /** a row of data/tables/abrasives.csv */
  | { readonly kind: "abrasive" }
  | { readonly kind: "date" }
  /** what the clock of the place shows, as `21:43` or `21:43:10.5`; by `site: time_zone` of mirror.yaml */
  | { readonly kind: "clock" }
  /** a file in the folder photos, or a path inside the record */
  | { readonly kind: "photo" }
  /** a name, kept fit to be printed */
  | { readonly kind: "name" }
  /** a maker's own words, kept as they are and made fit where they are printed */
  | { readonly kind: "words" };

/** What is told of a column besides. */
export interface Words {
  /** without its unit, e.g. "after" of `after_min`; else the field's own name, `offsetU` as "offset_u" */
  readonly name?: string;
  /** the table is refused without it, and so is a row that leaves it empty */
  readonly required?: true;
  /** not in the header of a fresh table, only named in its remarks */
  readonly rare?: true;
  /** in a few words, for refusals, sheets and the guide */
  readonly meaning: string;
  /** what the guide says besides */
  readonly more?: string;
  /** a cell as a maker would write it */
  readonly example: string;
}

/** One row of the schema; its key is the field's name in a row that was read. */
export type ColumnRow = Holds & Words;

interface TableRows {
  /** what the table is, after its name in the guide */
  readonly title: string;
  /** what stands above a fresh table, a line each */
  readonly remarks: readonly string[];
  /** whether a fresh table has `after_min`, so that a reading can be laid against the log */
  readonly timed?: true;
  /** rows of a fresh table, behind a mark; what is not said here is each column's own example */
  readonly samples: readonly Readonly<Record<string, string>>[];
  readonly columns: Readonly<Record<string, ColumnRow>>;
}

/** Columns that any table may have. */
export const COMMON = {
  date: {
    kind: "date",
    meaning: "the day of the reading, year first",
    more: "in every row of a table or in none, and none after today",
    example: "2026-04-18",
  },
  /** minutes of grinding so far */
  afterMin: {
    kind: "time",
    name: "after",
    least: 0,
    most: 1_440_000,
    meaning: "minutes of grinding so far, so that a reading can be laid against the log",
    more: "the minutes of `grinding.csv` added up",
    example: "120",
  },
  /** minutes of grinding since the row above; read as `afterMin`, which the reader adds up */
  minutes: {
    kind: "number",
    least: 0,
    most: 1_440_000,
    rare: true,
    meaning:
      "in place of `after_min`: minutes of grinding since the row above, added up by the kit",
    more: "none where empty; a row has one of the two",
    example: "20",
  },
  note: { kind: "words", meaning: "anything worth telling", example: "wet, read twice" },
} as const satisfies Readonly<Record<string, ColumnRow>>;

/** The tables, and of each the columns it may have besides the common ones. */
export const SCHEMA = {
  grinding: {
    title: "each stretch of grinding and polishing",
    remarks: [
      "Every stretch of grinding, as it happens. abrasive: F80, #400, cerium oxide; position: mirror on top, tool on top.",
    ],
    samples: [{ date: "2026-03-21", note: "first charge" }],
    columns: {
      /** name of a row of data/tables/abrasives.csv */
      abrasive: {
        kind: "abrasive",
        required: true,
        meaning: "as it stands on the jar: F80, #400, P400, cerium oxide",
        more:
          "`F80`, `#400` and `P400` are three scales, never mixed; a size in microns is asked about",
        example: "F80",
      },
      position: {
        kind: "choice",
        choices: ["mirror on top", "tool on top"],
        also: {
          "lap on top": "tool on top",
          "tool above": "tool on top",
          "lap above": "tool on top",
          "mirror below": "tool on top",
          "mirror underneath": "tool on top",
          "tot": "tool on top",
          "mirror above": "mirror on top",
          "tool below": "mirror on top",
          "tool underneath": "mirror on top",
          "lap below": "mirror on top",
          "lap underneath": "mirror on top",
          "mot": "mirror on top",
        },
        required: true,
        meaning: "which disc lies on top: `mirror on top` or `tool on top`",
        more: "`lap on top` is read as `tool on top`",
        example: "mirror on top",
      },
      minutes: {
        kind: "number",
        least: 0,
        most: 1440,
        required: true,
        meaning: "how long this stretch lasted, minutes",
        example: "20",
      },
      strokes: {
        kind: "number",
        least: 0,
        most: 1e6,
        meaning: "strokes in it, there and back counting one",
        example: "800",
      },
      /** of the stroke's line from the centre, mm */
      side: {
        kind: "length",
        least: 0,
        most: 100_000,
        meaning: "how far the stroke's line lies beside the centre",
        more: "as the next step says it",
        example: "37.5",
      },
      /** of the stroke from end to end, mm */
      length: {
        kind: "length",
        least: 0,
        most: 100_000,
        meaning: "how long a stroke is, from end to end",
        example: "50",
      },
    },
  },
  sagitta: {
    title: "the depth of the curve under a straight-edge",
    remarks: [
      "Leaves that pass under the straight-edge (go), and the next stack that does not (nogo). after_min: minutes ground so far.",
      "A depth gauge instead: a column depth_mm. Leaves in inches: go_in,nogo_in.",
    ],
    timed: true,
    samples: [{
      date: "2026-03-21",
      afterMin: "20",
      go: "0.15+0.04",
      nogo: "0.20",
      note: "across the mark",
    }],
    columns: {
      /** leaves that passed together, mm each, as read: `0.88+0.25` is [0.88, 0.25] */
      go: {
        kind: "leaves",
        most: 100,
        meaning: "leaves that pass together under the straight-edge",
        more: "joined by plus signs, or their sum",
        example: "0.88+0.25",
      },
      /** leaves of the next stack, which did not pass, mm each */
      nogo: {
        kind: "leaves",
        most: 100,
        meaning: "the next stack, which does not pass",
        example: "0.85+0.30",
      },
      /** a depth gauge's reading, mm; a row has either this or go and nogo */
      depth: {
        kind: "length",
        least: 0,
        most: 1000,
        rare: true,
        meaning: "a depth gauge's reading, where no leaves are used",
        more: "a row has either this or the two stacks",
        example: "1.135",
      },
      /** where the straight-edge rests, mm; absent means the aperture less both bevels */
      chord: {
        kind: "length",
        least: 0.1,
        most: 100_000,
        rare: true,
        meaning: "where the straight-edge rests, if not just inside both bevels",
        more: "the whole width, not half of it",
        example: "148",
      },
      /** which diameter, rad */
      angle: {
        kind: "angle",
        least: -7,
        most: 7,
        rare: true,
        meaning: "which diameter was read, from the mark on the disc",
        example: "120",
      },
    },
  },
  spherometer: {
    title: "the dial on flat glass and on the mirror",
    remarks: [
      "The dial on flat glass, then on the mirror, several times each. mirror.yaml must have gauges: spherometer.",
    ],
    timed: true,
    samples: [{ afterMin: "338", surface: "flat", dial: "5.001" }, { afterMin: "338" }],
    columns: {
      surface: {
        kind: "choice",
        choices: ["flat", "mirror"],
        required: true,
        meaning: "`flat` for the zero on flat glass, `mirror` for the mirror",
        more: "both are needed",
        example: "mirror",
      },
      /** mm */
      dial: {
        kind: "length",
        least: -1000,
        most: 1000,
        required: true,
        meaning: "what the dial shows",
        example: "5.523",
      },
    },
  },
  sun: {
    title: "the Sun's image",
    remarks: [
      "A trained adult is in charge. Never look at the Sun, nor at its image on the glass: a card catches it, the shadow aims, stand beside, cover the mirror.",
      "Middle of the wetted glass to the Sun's sharpest image on a card; image_mm is its diameter.",
    ],
    timed: true,
    samples: [{ afterMin: "338" }],
    columns: {
      /** centre of the glass to the Sun's image, mm */
      distance: {
        kind: "length",
        least: 0,
        most: 100_000,
        meaning: "centre of the mirror's face to the Sun's sharpest image",
        example: "1199",
      },
      /** diameter of the image, mm */
      image: {
        kind: "length",
        least: 0,
        most: 10_000,
        meaning: "diameter of that image",
        more: "a row has one of the two or both",
        example: "11.1",
      },
      /** which diameter was sharpest, rad */
      angle: {
        kind: "angle",
        least: -7,
        most: 7,
        rare: true,
        meaning: "which diameter was sharpest, from the mark on the disc, where they differ",
        example: "90",
      },
    },
  },
  lamp: {
    title: "a lamp at the centre of curvature",
    remarks: [
      "Lamp and white card side by side on one box; slide it until the lamp's picture on the card is sharpest. Wet the glass. No Sun.",
      "Middle of the glass to the box, about twice the focal length; five settings, from both sides.",
    ],
    timed: true,
    samples: [{ afterMin: "338" }],
    columns: {
      /** centre of the glass to lamp and card, mm */
      distance: {
        kind: "length",
        least: 0,
        most: 100_000,
        required: true,
        meaning: "centre of the mirror's face to the lamp, where its picture beside it is sharpest",
        more: "this is R, twice the focal length",
        example: "2398",
      },
    },
  },
  zones: {
    title: "the knife behind a mask",
    remarks: [
      "Knife readings, one row for each opening of the mask in each run. Edges are radii, from the centre outward.",
      "angle_deg: where the mirror's mark stood, counter-clockwise from the top; knife_deg: 0 upright, 90 on its side.",
      "With mask in mirror.yaml, one row for each run: date,run,angle_deg,knife_deg,zone_1_mm,zone_2_mm,zone_3_mm,note",
    ],
    samples: [
      { date: "2026-06-12", angleDeg: "0", knifeDeg: "0", inner: "0", outer: "30" },
      { date: "2026-06-12", angleDeg: "0", knifeDeg: "0" },
    ],
    columns: {
      run: {
        kind: "name",
        required: true,
        meaning: "a name for one pass over all zones",
        example: "1",
      },
      /** edges of the opening, mm from the centre */
      inner: {
        kind: "length",
        least: 0,
        most: 100_000,
        required: true,
        meaning: "inner edge of the mask's opening, from the centre",
        more: "a radius",
        example: "30",
      },
      outer: {
        kind: "length",
        least: 0,
        most: 100_000,
        required: true,
        meaning: "its outer edge, from the centre",
        example: "45",
      },
      /** knife position along the axis, mm, larger = farther from the mirror */
      reading: {
        kind: "length",
        least: -100_000,
        most: 100_000,
        required: true,
        meaning: "knife along the axis, larger is farther from the mirror, zero anywhere",
        example: "12.34",
      },
      /** where the mirror's mark stood, degrees counter-clockwise from the top as seen from the front; absent means 0 */
      angleDeg: {
        kind: "turn",
        name: "angle",
        meaning:
          "where the mirror's mark stood, counter-clockwise from the top, seen from the front; 0 where empty",
        example: "45",
      },
      /** the knife's edge from the vertical, degrees counter-clockwise; absent means 0 */
      knifeDeg: {
        kind: "turn",
        name: "knife",
        meaning:
          "the knife's edge and the slit's, counter-clockwise from the vertical; 0 where empty",
        more: "at 90 the upper window of a pair takes the place of the right one",
        example: "90",
      },
      /** which way the zones were read; absent means as the rows stand */
      order: {
        kind: "choice",
        choices: ["outward", "inward"],
        rare: true,
        meaning: "which way the zones were read, `outward` or `inward`; else as the rows stand",
        example: "outward",
      },
    },
  },
  knife: {
    title: "photographs behind the knife",
    remarks: [
      "The mirror's shadow picture by a phone behind the knife, the whole disc, in a dark room: JPEG or PNG files in the folder photos.",
      "Twelve of one sitting: six places along the axis from the middle's centre of curvature to the rim's, knife upright; the same six with knife and slit turned by 90.",
      "Exposure, focus and zoom locked, the phone on a stand, nothing burnt out white. at: larger is farther from the mirror, zero anywhere.",
    ],
    samples: [
      { date: "2026-06-14", photo: "knife-1.jpg", angleDeg: "0", knifeDeg: "0" },
      { date: "2026-06-14", photo: "knife-7.jpg", angleDeg: "0", knifeDeg: "90" },
    ],
    columns: {
      /** path inside the record's folder */
      photo: {
        kind: "photo",
        required: true,
        meaning: "a file in photos/",
        more: "JPEG or PNG, the whole picture as the camera stored it",
        example: "knife-1.jpg",
      },
      /** knife along the axis, mm, larger = farther from the mirror */
      at: {
        kind: "length",
        least: -100_000,
        most: 100_000,
        required: true,
        meaning: "knife along the axis, larger is farther from the mirror, zero anywhere",
        example: "12.35",
      },
      /** knife across the axis, mm, larger = farther in */
      across: {
        kind: "length",
        least: -100_000,
        most: 100_000,
        meaning: "how far the knife is pushed in, larger cuts more, zero anywhere; if it was read",
        example: "3.02",
      },
      /** where the mirror's mark stood, degrees counter-clockwise from the top as seen from the front; absent means 0 */
      angleDeg: {
        kind: "turn",
        name: "angle",
        meaning:
          "where the mirror's mark stood, counter-clockwise from the top, seen from the front; 0 where empty",
        example: "0",
      },
      /** the knife's edge from the vertical, degrees counter-clockwise; absent means 0 */
      knifeDeg: {
        kind: "turn",
        name: "knife",
        meaning:
          "the knife's edge and the slit's, counter-clockwise from the vertical; 0 where empty",
        more: "0: the knife comes from the left, 90: from below, 180: from the right",
        example: "90",
      },
      /** width of the slit, mm */
      slit: {
        kind: "length",
        least: 0.001,
        most: 1,
        meaning: "width of the slit, if known; 0.03 mm where both are empty",
        example: "0.03",
      },
      /** width of a round hole in the slit's place, mm */
      hole: {
        kind: "length",
        least: 0.001,
        most: 1,
        rare: true,
        meaning: "width of a round hole in the slit's place",
        example: "0.05",
      },
    },
  },
  ronchi: {
    title: "photographs through a grating",
    remarks: [
      "Photographs through the grating: JPEG or PNG files in the folder photos. offset: + is farther from the mirror.",
    ],
    samples: [{ date: "2026-06-12", photo: "inside.jpg" }],
    columns: {
      /** path inside the record's folder */
      photo: {
        kind: "photo",
        required: true,
        meaning: "a file in photos/",
        more: "JPEG or PNG",
        example: "inside-5mm.jpg",
      },
      linesPerMm: {
        kind: "per length",
        name: "lines_per",
        least: 0.1,
        most: 200,
        required: true,
        meaning: "the grating",
        more: "`lines_per_in` is understood too",
        example: "4",
      },
      /** grating from the centre of curvature, mm, + = farther from the mirror */
      offset: {
        kind: "length",
        least: -1000,
        most: 1000,
        required: true,
        meaning: "grating from the centre of curvature, + is farther from the mirror",
        example: "-5",
      },
      /** standard uncertainty of that, mm */
      offsetU: {
        kind: "length",
        least: 0,
        most: 1000,
        meaning: "how well that is known, standard uncertainty",
        example: "0.5",
      },
      /** where the mirror's mark stood, degrees counter-clockwise from the top as seen in the photograph; absent means 0 */
      angleDeg: {
        kind: "turn",
        name: "angle",
        rare: true,
        meaning:
          "where the mirror's mark stood, counter-clockwise from the top, seen from the front; 0 where empty",
        more: "four photographs in each of two seats or more part the mirror from its stand",
        example: "0",
      },
      gamma: {
        kind: "number",
        least: 0.1,
        most: 10,
        rare: true,
        meaning: "the camera's gamma, if known",
        example: "2.2",
      },
      /** the disc by hand, all three or none: pixels of the upright picture as the camera gave it */
      discX: {
        kind: "number",
        name: "disc_x_px",
        least: -1e5,
        most: 1e5,
        rare: true,
        meaning:
          "middle of the disc, pixels from the left, where it is not found by itself; the three together",
        example: "2010",
      },
      discY: {
        kind: "number",
        name: "disc_y_px",
        least: -1e5,
        most: 1e5,
        rare: true,
        meaning: "middle of the disc, pixels from the top",
        example: "1490",
      },
      discRadius: {
        kind: "number",
        name: "disc_radius_px",
        least: 10,
        most: 1e5,
        rare: true,
        meaning: "half its width, pixels of the upright picture",
        example: "1180",
      },
    },
  },
  star: {
    title: "photographs of a star out of focus, in pairs",
    remarks: [
      "One bright star, photographed inside focus and outside, a disc of rings each time: JPEG or PNG files in the folder photos.",
      "By night only, or a lamp far away: never point the telescope anywhere near the Sun. defocus: from best focus, both above 0.",
    ],
    samples: [
      { date: "2026-06-20", photo: "star-inside.jpg" },
      { date: "2026-06-20", photo: "star-outside.jpg", side: "outside" },
    ],
    columns: {
      /** path inside the record's folder */
      photo: {
        kind: "photo",
        required: true,
        meaning: "a file in photos/",
        more: "JPEG or PNG, the whole picture as the camera stored it",
        example: "star-inside.jpg",
      },
      side: {
        kind: "choice",
        choices: ["inside", "outside"],
        also: {
          "in": "inside",
          "intra": "inside",
          "intrafocal": "inside",
          "inside focus": "inside",
          "out": "outside",
          "extra": "outside",
          "extrafocal": "outside",
          "outside focus": "outside",
        },
        required: true,
        meaning: "`inside` with the eyepiece nearer the mirror than its focus, else `outside`",
        example: "inside",
      },
      /** travel from best focus, mm */
      defocus: {
        kind: "length",
        least: 0.001,
        most: 1000,
        meaning: "how far the eyepiece was moved from best focus, if known",
        more: "without it only still air, which leaves the rings, tells how large the faults are",
        example: "1.4",
      },
      /** where the mirror's mark stands in the picture outside focus, degrees counter-clockwise from its top; absent means 0 */
      angleDeg: {
        kind: "turn",
        name: "angle",
        meaning:
          "where the mirror's mark stands in the picture outside focus, counter-clockwise from its top; 0 where empty",
        more: "a hand before the mark dents the disc there; the same in both rows of a pair",
        example: "90",
      },
      /** of the sky in one of the camera's pixels */
      arcsecPerPixel: {
        kind: "number",
        name: "arcsec_per_px",
        least: 0.001,
        most: 1000,
        rare: true,
        meaning: "how many arcseconds of sky one of the camera's pixels sees, if known",
        example: "0.66",
      },
      /** of a lamp or a glint from the mirror, mm; absent for a star */
      distance: {
        kind: "length",
        least: 1,
        most: 5e8,
        rare: true,
        meaning: "how far a lamp or a glint is from the mirror, where no star was used",
        example: "80000",
      },
    },
  },
  diary: {
    title: "acts and sights that are no readings",
    remarks: [
      "What was done or seen and is no reading: lap poured, lap pressed, pits, no pits, scratch, chip, coated, star seen ...",
      "amount: pits in a marked field of 1 cm2, mm of a scratch, minutes of pressing. data/records/README.md has all the words.",
    ],
    samples: [{ note: "ten fields at the edge" }],
    columns: {
      date: {
        kind: "date",
        required: true,
        meaning: "the day, year first",
        more: "always",
        example: "2026-05-30",
      },
      what: {
        kind: "choice",
        // acts first, then sights
        choices: [
          "lap poured",
          "lap pressed",
          "charge spent",
          "bevel renewed",
          "edge turned",
          "washed",
          "sent to be coated",
          "coated",
          "mounted",
          "aligned",
          "star seen",
          "pits",
          "no pits",
          "scratch",
          "chip",
        ],
        required: true,
        meaning: "what was done or seen",
        example: "no pits",
      },
      /** from the centre, mm */
      where: {
        kind: "length",
        least: 0,
        most: 100_000,
        meaning: "how far from the centre",
        example: "70",
      },
      /** pits in 1 cm2, mm of a scratch, minutes of pressing */
      amount: {
        kind: "number",
        least: 0,
        most: 1e6,
        meaning: "pits in a marked field of 1 cm2; mm of a scratch; minutes of pressing",
        example: "0",
      },
    },
  },
  observations: {
    title: "what the finished telescope showed",
    remarks: [
      "Only after sunset, never toward the Sun. One row for each thing seen, each timing, each estimate.",
      "time: the clock of the place, by site: time_zone in mirror.yaml. tenths: see data/records/README.md.",
      "A project leaves most columns empty; data/records/README.md says what each needs.",
    ],
    samples: [
      {
        date: "2026-10-10",
        time: "20:40",
        what: "seen",
        object: "Saturn",
        event: "",
        tenths: "",
        brighter: "",
        fainter: "",
        gap: "",
        right: "",
        tries: "",
      },
      { date: "2026-10-28", tenths: "", brighter: "", fainter: "", gap: "", right: "", tries: "" },
    ],
    columns: {
      date: {
        kind: "date",
        required: true,
        meaning:
          "the day on the calendar when it was seen, year first; past midnight it is the next day",
        more: "always",
        example: "2026-10-28",
      },
      time: {
        kind: "clock",
        meaning: "what the clock of the place showed",
        more: "by `site: time_zone` of mirror.yaml; of an autumn hour that comes twice, the first",
        example: "02:51:08",
      },
      what: {
        kind: "choice",
        choices: [
          "seen",
          "moon of jupiter",
          "double star",
          "moon shadow",
          "variable star",
          "occultation",
          "star image",
        ],
        also: {
          "looked": "seen",
          "jupiter's moon": "moon of jupiter",
          "jupiter moon": "moon of jupiter",
          "double": "double star",
          "lunar shadow": "moon shadow",
          "shadow on the moon": "moon shadow",
          "variable": "variable star",
          "image of a star": "star image",
        },
        required: true,
        meaning: "which of the projects it belongs to, or `seen` for a look",
        example: "occultation",
      },
      object: {
        kind: "name",
        required: true,
        meaning: "what was looked at",
        more:
          "`Io`, `Europa`, `Ganymede`, `Callisto`; a name of moon_features.csv, of occulted_stars.csv or of double_stars.csv in data/tables",
        example: "Taygeta",
      },
      event: {
        kind: "choice",
        choices: ["vanishes", "appears", "before cooling", "after cooling"],
        also: {
          "goes": "vanishes",
          "disappears": "vanishes",
          "fades": "vanishes",
          "comes back": "appears",
          "reappears": "appears",
          "before": "before cooling",
          "after": "after cooling",
        },
        meaning: "what a moon or star did; or when the star's image was looked at",
        example: "appears",
      },
      tenths: {
        kind: "number",
        least: 0,
        most: 100,
        meaning:
          "by eye: shadow in tenths of the crater's width; variable in tenths of the way from brighter to fainter; star image in tenths of a pair's gap",
        example: "3",
      },
      eyepiece: {
        kind: "length",
        least: 1,
        most: 200,
        meaning: "focal length of the eyepiece",
        example: "10",
      },
      air: {
        kind: "number",
        least: 1,
        most: 5,
        meaning: "the air, from 1 (boiling) to 5 (still)",
        example: "4",
      },
      /** magnitude of the brighter neighbour of a variable star */
      brighter: {
        kind: "number",
        least: -5,
        most: 20,
        meaning: "magnitude of the brighter neighbour of a variable star",
        example: "3.4",
      },
      fainter: {
        kind: "number",
        least: -5,
        most: 20,
        meaning: "magnitude of the fainter neighbour",
        example: "4.2",
      },
      /** of a pair of stars, arcseconds */
      gap: {
        kind: "number",
        name: "gap_arcsec",
        least: 0.05,
        most: 3600,
        meaning: "between the two stars of a pair, where double_stars.csv does not know it",
        example: "2.3",
      },
      right: {
        kind: "number",
        least: 0,
        most: 1000,
        meaning: "double star: how often one or two was told rightly",
        example: "9",
      },
      tries: {
        kind: "number",
        least: 1,
        most: 1000,
        meaning: "double star: of how many looks, one star or two by a coin",
        example: "10",
      },
      /** standard uncertainty of the time, s */
      doubt: {
        kind: "number",
        name: "doubt_s",
        least: 0,
        most: 3600,
        rare: true,
        meaning: "how well the time is known, standard uncertainty in seconds: clock, eye and hand",
        more: "else 30 s for a moon of Jupiter, 1 s for an occultation",
        example: "0.5",
      },
      /** the mirror over the air, degrees C */
      warmer: {
        kind: "number",
        name: "warmer_c",
        least: -40,
        most: 60,
        rare: true,
        meaning: "star image: how much warmer the mirror was than the air, °C",
        example: "8",
      },
    },
  },
} as const satisfies Readonly<Record<string, TableRows>>;

/** The name of a table of the record, without its ".csv". */
export type TableName = keyof typeof SCHEMA;

/** The tables a record may have, in the order of a mirror's life. */
export const TABLES = Object.keys(SCHEMA) as readonly TableName[];

/** A column as reader, frames, template and sheets look at it. */
export type Column = ColumnRow & {
  /** its name in a row that was read */
  readonly field: string;
  /** its name in a file, without a unit */
  readonly name: string;
};

function asColumns(rows: Readonly<Record<string, ColumnRow>>): readonly Column[] {
  return Object.entries(rows).map(([field, row]) => ({
    ...row,
    field,
    name: row.name ?? field.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`),
  }));
}

const COMMON_COLUMNS = asColumns(COMMON);

const COLUMNS = new Map(TABLES.map((table) => {
  const own = asColumns(SCHEMA[table].columns);
  const common = COMMON_COLUMNS.filter(({ field }) => own.every((one) => one.field !== field));
  return [table, [...own, ...common]] as const;
}));

/**
 * All columns of a table, its own first, then those that any table may have.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(columnsOf("sun").map(({ name }) => name), ["distance", "image", "angle", "date", "after", "minutes", "note"]);
 * ```
 */
export function columnsOf(table: TableName): readonly Column[] {
  return COLUMNS.get(table) ?? [];
}

/** Columns of `zones.csv` that say where one reading was taken; a table with one row for each run has others for them. */
const ONE_OPENING = ["inner", "outer", "reading"];

/**
 * The columns of `zones.csv`, one row for each run, where mirror.yaml tells the mask: `zone_1_mm` and on, from the centre
 * outward.
 *
 * @param zones  which openings have a column
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const names = wideZones([1, 2]).map(({ name }) => name);
 * assert.deepEqual(names, ["run", "angle", "knife", "order", "zone_1", "zone_2", "first_again", "date", "after", "minutes", "note"]);
 * ```
 */
export function wideZones(zones: readonly number[]): readonly Column[] {
  const { required: _, ...reading } = SCHEMA.zones.columns.reading;
  const one = (name: string, meaning: string, example: string): Column => ({
    ...reading,
    field: name,
    name,
    meaning,
    example,
  });
  const kept = columnsOf("zones").filter(({ field }) => !ONE_OPENING.includes(field));
  const own = kept.filter((column) => !COMMON_COLUMNS.includes(column));
  return [
    ...own,
    ...zones.map((zone) => one(`zone_${zone}`, "knife in this opening", "12.34")),
    one("first_again", "the zone read first, read again at the run's end", "12.35"),
    ...kept.filter((column) => !own.includes(column)),
  ];
}

/** What a column's header names a unit of; nothing for words and pure numbers. */
export function dimensionOf({ kind }: Holds): Dimension | undefined {
  if (kind === "turn") return "angle";
  if (kind === "leaves" || kind === "per length") return "length";
  return kind in BASE ? kind as Dimension : undefined;
}

/**
 * A column's header with its usual unit.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(columnsOf("sun").map(usualHeader), ["distance_mm", "image_mm", "angle_deg", "date", "after_min", "minutes", "note"]);
 * ```
 */
export function usualHeader(column: Column): string {
  const dimension = dimensionOf(column);
  if (dimension === undefined) return column.name;
  return `${column.name}_${dimension === "angle" ? "deg" : BASE[dimension]}`;
}

/** The numbers a column takes, in the kit's unit; nothing where it takes none, or leaves. */
export function rangeOf(
  column: Holds,
): { readonly least: number; readonly most: number } | undefined {
  if (column.kind === "turn") return { least: 0, most: 2 * Math.PI };
  return "least" in column ? column : undefined;
}

/** Where a column's numbers end, as a refusal and a form say it: "0 to 1000 mm". */
export function rangeInWords(column: Holds): string | undefined {
  const range = rangeOf(column), dimension = dimensionOf(column);
  if (range === undefined) return undefined;
  const { least, most } = range;
  if (column.kind === "per length") return `${least} to ${most} per mm`;
  if (dimension === undefined) return `${least} to ${most}`;
  if (dimension !== "angle") return `${least} to ${most} ${BASE[dimension]}`;
  const [low, high] = [least, most].map((rad) => Math.round(rad * 180 / Math.PI));
  return `${low} to ${high} deg`;
}

/** A column in plain words and plain values, for a sheet, a form, a guide. */
export interface ColumnInWords {
  /** as it stands in the file, with its usual unit: "go_mm" */
  readonly head: string;
  readonly meaning: string;
  /** what there is to know besides */
  readonly more?: string;
  readonly example: string;
  readonly required: boolean;
  /** what is to be written: leaves and per length are numbers too, a photo is a file's name */
  readonly write: "number" | "leaves" | "choice" | "date" | "photo" | "words";
  /** the words there are to choose from */
  readonly choices?: readonly string[];
  /** where numbers end: "0 to 1000 mm" */
  readonly range?: string;
}

/**
 * A table's columns in plain words, its own first, then those that any table may have.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const [surface, dial] = inWords("spherometer");
 * assert.deepEqual([surface?.choices, dial?.head, dial?.range], [["flat", "mirror"], "dial_mm", "-1000 to 1000 mm"]);
 * ```
 */
export function inWords(table: TableName): readonly ColumnInWords[] {
  return columnsOf(table).map((column) => {
    const range = rangeInWords(column);
    return {
      head: usualHeader(column),
      meaning: column.meaning,
      ...(column.more === undefined ? {} : { more: column.more }),
      example: column.example,
      required: column.required === true,
      write: writtenAs(column.kind),
      ...(column.kind === "choice" ? { choices: column.choices } : {}),
      ...(range === undefined ? {} : { range }),
    };
  });
}

function writtenAs(kind: Column["kind"]): ColumnInWords["write"] {
  if (kind === "leaves" || kind === "choice" || kind === "date" || kind === "photo") return kind;
  return kind === "clock" || kind === "name" || kind === "words" || kind === "abrasive"
    ? "words"
    : "number";
}
