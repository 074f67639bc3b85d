/** A summary in plain lines: what is printed, and what is left out where nothing is known. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { readRecord } from "../../lib/record/readRecord.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { tellQ } from "../../lib/knowledge/tellQ.ts";
import { read } from "../record/bench.ts";

const demo = summarize(await readRecord(join(recordsFolder, "demo-150-f8")));
const halfway = summarize(await readRecord(join(recordsFolder, "halfway-200-f6")));
const plan = summarize(await read({}));

const text = (summary: Summary, defaults: readonly string[] = []): string =>
  tell(summary, defaults).join("\n");
/** The titles of the blocks. */
const blocks = (summary: Summary): string[] =>
  tell(summary).slice(2).filter((line) => /^[A-Z]/.test(line));

Deno.test("a quantity is rounded by its uncertainty, one without by its digits", () => {
  assert.equal(tellQ({ value: 2396.6123, unit: "mm", u: 2.41, dof: 12 }), "2396.6 mm ± 2.4 mm");
  assert.equal(tellQ({ value: 1.17216, unit: "mm" }, 3), "1.172 mm");
  assert.equal(tellQ({ value: 2400, unit: "mm" }, 1), "2400 mm");
  assert.equal(tellQ({ value: -0.5, unit: "" }), "−0.5");
});

Deno.test("blocks come in the order of the work, each only where there is something", () => {
  assert.deepEqual(blocks(plan), ["Design", "Next step: blanks"]);
  assert.deepEqual(blocks(halfway), [
    "Design",
    "Curve",
    "Grinding",
    "Telescope",
    "Coating and sky",
    "Next step: correcting",
  ]);
  assert.deepEqual(blocks(demo), [
    "Design",
    "Curve",
    "Grinding",
    "Surface, from the zones",
    "Verdict",
    "Telescope",
    "Coating and sky",
    "Next step: coating",
  ]);
});

Deno.test("the head names the mirror, its folder and its size", () => {
  const [title, size] = tell(demo);
  assert.equal(title, "Asha's mirror, Kestrel Lane, blue group  (demo-150-f8)");
  assert.equal(size, "150 mm aperture, f/8");
});

Deno.test("a sphere that is enough is said to be", () => {
  assert.match(text(plan), /a sphere is not enough: a paraboloid, 286 nm away at the edge/);
  const design = { ...plan.design, sphereIsEnough: true };
  assert.match(text({ ...plan, design }), /a sphere is enough$/m);
});

Deno.test("one reading is one reading, more are readings; unused and set-aside ones are told", () => {
  const said = text(demo);
  assert.match(said, /sun image +radius .* from 1 reading, not used$/m);
  assert.match(said, /leaves +radius .* from 6 readings$/m);
  assert.match(said, /set aside +sagitta\.csv, line 7: /);
});

Deno.test("methods that disagree are said to, with the odd one", () => {
  assert.ok(demo.curve !== undefined);
  const curve = { ...demo.curve, consistent: false, oddOne: "leaves" as const };
  assert.match(
    text({ ...demo, curve }),
    /the methods disagree \(Birge ratio .*\); the odd one is the leaves/,
  );
});

Deno.test("a curve without a radius says nothing of one", () => {
  assert.ok(demo.curve !== undefined);
  const { radius: _r, focalLength: _f, sagitta: _s, ...slips } = demo.curve;
  const said = text({ ...demo, curve: slips });
  assert.doesNotMatch(said, /undefined|NaN/);
});

Deno.test("the log: rates, depth, overshoot, minutes with their interval; or that it cannot tell", () => {
  const said = text(halfway);
  assert.match(said, /mirror on top +deepens by 9\.3\d µm\/min ± /);
  assert.match(said, /tool on top +flattens by 8\.6 µm\/min ± /);
  assert.match(said, /too deep by +47 µm ± 5 µm$/m);
  assert.match(
    said,
    /to the target +5\.5 min ± .* min \(95 %: \d+\.\d to \d+\.\d min\), tool on top$/m,
  );
  assert.ok(halfway.grinding !== undefined);
  const { minutesToTarget: _m, interval95: _i, ...short } = halfway.grinding;
  assert.match(
    text({ ...halfway, grinding: { ...short, canForecast: false } }),
    /forecast +cannot tell yet/,
  );
});

Deno.test("surfaces: zones, photographs, and those that could not be used, with the reason", () => {
  const figure = {
    zones: { refused: "two openings are too few" },
    photos: [{ photo: "photos/inside.jpg", refused: "no bands" }, {
      ...demo.figure?.zones,
      photo: "b.jpg",
    }],
  };
  const said = text({ ...demo, figure });
  assert.match(said, /^Surface, from the zones\n +zones +not used: two openings are too few$/m);
  assert.match(said, /^Surface, from photos\/inside\.jpg\n +photograph +not used: no bands$/m);
  const { surfacePv: glass } = demo.figure?.zones ?? {};
  assert.ok(glass?.u !== undefined);
  assert.ok(said.includes(`\nSurface, from b.jpg\n  glass P-V       ${tellQ(glass)}\n`), said);
  assert.match(tellQ(glass), /^\d\d nm ± \d nm$/);
});

Deno.test("warnings stand with their place, as far as it is known", () => {
  const warnings = [
    { file: "sun.csv", line: 4, message: "far from the others" },
    { file: "zones.csv", message: "one run only" },
    { message: "of no file" },
  ];
  const said = text({ ...demo, warnings });
  assert.match(
    said,
    /^Look at this\n +sun\.csv:4 +far from the others\n +zones\.csv +one run only\n +of no file$/m,
  );
});

Deno.test("what was taken as usual is told, sentence by sentence", () => {
  const said = text(plan, ["Glass taken as soda-lime.", "Bevel taken as 0 mm."]);
  assert.match(said, /^Taken as usual\n +Glass taken as soda-lime\.\n +Bevel taken as 0 mm\.$/m);
});

Deno.test("the caution, then what to do, until when, and why are always there, at the end", () => {
  for (const summary of [plan, halfway, demo]) {
    const lines = tell(summary);
    const last = lines.slice(lines.findIndex((line) => line.startsWith("Next step: ")) + 1);
    const labels = last.map((line) => /^ {2}(\S+)/.exec(line)?.[1]).filter((one) =>
      one !== undefined
    );
    assert.deepEqual(labels, ["caution", "do", "until", "why"]);
    assert.equal(
      last.slice(0, last.findIndex((line) => /^ {2}do /.test(line))).map((line) => line.trim())
        .join(" ").replace(/^caution +/, ""),
      summary.nextStep.caution,
    );
  }
});

Deno.test("nights stand in a block of their own: the number with its doubt, and what was decided; or what is missing", () => {
  const night = { title: "x", heads: [], rows: [], numbers: [], says: "A clock needs its place." };
  const nights = [
    {
      ...{ ...night, project: "double star" as const, short: "closest pair told 0.90 ± 0.05″" },
      decided: { asked: "Is it below 0.93″?", answer: "yes" as const, then: "Nothing." },
    },
    { ...night, project: "occultation" as const },
  ];
  const said = tell(plan, [], nights).join("\n");
  assert.match(
    said,
    /\nNights\n {2}double star {5}closest pair told 0\.90 ± 0\.05″\. Is it below 0\.93″\? yes\n {2}occultation {5}A clock needs its place\.\n/,
  );
  assert.doesNotMatch(tell(plan).join("\n"), /^Nights$/m);
});
