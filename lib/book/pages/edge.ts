/** The sign of the house: a straight-edge resting on the mirror's own curve, to scale, a tick for each stage. */
import { type Html, safe, trusted } from "../../figures/html.ts";

/** What the sign is drawn from. */
export interface EdgeParts {
  /** diameter of the disc, mm */
  readonly aperture: number;
  /** depth of the curve, mm; 0 or more */
  readonly depth: number;
  /** how many ticks, none for a sheet that is no stage */
  readonly stages?: number;
  /** the stage this page is, from 1 */
  readonly here?: number;
  /** stages the record has something for, from 1 */
  readonly done?: ReadonlySet<number>;
}

/** Widest curve that still stands at full size on a sheet of A4 or Letter, mm. */
const widestOnPaper = 174;

/** Whether a curve of this width is printed at full size. */
export function printsAtFullSize(aperture: number): boolean {
  return aperture <= widestOnPaper;
}

const px = (value: number): string => String(Number(value.toFixed(3)));

function ticks({ aperture, stages = 0, here, done }: EdgeParts, base: number): string {
  const unit = aperture / 150;
  const paths = { steel: "", done: "", here: "" };
  for (let stage = 1; stage <= stages; stage++) {
    const at = px((stage - 0.5) * aperture / stages);
    if (stage === here) paths.here += `M${at},${px(base)}V${px(unit)}`;
    else paths[done?.has(stage) ? "done" : "steel"] += `M${at},${px(base)}v${px(-1.3 * unit)}`;
  }
  return Object.entries(paths).filter(([, d]) => d !== "")
    .map(([kind, d]) => `<path class="${kind}" d="${d}"></path>`).join("");
}

/**
 * The sign, as wide as the page; on paper as wide as the mirror, where the sheet is wide enough.
 *
 * One unit of the drawing is 1 mm, across and down alike. The arc is a parabola through the rim and the depth: beside
 * the circle it is out by less than a thousandth of the depth at f/4 and longer.
 *
 * @throws {RangeError} unless the aperture is above 0 and the depth 0 or more, both finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const drawn = edge({ aperture: 150, depth: 1.172, stages: 20, here: 5 }).markup;
 * assert.match(drawn, /class="face" d="M0,3.6Q75,5.944 150,3.6"/);
 * ```
 */
export function edge(parts: EdgeParts): Html {
  const { aperture, depth } = parts;
  if (!(aperture > 0 && Number.isFinite(aperture) && depth >= 0 && Number.isFinite(depth))) {
    throw new RangeError(
      `edge requires aperture above 0 and depth of 0 or more in mm, got aperture=${aperture}, depth=${depth}`,
    );
  }
  const base = (3.6 * aperture) / 150;
  const height = base + Math.max(depth, aperture / 150) + (0.4 * aperture) / 150;
  const width = printsAtFullSize(aperture) ? aperture : 150;
  const face = `M0,${px(base)}Q${px(aperture / 2)},${px(base + 2 * depth)} ${px(aperture)},${
    px(base)
  }`;
  return safe`<svg class="edge" viewBox="0 0 ${px(aperture)} ${px(height)}" style="--full-size: ${
    px(width)
  }mm" aria-hidden="true"><path class="steel" d="M0,${px(base)}H${px(aperture)}"></path>${
    trusted(ticks(parts, base))
  }<path class="face" d="${face}"></path></svg>`;
}
