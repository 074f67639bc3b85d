import assert from "node:assert/strict";
import { gaussLegendre } from "../../lib/numeric/quadrature.ts";
import { random } from "../../lib/numeric/random.ts";
import { zernike, zernikeSurface, zernikeTerms } from "../../lib/optics/zernike.ts";
import { close } from "./close.ts";

Deno.test("order of the first 21 terms: single index, radial degree, frequency", () => {
  // DERIVED from the single index of ISO 24157, j = (n(n + 2) + m) / 2, m from -n up in steps of two
  const printed = [[0, 0], [1, -1], [1, 1], [2, -2], [2, 0], [2, 2], [3, -3], [3, -1], [3, 1], [
    3,
    3,
  ]];
  const terms = zernikeTerms(5);
  assert.equal(terms.length, 21);
  printed.forEach(([n, m], j) => assert.deepEqual(terms[j], { n, m }, `term ${j}`));
  terms.forEach(({ n, m }, j) => assert.equal((n * (n + 2) + m) / 2, j));
});

Deno.test("values at rho = 0.6, theta = 0.5 rad", () => {
  // CROSS-CHECK secondRoute.py, zernike: scipy's Jacobi polynomials, printed to 1e-10
  const printed = [
    [1, 1, 1.0530990743],
    [1, -1, 0.5753106463],
    [2, 0, -0.4849742261],
    [2, -2, 0.7420228366],
    [2, 2, 0.4764473842],
    [3, -1, -0.7485231491],
    [3, 1, -1.3701624339],
    [3, -3, 0.6094098454],
    [3, 3, 0.0432162043],
    [4, 0, -0.8550723946],
    [4, 2, -0.9595418479],
    [4, -2, -1.4943978861],
    [4, 4, -0.1705499511],
    [4, -4, 0.3726584417],
    [5, 1, -0.0437765064],
    [5, -1, -0.0239152145],
    [6, 0, 0.9660167187],
  ] as const;
  for (const [n, m, value] of printed) {
    close(zernike({ n, m }, 0.6, 0.5), value, 6e-11, `${n} ${m}`);
  }
});

Deno.test("orthonormal over the disc, all pairs of the first 36", () => {
  const rule = gaussLegendre(12), spokes = 24, terms = zernikeTerms(7);
  const sums = terms.map(() => new Float64Array(terms.length));
  rule.nodes.forEach((node, g) => {
    for (let k = 0; k < spokes; k++) {
      const values = terms.map((term) =>
        zernike(term, Math.sqrt((node + 1) / 2), (2 * Math.PI * k) / spokes)
      );
      values.forEach((a, i) =>
        values.forEach((b, j) => {
          const row = sums[i];
          if (row) row[j] = (row[j] ?? 0) + (a * b * (rule.weights[g] ?? 0)) / 2 / spokes;
        })
      );
    }
  });
  sums.forEach((row, i) => row.forEach((v, j) => close(v, i === j ? 1 : 0, 1e-12)));
});

Deno.test("powers of rho in Zernike terms", () => {
  // CROSS-CHECK secondRoute.py, powers: quadrature; DERIVED 1/3, 1/(2 sqrt 3), 1/(6 sqrt 5), 1/(4 sqrt 5), 1/(20 sqrt 7)
  const along = (power: number, n: number): number => {
    const rule = gaussLegendre(10);
    return rule.nodes.reduce((sum, x, i) => {
      const q = (x + 1) / 2;
      return sum +
        ((rule.weights[i] ?? 0) / 2) * q ** (power / 2) * zernike({ n, m: 0 }, Math.sqrt(q), 0);
    }, 0);
  };
  close(along(4, 0), 0.33333333, 6e-9);
  close(along(4, 2), 0.28867513, 6e-9);
  close(along(4, 4), 0.0745356, 6e-9);
  close(along(6, 4), 0.1118034, 6e-9);
  close(along(6, 6), 0.01889822, 6e-9);
});

Deno.test("a surface made of terms gives them back, and what is beyond them is left", () => {
  const draw = random(5), terms = zernikeTerms(6), amounts = terms.map(() => draw.normal());
  const seen = zernikeSurface(({ rho, theta }) =>
    terms.reduce((sum, term, i) => sum + (amounts[i] ?? 0) * zernike(term, rho, theta), 0) +
    0.3 * zernike({ n: 8, m: 0 }, rho, theta) - 0.4 * zernike({ n: 7, m: 5 }, rho, theta)
  );
  terms.forEach((term, i) => close(seen.coefficient(term), amounts[i] ?? NaN, 1e-12));
  close(seen.leftRms, 0.5, 1e-12); // DERIVED: 0.3 and 0.4, each its own RMS, at right angles
});

Deno.test("a fourth power is piston, defocus and spherical in the standard's amounts", () => {
  // DERIVED: rho^4 = 1/3 + Z(2,0) / (2 sqrt 3) + Z(4,0) / (6 sqrt 5)
  const { coefficient, leftRms } = zernikeSurface(({ rho }) => rho ** 4);
  close(coefficient({ n: 0, m: 0 }), 1 / 3, 1e-13);
  close(coefficient({ n: 2, m: 0 }), 1 / (2 * Math.sqrt(3)), 1e-13);
  close(coefficient({ n: 4, m: 0 }), 1 / (6 * Math.sqrt(5)), 1e-13);
  close(leftRms, 0, 1e-12);
});

Deno.test("terms that are not are refused", () => {
  for (const [n, m] of [[-1, 0], [2, 1], [1, 3], [1.5, 0.5], [NaN, 0]] as const) {
    assert.throws(() => zernike({ n, m }, 0.5, 0), RangeError);
  }
  assert.throws(() => zernikeSurface(() => 0, 2).coefficient({ n: 4, m: 0 }), /up to degree 2/);
});
