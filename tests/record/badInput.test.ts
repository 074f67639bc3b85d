/**
 * What a maker's slip gets: one sentence with file, line, column, what stood there, what is wanted and how to mend it.
 * Each case is a whole record that is right but for one thing.
 */
import assert from "node:assert/strict";
import { describe } from "../../lib/record/errors.ts";
import { type Files, MIRROR, refusals } from "./bench.ts";

interface Case {
  readonly slip: string;
  readonly files: Files;
  /** every refusal there is, as a command prints it */
  readonly told: readonly string[];
}

const yaml = (text: string): Files => ({ "mirror.yaml": text });
const more = (text: string): Files => ({ "mirror.yaml": MIRROR + text });

const CASES: readonly Case[] = [
  // Lengths, units, names
  {
    slip: "a length without a unit",
    files: yaml("aperture: 6\nfocal_length: 48 in\n"),
    told: [
      "mirror.yaml, line 1, column aperture: found the bare number 6, wanted a unit of length: " +
      "write 6 mm or 6 in (which is 152.4 mm)",
    ],
  },
  {
    slip: "an unknown unit",
    files: yaml("aperture: 150 mm\nfocal_length: 1200 mn\n"),
    told: [
      'mirror.yaml, line 2, column focal_length: found the unit "mn", wanted a unit of length: did you mean mm or nm?',
    ],
  },
  {
    slip: "a unit of something else",
    files: yaml("aperture: 150 kg\nfocal_length: 1200 mm\n"),
    told: [
      'mirror.yaml, line 1, column aperture: found the unit "kg", wanted a unit of length: write mm or in, for example',
    ],
  },
  {
    slip: "an unknown key",
    files: yaml("aperature: 150 mm\nfocal_length: 1200 mm\n"),
    told: [
      'mirror.yaml, line 1, column aperature: found the key "aperature", wanted a key known here: did you mean aperture?',
    ],
  },
  {
    slip: "an unknown key within a group",
    files: more("gauges:\n  leaves: { width: 12.7 mm, tolerence: 0.005 mm }\n"),
    told: [
      'mirror.yaml, line 5, column gauges.leaves.tolerence: found the key "tolerence", wanted a key known here: ' +
      "did you mean tolerance?",
    ],
  },
  {
    slip: "a key that is needed",
    files: yaml("aperture: 150 mm\n"),
    told: [
      "mirror.yaml, line 1, column focal_length: found no such key, wanted focal_length: write it in",
    ],
  },
  {
    slip: "an unknown glass",
    files: more("glass: borosilicat\n"),
    told: [
      'mirror.yaml, line 4, column glass: found "borosilicat", wanted a row of data/tables/glasses.csv: ' +
      "did you mean borosilicate?",
    ],
  },
  {
    slip: "an unknown abrasive, and one of three scales",
    files: {
      "grinding.csv": "abrasive,position,minutes\nF8O,mirror on top,20\n400,tool on top,5\n",
    },
    told: [
      'grinding.csv, line 2, column abrasive: found "F8O", wanted a row of data/tables/abrasives.csv: ' +
      "did you mean F80?",
      'grinding.csv, line 3, column abrasive: found "400", wanted a row of data/tables/abrasives.csv: ' +
      "which scale: P400, #400 or F400?",
    ],
  },
  {
    slip: "an unknown column",
    files: { "zones.csv": "run,inner_mm,outer_mm,raeding_mm\n1,0,30,12.3\n" },
    told: [
      'zones.csv, line 1, column raeding_mm: found column "raeding_mm", wanted a column of this table: ' +
      "did you mean reading_mm?",
    ],
  },
  {
    slip: "a column without its unit, one with another's",
    files: { "sagitta.csv": "go,nogo_kg\n0.19,0.20\n" },
    told: [
      'sagitta.csv, line 1, column go: found column "go", wanted a name with its unit: did you mean go_mm or go_in?',
      'sagitta.csv, line 1, column nogo_kg: found column "nogo_kg", wanted nogo_ and a unit of length: ' +
      "did you mean nogo_mm or nogo_in?",
    ],
  },
  {
    slip: "a column that is needed",
    files: { "spherometer.csv": "dial_mm\n5.001\n" },
    told: [
      "spherometer.csv, line 1, column surface: found no such column, wanted surface, `flat` for the zero on flat " +
      "glass, `mirror` for the mirror: add it to the header and to each row",
    ],
  },
  {
    slip: "words that are not among the choices",
    files: { "grinding.csv": "abrasive,position,minutes\nF80,mirror ontop,20\nF80,above,20\n" },
    told: [
      'grinding.csv, line 2, column position: found "mirror ontop", wanted mirror on top or tool on top: ' +
      "did you mean mirror on top?",
      'grinding.csv, line 3, column position: found "above", wanted mirror on top or tool on top: write one of them',
    ],
  },
  {
    slip: "a tester that is neither",
    files: more("tester: { source: moving, openings: bands }\n"),
    told: [
      'mirror.yaml, line 4, column tester.source: found "moving", wanted moves with knife or fixed: write one of them',
    ],
  },
  // Numbers
  {
    slip: "text where a number belongs",
    files: { "sun.csv": "distance_mm\n12oo\n\nabout 1199\n1199 mm\n1,199.5\n" },
    told: [
      'sun.csv, line 2, column distance_mm: found "12oo", wanted a number: write digits, such as 1199',
      'sun.csv, line 4, column distance_mm: found "about 1199", wanted a number: write digits, such as 1199',
      'sun.csv, line 5, column distance_mm: found "1199 mm", wanted a number: ' +
      "write the unit in the header, only digits in the cell",
      'sun.csv, line 6, column distance_mm: found "1,199.5", wanted a number: leave thousands marks out',
    ],
  },
  {
    slip: "not a number, infinite, hexadecimal",
    files: { "sun.csv": "distance_mm\nNaN\nInfinity\n1e999\n0x10\n" },
    told: ["NaN", "Infinity", "1e999", "0x10"].map((text, index) =>
      `sun.csv, line ${
        index + 2
      }, column distance_mm: found "${text}", wanted a number: write digits, such as 1199`
    ),
  },
  {
    slip: "not a number and infinite in mirror.yaml",
    files: yaml("aperture: .nan mm\nfocal_length: .inf mm\n"),
    told: [
      'mirror.yaml, line 1, column aperture: found ".nan mm", wanted a number and a unit of length: write it like 12.5 mm',
      'mirror.yaml, line 2, column focal_length: found ".inf mm", wanted a number and a unit of length: ' +
      "write it like 12.5 mm",
    ],
  },
  {
    slip: "a log of negative minutes and strokes, and minutes that are no number",
    files: {
      "grinding.csv": "abrasive,position,minutes,strokes,after_min\n" +
        "F80,mirror on top,-20,800,20\nF80,mirror on top,20,-5,20\nF80,mirror on top,twenty,,-1\n",
    },
    told: [
      'grinding.csv, line 2, column minutes: found "-20", wanted 0 to 1440: ' +
      "no bench has this; look at the digits and at the header's unit",
      'grinding.csv, line 3, column strokes: found "-5", wanted 0 to 1000000: ' +
      "no bench has this; look at the digits and at the header's unit",
      'grinding.csv, line 4, column minutes: found "twenty", wanted a number: write digits, such as 20',
      'grinding.csv, line 4, column after_min: found "-1", wanted 0 to 1440000 min: ' +
      "no bench has this; look at the digits and at the header's unit",
    ],
  },
  {
    slip: "absurd sizes",
    files: {
      "mirror.yaml": "aperture: 150 km\nfocal_length: -1200 mm\n",
      "sun.csv": "distance_mm\n119900000\n-5\n",
      "grinding.csv": "abrasive,position,minutes\nF80,mirror on top,2000\n",
    },
    told: [
      'mirror.yaml, line 1, column aperture: found "150 km", wanted 10 to 3000 mm: ' +
      "no bench has this; look at the digits and the unit",
      'mirror.yaml, line 2, column focal_length: found "-1200 mm", wanted 10 to 100000 mm: ' +
      "no bench has this; look at the digits and the unit",
      'grinding.csv, line 2, column minutes: found "2000", wanted 0 to 1440: ' +
      "no bench has this; look at the digits and at the header's unit",
      'sun.csv, line 2, column distance_mm: found "119900000", wanted 0 to 100000 mm: ' +
      "no bench has this; look at the digits and at the header's unit",
      'sun.csv, line 3, column distance_mm: found "-5", wanted 0 to 100000 mm: ' +
      "no bench has this; look at the digits and at the header's unit",
    ],
  },
  {
    slip: "a bowl that cannot be",
    files: yaml("aperture: 150 mm\nfocal_length: 37.5 mm\nbevel: 40 mm\nthickness: 200 mm\n"),
    told: [
      "mirror.yaml, line 2, column focal_length: found 37.5 mm, wanted more than a quarter of the aperture of 150 mm: " +
      "no bowl is that deep; look at both numbers",
      "mirror.yaml, line 3, column bevel: found 40 mm, wanted less than a quarter of the aperture of 150 mm: " +
      "give its width as seen on the face",
      "mirror.yaml, line 4, column thickness: found 200 mm, wanted no more than the aperture of 150 mm: look at both numbers",
    ],
  },
  {
    slip: "decimal comma and point mixed",
    files: { "sun.csv": "distance_mm;image_mm\n1199,5;11,1\n1200.5;11,2\n" },
    told: [
      'sun.csv, line 3, column distance_mm: found "1200.5" with a decimal point, wanted a decimal comma as in line 2: ' +
      "keep to one of them in a file",
    ],
  },
  {
    slip: "decimal comma in mirror.yaml, thousands marks",
    files: yaml("aperture: 152,4 mm\nfocal_length: 1,200 mm\n"),
    told: [
      'mirror.yaml, line 1, column aperture: found "152,4 mm", wanted a number and a unit of length: ' +
      "write 152.4 mm, with a decimal point",
      'mirror.yaml, line 2, column focal_length: found "1,200 mm", wanted a number and a unit of length: ' +
      "write 1.200 mm or 1200 mm, whichever is meant",
    ],
  },
  // The shape of a table
  {
    slip: "an empty table: nothing, remarks only, a header only",
    files: {
      "sagitta.csv": "",
      "sun.csv": "# the Sun was hidden\n\n",
      "zones.csv": "run,inner_mm,outer_mm,reading_mm\n",
    },
    told: [
      "sagitta.csv, line 1: found no row at all, wanted a header and readings: " +
      "write the column names in the first line, or delete the file",
      "sun.csv, line 1: found no row at all, wanted a header and readings: " +
      "write the column names in the first line, or delete the file",
      "zones.csv, line 1: found a header without rows, wanted readings: " +
      "type one, delete the file, or write a line `# no readings yet`",
    ],
  },
  {
    slip: "ragged rows",
    files: { "sagitta.csv": "go_mm,nogo_mm,note\n0.1,0.2\n0.1,0.2,first,second\n0,88,0,90,\n" },
    told: [
      "sagitta.csv, line 2: found 2 cells, wanted 3 as in the header: leave a cell empty rather than out",
      "sagitta.csv, line 3: found 4 cells, wanted 3 as in the header: " +
      "put a number with a decimal comma in quotation marks, or part the cells with semicolons",
      "sagitta.csv, line 4: found 5 cells, wanted 3 as in the header: " +
      "put a number with a decimal comma in quotation marks, or part the cells with semicolons",
    ],
  },
  {
    slip: "duplicate columns, also in another unit",
    files: { "sagitta.csv": "go_mm,nogo_mm,go_in\n0.1,0.2,0.1\n" },
    told: [
      'sagitta.csv, line 1, column go_in: found column "go_in" again, wanted each column once (column 1 is "go_mm"): ' +
      "take one of them out",
    ],
  },
  {
    slip: "a quotation mark left open, and text behind one",
    files: {
      "sun.csv": 'distance_mm,note\n1199,"open\n',
      "zones.csv": 'run,inner_mm,outer_mm,reading_mm\n"1" a,0,30,1\n',
    },
    told: [
      "sun.csv, line 2: found a quotation mark that never closes, wanted a pair of them: " +
      "close it, or write two quotation marks for one inside a cell",
      'zones.csv, line 2: found "a,0,30,1" after a closing quotation mark, wanted the next cell: ' +
      "put the quotation marks round the whole cell",
    ],
  },
  {
    slip: "a formula",
    files: { "sun.csv": 'distance_mm,note\n=A1+B1,\n1199,"=HYPERLINK(""x"")"\n' },
    told: [
      'sun.csv, line 2, column distance_mm: found the formula "=A1+B1", wanted a value: ' +
      "write what it comes to, as read from the gauge",
      'sun.csv, line 3, column note: found the formula "=HYPERLINK("x")", wanted a value: ' +
      "write what it comes to, as read from the gauge",
    ],
  },
  {
    slip: "bytes that are no text",
    files: {
      "sun.csv": new Uint8Array([
        ...new TextEncoder().encode("distance_mm,note\n1199,caf"),
        0xe9,
        0x0a,
      ]),
      "zones.csv": new TextEncoder().encode("run,inner_mm\n1,\0\n"),
    },
    told: [
      "sun.csv, line 2: found a byte that is not UTF-8 text, wanted UTF-8 or UTF-16 text: " +
      "save the file as text, CSV UTF-8 in a spreadsheet",
      "zones.csv, line 2: found a zero byte, wanted text: save the file as text, CSV UTF-8 in a spreadsheet",
    ],
  },
  {
    slip: "a cell that is needed",
    files: { "zones.csv": "run,inner_mm,outer_mm,reading_mm\n1,0,30,\n" },
    told: [
      "zones.csv, line 2, column reading_mm: found nothing, wanted knife along the axis, larger is farther from the " +
      "mirror, zero anywhere: write it, such as 12.34",
    ],
  },
  // Readings that cannot be
  {
    slip: "radii out of order or outside the aperture",
    files: {
      "zones.csv":
        "run,inner_mm,outer_mm,reading_mm\n1,30,20,12\n1,45,80,12\n1,45,160,12\n1,30,30,12\n",
    },
    told: [
      "zones.csv, line 2, column outer_mm: found 20 mm, wanted more than the inner edge of 30 mm: " +
      "give the edges from the centre outward; are they swapped?",
      "zones.csv, line 3, column outer_mm: found 80 mm, wanted an opening inside the edge at 75 mm from the centre: " +
      "edges are radii, not diameters",
      "zones.csv, line 4, column outer_mm: found 160 mm, wanted an opening inside the edge at 75 mm from the centre: " +
      "look at the digits and the unit",
      "zones.csv, line 5, column outer_mm: found 30 mm, wanted more than the inner edge of 30 mm: " +
      "give the edges from the centre outward; are they swapped?",
    ],
  },
  // The zone test in its wide form, its seats, the diary
  {
    slip: "a wide table without a mask, with more zones than openings, without any",
    files: {
      "zones.csv": "run,zone_1_mm,zone_2_mm\n1,12.3,12.4\n",
    },
    told: [
      'zones.csv, line 1, column zone_1_mm: found column "zone_1_mm", wanted the mask in mirror.yaml, for a table with ' +
      "one row for each run: write its edges there, such as mask: [0 mm, 30 mm, 45 mm]",
    ],
  },
  {
    slip: "more zones than the mask has openings",
    files: {
      ...more("mask: [0 mm, 30 mm, 45 mm]\n"),
      "zones.csv": "run,zone_1_mm,zone_2_mm,zone_3_mm,zone_0_mm\n1,12.3,12.4,12.5,1\n",
    },
    told: [3, 0].map((zone) =>
      `zones.csv, line 1, column zone_${zone}_mm: found column "zone_${zone}_mm", wanted zone_1 to zone_2, for the mask ` +
      "in mirror.yaml has 2 openings: take it out, or write its opening into the mask"
    ),
  },
  {
    slip: "both forms in one table",
    files: {
      ...more("mask: [0 mm, 30 mm, 45 mm]\n"),
      "zones.csv": "run,inner_mm,outer_mm,reading_mm,zone_1_mm\n1,0,30,12.3,12.3\n",
    },
    told: [
      'zones.csv, line 1, column zone_1_mm: found "zone_1_mm" beside "inner_mm", wanted one row for each opening, or ' +
      "one row for each run: keep inner, outer and reading, or the columns zone_1 and on",
    ],
  },
  {
    slip: "a wide row without readings, text for a reading, a column without its unit",
    files: {
      ...more("mask: [0 mm, 30 mm, 45 mm]\n"),
      "zones.csv": "run,zone_1_mm,zone_2_mm\n1,,\n2,12.3,twelve\n",
    },
    told: [
      'zones.csv, line 3, column zone_2_mm: found "twelve", wanted a number: write digits, such as 12.34',
      "zones.csv, line 2, column zone_1_mm: found nothing, wanted a reading in one zone at least: " +
      "write the readings, or take the row out",
    ],
  },
  {
    slip: "angles beyond a turn, knives that are no number",
    files: {
      "zones.csv": "run,inner_mm,outer_mm,reading_mm,angle_deg,knife_deg,order\n" +
        "1,0,30,12.3,361,0,\n1,0,30,12.3,-45,0,\n1,0,30,12.3,45,vertical,\n1,0,30,12.3,45,400,up\n",
    },
    told: [
      ...["361", "-45"].map((angle, index) =>
        `zones.csv, line ${index + 2}, column angle_deg: found "${angle}", wanted 0 to 360 deg: ` +
        "no bench has this; look at the digits and at the header's unit"
      ),
      'zones.csv, line 4, column knife_deg: found "vertical", wanted a number: write digits, such as 90',
      'zones.csv, line 5, column knife_deg: found "400", wanted 0 to 360 deg: ' +
      "no bench has this; look at the digits and at the header's unit",
      'zones.csv, line 5, column order: found "up", wanted outward or inward: write one of them',
    ],
  },
  {
    slip: "a mask out of order, overlapping, beyond the disc, without units, of one opening",
    files: more("mask: [0 mm, 45 mm, 30 mm]\n"),
    told: [
      "mirror.yaml, line 4, column mask[3]: found 30 mm, wanted more than the edge before it, 45 mm: " +
      "give the edges from the centre outward",
    ],
  },
  {
    slip: "openings that overlap, and one turned inside out",
    files: more("mask: [[5 mm, 25 mm], [20 mm, 42 mm], [60 mm, 50 mm]]\n"),
    told: [
      "mirror.yaml, line 4, column mask[2]: found 20 mm, wanted an inner edge at or beyond 25 mm, where the opening " +
      "before it ends: openings of one mask do not overlap; mend one",
      "mirror.yaml, line 4, column mask[3]: found 50 mm, wanted more than the edge before it, 60 mm: " +
      "give the edges from the centre outward",
    ],
  },
  {
    slip: "a mask in diameters, and one beyond any",
    files: more("mask: [0 mm, 60 mm, 148 mm]\n"),
    told: [
      "mirror.yaml, line 4, column mask: found 148 mm, wanted openings inside the edge at 75 mm from the centre: " +
      "edges are radii, not diameters",
    ],
  },
  {
    slip: "a mask without units, of one opening, of no list",
    files: more("mask: [0, 30, 45 mm]\n"),
    told: [
      "mirror.yaml, line 4, column mask[2]: found the bare number 30, wanted a unit of length: " +
      "write 30 mm or 30 in (which is 762 mm)",
    ],
  },
  {
    slip: "a mask of one opening",
    files: more("mask: [0 mm, 30 mm]\n"),
    told: [
      "mirror.yaml, line 4, column mask: found 2 items, wanted 3 to 61: a mask has two openings or more, side by side",
    ],
  },
  {
    slip: "a mask that is no list",
    files: more("mask: 74 mm\n"),
    told: [
      'mirror.yaml, line 4, column mask: found "74 mm", wanted a list: write it in square brackets, parted by commas',
    ],
  },
  {
    slip: "a scope, a seating, a unit of telling and a rate that are none",
    files: more(
      "goal: { scope: everything }\ntester: { seating: 20 mm }\nshown_in: feet\nstroke_rate: 4000\n",
    ),
    told: [
      'mirror.yaml, line 4, column goal.scope: found "everything", wanted whole surface or one diameter: write one of them',
      'mirror.yaml, line 5, column tester.seating: found "20 mm", wanted 0 to 10 mm: ' +
      "no bench has this; look at the digits and the unit",
      'mirror.yaml, line 6, column shown_in: found "feet", wanted mm or inch: write one of them',
      'mirror.yaml, line 7, column stroke_rate: found "4000", wanted 1 to 300: no bench has this; look at the digits',
    ],
  },
  {
    slip: "words that the diary does not know, a day that is needed, a place beyond the glass",
    files: {
      "diary.csv":
        "date,what,where_mm,amount\n2026-05-30,pitts,,\n2026-05-30,xyzzy plugh,,\n,pits,,\n" +
        "2026-05-30,pits,80,few\n2026-05-30,pits,80,3\n",
    },
    told: [
      'diary.csv, line 2, column what: found "pitts", wanted one of the 15 words known here: did you mean pits?',
      'diary.csv, line 3, column what: found "xyzzy plugh", wanted one of the 15 words known here: ' +
      "data/records/README.md lists them",
      "diary.csv, line 4, column date: found nothing, wanted the day, year first: write it, such as 2026-05-30",
      'diary.csv, line 5, column amount: found "few", wanted a number: write digits, such as 0',
      "diary.csv, line 6, column where_mm: found 80 mm, wanted a place on the glass, whose edge is 75 mm from the centre: " +
      "measure from the centre; look at the digits and the unit",
    ],
  },
  {
    slip: "a go stack not under its no-go, a leaf twice, half a bracket, both kinds",
    files: {
      "sagitta.csv":
        "go_mm,nogo_mm,depth_mm\n0.90,0.88,\n0.88,0.88,\n0.5+0.5,1.1,\n0.2,,\n,,\n0.1,0.2,0.15\n0.1+0.1+x,0.3,\n",
    },
    told: [
      'sagitta.csv, line 4, column go_mm: found "0.5+0.5", the leaf 0.5 twice, ' +
      "wanted each leaf once, for a set has one of each: look at the leaves again",
      'sagitta.csv, line 8, column go_mm: found "x", wanted a number: write digits, such as 0.88+0.25',
      "sagitta.csv, line 2, column nogo_mm: found 0.88 mm, wanted more than the go of 0.9 mm: " +
      "the no-go is the next thicker stack; are they swapped?",
      "sagitta.csv, line 3, column nogo_mm: found 0.88 mm, wanted more than the go of 0.88 mm: " +
      "the no-go is the next thicker stack; are they swapped?",
      "sagitta.csv, line 5, column nogo_mm: found nothing, wanted its pair, for there is a go: " +
      "give the stack that passes and the next that does not",
      "sagitta.csv, line 7, column depth_mm: found a depth beside leaves, wanted one reading in a row: " +
      "give each reading a row of its own",
    ],
  },
  {
    slip: "a row without its reading",
    files: {
      "sagitta.csv": "go_mm,nogo_mm,note\n,,forgot\n",
      "sun.csv": "distance_mm,image_mm,note\n,,clouds\n",
    },
    told: [
      "sagitta.csv, line 2, column go_mm: found nothing, wanted go and no-go, or a depth: " +
      "write the reading, or take the row out",
      "sun.csv, line 2, column distance_mm: found nothing, wanted a distance or an image: " +
      "write the reading, or take the row out",
    ],
  },
  {
    slip: "a chord wider than the disc",
    files: { "sagitta.csv": "go_mm,nogo_mm,chord_mm\n0.90,0.92,151\n" },
    told: [
      "sagitta.csv, line 2, column chord_mm: found 151 mm, wanted no more than the aperture of 150 mm: " +
      "measure where the straight-edge rests on the face",
    ],
  },
  {
    slip: "a spherometer without its zero",
    files: { "spherometer.csv": "surface,dial_mm\nmirror,5.5\n" },
    told: [
      "spherometer.csv, line 2, column surface: found no reading on the flat, " +
      "wanted readings on flat glass and on the mirror: read the dial on flat glass too",
    ],
  },
  {
    slip: "impossible dates",
    files: { "sun.csv": "date,distance_mm\n2026-02-30,1199\n18/04/2026,1199\n2026-13-01,1199\n" },
    told: ["2026-02-30", "18/04/2026", "2026-13-01"].map((text, index) =>
      `sun.csv, line ${
        index + 2
      }, column date: found "${text}", wanted a day that there is, year first: ` +
      "write it like 2026-04-18"
    ),
  },
  // mirror.yaml as a file
  {
    slip: "YAML anchors piled up",
    files: yaml(
      "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\naperture: 150 mm\nfocal_length: 1200 mm\n",
    ),
    told: [
      'mirror.yaml, line 1: found an anchor, "a: &a [x, x]", wanted plain values: write the value out',
    ],
  },
  {
    slip: "a tag that asks for code",
    files: yaml("aperture: !!js/function 'f'\nfocal_length: 1200 mm\n"),
    told: [
      "mirror.yaml, line 1: found a tag, \"aperture: !!js/function 'f'\", wanted plain values: write the value out",
    ],
  },
  {
    slip: "a key twice",
    files: more("bevel: 2 mm\n"),
    told: [
      'mirror.yaml, line 4: found "bevel: 2 mm", wanted each key once: take one of the two lines out',
    ],
  },
  {
    slip: "nothing in the file, nothing after a colon",
    files: yaml("# to come\n"),
    told: [
      "mirror.yaml, line 1: found nothing, wanted keys with values: write keys such as aperture: ...",
    ],
  },
  {
    slip: "nothing after a colon",
    files: yaml("aperture:\nfocal_length: 1200 mm\n"),
    told: [
      "mirror.yaml, line 1, column aperture: found nothing, wanted a value: " +
      "write it after the colon, or take the key out",
    ],
  },
  {
    slip: "a goal without its wave, a shape there is none of",
    files: more("goal: { surface: 1/8, shape: parabola }\n"),
    told: [
      'mirror.yaml, line 4, column goal.surface: found "1/8", wanted a part of a wave on the glass, peak to valley: ' +
      "write 1/8 wave, if that is meant",
      'mirror.yaml, line 4, column goal.shape: found "parabola", wanted sphere or paraboloid or auto: ' +
      "did you mean paraboloid?",
    ],
  },
  {
    slip: "a site off the globe",
    files: more("site: { latitude: 98.5 deg, longitude: 15.9, time_zone: Europe/Lubljana }\n"),
    told: [
      'mirror.yaml, line 4, column site.latitude: found "98.5 deg", wanted -90 to 90 deg: ' +
      "this place is on no map: latitude ends at the poles",
      "mirror.yaml, line 4, column site.longitude: found the bare number 15.9, wanted a unit of angle: " +
      "write 15.9 deg or 15.9 rad (which is 911.003 deg)",
      'mirror.yaml, line 4, column site.time_zone: found "Europe/Lubljana", wanted a time zone: did you mean Europe/Ljubljana?',
    ],
  },
  {
    slip: "lists that are none, or too short",
    files: more(
      "telescope:\n  flats: 25 mm\n  screws: { pitch: 1 mm, radius: 60 mm, angles: [90 deg], image_at: [0 mm, 0 mm] }\n",
    ),
    told: [
      'mirror.yaml, line 5, column telescope.flats: found "25 mm", wanted a list: ' +
      "write it in square brackets, parted by commas",
      "mirror.yaml, line 6, column telescope.screws.angles: found 1 item, wanted 3: three screws point a mirror, two cannot: write three angles",
    ],
  },
];

for (const { slip, files, told } of CASES) {
  Deno.test(`refused: ${slip}`, async () => {
    const found = await refusals(files);
    assert.deepEqual(found.map(describe), told);
  });
}

Deno.test("a misspelt header and a bad cell in two files are told together", async () => {
  const found = await refusals({
    "mirror.yaml": "aperture: 6\nfocal_length: 1200 mm\n",
    "sun.csv": "distnce_mm\n1199\n",
    "zones.csv": "run,inner_mm,outer_mm,reading_mm\n1,0,30,x\n",
  });
  assert.deepEqual(found.map(({ file, line }) => `${file}:${line}`), [
    "mirror.yaml:1",
    "sun.csv:1",
    "zones.csv:2",
  ]);
});

Deno.test("every refusal is one sentence on one line, without control characters", async () => {
  const found = await refusals({ "sun.csv": 'distance_mm,note\n"\x1b[31mred\nagain",x\n' });
  assert.equal(found.length, 1);
  // deno-lint-ignore no-control-regex
  assert.doesNotMatch(describe(found[0] ?? { message: "" }), /[\u0000-\u001f]/);
});
