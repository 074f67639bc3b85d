/** Every expected number says where it comes from, and what a CROSS-CHECK names is there. */
import assert from "node:assert/strict";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { sources } from "./layers.ts";
import { significantDigits, withoutProvenance } from "./provenance.ts";

const here = fileURLToPath(new URL("./", import.meta.url));
const tests = [...sources(here)].filter(([file]) =>
  file.endsWith(".test.ts") && !/^(?:provenance|secondRoutes)\./.test(file)
);

Deno.test("provenance: every expected number of four digits and more says where it comes from", () => {
  const found = tests.flatMap(([file, text]) =>
    withoutProvenance(text).map(({ line, text }) => `${file}:${line}: ${text}`)
  );
  assert.equal(found.length, 0, `${found.length} in all:\n${found.slice(0, 30).join("\n")}`);
});

Deno.test("provenance: what counts as expected, and what as said", () => {
  const found = (body: string): string[] =>
    withoutProvenance(`Deno.test("a", () => {\n${body}\n});`).map(({ line, text }) =>
      `${line} ${text}`
    );
  assert.deepEqual(found("assert.equal(sagitta(150.25, 2400.5), 1.1722);"), ["2 1.1722"]);
  assert.deepEqual(found('assert.equal(x.toFixed(4), "1.1722");'), ['2 "1.1722"']);
  assert.deepEqual(found("assert.ok(Math.abs(x - 1.1722) < 1e-5);"), ["2 1.1722"]);
  assert.deepEqual(found("for (const [a, b] of [[1, 1.1722]]) f(a, b);"), ["2 1.1722"]);
  assert.deepEqual(found("// DERIVED\nassert.equal(x, 1.1722);"), []);
  assert.deepEqual(found("assert.equal(x, 1.1722); // DERIVED"), []);
  assert.deepEqual(found('assert.equal(x, 1.1722, "DERIVED");'), ["2 1.1722"]);
  assert.deepEqual(found("// the plan's\nassert.equal(x, 1.1722);"), ["3 1.1722"]);
  assert.deepEqual(found("assert.equal(x, 1.17);\nassert.equal(y, 2400);"), []);
});

Deno.test("provenance: digits that carry something", () => {
  const of = { "2400": 2, "2400.0": 5, "0.00117": 3, "1.1722e-3": 5, "1_234_500": 5, "1.2.3": 0 };
  for (const [text, digits] of Object.entries(of)) {
    assert.equal(significantDigits(text), digits, text);
  }
});

/** CROSS-CHECKs whose script was not kept: the number may fall, and a new one needs its script beside it. */
const WITHOUT_SCRIPT = 1;

Deno.test("provenance: a new CROSS-CHECK keeps its script, and the file that one names is there", async () => {
  const without: string[] = [];
  for (const [file, text] of tests) {
    for (const [, said = ""] of text.matchAll(/\/\/.*?\bCROSS-CHECK\b(.*)$/gm)) {
      const [named] = /[\w/.-]+\.(?:json|ts|py|ipynb)\b/.exec(said) ?? [];
      if (named === undefined) without.push(`${file}:${said}`);
      else {
        const places = [
          named.replace(/^tests\//, ""),
          join(dirname(file), named),
          join("..", named),
        ];
        const there = await Promise.all(
          places.map((place) => Deno.stat(join(here, place)).then(() => true, () => false)),
        );
        assert.ok(there.includes(true), `${file} names ${named}, which is not there`);
      }
    }
  }
  assert.ok(without.length <= WITHOUT_SCRIPT, `${without.length}:\n${without.join("\n")}`);
});
