/** The Sun over the Moon, and heights from shadows: worked examples, a second program, laws. */
import assert from "node:assert/strict";
import {
  heightByShare,
  heightFromShadow,
  MOON_KM,
  sunAtFoot,
  sunHeight,
  sunOverMoon,
} from "../../lib/sky/moonShadow.ts";
import { jde, sunOnMoon, toDate } from "./secondRoute.ts";

const deg = (degrees: number): number => (degrees * Math.PI) / 180;
const inDeg = (rad: number): number => (rad * 180) / Math.PI;

Deno.test("the Sun over the Moon on 12 April 1992", async () => {
  // READ Meeus, Astronomical Algorithms, 2nd ed. 1998, example 53.a (as kept in soniakeys/meeus, moon_test.go): 0h dynamical time
  const date = toDate(2_448_724.5), sun = await sunOverMoon(new Date(date.getTime() + 16_400));
  assert.ok(Math.abs(inDeg(sun.longitude) - 67.9) < 0.02, `${inDeg(sun.longitude)}`);
  assert.ok(Math.abs(inDeg(sun.latitude) - 1.46) < 0.02, `${inDeg(sun.latitude)}`);
  // READ the same: the Sun stands 2.318 degrees over Copernicus, at 20 west and 9.7 north; axes of two theories differ by 0.01
  const copernicus = { latitude: deg(9.7), longitude: deg(-20) };
  assert.ok(Math.abs(inDeg(sunHeight(copernicus, sun)) - 2.318) < 0.02);
});

Deno.test("the Sun over the Moon by two programs, for a year", async () => {
  let worst = 0;
  for (let k = 0; k < 60; k++) {
    const date = new Date(Date.UTC(2026, 9, 1, 18) + k * 6.1 * 86_400_000);
    const { latitude, longitude } = await sunOverMoon(date);
    // CROSS-CHECK astronomia 4.2.0, moon.physical, in tests/sky/secondRoute.ts
    const other = sunOnMoon(jde(date.toISOString()));
    const apart = Math.sin(deg(other.longitude) - longitude);
    worst = Math.max(worst, Math.abs(inDeg(Math.asin(apart))));
    worst = Math.max(worst, Math.abs(other.latitude - inDeg(latitude)));
  }
  // measured 0.017 degrees: a hundredth of a day's way of the Sun over the Moon
  assert.ok(worst < 0.03, `worst ${worst}`);
});

Deno.test("a cape of the Moon, worked out elsewhere without the Moon's bend", () => {
  // READ castor2.ca, calculation of the height of Cape Laplace, 23 May 2010, parts 6 to 9: the Sun 6.7010508 degrees high, the
  // shadow 0.7032254 degrees of the Moon long, R = 1737.5 km: L = 21.32543669 km, and H = L tan h = 2.5 km
  const h = deg(6.7010508), length = MOON_KM * deg(0.7032254);
  assert.ok(Math.abs(length - 21.32543669 * MOON_KM / 1737.5) < 1e-4); // its angle and its length are 5e-5 km apart
  assert.equal((length * Math.tan(h)).toFixed(1), "2.5");
  // DERIVED: the ground bends away under the shadow by L^2 / 2R = 0.131 km, which the flat formula adds
  const height = heightFromShadow(h, length), flat = length * Math.tan(h);
  assert.ok(Math.abs(flat - height - length ** 2 / 2 / MOON_KM) < 0.003, `${height}`);
});

Deno.test("laws: no shadow no height, more with length, flat where short; the ray grazes top and ground", () => {
  const h = deg(9);
  assert.equal(heightFromShadow(h, 0), 0);
  assert.ok(heightFromShadow(h, 30) > heightFromShadow(h, 29));
  assert.ok(Math.abs(heightFromShadow(h, 0.01) / (0.01 * Math.tan(h)) - 1) < 1e-4);
  // DERIVED, with places in a plane: from the top (0, R + H) along the Sun's ray to a point at the distance R from the middle
  const height = heightFromShadow(h, 40), bend = 40 / MOON_KM;
  const x = MOON_KM * Math.sin(bend), y = MOON_KM * Math.cos(bend);
  assert.ok(Math.abs((MOON_KM + height - y) / x - Math.tan(h)) < 1e-9);
});

Deno.test("a rim stands nearer to the Sun than its crater's middle; the doubt is by each cause", () => {
  const place = { latitude: deg(9.7), longitude: deg(-20.1) };
  const sun = { latitude: deg(-1.3), longitude: deg(61) };
  const middle = sunAtFoot({ place, widthKm: 93, rim: false }, sun);
  // DERIVED: 46.5 km of 1737.4 is 1.533 degrees
  const rim = sunAtFoot({ place, widthKm: 93, rim: true }, sun);
  assert.equal(inDeg(rim - middle).toFixed(3), "1.533");
  const share = { value: 0.25, u: 0.02, dof: Infinity, unit: "" };
  const { value, u, budget } = heightByShare({ place, widthKm: 93, rim: true }, sun, share);
  assert.ok(Math.abs(value - heightFromShadow(rim, 0.25 * 93)) < 1e-9);
  assert.deepEqual(budget.map(({ source }) => source), ["height", "width", "part"]);
  assert.ok(u > 0.08 * value * 0.9 && u < 0.2 * value, `${u} of ${value}`);
});

Deno.test("refuses a Sun below the horizon, and a shadow that ends in the dark", () => {
  assert.throws(() => heightFromShadow(deg(-1), 10), /the Sun over the horizon/);
  assert.throws(() => heightFromShadow(deg(1), 40), /ends in sunlight/);
  assert.throws(() => heightFromShadow(deg(5), NaN), RangeError);
});
