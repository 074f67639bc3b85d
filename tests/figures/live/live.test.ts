import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { liveFigures } from "../../../lib/figures/live/figures.ts";
import { live } from "../../../lib/figures/live/live.ts";
import { runtimeScript } from "../../../lib/figures/live/runtimeScript.ts";
import { chanceOf } from "../../../lib/figures/live/goodEnough.ts";
import { focalReading } from "../../../lib/figures/live/sagittaAndFocalLength.ts";
import { sphereReading } from "../../../lib/figures/live/sphereOrParaboloid.ts";
import { radiusFromSagitta } from "../../../lib/optics/sphere.ts";
import { sliders } from "../../../lib/figures/live/figure.ts";
import { asImage } from "../../../lib/figures/live/still.ts";
import { assertNoHoles, assertWellFormed, parsed } from "../soundFigure.ts";

const folder = new URL("../../../lib/figures/live/", import.meta.url);

/** The page's script as one classic script. */
async function bundled(): Promise<string> {
  const { success, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
    args: [
      ...["bundle", "--quiet", "--platform", "browser", "--format", "iife", "--minify"],
      fileURLToPath(new URL("runtime.ts", folder)),
    ],
    env: { NO_COLOR: "1" },
  }).output();
  const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
  assert.ok(success, text(stderr));
  return text(stdout);
}

Deno.test("the page's script is built from the code as it stands; where it is old, it is built anew here", async () => {
  const script = await bundled();
  if (script === runtimeScript) return;
  await Deno.writeTextFile(new URL("runtime.js.txt", folder), script);
  assert.fail(
    "runtime.js.txt was older than the code and has been built anew: commit it with the change",
  );
});

