/** Slips that would end in a number one believes: each is named with its place, and the next step is to look at it. */
import assert from "node:assert/strict";
import sharp from "sharp";
import { describe } from "../../lib/record/errors.ts";
import { CHECKED } from "../../lib/record/settings.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { makePhoto } from "../testing/photoGenerator.ts";
import { bandsPhoto } from "../record/bandsPhoto.ts";
import { type Files, MIRROR, refusals, withRecord } from "../record/bench.ts";
import { trySlips } from "../record/slipsTrial.ts";

const summaryOf = (files: Files): Promise<Summary> =>
  withRecord(files, async (folder) => (await openMirror(folder)).summary);

const EDGES = [0, 33, 47, 57, 66, 74];
/** INVENTED: what a hand adds to fifteen readings, mm. */
const HAND = [3, -4, 1, -2, 5, -3, 2, 4, -5, 0, -1, 3, -2, 4, -4].map((n) => n / 100);

/** Three runs on a conic, R 2400 mm. DERIVED: a normal meets the axis -K z past the centre, z = r^2 / 2R near enough. */
function zones(conic: number, typed = (mm: number): string => mm.toFixed(2), lamp = 1): string {
  const lines = ["date,run,inner_mm,outer_mm,reading_mm"];
  for (let run = 0; run < 3; run++) {
    EDGES.slice(1).forEach((outer, n) => {
      const inner = EDGES[n] ?? 0, square = (inner ** 2 + outer ** 2) / 2;
      const reading = 12 - lamp * conic * square / 4800 + (HAND[5 * run + n] ?? 0);
      lines.push(`2026-06-19,${run + 1},${inner},${outer},${typed(reading)}`);
    });
  }
  return `${lines.join("\n")}\n`;
}

/** That a record's next step is to look at a slip, which stands under the warnings too; and that `checked` lets it pass. */
async function looksFirst(
  files: Files,
  named: RegExp,
  word: typeof CHECKED[number],
  where: RegExp,
): Promise<void> {
  const { nextStep: step, warnings } = await summaryOf(files);
  assert.equal(step.stage, "check the record", `${step.stage}: ${step.do}`);
  assert.match(step.why, named);
  assert.doesNotMatch(step.do, /press the lap|polish \d|coated/i, "no order in the same breath");
  const told = warnings.map(describe).filter((line) => named.test(line));
  assert.equal(told.length, 1, warnings.map(describe).join("\n"));
  assert.match(told[0] ?? "", where);
  const settled = `${files["mirror.yaml"] ?? MIRROR}checked: [${word}]\n`;
  const after = await summaryOf({ ...files, "mirror.yaml": settled });
  assert.notEqual(after.nextStep.stage, "check the record", after.nextStep.why);
}

Deno.test("without a slip nothing is doubted", async () => {
  const { nextStep: step, warnings } = await summaryOf({ "zones.csv": zones(-1) });
  assert.notEqual(step.stage, "check the record");
  assert.ok(!warnings.some(({ message }) => /digit off|lamp|copied|cm or inches/.test(message)));
});

Deno.test("a goal a digit off", () =>
  looksFirst(
    { "mirror.yaml": `${MIRROR}goal: { surface: 1/80 wave }\n`, "zones.csv": zones(-1) },
    /1\/80 wave is far from what is usual/,
    "goal",
    /^mirror\.yaml, column goal\.surface/,
  ));

Deno.test("a wavelength that one does not see", () =>
  looksFirst(
    { "mirror.yaml": `${MIRROR}goal: { wavelength: 850 nm }\n`, "zones.csv": zones(-1) },
    /850 nm is far from what is usual/,
    "goal",
    /^mirror\.yaml, column goal\.wavelength/,
  ));

Deno.test("a sphere that is asked for where none makes a telescope", () =>
  looksFirst(
    {
      "mirror.yaml":
        "aperture: 200 mm\nfocal_length: 800 mm\nbevel: 1 mm\ngoal: { shape: sphere }\n",
    },
    // DERIVED: the edge parts by r^4 / 8R^3 = 3052 nm, a quarter of it at best focus, twice that on the wavefront: 2.8 waves
    /2\.8 waves on the wavefront at its best focus/,
    "goal",
    /^mirror\.yaml, column goal\.shape/,
  ));

