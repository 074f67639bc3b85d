import assert from "node:assert/strict";
import { gaussLegendre } from "../../lib/numeric/quadrature.ts";
import { nollTerm, termsOfDegree, zernike } from "../../lib/optics/zernike.ts";
import { close } from "./close.ts";

Deno.test("order of the first 22 terms", () => {
  // MEMORY Noll 1976, table I
  const nm = "00 11 11 20 22 22 31 31 33 33 40 42 42 44 44 51 51 53 53 55 55 60".split(" ");
  nm.forEach((pair, i) => {
    const { n, m, sine } = nollTerm(i + 1);
    assert.equal(`${n}${m}`, pair, `term ${i + 1}`);
    assert.equal(sine, m > 0 && (i + 1) % 2 === 1);
  });
});

Deno.test("values at rho = 0.6, theta = 0.5 rad", () => {
  // CROSS-CHECK numpy 1.24.2, printed to 1e-10
  const printed: Record<number, number> = {
    2: 1.0530990743,
    3: 0.5753106463,
    4: -0.4849742261,
    5: 0.7420228366,
    6: 0.4764473842,
    7: -0.7485231491,
    8: -1.3701624339,
    9: 0.6094098454,
    10: 0.0432162043,
    11: -0.8550723946,
    12: -0.9595418479,
    13: -1.4943978861,
    14: -0.1705499511,
    15: 0.3726584417,
    16: -0.0437765064,
    17: -0.0239152145,
    22: 0.9660167187,
  };
  for (const [j, value] of Object.entries(printed)) {
    close(zernike(Number(j), 0.6, 0.5), value, 6e-11, `Z${j}`);
  }
});

Deno.test("orthonormal over the disc, all pairs of the first 36", () => {
  const rule = gaussLegendre(12), spokes = 24, count = 36;
  const sums = Array.from({ length: count }, () => new Float64Array(count));
  rule.nodes.forEach((node, g) => {
    for (let k = 0; k < spokes; k++) {
      const values = Array.from(
        { length: count },
        (_, j) => zernike(j + 1, Math.sqrt((node + 1) / 2), (2 * Math.PI * k) / spokes),
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
  // CROSS-CHECK numpy 1.24.2; DERIVED 1/3, 1/(2 sqrt 3), 1/(6 sqrt 5), 1/(4 sqrt 5), 1/(20 sqrt 7)
  const along = (power: number, j: number): number => {
    const rule = gaussLegendre(10);
    return rule.nodes.reduce((sum, x, i) => {
      const q = (x + 1) / 2;
      return sum + ((rule.weights[i] ?? 0) / 2) * q ** (power / 2) * zernike(j, Math.sqrt(q), 0);
    }, 0);
  };
  close(along(4, 1), 0.33333333, 6e-9);
  close(along(4, 4), 0.28867513, 6e-9);
  close(along(4, 11), 0.0745356, 6e-9);
  close(along(6, 11), 0.1118034, 6e-9);
  close(along(6, 22), 0.01889822, 6e-9);
});

Deno.test("counts and refusals", () => {
  assert.deepEqual([1, 3, 7].map(termsOfDegree), [3, 10, 36]);
  for (const bad of [0, -1, 1.5, NaN]) assert.throws(() => nollTerm(bad), RangeError);
});
