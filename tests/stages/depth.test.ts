import assert from "node:assert/strict";
import {
  coverLast,
  decideDepth,
  depthNumbers,
  forecastByReadings,
  yourDepth,
} from "../../lib/stages/depth.ts";
import { nearStop } from "../../lib/stages/nearStop.ts";
import {
  chosen,
  demo as asha,
  empty,
  halfway as bram,
  hostile,
  marks,
  mirrorOf,
} from "./mirrors.ts";

Deno.test("coverLast: minute 120 foretold from the depths before it, within its interval", () => {
  const text = coverLast(asha, 120).text;
  const [, low, high] = /At 95 %: ([\d.]+) to ([\d.]+)/.exec(text) ?? [];
  const read = Number(/Read there: ([\d.]+)/.exec(text)?.[1]);
  assert.ok(Number(low) < read && read < Number(high), text);
  assert.throws(() => coverLast(asha, 40), /requires four depths/);
  // what is foretold knows nothing of the reading that is covered
  const sagitta = asha.record.sagitta.map((row) =>
    row.afterMin === 120 ? { ...row, go: [0.88, 0.2], nogo: [0.88, 0.22] } : row
  );
  const other = coverLast(mirrorOf({ ...asha.record, sagitta }), 120).text;
  const foretold = (words: string): string => words.slice(0, words.indexOf("Read there"));
  assert.equal(foretold(other), foretold(text));
  assert.notEqual(other, text);
});

Deno.test("forecastByReadings: none from three depths, then ever narrower about one stop", () => {
  const rows = forecastByReadings(asha, 120).text.split("\n").slice(2);
  assert.match(rows[2] ?? "", /^60 \| 3 \| – \| can’t forecast yet/);
  const ends = rows.slice(3).map((row) => /([\d.]+) to ([\d.]+)/.exec(row)?.slice(1).map(Number));
  const widths = ends.map((pair) => (pair?.[1] ?? NaN) - (pair?.[0] ?? NaN));
  assert.equal(widths.length, 3);
  assert.ok(widths.every((width, i) => i === 0 || width < (widths[i - 1] ?? 0)), String(widths));
});

Deno.test("depthNumbers: the overshoot and the way back at minute 130", () => {
  const text = depthNumbers(asha, 130).text;
  assert.match(text, /Too deep by: 31 ± 3 µm/); // DERIVED 1.203 - 1.172 mm
  assert.match(text, /To go, tool on top: 3\.4/); // DERIVED 31 / 9.10
});

Deno.test("nearStop: zero is the stop, and the misread row is not drawn", () => {
  const shown = nearStop(asha, 130, "Too long.");
  assert.match(shown.text, /At minute 130 the line stands at 3[4-6]/); // DERIVED 1203 - 1168 um
  const first = shown.html.slice(0, shown.html.indexOf("</svg>"));
  assert.equal(first.match(/<circle/g)?.length, 2); // minutes 120, 130
  assert.throws(() => nearStop(empty, 130, ""), /requires a log/);
});

Deno.test("yourDepth: own, half way, and the demo's where there is no log", () => {
  assert.equal(marks(yourDepth(asha, asha)), "y");
  assert.doesNotMatch(yourDepth(asha, asha).text, /To go/);
  assert.match(yourDepth(bram, asha).text, /To go, tool on top: 5\.5/);
  assert.equal(marks(yourDepth(empty, asha)), "nd");
  assert.doesNotMatch(yourDepth(hostile, asha).html, /<img|<script/);
  const few = mirrorOf({ ...bram.record, sagitta: bram.record.sagitta.slice(0, 3) });
  assert.match(yourDepth(few, asha).text, /Can’t forecast yet: it takes 4 depths/);
});

Deno.test("decideDepth: stop, swap, go on, measure", () => {
  assert.equal(chosen(decideDepth(asha).html), "Stop here");
  // DERIVED a target of 1.172 mm, fine grades that take 0.004, 0.010 either way
  assert.match(decideDepth(asha).text, /go on up to 1\.158, stop up to 1\.182, swap beyond/);
  assert.equal(chosen(decideDepth(bram).html), "Swap");
  assert.match(decideDepth(bram).text, /Tool on top for 3\.3 minutes/); // DERIVED 0.6 x 5.47
  assert.equal(chosen(decideDepth(empty).html), "Measure again");
  const early = mirrorOf({
    ...bram.record,
    grinding: bram.record.grinding.slice(0, 5),
    sagitta: bram.record.sagitta.slice(0, 4),
  });
  assert.equal(chosen(decideDepth(early).html), "Go on");
});
