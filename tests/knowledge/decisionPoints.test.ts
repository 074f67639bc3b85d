/** The points at which a maker must decide: a reading before each grade is left, a depth that missed, a plan that the glass has left. */
import assert from "node:assert/strict";
import { join } from "node:path";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { read } from "../record/bench.ts";

const GRADES = ["F120", "F220", "F320", "F500", "F800", "F1200"];
const TELESCOPE =
  "telescope: { tube: { inner_diameter: 180 mm, wall: 3 mm, front_length: 150 mm }, focuser: { height: 70 mm, margin: 15 mm }, " +
  "fully_lit_field: 8 mm, flats: [25 mm, 31 mm, 35 mm] }\n";

/** DERIVED: depth over 150 mm of a sphere of R = 2f, and what a gauge on 148 mm reads of a depth. */
const depthOf = (f: number): number => 2 * f - Math.sqrt(4 * f * f - 75 * 75);
function gauge(depth: number): string {
  const R = (75 * 75 + depth * depth) / (2 * depth);
  return (R - Math.sqrt(R * R - 74 * 74)).toFixed(3);
}

/**
 * INVENTED: F80 at 8.9 um a minute to the depth of f, then 40 minutes of each grade up to one, half with the discs swapped.
 *
 * @param lastRead  minutes before the end at which the depth was read last
 */
async function worked(f: number, last: string, lastRead: number): Promise<Summary> {
  const grades = GRADES.slice(0, GRADES.indexOf(last) + 1), rough = depthOf(f) * 1000 / 8.9;
  const minutes = rough + 40 * grades.length;
  const log = [
    `F80,mirror on top,${rough.toFixed(1)}`,
    ...grades.flatMap((grade) => [`${grade},mirror on top,20`, `${grade},tool on top,20`]),
  ];
  const depths = [0.25, 0.5, 0.75].map((share) =>
    `${(share * rough).toFixed(1)},${gauge(share * depthOf(f))}`
  );
  const at = (minutes - lastRead).toFixed(1);
  return summarize(
    await read({
      "mirror.yaml": `aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 1 mm\n${TELESCOPE}`,
      "grinding.csv": `abrasive,position,minutes\n${log.join("\n")}\n`,
      "sagitta.csv": `after_min,depth_mm\n${
        [...depths, `${at},${gauge(depthOf(f))}`, `${at},${gauge(depthOf(f))}`].join("\n")
      }\n`,
    }),
  );
}

Deno.test("after each grade a depth is asked for before the next, and before the lap; read, nobody is asked again", async () => {
  for (const [i, grade] of GRADES.entries()) {
    const { nextStep: unread } = await worked(1200, grade, 40);
    assert.match(`${unread.do} ${unread.until}`, /[Rr]ead the sagitta/, `${grade}: ${unread.do}`);
    assert.notEqual(unread.stage, "lap", grade);
    const { nextStep: done } = await worked(1200, grade, 0);
    assert.doesNotMatch(done.do, /[Rr]ead the sagitta/, `${grade}: ${done.do}`);
    const next = GRADES[i + 1];
    if (next === undefined) assert.equal(done.stage, "lap");
    else assert.deepEqual([done.stage, done.grade], ["fine grinding", next], done.do);
  }
});

Deno.test("the depth's doubt grows with every minute since the last reading, and is told where it is large", async () => {
  const doubts: number[] = [];
  for (const ago of [0, 10, 20, 40]) {
    const { grinding } = await worked(1200, "F120", ago);
    doubts.push(grinding?.sagittaNow.u ?? NaN);
  }
  for (const [i, u] of doubts.slice(1).entries()) assert.ok(u > (doubts[i] ?? NaN), `${doubts}`);
  const { nextStep } = await worked(1200, "F120", 40);
  assert.match(nextStep.why, /40 minutes were ground since the last reading: .* ± \d+ µm/);
});

Deno.test("a depth that missed: mended while a grade can, then living with it or going back, each with its numbers", async () => {
  // DERIVED: f 1170 mm is 30 um deeper than 1200; F220 of 60 um in place of F80's 185 takes 3.0 um a minute at the usual 9.3
  const { nextStep: early } = await worked(1170, "F220", 0);
  assert.deepEqual([early.stage, early.grade], ["correcting", "F220"]);
  assert.ok((early.minutes ?? 0) >= 9 && (early.minutes ?? 0) <= 12, `${early.minutes} minutes`);
  assert.deepEqual(early.plan?.map(({ position, minutes }) => [position, minutes]), [[
    "tool on top",
    early.minutes,
  ]]);
  const { nextStep: late, grinding, curve } = await worked(1170, "F1200", 0);
  const { accept, goBack } = grinding?.choice ?? assert.fail("the choice is offered");
  assert.equal(late.stage, "correcting");
  assert.equal(accept.focalLength.value, curve?.focalLength?.value);
  assert.ok(Math.abs(accept.focalRatio - accept.focalLength.value / 150) < 1e-9);
  // DERIVED: r^4 / 8 R^3 in nm
  const R = 2 * accept.focalLength.value, departure = 75 ** 4 / (8 * R ** 3) * 1e6;
  assert.ok(Math.abs(accept.sphereDeparture.value / departure - 1) < 0.01);
  assert.equal(goBack.position, "tool on top");
  for (const said of [`${goBack.grade}, tool on top`, "focal_length: 1170 mm", "f/7.8"]) {
    assert.ok(late.do.includes(said), `${said} in ${late.do}`);
  }
  assert.match(late.why, /a tube 30 mm shorter, another place and size of the flat/);
});

Deno.test("the plan rules while the disc is hollowed; behind rough grinding the glass does, and says so", async () => {
  const loud =
    /the glass has a focal length of 1170(\.\d)? mm, the plan 1200 mm: .* build for 1170/;
  const said = ({ warnings }: Summary): string => warnings.map(({ message }) => message).join();
  const rough = await worked(1170, "", 0);
  assert.equal(rough.telescope?.builtFor.value, 1200);
  assert.doesNotMatch(said(rough), loud);
  for (const grade of ["F220", "F1200"]) {
    const fine = await worked(1170, grade, 0), built = fine.telescope?.builtFor.value ?? NaN;
    assert.ok(Math.abs(built - 1170) < 2, `${grade}: ${built}`);
    assert.match(said(fine), loud, grade);
  }
});

Deno.test("methods that gainsay one another are no ground to mend a depth by", async () => {
  // RECORDED in the demo's class: leaves over the whole width without the bevel say 28 um too shallow, the Sun says it is right
  const { summary } = await openMirror(join(recordsFolder, "class-kestrel-lane", "bench-06"));
  assert.equal(summary.curve?.consistent, false);
  assert.equal(summary.nextStep.stage, "measuring");
  assert.doesNotMatch(summary.nextStep.do, /[Mm]end the depth|go on to F320/);
  assert.match(summary.nextStep.do, /Measure the bevel .* mirror\.yaml says 0 mm.*stone the edge/);
});

Deno.test("a radius over 1 % off in a grade that cannot move it: the choice now, not three grades later", async () => {
  // RECORDED in the demo's class: F500, 13 um too deep, R 2374 mm of 2400: 1.1 %
  const { summary } = await openMirror(join(recordsFolder, "class-kestrel-lane", "bench-09"));
  const { stage, grade, plan, until } = summary.nextStep;
  assert.deepEqual([stage, grade, plan?.[0]?.position], ["correcting", "F220", "tool on top"]);
  assert.match(until, /the depth is right by a reading, or the plan has the glass's focal length/);
  assert.equal(summary.grinding?.choice, undefined, "the key of the summary is of the last grade");
});
