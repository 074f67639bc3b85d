/** The disc's polynomials along the radius: r^n P_k^(0,n)(2r^2 - 1), orthogonal over the area for each n. */

/** r^n P_k^(0,n)(2r^2 - 1), k = 0 ... count-1, with first and second derivative: the radial part of a disc's polynomials. */
export function radials(
  n: number,
  count: number,
  r: number,
): [Float64Array, Float64Array, Float64Array] {
  const x = 2 * r * r - 1,
    p = [jacobi(n, count, x, 0), jacobi(n, count, x, 1), jacobi(n, count, x, 2)];
  const out: [Float64Array, Float64Array, Float64Array] = [
    new Float64Array(count),
    new Float64Array(count),
    new Float64Array(count),
  ];
  const rn = r ** n,
    r1 = n === 0 ? 0 : n * r ** (n - 1),
    r2 = n < 2 ? 0 : n * (n - 1) * r ** (n - 2);
  for (let k = 0; k < count; k++) {
    const f = p[0]?.[k] ?? 0, d = (p[1]?.[k] ?? 0) * 4 * r;
    const dd = (p[2]?.[k] ?? 0) * 16 * r * r + (p[1]?.[k] ?? 0) * 4;
    out[0][k] = rn * f;
    out[1][k] = r1 * f + rn * d;
    out[2][k] = r2 * f + 2 * r1 * d + rn * dd;
  }
  return out;
}

/** Derivative of order d of the Jacobi polynomials P_k^(0,n): a Jacobi polynomial of its own, of two lower. */
function jacobi(n: number, count: number, x: number, d: number): Float64Array {
  const out = new Float64Array(count), a = d, b = n + d;
  let before = 0, now = 1;
  for (let j = 0; j + d < count; j++) {
    const k = j + d;
    let scale = 1;
    for (let m = 1; m <= d; m++) scale *= (k + n + m) / 2;
    out[k] = scale * now;
    const c = 2 * j + a + b;
    const next = j === 0
      ? (a + 1) + ((a + b + 2) * (x - 1)) / 2
      : ((c + 1) * ((c + 2) * c * x + a * a - b * b) * now -
        2 * (j + a) * (j + b) * (c + 2) * before) / (2 * (j + 1) * (j + a + b + 1) * c);
    before = now;
    now = next;
  }
  return out;
}
