/** What is named, ruled out or left open, at the borders. */
import assert from "node:assert/strict";
import { measured } from "../../../lib/quantity/measured.ts";
import { MATTERS, starFaults } from "../../../lib/testing/star/starFaults.ts";
import { directedOf, type StarPairFigure } from "../../../lib/testing/star/starPair.ts";

/** INVENTED a figure with these amounts, each known to 0.01 wave. */
function figureOf(amounts: Readonly<Record<string, number>>, edge = [0, 0.04]): StarPairFigure {
  const of = (name: string, m: number): StarPairFigure["coma"] =>
    directedOf([amounts[name] ?? 0, 0], [1e-4, 0, 1e-4], m);
  return {
    spherical: measured(amounts["spherical"] ?? 0, 0.01, "wave"),
    astigmatism: of("astigmatism", 2),
    coma: of("coma", 1),
    threefold: of("threefold", 3),
    edge: measured(edge[0] ?? 0, edge[1] ?? 0, "wave"),
    seeing: [],
    defocus: [],
    obstruction: measured(0.2, 0.01, ""),
    fromDistance: 0,
    misfit: 0.03,
    amounts: [],
    covariance: [],
  };
}

const said = (figure: StarPairFigure): string =>
  starFaults(figure).map(({ says }) =>
    ({ "there": "+", "not there": "-", "cannot tell": "?" })[says]
  )
    .join("");

Deno.test("each fault is judged by itself: well above what matters, well below, in between", () => {
  // DERIVED at u 0.01 a fault is proved from 0.04 + 1.645 x 0.01 on, ruled out below 0.04 - 1.645 x 0.01
  assert.equal(said(figureOf({})), "-----");
  assert.equal(said(figureOf({ spherical: -0.06 })), "+----");
  assert.equal(said(figureOf({ astigmatism: 0.06, coma: 0.04, threefold: 0.02 })), "-+?--");
  assert.equal(said(figureOf({}, [-0.4, 0.21])), "----+");
  assert.equal(said(figureOf({}, [-0.1, 0.08])), "----?");
  assert.ok(MATTERS === 0.04);
});

Deno.test("every fault has its causes and the act that parts them", () => {
  for (const { causes, act } of starFaults(figureOf({}))) {
    assert.ok(causes.length >= 2 && act.length > 20);
  }
});
