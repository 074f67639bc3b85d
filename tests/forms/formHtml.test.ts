/** The markup of a form: named inputs, labels, places for refusals, and nothing that a record's text could run. */
import assert from "node:assert/strict";
import { parseHTML } from "linkedom";
import { formHtml } from "../../lib/forms/formHtml.ts";
import { tableForm } from "../../lib/forms/tableForm.ts";
import { TABLES } from "../../lib/record/schema.ts";
import { read } from "../record/bench.ts";

/** As much of a document as is looked at. */
interface Page {
  querySelector(selector: string): Element | null;
  querySelectorAll(selector: string): Iterable<Element>;
}
interface Element {
  readonly textContent: string;
  getAttribute(name: string): string | null;
}
const pageOf = (html: string): Page =>
  (parseHTML(`<html><body>${html}</body></html>`) as unknown as { document: Page }).document;

Deno.test("every field has a label, a place for its refusal, and keys for numbers where it takes them", async () => {
  const record = await read({});
  for (const table of TABLES) {
    const form = tableForm(table, undefined, record, "2026-11-30");
    const document = pageOf(formHtml(form, "f").markup);
    const inputs = [...document.querySelectorAll(`form[data-table="${table}"] input`)];
    assert.deepEqual(
      inputs.map((one) => one.getAttribute("name")),
      form.fields.map(({ name }) => name),
    );
    for (const [at, input] of inputs.entries()) {
      const id = input.getAttribute("id"), field = form.fields[at];
      assert.ok(document.querySelector(`label[for="${id}"]`), `${table} ${field?.name}`);
      assert.ok(document.querySelector(`[data-refusal="${field?.name}"]`));
      if (field?.write === "photo") assert.equal(input.getAttribute("capture"), "environment");
      else assert.equal(input.getAttribute("type"), "text");
      const isNumber = field?.write === "number" || field?.write === "sum";
      assert.equal(input.getAttribute("inputmode"), isNumber ? "decimal" : null);
    }
    assert.equal(document.querySelector("button[type=submit]")?.textContent, "Add");
  }
});

Deno.test("a column's name is text, whatever it holds", () => {
  const evil = `"><img src=x onerror=alert(1)>`;
  const field = { name: evil, label: evil, meaning: evil, example: evil, write: "words" } as const;
  const form = { table: "sun", title: evil, remarks: [evil] } as const;
  const one = { ...field, usual: evil, choices: [evil], required: true };
  const document = pageOf(formHtml({ ...form, fields: [one] }, "f").markup);
  assert.equal([...document.querySelectorAll("img")].length, 0);
  assert.equal(document.querySelector("input")?.getAttribute("value"), evil);
});
