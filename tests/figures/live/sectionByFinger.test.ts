import assert from "node:assert/strict";
import {
  SECTION_RADII,
  sectionAt,
  sectionByFinger,
} from "../../../lib/figures/live/sectionByFinger.ts";
import { asImage } from "../../../lib/figures/live/still.ts";

const { start } = sectionByFinger;
const each = (letter: string, value: (share: number) => number): Record<string, number> =>
  Object.fromEntries(
    Array.from(
      { length: SECTION_RADII },
      (_, k) => [`${letter}${k}`, value(k / (SECTION_RADII - 1))],
    ),
  );

Deno.test("a round glass is alike along every diameter; its section is its profile on both sides", () => {
  const round = { ...start, amplitude: 0, ...each("h", (share) => 40 * share) };
  for (const angle of [0, 35, 120, 355]) {
    const { places, pv } = sectionAt({ ...round, angle });
    // DERIVED: 40 nm at the rim, 0 in the middle, straight between
    assert.ok(Math.abs(pv - 40) < 1e-9);
    assert.ok(Math.abs((places[0]?.height ?? 0) - (places.at(-1)?.height ?? 1)) < 1e-9);
    assert.ok(Math.abs((places[20]?.height ?? 0) - 20) < 1e-9);
  }
});

Deno.test("two sides high: the section is high along the axis, low across it, and the far end is its own", () => {
  const flat = { ...start, amplitude: 30, axis: 40, ...each("h", () => 0) };
  const along = sectionAt({ ...flat, angle: 40 }), across = sectionAt({ ...flat, angle: 130 });
  // DERIVED: 30 (r / rim)^2 cos 2(angle - axis): + 30 at both ends along, - 30 across
  assert.ok(Math.abs(along.highest.height - 30) < 1e-9 && Math.abs(along.pv - 30) < 1e-9);
  assert.ok(Math.abs(across.lowest.height + 30) < 1e-9);
  assert.ok(Math.abs(sectionAt({ ...flat, angle: 85 }).pv) < 1e-9, "half way between");
});

Deno.test("the doubt grows to the rim by what was not read", () => {
  const values = { ...start, round: 30, ...each("u", () => 4) };
  const { places } = sectionAt(values);
  // DERIVED: root(4^2 + 30^2) = 30.3 at the rim, 4 in the middle
  assert.ok(Math.abs((places.at(-1)?.u ?? 0) - Math.hypot(4, 30)) < 1e-9);
  assert.ok(Math.abs((places[40]?.u ?? 0) - 4) < 1e-9);
});

Deno.test("picture and words tell the same, and the glass may be turned by a finger", () => {
  const markup = sectionByFinger.picture({ ...start, angle: 30 }, asImage).markup;
  assert.match(markup, /data-dial="angle" data-middle="170 152"/);
  assert.match(markup, /section at 30 degrees from the mark: highest/);
  assert.match(sectionByFinger.reading({ ...start, angle: 30 }).markup, /<output>30°<\/output>/);
});
