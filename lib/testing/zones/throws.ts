/** Many made-up sets of readings through one linear reduction, by its small middle: few parameters, then the profile. */
import type { Matrix } from "../../numeric/smallMatrix.ts";

export interface Thrown {
  /** highest less lowest of each profile */
  readonly pv: Float64Array;
  /** standard deviation of each profile over its places */
  readonly rms: Float64Array;
}

/**
 * P-V and spread of the profile that each row of noise alone would make.
 *
 * A reduction with p parameters is readings -> parameters -> profile. Kept as two factors it costs p (n + m) a throw in
 * place of n m; nothing else is saved or lost.
 *
 * @param parameters  p rows over the n readings
 * @param shapes      m rows (places) over the p parameters
 * @param noise       throws one after another, n numbers each
 * @returns one P-V and one RMS for each throw, in the unit of the shapes
 * @throws {RangeError} where the sizes do not fit
 * @example two readings, one parameter (their sum), a straight profile
 * ```ts
 * import assert from "node:assert/strict";
 * const { pv } = throwReadings([Float64Array.of(1, 1)], [0, 0.5, 1].map((x) => Float64Array.of(x)), Float64Array.of(2, 1));
 * assert.equal(pv[0], 3);
 * ```
 */
export function throwReadings(parameters: Matrix, shapes: Matrix, noise: Float64Array): Thrown {
  const p = parameters.length,
    n = parameters[0]?.length ?? 0,
    m = shapes.length,
    count = noise.length / n;
  if (
    !(p > 0 && n > 0 && m > 0 && Number.isInteger(count) && shapes.every((row) => row.length === p))
  ) {
    throw new RangeError(
      `throwReadings requires p rows over n readings, shapes of p columns and whole throws, got p=${p}, n=${n}, noise=${noise.length}`,
    );
  }
  const first = Float64Array.from(parameters.flatMap((row) => [...row]));
  const second = Float64Array.from(shapes.flatMap((row) => [...row]));
  const out = { pv: new Float64Array(count), rms: new Float64Array(count) },
    c = new Float64Array(p);
  for (let d = 0; d < count; d++) {
    for (let k = 0; k < p; k++) {
      let sum = 0;
      for (let j = 0; j < n; j++) {
        sum += (first[k * n + j] as number) * (noise[d * n + j] as number);
      }
      c[k] = sum;
    }
    if (p === 3) profileOfThree(second, m, c, out, d);
    else profileOfAny(second, m, c, out, d);
  }
  return out;
}

/** Three parameters (focus, conic and one more) in registers. */
function profileOfThree(
  shapes: Float64Array,
  m: number,
  c: Float64Array,
  out: Thrown,
  d: number,
): void {
  const a = c[0] as number, b = c[1] as number, e = c[2] as number;
  let low = Infinity, high = -Infinity, sum = 0, square = 0;
  for (let i = 0; i < 3 * m; i += 3) {
    const w = a * (shapes[i] as number) + b * (shapes[i + 1] as number) +
      e * (shapes[i + 2] as number);
    low = w < low ? w : low;
    high = w > high ? w : high;
    sum += w;
    square += w * w;
  }
  out.pv[d] = high - low;
  out.rms[d] = Math.sqrt(Math.max(square / m - (sum / m) ** 2, 0));
}

function profileOfAny(
  shapes: Float64Array,
  m: number,
  c: Float64Array,
  out: Thrown,
  d: number,
): void {
  let low = Infinity, high = -Infinity, sum = 0, square = 0;
  for (let i = 0; i < m; i++) {
    let w = 0;
    for (let k = 0; k < c.length; k++) w += (c[k] as number) * (shapes[i * c.length + k] as number);
    low = w < low ? w : low;
    high = w > high ? w : high;
    sum += w;
    square += w * w;
  }
  out.pv[d] = high - low;
  out.rms[d] = Math.sqrt(Math.max(square / m - (sum / m) ** 2, 0));
}
