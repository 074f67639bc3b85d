import assert from "node:assert/strict";
import { describe, Findings } from "../../lib/record/errors.ts";
import { type ReadSettings, readSettings } from "../../lib/record/settings.ts";
import type { Settings } from "../../lib/record/types.ts";

function settings(text: string): ReadSettings {
  const findings = new Findings();
  const read = readSettings(text, "folder", findings);
  assert.deepEqual(findings.refusals.map(describe), []);
  assert.ok(read !== undefined);
  return read;
}

Deno.test("two keys are enough; everything else is taken as usual and told", () => {
  const { settings: found, told } = settings("aperture: 150 mm\nfocal_length: 1200 mm\n");
  const expected: Settings = {
    title: "folder",
    aperture: 150,
    focalLength: 1200,
    bevel: 0,
    unknownBevel: 1.5,
    glass: "soda-lime",
    thickness: 25,
    goal: { surfaceWaves: 0.125, wavelength: 550, shape: "auto", scope: "whole surface" },
    gauges: {
      leaves: { width: 12.7, tolerance: 0.005 },
      dialStep: 0.001,
      depthGaugeStep: 0.01,
      rulerStep: 1,
      chordU: 0.15,
    },
    tester: { source: "moves with knife", openings: "bands", ronchi: "same grating" },
  };
  assert.deepEqual(found, expected);
  assert.deepEqual(told.map((sentence) => sentence.split(":")[0]), [
    "title",
    "bevel",
    "glass",
    "thickness",
    "goal.surface",
    "goal.wavelength",
    "goal.shape",
    "gauges.leaves.width",
    "gauges.leaves.tolerance",
    "tester.source",
    "tester.openings",
  ]);
});

Deno.test("the guide's example has every key, and nothing in it is taken as usual", async () => {
  // INVENTED: the guide's own example
  const guide = await Deno.readTextFile(new URL("../../data/records/README.md", import.meta.url));
  const example = /```yaml\n([\s\S]*?)```/.exec(guide)?.[1] ?? "";
  const { settings: found, told } = settings(example);
  assert.deepEqual(told, []);
  const whole: Required<Settings> = found as Required<Settings>;
  assert.deepEqual(Object.keys(whole).sort(), [
    "aperture",
    "bevel",
    "checked",
    "focalLength",
    "gauges",
    "glass",
    "goal",
    "mask",
    "shownIn",
    "site",
    "strokeRate",
    "telescope",
    "tester",
    "thickness",
    "title",
  ]);
  assert.deepEqual(Object.keys(whole.telescope).sort(), [
    "bearing",
    "eyepieces",
    "fieldStop",
    "flats",
    "focuser",
    "fullyLitField",
    "parts",
    "screws",
    "swap",
    "tube",
  ]);
  assert.equal(whole.telescope.focuser?.at, 1095);
  assert.equal(whole.gauges.spherometer?.ballRadiusU, 0.01);
});

