import assert from "node:assert/strict";
import {
  daysPooled,
  decideVerdict,
  threeNumbers,
  throwReadings,
  verdictOn,
  yourVerdict,
} from "../../lib/stages/judge.ts";
import { reducedDays } from "../../lib/stages/zoneDays.ts";
import {
  chosen,
  demo as asha,
  empty,
  halfway as bram,
  hostile,
  marks,
  mirrorOf,
  shadowed,
} from "./mirrors.ts";

const until = (date: string): typeof asha =>
  mirrorOf({
    ...asha.record,
    grinding: asha.record.grinding.filter((row) => (row.date ?? "") <= date),
    zones: asha.record.zones.filter((row) => (row.date ?? "") <= date),
  });

Deno.test("yourVerdict: own with its word, else the demo's, marked", () => {
  const own = yourVerdict(asha, asha);
  assert.equal(marks(own), "y");
  assert.match(own.text, /\bYes\. The surface meets its goal/);
  assert.equal(marks(yourVerdict(bram, asha)), "nd");
  assert.equal(marks(yourVerdict(empty, asha)), "nd");
  assert.doesNotMatch(yourVerdict(hostile, asha).html, /<img|<script/);
});

Deno.test("verdictOn: not shown, not shown, yes on the three surfaces, the demo's marks open", () => {
  assert.match(verdictOn(asha, 0).text, /2026-06-12[^\n]*: not shown, P 0\.07/);
  assert.match(verdictOn(asha, 1).text, /2026-06-19[^\n]*: not shown, P 0\.67/);
  assert.match(verdictOn(asha, -1).text, /2026-06-26 and 27[^\n]*: yes, P/);
  assert.throws(() => verdictOn(asha, 3), /requires a day of zone readings among 3/);
  assert.throws(() => verdictOn(empty, 0), RangeError);
});

Deno.test("yourVerdict: beside it its scope, what is lacking, and the light outside the shadow, as check tells them", () => {
  const { text } = yourVerdict(asha, asha);
  assert.match(text, /^Scope \| The verdict is of the whole surface, by 4 directions/m);
  assert.match(text, /^Outside shadow \| Outside the flat's shadow the wavefront P-V is 0\.108/m);
  assert.match(text, /17 runs of 2026-06-26 and 2026-06-27 taken together/);
  const one = yourVerdict(until("2026-06-19"), asha).text;
  assert.match(one, /^Scope \| The verdict is of one diameter: astigmatism/m);
  assert.match(one, /^Still lacking \| .*another diameter/m);
  const shade = yourVerdict(shadowed, asha).text;
  assert.match(shade, /No\. The fault lies in the flat’s shadow, where no light of a star goes/);
});

Deno.test("throwReadings: the share that meets the goal is the day's probability, or it says why less is told", () => {
  const share = (which: number): number =>
    Number(/^(\d+) of 5000/m.exec(throwReadings(asha, which).text)?.[1]) / 5000;
  const chance = (p: number): number => 3 * Math.sqrt(p * (1 - p) / 5000);
  for (const which of [0, -1]) {
    const p = reducedDays(asha).at(which)?.found.probabilityWithinGoal ?? NaN;
    // half of the same draws: three standard deviations of a share of 5000
    assert.ok(Math.abs(share(which) - p) <= Math.max(chance(p), 1e-4), `${which}: ${share(which)}`);
    assert.doesNotMatch(throwReadings(asha, which).text, /could hide/);
  }
  const p = reducedDays(asha)[1]?.found.probabilityWithinGoal ?? NaN;
  assert.ok(share(1) > p + chance(p), `${share(1)} and ${p}`);
  assert.match(throwReadings(asha, 1).text, /Told is 0\.67, less than this share: .* could hide/);
  assert.match(throwReadings(asha, 1, 100).text, /of 100 throws/);
});

Deno.test("threeNumbers: P-V, RMS and Strehl of each surface", () => {
  const rows = threeNumbers(asha).text.split("\n").slice(2);
  assert.equal(rows.length, 3);
  assert.match(
    rows[2] ?? "",
    /^2026-06-26 and 27 \| 0\.115 ± [\d.]+ \| 0\.026 ± [\d.]+ \| 0\.97\d/,
  );
});

Deno.test("daysPooled: each day alone, and both as one measurement", () => {
  const { text } = daysPooled(asha);
  assert.match(text, /2026-06-26 [\d.]+, interval [\d.]+ to [\d.]+: not shown, P 0\.8\d/);
  assert.match(text, /2026-06-27 [\d.]+, interval [\d.]+ to [\d.]+: yes/);
  assert.match(text, /2026-06-26 and 27 [\d.]+, interval [\d.]+ to [\d.]+: yes/);
  assert.throws(() => daysPooled(empty), RangeError);
});

Deno.test("decideVerdict: coat, other diameters, read on, polish, measure", () => {
  assert.equal(chosen(decideVerdict(asha).html), "Coat it");
  // more likely out than good, and something stands above its doubt: work comes before more readings
  const first = decideVerdict(until("2026-06-12"));
  assert.equal(chosen(first.html), "Polish");
  const { zones } = until("2026-06-12").record;
  const worked = decideVerdict(mirrorOf({ ...asha.record, zones }));
  assert.equal(chosen(worked.html), "Read on");
  assert.match(worked.text, /has been worked since it was read/);
  const near = decideVerdict(until("2026-06-19"));
  assert.equal(chosen(near.html), "Polish");
  assert.match(near.text, /too near the goal for further readings to settle it/);
  const wide = decideVerdict(until("2026-06-26"));
  assert.equal(chosen(wide.html), "Read on");
  assert.match(wide.text, /runs through narrower ones should, with edges at 0, /);
  assert.equal(chosen(decideVerdict(empty).html), "Read on");
  const once = mirrorOf({
    ...asha.record,
    zones: asha.record.zones.filter(({ run }) => run === "c1"),
  });
  assert.equal(chosen(decideVerdict(once).html), "Read on");
  // two runs of one diameter through the narrow openings
  const narrow = asha.record.zones.filter(({ date, angleDeg, knifeDeg }) =>
    date === "2026-06-27" && angleDeg === 0 && knifeDeg === 0
  );
  const wanting = (scope: "whole surface" | "one diameter"): typeof asha => {
    const { settings } = asha.record, goal = { ...settings.goal, scope };
    return mirrorOf({ ...asha.record, zones: narrow, settings: { ...settings, goal } });
  };
  const whole = decideVerdict(wanting("whole surface"));
  assert.equal(chosen(whole.html), "Other diameters");
  assert.match(
    whole.text,
    /With the mirror's mark at the top: \d runs? with knife and slit on their side\./,
  );
  const decided = decideVerdict(wanting("one diameter"));
  assert.equal(chosen(decided.html), "Coat it");
  assert.match(decided.text, /one diameter is enough here: astigmatism was not looked for/);
});

Deno.test("decideVerdict: a fault in the flat's shadow is harmless; pits hold the coating back", () => {
  const shade = decideVerdict(shadowed);
  assert.equal(chosen(shade.html), "Coat it");
  assert.match(shade.text, /Outside the flat’s shadow the goal is shown to be met/);
  assert.match(shade.text, /outside the flat’s shadow, from 0\.00 to 1\.00.* in “yes”/);
  const pits = { file: "diary.csv", line: 2, date: "2026-06-27", what: "pits", amount: 3 } as const;
  const pitted = decideVerdict(mirrorOf({ ...asha.record, diary: [pits] }));
  assert.equal(chosen(pitted.html), "Polish");
  assert.match(pitted.text, /until no pit is left/);
});
