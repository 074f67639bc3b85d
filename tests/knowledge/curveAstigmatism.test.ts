/** Diameters of the hollow: invented depths along several of them, read by leaves and by the Sun. */
import assert from "node:assert/strict";
import { curveAstigmatism, notRoundWarning } from "../../lib/knowledge/curveAstigmatism.ts";
import { summarize } from "../../lib/knowledge/summary.ts";
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import { read } from "../record/bench.ts";

/** INVENTED: a mean depth of 1.1 mm over 150 mm, 30 um deeper at 20 degrees than across it. */
const depth = (degrees: number): number =>
  1.1 + 0.015 * Math.cos((2 * (degrees - 20) * Math.PI) / 180);
/** DERIVED: on the sphere of R = (75^2 + s^2) / 2s the gauge on a chord of 148 mm reads R - sqrt(R^2 - 74^2). */
const gauge = (s: number): string => {
  const R = (75 * 75 + s * s) / (2 * s);
  return (R - Math.sqrt(R * R - 74 * 74)).toFixed(3);
};
const rows = (angles: readonly number[]): string =>
  `after_min,depth_mm,angle_deg\n${angles.map((a) => `120,${gauge(depth(a))},${a}`).join("\n")}\n`;

Deno.test("four diameters by a depth gauge: the whole difference, whatever its axis", async () => {
  const record = await read({ "sagitta.csv": rows([0, 45, 90, 135, 180]) });
  const { value = NaN, unit, u = NaN, from } = curveAstigmatism(record) ?? {};
  assert.ok(Math.abs(value - 30) < 3 * u && u < 6 && u > 1, `${value} ± ${u}`);
  assert.deepEqual([unit, from], ["um", ["sagitta.csv"]]);
  const summary = summarize(record);
  assert.match(summary.warnings.map(({ message }) => message).join(), /deeper along one diameter/);
  assert.equal(JSON.parse(summaryText(summary)).curve.astigmatism.unit, "um");
});

Deno.test("a round hollow differs by no more than its doubt, and nothing is said", async () => {
  const even = [0, 60, 120].map((a) => `120,1.071,${a}`).join("\n");
  const record = await read({ "sagitta.csv": `after_min,depth_mm,angle_deg\n${even}\n` });
  const found = curveAstigmatism(record);
  assert.ok(found !== undefined && found.value < 3 * (found.u ?? 0));
  assert.equal(notRoundWarning(found), undefined);
});

Deno.test("two diameters tell their own difference, with as much doubt again; one tells nothing", async () => {
  const two = curveAstigmatism(await read({ "sagitta.csv": rows([0, 90, 0, 90]) }));
  // DERIVED: 30 cos 40 degrees = 23 of the 30 um lie between 0 and 90 degrees
  assert.ok(
    two !== undefined && Math.abs(two.value - 23) < 4 && (two.u ?? 0) > 11,
    `${two?.value}`,
  );
  assert.equal(curveAstigmatism(await read({ "sagitta.csv": rows([0, 180, 5]) })), undefined);
  const untold = await read({ "sagitta.csv": "after_min,depth_mm\n120,1.07\n120,1.09\n" });
  assert.equal(curveAstigmatism(untold), undefined);
  assert.equal("astigmatism" in (summarize(untold).curve ?? {}), false);
});

Deno.test("by the Sun, where the image is sharpest along each diameter: its own repeats give the doubt", async () => {
  // DERIVED: f = R / 2 = (75^2 + s^2) / 4s, read to a millimetre
  const f = (a: number): string => ((75 * 75 + depth(a) ** 2) / (4 * depth(a))).toFixed(0);
  const looks = [0, 45, 90, 135, 0, 45, 90, 135].map((a) => `120,${f(a)},${a}`).join("\n");
  const record = await read({ "sun.csv": `after_min,distance_mm,angle_deg\n${looks}\n` });
  const { value = NaN, u = NaN, from } = curveAstigmatism(record) ?? {};
  assert.ok(Math.abs(value - 30) < 2 && u < 2, `${value} ± ${u}`);
  assert.deepEqual(from, ["sun.csv"]);
});
