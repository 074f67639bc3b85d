import assert from "node:assert/strict";
import fc from "fast-check";
import {
  bySpherometer,
  type DialRow,
  spherometer,
} from "../../../lib/measuring/methods/spherometer.ts";
import { type Feet, spherometerSensitivity } from "../../../lib/measuring/spherometerFeet.ts";
import { KESTREL } from "../bench.ts";
import { Agreement, readReference } from "../reference.ts";

interface Reference {
  inputs: { worked: { flat_readings_mm: number[]; mirror_readings_mm: number[] } };
  expected: {
    worked: Record<"h" | "u_h" | "dR_da" | "dR_dh" | "R" | "f" | "u_R", number> & {
      budget: Record<"leg" | "h" | "ball", number>;
    };
  };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/spherometer.json
const { inputs, expected, tolerance: { rel } } = readReference<Reference>("spherometer");
const FEET: Feet = { kind: "balls", legRadius: 50, ballRadius: 3 };

const rows = (flat: readonly number[], mirror: readonly number[]): readonly DialRow[] => [
  ...flat.map((dial) => ({ surface: "flat" as const, dial })),
  ...mirror.map((dial) => ({ surface: "mirror" as const, dial })),
];

Deno.test("the worked readings: radius, uncertainty and budget", () => {
  const agree = new Agreement();
  const { flat_readings_mm: flat, mirror_readings_mm: mirror } = inputs.worked;
  const made = spherometer(rows(flat, mirror), KESTREL) ?? assert.fail();
  const want = expected.worked;
  const u = (...names: string[]): number =>
    Math.hypot(...made.components.filter(({ source }) => names.includes(source)).map((c) => c.u));
  agree.check(made.radius.value, want.R, rel, "R");
  agree.check(made.radius.u, want.u_R, rel, "u(R)");
  agree.check(u("leg circle"), want.budget.leg, rel, "leg");
  agree.check(u("ball feet"), want.budget.ball, rel, "ball");
  const fromHeight = u("spherometer dial", "readings on the flat", "readings on the mirror");
  agree.check(fromHeight, want.budget.h, rel, "h");
  const slopes = spherometerSensitivity(FEET, want.h);
  agree.check(slopes.perLegRadius, want.dR_da, rel, "dR/da");
  agree.check(slopes.perHeight, want.dR_dh, rel, "dR/dh");
  agree.check(fromHeight / Math.abs(slopes.perHeight), want.u_h, rel, "u(h)");
  agree.report("spherometer, worked readings");
  assert.equal(made.readings, 10);
});

Deno.test("law: the order of the rows and a shifted zero do not matter", () => {
  const dial = fc.integer({ min: 0, max: 9 }).map((step) => step / 1000);
  const five = fc.array(dial, { minLength: 2, maxLength: 5 });
  fc.assert(
    fc.property(five, five, fc.integer({ min: -2000, max: 2000 }), (flat, mirror, shift) => {
      const at = (zero: number) =>
        spherometer(
          rows(flat.map((d) => zero + d), mirror.map((d) => zero + 0.5 + d)).toReversed(),
          KESTREL,
        ) ?? assert.fail();
      const [here, there] = [at(5), at(5 + shift / 1000)];
      assert.ok(Math.abs(here.radius.value / there.radius.value - 1) < 1e-9);
      assert.ok(Math.abs(here.radius.u / there.radius.u - 1) < 1e-6);
    }),
  );
});

Deno.test("a dial that runs the other way gives the same radius", () => {
  const up = spherometer(rows([5.001], [5.523]), KESTREL);
  const down = spherometer(rows([5.523], [5.001]), KESTREL);
  assert.equal(up?.radius.value, down?.radius.value);
  assert.match(up?.assumed[0] ?? "", /one dial step is assumed/);
});

Deno.test("readings all alike: the dial's step is counted once for each place", () => {
  const made = spherometer(rows([5, 5, 5], [5.5, 5.5, 5.5]), KESTREL) ?? assert.fail();
  assert.deepEqual(made.components.map(({ source }) => source), [
    "leg circle",
    "ball feet",
    "spherometer dial",
  ]);
});

Deno.test("missing flat, missing mirror, no instrument, no height: each refused in words", () => {
  assert.throws(
    () => spherometer(rows([], [5.5, 5.5]), KESTREL),
    /^CannotTell: the dial was not read on flat glass: there is only 2 on the mirror/,
  );
  assert.throws(
    () => spherometer(rows([5], []), KESTREL),
    /not read on the mirror: there is only 1 on the flat/,
  );
  assert.throws(() => spherometer(rows([5], [5]), KESTREL), /^CannotTell: the dial reads alike/);
  const { spherometer: _, ...gauges } = KESTREL.gauges;
  assert.throws(() => spherometer(rows([5], [5.5]), { ...KESTREL, gauges }), /gauges\.spherometer/);
  assert.equal(spherometer([], KESTREL), undefined);
});

Deno.test("a session without a flat takes the last one read before it, else the first after it", () => {
  const flat = (afterMin: number, dial: number): DialRow => ({ surface: "flat", afterMin, dial });
  const flats = [flat(120, 5.02), flat(0, 5), flat(60, 5.01)];
  const taken = (afterMin: number, from: readonly DialRow[] = flats): number[] => {
    const session: DialRow[] = [{ surface: "mirror", afterMin, dial: 5.5 }];
    return (bySpherometer.complete?.(session, [...from, ...session]) ?? [])
      .filter(({ surface }) => surface === "flat").map(({ dial }) => dial);
  };
  assert.deepEqual(taken(90), [5.01]);
  assert.deepEqual(taken(60), [5.01]);
  assert.deepEqual(taken(59), [5]);
  assert.deepEqual(taken(200), [5.02]);
  assert.deepEqual(taken(30, [flat(120, 5.02), flat(60, 5.01)]), [5.01]);
  const own: DialRow[] = [flat(90, 5.3), { surface: "mirror", afterMin: 90, dial: 5.8 }];
  assert.deepEqual(bySpherometer.complete?.(own, [...flats, ...own]), own, "its own flat counts");
});
