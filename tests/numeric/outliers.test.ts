import assert from "node:assert/strict";
import fc from "fast-check";
import {
  FEWEST_TO_SET_ASIDE,
  grubbsLimit,
  peirceLimit,
  screen,
} from "../../lib/numeric/outliers.ts";
import { median } from "../../lib/numeric/quantiles.ts";
import { random } from "../../lib/numeric/random.ts";
import { digitsAgreed, near, reference } from "../references/reference.ts";

type Row = readonly number[];
const { inputs, expected, tolerance } = reference<
  Readonly<
    Record<"example_grubbs_nist" | "example_grubbs_copper_wire" | "example_peirce_ross", Row>
  >,
  {
    readonly grubbs: readonly Row[];
    readonly grubbs_published_one_sided5_two_sided5: Readonly<
      Record<string, readonly [number, number]>
    >;
    readonly peirce: readonly Row[];
    readonly example_grubbs_nist: Readonly<Record<string, number>>;
    readonly example_grubbs_copper_wire: Readonly<Record<string, number>>;
    readonly example_peirce_ross: {
      readonly s: number;
      readonly mean: number;
      readonly max_dev_k1: number;
      readonly max_dev_k2: number;
      readonly max_dev_k3: number;
      readonly rejected_peirce: Row;
      readonly mean_after_peirce: number;
      readonly s_after_peirce: number;
    };
  }
>("outlier-tests");
const rel = tolerance["computed_rel"] ?? 0, printed = tolerance["published_abs"] ?? 0;

function compare(name: string, pairs: readonly (readonly [string, number, number])[]): void {
  const digits = Math.min(...pairs.map(([, got, wanted]) => digitsAgreed(got, wanted)));
  Deno.test(`${name}: ${pairs.length} reference values, ${digits.toFixed(1)} digits or more`, () => {
    assert.ok(pairs.length > 10);
    for (const [what, got, wanted] of pairs) near(got, wanted, rel, what);
  });
}

compare(
  "Grubbs",
  expected.grubbs.flatMap(([n = 0, one5 = 0, two5 = 0, one1 = 0, two1 = 0]) => [
    [`${n} one-sided 5 %`, grubbsLimit(n, 0.05, 1), one5] as const,
    [`${n} two-sided 5 %`, grubbsLimit(n), two5] as const,
    [`${n} one-sided 1 %`, grubbsLimit(n, 0.01, 1), one1] as const,
    [`${n} two-sided 1 %`, grubbsLimit(n, 0.01), two1] as const,
  ]),
);
compare(
  "Peirce",
  expected.peirce.map(([n = 0, k = 0, x = 0]) => [`${n}, ${k}`, peirceLimit(n, k), x]),
);

Deno.test("the printed tables, but for Peirce's misprint at three readings", () => {
  // CROSS-CHECK mpmath: the one root of the defining equations, kept in tests/references/outlier-tests.json
  for (const [n, [one, two]] of Object.entries(expected.grubbs_published_one_sided5_two_sided5)) {
    near(grubbsLimit(Number(n), 0.05, 1), one, printed, `${n} one-sided`, "absolute");
    near(grubbsLimit(Number(n)), two, printed, `${n} two-sided`, "absolute");
  }
  for (const [n = 0, k = 0, , table = 0] of expected.peirce) {
    if (n > 3) near(peirceLimit(n, k), table, printed, `Peirce ${n}, ${k}`, "absolute");
  }
  near(peirceLimit(3, 1), 1.216261749686484, rel, "Peirce 3, 1");
});

function spread(values: Row): { mean: number; s: number } {
  const mean = values.reduce((sum, v) => sum + v, 0) / values.length;
  return {
    mean,
    s: Math.sqrt(values.reduce((sum, v) => sum + (v - mean) ** 2, 0) / (values.length - 1)),
  };
}

