/** A procedure as a page shows it: cautions before their step, both columns, each drawing once, the same in words. */
import assert from "node:assert/strict";
import { doIt } from "../../lib/stages/doIt.ts";
import { procedureNames } from "../../lib/lessons/procedures/procedures.ts";
import { assertNoHoles, assertWellFormed, parsed } from "../figures/soundFigure.ts";
import { demo, hostile } from "./mirrors.ts";

Deno.test("every stage of the hand is shown whole, in markup and in words", () => {
  for (const stage of procedureNames) {
    const { html, text } = doIt(demo, stage);
    assertWellFormed(html);
    assertNoHoles(html);
    const items = [...parsed(html).querySelectorAll("ol > li")];
    assert.ok(items.length >= 6 && items.length <= 14, stage);
    assert.equal(text.match(/^\d+\. /gm)?.length, items.length, stage);
    assert.equal(text.match(/^ {3}Right: /gm)?.length, items.length, stage);
    assert.match(text, /\nAlone\? /);
    assert.doesNotMatch(text, /<|undefined|NaN/);
  }
});

Deno.test("on the lap's page the first thing of the first step is who may do what is hot", () => {
  const { html, text } = doIt(demo, "pour-lap");
  const [first] = [...parsed(html).querySelectorAll("ol > li")];
  assert.match(
    first?.textContent ?? "",
    /^Mind first\. Only a trained adult melts and pours pitch/,
  );
  assert.ok(text.indexOf("Mind first: Only a trained adult") < text.indexOf("1. Trained adult"));
  assert.equal(
    [...parsed(html).querySelectorAll(".who .adult")].length,
    text.match(/Trained adult: /g)?.length,
  );
});

Deno.test("a drawing stands once, at the first step that calls for it", () => {
  const { html } = doIt(demo, "polish-surface");
  const bold = [...html.matchAll(/<figcaption><b>([^<]+)<\/b>/g)].map(([, words]) => words);
  assert.ok(bold.length >= 4);
  assert.deepEqual([...new Set(bold)], bold);
});

Deno.test("steps quote the record: another mirror's own depth and radius", () => {
  assert.match(doIt(demo, "measure-curve").text, /1\.172\u00a0mm/);
  assert.match(doIt(demo, "read-bands").text, /2400\u00a0mm from the glass/);
  assertWellFormed(doIt(hostile, "grind-hollow").html);
});

Deno.test("a stage without work of the hands is refused", () => {
  assert.throws(
    () => doIt(demo, "judge-mirror"),
    /doIt requires a stage with work of the hands, got judge-mirror/,
  );
});
