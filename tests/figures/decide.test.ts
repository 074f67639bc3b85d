import assert from "node:assert/strict";
import { decide, decisionScale, type StandOnScale, verdict } from "../../lib/figures/decide.ts";
import { say } from "../../lib/figures/words.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { assertFigure, assertWellFormed, parsed } from "./soundFigure.ts";

const stand: StandOnScale = {
  from: 0.9,
  to: 1.25,
  title: "Sagitta at the full 150 mm (mm)",
  digits: 3,
  zones: [{ name: "go on", to: 1.128, limit: true }, { name: "stop", to: 1.172 }, {
    name: "swap discs",
    tone: "past",
  }],
  value: 0.965,
  interval: [0.934, 0.995],
  then: { value: 1.045, label: "in 9 min" },
};
const choices = [{ name: "Go on", when: "below 1.128 mm.", chosen: true }, {
  name: "Stop",
  when: "at it.",
}, {
  name: "Swap",
  when: "past it.",
}];

Deno.test("a decision: what to do, where you stand, all choices, one barred", () => {
  const { html, text } = decide({
    title: "go on",
    do: "Grind 9 min.",
    choices,
    scale: decisionScale(stand),
    after: "Then look.",
  });
  assertWellFormed(html);
  const document = parsed(html);
  assert.equal(document.querySelector("h2")?.textContent, "Decide: go on");
  assert.deepEqual(
    [...document.querySelectorAll(".choices li")].map((li) => li.getAttribute("class") || null),
    ["chosen", null, null],
  );
  assert.equal([...document.querySelectorAll("figure svg")].length, 2);
  assert.match(
    text,
    /^Decide: go on\. Grind 9 min\.\n.*\n> Go on below 1\.128 mm\.\n {2}Stop at it\./,
  );
});

Deno.test("nothing chosen yet is allowed, two ways at once are not", () => {
  assert.doesNotThrow(() =>
    decide({ title: "?", do: "Measure.", choices: [{ name: "a", when: "b" }] })
  );
  assert.throws(
    () => decide({ title: "?", do: "x", choices: [] }),
    /requires choices.*got 0 and 0/,
  );
  const both = choices.map((choice) => ({ ...choice, chosen: true }));
  assert.throws(() => decide({ title: "?", do: "x", choices: both }), /got 3 and 3 chosen/);
});

Deno.test("the scale is a sound figure and says where you stand", () => {
  assertFigure(decisionScale(stand), {
    titles: [/^Sagitta at the full 150 mm \(mm\)$/, /^go on$/, /^stop$/, /^in 9 min$/],
    says:
      /Yours stands at 0\.965, 95 percent interval 0\.934 to 0\.995, in “go on”\. The plan leads to 1\.045/,
  });
});

Deno.test("values beyond the scale stand at its end, and are told as they are", () => {
  for (const value of [-5, 0.9, 1.128, 1.25, 99]) {
    const shown = decisionScale({ ...stand, value, interval: [value - 1, value + 1] });
    const [svg] = assertFigure(shown);
    for (const mark of svg?.querySelectorAll("circle") ?? []) {
      const x = Number(mark.getAttribute("cx"));
      assert.ok(x >= 0 && x <= 608, `${value} at ${x}`);
    }
  }
  assert.match(decisionScale({ ...stand, value: 99 }).text, /stands at 99\.000.*“swap discs”/);
  assert.match(
    decisionScale({ ...stand, value: 1.128 }).text,
    /“stop”/,
    "a boundary belongs to what follows",
  );
});

Deno.test("a plan that leads back is drawn back, and a demo is open", () => {
  assertFigure(
    decisionScale({
      ...stand,
      value: 1.2,
      interval: [1.2, 1.2],
      then: { value: 1.15, label: "in 4 min" },
    }),
  );
  const [svg] = assertFigure(decisionScale({ ...stand, whose: "demo" }), {
    says: /The demo’s stands at/,
  });
  assert.equal(svg?.querySelector("circle")?.getAttribute("class"), "theirs");
});

Deno.test("zones out of order are refused", () => {
  const zones = [{ name: "a", to: 1.2 }, { name: "b", to: 1.1 }, { name: "c" }];
  assert.throws(
    () => decisionScale({ ...stand, zones }),
    /zones whose ends rise from 0\.9 to 1\.25/,
  );
  assert.throws(() => decisionScale({ ...stand, zones: [] }), RangeError);
  assert.throws(() => decisionScale({ ...stand, value: NaN }), RangeError);
});

Deno.test("a verdict is one word, its meaning and its numbers", () => {
  const numbers = say`Surface P-V ${measured(26, 3, "nm")} against 69 nm.`;
  const words = (["yes", "no", "not shown"] as const).map((meetsGoal) => {
    const { html, text } = verdict({ meetsGoal, says: "So it is.", because: numbers });
    assertWellFormed(html);
    assert.match(text, /So it is\. Surface P-V 26 nm ± 3 nm/);
    return parsed(html).querySelector(".word")?.textContent;
  });
  assert.deepEqual(words, ["Yes", "No", "Not shown"]);
});
