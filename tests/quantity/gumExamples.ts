/** The two worked examples of the GUM that several tests use, as their files hold them. */
import { effectiveDof } from "../../lib/quantity/coverage.ts";
import { type Measured, measured } from "../../lib/quantity/measured.ts";
import {
  type Correlation,
  correlationMatrix,
  type Propagated,
} from "../../lib/quantity/propagate.ts";
import { rectangular, typeA } from "../../lib/quantity/typeB.ts";
import { reference } from "../references/reference.ts";

type Numbers = Readonly<Record<string, number>>;
interface Part {
  readonly u: number;
  readonly dof?: number;
}
interface Rectangle {
  readonly value: number;
  readonly half_width: number;
  readonly dof: number | null;
}

export const endGauge = reference<
  {
    readonly l_S: { readonly value: number; readonly u: number; readonly dof: number };
    readonly d: { readonly value: number; readonly components: readonly Part[] };
    readonly theta: { readonly value: number; readonly components: readonly Part[] };
    readonly alpha_S: Rectangle;
    readonly d_alpha: Rectangle;
    readonly d_theta: Rectangle;
  },
  {
    readonly published:
      & Readonly<
        Record<"l_nm" | "u_c_nm" | "nu_eff" | "U99_nm" | "u_c_with_second_order_nm", number>
      >
      & {
        readonly second_order_nm: readonly number[];
      };
    readonly computed:
      & Readonly<
        Record<
          | "l_nm"
          | "u_d_nm"
          | "nu_d"
          | "u_theta_degC"
          | "u_c_nm"
          | "nu_eff"
          | "k99_t16"
          | "U99_nm"
          | "u_c_with_second_order_nm",
          number
        >
      >
      & { readonly contributions_nm: Numbers; readonly second_order_nm: readonly number[] };
  }
>("gum-h1-end-gauge");

type Gauge = Readonly<Record<"lS" | "d" | "alphaS" | "dAlpha" | "theta" | "dTheta", Measured>>;

export function endGaugeInputs(): Gauge {
  const { l_S, d, theta, alpha_S, d_alpha, d_theta } = endGauge.inputs;
  const sum = (value: number, parts: readonly Part[], unit: string): Measured => {
    const known = parts.map(({ u, dof = Infinity }) => ({ u, dof }));
    return measured(value, Math.hypot(...known.map((p) => p.u)), unit, effectiveDof(known));
  };
  const box = ({ value, half_width, dof }: Rectangle, unit: string): Measured =>
    measured(value, rectangular(half_width), unit, dof ?? Infinity);
  return {
    lS: measured(l_S.value, l_S.u, "nm", l_S.dof),
    d: sum(d.value, d.components, "nm"),
    alphaS: box(alpha_S, "1/degC"),
    dAlpha: box(d_alpha, "1/degC"),
    theta: sum(theta.value, theta.components, "degC"),
    dTheta: box(d_theta, "degC"),
  };
}

export const resistance = reference<
  Readonly<Record<"V_volt" | "I_ampere" | "phi_rad", readonly number[]>>,
  {
    readonly published: Numbers;
    readonly computed: Readonly<
      Record<"approach1" | "approach2_mean_of_ratios" | "wrong_if_correlation_ignored", Numbers>
    >;
  }
>("gum-h2-resistance-reactance");

/** Correlation of two quantities read together, and so of their means (JCGM 100:2008, 5.2.2 and C.3.6, from memory). */
export function sampleCorrelation(x: readonly number[], y: readonly number[]): number {
  const a = typeA(x).mean, b = typeA(y).mean;
  let xy = 0, xx = 0, yy = 0;
  x.forEach((v, i) => {
    const dx = v - a, dy = (y[i] ?? NaN) - b;
    xy += dx * dy;
    xx += dx * dx;
    yy += dy * dy;
  });
  return xy / Math.sqrt(xx * yy);
}

/** Correlation of two results of the same inputs, from their budgets (JCGM 100:2008, H.2.3, from memory). */
export function resultCorrelation(
  a: Propagated,
  b: Propagated,
  correlations: readonly Correlation[] = [],
): number {
  const names = [...new Set([...a.budget, ...b.budget].map(({ source }) => source))];
  const r = correlationMatrix(names, correlations);
  let covariance = 0;
  for (const p of a.budget) {
    for (const q of b.budget) {
      const tie = r[names.indexOf(p.source)]?.[names.indexOf(q.source)] ?? 0;
      covariance += p.contribution * q.contribution * tie;
    }
  }
  return covariance / (a.u * b.u);
}
