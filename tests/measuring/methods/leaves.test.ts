import assert from "node:assert/strict";
import fc from "fast-check";
import {
  bracket,
  depthFromLeaves,
  type LeafRow,
  leaves,
} from "../../../lib/measuring/methods/leaves.ts";
import { radiusFromSagitta, radiusSensitivity, sagitta } from "../../../lib/optics/sphere.ts";
import { KESTREL } from "../bench.ts";
import { Agreement, readReference } from "../reference.ts";

interface Reference {
  inputs: {
    worked: {
      go_leaves: number[];
      nogo_leaves: number[];
      leaf_width_mm: number;
      half_chord_mm: number;
      u_half_chord: number;
    };
  };
  expected: { worked: Record<string, number> };
  tolerance: { rel: number };
}

// CROSS-CHECK numpy 1.24.2: tests/references/feeler-stack.json, worked example
const { inputs: { worked }, expected, tolerance } = readReference<Reference>("feeler-stack");
const want = (key: string): number => expected.worked[key] ?? NaN;

Deno.test("the worked bracket, step by step", () => {
  const agree = new Agreement();
  const check = (got: number, key: string): void => agree.check(got, want(key), tolerance.rel, key);
  const { middle, u } = bracket(worked.go_leaves, worked.nogo_leaves);
  // each leaf errs on its own, anywhere within its tolerance: sqrt n x tolerance / sqrt 3
  const stack = Math.sqrt(worked.go_leaves.length) * 0.005 / Math.sqrt(3);
  const chord = 2 * worked.half_chord_mm;
  check(middle, "s_mid");
  check(u, "u_bracket");
  check(stack, "u_stack");
  // Two leaves have one film between them, 0.001 mm to either side.
  const depthU = Math.hypot(u, stack, 0.001 / Math.sqrt(3));
  check(depthU, "u_s");
  // The file corrects for the leaf's width with the planned 2400 mm.
  const depth = middle + want("width_correction");
  check(depth, "s");
  const radius = radiusFromSagitta(depth, chord), slopes = radiusSensitivity(depth, chord);
  check(radius, "R");
  check(Math.hypot(slopes.perHalfChord * worked.u_half_chord, slopes.perDepth * depthU), "u_R");
  check(radius / 2, "f");
  check(radiusFromSagitta(middle, chord), "R_without_width_correction");
  agree.report("feeler-stack, worked bracket");
});

Deno.test("the whole table of one row gives the same, but for the radius used in the width correction", () => {
  const row = { go: worked.go_leaves, nogo: worked.nogo_leaves, chord: 147 };
  const made = leaves([row], KESTREL) ?? assert.fail();
  // DERIVED: w^2/8R with R 2384 instead of 2400 adds 0.000057 mm of depth, 0.12 mm of radius.
  assert.ok(Math.abs(made.radius.value - want("R")) < 0.2);
  assert.ok(Math.abs(made.radius.u / want("u_R") - 1) < 2e-4);
  assert.equal(made.radius.dof, Infinity);
  assert.deepEqual(
    made.components.map(({ source }) => source),
    [
      "leaf bracket",
      "where the straight-edge rests",
      "leaf thickness",
      "film between the leaves",
    ],
  );
  assert.match(made.assumed[0] ?? "", /one bracket only/);
});

Deno.test("law: leaves of any width under a known sphere give its radius back", () => {
  const radii = fc.double({ min: 1200, max: 5000, noNaN: true });
  const widths = fc.double({ min: 0, max: 20, noNaN: true });
  fc.assert(fc.property(radii, widths, (radius, width) => {
    const gap = sagitta(148, radius) - width ** 2 / (8 * radius);
    const back = radiusFromSagitta(depthFromLeaves(gap, 148, width), 148);
    assert.ok(Math.abs(back / radius - 1) < 1e-9);
  }));
});

const pair = (go: readonly number[], nogo: readonly number[]): LeafRow => ({ go, nogo });

