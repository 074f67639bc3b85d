import assert from "node:assert/strict";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { everydayUnit, OWN } from "../../lib/quantity/everydayUnits.ts";
import { mathjs } from "../../lib/quantity/mathjs.ts";
import { convert, quantity } from "../../lib/quantity/units.ts";

const NAMES =
  ("mm cm m km um micron microns nm in inch inches ft foot feet mil thou rad mrad deg arcmin arcsec min minute " +
    "minutes h hour hours day s sec second seconds g kg mg lb oz").split(" ");

Deno.test("each everyday unit is as large as the library of all units says", () => {
  const math = mathjs();
  for (const name of NAMES) {
    const unit = everydayUnit(name);
    assert.ok(unit !== undefined, name);
    for (const value of [1, 0.1, 6, 46.4, 1e-5, 12345.678]) {
      // CROSS-CHECK npm's mathjs 15.2.0, called here (everydayUnits.test.ts)
      const wanted = math.unit(value, name).toNumber(OWN[unit.kind]);
      const got = convert(value, name, OWN[unit.kind]);
      assert.ok(
        Math.abs(got - wanted) <= 4 * Number.EPSILON * Math.abs(wanted),
        `${value} ${name}: ${got}, ${wanted}`,
      );
    }
  }
});

Deno.test("everyday lengths are the numbers that people mean, and the kind is the unit's", () => {
  // DERIVED: 6 x 25.4
  assert.equal(quantity("6 in").value, 152.4);
  assert.equal(quantity("0.55 um", "nm").value, 550);
  assert.equal(quantity("2 thou").value, 0.0508);
  assert.deepEqual(quantity("90 s"), { value: 1.5, unit: "min" });
  assert.throws(() => quantity("6 in", "g"), /requires a unit of the same kind, got 6 in/);
  assert.throws(() => convert(1, "kg", "mm"), /of the same kind/);
  assert.throws(() => quantity("1e308 km", "nm"), /finite/);
});

Deno.test("what is no everyday unit is asked of the library of all units", () => {
  assert.equal(everydayUnit("furlong"), undefined);
  assert.equal(everydayUnit("constructor"), undefined);
  assert.deepEqual(quantity("2.5 g/cm^3"), { value: 0.0025, unit: "g/mm^3" });
  assert.throws(() => quantity("6 zoll"), /requires a unit it knows/);
});

Deno.test("check of a record that is written in everyday units does not load the library of all units", async () => {
  const path = (name: string): string => fileURLToPath(new URL(`../../${name}`, import.meta.url));
  const folder = await Deno.makeTempDir({ prefix: "profile-" });
  try {
    const { success } = await new Deno.Command(Deno.execPath(), {
      args: [
        ...["run", "-A", "--no-check", "--config", path("deno.json")],
        ...[
          "--cpu-prof",
          "--cpu-prof-dir",
          folder,
          path("lib/commands/check.ts"),
          "halfway-200-f6",
        ],
      ],
      stdout: "null",
      stderr: "null",
    }).output();
    assert.ok(success);
    const [profile] = await Array.fromAsync(Deno.readDir(folder));
    const text = await Deno.readTextFile(join(folder, profile?.name ?? ""));
    assert.match(text, /check\.ts/, "a profile of the run");
    assert.doesNotMatch(text, /browser\/math\.js/);
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});
