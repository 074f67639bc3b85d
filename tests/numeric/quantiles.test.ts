import fc from "fast-check";
import assert from "node:assert/strict";
import {
  chiSquareQuantile,
  chiSquareUpper,
  fCdf,
  fQuantile,
  median,
  normalCdf,
  normalQuantile,
  tCdf,
  tQuantile,
} from "../../lib/numeric/quantiles.ts";
import { digitsAgreed, near, reference } from "../references/reference.ts";

type Row = readonly number[];
interface Expected {
  readonly t: readonly (readonly [number, number | null, number])[];
  readonly chi2: readonly Row[];
  readonly normal: readonly Row[];
  readonly F: readonly Row[];
  readonly functions: readonly (readonly [string, Row, number])[];
  readonly published_GUM_G2_two_sided: Readonly<Record<string, Row>> & { readonly nu: Row };
}
const { expected, tolerance } = reference<object, Expected>("quantiles");
const rel = tolerance["rel"] ?? 0;

function compare(name: string, rows: readonly (readonly [string, number, number])[]): void {
  const digits = rows.map(([, got, wanted]) => digitsAgreed(got, wanted));
  const fewest = Math.min(...digits).toFixed(1);
  Deno.test(`${name}: ${rows.length} reference values, ${fewest} digits or more`, () => {
    assert.ok(rows.length > 8);
    for (const [what, got, wanted] of rows) near(got, wanted, rel, what);
  });
}

compare(
  "Student t",
  expected.t.map(([p, dof, t]) => [`t(${p}, ${dof})`, tQuantile(p, dof ?? Infinity), t]),
);
compare(
  "chi-square",
  expected.chi2.map((
    [p = 0, dof = 0, x = 0],
  ) => [`chi2(${p}, ${dof})`, chiSquareQuantile(p, dof), x]),
);
compare("normal", expected.normal.map(([p = 0, z = 0]) => [`z(${p})`, normalQuantile(p), z]));
compare(
  "F",
  expected.F.map((
    [p = 0, d1 = 0, d2 = 0, x = 0],
  ) => [`F(${p}, ${d1}, ${d2})`, fQuantile(p, d1, d2), x]),
);

Deno.test("the two-sided t of GUM Table G.2, to its printed digits", () => {
  const { nu, ...columns } = expected.published_GUM_G2_two_sided;
  const levels = Object.keys(columns).filter((key) => /^[\d.]+$/.test(key));
  assert.equal(levels.length, 3);
  for (const level of levels) {
    nu.forEach((dof, i) => {
      const printed = columns[level]?.[i] ?? NaN;
      near(
        tQuantile((1 + Number(level) / 100) / 2, dof),
        printed,
        tolerance["published_abs"] ?? 0,
        `t ${level} ${dof}`,
        "absolute",
      );
    });
  }
});

Deno.test("distribution functions against the reference", () => {
  const own: Readonly<Record<string, (a: number, b: number) => number>> = {
    t_cdf: tCdf,
    chi2_cdf: (x, dof) => 1 - chiSquareUpper(x, dof),
    chi2_sf: chiSquareUpper,
    erf: (x) => 2 * normalCdf(x * Math.SQRT2) - 1,
    erfc: (x) => 2 * normalCdf(-x * Math.SQRT2),
  };
  const tried = expected.functions.filter(([name]) => name in own);
  assert.equal(tried.length, 6);
  for (const [name, [a = 0, b = 0], wanted] of tried) near(own[name]?.(a, b), wanted, rel, name);
});

const probability = fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true });
const dof = fc.double({ min: 0.6, max: 500, noNaN: true });

Deno.test("law: a distribution function undoes its quantile", () => {
  fc.assert(
    fc.property(probability, dof, dof, (p, a, b) => {
      near(tCdf(tQuantile(p, a), a), p, 1e-9, "t");
      near(1 - chiSquareUpper(chiSquareQuantile(p, a), a), p, 1e-9, "chi2");
      near(fCdf(fQuantile(p, a, b), a, b), p, 1e-9, "F");
      near(normalCdf(normalQuantile(p)), p, 1e-9, "normal");
    }),
    { numRuns: 200 },
  );
});

Deno.test("law: t is symmetric, its square is F with one degree above", () => {
  fc.assert(
    fc.property(fc.double({ min: 0.51, max: 0.999, noNaN: true }), dof, (p, n) => {
      near(tQuantile(1 - p, n), -tQuantile(p, n), 1e-9, "symmetry");
      near(tQuantile(p, n) ** 2, fQuantile(2 * p - 1, 1, n), 1e-8, "t² = F");
    }),
    { numRuns: 100 },
  );
});

Deno.test("closed forms: t with 1 and 2 degrees, chi-square with 2, the far tail", () => {
  // DERIVED: dof 1 is tan(π(p-1/2)); dof 2 is (2p-1)√(2/(4p(1-p))); chi-square of dof 2 is -2 ln(1-p)
  near(tQuantile(0.9, 1), Math.tan(Math.PI * 0.4), 1e-13, "dof 1");
  near(tQuantile(0.9, 2), 0.8 * Math.sqrt(2 / 0.36), 1e-13, "dof 2");
  near(chiSquareQuantile(0.3, 2), -2 * Math.log(0.7), 1e-13, "chi2 dof 2");
  near(chiSquareUpper(200, 2), Math.exp(-100), 1e-12, "tail");
  near(tQuantile(0.975, 1e7), normalQuantile(0.975), 1e-6, "many degrees");
  assert.equal(tQuantile(0.975, Infinity), normalQuantile(0.975));
});

Deno.test("wrong arguments are refused with their values", () => {
  assert.throws(() => tQuantile(1, 5), {
    name: "RangeError",
    message: "tQuantile requires 0 < p < 1, got p=1",
  });
  assert.throws(() => tQuantile(0.5, 0), /tQuantile requires dof above 0, got dof=0/);
  assert.throws(() => chiSquareQuantile(0.5, Infinity), /requires finite dof above 0/);
  assert.throws(() => fQuantile(0.5, 3, -1), /dof=-1/);
  assert.throws(() => normalQuantile(NaN), /p=NaN/);
  assert.throws(() => tCdf(NaN, 3), /requires a number/);
  assert.throws(() => chiSquareUpper(-1, 3), /x >= 0/);
});

const number = fc.double({ min: -1e3, max: 1e3, noNaN: true });

Deno.test("law: the median does not mind the order, and lies in the middle", () => {
  fc.assert(fc.property(fc.array(number, { minLength: 1, maxLength: 30 }), (values) => {
    const middle = median(values);
    assert.equal(middle, median([...values].reverse()));
    assert.ok(values.filter((v) => v < middle).length <= values.length / 2);
    assert.ok(values.filter((v) => v > middle).length <= values.length / 2);
  }));
});

Deno.test("no value has no middle", () => {
  assert.throws(() => median([]), /median requires one value or more/);
});
