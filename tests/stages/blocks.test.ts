/** What holds for the blocks of every stage: marked by whose they are, escaped, with words beside every picture. */
import assert from "node:assert/strict";
import type { Shown } from "../../lib/figures/show.ts";
import * as stages from "../../lib/stages/mod.ts";
import type { Mirror } from "../../lib/knowledge/open.ts";
import { demo, empty, halfway, HARM, hostile, marks } from "./mirrors.ts";

/** Blocks of one mirror. */
const OF_ONE: Readonly<Record<string, (mirror: Mirror) => Shown>> = {
  decideCurve: stages.decideCurve,
  decideDesign: stages.decideDesign,
  decideDiscs: stages.decideDiscs,
  decideHollow: stages.decideHollow,
  decideNext: stages.decideNext,
  decideZones: stages.decideZones,
  firstRunAlone: stages.firstRunAlone,
  nextStep: stages.nextStep,
  whatIsInTheFolder: stages.whatIsInTheFolder,
  whatIsKnown: stages.whatIsKnown,
  whatToLookAt: stages.whatToLookAt,
  yourPath: stages.yourPath,
  yourPlan: stages.yourPlan,
};
/** Blocks of the reader's mirror, the demo's in place of what is missing. */
const OF_BOTH: Readonly<Record<string, (yours: Mirror, demo: Mirror) => Shown>> = {
  radiusByMethods: stages.radiusByMethods,
  verdictOrDemo: stages.verdictOrDemo,
  verdictOverTime: stages.verdictOverTime,
  yourCurve: stages.yourCurve,
  yourDiscs: stages.yourDiscs,
  yourLog: stages.yourLog,
  yourReadings: stages.yourReadings,
  yourSurface: stages.yourSurface,
};

function all(mirror: Mirror): [name: string, shown: Shown][] {
  return [
    ...Object.entries(OF_ONE).map(([name, make]): [string, Shown] => [name, make(mirror)]),
    ...Object.entries(OF_BOTH).map(([name, make]): [string, Shown] => [name, make(mirror, demo)]),
  ];
}

Deno.test("every block of every mirror has words, whole markup, and no hole in it", () => {
  for (const mirror of [demo, halfway, empty, hostile]) {
    for (const [name, { html, text }] of all(mirror)) {
      assert.notEqual(text.trim(), "", name);
      assert.doesNotMatch(html + text, /\bundefined\b|\bNaN\b|\[object |Infinity/, name);
      for (const tag of ["section", "table", "ul", "svg", "p", "li", "figure", "td", "th"]) {
        const [open, close] = [`<${tag}(?=[\\s>])`, `</${tag}>`].map((mark) =>
          html.match(new RegExp(mark, "g"))?.length ?? 0
        );
        assert.equal(open, close, `${name}: <${tag}>`);
      }
    }
  }
});

Deno.test("a hostile title, note, run or warning is shown as text and nothing else", () => {
  let seen = 0;
  for (const [name, { html, text }] of all(hostile)) {
    assert.ok(!/<img|<script>alert|onerror="alert/.test(html), `${name} lets it through`);
    if (text.includes("<img src=x")) seen++;
    if (html.includes("&lt;img src=x")) assert.ok(!html.includes(HARM), name);
  }
  assert.ok(seen >= 5, `${seen} blocks show what the maker typed`);
});

Deno.test("the demo's own readings are the reader's where the reader opened the demo", () => {
  for (const [name, make] of Object.entries(OF_BOTH)) {
    assert.match(marks(make(demo, demo)), /^y*$/, name);
  }
});

Deno.test("where nothing is measured each block says so, and shows the demo's, marked", () => {
  for (const [name, make] of Object.entries(OF_BOTH)) {
    const shown = make(empty, demo);
    assert.match(marks(shown), /^(nd)+$/, name);
    assert.match(shown.text, /nothing yet/, name);
    assert.match(shown.text, /^Demo mirror, not yours · Asha's mirror, Kestrel Lane/m, name);
  }
});

Deno.test("half-way each kind of reading is marked by itself: leaves, spherometer, no Sun", () => {
  assert.equal(marks(stages.yourCurve(halfway, demo)), "yynd");
  assert.equal(marks(stages.radiusByMethods(halfway, demo)), "y");
  for (const block of [stages.yourReadings, stages.yourSurface, stages.verdictOverTime]) {
    assert.equal(marks(block(halfway, demo)), "nd");
  }
});

Deno.test("law: a block is the same each time it is made", () => {
  const once = all(demo), again = all(demo);
  assert.deepEqual(again.map(([, { text }]) => text), once.map(([, { text }]) => text));
});