Deno.test("the engineering handbook's eight masses: one far out", () => {
  // READ NIST/SEMATECH e-Handbook 1.3.5.17: the value far out
  const values = inputs.example_grubbs_nist, wanted = expected.example_grubbs_nist;
  const { mean, s } = spread(values), g = (245.57 - mean) / s;
  near(g, wanted["G"] ?? NaN, rel, "G");
  near(grubbsLimit(8, 0.05, 1), wanted["G_crit_one_sided5"] ?? NaN, rel, "limit");
  for (const rule of ["grubbs", "peirce"] as const) {
    assert.deepEqual(screen(values, { rule }).setAside.map((o) => o.value), [245.57]);
  }
});

Deno.test("copper wire: suspect at 5 %, kept at 1 %", () => {
  const values = inputs.example_grubbs_copper_wire, wanted = expected.example_grubbs_copper_wire;
  const { mean, s } = spread(values);
  near((596 - mean) / s, wanted["G"] ?? NaN, rel, "G");
  // one side, known beforehand, at level α is the two-sided test at 2α
  assert.deepEqual(
    screen(values, { rule: "grubbs", alpha: 0.1 }).setAside.map((o) => o.value).slice(-1),
    [596],
  );
  assert.deepEqual(screen(values, { rule: "grubbs", alpha: 0.02 }).setAside, []);
});

Deno.test("Ross's ten: Peirce sees the pair that hides from Grubbs", () => {
  const values = inputs.example_peirce_ross, wanted = expected.example_peirce_ross;
  const { s } = spread(values);
  near(s, wanted.s, rel, "s");
  near(peirceLimit(10, 1) * s, wanted.max_dev_k1, rel, "k 1");
  near(peirceLimit(10, 2) * s, wanted.max_dev_k2, rel, "k 2");
  near(peirceLimit(10, 3) * s, wanted.max_dev_k3, rel, "k 3");
  const { setAside, kept } = screen(values);
  assert.deepEqual(setAside.map((o) => o.value), wanted.rejected_peirce);
  near(spread(kept).mean, wanted.mean_after_peirce, rel, "mean after");
  near(spread(kept).s, wanted.s_after_peirce, rel, "s after");
  assert.deepEqual(
    screen(values, { rule: "grubbs" }).setAside,
    [],
    "Grubbs, two-sided, is fooled too",
  );
});

Deno.test("seven equal readings and one a step away: nothing is wild", () => {
  const values = [1.1, 1.1, 1.1, 1.1, 1.1, 1.1, 1.1, 1.11];
  for (const rule of ["grubbs", "peirce"] as const) {
    assert.deepEqual(screen(values, { rule, step: 0.01 }).setAside, []);
    assert.equal(screen(values, { rule }).setAside.length, 1, "without the step it would be");
  }
  const far = [...values.slice(0, 7), 1.13];
  assert.deepEqual(screen(far, { step: 0.01 }).setAside.map((o) => o.value), [1.13]);
});

Deno.test("under six readings nothing is set aside, but the doubt is told", () => {
  // INVENTED readings
  assert.equal(FEWEST_TO_SET_ASIDE, 6);
  const five = screen([1203, 1204, 1203, 1204, 1303], { step: 1 });
  assert.deepEqual(five.setAside, []);
  assert.equal(five.kept.length, 5);
  assert.equal(five.doubtful[0]?.index, 4);
  assert.match(
    five.doubtful[0]?.why ?? "",
    /standard deviations from the mean, Peirce's limit is .*measure again/,
  );
  const six = screen([1203, 1204, 1203, 1204, 1203, 1303], { step: 1 });
  assert.deepEqual(six.setAside.map((o) => [o.index, o.value]), [[5, 1303]]);
  assert.deepEqual(six.doubtful, []);
  assert.deepEqual(screen([1, 2]), { setAside: [], doubtful: [], kept: [1, 2] });
});

const readings = fc.array(fc.integer({ min: -5000, max: 5000 }), { minLength: 3, maxLength: 20 });

