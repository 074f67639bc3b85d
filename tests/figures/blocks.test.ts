import assert from "node:assert/strict";
import { demo, facts, note, notYet, readingsTable, yours } from "../../lib/figures/blocks.ts";
import { safe } from "../../lib/figures/html.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { assertWellFormed, parsed } from "./soundFigure.ts";

const nasty = `<img src=x onerror="alert('1')">`;

Deno.test("yours, the demo's and not yet differ by class and by word, not by colour alone", () => {
  const blocks = [
    yours("Inés · 7 readings", "deep"),
    demo("Kestrel Lane", "deep"),
    notYet("spherometer", "Read it."),
  ];
  blocks.forEach(({ html }) => assertWellFormed(html));
  const kinds = blocks.map(({ html }) =>
    parsed(html).querySelector("section")?.getAttribute("class")
  );
  assert.deepEqual(kinds, ["yours", "demo", "yours empty"]);
  const tags = blocks.map(({ html }) => parsed(html).querySelector(".tag")?.textContent);
  assert.deepEqual(tags, [
    "Yours · Inés · 7 readings",
    "Demo mirror, not yours · Kestrel Lane",
    "Yours · spherometer · nothing yet",
  ]);
  assert.match(blocks[1]?.text ?? "", /^Demo mirror, not yours/);
});

Deno.test("text of a record stays text in every block", () => {
  const all = [
    yours(nasty, nasty),
    demo(nasty, nasty),
    notYet(nasty, nasty),
    note(nasty),
    facts([[nasty, nasty]]),
    readingsTable(nasty, [{ title: nasty, unit: nasty, text: true }], [{
      cells: [nasty],
      setAside: nasty,
    }]),
  ];
  for (const { html } of all) {
    assertWellFormed(html);
    assert.equal([...parsed(html).querySelectorAll("img")].length, 0);
    assert.ok(parsed(html).querySelector("body")?.textContent.includes(nasty));
  }
});

Deno.test("blocks nest", () => {
  const { html, text } = yours(
    "a",
    demo("b", "c"),
    facts([["Radius", measured(2396.6, 2.4, "mm")]]),
  );
  assertWellFormed(html);
  assert.match(text, /Yours · a\nDemo mirror, not yours · b\nc\nRadius: 2396.6 ± 2.4/);
});

Deno.test("facts pair name and value; what is unknown is a dash", () => {
  const document = parsed(
    facts([["Glass", "soda-lime"], ["Mass", undefined], ["Face", safe`<em>ground</em>`], [
      "Runs",
      5,
    ]]).html,
  );
  assert.deepEqual([...document.querySelectorAll("dt")].map((e) => e.textContent), [
    "Glass",
    "Mass",
    "Face",
    "Runs",
  ]);
  assert.deepEqual([...document.querySelectorAll("dd")].map((e) => e.textContent), [
    "soda-lime",
    "–",
    "ground",
    "5",
  ]);
});

const columns = [{ title: "Passes", unit: "mm" }, { title: "Sagitta", unit: "mm" }];

Deno.test("a table: heads with units, first cell of a row its head, units not said twice", () => {
  const table = readingsTable("Leaves", columns, [{
    cells: ["0.19", measured(0.202, 0.006, "mm")],
  }]);
  assertWellFormed(table.html);
  const document = parsed(table.html);
  assert.equal(
    document.querySelector('[role="region"]')?.getAttribute("aria-label"),
    "Leaves, table",
  );
  assert.equal(document.querySelector("th[scope=row]")?.textContent, "0.19");
  assert.equal(document.querySelector("td")?.textContent, "0.202 ± 0.006");
  assert.match(table.text, /Passes, mm \| Sagitta, mm\n0.19 \| 0.202 ± 0.006/);
});

Deno.test("a reading set aside is struck through in its place, with its reason", () => {
  const { html, text } = readingsTable("Leaves", columns, [
    { cells: ["0.19", "0.202"] },
    { cells: ["0.88", "0.894"], setAside: "far from the others" },
  ]);
  const document = parsed(html), rows = [...document.querySelectorAll("tbody tr")];
  assert.equal(rows.length, 2, "it is not deleted");
  assert.equal(rows[1]?.getAttribute("class"), "aside");
  assert.equal(rows[1]?.querySelector("s")?.textContent, "0.894");
  assert.match(
    document.querySelector("p.note")?.textContent ?? "",
    /kept in the file. far from the others/,
  );
  assert.match(text, /0.894 \| set aside: far from the others/);
});

Deno.test("a table refuses what its heads do not say", () => {
  assert.throws(() => readingsTable("x", [], []), /requires a column for each cell, got 0 columns/);
  assert.throws(() => readingsTable("x", columns, [{ cells: [1, 2, 3] }]), /2 columns, 3 cells/);
  assert.throws(
    () => readingsTable("x", columns, [{ cells: [1, measured(202, 6, "um")] }]),
    /requires Sagitta in mm, as its head says, got um/,
  );
});

Deno.test("an empty table still has its heads", () => {
  const { html } = readingsTable("x", columns, []);
  assertWellFormed(html);
  assert.equal([...parsed(html).querySelectorAll("th")].length, 2);
});
