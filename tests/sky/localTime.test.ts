/** Clocks of places: summer and winter, hours that come twice or never. */
import assert from "node:assert/strict";
import { clockAt, dayAt, momentOf } from "../../lib/sky/localTime.ts";

const zone = "Europe/Ljubljana";

Deno.test("there and back, all round the year and the world", () => {
  for (const where of [zone, "America/St_Johns", "Asia/Kathmandu", "Australia/Lord_Howe", "UTC"]) {
    for (let k = 0; k < 40; k++) {
      const moment = new Date(Date.UTC(2026, 0, 1, 5, 17, 9) + k * 9.3 * 86_400_000);
      const whole = new Date(1000 * Math.floor(moment.getTime() / 1000));
      const back = momentOf(dayAt(whole, where), clockAt(whole, where), where);
      assert.equal(back.toISOString(), whole.toISOString(), where);
    }
  }
});

Deno.test("tenths of a second are kept", () => {
  assert.equal(
    momentOf("2026-10-28", "02:51:05.4", zone).toISOString(),
    "2026-10-28T01:51:05.400Z",
  );
});

Deno.test("the hour that comes twice is the first, the hour that is leapt over is refused", () => {
  // DERIVED: on 25 October 2026 the clocks of the European Union go back at 01:00 universal time, on 29 March forward
  assert.equal(momentOf("2026-10-25", "02:30", zone).toISOString(), "2026-10-25T00:30:00.000Z");
  assert.throws(() => momentOf("2026-03-29", "02:30", zone), /leaps over that hour/);
});

Deno.test("refuses what is no day, time or zone", () => {
  assert.throws(() => momentOf("2026-10-32", "20:00", zone), /a day and a time/);
  assert.throws(() => momentOf("2026-10-10", "8 pm", zone), /a day and a time/);
  assert.throws(() => momentOf("2026-10-10", "25:00", zone), /a day and a time/);
  assert.throws(() => momentOf("2026-10-10", "20:00", "Europe/Nowhere"), RangeError);
});
