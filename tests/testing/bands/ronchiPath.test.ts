import assert from "node:assert/strict";
import { pathLength, pathsAlong } from "../../../lib/testing/bands/ronchiPath.ts";

const bench = { half: 75, linesPerMm: 4, offset: -5, setUp: "slit beside" } as const;

Deno.test("a row's paths are each point's own: past the rim, with uneven glass, with a lamp that stays", () => {
  const error = (x: number, y: number): number => 40 * Math.sin(x / 9) + y;
  for (const setUp of ["slit beside", "fixed"] as const) {
    for (const conic of [0, -1, 3]) {
      const setting = { ...bench, setUp, error, surface: { radius: 1200, conic } };
      const paths = new Float64Array(60);
      pathsAlong(paths, -88, 3, 12, setting);
      // DERIVED the same path by the other function; 1e-11 mm is a fiftieth of a millionth of a wave
      paths.forEach((path, k) =>
        assert.ok(Math.abs(path - pathLength(-88 + 3 * k, 12, setting)) < 1e-11, `${setUp} ${k}`)
      );
    }
  }
});

Deno.test("a surface that ends before the row does is refused, one that ends beyond it is not", () => {
  const setting = { ...bench, surface: { radius: 76, conic: 0 } }, paths = new Float64Array(3);
  pathsAlong(paths, 50, 12, 6, setting);
  assert.ok(paths.every(Number.isFinite));
  assert.throws(() => pathsAlong(paths, 50, 14, 6, setting), /conicHeight requires/);
});
