import assert from "node:assert/strict";
import { type Fault, faultsOf, remedies } from "../../../lib/shaping/figuring/figuringFaults.ts";

const bump = (at: number, nm: number, width: number) => (r: number): number =>
  nm * Math.exp(-(((r - at) / width) ** 2));

function look(height: (r: number) => number, u?: number): Fault[] {
  return faultsOf(
    Array.from({ length: 75 }, (_, radius) => ({
      radius,
      surfaceError: height(radius),
      ...(u === undefined ? {} : { u }),
    })),
  );
}

Deno.test("each fault is found by its name and in its place", () => {
  const cases: [string, (r: number) => number, number][] = [
    ["turned-down edge", (r) => r > 68 ? -5 * (r - 68) : 0, 74],
    ["turned-up edge", (r) => r > 68 ? 5 * (r - 68) : 0, 74],
    ["raised ring", bump(40, 40, 6), 40],
    ["low ring", bump(40, -40, 6), 40],
    ["hole in the middle", bump(0, -40, 8), 0],
    ["raised middle", bump(0, 40, 8), 0],
  ];
  for (const [name, height, radius] of cases) {
    const [first, ...more] = look(height, 4);
    assert.equal(first?.name, name);
    assert.ok(Math.abs((first?.radius ?? -9) - radius) <= 1, `${name} at ${first?.radius}`);
    assert.deepEqual(more.map((fault) => fault.name), [], name);
    assert.ok((first?.cause.length ?? 0) > 20 && (first?.remedy.length ?? 0) > 20);
  }
});

Deno.test("what does not stand above its uncertainty, or above 10 nm, is no fault", () => {
  assert.deepEqual(look(bump(40, 30, 6), 20), []);
  assert.deepEqual(look(bump(40, 9, 6), 1), []);
  assert.deepEqual(look(() => 0, 5), []);
  assert.equal(look(bump(40, 30, 6))[0]?.u, undefined);
});

Deno.test("a sphere that should be a paraboloid has none of these faults", () => {
  const sphere = (r: number): number => (r ** 4 - r ** 2 * 74 ** 2) / (8 * 2400 ** 3) * 1e6;
  assert.deepEqual(look(sphere, 4), []);
  assert.deepEqual(look((r) => -2 * sphere(r), 4), []);
});

Deno.test("two faults are told with the larger first", () => {
  const both = (r: number): number => bump(0, -60, 8)(r) + bump(45, 30, 5)(r);
  assert.deepEqual(look(both, 3).map(({ name }) => name), ["hole in the middle", "raised ring"]);
});

Deno.test("astigmatism has a remedy, though no profile of rings can show it", () => {
  assert.match(remedies.astigmatism.remedy, /turn the mirror by a quarter/i);
  assert.ok(Object.values(remedies).every(({ cause, remedy }) => cause !== "" && remedy !== ""));
  assert.throws(() => faultsOf([]), /ten radii/);
});
