/** The base: one scale, the tube above the ground at every altitude, the eyes' heights as told. */
import assert from "node:assert/strict";
import { baseView } from "../../../lib/figures/drawings/baseView.ts";
import { assertFigure } from "../soundFigure.ts";
import { BASE } from "../telescopeSamples.ts";

Deno.test("it says how low the rear corner comes and where the eye is", () => {
  // DERIVED: root(524^2 + 93^2) = 532.2; 600 + 571 sin(90, 45, 20 degrees)
  assertFigure(baseView(BASE), {
    titles: [/90°: .*1171/, /45°: .*1004/, /20°: .*795/, /pivot 600/],
    says: /needs 532 mm below the pivot.*90°: 1171 mm, 45°: 1004 mm, 20°: 795 mm/,
  });
});

Deno.test("to one scale: the tube is as long and wide as told, and clears the ground", () => {
  for (const svg of assertFigure(baseView(BASE), {})) {
    const tube = [...svg.querySelectorAll("path.steel")][0]?.getAttribute("d") ?? "";
    const n = [...tube.matchAll(/-?\d+(\.\d+)?/g)].map(([x]) => Number(x));
    const wide = Math.abs((n[4] ?? 0) - (n[2] ?? 0)), long = Math.abs((n[3] ?? 0) - (n[1] ?? 0));
    assert.ok(Math.abs(long / wide / ((524 + 720) / 186) - 1) < 0.02, `${long} x ${wide}`);
    const ground = [...svg.querySelectorAll("path.rim")][0]?.getAttribute("d") ?? "";
    const level = Number(/,([\d.]+)/.exec(ground)?.[1]);
    for (const [, y] of svg.outerHTML.matchAll(/[ML][\d.]+,([\d.]+)/g)) {
      assert.ok(Number(y) <= level + 0.1);
    }
  }
});

Deno.test("nothing of the base runs into the words at its left, however large the bearings", () => {
  for (const bearing of [90, 480, 560]) {
    for (const svg of assertFigure(baseView({ ...BASE, bearing }), {})) {
      const body = svg.querySelector("path.body")?.getAttribute("d") ?? "";
      const least = Math.min(...[...body.matchAll(/[ML](-?[\d.]+),/g)].map(([, x]) => Number(x)));
      const said = Math.max(
        ...[...svg.querySelectorAll("text[text-anchor=end]")].map((t) =>
          Number(t.getAttribute("x"))
        ),
      );
      assert.ok(least > said && said > 0, `${bearing}: ${least} beside ${said}`);
    }
  }
});

Deno.test("refuses a pivot too low for the tube, and a tube that points down", () => {
  assert.throws(() => baseView({ ...BASE, pivotHeight: 500 }), /a pivot 532 mm up or more/);
  assert.throws(() => baseView({ ...BASE, altitudes: [-0.1] }), RangeError);
  assert.throws(() => baseView({ ...BASE, altitudes: [] }), RangeError);
  assert.throws(() => baseView({ ...BASE, half: 0 }), RangeError);
});
