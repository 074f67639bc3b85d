import fc from "fast-check";
import assert from "node:assert/strict";
import { random } from "../../../lib/numeric/random.ts";
import {
  byThumbnail,
  coldPressing,
  isFacet,
  type Lap,
  lapContact,
  lapRubbing,
  lapSinking,
  pitchNeeded,
  pitchViscosity,
  requireLap,
  usualLap,
} from "../../../lib/shaping/lap/lap.ts";

function lapOf(diameter: number, spacing: number, channel: number, offset: [number, number]): Lap {
  return { diameter, thickness: 7, spacing, channel, offset };
}

Deno.test("pitch for a lap", () => {
  // DERIVED: pi D^2 t / 4 and 1.10 g/cm3, by hand to the digits shown
  const wanted = [[150, 7, 123.7, 136.07], [200, 7, 219.911, 241.9], [250, 8, 392.699, 431.97]];
  for (const [diameter = 0, thickness = 0, cm3 = 0, grams = 0] of wanted) {
    const pitch = pitchNeeded({ diameter, thickness });
    assert.ok(Math.abs(pitch.volume / 1000 / cm3 - 1) < 1e-4, `${pitch.volume}`);
    assert.ok(Math.abs(pitch.grams / grams - 1) < 1e-4, `${pitch.grams}`);
    assert.ok(pitch.melt.least > pitch.grams && pitch.melt.most <= 1.5 * pitch.grams);
  }
  assert.throws(() => pitchNeeded({ diameter: 150, thickness: 0 }), /^RangeError: pitchNeeded/);
});

Deno.test("contact share of the grid on a round lap", () => {
  // CROSS-CHECK ../secondRoute.py, contact of a lap: a raster of 4000 x 4000, good to 0.0001. Tolerance 0.0005
  const wanted: [Lap, number][] = [
    [lapOf(150, 25, 5, [6, 9]), 0.6366],
    [lapOf(150, 25, 5, [0, 0]), 0.6523],
    [lapOf(150, 25, 5, [12.5, 12.5]), 0.6364],
    [lapOf(200, 30, 6, [15, 15]), 0.64824],
    [lapOf(200, 30, 6, [0, 0]), 0.63179],
  ];
  for (const [lap, share] of wanted) {
    assert.ok(Math.abs(lapContact(lap) - share) < 5e-4, `${lapContact(lap)} beside ${share}`);
  }
});

Deno.test("contact by lines agrees with counting places one by one", () => {
  const offset = fc.double({ min: -30, max: 30, noNaN: true });
  const law = fc.property(offset, offset, fc.double({ min: 1, max: 9, noNaN: true }), (x, y, w) => {
    const lap = lapOf(150, 25, w, [x, y]);
    let inside = 0, facets = 0;
    for (let i = 0; i < 200; i++) {
      for (let j = 0; j < 200; j++) {
        const px = (i + 0.5) * 0.75 - 75, py = (j + 0.5) * 0.75 - 75;
        if (Math.hypot(px, py) >= 75) continue;
        inside++;
        if (isFacet(lap, px, py)) facets++;
      }
    }
    // a raster of 0.75 mm places an edge of a channel to half a step: 12 edges of 25 mm, 1.5 %
    assert.ok(Math.abs(facets / inside - lapContact(lap)) < 0.03);
  });
  fc.assert(law, { numRuns: 20 });
});

Deno.test("laws of the contact share: a whole spacing aside changes nothing, many facets come to the endless grid", () => {
  const share = lapContact(lapOf(150, 25, 5, [6, 9]));
  assert.ok(Math.abs(lapContact(lapOf(150, 25, 5, [31, -16])) - share) < 1e-9);
  assert.ok(Math.abs(lapContact(lapOf(1000, 10, 2, [3, 1])) - 0.64) < 1e-3);
});

Deno.test("the usual lap can be made at every size, and never stands on its centre", () => {
  for (let diameter = 40; diameter <= 400; diameter += 10) {
    const lap = requireLap(usualLap(diameter));
    const [x, y] = lap.offset;
    assert.ok(lap.spacing >= diameter / 8 && lap.spacing <= diameter / 3.5, `${diameter}`);
    for (const from of [0, lap.spacing / 2]) {
      assert.ok(Math.abs(x - from) > 0.05 * lap.spacing && Math.abs(y - from) > 0.05 * lap.spacing);
    }
  }
});

Deno.test("laps that cannot be made are refused", () => {
  const lap = usualLap(150);
  const bad: [Partial<Lap>, RegExp][] = [
    [{ disc: 149 }, /no wider than its disc in mm, got diameter=150, disc=149/],
    [{ channel: 12.5 }, /channels narrower than the facets .* got channel=12.5, facet=12.5/],
    [{ channel: 40 }, /channels narrower/],
    [{ spacing: 150, channel: 5 }, /more than one facet/],
    [{ thickness: 0 }, /sizes above 0/],
    [{ offset: [NaN, 0] }, /finite offset/],
  ];
  for (const [change, says] of bad) {
    assert.throws(() => requireLap({ ...lap, ...change }), (error: unknown) => {
      assert.ok(error instanceof RangeError);
      assert.match(error.message, says);
      return true;
    });
    assert.throws(() => lapContact({ ...lap, ...change }), RangeError);
  }
});

const lap = usualLap(150);

Deno.test("a lap of 28 facets under 3.25 kg sinks 3 um a minute at 1e8 Pa s", () => {
  const { facets, newtonPerFacet, umPerMinute } = lapSinking(lap, {
    loadKg: 3.25,
    viscosityPaS: 1e8,
  });
  // DERIVED: pi 75^2 / 25^2 facets; Stefan's film with b = 20 / sqrt(pi) mm, h = 7 mm. Tolerance 1 %
  assert.ok(Math.abs(facets - 28.27) < 0.01);
  assert.ok(Math.abs(newtonPerFacet / 1.1276 - 1) < 0.01, `${newtonPerFacet}`);
  assert.ok(Math.abs(umPerMinute / 3.038 - 1) < 0.01, `${umPerMinute}`);
});

