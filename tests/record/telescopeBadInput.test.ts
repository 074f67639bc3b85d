/** What a maker may write down wrong about telescope and place: one clear sentence each, and the rest stays. */
import assert from "node:assert/strict";
import { describe, RecordRefused } from "../../lib/record/errors.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { placeOf } from "../../lib/stages/sky.ts";
import { tonight } from "../../lib/sky/tonight.ts";
import { MIRROR, withRecord } from "./bench.ts";

const TUBE = "  tube: { inner_diameter: 180 mm, wall: 3 mm, front_length: 150 mm }\n";
const FOCUSER = "  focuser: { height: 70 mm, margin: 15 mm }\n";
const telescope = (text: string): string => `telescope:\n${text}`;
const screws = (angles: string): string =>
  telescope(
    `  screws: { pitch: 1 mm, radius: 60 mm, angles: [${angles}], image_at: [3 mm, -2 mm] }\n`,
  );
const site = (latitude: string, longitude: string): string =>
  `site: { latitude: ${latitude}, longitude: ${longitude}, time_zone: Europe/Ljubljana }\n`;

/** Every sentence about telescope or site: refusals, or else warnings. */
async function said(text: string): Promise<string[]> {
  return await withRecord({ "mirror.yaml": MIRROR + text }, async (folder) => {
    try {
      const { warnings } = (await openMirror(folder)).summary;
      return warnings.map(({ message }) => message).filter((line) => /telescope/.test(line));
    } catch (error) {
      if (error instanceof RecordRefused) return error.refusals.map(describe);
      throw error;
    }
  });
}

const CASES: Readonly<Record<string, readonly [text: string, wanted: RegExp]>> = {
  "a flat smaller than the light of one star": [
    telescope(`${TUBE}${FOCUSER}  flats: [20 mm]\n`),
    /the flat of 20 mm is smaller than the light of a single star on the axis: nothing is fully lit; take a larger flat/,
  ],
  "a focus inside the drawtube": [
    telescope(`${TUBE}  focuser: { height: 70 mm, margin: -20 mm }\n`),
    /line 6, column telescope\.focuser\.margin: found "-20 mm".*inside the racked-in drawtube, where no eyepiece reaches it/,
  ],
  "a focuser longer than the focal length": [
    telescope(`${TUBE}  focuser: { height: 1150 mm, margin: 15 mm }\n`),
    /the focuser cannot reach the focus: .* 1258 mm, the focal length is 1200 mm; take a lower focuser/,
  ],
  "a field below zero": [
    telescope(`${TUBE}${FOCUSER}  fully_lit_field: -3 mm\n`),
    /line 7, column telescope\.fully_lit_field: found "-3 mm".*not even a star in the middle gets all the light/,
  ],
  "a field as wide as the mirror": [
    telescope(`${TUBE}${FOCUSER}  fully_lit_field: 160 mm\n`),
    /fully_lit_field is 160 mm, as wide as the mirror/,
  ],
  "a flat as wide as the mirror": [
    telescope(`${TUBE}${FOCUSER}  flats: [25 mm, 200 mm]\n`),
    /a flat of 200 mm would cover the mirror of 150 mm/,
  ],
  "a tube narrower than the beam": [
    telescope(`  tube: { inner_diameter: 140 mm, wall: 3 mm }\n${FOCUSER}`),
    /the tube of 140 mm is narrower than the mirror's light, 150 mm: it cuts the rim off; take a wider tube/,
  ],
  "two screws": [
    screws("90 deg, 270 deg"),
    /line 5, column telescope\.screws\.angles: found 2 items, wanted 3: three screws point a mirror, two cannot/,
  ],
  "two screws at one angle, a turn apart": [
    screws("90 deg, -270 deg, 210 deg"),
    /two screws stand at one angle .*two cannot point a mirror; write the three angles/,
  ],
  "parts without mass": [
    telescope("  parts: [{ name: tube, mass: 0 kg, at: 0 mm }]\n"),
    /no part has any mass: weigh them/,
  ],
  "a latitude beyond the poles": [
    site("95 deg", "10 deg"),
    /line 4, column site\.latitude: found "95 deg", wanted -90 to 90 deg: this place is on no map/,
  ],
  "a longitude beyond a turn": [
    site("18 deg", "400 deg"),
    /column site\.longitude: found "400 deg", wanted -180 to 360 deg: this place is on no map/,
  ],
};

for (const [name, [text, wanted]] of Object.entries(CASES)) {
  Deno.test(`${name}: one sentence, and what to do`, async () => {
    const lines = await said(text);
    assert.equal(lines.length, 1, lines.join("\n"));
    assert.match(lines[0] ?? "", wanted);
    assert.doesNotMatch(lines[0] ?? "", /requires|undefined|NaN|\brad\b/, "said to a maker");
  });
}

Deno.test("what is right about a telescope with a fault is still worked out", async () => {
  const text = telescope(
    `${TUBE}  focuser: { height: 1150 mm, margin: 15 mm }\n  parts: [{ name: tube, mass: 3 kg, at: 600 mm }]\n`,
  );
  await withRecord({ "mirror.yaml": MIRROR + text }, async (folder) => {
    const t = (await openMirror(folder)).summary.telescope;
    assert.equal(t?.balancePoint?.value, 600);
    assert.equal(t?.flatMinorAxis, undefined);
    assert.ok((t?.comaFreeRadius?.value ?? 0) > 5);
  });
});

Deno.test("no flat wanted, no field wanted: the axial cone itself is no fault", async () => {
  assert.deepEqual(await said(telescope(TUBE + FOCUSER)), []);
});

Deno.test("270 degrees east is 90 west, on the page and in the sky", async () => {
  await withRecord({ "mirror.yaml": MIRROR + site("18 deg", "270 deg") }, async (folder) => {
    const mirror = await openMirror(folder), { place, told } = placeOf(mirror, mirror);
    assert.match(told, /18\.0° north, 90\.0° west/);
    const evening = await tonight(place, new Date("2026-10-10T02:00:00Z"));
    assert.ok(evening.sunAltitude < 0.5);
  });
});

Deno.test("a date out of range, and a target near the Sun, each with its reason", async () => {
  const place = { latitude: 0.3, longitude: 1.3 };
  await assert.rejects(
    tonight(place, new Date("2210-01-01")),
    /a date from 1900 to 2100, got 2210/,
  );
  const noon = await tonight(place, new Date("2026-10-24T07:00:00Z"));
  const refused = noon.planets.flatMap(({ name, refused: why, fromSun }) =>
    why === undefined ? [] : [{ name, why, fromSun }]
  );
  assert.equal(refused.length, noon.planets.length, "the Sun is up: nothing is a target");
  for (const { why, fromSun } of refused) {
    assert.match(
      why,
      fromSun < (15 * Math.PI) / 180
        ? /only \d+ degrees from the Sun, which is up: one slip of the tube would blind/
        : /the Sun is up, and nothing is a target/,
    );
  }
});
