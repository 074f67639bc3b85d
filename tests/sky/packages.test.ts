/** Where Sun, Moon and planets stand, beside two packages of other hands: astropy and ephem. */
import * as engine from "astronomy-engine";
import assert from "node:assert/strict";
import { python, pythonHas } from "../machine.ts";

interface Place {
  readonly name:
    | "Sun"
    | "Moon"
    | "Mercury"
    | "Venus"
    | "Mars"
    | "Jupiter"
    | "Saturn"
    | "Uranus"
    | "Neptune";
  readonly date: string;
  /** right ascension and declination of date, degrees; distance, AU */
  readonly ephem: readonly [number, number, number];
  readonly astropy: readonly [number, number, number];
}

Deno.test({
  name: "places of a year by two packages: every ten days, Sun, Moon and seven planets",
  ignore: !(pythonHas("astropy") && pythonHas("ephem") && pythonHas("scipy")),
  fn: async () => {
    const script = new URL("secondRoute.py", import.meta.url).pathname;
    const { stdout, stderr, success } = await new Deno.Command(python, { args: [script, "places"] })
      .output();
    assert.ok(success, new TextDecoder().decode(stderr));
    const places = JSON.parse(new TextDecoder().decode(stdout)) as readonly Place[];
    const worst = { ephem: 0, astropy: 0, distance: 0 };
    for (const { name, date, ...others } of places) {
      const time = engine.MakeTime(new Date(date));
      const there = engine.GeoVector(engine.Body[name], time, true);
      const { ra, dec } = engine.EquatorFromVector(
        engine.RotateVector(engine.Rotation_EQJ_EQD(time), there),
      );
      for (const package_ of ["ephem", "astropy"] as const) {
        const [otherRa, otherDec, au] = others[package_];
        const across = ((15 * ra - otherRa + 540) % 360 - 180) * Math.cos((dec * Math.PI) / 180);
        const off = Math.hypot(across, dec - otherDec);
        worst[package_] = Math.max(worst[package_], off);
        worst.distance = Math.max(worst.distance, Math.abs(there.Length() / au - 1));
      }
    }
    assert.equal(places.length, 9 * 36);
    // measured 0.0059 degrees, 0.0114 (without aberration, of 0.0057) and 1.8e-4 of the distance
    assert.ok(
      worst.ephem < 0.01 && worst.astropy < 0.02 && worst.distance < 5e-4,
      JSON.stringify(worst),
    );
  },
});
