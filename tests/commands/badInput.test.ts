/**
 * What a maker's slip gets from `check`, from end to end: status 1, a sentence for each slip with file, line and column,
 * nothing on standard output, nothing written, no stack trace.
 */
import assert from "node:assert/strict";
import { join } from "node:path";
import { assertForPeople, inFolder, names, run, type Said } from "./run.ts";

const MIRROR = "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n";
const ZONES = "run,inner_mm,outer_mm,reading_mm\n";
const PHOTO = "photo,lines_per_mm,offset_mm\n";

interface Slip {
  readonly slip: string;
  /** the record's files; a right mirror.yaml is there unless it is given */
  readonly files: Readonly<Record<string, string | undefined>>;
  /** each refusal: its place, and words that must be in it */
  readonly told: readonly (readonly [place: string, ...words: readonly string[]])[];
}

const yaml = (text: string): Slip["files"] => ({ "mirror.yaml": text });

const SLIPS: readonly Slip[] = [
  {
    slip: "no mirror.yaml",
    files: { "mirror.yaml": undefined, "sun.csv": "distance_mm\n1199\n" },
    told: [["mirror.yaml", "no"]],
  },
  {
    slip: "a length without a unit",
    files: yaml("aperture: 6\nfocal_length: 1200 mm\n"),
    told: [["mirror.yaml, line 1, column aperture", "6 mm or 6 in"]],
  },
  {
    slip: "an unknown unit, glass and column, an unknown abrasive",
    files: {
      "mirror.yaml": "aperture: 150 mn\nfocal_length: 1200 mm\nglass: borosilcate\n",
      "grinding.csv": "abrasive,position,minutes\nF8O,mirror on top,20\n",
      "sun.csv": "distnce_mm\n1199\n",
    },
    told: [
      ["mirror.yaml, line 1, column aperture", "did you mean", "mm"],
      ["mirror.yaml, line 3, column glass", "did you mean borosilicate"],
      ["grinding.csv, line 2, column abrasive", "did you mean F80"],
      ["sun.csv, line 1, column distnce_mm", "did you mean distance_mm"],
    ],
  },
  {
    slip: "text where a number belongs, no number, an infinite one",
    files: { "sun.csv": "distance_mm\nabout 1199\nNaN\nInfinity\n" },
    told: [
      ["sun.csv, line 2, column distance_mm", '"about 1199"', "wanted a number"],
      ["sun.csv, line 3, column distance_mm", '"NaN"'],
      ["sun.csv, line 4, column distance_mm", '"Infinity"'],
    ],
  },
  {
    slip: "absurd sizes",
    files: {
      "mirror.yaml": "aperture: 150 km\nfocal_length: 1200 mm\n",
      "sun.csv": "distance_mm\n-5\n",
    },
    told: [
      ["mirror.yaml, line 1, column aperture", "150 km", "10 to 3000 mm"],
      ["sun.csv, line 2, column distance_mm", '"-5"', "0 to 100000 mm"],
    ],
  },
  {
    slip: "an empty table",
    files: { "sagitta.csv": "", "zones.csv": ZONES },
    told: [["sagitta.csv, line 1", "no row at all"], ["zones.csv, line 1", "header without rows"]],
  },
  {
    slip: "ragged rows",
    files: { "zones.csv": `${ZONES}1,0,30,12.3\n1,30,45\n1,45,57,12.3,12.4\n` },
    told: [["zones.csv, line 3", "3 cells", "4"], ["zones.csv, line 4", "5 cells"]],
  },
  {
    slip: "duplicate columns",
    files: { "sagitta.csv": "go_mm,nogo_mm,go_mm\n0.1,0.2,0.1\n" },
    told: [["sagitta.csv, line 1, column go_mm", "each column once"]],
  },
  {
    slip: "decimal comma and point mixed",
    files: { "sun.csv": "distance_mm;image_mm\n1199,5;11,1\n1200.5;11,2\n" },
    told: [["sun.csv, line 3, column distance_mm", "decimal comma as in line 2"]],
  },
  {
    slip: "radii out of order or outside the aperture",
    files: { "zones.csv": `${ZONES}1,45,30,12.3\n1,45,80,12.3\n` },
    told: [
      ["zones.csv, line 2, column outer_mm", "swapped"],
      ["zones.csv, line 3, column outer_mm", "75 mm"],
    ],
  },
  {
    slip: "a go stack above its no-go",
    files: { "sagitta.csv": "go_mm,nogo_mm\n0.90,0.88\n" },
    told: [["sagitta.csv, line 2, column nogo_mm", "0.88", "0.9", "swapped"]],
  },
  {
    slip: "a photograph missing, empty, not an image, outside the folder",
    files: {
      "ronchi.csv": `${PHOTO}gone.jpg,4,-5\nempty.jpg,4,-5\ntext.jpg,4,-5\n../secret.jpg,4,-5\n`,
      "photos/empty.jpg": "",
      "photos/text.jpg": "no picture at all",
      "../secret.jpg": "somebody else's",
    },
    told: [
      ["ronchi.csv, line 2, column photo", "no file"],
      ["ronchi.csv, line 3, column photo", "an empty file"],
      ["ronchi.csv, line 4, column photo", "not a picture"],
      ["ronchi.csv, line 5, column photo", "inside"],
    ],
  },
  {
    slip: "YAML anchors piled up",
    files: yaml("a: &a [x, x]\nb: &b [*a, *a]\naperture: 150 mm\nfocal_length: 1200 mm\n"),
    told: [["mirror.yaml, line 1", "anchor"]],
  },
];

