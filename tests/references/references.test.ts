import assert from "node:assert/strict";
import { near, reference } from "./reference.ts";

const here = new URL(".", import.meta.url);
const files = [...Deno.readDirSync(here)].map((entry) => entry.name)
  .filter((name) => name.endsWith(".json")).sort();

Deno.test("there are twenty-three files of check values", () => {
  assert.equal(files.length, 23);
});

for (const file of files) {
  Deno.test(`${file} has a passport and stands in the README`, () => {
    const passport = reference<object, object, object>(file.replace(".json", ""));
    for (const field of ["id", "source", "section", "recalled", "verified"] as const) {
      assert.ok(passport[field], `${field} is missing`);
    }
    assert.match(passport.recalled, /^(read|from memory)$/);
    for (const part of [passport.inputs, passport.expected, passport.tolerance]) {
      assert.ok(Object.keys(part).length > 0);
    }
    assert.ok(Deno.readTextFileSync(new URL("README.md", here)).includes(`\`${file}\``));
  });
}

Deno.test("budgets by a package that carries doubts through a formula by itself", () => {
  type Computed = Readonly<Record<string, number>>;
  const h1 = reference<object, { computed: Computed }>("gum-h1-end-gauge").expected.computed;
  // CROSS-CHECK secondRoute.py, end gauge: uncertainties 3.1.6 (Debian 12)
  near(h1["u_c_nm"], 31.663879111, 1e-10, "u of the gauge");
  near(h1["u_d_nm"], 9.68194195397, 1e-10, "u of the difference");
  near(h1["nu_d"], 25.4472507774, 1e-10, "its degrees of freedom");
  near(h1["nu_eff"], 16.7518557376, 1e-10, "all together");
  near(h1["k99_t16"], 2.92078162235, 1e-8, "k");
  const { approach1: h2 } = reference<object, { computed: { approach1: Computed } }>(
    "gum-h2-resistance-reactance",
  ).expected.computed;
  // CROSS-CHECK secondRoute.py, resistance and reactance: the same
  const wanted = [127.732169928, 0.071071407397, 219.846511913, 0.295581677359, 254.259701948, 0.236336130082];
  ["R", "u_R", "X", "u_X", "Z", "u_Z"].forEach((key, i) =>
    near(h2[key], wanted[i] ?? NaN, 1e-10, key)
  );
  near(h2["r_RX"], -0.588429784424, 1e-9, "R with X");
  near(h2["r_RZ"], -0.48525922421, 1e-9, "R with Z");
  near(h2["r_XZ"], 0.992511648949, 1e-10, "X with Z");
  const { worked } = reference<object, { worked: Computed & { budget: Computed } }>("spherometer").expected;
  // CROSS-CHECK secondRoute.py, spherometer: the same
  near(worked["R"], 2401.57218864, 1e-10, "R");
  near(worked["u_R"], 5.62286160178, 1e-10, "u of R");
  near(worked.budget["leg"], 4.79662317728, 1e-10, "legs");
  near(worked.budget["h"], 2.93408907294, 1e-10, "depth");
});