Deno.test("a hollow that grew shallower under the mirror on top", () =>
  looksFirst(
    {
      "grinding.csv": LOG.replace(/tool on top/g, "mirror on top"),
      "sagitta.csv": "after_min,go_mm,nogo_mm\n20,0.9,0.93\n40,0.6,0.63\n80,0.3,0.33\n",
    },
    /0\.92 mm deep after 20 min and 0\.32 mm after 80 min.*nothing but mirror on top between/,
    "curve",
    /^sagitta\.csv, line 4/,
  ));

Deno.test("a mirror past its paraboloid is told what a still lamp would make of it, and not that it is twice one", async () => {
  const { warnings } = await summaryOf({ "zones.csv": zones(-1.5) });
  const told = warnings.map(describe).find((line) => /lamp stood still/.test(line)) ?? "";
  assert.match(told, /the best conic is -1\.\d+; it would be -0\.7\d if the lamp stood still/);
});

Deno.test("glass ground since it was judged is not sent to the knife", async () => {
  const rest = { "zones.csv": zones(-1) };
  const log = "date,abrasive,position,minutes\n2026-05-01,cerium oxide,mirror on top,1200\n";
  const again = `${log}2026-07-05,F80,mirror on top,20\n`;
  const ground = (await summaryOf({ ...rest, "grinding.csv": again })).nextStep;
  assert.equal(ground.stage, "measuring");
  assert.match(ground.why, /F80 after the last zone readings/);
  const polished = await summaryOf({ ...rest, "grinding.csv": again.replace("F80", "rouge") });
  assert.equal(polished.nextStep.stage, "zone test");
  const chipped = { ...rest, "grinding.csv": log, "diary.csv": "date,what\n2026-07-05,chip\n" };
  const { do: order, why } = (await summaryOf(chipped)).nextStep;
  assert.match(order, /worked on since it was last read/);
  assert.match(why, /Log or diary/);
});

Deno.test("one opening only: what is wanted is a second one, and looking again settles nothing", async () => {
  const rows = ["run,inner_mm,outer_mm,reading_mm", ..."abc"].map((run, n) =>
    n === 0 ? run : `${run},0,74,12.3${n}`
  );
  const { nextStep: step } = await summaryOf({ "zones.csv": `${rows.join("\n")}\n` });
  assert.match(step.do, /^Read two zones or more/);
  assert.match(step.until, /two openings/);
  assert.doesNotMatch(step.until, /checked:/);
});

Deno.test("a goal beyond 1/100 to 4 waves, light beyond 300 to 1100 nm: refused", async () => {
  for (
    const goal of [
      "surface: 1/101 wave",
      "surface: 5 waves",
      "wavelength: 55 nm",
      "wavelength: 5500 nm",
    ]
  ) {
    const [told] = await refusals({ "mirror.yaml": `${MIRROR}goal: { ${goal} }\n` });
    assert.match(told?.message ?? "", /look at the digits/);
  }
  for (
    const goal of [
      "surface: 1/100 wave",
      "surface: 4 waves",
      "wavelength: 300 nm",
      "wavelength: 1100 nm",
    ]
  ) {
    await summaryOf({ "mirror.yaml": `${MIRROR}goal: { ${goal} }\n` });
  }
});

Deno.test("a fixed lamp written as one that moves: K near -2", () =>
  looksFirst(
    { "zones.csv": zones(-1, undefined, 2) },
    /lamp stood still while the knife moved/,
    "lamp",
    /^mirror\.yaml, column tester\.source/,
  ));

Deno.test("a lamp that moves written as fixed: one word beside the verdict, and the order waits for it", async () => {
  const yaml =
    `${MIRROR}tester: { source: fixed }\ngoal: { surface: 1/2 wave, scope: one diameter }\n`;
  const files = { "mirror.yaml": yaml, "zones.csv": zones(-1) };
  const { verdict, nextStep: step, warnings } = await summaryOf(files);
  assert.equal(verdict?.why.match(/look whether the lamp moves/g)?.length, 1);
  assert.ok(!warnings.some(({ message }) => /look whether the lamp/.test(message)), "told once");
  assert.match(step.do, /^(First look at the tester|Polish nothing)/);
  const looked = `${files["mirror.yaml"]}checked: [lamp]\n`;
  const after = await summaryOf({ ...files, "mirror.yaml": looked });
  assert.doesNotMatch(after.verdict?.why ?? "", /lamp/);
  assert.doesNotMatch(after.nextStep.do, /^First look/);
});

