import assert from "node:assert/strict";
import fc from "fast-check";
import { CannotTell } from "../../lib/numeric/cannotTell.ts";
import { type Component, estimate, fileOf, sumOfComponents } from "../../lib/measuring/estimate.ts";

const parts = fc.array(
  fc.record({
    u: fc.double({ min: -50, max: 50, noNaN: true }).filter((u) => Math.abs(u) > 1e-3),
    dof: fc.oneof(fc.constant(Infinity), fc.double({ min: 1, max: 50, noNaN: true })),
  }),
  { minLength: 1, maxLength: 6 },
);

Deno.test("components add as squares, their order and signs do not matter", () => {
  fc.assert(fc.property(parts, (components) => {
    const { u, dof } = sumOfComponents(components);
    const turned = sumOfComponents([...components].reverse().map((c) => ({ ...c, u: -c.u })));
    assert.ok(Math.abs(turned.u / u - 1) < 1e-12);
    assert.ok(turned.dof === dof || Math.abs(turned.dof / dof - 1) < 1e-9);
    const squares = components.reduce((sum, c) => sum + c.u ** 2, 0);
    assert.ok(Math.abs(u ** 2 / squares - 1) < 1e-12);
  }));
});

Deno.test("degrees of freedom lie between the smallest and the sum (Welch and Satterthwaite)", () => {
  fc.assert(fc.property(parts, (components) => {
    const { dof } = sumOfComponents(components);
    const all = components.map((c) => c.dof);
    assert.ok(dof >= Math.min(...all) * (1 - 1e-12));
    assert.ok(dof <= all.reduce((sum, d) => sum + d, 0) * (1 + 1e-12));
  }));
});

Deno.test("an estimate carries its parts, and drops those that bring nothing", () => {
  const components: readonly Component[] = [
    { source: "leg circle", u: 3, dof: Infinity },
    { source: "dial", u: -4, dof: 10, repeats: 5 },
    { source: "ball feet", u: 0, dof: Infinity },
  ];
  const made = estimate({
    method: "spherometer",
    radius: 2400,
    components,
    readings: 10,
    file: "s.csv",
  });
  assert.deepEqual(made.components.map(({ source }) => source), ["leg circle", "dial"]);
  assert.equal(made.radius.u, 5);
  // DERIVED: 5^4 / (4^4 / 10) = 6250 / 256
  assert.ok(Math.abs(made.radius.dof - 6250 / 256) < 1e-12);
  assert.equal(made.radius.unit, "mm");
  assert.deepEqual([made.setAside, made.doubted, made.assumed], [[], [], []]);
  assert.equal(made.file, "s.csv");
  assert.equal("file" in estimate({ method: "leaves", radius: 1, components, readings: 1 }), false);
});

Deno.test("an estimate without uncertainty or radius is refused", () => {
  const known = [{ source: "dial", u: 1, dof: 4 }];
  const made = (radius: number): unknown =>
    estimate({ method: "leaves", radius, components: known, readings: 1 });
  for (const radius of [0, -2400]) {
    assert.throws(() => made(radius), CannotTell, "readings of 0 are the maker's");
  }
  assert.throws(() => made(NaN), /^RangeError: estimate requires a radius .* got radius=NaN/);
  assert.throws(
    () => estimate({ method: "leaves", radius: 2400, components: [], readings: 1 }),
    /components=0/,
  );
});

Deno.test("the table is the first row's", () => {
  assert.equal(fileOf([{}, { file: "sun.csv", line: 3 }]), "sun.csv");
  assert.equal(fileOf([]), undefined);
});
