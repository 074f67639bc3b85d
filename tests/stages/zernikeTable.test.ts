/** The surface from above in Zernike's terms: the same surface, what is known of each term, and what is not. */
import assert from "node:assert/strict";
import { heightFromAbove } from "../../lib/figures/drawings/surfaceFromAbove.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { type ToldTerms, yourZernikeTerms, zernikeOf } from "../../lib/stages/zernikeTable.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import { integrate } from "../numeric/integrate.ts";
import { close } from "../optics/close.ts";
import { demo, empty, marks, mirrorOf } from "./mirrors.ts";

const told = ({ terms }: ToldTerms, n: number, m: number): { value: number; u?: number } => {
  const found = terms.find((term) => term.n === n && term.m === m)?.coefficient;
  return typeof found === "object" ? found : { value: found ?? NaN };
};
const level = [0, 20, 40, 60, 74].map((radius) => ({ radius, surfaceError: 0, u: 1 }));
const clover = (axis: number): NonNullable<Parameters<typeof zernikeOf>[0]["astigmatism"]> => ({
  amplitude: measured(49, 4.9, "nm"),
  axis: measured(axis, 3, "deg"),
  interval95: [40, 58],
});

Deno.test("astigmatism: high to the mark is a negative Z(2, 2), high to the upper right a positive Z(2, -2)", () => {
  // DERIVED: A rho^2 cos 2(angle - axis), its RMS over the disc A / sqrt 6 = 20 nm; seen from the tester the right is 90
  // degrees clockwise of the mark, and cos 2(theta) is 1 at the right, sin 2(theta) at 45 degrees above it
  const size = 49 / Math.sqrt(6);
  for (
    const [axis, cosine, sine] of [[0, -size, 0], [90, size, 0], [135, 0, size], [45, 0, -size]]
  ) {
    const seen = zernikeOf({
      profile: level,
      astigmatism: clover(axis ?? NaN),
      scope: "whole surface",
    });
    close(told(seen, 2, 2).value, cosine ?? NaN, 1e-10);
    close(told(seen, 2, -2).value, sine ?? NaN, 1e-10);
    close(told(seen, 2, 2).u ?? NaN, 4.9 / Math.sqrt(6), 1e-12);
    close(seen.leftRms, 0, 1e-10);
  }
});

Deno.test("spherical terms of the demo's surface agree with integrals along its radius", () => {
  const found = reducedDays(demo).at(-1)?.found;
  assert.ok(found !== undefined);
  const seen = zernikeOf(found);
  const profile = found.profile.map(({ radius, surfaceError }) => ({
    radius,
    height: surfaceError,
  }));
  const height = heightFromAbove({ profile });
  // DERIVED: the mean of height x Z over the disc, in q = rho^2; sqrt 5 (6 q^2 - 6 q + 1), sqrt 7 (20 q^3 - 30 q^2 + 12 q - 1)
  const mean = (z: (q: number) => number): number =>
    integrate((q) => height(Math.sqrt(q), 0) * z(q), 0, 1, 1e-6);
  close(told(seen, 4, 0).value, Math.sqrt(5) * mean((q) => 6 * q * q - 6 * q + 1), 0.01);
  close(
    told(seen, 6, 0).value,
    Math.sqrt(7) * mean((q) => 20 * q ** 3 - 30 * q * q + 12 * q - 1),
    0.01,
  );
  assert.ok((told(seen, 4, 0).u ?? NaN) > 0);
});

Deno.test("a ring term's doubt is never below what independent points would give, and is that of points that move together", () => {
  // DERIVED: every point off by the same 1 nm: the mean of |Z(4, 0)| over the disc, 2 sqrt 5 / (3 sqrt 3) in q
  const { terms } = zernikeOf({ profile: level, scope: "one diameter" });
  const u = told({ terms, leftRms: 0 }, 4, 0).u ?? NaN;
  close(u, 2 * Math.sqrt(5) / (3 * Math.sqrt(3)), 0.01);
});

Deno.test("what was not read or is not seen has no number", () => {
  const one = zernikeOf({ profile: level, scope: "one diameter" });
  for (const { name, n, m, coefficient, said } of one.terms) {
    assert.equal(coefficient === undefined, m !== 0 || n === 2, name);
    assert.equal(said === undefined, coefficient !== undefined, name);
  }
  const two = zernikeOf({ profile: level, astigmatism: clover(10), scope: "one diameter" });
  assert.equal(told(two, 2, 2).u, undefined, "two diameters of four: its doubt is not known");
});

Deno.test("the block: own readings, else how to get there and the demo's", () => {
  const own = yourZernikeTerms(demo, demo);
  assert.equal(marks(own), "y");
  assert.match(own.text, /oblique astigmatism \| Z\(2, −2\) \| −?\d\.\d ± \d\.\d\n/);
  assert.match(own.text, /vertical coma \| Z\(3, −1\) \| not seen/);
  assert.match(own.text, /spherical \| Z\(4, 0\) \| \d\.\d ± 0\.\d/);
  assert.match(own.text, /ISO 24157/);
  const zones = demo.record.zones.filter(({ date }) => (date ?? "") <= "2026-06-19");
  assert.match(
    yourZernikeTerms(mirrorOf({ ...demo.record, zones }), demo).text,
    /oblique astigmatism \| Z\(2, −2\) \| not read\n/,
  );
  assert.equal(marks(yourZernikeTerms(empty, demo)), "nd");
});