Deno.test("law: readings are kept or set aside, never lost, and never half of them", () => {
  fc.assert(
    fc.property(readings, fc.constantFrom("grubbs" as const, "peirce" as const), (values, rule) => {
      const { setAside, kept } = screen(values, { rule });
      assert.equal(setAside.length + kept.length, values.length);
      assert.ok(setAside.length <= values.length / 2);
      for (const { index, value } of setAside) assert.equal(values[index], value);
    }),
  );
});

Deno.test("law: another unit and another zero change nothing", () => {
  const clean = [5.1, 4.9, 5, 5.2, 4.8, 5.05, 7.5, 5.1];
  fc.assert(
    fc.property(
      fc.double({ min: 0.001, max: 1000, noNaN: true }),
      fc.double({ min: -100, max: 100, noNaN: true }),
      (unit, zero) => {
        const moved = clean.map((v) => (v + zero) * unit);
        for (const rule of ["grubbs", "peirce"] as const) {
          assert.deepEqual(screen(moved, { rule }).setAside.map((o) => o.index), [6]);
        }
      },
    ),
  );
});

Deno.test("Grubbs doubts a clean set as often as it says", () => {
  const source = random(8), sets = 2000;
  let doubted = 0;
  for (let i = 0; i < sets; i++) {
    const values = Array.from({ length: 8 }, () => source.normal());
    if (screen(values, { rule: "grubbs" }).setAside.length > 0) doubted++;
  }
  near(doubted / sets, 0.05, 4 * Math.sqrt(0.05 * 0.95 / sets), "share", "absolute");
});

Deno.test("wrong arguments are refused", () => {
  assert.throws(() => grubbsLimit(2), /grubbsLimit requires 3 or more readings, got n=2/);
  assert.throws(() => grubbsLimit(5, 0), /alpha=0/);
  assert.throws(() => peirceLimit(5, 4), /1 to n-2 doubtful readings, got 4 of 5/);
  assert.throws(() => screen([1, NaN, 2]), /finite readings/);
  assert.throws(() => screen([1, 2, 3], { step: -1 }), /step=-1/);
});

/** Grubbs's test by its definition: at each turn mean and s of all that are left, the farthest leaves. */
function grubbsSlowly(values: Row, step: number): number[] {
  const left = values.map((value, index) => ({ value, index })), out: number[] = [];
  const middle = median(values);
  while (left.length > 2 && 2 * (out.length + 1) <= values.length) {
    const { mean, s } = spread(left.map(({ value }) => value));
    const wide = Math.max(s, step / Math.sqrt(12));
    left.sort((a, b) => Math.abs(a.value - mean) - Math.abs(b.value - mean));
    const last = left.at(-1);
    if (last === undefined) break;
    const far = Math.abs(last.value - mean) > grubbsLimit(left.length) * wide &&
      Math.abs(last.value - middle) > 1.5 * step * (1 + 1e-9);
    if (!far) break;
    out.push(last.index);
    left.pop();
  }
  return out.sort((a, b) => a - b);
}

Deno.test("law: Grubbs by two ends of a sorted list is Grubbs by its definition", () => {
  const source = random(17);
  for (let set = 0; set < 300; set++) {
    const count = 6 + set % 60, step = set % 3 === 0 ? 0.01 : 0;
    const values = Array.from({ length: count }, () => {
      const wild = source.uniform() < 0.12 ? 10 ** (8 * source.uniform() - 2) : 0;
      return 5 + 0.02 * source.normal() + (source.uniform() < 0.5 ? wild : -wild);
    });
    const found = screen(values, { rule: "grubbs", step }).setAside.map(({ index }) => index);
    assert.deepEqual(found, grubbsSlowly(values, step), `set ${set}`);
  }
});

Deno.test("a hundred thousand readings with ten thousand wild ones are screened in a moment", () => {
  const source = random(19);
  const values = Array.from(
    { length: 100_000 },
    (_, i) => 0.01 * source.normal() + (i % 10 === 0 ? 1 + i / 1000 : 0),
  );
  const begun = performance.now();
  const { setAside } = screen(values, { rule: "grubbs" });
  assert.ok(performance.now() - begun < 20_000);
  assert.ok(setAside.length > 9_000, `${setAside.length}`);
});
