/** A bevel that nobody wrote is not 0 in silence: its whole range is in the doubt, and the next step asks for it once. */
import assert from "node:assert/strict";
import { carrySagitta, sagitta } from "../../lib/optics/sphere.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import type { Summary } from "../../lib/knowledge/summaryTypes.ts";
import { type Files, withRecord } from "./bench.ts";

const summaryOf = (files: Files): Promise<Summary> =>
  withRecord(files, async (folder) => (await openMirror(folder)).summary);

const WITHOUT = "aperture: 150 mm\nfocal_length: 1200 mm\n";
const WITH = `${WITHOUT}bevel: 1 mm\n`;

/** DERIVED: depth gauge readings of a sphere of R 2400 mm between bevels of this width, to 0.01 mm. */
function depths(bevel: number, minutes: readonly number[]): string {
  const rows = minutes.map((minute) => {
    const radius = 2400 * 120 / minute;
    return `${minute},${sagitta(150 - 2 * bevel, radius).toFixed(2)}`;
  });
  return `after_min,depth_mm\n${rows.join("\n")}\n`;
}

const LOG = "abrasive,position,minutes\nF80,mirror on top,120\n";
const MINUTES = [20, 40, 60, 80, 100, 120];

Deno.test("whatever the bevel is, from 0 to 1.5 mm, the radius holds the mirror's own", async () => {
  for (const bevel of [0, 0.4, 0.75, 1.1, 1.5]) {
    const { curve, grinding } = await summaryOf({
      "mirror.yaml": WITHOUT,
      "grinding.csv": LOG,
      "sagitta.csv": depths(bevel, MINUTES),
    });
    const { value = 0, u = 0 } = curve?.radius ?? {};
    assert.ok(Math.abs(value - 2400) < 2 * u, `bevel ${bevel}: ${value} +- ${u}`);
    const now = grinding?.sagittaNow;
    const wanted = sagitta(150, 2400);
    assert.ok(Math.abs((now?.value ?? 0) - wanted) < 2 * (now?.u ?? 0), `bevel ${bevel}`);
    // DERIVED: c = 148.5 mm, u of c / 2 is 0.75 / sqrt 3 mm: u_R = 4 R u / c = 28 mm at least
    assert.ok(u > 27 && u < 40, `${u}`);
  }
});

Deno.test("with the bevel written, or the chord in each row, nothing of it is in the doubt", async () => {
  const files = { "grinding.csv": LOG, "sagitta.csv": depths(1, MINUTES) };
  const written = await summaryOf({ ...files, "mirror.yaml": WITH });
  const without = await summaryOf({ ...files, "mirror.yaml": WITHOUT });
  // DERIVED: the bevel alone brings 28 mm, as above
  const more = Math.hypot(written.curve?.radius?.u ?? 0, 28);
  assert.ok(Math.abs((without.curve?.radius?.u ?? 0) / more - 1) < 0.05);
  assert.ok(!written.curve?.budget.some(({ source }) => source === "bevel not written"));
  const chord = depths(1, MINUTES).replace("depth_mm", "depth_mm,chord_mm").replace(
    /^(\d+,[\d.]+)$/gm,
    "$1,148",
  );
  const onChord = await summaryOf({ ...files, "mirror.yaml": WITHOUT, "sagitta.csv": chord });
  assert.equal(onChord.curve?.radius?.u, written.curve?.radius?.u);
  assert.ok(!/bevel/.test(onChord.nextStep.do));
});

Deno.test("the next step asks for it once; written as 0 it is 0", async () => {
  const files = { "grinding.csv": LOG, "sagitta.csv": depths(1, MINUTES) };
  const { nextStep: step, warnings, curve } = await summaryOf({
    ...files,
    "mirror.yaml": WITHOUT,
  });
  assert.equal(step.do.match(/measure the bevel/g)?.length, 1, step.do);
  assert.ok(!/measure the bevel/.test(step.until + step.why));
  assert.ok(!warnings.some(({ message }) => /bevel/.test(message)));
  assert.ok(curve?.budget.some(({ source }) => source === "bevel not written"));
  const zero = await summaryOf({ ...files, "mirror.yaml": `${WITHOUT}bevel: 0 mm\n` });
  assert.ok(!/measure the bevel/.test(zero.nextStep.do));
  // DERIVED: the same depth on the full 150 mm
  const last = Number(sagitta(148, 2400).toFixed(2)), full = carrySagitta(last, 150, 150);
  assert.ok(Math.abs((zero.grinding?.sagittaNow.value ?? 0) - full) < 0.01);
  const none = await summaryOf({ "mirror.yaml": WITHOUT });
  assert.ok(!/measure the bevel/.test(none.nextStep.do), "nothing rests on the rim yet");
});
