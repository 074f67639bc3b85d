// deno-lint-ignore-file no-console -- the shares are the result; a pass alone would hide them
/**
 * Do the stated intervals hold? Mirrors whose truth is known from an exact path, knife noise of 0.05 mm, five runs.
 * Judge and mirrors are in judge.ts and share no formula with what they judge.
 */
import assert from "node:assert/strict";
import { random } from "../../lib/numeric/random.ts";
import type { ZoneFigure } from "../../lib/testing/zoneFigure.ts";
import { reduceZones } from "../../lib/testing/zones.ts";
import {
  FAMILIES,
  type JudgedMirror,
  randomMirror,
  readings,
  referenceMirrors,
  type Truth,
  truth,
} from "./judge.ts";
import { zoneTest } from "./story.ts";

const NOISE = 0.05;
type Name = "P-V" | "RMS" | "Strehl" | "conic";

function readNoisily(
  mirror: JudgedMirror,
  ideal: readonly number[],
  dice: ReturnType<typeof random>,
): ZoneFigure {
  const runs = Array.from({ length: 5 }, () => ideal.map((v) => v + NOISE * dice.normal()));
  return reduceZones(
    zoneTest(runs, [...mirror.edges], {
      aperture: 2 * mirror.half,
      bevel: 0,
      radius: mirror.radius,
      draws: 1500,
    }),
  );
}

function held(figure: ZoneFigure, real: Truth): Record<Name, boolean> {
  const inside = ([low, high]: readonly [number, number], value: number): boolean =>
    low <= value && value <= high;
  const { wavefrontPv, wavefrontRms, strehl, conic } = figure.interval95;
  return {
    "P-V": inside(wavefrontPv, real.pv),
    RMS: inside(wavefrontRms, real.rms),
    Strehl: inside(strehl, real.strehl),
    conic: inside(conic, real.conic),
  };
}

const share = (all: readonly Record<Name, boolean>[], name: Name): number =>
  (100 * all.filter((h) => h[name]).length) / all.length;

Deno.test("three reference mirrors, 100 draws each: 95 % intervals hold in 92 to 98 of 100", () => {
  const dice = random(11), all: Record<Name, boolean>[] = [];
  referenceMirrors().forEach((mirror, i) => {
    const ideal = readings(mirror), real = truth(mirror);
    const here = Array.from({ length: 100 }, () => held(readNoisily(mirror, ideal, dice), real));
    console.log(
      `mirror ${i + 1}:`,
      ...(["P-V", "RMS", "Strehl", "conic"] as const).map((n) => `${n} ${share(here, n)}`),
    );
    // P-V decides the verdict, so it is held to the range on each mirror by itself. The others may be too wide on one
    // mirror: the same readings also fit a glass that hides more inside its windows than this one does.
    assert.ok(share(here, "P-V") >= 92 && share(here, "P-V") <= 98, `P-V on mirror ${i + 1}`);
    for (const name of ["RMS", "Strehl", "conic"] as const) {
      assert.ok(share(here, name) >= 92, `${name} on mirror ${i + 1}`);
    }
    all.push(...here);
  });
  for (const name of ["P-V", "RMS", "Strehl"] as const) {
    assert.ok(
      share(all, name) >= 92 && share(all, name) <= 98,
      `${name}: ${share(all, name)} of 100`,
    );
  }
});

Deno.test("300 mirrors: intervals hold in 92 to 98 %, no bad mirror is called good, good ones are", () => {
  const dice = random(21);
  const all = Array.from({ length: 300 }, (_, i) => {
    const mirror = randomMirror(FAMILIES[i % FAMILIES.length] ?? "conic", dice);
    const real = truth(mirror, 600), figure = readNoisily(mirror, readings(mirror), dice);
    return { real, figure, held: held(figure, real) };
  });
  for (const name of ["P-V", "RMS", "conic"] as const) {
    const percent = share(all.map((m) => m.held), name);
    console.log(`${name} ${percent.toFixed(1)} %`);
    assert.ok(percent >= 92 && percent <= 98, `${name}: ${percent} %`);
  }
  const misses = all.filter((m) => m.real.pv >= 0.25 * 1.2),
    good = all.filter((m) => m.real.pv <= 0.125);
  assert.ok(misses.length >= 50 && good.length >= 40, "enough of both kinds to tell");
  assert.equal(misses.filter((m) => m.figure.verdict === "yes").length, 0);
  const shown = good.filter((m) => m.figure.verdict === "yes").length / good.length;
  console.log(
    `${misses.length} miss the goal by a fifth: 0 called yes; ${good.length} inside half of it: ${
      (100 * shown).toFixed(0)
    } % called yes`,
  );
  assert.ok(shown >= 0.8);
});