Deno.test("six brackets with the same leaves: what they share does not shrink", () => {
  const rows = [0, 0.02, 0.04, 0, 0.02, 0.04].map((more) =>
    pair([1 + more, 0.1], [1.02 + more, 0.1])
  );
  const one = leaves(rows.slice(1, 2), KESTREL) ?? assert.fail();
  const six = leaves(rows, KESTREL) ?? assert.fail();
  const u = (made: typeof one, source: RegExp): number =>
    Math.abs(made.components.find((part) => source.test(part.source))?.u ?? NaN);
  // The mean depth is the one row's to rounding, so contributions compare directly.
  assert.ok(Math.abs(u(six, /thickness/) / u(one, /thickness/) - 1) < 1e-3);
  assert.ok(Math.abs(u(six, /rests/) / u(one, /rests/) - 1) < 1e-3);
  assert.equal(six.radius.dof > 5, true);
  assert.equal(six.readings, 6);
});

Deno.test("the scatter of brackets is used where it exceeds what their width allows, never both", () => {
  const wide = [1.1, 1.14, 1.08, 1.16].map((go) => pair([go], [go + 0.02]));
  const made = leaves(wide, KESTREL) ?? assert.fail();
  const brackets = made.components.find(({ source }) => source === "leaf brackets");
  assert.equal(brackets?.dof, 3);
  const s = Math.sqrt(((0.02 ** 2) * 2 + (0.04 ** 2) * 2) / 3);
  const full = (150 / 148) ** 2 * (s / 2); // carried to the full aperture, of the mean of four
  const slope = (75 ** 2 - 1.16 ** 2) / (2 * 1.16 ** 2);
  // DERIVED by hand with rounded s = 1.16 mm: good to one per cent.
  assert.ok(Math.abs(Math.abs(brackets?.u ?? 0) / (slope * full) - 1) < 0.02);
});

Deno.test("mishandling that is believable is named and widens", () => {
  const rows = [pair([0.88, 0.25], [0.85, 0.3])];
  const right = leaves(rows, KESTREL) ?? assert.fail();
  const careless = leaves(rows, KESTREL, { offset: 5, tilt: 0.002, sag: 0.001 }) ??
    assert.fail();
  const names = careless.components.slice(4).map(({ source }) => source);
  assert.deepEqual(names, [
    "straight-edge beside the centre",
    "leaf tilted",
    "straight-edge sagging",
  ]);
  assert.ok(careless.radius.u > right.radius.u);
  assert.equal(careless.radius.value, right.radius.value);
  // DERIVED: 5 mm off centre is 0.46 % of the radius (e^2/r^2 with r = 74), over sqrt 3
  const offset = Math.abs(careless.components[4]?.u ?? 0);
  assert.ok(Math.abs(offset / ((2385 * 25) / 74 ** 2 / Math.sqrt(3)) - 1) < 0.01);
});

Deno.test("rows with a depth only belong to another gauge", () => {
  assert.equal(leaves([{}], KESTREL), undefined);
  assert.equal(leaves([], KESTREL), undefined);
});

Deno.test("the outlier's row is named, with what was read there", () => {
  // INVENTED: the row as it was written
  const rows = [1.13, 1.13, 1.14, 1.13, 1.14, 1.33].map((go, at) => ({
    go: [go],
    nogo: [go + 0.01],
    file: "sagitta.csv",
    line: at + 2,
  }));
  const made = leaves(rows, KESTREL) ?? assert.fail();
  assert.deepEqual(made.setAside.map(({ line, value }) => [line, value]), [[7, 1.335]]);
  assert.equal(made.readings, 5);
  assert.equal(made.file, "sagitta.csv");
});

Deno.test("bad rows are refused: a leaf twice, a no-go that is thinner, a chord wider than the disc", () => {
  assert.throws(() => bracket([0.5, 0.5], [1.1]), /each leaf once/);
  assert.throws(() => bracket([0.88, 0.3], [0.88, 0.25]), /no-go thicker than its go, got go=1.18/);
  assert.throws(() => leaves([{ go: [1], nogo: [1.1], chord: 151 }], KESTREL), /chord <= aperture/);
});
