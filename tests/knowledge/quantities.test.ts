/** One list of quantities: check, front page, report, a stage's line, class and file tell what stands in it. */
import assert from "node:assert/strict";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { knownQuantities, labelOf, QUANTITIES } from "../../lib/knowledge/quantities.ts";
import { keyInFile, summaryText } from "../../lib/knowledge/summaryFile.ts";
import { tell } from "../../lib/knowledge/tell.ts";
import { tellQ } from "../../lib/knowledge/tellQ.ts";
import { reportPage } from "../../lib/book/pages/reportPage.ts";

const { record, summary } = await openMirror(`${recordsFolder}/demo-150-f8`, "2026-11-30");

function at(value: unknown, path: string): unknown {
  return path.split(".").reduce<unknown>(
    (found, key) => (found as Record<string, unknown> | undefined)?.[key],
    value,
  );
}

Deno.test("quantities: the file has every one that is known, at its key", () => {
  const file: unknown = JSON.parse(summaryText(summary));
  for (const { key, of } of QUANTITIES) {
    const value = key === undefined ? undefined : of(summary);
    if (value === undefined) continue;
    assert.equal((at(file, key ?? "") as { readonly value: number }).value, value.value, key);
  }
});

Deno.test("quantities: names are those of the contract, each key and title once in its group", () => {
  const keys = QUANTITIES.flatMap(({ key }) => key ?? []);
  assert.equal(new Set(keys).size, keys.length);
  for (const key of keys) assert.equal(key, key.split(".").map(keyInFile).join("."));
  const names = QUANTITIES.map(({ group, title }) => `${group} ${title}`);
  assert.equal(new Set(names).size, names.length);
});

Deno.test("quantities: what check and the report are to tell of the demo, they tell", () => {
  const lines = tell(summary).join("\n");
  const told = knownQuantities(summary, "check");
  assert.ok(told.length >= 10, `${told.length} told`);
  for (const quantity of told) {
    const said = tellQ(quantity.value, quantity.digits);
    assert.match(lines, new RegExp(`${labelOf(quantity)}\\s+${said.replace(/[.+()]/g, "\\$&")}`));
  }
  const page = reportPage({ summary, record, builtOn: new Date("2026-11-30") });
  const rows = knownQuantities(summary, "report", ["curve", "figure"]);
  assert.ok(rows.length >= 8);
  for (const { title } of rows) assert.ok(page.includes(`<th scope="row">${title}</th>`), title);
});

Deno.test("quantities: a list of one's own is told in its order, and what is not known is left out", () => {
  const [radius] = QUANTITIES.filter(({ key }) => key === "curve.radius");
  assert.ok(radius);
  const none = { ...radius, title: "Nothing", of: () => undefined };
  const twice = { ...radius, title: "Twice", of: () => ({ value: 2, unit: "mm" }) };
  const found = knownQuantities(summary, "check", ["curve"], [none, twice, radius]);
  assert.deepEqual(found.map(({ title }) => title), ["Twice", "Radius of curvature"]);
});
