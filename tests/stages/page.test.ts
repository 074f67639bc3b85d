/** The mirror's own page: what is known with its trail, the files, what was set aside, the verdict, the next step. */
import assert from "node:assert/strict";
import { hazards } from "../../lib/knowledge/hazards.ts";
import { course, findStage } from "../../lib/lessons/course.ts";
import {
  aloneAtHome,
  decideNext,
  nextStep,
  verdictOrDemo,
  whatIsInTheFolder,
  whatIsKnown,
  whatToLookAt,
  yourPath,
} from "../../lib/stages/page.ts";
import { demo, empty, halfway, marks, mirror, mirrorOf } from "./mirrors.ts";

Deno.test("what is known: value with its uncertainty, what was wanted, and where it is from", () => {
  const { text } = whatIsKnown(demo);
  assert.match(
    text,
    /Radius of curvature \| 2396\.6.*± 2\.4.* \| 2400 mm \| .*sagitta.*spherometer.*sun/,
  );
  assert.match(text, /Conic constant \| .0\.676 ± 0\.021 \| – \| zones/);
  assert.match(text, /After ± stands the standard uncertainty/);
  assert.equal(marks(whatIsKnown(demo)), "y");
});

Deno.test("what is not known is a dash and 'not yet', never a zero", () => {
  const { text } = whatIsKnown(empty);
  const rows = text.split("\n").filter((line) => line.includes("not yet"));
  assert.equal(rows.length, 9);
  for (const row of rows) assert.match(row, / \| – \| /);
  assert.doesNotMatch(text, /\| 0 /);
  assert.match(whatIsKnown(halfway).text, /Strehl ratio \| – \| – \| not yet/);
});

Deno.test("the folder: each file with its rows, counted from the readings", () => {
  const { text } = whatIsInTheFolder(demo);
  for (
    const row of ["sagitta.csv | 16", "zones.csv | 163", "sun.csv | 6", "spherometer.csv | 10"]
  ) {
    assert.ok(text.includes(row), `${row} in ${text}`);
  }
  assert.match(whatIsInTheFolder(empty).text, /zones\.csv \| – /);
});

Deno.test("what to look at: nothing is hidden, and nothing is said to be where nothing is", async () => {
  assert.match(whatToLookAt(demo).text, /sagitta\.csv \| 7 \| 1\.019 \| set aside: /);
  const calm = mirrorOf({ ...empty.record, defaults: [] });
  assert.match(whatToLookAt(calm).text, /^Nothing was set aside, and nothing looks unlikely\.$/);
  assert.match(
    whatToLookAt(empty).text,
    /^Taken as usual, since nothing else was written\. title: /m,
  );
  const doubted = await mirror({
    "sagitta.csv": "date,go_mm,nogo_mm\n1999-01-01,1.12,1.14\n",
  });
  assert.ok(doubted.summary.warnings.length > 0);
  for (const { message } of doubted.summary.warnings) {
    assert.ok(whatToLookAt(doubted).text.includes(message), message);
  }
});

Deno.test("the verdict: the reader's own, else how to get one and the demo's", () => {
  const own = verdictOrDemo(demo, demo);
  assert.match(own.text, /Yes/);
  assert.match(own.text, /Glass, P-V: 32 nm ± 7 nm\./);
  const { verdict } = demo.summary;
  assert.ok(verdict !== undefined);
  const one = {
    ...demo,
    summary: { ...demo.summary, verdict: { ...verdict, scope: "one diameter" as const } },
  };
  assert.match(verdictOrDemo(one, demo).text, /Along the one diameter that was read/);
  const none = verdictOrDemo(halfway, demo);
  assert.equal(marks(none), "nd");
  assert.match(none.text, /three runs at least through all openings/);
});

Deno.test("no and not shown are said in words of their own", () => {
  const of = (day: string): typeof demo.record.zones =>
    demo.record.zones.filter(({ date }) => date === day);
  // INVENTED: the readings of 12 June, a fifth of a paraboloid's spread farther from it
  const worse = of("2026-06-12").map((row) => ({
    ...row,
    reading: row.reading - 0.2 * (row.inner ** 2 + row.outer ** 2) / 4 / 2400,
  }));
  const dayOne = mirrorOf({ ...demo.record, zones: worse });
  const dayTwo = mirrorOf({ ...demo.record, zones: of("2026-06-19") });
  assert.match(verdictOrDemo(dayOne, demo).text, /does not meet its goal yet/);
  assert.match(verdictOrDemo(dayTwo, demo).text, /cannot show that the surface meets its goal/);
});

