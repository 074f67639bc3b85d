import assert from "node:assert/strict";
import fc from "fast-check";
import { depthsTogether, repeats } from "../../lib/measuring/depthsUnderChord.ts";
import { sagitta } from "../../lib/optics/sphere.ts";

const depth = (radius: number, chord: number) => {
  const value = sagitta(chord, radius);
  return { depth: value, chord, step: 0.01, asRead: value };
};

Deno.test("law: exact depths on any chords give the radius they came from", () => {
  const chords = fc.array(fc.double({ min: 60, max: 150, noNaN: true }), {
    minLength: 1,
    maxLength: 6,
  });
  const radii = fc.double({ min: 900, max: 6000, noNaN: true });
  fc.assert(fc.property(chords, radii, (list, radius) => {
    const together = depthsTogether(list.map((chord) => depth(radius, chord)), 150, 0.15, "depths");
    assert.ok(Math.abs(together.radius / radius - 1) < 1e-9);
  }));
});

Deno.test("the chord is one error, however many depths rest on it; the scatter shrinks", () => {
  const at = (count: number) =>
    depthsTogether(
      Array.from(
        { length: count },
        (_, n) => ({ ...depth(2400, 148), depth: 1.141 + 0.02 * (n % 2) }),
      ),
      150,
      0.15,
      "depths",
    );
  const [few, many] = [at(2), at(8)];
  const chord = (one: typeof few) =>
    one.components.find(({ shared }) => shared !== undefined)?.u ?? 0;
  assert.ok(Math.abs(chord(many) / chord(few) - 1) < 1e-9);
  // DERIVED: dR/dr = r/s = 74 / 1.151, times 0.15
  assert.ok(Math.abs(chord(few) - (74 / 1.151) * 0.15) < 1e-6);
  const scatter = (one: typeof few) => Math.abs(one.components[0]?.u ?? 0);
  assert.ok(scatter(many) < scatter(few) / 1.9);
});

Deno.test("signs: deeper is shorter, a wider rest is longer", () => {
  const together = depthsTogether([depth(2400, 148)], 150, 0.15, "depths");
  assert.ok(together.perDepth < 0);
  assert.deepEqual(together.components.map(({ u }) => Math.sign(u)), [-1, 1, 0]);
});

Deno.test("reading again is offered only where it would help", () => {
  const series = { mean: 1, u: 1, dof: 3, setAside: [], doubted: [] };
  assert.deepEqual(repeats({ ...series, count: 4, hidden: false }), { repeats: 4 });
  assert.deepEqual(repeats({ ...series, count: 4, hidden: true }), {});
  assert.deepEqual(repeats({ ...series, count: 1, hidden: true }), { repeats: 1 });
});
