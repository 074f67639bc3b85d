/** The map that can be taken along, against the profile and the astigmatism it is from. */
import assert from "node:assert/strict";
import { openRecord } from "../../lib/knowledge/open.ts";
import type { FigureSummary, Summary } from "../../lib/knowledge/summaryTypes.ts";
import {
  mapCsv,
  mapFits,
  mapInWords,
  sectionOf,
  surfaceMap,
  zernikeCsv,
} from "../../lib/stages/surfaceMap.ts";
import { close } from "../optics/close.ts";

const { summary: demo } = (await openRecord()).demo;

/** INVENTED a cone of glass with a high diameter 30 degrees from the mark. */
function invented(figure: Partial<FigureSummary>, scope = "whole surface"): Summary {
  const profile = [0, 20, 40, 60].map((radius) => ({ radius, surfaceError: radius / 2, u: 3 }));
  const { verdict } = demo;
  assert.ok(verdict !== undefined);
  return {
    ...demo,
    verdict: { ...verdict, scope: scope as "whole surface" },
    figure: { zones: { profile, ...figure } },
  };
}

const astigmatism = {
  amplitude: { value: 10, unit: "nm", u: 4 },
  axis: { value: 30, unit: "deg", u: 9 },
  interval95: [2, 18],
} as const;

Deno.test("heights are the profile's and the high diameter's; the mark is up, angles go counter-clockwise", () => {
  const map = surfaceMap(invented({ astigmatism }));
  assert.ok(map !== undefined);
  // DERIVED half the radius, and 10 nm (r / 60)^2 cos 2(angle - 30); u = hypot(3, 4 (r / 60)^2)
  for (const [share, degrees] of [[1, 30], [1, 120], [0.5, 75], [0.5, -60]] as const) {
    const [height, u] = map.at(share, (degrees * Math.PI) / 180);
    const wanted = 30 * share + 10 * share ** 2 * Math.cos((2 * (degrees - 30) * Math.PI) / 180);
    close(height, wanted, 1e-9);
    close(u, Math.hypot(3, 4 * share ** 2), 1e-9);
  }
  // the same in the grid: straight up is the mark, to the left is a quarter turn on
  const middle = (map.size - 1) / 2, up = (map.size - 1) * map.size + middle;
  close(map.heights[up] ?? NaN, 30 + 10 * Math.cos(Math.PI / 3), 1e-6);
  close(map.heights[middle * map.size] ?? NaN, 30 + 10 * Math.cos((2 * 60 * Math.PI) / 180), 1e-6);
  assert.ok(Number.isNaN(map.heights[0]) && Number.isNaN(map.u[0]));
  const along = sectionOf(map, 30, 3);
  assert.deepEqual(along.map(({ at }) => at), [-60, 0, 60]);
  along.forEach(({ height }, k) => close(height, [40, 0, 40][k] ?? NaN, 1e-9));
  assert.throws(() => sectionOf(map, 30, 1), RangeError);
});

Deno.test("what one diameter did not tell stays in the doubt, in header and words too", () => {
  const map = surfaceMap(invented({}, "one diameter"));
  assert.ok(map !== undefined && !map.isWhole);
  // DERIVED hypot(3, 30): the profile's own and what was not read
  close(map.at(1, 0)[1], Math.hypot(3, 30), 1e-9);
  assert.match(mapInWords(map).join("\n"), /read along one diameter: round by assumption/);
  assert.doesNotMatch(mapInWords(map).join("\n"), /degrees counter-clockwise/);
  assert.match(
    new TextDecoder().decode(mapFits(map, "x").slice(0, 2880)),
    /SCOPE {3}= 'one diameter'/,
  );
});

Deno.test("words, CSV and FITS say the same as the map", () => {
  const map = surfaceMap(invented({ astigmatism }));
  assert.ok(map !== undefined);
  const [highest = "", lowest = "", along = ""] = mapInWords(map);
  assert.match(
    highest,
    /^highest \+40 nm ± 5 nm, 60 mm from the middle, (2[89]|3[012]|20[89]|21[012]) degrees/,
  );
  assert.match(lowest, /^lowest \+0 nm ± 3 nm, in the middle$/);
  assert.match(
    along,
    /^along the diameter of the highest place, from rim to rim: \+40 .* \+0 .* \+40 nm$/,
  );
  const rows = mapCsv(map).trimEnd().split("\n"),
    inside = map.heights.filter((v) => !Number.isNaN(v));
  assert.equal(rows.length, 1 + inside.length);
  // DERIVED a disc fills pi / 4 of its square
  close(inside.length / map.size ** 2, Math.PI / 4, 0.02);
  const [x = NaN, y = NaN, height = NaN] = (rows[500] ?? "").split(",").map(Number);
  close(map.at(Math.hypot(x, y) / 60, Math.atan2(y, x) - Math.PI / 2)[0], height, 2e-3);
  const view = new DataView(mapFits(map, "x").buffer, 2880), count = map.size ** 2;
  const k = map.heights.findIndex((v) => !Number.isNaN(v));
  close(view.getFloat32(4 * k), map.heights[k] ?? NaN, 1e-4);
  close(view.getFloat32(4 * (count + k)), map.u[k] ?? NaN, 1e-4);
});

Deno.test("Zernike's terms stand in the standard's order, without numbers where nothing was read", () => {
  const rows = zernikeCsv(invented({ astigmatism }))?.trimEnd().split("\n").slice(1)
    .map((row) => row.split(",")) ?? [];
  // READ ISO 24157 (from memory): j = (n(n + 2) + m) / 2, 28 terms to degree six
  assert.deepEqual(rows.map(([j]) => Number(j)), Array.from({ length: 28 }, (_, j) => j));
  const of = (n: number, m: number): readonly string[] =>
    rows.find((row) => Number(row[1]) === n && Number(row[2]) === m) ?? [];
  // DERIVED x is a quarter turn clockwise of the mark: the high diameter lies 120 degrees from it; 10 nm cos 2(theta - 120) / sqrt 6
  close(Number(of(2, 2)[3]), (10 * Math.cos((240 * Math.PI) / 180)) / Math.sqrt(6), 1e-2);
  close(Number(of(2, -2)[3]), (10 * Math.sin((240 * Math.PI) / 180)) / Math.sqrt(6), 1e-2);
  assert.deepEqual(of(3, 1).slice(3), ["", "", "not seen"]);
  assert.deepEqual(of(2, 0).slice(3), ["", "", "taken out"]);
  const alone = zernikeCsv(invented({}, "one diameter")) ?? "";
  assert.match(alone, /^5,2,2,,,not read$/m);
});

Deno.test("the demo has a map, a record without a surface none", () => {
  assert.ok(surfaceMap(demo)?.isWhole);
  const { figure: _, ...bare } = demo;
  assert.equal(surfaceMap(bare), undefined);
  assert.equal(zernikeCsv(bare), undefined);
});
