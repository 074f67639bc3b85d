/** The room's trial in short: load, edits by hand, nonsense, a burst, kills. `deno task trial room` takes ten minutes. */
import assert from "node:assert/strict";
import { burst, killed, ordinaryRoom, tell, type Told } from "./roomTrial.ts";

const hasProc = Deno.build.os === "linux";

function whole(told: Told): void {
  assert.ok(told.rows > 5, tell(told));
  assert.deepEqual([told.lost, told.doubled, told.torn], [0, 0, 0], tell(told));
}

Deno.test({
  name:
    "half a minute of thirty benches: every row once, answers in time, the wall two seconds behind at most, under 600 MB",
  ignore: !hasProc,
  fn: async () => {
    const told = await ordinaryRoom(25);
    whole(told);
    assert.ok(told.medianMs <= 150 && told.worstMs <= 1000, tell(told));
    assert.ok(told.wallWorstS <= 2 && told.peakMb < 600, tell(told));
  },
});

Deno.test("a burst from thirty benches: every row once, none later than five seconds", async () => {
  const told = await burst(8);
  whole(told);
  assert.ok(told.worstMs <= 5000, tell(told));
});

Deno.test({
  name: "killed at random moments: every acknowledged row once, no row torn",
  ignore: !hasProc,
  fn: async () => whole(await killed(5)),
});
