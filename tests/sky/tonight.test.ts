import assert from "node:assert/strict";
import * as engine from "astronomy-engine";
import {
  CASSINI_KM,
  type Planet,
  RADII_KM,
  SATURN_RINGS_KM,
  tonight,
  tooNearSun,
  widthArcsec,
} from "../../lib/sky/tonight.ts";
import {
  decemberSolstice,
  distanceAu,
  fullMoon,
  jde,
  moonAt,
  newMoon,
  opposition,
  placeOf,
} from "./secondRoute.ts";

const deg = (angle: number): number => (angle * Math.PI) / 180;
const MINUTE = 60_000;
const PLANETS = Object.keys(RADII_KM) as Planet[];

function within(got: Date, wanted: string, minutes: number, what: string): void {
  const off = Math.abs(got.getTime() - Date.parse(wanted)) / MINUTE;
  assert.ok(off <= minutes, `${what}: ${got.toISOString()}, wanted ${wanted}, ${off} min off`);
}

Deno.test("oppositions by two programs, and the distance then", () => {
  // CROSS-CHECK astronomy-engine 2.1.19 / astronomia 4.2.0: times, distance in AU
  const rows = [
    ["Saturn", "2026-09-01", "2026-11-01", "2026-10-04T12:13Z", 8.4342],
    ["Saturn", "2027-09-01", "2027-12-01", "2027-10-18T00:19Z", 8.3258],
    ["Jupiter", "2027-01-01", "2027-04-01", "2027-02-11T00:17Z", 4.3612],
    ["Mars", "2027-01-01", "2027-04-01", "2027-02-19T15:44Z", 0.6779],
    ["Uranus", "2026-10-15", "2027-01-01", "2026-11-25T22:27Z", 18.4439],
  ] as const;
  for (const [name, from, to, wanted, au] of rows) {
    const one = engine.SearchRelativeLongitude(engine.Body[name], 0, new Date(from)).date;
    within(one, wanted, 10, `${name}, first program`);
    within(opposition(name.toLowerCase(), from, to), wanted, 10, `${name}, second program`);
    const first = engine.Illumination(engine.Body[name], one).geo_dist;
    const second = distanceAu(name.toLowerCase(), jde(wanted));
    assert.ok(
      Math.abs(first / au - 1) < 3e-3 && Math.abs(second / au - 1) < 3e-3,
      `${name} ${first} ${second}`,
    );
  }
});

Deno.test("places of all planets and of the Moon by two programs, over a year", () => {
  // CROSS-CHECK astronomy-engine 2.1.19 / astronomia 4.2.0: .02 degrees, .3 per cent of the distance
  let worst = 0;
  for (let month = 0; month < 12; month++) {
    const date = new Date(Date.UTC(2026, 6 + month, 3, 21)), time = engine.MakeTime(date);
    const day = jde(date.toISOString()), turn = engine.Rotation_EQJ_EQD(time);
    for (const name of PLANETS) {
      const there = engine.GeoVector(engine.Body[name], time, true);
      const { ra, dec } = engine.EquatorFromVector(engine.RotateVector(turn, there));
      const second = placeOf(name.toLowerCase(), day);
      const across = 15 * Math.abs(ra - second.raHours) * Math.cos(deg(dec));
      worst = Math.max(worst, Math.hypot(across, dec - second.declination));
      assert.ok(Math.abs(there.Length() / distanceAu(name.toLowerCase(), day) - 1) < 3e-3, name);
    }
    const { lon, lat, dist } = engine.EclipticGeoMoon(time), moon = moonAt(day);
    assert.ok(Math.hypot(lon - moon.longitude, lat - moon.latitude) < 0.02, `Moon, month ${month}`);
    assert.ok(Math.abs((dist * engine.KM_PER_AU) / moon.km - 1) < 3e-3);
  }
  // measured 0.0046 degrees, at Venus
  assert.ok(worst < 0.02, `worst ${worst} degrees`);
});

Deno.test("sizes at three oppositions", () => {
  // DERIVED 2 asin(R / distance): Saturn's globe 19.705 and 19.961, Mars 13.815 arcseconds; rings 44.719 x 5.806
  const rows = [["Saturn", 8.4342, 19.705], ["Saturn", 8.3258, 19.961], [
    "Mars",
    0.6779,
    13.815,
  ]] as const;
  for (const [name, au, arcsec] of rows) {
    assert.ok(
      Math.abs(widthArcsec(RADII_KM[name], au * engine.KM_PER_AU) / arcsec - 1) < 1e-3,
      name,
    );
  }
  const high = widthArcsec(SATURN_RINGS_KM, 8.4342 * engine.KM_PER_AU) * Math.sin(deg(7.46));
  assert.ok(Math.abs(high - 5.806) < 6e-3, `${high}`);
});