Deno.test("a scale the wrong way round: the sign is named, and no minute of polishing is ordered", () =>
  looksFirst(
    { "zones.csv": zones(-1, (mm) => (30 - mm).toFixed(2)) },
    /a scale read the wrong way round/,
    "scale",
    /^zones\.csv, line 2, column reading/,
  ));

Deno.test("zone readings in cm, in inches, all zero; openings in inches", async () => {
  const units = "units";
  const cm = { "zones.csv": zones(-1, (mm) => (mm / 10).toFixed(3)) };
  await looksFirst(cm, /read as cm they would be/, units, /^zones\.csv, line 2/);
  const inches = { "zones.csv": zones(-1, (mm) => (mm / 25.4).toFixed(4)) };
  await looksFirst(inches, /read as inches they would be/, units, /^zones\.csv, line 2/);
  const none = { "zones.csv": zones(-1, () => "0") };
  await looksFirst(none, /every reading is 0 mm/, units, /^zones\.csv, line 2, column reading/);
  const inch = (mm: string): string => (Number(mm) / 25.4).toFixed(2);
  const small = zones(-1).replace(
    /,(\d+),(\d+),([\d.]+)$/gm,
    (_, inner, outer, reading) => `,${inch(inner)},${inch(outer)},${reading}`,
  );
  await looksFirst({ "zones.csv": small }, /openings in cm or inches/, units, /column outer/);
});

Deno.test("one run pasted four times", async () => {
  const [head = "", ...rows] = zones(-1).trimEnd().split("\n"), run = rows.slice(0, 5);
  const all = [1, 2, 3, 4].flatMap((n) => run.map((row) => row.replace(",1,", `,${n},`)));
  await looksFirst(
    { "zones.csv": `${[head, ...all].join("\n")}\n` },
    /runs 1, 2, 3, 4 have the same reading in every zone/,
    "runs",
    /^zones\.csv, line 7, column run/,
  );
});

Deno.test("runs that agree on a coarse scale are no copies", async () => {
  const coarse = zones(-1, (mm) => (Math.round(4 * mm) / 4).toFixed(1));
  const { nextStep: step } = await summaryOf({ "zones.csv": coarse });
  assert.doesNotMatch(step.why, /copied/);
});

const LEAVES = "after_min,go_mm,nogo_mm\n120,1.12,1.14\n120,1.13,1.15\n120,1.12,1.14\n";
const LOG = "abrasive,position,minutes\nF80,mirror on top,120\n";

Deno.test("depths in cm or inches, while the plan still allows a shallow hollow", async () => {
  for (const rows of ["40,0.036,0.038\n", "80,0.0283,0.0291\n"]) {
    await looksFirst(
      { "grinding.csv": LOG, "sagitta.csv": `after_min,go_mm,nogo_mm\n${rows}` },
      /ten times slower than grinding does/,
      "curve",
      /^sagitta\.csv/,
    );
  }
});

Deno.test("one wrong cell of the Sun: told with its line, the Sun left out, the leaves used", async () => {
  const files = {
    "sagitta.csv": LEAVES,
    "sun.csv": "after_min,distance_mm\n120,1199\n120,1.199\n120,1201\n120,1196\n",
  };
  const { curve, warnings, nextStep: step } = await summaryOf(files);
  assert.deepEqual(curve?.estimates.map(({ method, used }) => [method, used]), [["leaves", true]]);
  const told = warnings.map(describe).find((line) => /1\.199 mm does/.test(line)) ?? "";
  assert.match(
    told,
    /^sun\.csv, line 3: 1\.199 mm does not go with the others.* metres were read as mm/,
  );
  assert.equal(step.stage, "check the record");
  assert.match(step.do, /sun\.csv, line 3/);
});