Deno.test("the next step: what, until when, why, and what to mind, of the reader's mirror", () => {
  const { text, html } = nextStep(halfway);
  const { stage, do: what, until, why, caution } = halfway.summary.nextStep;
  for (const part of [findStage(stage)?.title ?? stage, what, until, why, caution]) {
    assert.ok(text.includes(part), part);
  }
  assert.match(html, /class="yours"/);
});

Deno.test("the page's end: do it, or look first where something is warned of", async () => {
  const calm = decideNext(demo);
  assert.match(calm.text, /^> Do the next step /m);
  assert.match(calm.text, /This page rests on \d+ rows in your folder\./);
  const warned = decideNext(await mirror({ "zones.csv": zonesOfOneRun() }));
  assert.match(warned.text, /^> Look first at what is warned of: \d+ warnings? now\.$/m);
});

function zonesOfOneRun(): string {
  const rows = ["0,30,12.1", "30,45,12.2", "45,57,12.4", "57,67,12.5", "67,74,12.7"];
  return `run,inner_mm,outer_mm,reading_mm\n${rows.map((row) => `1,${row}\n`).join("")}`;
}

Deno.test("the next step's block and the page's decision say what to mind before what to do", () => {
  for (const one of [demo, halfway, empty]) {
    const { caution, do: what } = one.summary.nextStep;
    for (const { text } of [nextStep(one), decideNext(one)]) {
      const mind = text.indexOf(caution.slice(0, 30));
      assert.ok(mind >= 0 && mind < text.lastIndexOf(what.slice(0, 30)), text);
    }
  }
});

Deno.test("the path names every stage of a mirror's making, once", () => {
  const { text } = yourPath(demo);
  for (const { title } of course.slice(1, -1)) assert.ok(text.includes(title), title);
});

Deno.test("the finished mirror's path carries its numbers", () => {
  const { text } = yourPath(demo);
  // DERIVED: minutes of F80, of F120 to F1200, and of the oxide, added up from grinding.csv by hand
  const parts = ["150 mm f/8", "134 min", "2396.6", "204 min", "370 min", "verdict: yes"];
  for (const part of parts) assert.ok(text.includes(part), `${part} in ${text}`);
});

Deno.test("the path is filled as far as the record goes", () => {
  assert.match(yourPath(halfway).text, /200 mm f\/6/);
  assert.match(yourPath(halfway).text, /235 min/);
  assert.doesNotMatch(yourPath(halfway).text, /verdict: /);
  const bare = yourPath(empty).text;
  assert.match(bare, /130 mm f\/7/);
  assert.doesNotMatch(bare, /\d min|verdict: /);
});

Deno.test("each mirror stands at the stage its next step names", () => {
  const here = (mirror: typeof demo): RegExpMatchArray | null =>
    yourPath(mirror).html.match(/class="[^"]*\bhere\b[^"]*"/g);
  for (const mirror of [demo, halfway, empty]) {
    assert.equal(here(mirror)?.length, 1, mirror.record.name);
  }
});

Deno.test("what one person alone may do and may not: every hazard once, the forbidden first and in plain words", () => {
  const { text } = aloneAtHome(), may = text.indexOf("One person alone may");
  assert.ok(text.indexOf("Never alone, or not at all") < may);
  for (const { hazard, alone } of hazards()) {
    const line = text.split("\n").find((one) => one.startsWith(`${hazard} | `)) ?? "";
    assert.equal(line.includes("| Never "), alone === "may not", hazard);
    assert.match(line, /\.$/, hazard);
  }
  assert.match(text, /hot pitch \| Never melt, pour or warm pitch.*Instead buy a poured lap/);
  assert.match(text, /food and children \| Work on a kitchen table with a board, trays and bowls/);
  assert.match(text, /dust \| Never use any abrasive dry/);
});
