import assert from "node:assert/strict";
import { ORDER, reasonOf, sooner } from "../../lib/knowledge/orderOfHelp.ts";

const row = { stage: "rough grinding", do: "Grind on.", readings: 9, warnings: [], done: false };

Deno.test("reasons by what is known, the most pressing first", () => {
  const reason = (more: object, adult?: string): string =>
    reasonOf({ ...row, ...more }, 10, adult)[0];
  assert.equal(reason({ readings: 0 }), "nothing yet");
  assert.equal(reason({ minutesToTarget: 4, tooDeepUm: 30 }, "pitch"), "cannot be undone");
  assert.equal(reason({ minutesToTarget: 0, do: "Stop here.", stage: "lap" }), "cannot be undone");
  assert.equal(reason({ minutesToTarget: 4, stage: "fine grinding" }), "idle");
  assert.equal(reason({ tooDeepUm: 30 }, "pitch"), "adult");
  assert.equal(reason({ tooDeepUm: 30, slip: "f for R" }), "too deep");
  assert.equal(reason({ warnings: ["odd"] }), "slip");
  assert.equal(reason({ stage: "zone test" }), "tester");
  assert.equal(reason({ done: true }), "done");
});

Deno.test("sooner: by reason, within it, by idle days, by name as people count", () => {
  const bench = (record: string, reason: typeof ORDER[number], among = 0, idleDays = 0) => ({
    ...{ record, reason, among, idleDays },
  });
  assert.ok(sooner(bench("b", "adult"), bench("a", "slip")) < 0);
  assert.ok(sooner(bench("b", "cannot be undone", 3), bench("a", "cannot be undone", 8)) < 0);
  assert.ok(sooner(bench("b", "idle", 0, 9), bench("a", "idle", 0, 2)) < 0);
  assert.ok(sooner(bench("bench-2", "idle"), bench("bench-10", "idle")) < 0);
});
