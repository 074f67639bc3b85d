import assert from "node:assert/strict";
import fc from "fast-check";
import { readGrindingLog } from "../../../lib/shaping/grinding/grindingLog.ts";
import { logLines } from "../kestrelLane.ts";

const sizes = [["F80", 185], ["F120", 109], ["F220", 58], ["F1200", 3]] as const;
const grades = sizes.map(([name, sizeUm]) => ({ name, sizeUm }));

Deno.test("two clocks: each runs while its position is on top", () => {
  const log = readGrindingLog(
    logLines([60, "mirror on top"], [10, "tool on top"], [30, "mirror on top"]),
  );
  assert.equal(log.minutes, 100);
  const { top, bottom, drift } = log.at(80);
  assert.deepEqual([top, bottom], [70, 10]);
  // DERIVED integral of t over 0..60 and 70..80 less that over 60..70: 1800 + 750 - 650
  assert.equal(drift, 1900);
  // past the end the last line is taken to go on
  assert.deepEqual([log.at(120).top, log.at(120).bottom], [110, 10]);
});

Deno.test("a second rough grade counts by its grain", () => {
  const log = readGrindingLog(
    logLines([100, "mirror on top"], [20, "mirror on top", "F120"]),
    grades,
  );
  assert.deepEqual([log.grade, log.gradeNow, log.share], ["F120", "F120", 1]);
  // DERIVED 100 min of F80 are 100 x 185 / 109 of F120
  assert.ok(Math.abs(log.at(120).top - (100 * 185 / 109 + 20)) < 1e-9);
});

Deno.test("once the finer grades have come, the rough grade that was used longest stays", () => {
  const log = readGrindingLog(
    logLines([100, "mirror on top"], [20, "mirror on top", "F120"], [30, "tool on top", "F220"], [
      30,
      "mirror on top",
      "F1200",
    ]),
    grades,
  );
  assert.deepEqual([log.grade, log.gradeNow, log.roughMinutes], ["F80", "F1200", 100]);
  assert.equal(log.share, 3 / 185);
});

Deno.test("only fine grades in the log: the last is in use", () => {
  const log = readGrindingLog(logLines([30, "mirror on top", "F220"]), grades);
  assert.deepEqual([log.grade, log.roughMinutes], ["F220", 30]);
});

Deno.test("law: the clocks share out all minutes, and never run back", () => {
  const line = fc.record({ minutes: fc.integer({ min: 1, max: 60 }), top: fc.boolean() });
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 12 }), fc.nat(400), (lines, at) => {
      const log = readGrindingLog(
        logLines(
          ...lines.map(({ minutes, top }) =>
            [minutes, top ? "mirror on top" : "tool on top"] as const
          ),
        ),
      );
      const now = log.at(at), later = log.at(at + 1);
      assert.ok(Math.abs(now.top + now.bottom - at) < 1e-9);
      assert.ok(later.top >= now.top && later.bottom >= now.bottom);
    }),
  );
});

Deno.test("bad input: no line, minutes not above 0, a log that runs backwards, a grade without its letter", () => {
  assert.throws(() => readGrindingLog([]), /at least one line, got none/);
  assert.throws(
    () => readGrindingLog(logLines([0, "mirror on top"])),
    /got 0 in grinding.csv, line 2/,
  );
  assert.throws(() => readGrindingLog(logLines([NaN, "mirror on top"])), /got NaN/);
  const lines = logLines([60, "mirror on top"], [20, "mirror on top"]);
  const backwards = lines.map((line, i) => ({ ...line, afterMin: i === 0 ? 60 : 20 }));
  assert.throws(
    () => readGrindingLog(backwards),
    /runs forwards, got after_min=20 after 60 in grinding.csv, line 3/,
  );
  const bare = logLines([60, "mirror on top"], [20, "mirror on top", "120"]);
  assert.throws(
    () => readGrindingLog(bare, grades),
    /scale's letter included, got "120" in grinding.csv, line 3/,
  );
});

Deno.test("law: the clocks of a long log are those of its lines added up one by one", () => {
  const positions = ["mirror on top", "tool on top"] as const;
  const line = fc.tuple(
    fc.double({ min: 0.1, max: 30, noNaN: true }),
    fc.constantFrom(...positions),
    fc.constantFrom("F80", "F120"),
  );
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 40 }), fc.nat(100), (lines, part) => {
      const log = readGrindingLog(logLines(...lines), grades);
      const moment = log.minutes * part / 80;
      let left = moment, top = 0, bottom = 0;
      for (const [i, [minutes, position, grade]] of lines.entries()) {
        const used = i === lines.length - 1 ? left : Math.min(left, minutes);
        const size = grades.find(({ name }) => name === grade)?.sizeUm ?? NaN;
        const now = grades.find(({ name }) => name === log.grade)?.sizeUm ?? NaN;
        if (position === "mirror on top") top += used * size / now;
        else bottom += used * size / now;
        left -= used;
      }
      const at = log.at(moment);
      assert.ok(Math.abs(at.top - top) < 1e-8 && Math.abs(at.bottom - bottom) < 1e-8);
    }),
  );
});

Deno.test("a log of a hundred thousand lines in four grades tells its clocks a hundred thousand times in a moment", () => {
  const count = 100_000;
  const lines = Array.from({ length: count }, (_, i) => ({
    minutes: 0.003,
    position: i % 3 === 0 ? "tool on top" as const : "mirror on top" as const,
    abrasive: sizes[Math.floor(4 * i / count)]?.[0] ?? "F80",
    file: "grinding.csv",
    line: i + 2,
  }));
  const begun = performance.now();
  const log = readGrindingLog(lines, grades);
  let before = 0;
  for (let i = 0; i < count; i++) {
    const { top } = log.at(0.003 * i);
    assert.ok(top >= before);
    before = top;
  }
  assert.ok(performance.now() - begun < 20_000);
});
