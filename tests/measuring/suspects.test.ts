import assert from "node:assert/strict";
import type { Estimate } from "../../lib/measuring/estimate.ts";
import type { Method } from "../../lib/measuring/methods/methods.ts";
import { findSuspects } from "../../lib/measuring/suspects.ts";
import { measured } from "../../lib/quantity/measured.ts";

const FILES: Partial<Record<Method, string>> = {
  leaves: "sagitta.csv",
  spherometer: "spherometer.csv",
  "sun distance": "sun.csv",
};

function says(method: Method, radius: number, u = radius / 200): Estimate {
  const file = FILES[method];
  return {
    method,
    radius: measured(radius, u, "mm"),
    components: [{ source: method, u, dof: Infinity }],
    readings: 6,
    setAside: [],
    doubted: [],
    assumed: [],
    ...(file === undefined ? {} : { file }),
  };
}

Deno.test("all near the plan: nothing is suspected", () => {
  const all = [says("leaves", 2398), says("spherometer", 2360), says("sun distance", 2500)];
  assert.deepEqual(findSuspects(all, 2400, false), []);
  assert.deepEqual(findSuspects([], 2400, false), []);
});

Deno.test("a table in another unit than its neighbours is named with its file", () => {
  const [found, ...more] = findSuspects(
    [says("leaves", 60_900), says("spherometer", 2396), says("sun distance", 2397)],
    2400,
    false,
  );
  assert.equal(more.length, 0);
  assert.equal(found?.file, "sagitta.csv");
  assert.equal(found?.misconception?.name, "inch for mm");
  assert.match(
    found?.what ?? "",
    /^leaves: R 60900 mm is 25\.4 times what the other tables say, 2397 mm/,
  );
  assert.match(found?.what ?? "", /inches were read as mm\. Read the unit/);
});

Deno.test("what the other tables say is their middle, in whatever order they come", () => {
  // INVENTED radii
  for (const others of [[2396, 2330, 2399], [2399, 2396, 2330], [2330, 2399, 2396]]) {
    const [spherometer = NaN, sun = NaN, gauge = NaN] = others;
    const [found] = findSuspects(
      [
        says("leaves", 60_900),
        says("spherometer", spherometer),
        says("sun distance", sun),
        says("depth gauge", gauge),
      ],
      2400,
      false,
    );
    assert.match(found?.what ?? "", /25\.4 times what the other tables say, 2396 mm/);
  }
  const [between] = findSuspects(
    [says("leaves", 60_900), says("spherometer", 2390), says("sun distance", 2400)],
    2400,
    false,
  );
  assert.match(between?.what ?? "", /what the other tables say, 2395 mm/);
});

Deno.test("one table alone is compared with the plan", () => {
  const [found] = findSuspects([says("spherometer", 9590)], 2400, false);
  assert.equal(found?.misconception?.name, "diameter for radius");
  assert.match(found?.what ?? "", /leg_radius/);
  assert.deepEqual(
    findSuspects([says("spherometer", 16_000)], 2400, false),
    [],
    "no slip fits 6.7",
  );
});

Deno.test("while hollowing, shallower than planned is no mistake, deeper is", () => {
  assert.deepEqual(findSuspects([says("leaves", 9600)], 2400, true), []);
  assert.equal(
    findSuspects([says("leaves", 240)], 2400, true)[0]?.misconception?.name,
    "decimal point",
  );
});

Deno.test("while hollowing, neighbours that agree still unmask an inch", () => {
  const all = [
    says("leaves", 13_900),
    says("spherometer", 13_800),
    says("sun distance", 13_850 / 25.4),
  ];
  const found = findSuspects(all, 2400, true);
  assert.deepEqual(found.map(({ file }) => file), ["sun.csv"]);
  assert.equal(found[0]?.misconception?.name, "inch for mm");
});

Deno.test("tables that agree with each other and not with the plan put the plan in doubt, not themselves", () => {
  const found = findSuspects([says("leaves", 2398), says("sun distance", 2396)], 4800, false);
  assert.equal(found.length, 1);
  assert.equal(found[0]?.file, "mirror.yaml");
  assert.equal(found[0]?.estimate, undefined);
  assert.match(found[0]?.what ?? "", /R and f were probably mixed up in focal_length/);
});

Deno.test("while hollowing tables may agree on a shallower curve than planned, not on a deeper one", () => {
  const agreed = (radius: number): Estimate[] => [
    says("leaves", radius + 1),
    says("sun distance", radius - 1),
  ];
  assert.deepEqual(findSuspects(agreed(4800), 2400, true), []);
  assert.equal(findSuspects(agreed(4800), 2400, false)[0]?.file, "mirror.yaml");
  assert.equal(findSuspects(agreed(1200), 2400, true)[0]?.file, "mirror.yaml");
});

Deno.test("a table that is merely unsure is kept", () => {
  const all = [says("leaves", 2398), says("spherometer", 4500, 1200)];
  assert.deepEqual(findSuspects(all, 2400, false), []);
});

Deno.test("a factor without a name is told as such", () => {
  const [found] = findSuspects([says("leaves", 2398), says("spherometer", 16_000)], 2400, false);
  assert.equal(found?.misconception, undefined);
  assert.match(found?.what ?? "", /no common slip explains it\. Measure again/);
});

Deno.test("without a planned radius there is nothing to compare with", () => {
  assert.throws(() => findSuspects([says("leaves", 2398)], 0, false), /planned radius above 0/);
});
