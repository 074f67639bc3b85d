import assert from "node:assert/strict";
import { hazards } from "../../lib/knowledge/hazards.ts";
import { aloneAtHome } from "../../lib/stages/alone.ts";

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