Deno.test("laws of sinking: with the load, against the viscosity, with the cube of the thickness", () => {
  const at = (loadKg: number, viscosityPaS: number, thickness = 7): number =>
    lapSinking({ ...lap, thickness }, { loadKg, viscosityPaS }).umPerMinute;
  const some = fc.double({ min: 0.5, max: 20, noNaN: true });
  fc.assert(fc.property(some, some, (load, factor) => {
    assert.ok(Math.abs(at(load * factor, 1e8) / at(load, 1e8) / factor - 1) < 1e-9);
    assert.ok(Math.abs(at(load, 1e8 * factor) * factor / at(load, 1e8) - 1) < 1e-9);
  }));
  assert.ok(Math.abs(at(3, 1e8, 14) / at(3, 1e8) - 8) < 1e-9);
});

Deno.test("ten times thinner for 8 degrees more", () => {
  assert.ok(Math.abs(pitchViscosity(1e8, 20) / 1e8 - 1) < 1e-12);
  assert.ok(Math.abs(pitchViscosity(1e8, 12) / 1e9 - 1) < 1e-12);
  assert.ok(pitchViscosity(1e8, 24) < pitchViscosity(1e8, 23));
  assert.throws(() => pitchViscosity(1e8, 100), /-20 to 60 degC/);
});

Deno.test("cold pressing: minutes with a wide range, narrower where the rate was measured", () => {
  const guessed = coldPressing(30, 3), measuredOnce = coldPressing(30, 3, true);
  assert.equal(guessed.minutes, 10);
  assert.ok(guessed.least < 4 && guessed.most === 30);
  assert.ok(measuredOnce.least > guessed.least && measuredOnce.most < guessed.most);
  assert.equal(coldPressing(0, 3).minutes, 0);
  assert.throws(() => coldPressing(-1, 3), /misfit of 0 or more/);
});

Deno.test("hardness by thumbnail", () => {
  assert.deepEqual([0.5, 5, 30, 31, Infinity].map((s) => byThumbnail(s).is), [
    "too soft",
    "usable",
    "usable",
    "too hard",
    "too hard",
  ]);
  assert.throws(() => byThumbnail(NaN), /seconds of 0 or more/);
  assert.throws(() => lapSinking(lap, { loadKg: 0, viscosityPaS: 1e8 }), /load and viscosity/);
});

const third = { offset: 0, travel: 50 };
const grid = (x: number, y: number): Lap => ({ ...usualLap(150), offset: [x, y] });

Deno.test("a centred grid rubs rings, the off-centre grid does so far less", () => {
  const off = lapRubbing(grid(6, 9), third);
  for (const [x, y] of [[0, 0], [12.5, 12.5]] as const) {
    const centred = lapRubbing(grid(x, y), third);
    assert.ok(centred.rms > 2 * off.rms, `${x} ${y}: ${centred.rms} beside ${off.rms}`);
    assert.ok(centred.ridges.length >= 2);
    assert.equal(centred.ridges[0]?.from, 0);
  }
  assert.ok(off.ridges.every(({ to }) => to <= 2.5), "nothing but the innermost 2.5 mm");
});

Deno.test("a facet in the middle rubs it more, a crossing less", () => {
  assert.ok((lapRubbing(grid(12.5, 12.5), third).rings[0]?.excess ?? 0) > 0.05);
  assert.ok((lapRubbing(grid(0, 0), third).rings[0]?.excess ?? 0) < -0.05);
});

Deno.test("longer strokes wash the rings out", () => {
  const [short, long] = [25, 75].map((travel) => lapRubbing(grid(0, 0), { offset: 0, travel }).rms);
  assert.ok((long ?? 1) < 0.75 * (short ?? 0), `${short} ${long}`);
});

Deno.test("the share of each ring agrees with throwing places, turns and strokes at random", () => {
  const lap = grid(0, 0), draw = random(7);
  const found = lapRubbing(lap, { offset: 10, travel: 40 }).rings;
  for (const at of [0, 5, 12, 20]) {
    const ring = found[at];
    assert.ok(ring);
    let over = 0, facet = 0;
    for (let i = 0; i < 20000; i++) {
      const turn = 2 * Math.PI * draw.uniform(), lapTurn = 2 * Math.PI * draw.uniform();
      const x = ring.radius * Math.cos(turn) + 40 * (draw.uniform() - 0.5);
      const y = ring.radius * Math.sin(turn) + 10;
      if (Math.hypot(x, y) >= 75) continue;
      over++;
      const u = x * Math.cos(lapTurn) - y * Math.sin(lapTurn);
      const v = x * Math.sin(lapTurn) + y * Math.cos(lapTurn);
      const off = (w: number): number => Math.abs(w - 25 * Math.round(w / 25));
      if (off(u) > 2.5 && off(v) > 2.5) facet++;
    }
    // 20000 throws hold a share to 0.0035; four of them, and half a ring's width
    assert.ok(Math.abs(facet / over - ring.share) < 0.02, `${at}: ${facet / over} ${ring.share}`);
  }
});

Deno.test("strokes that leave the lap, and laps that cannot be made, are refused", () => {
  assert.throws(() => lapRubbing(grid(0, 0), { offset: 60, travel: 100 }), /stay on the lap/);
  assert.throws(() => lapRubbing(grid(0, 0), { offset: 0, travel: 0 }), /stay on the lap/);
  assert.throws(() => lapRubbing({ ...grid(0, 0), channel: 20 }, third), /narrower/);
});