async function write(folder: string, files: Slip["files"]): Promise<string> {
  const record = join(folder, "a record");
  await Deno.mkdir(join(record, "photos"), { recursive: true });
  for (const [name, text] of Object.entries({ "mirror.yaml": MIRROR, ...files })) {
    if (text !== undefined) await Deno.writeTextFile(join(record, name), text);
  }
  return record;
}

/** A refusal as the commands print it: place, what stood there, what is wanted, how to mend it; one line. */
const SENTENCE = /^[^:]+: found .+, wanted .+: .+$/;

function assertRefused({ code, out, err }: Said, told: Slip["told"]): void {
  assert.equal(code, 1, err);
  assert.equal(out, "");
  assertForPeople(err);
  const lines = err.trimEnd().split("\n");
  assert.equal(lines.length, told.length, err);
  told.forEach(([place, ...words], index) => {
    const line = lines[index] ?? "";
    assert.match(line, SENTENCE);
    assert.ok(line.startsWith(`${place}: `), `${line}\nis not of ${place}`);
    for (const word of words) assert.ok(line.includes(word), `${line}\nlacks ${word}`);
  });
}

async function checkSlip({ files, told }: Slip): Promise<void> {
  await inFolder(async (folder) => {
    const record = await write(folder, files);
    const before = await names(record);
    assertRefused(await run("check", [record, "--json", join(folder, "out.json")]), told);
    assert.ok(!(await names(folder)).some((name) => name.includes("out.json")), "JSON written");
    assert.deepEqual(await names(record), before, "the record was written into");
  });
}

Deno.test("a folder that is not there: one sentence that says how to begin one", async () => {
  await inFolder(async (folder) => {
    const said = await run("check", ["./my mirror", "--json", "out.json"], folder);
    assertRefused(said, [["./my mirror", "no such folder", "deno task new"]]);
    assert.deepEqual(await names(folder), []);
  });
});

for (const slip of SLIPS) Deno.test(`refused: ${slip.slip}`, () => checkSlip(slip));

Deno.test("every slip of a record is told at once, file by file", async () => {
  const files = Object.assign({}, ...SLIPS.slice(3, 9).map((slip) => slip.files), {
    "mirror.yaml": "aperture: 6\nfocal_length: 1200 mm\n",
  });
  await inFolder(async (folder) => {
    const { code, err } = await run("check", [await write(folder, files)]);
    assert.equal(code, 1);
    const places = err.trimEnd().split("\n").map((line) => line.split(/[,:]/)[0]);
    assert.deepEqual([...new Set(places)], ["mirror.yaml", "sagitta.csv", "sun.csv", "zones.csv"]);
  });
});

Deno.test("one run only is allowed, and its uncertainty is said to be assumed", async () => {
  await inFolder(async (folder) => {
    const rows = ["0,30,12.1", "30,45,12.2", "45,57,12.4", "57,67,12.5", "67,74,12.7"];
    const record = await write(folder, {
      "zones.csv": ZONES + rows.map((row) => `1,${row}\n`).join(""),
    });
    const { code, out, err } = await run("check", [record]);
    assert.equal(code, 0, err);
    assert.equal(err, "");
    assert.match(out, /zones\.csv.* assumed/);
    assert.match(out, /^ +wavefront P-V +\d\.\d+ wave ± /m);
  });
});

Deno.test("what a hostile folder prints cannot drive the terminal", async () => {
  await inFolder(async (folder) => {
    const record = await write(folder, {
      "mirror.yaml": `title: "\\e[31mred\\e[0m \\u0007bell"\n${MIRROR}`,
      "sun.csv": "distance_mm,note\n\u001b[31mx,y\n",
    });
    const { err, out } = await run("check", [record]);
    // deno-lint-ignore no-control-regex -- control characters are what is looked for
    assert.doesNotMatch(err + out, /[\u0000-\u0009\u000b-\u001f\u007f]/);
  });
});
