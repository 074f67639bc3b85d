/** Whose share of the uncertainty is largest: one bar for each source, the largest first. */
import { figure } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { drawing, group, linesOf, rect, stroke, widthOf, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import type { Shown } from "../show.ts";

/** A source and its share of the variance, 0 to 1; a correlated source may have a negative share. */
export interface Share {
  /** where the uncertainty comes from */
  readonly source: string;
  /** of the variance, 0 to 1 */
  readonly share: number;
}

const rowHeight = 28;

function percent(share: number): string {
  return Math.abs(share) > 0 && Math.abs(share) < 0.005 ? "below 1 %" : `${fixed(share * 100)} %`;
}

/** The name beside its bar, or above it where it would not fit beside; long names in several lines. */
function draw(shares: readonly Share[], width: number, finding: string): Html {
  const longest = Math.max(...shares.map((s) => widthOf(s.source) * 1.08), 0);
  const beside = longest < width * 0.42, left = beside ? longest + 14 : 0;
  const largest = Math.max(1e-9, ...shares.map((s) => Math.abs(s.share)));
  const at = scale(0, largest, left, width - 76);
  let y = 4;
  const rows = shares.map(({ source, share }, i) => {
    const style = i === 0 ? { kind: "b" } : {}, end = at(Math.abs(share));
    const names = beside ? [source] : linesOf(source, width / 1.08);
    const top = beside ? y : y + names.length * 17, first = beside ? y + 15 : y + 12;
    y = top + rowHeight;
    return group(
      names.map((name, line) => words([0, first + line * 17], name, style)),
      rect("zone-b", [left, top], end - left, 20),
      stroke("mine", [end, top], [end, top + 20], "stroke-width:3"),
      stroke("axis", [left, top - 4], [left, top + 24]),
      words([end + 8, top + 15], percent(share), style),
    );
  });
  return drawing({ width, height: y + 2, finding, contents: rows });
}

/**
 * The budget of an uncertainty, as shares of the variance.
 *
 * @param budget  sources and their shares, in any order
 * @throws {RangeError} where a share is not finite, or there is none
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = budgetBars([{ source: "chord", share: 0.1 }, { source: "leaf", share: 0.9 }]);
 * assert.match(shown.text, /leaf 90 %, chord 10 %/);
 * ```
 */
export function budgetBars(budget: readonly Share[]): Shown {
  const shares = [...budget].sort((a, b) => b.share - a.share), first = shares[0];
  if (first === undefined || !shares.every((s) => Number.isFinite(s.share))) {
    throw new RangeError(
      `budgetBars requires at least one source and finite shares, got ${JSON.stringify(budget)}`,
    );
  }
  const finding = `Shares of the uncertainty, squared: ${
    shares.map((s) => `${s.source} ${percent(s.share)}`).join(", ")
  }.`;
  return figure({
    finding,
    caption:
      safe`<b>The largest share is ${first.source}.</b> Shares of the variance, u². To better the result, better this one first.`,
    draw: (width) => draw(shares, width, finding),
  });
}