Deno.test("columns of the Sun swapped, a table in metres, a table of zeros", async () => {
  const of = (sun: string): Promise<Summary> =>
    summaryOf({ "sagitta.csv": LEAVES, "sun.csv": `after_min,distance_mm,image_mm\n${sun}` });
  const swapped = await of("120,11.1,1199\n120,11.2,1201\n");
  assert.match(swapped.nextStep.why, /two columns seem swapped/);
  assert.ok(swapped.curve?.estimates.every(({ method }) => method === "leaves"));
  const metres = await of("120,1.199,\n120,1.201,\n");
  assert.match(metres.nextStep.why, /metres were read as mm/);
  const half = await of("120,0.6,\n120,0.61,\n");
  assert.match(half.nextStep.why, /less than half the disc|not used/);
  const none = await of("120,0,\n120,0,\n");
  assert.match(none.nextStep.why, /0 mm is no distance of the Sun's image/);
  assert.deepEqual(none.curve?.estimates.map(({ method, used }) => [method, used]), [[
    "leaves",
    true,
  ]]);
  assert.match(metres.warnings.map(describe).join("\n"), /^sun\.csv, line 2: /m);
});

Deno.test("a go of 0 in one row: not even the thinnest leaf passes; the other rows are read", async () => {
  const rows = "after_min,go_mm,nogo_mm\n20,0,0.05\n20,0.02,0.05\n20,0.03,0.05\n";
  const { curve, warnings } = await summaryOf({ "grinding.csv": LOG, "sagitta.csv": rows });
  assert.equal(curve?.estimates[0]?.readings, 3);
  assert.ok(!warnings.some(({ message }) => /requires|not used/.test(message)));
});

const LEGS = `${MIRROR}gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 3 mm } }\n`;

Deno.test("flat and mirror swapped in one row, in one session, in all", async () => {
  const rows = (text: string): Files => ({
    "mirror.yaml": LEGS,
    "sagitta.csv": LEAVES,
    "spherometer.csv": `after_min,surface,dial_mm\n${text}`,
  });
  const one = rows(
    "120,flat,5.001\n120,mirror,5.522\n120,mirror,5.002\n120,flat,5.523\n120,flat,5.000\n120,mirror,5.521\n",
  );
  await looksFirst(one, /are flat and mirror swapped/, "curve", /^spherometer\.csv, line [45]/);
  const session = rows("60,flat,5.001\n60,mirror,5.252\n120,flat,5.522\n120,mirror,5.001\n");
  await looksFirst(session, /the dial goes the other way/, "curve", /^spherometer\.csv, line 4/);
  // swapped throughout, the height is the same: nothing wrong comes of it
  const all = await summaryOf(rows("120,mirror,5.001\n120,flat,5.522\n"));
  const sound = await summaryOf(rows("120,flat,5.001\n120,mirror,5.522\n"));
  assert.equal(all.curve?.radius?.value, sound.curve?.radius?.value);
});

/** A photograph of a paraboloid 148 mm wide, 10 mm inside its centre of curvature; INVENTED. */
async function photograph(squeeze: number): Promise<Uint8Array> {
  const made = makePhoto(bandsPhoto);
  const grey = Uint8Array.from(made.values, (v) => Math.round(255 * v));
  const picture = sharp(grey, { raw: { width: 400, height: 380, channels: 1 } })
    .resize({ width: Math.round(400 * squeeze), height: 380, fit: "fill" });
  return new Uint8Array(await picture.toColourspace("b-w").png().toBuffer());
}

Deno.test("a photograph with the wrong sign before its offset, and one squeezed by a tenth", async () => {
  const files = async (offset: number, squeeze: number): Promise<Files> => ({
    "ronchi.csv": `photo,lines_per_mm,offset_mm\na.png,4,${offset}\n`,
    "photos/a.png": await photograph(squeeze),
  });
  const sound = await summaryOf(await files(-10, 1));
  assert.notEqual(sound.nextStep.stage, "check the record");
  await looksFirst(
    await files(10, 1),
    /with a minus before its offset of 10 mm/,
    "photographs",
    /^ronchi\.csv, line 2, column offset/,
  );
  await looksFirst(
    await files(-10, 0.9),
    /0\.\d+ times as wide as it is high/,
    "photographs",
    /^ronchi\.csv, line 2, column photo/,
  );
});

Deno.test("sixty-nine records by dice: no slip ends in an order told as if nothing were wrong", async () => {
  const all = await trySlips(69);
  const wrong = all.filter(({ end }) => end === "confident and wrong");
  assert.deepEqual(wrong.map(({ kind, seed, slipped }) => `${kind}, ${seed}: ${slipped}`), []);
  assert.deepEqual(all.filter(({ falseAlarm }) => falseAlarm).map(({ kind }) => kind), []);
});