Deno.test("the template's remarks are themselves a page that reads", async () => {
  const text = await Deno.readTextFile(new URL("../../data/template/mirror.yaml", import.meta.url));
  const bare = text.replace(/^# (?= *[a-z_]+:)/gm, "");
  assert.notEqual(bare, text);
  const { told, settings: found } = settings(bare);
  assert.deepEqual(told, []);
  assert.equal(found.telescope?.parts?.length, 1);
});

Deno.test("words are words whatever YAML takes them for", () => {
  for (const title of ["yes", "2026", "1.0", "null", "~x", "0x10", "2026-04-18"]) {
    const { settings: found } = settings(
      `title: ${title}\naperture: 150 mm\nfocal_length: 1200 mm\n`,
    );
    assert.equal(found.title, title);
  }
});

Deno.test("a part of a wave in any of its spellings", () => {
  const spellings = ["1/8 wave", "1/8 waves", "0.125 wave", "lambda/8", "λ/8", "1/8 λ", ".125wave"];
  for (const surface of spellings) {
    const { settings: found } = settings(
      `aperture: 150 mm\nfocal_length: 1200 mm\ngoal: { surface: ${surface} }\n`,
    );
    assert.equal(found.goal.surfaceWaves, 0.125, surface);
  }
});

Deno.test("fractions of an inch, arc minutes, pounds and thou", () => {
  const { settings: found } = settings(
    "aperture: 4 1/2 in\nfocal_length: 36 in\nthickness: 3/4 in\nbevel: 40 thou\n" +
      "goal: { wavelength: 0.5893 um }\n" +
      "site: { latitude: -33.9 deg, longitude: 18 deg, time_zone: Africa/Johannesburg }\n",
  );
  // DERIVED: an inch is 25.4 mm.
  assert.equal(found.aperture, 114.3);
  assert.equal(found.focalLength.toFixed(9), "914.400000000");
  assert.equal(found.thickness.toFixed(9), "19.050000000");
  assert.equal(found.bevel.toFixed(9), "1.016000000");
  assert.equal(found.goal.wavelength, 589.3);
  assert.equal(found.site?.latitude, -33.9 * Math.PI / 180);
});

Deno.test("a bevel of nothing and points for feet are allowed", () => {
  const { settings: found } = settings(
    "aperture: 150 mm\nfocal_length: 1200 mm\nbevel: 0 mm\n" +
      "gauges: { spherometer: { leg_radius: 50 mm, ball_radius: 0 mm } }\n",
  );
  assert.equal(found.bevel, 0);
  assert.equal(found.gauges.spherometer?.ballRadius, 0);
});

Deno.test("glass is known whatever its capitals and hyphens", () => {
  const rows = [["Soda-Lime", "soda-lime"], ["soda lime", "soda-lime"], [
    "Fused Silica",
    "fused silica",
  ]];
  for (const [typed, kind] of rows) {
    assert.equal(
      settings(`aperture: 150 mm\nfocal_length: 1200 mm\nglass: ${typed}\n`).settings.glass,
      kind,
    );
  }
});

Deno.test("a glass by its maker's catalogue or the shop's word is read as its kind", () => {
  const crown = "borosilicate crown";
  const rows = [["N-BK7", crown], ["n-bk7", crown], ["NBK7", crown], ["BK7", crown], [
    "Pyrex",
    "borosilicate",
  ], ["plate glass", "soda-lime"]];
  for (const [typed, kind] of rows) {
    assert.equal(
      settings(`aperture: 150 mm\nfocal_length: 1200 mm\nglass: ${typed}\n`).settings.glass,
      kind,
    );
  }
});

Deno.test("a maker's catalogue is offered nowhere: not for a slip, not in the template", async () => {
  for (const typed of ["N-BK8", "BK", "zerodur"]) {
    const found = new Findings();
    readSettings(`aperture: 150 mm\nfocal_length: 1200 mm\nglass: ${typed}\n`, "folder", found);
    assert.match(
      found.refusals.map(describe).map((line) => line.slice(line.indexOf("wanted"))).join(" "),
      /did you mean|the names are/,
    );
    assert.doesNotMatch(
      found.refusals.map(describe).map((line) => line.slice(line.indexOf("wanted"))).join(" "),
      /BK7/i,
    );
  }
  const template = await Deno.readTextFile(
    new URL("../../data/template/mirror.yaml", import.meta.url),
  );
  assert.doesNotMatch(template, /BK7/i);
});

Deno.test("a focal length as a ratio, in feet and inches, as a fraction", () => {
  // DERIVED: 7.5 x 150, 40 x 25.4, 40.25 x 25.4
  const focal = (text: string): number =>
    settings(`aperture: 150 mm\nfocal_length: ${text}\n`).settings.focalLength;
  assert.equal(focal("f/6"), 900);
  assert.equal(focal("F/7.5"), 1125);
  assert.equal(focal("3 ft 4 in"), 1016);
  assert.equal(focal("40 1/4 in"), 1022.35);
});

Deno.test("what cannot be read says how it is written: a bare fraction, a decimal comma, in brackets too", () => {
  const said = (line: string): string => {
    const findings = new Findings();
    readSettings(`aperture: 150 mm\nfocal_length: 1200 mm\n${line}\n`, "folder", findings);
    return findings.refusals.map(describe).join("\n");
  };
  assert.match(said("bevel: 1/16"), /write 1\/16 mm or 1\/16 in \(which is 1\.5875 mm\)/);
  assert.match(said("bevel: 1,5 mm"), /write 1\.5 mm, with a decimal point/);
  assert.match(said("goal: { surface: 0,125 wave }"), /0,125 wave|0\.125/);
  assert.match(
    said("telescope: { tube: { inner_diameter: 180 mm, wall: 3,2 mm } }"),
    /write 3\.2 mm/,
  );
  assert.match(said('goal: { surface: "0,125 wave" }'), /write 0\.125 wave, with a decimal point/);
  assert.match(said("zzqx: 1"), /among the names are \w+, \w+, \w+;/);
});

Deno.test("what was looked at again is kept, and nothing else counts as looked at", () => {
  const more = "aperture: 150 mm\nfocal_length: 1200 mm\n";
  assert.deepEqual(settings(`${more}checked: [lamp, goal]\n`).settings.checked, ["lamp", "goal"]);
  const findings = new Findings();
  readSettings(`${more}checked: [lam]\n`, "folder", findings);
  assert.match(findings.refusals[0]?.message ?? "", /did you mean lamp\?/);
});
