/**
 * Mirrors of ten families for judging the zone test, none of them the shapes its model is made of: heights as closed
 * forms of the radius, readings and truth by the exact rays of judge.ts. INVENTED, by dice.
 */
import type { RandomSource } from "../../lib/numeric/random.ts";
import { conicCurve, type JudgedMirror, mirrorOf, truth } from "./judge.ts";

export const FAMILIES = [
  "conic",
  "cubic",
  "ring",
  "double ring",
  "ripples",
  "step",
  "hole",
  "edge",
  "smooth",
  "mixture",
] as const;
export type FamilyName = (typeof FAMILIES)[number];

type Curve = { height: (r: number) => number; slope: (r: number) => number };

/**
 * A curve of the radius' share, with its slope by a central difference (height is in nm, analytic; 1e-5 of the radius);
 * smooth over the middle, as glass is.
 */
function curve(half: number, nm: (rho: number) => number): Curve {
  const height = (r: number): number => 1e-6 * nm(Math.sqrt((r / half) ** 2 + 0.03 ** 2));
  const step = 1e-5 * half;
  return { height, slope: (r) => (height(r + step) - height(Math.abs(r - step))) / (2 * step) };
}

const ramp = (x: number): number => x <= 0 ? 0 : x >= 1 ? 1 : (1 - Math.cos(Math.PI * x)) / 2;

/** One shape over rho, of height about 1. */
function shapeOf(family: FamilyName, dice: RandomSource): (rho: number) => number {
  const between = (a: number, b: number): number => a + (b - a) * dice.uniform();
  const sign = dice.uniform() < 0.5 ? -1 : 1;
  switch (family) {
    case "conic":
      return (rho) => sign * rho ** 4;
    case "cubic":
      return (rho) => sign * rho ** 6;
    case "ring": {
      // sech-squared in place of a bell; full width 0.1 to 0.4 of the radius
      const at = between(0.1, 0.97), w = between(0.1, 0.4) / 1.763;
      return (rho) => sign / Math.cosh((rho - at) / w) ** 2;
    }
    case "double ring": {
      const one = shapeOf("ring", dice), two = shapeOf("ring", dice), share = between(0.4, 1);
      return (rho) => one(rho) + share * two(rho);
    }
    case "ripples": {
      const period = between(0.2, 1), phase = between(0, 2 * Math.PI);
      return (rho) => Math.cos((2 * Math.PI * rho) / period + phase) / 2;
    }
    case "step": {
      const at = between(0.12, 0.95), w = between(0.02, 0.12);
      return (rho) => sign * ramp((rho - at) / w + 0.5);
    }
    case "hole": {
      const edge = between(0.04, 0.3), w = between(0.03, 0.15);
      return (rho) => -sign * (1 - ramp((rho - edge) / w + 0.5));
    }
    case "edge": {
      const w = between(0.01, 0.15), power = between(1.5, 3), down = dice.uniform() < 0.7 ? -1 : 1;
      return (rho) => down * Math.max((rho - 1 + w) / w, 0) ** power;
    }
    case "smooth": {
      const a = Array.from({ length: 5 }, (_, j) => dice.normal() / (j + 1));
      return (rho) =>
        a.reduce((sum, v, j) => sum + v * Math.cos(Math.PI * (j + 1) * rho * rho), 0) / 2;
    }
    case "mixture": {
      const kinds = FAMILIES.filter((name) => name !== "mixture");
      const parts = [0, 1, 2].map(() => {
        const share = between(0.2, 1);
        const own = shapeOf(kinds[dice.integer(kinds.length)] ?? "conic", dice);
        return (rho: number): number => share * own(rho);
      });
      return (rho) => parts.reduce((sum, part) => sum + part(rho), 0);
    }
  }
}

/** How the openings lie. */
export type MaskKind = "equal areas" | "equal widths" | "any";

export function edgesOf(
  kind: MaskKind,
  zones: number,
  half: number,
  dice: RandomSource,
): number[] {
  if (kind === "any") {
    const cuts = Array.from({ length: zones }, () => 0.4 + dice.uniform());
    const all = cuts.reduce((a, b) => a + b, 0);
    let sum = 0;
    return [0, ...cuts.map((c) => (sum += (half * c) / all))].map((v, i) => i === zones ? half : v);
  }
  return Array.from(
    { length: zones + 1 },
    (_, i) => half * (kind === "equal areas" ? Math.sqrt(i / zones) : i / zones),
  );
}

/** A mirror whose wavefront is `pv` waves off, from top to bottom. */
export function mirrorWith(
  family: FamilyName,
  pv: number,
  half: number,
  radius: number,
  edges: readonly number[],
  dice: RandomSource,
): JudgedMirror {
  for (;;) {
    const shape = shapeOf(family, dice), base = conicCurve(radius, -1);
    const unit = mirrorOf(half, radius, edges, base, curve(half, (rho) => 40 * shape(rho)));
    const of40 = truth(unit, 500).pv;
    if (of40 < 0.005) continue; // nothing but focus
    return mirrorOf(half, radius, edges, base, curve(half, (rho) => (40 * pv * shape(rho)) / of40));
  }
}
