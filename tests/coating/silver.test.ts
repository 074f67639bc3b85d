import assert from "node:assert/strict";
import fc from "fast-check";
import { CAUTIONS, silverOnGlass } from "../../lib/coating/silver.ts";

function near(got: number, wanted: number, within: number): void {
  assert.ok(Math.abs(got - wanted) <= within * Math.abs(wanted), `${got}, wanted ${wanted}`);
}

Deno.test("a film of 100 nm on 150 and 250 mm, mg", () => {
  // DERIVED: 10.49 g/cm3 x pi/4 x (15 cm)^2 x 1e-5 cm = 18.537 mg; for 25 cm 51.493 mg; 176.715 cm2
  near(1000 * silverOnGlass({ diameter: 150 }).mass, 18.537, 1e-4);
  near(1000 * silverOnGlass({ diameter: 250 }).mass, 51.493, 1e-4);
  near(silverOnGlass({ diameter: 150 }).areaCm2, 176.715, 1e-5);
});

Deno.test("law: by area, not by diameter; the film's thickness counts once", () => {
  fc.assert(fc.property(
    fc.double({ min: 20, max: 500, noNaN: true }),
    fc.double({ min: 20, max: 300, noNaN: true }),
    (diameter, thickness) => {
      const one = silverOnGlass({ diameter, thickness }).mass;
      near(silverOnGlass({ diameter: 2 * diameter, thickness }).mass, 4 * one, 1e-9);
      near(silverOnGlass({ diameter, thickness: 2 * thickness }).mass, 2 * one, 1e-9);
    },
  ));
  assert.throws(() => silverOnGlass({ diameter: 0 }), /above 0, got 0, 100/);
  assert.throws(() => silverOnGlass({ diameter: NaN }), RangeError);
});

Deno.test("what is said beside it: sent out first, no bath anywhere, the place's rules last", () => {
  assert.match(CAUTIONS[0], /^Send the mirror out/);
  assert.match(CAUTIONS[1], /No silver bath.*explosive.*licensed laboratory/);
  assert.match(CAUTIONS.join(" "), /burns in sunlight.*no Sun filter/);
  assert.match(CAUTIONS.at(-1) ?? "", /rules of the place/);
});

Deno.test("the ratios of a silver bath stand nowhere in the kit: not in library, pages, data, tests or papers", async () => {
  // what a recipe needs: its salts by name, sugars and lyes, or milligrams by the area. Put together, so that this file is clean.
  const words = [
    "nitr" + "ate",
    "AgN" + "O3",
    "gluc" + "ose",
    "dextr" + "ose",
    "pota" + "sh",
    "KO" + "H\\b",
    "formalde" + "hyde",
  ];
  const recipe = new RegExp(words.join("|"), "i");
  const root = new URL("../../", import.meta.url), found: string[] = [];
  const look = async (folder: URL): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(folder)) {
      const at = new URL(name + (isDirectory ? "/" : ""), folder);
      if (isDirectory) await look(at);
      else if (/\.(ts|ipynb|csv|yaml|md|json|txt|css|js)$/.test(name)) {
        const text = await Deno.readTextFile(at), hit = recipe.exec(text);
        if (hit !== null) found.push(`${at.pathname.slice(root.pathname.length)}: ${hit[0]}`);
      }
    }
  };
  for (const folder of ["lib/", "notebooks/", "data/", "tests/"]) await look(new URL(folder, root));
  for (const paper of ["README.md", "DEVELOPERS.md"]) {
    const hit = recipe.exec(await Deno.readTextFile(new URL(paper, root)));
    if (hit !== null) found.push(`${paper}: ${hit[0]}`);
  }
  assert.deepEqual(found, []);
});