Deno.test("Moon and solstice by two programs", () => {
  // CROSS-CHECK both programs
  const full = engine.SearchMoonPhase(180, new Date("2026-08-20"), 20)?.date ?? new Date(0);
  within(full, "2026-08-28T04:19:06Z", 10, "full Moon");
  within(fullMoon(2026.65), "2026-08-28T04:18:32Z", 10, "full Moon, second program");
  within(engine.Seasons(2026).dec_solstice.date, "2026-12-21T20:50:22Z", 10, "solstice");
  within(decemberSolstice(2026), "2026-12-21T20:50:13Z", 10, "solstice, second program");
  const fresh = engine.SearchMoonPhase(0, new Date("2026-08-05"), 20)?.date ?? new Date(0);
  within(fresh, "2026-08-12T17:37:11Z", 10, "new Moon");
  within(newMoon(2026.61), "2026-08-12T17:36:42Z", 10, "new Moon, second program");
});

Deno.test("eclipses, the December full Moon, Venus before the Sun: by the first program as it gave them", () => {
  // RECORDED astronomy-engine 2.1.19; CROSS-CHECK astronomia 4.2.0 for the full Moon, 01:28:15
  const eclipse = (from: string): ReturnType<typeof engine.SearchGlobalSolarEclipse> =>
    engine.SearchGlobalSolarEclipse(new Date(from));
  const total = eclipse("2026-08-01"),
    annular = eclipse("2027-01-15"),
    next = eclipse("2027-07-01");
  within(total.peak.date, "2026-08-12T17:45:47Z", 10, "total 2026");
  assert.ok(
    Math.abs((total.latitude ?? 0) - 65.22) < 0.02 &&
      Math.abs((total.longitude ?? 0) + 25.25) < 0.02,
  );
  within(annular.peak.date, "2027-02-06T15:59:33Z", 10, "annular 2027");
  within(next.peak.date, "2027-08-02T10:06:35Z", 10, "total 2027");
  assert.ok(
    Math.abs((next.latitude ?? 0) - 25.49) < 0.02 && Math.abs((next.longitude ?? 0) - 33.19) < 0.02,
  );
  const full = engine.SearchMoonPhase(180, new Date("2026-12-15"), 20)?.date ?? new Date(0);
  within(full, "2026-12-24T01:28:45Z", 10, "full Moon");
  within(fullMoon(2026.977), "2026-12-24T01:28:15Z", 10, "full Moon, second program");
  const passing = engine.SearchRelativeLongitude(engine.Body.Venus, 0, new Date("2026-09-01")).date;
  within(passing, "2026-10-24T03:33Z", 10, "Venus in line with the Sun");
});

Deno.test("brightness and rings at the oppositions, and Saturn's place in the sky", () => {
  // RECORDED astronomy-engine 2.1.19
  const rows = [["Saturn", "2026-10-04T12:13Z", 0.2, 7.46], [
    "Saturn",
    "2027-10-18T00:19Z",
    -0.06,
    12.91,
  ], ["Mars", "2027-02-19T15:44Z", -1.21, undefined]] as const;
  for (const [name, at, magnitude, tilt] of rows) {
    const light = engine.Illumination(engine.Body[name], new Date(at));
    assert.ok(Math.abs(light.mag - magnitude) < 0.01, `${name} ${light.mag}`);
    if (tilt !== undefined) {
      assert.ok(Math.abs(Math.abs(light.ring_tilt ?? 0) - tilt) < 0.02, `${light.ring_tilt}`);
    }
  }
  const observer = new engine.Observer(50, 0, 0),
    time = engine.MakeTime(new Date("2026-10-04T22:00Z"));
  const { ra, dec } = engine.Equator(engine.Body.Saturn, time, observer, true, true);
  assert.ok(
    Math.abs(ra - 0.76141) < 0.002 && Math.abs(dec - 1.96) < 0.02,
    `${ra} h, ${dec} degrees`,
  );
  const bare = engine.Horizon(time, observer, ra, dec);
  assert.ok(Math.abs(bare.altitude - 36.469) < 0.02, `${bare.altitude} without the air's bending`);
  const rise = engine.SearchRiseSet(engine.Body.Sun, observer, 1, new Date("2026-12-21"), 1)?.date;
  within(rise ?? new Date(0), "2026-12-21T07:55:51Z", 1, "sunrise");
});

Deno.test("Venus beside the Sun: greatest elongations, to half an hour", () => {
  // CROSS-CHECK both programs: 2026-08-15 06:23 / 06:43, 45.891 degrees; 2027-01-03 17:56 / 17:46, 46.950
  const rows = [["2026-07-01", "2026-08-15T06:33Z", 45.891], [
    "2026-11-15",
    "2027-01-03T17:51Z",
    46.951,
  ]] as const;
  for (const [from, wanted, elongation] of rows) {
    const event = engine.SearchMaxElongation(engine.Body.Venus, new Date(from));
    within(event.time.date, wanted, 30, "elongation");
    assert.ok(Math.abs(event.elongation - elongation) < 0.02);
  }
});

