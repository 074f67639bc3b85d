/** A star behind the Moon: the moment beside another ephemeris, the dark side, laws. */
import assert from "node:assert/strict";
import { occultations, type StarPlace } from "../../lib/sky/occultation.ts";

const deg = (degrees: number): number => (degrees * Math.PI) / 180;
const place = { latitude: deg(46.4), longitude: deg(15.9) };
// INVENTED inputs, near two stars of the Hipparcos catalogue (both programs get the same)
const taygeta: StarPlace = {
  ...{ raHours: 3.753471, declinationDeg: 24.46728, motionRa: 21.24, motionDec: -40.56 },
};
const alcyone: StarPlace = {
  ...{ raHours: 3.79141, declinationDeg: 24.105137, motionRa: 19.34, motionDec: -43.67 },
};

Deno.test("the moment by two ephemerides, inside twice the doubt that is told", async () => {
  // CROSS-CHECK skyfield 1.55 on DE421, kept script tests/sky/occultation.py
  const cases = [
    [taygeta, "2026-10-28T00:54:31.774Z", "vanishes", false],
    [taygeta, "2026-10-28T01:51:04.923Z", "appears", true],
    [alcyone, "2026-11-24T11:24:02.130Z", "vanishes", true],
    [alcyone, "2026-11-24T12:05:07.525Z", "appears", false],
  ] as const;
  let worst = 0;
  for (const [star, wanted, event, darkSide] of cases) {
    const found = await occultations(star, place, new Date(wanted), 0.25);
    assert.deepEqual(found.map((one) => one.event), [event]);
    const [{ moment, u, darkSide: dark } = assert.fail("no contact")] = found;
    const off = Math.abs(moment.getTime() - Date.parse(wanted)) / 1000;
    assert.equal(dark, darkSide, wanted);
    assert.ok(off < 2 * u, `${wanted}: ${off} s off, told ${u} s`);
    worst = Math.max(worst, off);
  }
  // measured 2.5 s: an arcsecond in the Moon's own place
  assert.ok(worst < 3, `worst ${worst} s`);
});

Deno.test("it goes before it comes back, an hour at most; by day it is told", async () => {
  const found = await occultations(taygeta, place, new Date("2026-10-28T01:30:00Z"));
  assert.deepEqual(found.map(({ event, sunUp }) => [event, sunUp]), [["vanishes", false], [
    "appears",
    false,
  ]]);
  const [goes, back] = found.map(({ moment }) => moment.getTime());
  // DERIVED: the Moon is 0.5 degrees wide and goes its own width in about an hour
  assert.ok((back ?? NaN) - (goes ?? NaN) < 1.2 * 3_600_000);
  const byDay = await occultations(alcyone, place, new Date("2026-11-24T12:00:00Z"));
  assert.ok(byDay.length === 2 && byDay.every(({ sunUp }) => sunUp));
});

Deno.test("a hundred kilometres north the moment is another; a star elsewhere is none", async () => {
  const [here] = await occultations(taygeta, place, new Date("2026-10-28T01:51:00Z"), 0.3);
  const north = { ...place, latitude: deg(47.3) };
  const [there] = await occultations(taygeta, north, new Date("2026-10-28T01:51:00Z"), 0.3);
  const apart = Math.abs((here?.moment.getTime() ?? NaN) - (there?.moment.getTime() ?? NaN)) / 1000;
  // DERIVED: 100 km sideways shifts the chord; at a kilometre a second that is seconds to two minutes
  assert.ok(apart > 3 && apart < 120, `${apart} s`);
  const far = { ...taygeta, declinationDeg: -40 };
  assert.deepEqual(await occultations(far, place, new Date("2026-10-28T01:51:00Z")), []);
});

Deno.test("refuses hours and dates out of range", async () => {
  await assert.rejects(
    occultations(taygeta, place, new Date("2026-10-28T00:00:00Z"), 13),
    /0 to 12 hours on either side, got 13/,
  );
  await assert.rejects(occultations(taygeta, place, new Date("1800-01-01")), /1900 to 2100/);
});

Deno.test("law: a star's own motion is its place so many years on", async () => {
  // DERIVED: 26.82 years of 36 arcseconds a year along right ascension, 26.82 x 36 / cos 24.467 degrees on the equator
  const years = 26.82, cos = Math.cos(deg(taygeta.declinationDeg));
  const moving = { ...taygeta, motionRa: 36_000, motionDec: 0 };
  const there = {
    ...{ ...taygeta, motionRa: 0, motionDec: 0 },
    raHours: taygeta.raHours + (years * 36) / 3600 / cos / 15,
  };
  const near = new Date("2026-10-28T02:00:00Z");
  const [one] = await occultations(moving, place, near, 1);
  const [other] = await occultations(there, place, near, 1);
  const apart = Math.abs((one?.moment.getTime() ?? NaN) - (other?.moment.getTime() ?? NaN)) / 1000;
  // a hundredth of a year is 0.36 arcseconds, which the Moon goes in 0.7 s
  assert.ok(apart < 3, `${apart} s`);
});
