import assert from "node:assert/strict";
import { grindTogether } from "../../../lib/shaping/grinding/grindTogether.ts";
import { chordRoutine } from "../../../lib/shaping/grinding/routine.ts";
import { wearSettings } from "../../../lib/shaping/grinding/wearLaws.ts";

const work = {
  settings: wearSettings(150),
  routine: chordRoutine(150),
  detail: { rings: 16, angles: 48 },
};

Deno.test("mirror on top hollows the mirror, tool on top takes it back at the same rate", () => {
  const { course, mirror, tool } = grindTogether({
    ...work,
    sessions: [{ position: "mirror on top", minutes: 60 }, {
      position: "tool on top",
      minutes: 30,
    }],
  });
  const at = (minutes: number): number =>
    course.find((one) => Math.abs(one.minutes - minutes) < 1e-9)?.mirrorSagitta ?? NaN;
  // DERIVED 9.356 um/min, 561.4 um an hour
  assert.ok(Math.abs((at(60) - at(30)) / 0.2807 - 1) < 0.01);
  assert.ok(Math.abs((at(60) - at(90)) / 0.2807 - 1) < 0.02, `${at(60) - at(90)}`);
  assert.equal(mirror.sagitta, at(90));
  assert.ok(tool.sagitta < 0 && mirror.sagitta > 0);
  // DERIVED 90 min x 40 strokes x 0.1358122 um off both
  assert.ok(
    Math.abs(mirror.removal / 0.48892 - 1) < 1e-4 && Math.abs(tool.removal / 0.48892 - 1) < 1e-4,
  );
});

Deno.test("the tool on top from the beginning makes the mirror bulge", () => {
  const { mirror, tool } = grindTogether({
    ...work,
    sessions: [{ position: "tool on top", minutes: 24 }],
  });
  assert.ok(mirror.sagitta < 0 && tool.sagitta > 0);
});

Deno.test("half and half ends nearly flat, both worn alike", () => {
  const { mirror } = grindTogether({
    ...work,
    sessions: [
      { position: "mirror on top", minutes: 24 },
      { position: "tool on top", minutes: 24 },
    ],
  });
  assert.ok(Math.abs(mirror.sagitta) < 0.05, `${mirror.sagitta}`);
});

Deno.test("slips change the shape, the same seed gives the same mirror", () => {
  const routine = { ...work.routine, missedTurns: 0.6 };
  const sessions = [{ position: "mirror on top" as const, minutes: 24 }];
  const once = grindTogether({ ...work, routine, sessions, seed: 3 });
  const again = grindTogether({ ...work, routine, sessions, seed: 3 });
  assert.deepEqual(once.mirror.departures, again.mirror.departures);
  const even = grindTogether({ ...work, sessions });
  const grown = once.mirror.departures.rmsUm / even.mirror.departures.rmsUm;
  assert.ok(grown > 1.2, `${grown}`);
});

Deno.test("bad input", () => {
  assert.throws(() => grindTogether({ ...work, sessions: [] }), /at least one session/);
  assert.throws(
    () => grindTogether({ ...work, sessions: [{ position: "tool on top", minutes: -3 }] }),
    /minutes above 0, got minutes=-3/,
  );
  const tips = { ...work.routine, offset: 80 };
  assert.throws(
    () =>
      grindTogether({
        ...work,
        routine: tips,
        sessions: [{ position: "tool on top", minutes: 3 }],
      }),
    /at which it tips/,
  );
});
