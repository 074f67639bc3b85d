/** A small share of the nights with mixed faults; `deno task trial starNights` has three hundred. */
import assert from "node:assert/strict";
import { hasNumpy } from "../../machine.ts";
import { nightNamed, starNights } from "./starNights.ts";

Deno.test("how a night was named: one cause that is not there makes it wrong", () => {
  const night = { seed: 1, strongest: "flat", settled: true, looks: [] };
  const there = { flat: 0.2, "rough glass": 0.1 };
  const of = (...found: string[]): string => nightNamed({ ...night, there, found });
  assert.deepEqual(
    [
      of("flat", "rough glass"),
      of("flat"),
      of("rough glass"),
      of(),
      of("flat", "rough glass", "your eye"),
    ],
    ["all", "strongest", "another", "cannot tell", "wrongly"],
  );
});

Deno.test({
  name: "on nights with mixed faults whoever never errs is led to what is there",
  ignore: !hasNumpy,
}, async () => {
  // INVENTED nights 7 and 12 of starNights.py
  for (const night of await starNights(7, 1, 0)) {
    assert.notEqual(nightNamed(night), "wrongly", JSON.stringify(night));
    assert.ok(night.looks.length <= 11);
  }
});