Deno.test("the page's script is classic, small and free of what a browser has not", () => {
  const script = runtimeScript;
  const bytes = new TextEncoder().encode(script).length;
  // deno-lint-ignore no-console -- the measured size is part of the result
  console.log(`runtime: ${bytes} bytes, ${liveFigures.length} figures`);
  assert.ok(bytes < 400_000);
  assert.doesNotThrow(() => new Function(script));
  assert.doesNotMatch(
    script,
    /Deno\.|process\.|polars|mathjs|<\/script|\bimport\s*[({"']|\bexport\b/,
  );
});

Deno.test("leaves and bevel: focal length by the lib, and what is forgotten with the bevel", () => {
  const { focal, u, forgotten } = focalReading({ aperture: 150, leaves: 1.14, bevel: 1 });
  assert.equal(focal, radiusFromSagitta(1.14, 148) / 2);
  assert.equal(forgotten, radiusFromSagitta(1.14, 150) / 2);
  // DERIVED: f = r² ÷ 4s, so df = f ds ÷ s = 1201 × 0.01 ÷ 1.14 = 10.5 mm.
  assert.ok(Math.abs(u - focal * 0.01 / 1.14) < 0.02);
});

Deno.test("a sphere's wavefront: 0.260 wave at 150 f/8, 0.823 at 200 f/6, and its powers", () => {
  const waves = (aperture: number, focal: number): number =>
    sphereReading({ aperture, focal, wavelength: 550 }).wavefrontPvWaves;
  // DERIVED: D⁴ ÷ 4096 f³ of glass at best focus, doubled: 150⁴ ÷ 2048 ÷ 1200³ mm = 143.0 nm = 0.260 wave.
  assert.equal(waves(150, 1200).toFixed(3), "0.260");
  // DERIVED: the same with 200: 452.1 nm = 0.8220 wave; the next term of the sphere, r⁶ ÷ 16R⁵, adds 1.5 × r² ÷ 2R² = 0.13 %.
  assert.equal(waves(200, 1200).toFixed(4), "0.8231");
  assert.ok(Math.abs(waves(150, 2400) / waves(150, 1200) - 1 / 8) < 0.001, "f doubled: an eighth");
  assert.ok(Math.abs(waves(240, 1800) / waves(120, 1800) - 16) < 0.1, "D doubled: sixteen times");
});

Deno.test("the probability turns at the goal, the faster the smaller u, and gives the three verdicts", () => {
  const at = (pv: number, u: number): number => chanceOf({ pv, u, goal: 0.25 }).probability;
  assert.equal(at(0.25, 0.02), 0.5);
  for (const u of [0.005, 0.02, 0.05]) {
    // READ GUM (JCGM 100:2008), table G.2 (from memory): 95 % of a normal histogram lies within 1.960 u, so 97.5 % below + 1.960 u.
    assert.ok(Math.abs(at(0.25 - 1.96 * u, u) - 0.975) < 2e-5);
    assert.ok(Math.abs(at(0.25 + 1.96 * u, u) - 0.025) < 2e-5);
  }
  const verdicts = [[0.094, 0.011], [0.237, 0.016], [0.292, 0.016]].map(([pv = 0, u = 0]) =>
    chanceOf({ pv, u, goal: 0.25 }).verdict
  );
  assert.deepEqual(verdicts, ["yes", "not shown", "no"]);
});

Deno.test("each figure has a sound still, with its number, controls in range and told in words", () => {
  for (const figure of liveFigures) {
    const { html, text } = live(figure.name);
    assertWellFormed(html);
    assertNoHoles(html);
    const document = parsed(html), root = document.querySelector("figure.live");
    assert.deepEqual(JSON.parse(root?.getAttribute("data-values") ?? ""), figure.start);
    assert.equal(
      Number(document.querySelector(".reading")?.getAttribute("data-value")),
      figure.value(figure.start),
    );
    for (const image of document.querySelectorAll(".picture img")) {
      assert.ok((image.getAttribute("alt") ?? "").length > 10, "told in words");
    }
    assert.ok((document.querySelector("img.drawn")?.getAttribute("alt") ?? "").length > 30);
    assert.match(document.querySelector("noscript")?.textContent ?? "", /^A still: /);
    assert.equal([...document.querySelectorAll("input")].length, 0, "no dead slider in a still");
    const moving = parsed(sliders(figure, figure.start).markup);
    assert.equal(
      [...moving.querySelectorAll("input[type=range]")].length,
      figure.controls.length,
    );
    for (const { key, min, max, step } of figure.controls) {
      const start = figure.start[key] ?? NaN;
      assert.ok(start >= min && start <= max && step > 0, key);
      const at = (start - min) / step;
      assert.ok(Math.abs(at - Math.round(at)) < 1e-6, `${figure.name}: ${key} starts on a step`);
    }
    assert.doesNotMatch(text, /<|NaN|undefined/);
  }
});

Deno.test("anywhere on its sliders a figure draws without a hole", () => {
  for (const figure of liveFigures) {
    const ranges = Object.fromEntries(
      figure.controls.map(({ key, min, max }) => [key, fc.double({ min, max, noNaN: true })]),
    );
    fc.assert(
      fc.property(fc.record(ranges), (moved) => {
        const values = { ...figure.start, ...moved };
        assertNoHoles(`${figure.picture(values, asImage)}${figure.reading(values)}`);
        assert.ok(Number.isFinite(figure.value(values)));
      }),
      { numRuns: 40 },
    );
  }
});

Deno.test("unknown figures, values and places on a slider are refused by name", () => {
  assert.throws(
    () => live("lens"),
    /liveFigure requires one of sagitta-and-focal-length, .*, got "lens"/,
  );
  assert.throws(
    () => live("sphere-or-paraboloid", { width: 1 }),
    /live requires values among aperture, focal.*got "width"/,
  );
  assert.throws(
    () => live("sphere-or-paraboloid", { aperture: 5000 }),
    /live requires aperture from 80 to 250, got 5000/,
  );
  assert.throws(() => live("sphere-or-paraboloid", { goal: NaN }), RangeError);
  assert.throws(
    () => live("sphere-or-paraboloid", { ["__proto__"]: 1, constructor: 2 }),
    RangeError,
  );
});
