/** Two shapes of the standards' worked examples that the kit itself does not draw from. */
import type { Distribution } from "../../lib/quantity/distributions.ts";

/** A swing between low and high, met at any moment: likeliest near the ends. */
export function arcsineBetween(low: number, high: number): Distribution {
  const half = (high - low) / 2;
  return {
    draw: (source) => low + half * (1 + Math.sin(2 * Math.PI * source.uniform())),
    mean: low + half,
    u: half / Math.SQRT2,
    dof: Infinity,
  };
}

/**
 * Anything from low to high, where each end itself is known only to ±slack (curvilinear trapezoid).
 *
 *     u² = (high-low)²/12 + slack²/9
 *
 * @see JCGM 101:2008, 6.4.3 (from memory)
 */
export function looseRectangle(low: number, high: number, slack: number): Distribution {
  const half = (high - low) / 2;
  return {
    draw: (source) => {
      const start = low - slack + 2 * slack * source.uniform(), end = low + high - start;
      return start + (end - start) * source.uniform();
    },
    mean: low + half,
    u: Math.sqrt(half * half / 3 + slack * slack / 9),
    dof: Infinity,
  };
}
