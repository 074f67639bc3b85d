/** Zone readings day by day, and the latest day's figure as the summary holds it. */
import assert from "node:assert/strict";
import {
  figureSummary,
  judgingOf,
  judgingRadius,
  reduceMeasurement,
} from "../../lib/knowledge/figureSummary.ts";
import { zoneMeasurements } from "../../lib/knowledge/glassWork.ts";
import type { FigureFound } from "../../lib/knowledge/figureSummary.ts";
import type { CurveSummary } from "../../lib/knowledge/summaryTypes.ts";
import { JUNE, SPELL_2 } from "../testing/story.ts";
import { type Files, MIRROR, read } from "../record/bench.ts";

const EDGES = [0, 30, 45, 57, 67, 74];

function table(days: Readonly<Record<string, readonly (readonly number[])[]>>): Files {
  const rows = Object.entries(days).flatMap(([date, runs]) =>
    runs.flatMap((run, i) =>
      run.map((reading, z) =>
        `${date},${date.slice(-2)}-${i + 1},${EDGES[z]},${EDGES[z + 1]},${reading}`
      )
    )
  );
  return { "zones.csv": `date,run,inner_mm,outer_mm,reading_mm\n${rows.join("\n")}\n` };
}

async function found(files: Files, yaml = ""): Promise<FigureFound> {
  const record = await read({ ...files, "mirror.yaml": MIRROR + yaml });
  return figureSummary(record, judgingOf(record, {}));
}

Deno.test("no readings: no figure, no verdict, no warning", async () => {
  assert.deepEqual(await found({}), { warnings: [] });
});

const SPELL: Files = {
  "grinding.csv": "date,abrasive,position,minutes\n2026-06-19,cerium oxide,mirror on top,6\n",
};

Deno.test("with work between them the latest surface alone counts", async () => {
  const both = await found({ ...table({ "2026-06-12": JUNE, "2026-06-26": SPELL_2 }), ...SPELL });
  const last = await found({ ...table({ "2026-06-26": SPELL_2 }), ...SPELL });
  assert.deepEqual(both, last);
  assert.notEqual(both.verdict?.meetsGoal, "no");
  const first = await found({ ...table({ "2026-06-26": JUNE, "2026-06-12": SPELL_2 }), ...SPELL });
  assert.ok((first.verdict?.probability ?? 1) < 0.5 && (both.verdict?.probability ?? 0) > 0.5);
});

Deno.test("without work between them all days are one measurement, and the days are named", async () => {
  const { figure, verdict } = await found(table({ "2026-06-12": JUNE, "2026-06-26": SPELL_2 }));
  assert.equal(figure?.runs, JUNE.length + SPELL_2.length);
  assert.match(
    verdict?.why ?? "",
    /; from 8 runs of 2026-06-12 and 2026-06-26 taken together, for no work on the glass lies/,
  );
});

Deno.test("a verdict from one diameter says so", async () => {
  const { verdict } = await found(table({ "2026-06-26": SPELL_2 }));
  assert.equal(verdict?.scope, "one diameter");
});

Deno.test("glass is half the wavefront, and both say of which width", async () => {
  const { figure } = await found(table({ "2026-06-26": SPELL_2 }));
  assert.ok(
    Math.abs((figure?.wavefrontPv?.value ?? 0) * 550 / 2 - (figure?.surfacePv?.value ?? 1)) <
      1e-9,
  );
  assert.ok(
    Math.abs((figure?.wavefrontRms?.value ?? 0) * 550 / 2 - (figure?.surfaceRms?.value ?? 1)) <
      1e-9,
  );
  assert.deepEqual(figure?.judgedAperture, { value: 148, unit: "mm" });
  assert.equal(
    figure?.probabilityWithinGoal,
    (await found(table({ "2026-06-26": SPELL_2 }))).verdict?.probability,
  );
});

Deno.test("the profile has its mean at zero by area, and spans the peak to valley", async () => {
  const { figure } = await found(table({ "2026-06-26": SPELL_2 }));
  const profile = figure?.profile ?? [];
  assert.ok(profile.length > 20);
  let area = 0, volume = 0;
  for (let i = 1; i < profile.length; i++) {
    const [a, b] = [profile[i - 1], profile[i]];
    if (a === undefined || b === undefined) continue;
    area += b.radius ** 2 - a.radius ** 2;
    volume += (a.surfaceError + b.surfaceError) / 2 * (b.radius ** 2 - a.radius ** 2);
  }
  assert.ok(Math.abs(volume / area) < 0.3, `mean ${volume / area} nm`);
  const heights = profile.map(({ surfaceError }) => surfaceError);
  const span = Math.max(...heights) - Math.min(...heights);
  assert.ok(Math.abs(span - (figure?.surfacePv?.value ?? 0)) < 1, `${span} nm`);
});

Deno.test("the tester counts: with a lamp that stays put the same readings are half the shape", async () => {
  const moving = await found(table({ "2026-06-26": SPELL_2 }));
  const fixed = await found(table({ "2026-06-26": SPELL_2 }), "tester: { source: fixed }\n");
  const [m = 0, f = 0] = [moving.figure?.conic?.value, fixed.figure?.conic?.value];
  // DERIVED: K is -1 for a spread of r^2 / 2R with the lamp on the slide, r^2 / R with one that stays
  assert.ok(Math.abs(f / m - 0.5) < 0.02, `${f} for ${m}`);
});

Deno.test("a goal may be a sphere, and is then judged against one", async () => {
  const { figure } = await found(
    table({ "2026-06-26": SPELL_2 }),
    "goal: { surface: 1/8 wave, shape: sphere }\n",
  );
  assert.equal(figure?.reference, "sphere");
});

Deno.test("one run: a figure all the same, and what is assumed is told of zones.csv", async () => {
  const { figure, warnings, verdict } = await found(table({ "2026-06-26": SPELL_2.slice(0, 1) }));
  assert.equal(figure?.runs, 1);
  assert.ok(verdict !== undefined);
  assert.ok(
    warnings.some(({ file, message }) => file === "zones.csv" && message.includes("assumed")),
  );
});

Deno.test("readings that cannot be reduced: refused with a reason, no verdict, told", async () => {
  const one = { "zones.csv": "run,inner_mm,outer_mm,reading_mm\n1,0,30,12.1\n" };
  const { figure, verdict, warnings } = await found(one);
  assert.match(figure?.refused ?? "", /one zone tells only focus: read two zones or more/);
  assert.equal(verdict, undefined);
  assert.match(warnings[0]?.message ?? "", /^not reduced: /);
});

Deno.test("the radius to judge by: measured where it is, else the plan's", async () => {
  // INVENTED
  const record = await read({});
  const curve = { radius: { value: 2396, unit: "mm" } } as CurveSummary;
  assert.equal(judgingRadius(record, undefined), 2400);
  assert.equal(judgingRadius(record, curve), 2396);
  const { radius: _, ...slips } = curve;
  assert.equal(judgingRadius(record, slips as CurveSummary), 2400, "every table a slip");
});

Deno.test("the radius hardly matters to the figure", async () => {
  const record = await read(table({ "2026-06-26": SPELL_2 }));
  const [day] = zoneMeasurements(record);
  assert.ok(day !== undefined);
  const [near, far] = [2396, 2420].map((radius) => reduceMeasurement(record, day, { radius }));
  assert.ok(near !== undefined && far !== undefined);
  assert.ok(Math.abs(near.wavefrontPv.value / far.wavefrontPv.value - 1) < 0.1);
});
