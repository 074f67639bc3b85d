/** Every package that the kit stands on is listed, with the licence that it tells itself. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { allListed, licenceIn, nameOf } from "../../lib/commands/licences.ts";
import { run } from "./run.ts";

const lock = fileURLToPath(new URL("../../deno.lock", import.meta.url));

Deno.test("each package of deno.lock stands there once, with version and licence", async () => {
  const { npm } = JSON.parse(await Deno.readTextFile(lock)) as { npm: Record<string, unknown> };
  const keys = [...new Set(Object.keys(npm).map((key) => nameOf(key).join("@")))].sort();
  const all = await allListed();
  assert.deepEqual(all.map(({ name, version }) => `${name}@${version}`).sort(), keys);
  assert.ok(keys.length > 100);
  assert.deepEqual(all.filter(({ licence, elsewhere }) => licence === undefined && !elsewhere), []);
  const licenceOf = (wanted: string): string | undefined =>
    all.find(({ name }) => name === wanted)?.licence;
  // READ: the package.json of each, yaml 2.9.1, sharp 0.35.5, mathjs 15.2.0
  assert.deepEqual(["yaml", "sharp", "mathjs"].map(licenceOf), ["ISC", "Apache-2.0", "Apache-2.0"]);
});

Deno.test("the list is printed, and how many stand under each licence", async () => {
  const { code, out, err } = await run("licences", []);
  assert.equal(code, 0, err);
  assert.match(out, /^yaml +2\.9\.1 +ISC$/m);
  assert.match(out, /^ +\d+ {2}MIT$/m);
  assert.match(out, /^ +\d+ {2}for other machines, not here$/m);
});

Deno.test("a licence in the words of any age, or none", () => {
  assert.equal(licenceIn({ license: { type: "MIT", url: "x" } }), "MIT");
  assert.equal(licenceIn({ licenses: ["MIT"] }), "MIT");
  assert.equal(licenceIn({ license: " " }), undefined);
  assert.equal(licenceIn({}), undefined);
});
