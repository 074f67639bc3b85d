/** What the scripts of other programs give stands in the tests that name them. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { sources } from "./layers.ts";
import { python, pythonHas } from "./machine.ts";
import { givenBy, isGiven, missing, namedIn } from "./secondRoutes.ts";

const here = fileURLToPath(new URL("./", import.meta.url));
const named = [...sources(here)]
  .filter(([file]) => file.endsWith(".test.ts") && !/^(?:secondRoutes|provenance)\./.test(file))
  .flatMap(([file, text]) => namedIn(file, text));

/** Packages that a script imports, by the names that Python knows them by; the kit's own scripts are there. */
const importsOf = (text: string): string[] =>
  [...text.matchAll(/^(?:import|from) (\w+)/gm)].map(([, name = ""]) => name)
    .filter((name) => !name.startsWith("peer_"));

for (const script of new Set(named.map(({ script }) => script))) {
  const ignore = !importsOf(Deno.readTextFileSync(here + script)).every(pythonHas);
  Deno.test({
    name: `second route: tests/${script} gives what the tests hold`,
    ignore,
    fn: async () => {
      const { success, stdout, stderr } = await new Deno.Command(python, { args: [here + script] })
        .output();
      assert.ok(success, new TextDecoder().decode(stderr));
      const given = givenBy(new TextDecoder().decode(stdout));
      const wrong: string[] = [];
      const users = named.filter((one) => one.script === script);
      for (const one of users) {
        const values = given.get(one.key);
        if (values === undefined) {
          wrong.push(`${one.file}:${one.line} names ${one.key}, which is not printed`);
          continue;
        }
        const lost = missing(one, values);
        if (lost.length > 0) {
          wrong.push(`${one.file}:${one.line} ${one.key}: ${lost.join(", ")} stand nowhere there`);
        }
      }
      const used = new Set(users.map(({ key }) => key));
      for (const key of given.keys()) if (!used.has(key)) wrong.push(`no test names ${key}`);
      assert.deepEqual(wrong, []);
    },
  });
}

Deno.test("second routes: what agrees, and what does not", () => {
  const given = givenBy("a b: 1.17187512 -0.5~0.01\nc: 2");
  assert.deepEqual([...given.keys()], ["a b", "c"]);
  const text = `Deno.test("x", () => {
  // CROSS-CHECK secondRoute.py, a b: scipy
  close(sagitta(), 1.171875, 1e-6);
  close(other(), -0.507);
});
const z = 1.1719;`;
  const [one = assert.fail("none")] = namedIn("optics/sphere.test.ts", text);
  assert.equal(one.script, "optics/secondRoute.py");
  assert.deepEqual(missing(one, given.get("a b") ?? []), []);
  assert.deepEqual(missing(one, [{ value: 1.17188, within: 0 }]), [1.17188]);
  assert.ok(isGiven("0.391", { value: 0.391002, within: 0 }));
  assert.ok(!isGiven("0.3912", { value: 0.391, within: 0 }));
  assert.ok(!isGiven("0.39", { value: 0.391, within: 0 }));
  assert.ok(isGiven("3.739e-4", { value: 3.73903e-4, within: 0 }));
});
