/** What stands beside a verdict, in words. */
import assert from "node:assert/strict";
import { astigmatismSaid, budgetSaid, verdictNotes } from "../../lib/knowledge/tellVerdict.ts";
import type {
  FigureSummary,
  Q,
  Summary,
  VerdictSummary,
} from "../../lib/knowledge/summaryTypes.ts";

const q = (value: number, unit: string, u: number): Q => ({ value, unit, u });
const notes = (verdict: Partial<VerdictSummary>, zones?: FigureSummary): (readonly string[])[] =>
  verdictNotes({
    verdict: { meetsGoal: "yes", probability: 0.99, why: "", scope: "one diameter", ...verdict },
    ...(zones === undefined ? {} : { figure: { zones } }),
  } as Summary).map((note) => [...note]);

Deno.test("no verdict, no note", () => {
  assert.deepEqual(verdictNotes({} as Summary), []);
});

Deno.test("one diameter, too few directions, the whole surface", () => {
  assert.match(notes({})[0]?.[1] ?? "", /astigmatism, .* was not looked for/);
  assert.match(notes({}, { diameters: 2 })[0]?.[1] ?? "", /2 directions .* too few/);
  assert.deepEqual(notes({ scope: "whole surface" }, { diameters: 4 })[0], [
    "scope",
    "the verdict is of the whole surface, by 4 directions on the mirror",
  ]);
});

Deno.test("what is lacking, what is not seen, what lies outside the shadow: each as it was reckoned", () => {
  const found = notes({
    lacks: ["another diameter", "pits"],
    outsideShadow: {
      wavefrontPv: q(0.123, "wave", 0.02),
      interval95: [0.09, 0.2],
      probability: 0.96,
      meetsGoal: "yes",
    },
  }, { unseen: ["ripples narrower than 4 mm"] });
  assert.deepEqual(found.slice(1), [
    [
      "still lacking",
      "before the mirror may be sent to be coated there still lack: another diameter and pits",
    ],
    ["not seen", "ripples narrower than 4 mm"],
    [
      "outside shadow",
      "outside the flat's shadow the wavefront P-V is 0.123 wave ± 0.020 wave (95 %: 0.090 to 0.200): yes",
    ],
  ]);
});

Deno.test("astigmatism with its interval; a mirror that may be round has no axis told", () => {
  const astigmatism = {
    amplitude: q(38, "nm", 12),
    axis: q(30, "deg", 9),
    interval95: [14, 61] as const,
  };
  assert.match(
    astigmatismSaid({ astigmatism }),
    /^amplitude 38 nm ± 12 nm of glass \(95 %: 14 to 61\), high along 30 ° ± 9 ° counter-clockwise from the mark$/,
  );
  const clean = { ...astigmatism, stand: q(20, "nm", 8), interval95: [0, 61] as const };
  assert.match(
    astigmatismSaid({ astigmatism: clean }),
    /a round mirror is not excluded; the stand .* 20 nm ± 8 nm$/,
  );
  assert.equal(astigmatismSaid({}), "");
});

Deno.test("the budget, the largest first, crumbs left out", () => {
  const budget = [{ source: "a", share: 0.3 }, { source: "b", share: 0.695 }, {
    source: "c",
    share: 0.005,
  }];
  assert.equal(budgetSaid({ budget }), "b 70 %, a 30 %");
  assert.equal(budgetSaid({}), "");
});