Deno.test("Saturn on the night of its opposition, from 50 north", async () => {
  // CROSS-CHECK astronomy-engine 2.1.19: azimuth 144.555, altitude 36.491 with refraction
  const { planets } = await tonight(
    { latitude: deg(50), longitude: 0 },
    new Date("2026-10-04T22:00Z"),
  );
  const saturn = planets.find(({ name }) => name === "Saturn");
  assert.ok(saturn !== undefined && saturn.ringsArcsec !== undefined);
  assert.ok(Math.abs(saturn.altitude - deg(36.491)) < deg(0.02));
  assert.ok(Math.abs(saturn.azimuth - deg(144.555)) < deg(0.02));
  // DERIVED 2 asin(R / 8.4342 AU): 19.705, 44.719 arcseconds
  assert.ok(Math.abs(saturn.diameterArcsec / 19.705 - 1) < 3e-3);
  assert.ok(Math.abs(saturn.ringsArcsec / 44.719 - 1) < 3e-3);
  assert.ok(Math.abs(saturn.magnitude - 0.2) < 0.05);
  // RECORDED astronomy-engine 2.1.19: the rings are open by 7.46 degrees
  assert.ok(Math.abs(Math.abs(saturn.ringTilt ?? 0) - deg(7.46)) < deg(0.05));
  assert.equal(saturn.refused, undefined);
});

Deno.test("Saturn's rings and their division at that distance", () => {
  const km = 8.4342 * 149_597_870.7;
  // DERIVED: 136775 km to each side; 4700 km seen from there is 0.768 arcseconds
  assert.ok(Math.abs(widthArcsec(SATURN_RINGS_KM, km) - 44.719) < 0.02);
  assert.ok(Math.abs(widthArcsec(CASSINI_KM / 2, km) - 0.768) < 1e-3);
  assert.throws(() => widthArcsec(5, 4), RangeError);
});

Deno.test("Sun and twilight at 50 north on the shortest day", async () => {
  // CROSS-CHECK astronomy-engine 2.1.19: sunset 16:00:17, -18 degrees at 17:59:51
  const evening = await tonight({ latitude: deg(50), longitude: 0 }, new Date("2026-12-21T12:00Z"));
  within(evening.sunset ?? new Date(0), "2026-12-21T16:00:17Z", 1, "sunset");
  within(evening.darkFrom ?? new Date(0), "2026-12-21T17:59:51Z", 1, "dark");
  assert.ok(evening.sunAltitude > 0);
});

Deno.test("no twilight's end in a northern summer: absent, not invented", async () => {
  const { sunset, darkFrom } = await tonight(
    { latitude: deg(60), longitude: 0 },
    new Date("2026-06-21T12:00Z"),
  );
  assert.ok(sunset !== undefined);
  assert.equal(darkFrom, undefined);
  const pole = await tonight({ latitude: deg(85), longitude: 0 }, new Date("2026-06-21T12:00Z"));
  assert.equal(pole.sunset, undefined);
});

Deno.test("the Moon: full when it is full, half a degree wide", async () => {
  const { moon } = await tonight({ latitude: 0, longitude: 0 }, new Date("2026-08-28T04:19Z"));
  assert.ok(moon.lit > 0.99);
  assert.ok(moon.diameterArcsec > 29.3 * 60 && moon.diameterArcsec < 34.2 * 60);
  const later = await tonight({ latitude: 0, longitude: 0 }, new Date("2026-09-01T04:19Z"));
  assert.equal(later.moon.waxing, false);
});

Deno.test("near the Sun nothing is shown the way: Venus at inferior conjunction by day, refused with the reason", async () => {
  const noon = await tonight(
    { latitude: deg(18.5), longitude: deg(73.8) },
    new Date("2026-10-24T07:00Z"),
  );
  const venus = noon.planets.find(({ name }) => name === "Venus");
  assert.match(venus?.refused ?? "", /degrees from the Sun.*blind/);
  // fifteen degrees, and six below the horizon, are the limits
  assert.equal(tooNearSun(deg(15), deg(40)), undefined);
  assert.notEqual(tooNearSun(deg(14.9), deg(-5.9)), undefined);
  assert.equal(tooNearSun(deg(1), deg(-6.01)), undefined);
});

Deno.test("refuses a place on no map and a date out of range", async () => {
  const now = new Date("2026-10-10T16:00Z");
  await assert.rejects(tonight({ latitude: deg(95), longitude: 0 }, now), /a place on no map/);
  await assert.rejects(tonight({ latitude: 0, longitude: deg(200) }, now), RangeError);
  await assert.rejects(tonight({ latitude: NaN, longitude: 0 }, now), RangeError);
  await assert.rejects(
    tonight({ latitude: 0, longitude: 0 }, new Date("1200-01-01")),
    /1900 to 2100, got 1200/,
  );
  await assert.rejects(tonight({ latitude: 0, longitude: 0 }, new Date("no date")), /got NaN/);
});
