import assert from "node:assert/strict";
import { type ClassAtHand, demoClass } from "../../lib/knowledge/classBeside.ts";
import * as makers from "../../lib/stages/makers.ts";
import * as tables from "../../lib/stages/many.ts";
import { demo, empty, halfway, HARM } from "./mirrors.ts";
import { stemOf } from "../stems.ts";

const many = { ...tables, ...makers };
const kestrel = await demoClass(), own: ClassAtHand = { ...kestrel, isDemo: false };
const none: ClassAtHand = { many: { name: "none", rows: [], unreadable: [] }, isDemo: false };
const hostile: ClassAtHand = {
  isDemo: false,
  many: {
    name: HARM,
    rows: kestrel.many.rows.map((row) => ({ ...row, title: HARM, slip: HARM, warnings: [HARM] })),
    unreadable: [{ record: HARM, why: [HARM], refusals: 2 }],
  },
};
const blocks = {
  classTable: many.classTable,
  decideClass: many.decideClass,
  farthestOne: many.farthestOne,
  makersApart: many.makersApart,
  queues: many.queues,
  whoFirst: many.whoFirst,
};

Deno.test("every block has words, whole markup and no hole, for the demo class, one's own, none, and harm", () => {
  for (const at of [kestrel, own, none, hostile]) {
    for (const [name, make] of Object.entries(blocks)) {
      const { html, text } = make(at);
      assert.notEqual(text.trim(), "", name);
      assert.doesNotMatch(html + text, /\bundefined\b|\bNaN\b|\[object |Infinity/, name);
      assert.ok(!/<img|<script>alert|onerror="alert/.test(html), name);
      for (const tag of ["section", "table", "svg", "p", "figure", "td", "th"]) {
        const count = (mark: string): number => html.match(new RegExp(mark, "g"))?.length ?? 0;
        assert.equal(count(`<${tag}(?=[\\s>])`), count(`</${tag}>`), `${name}: <${tag}>`);
      }
    }
  }
});

Deno.test("the demo class is marked as nobody's own, a class of one's own as yours", () => {
  assert.match(many.classTable(kestrel).text, /^Demo class, not yours · class-kestrel-lane, 12/);
  assert.match(many.classTable(own).text, /^Yours · class-kestrel-lane, 12 mirrors/);
});

Deno.test("the order is of benches: the table and the dots follow the numbers, never the result", () => {
  for (const { text } of [many.classTable(own), many.makersApart(own)]) {
    const seen = [...text.matchAll(/\bBench (\d+)/g)].map(([, number]) => Number(number));
    assert.deepEqual(seen.slice(0, 12), Array.from({ length: 12 }, (_, i) => i + 1));
  }
});

Deno.test("too deep by: each bench's sagitta less its own wanted one, with its sign", () => {
  // DERIVED: half a step of the last digit, and a thousandth of it for the last bit
  const shown = many.classTable(own).text.split("\n");
  for (const { title, sagitta, targetSagitta } of own.many.rows) {
    const line = shown.find((row) => row.startsWith(`${title} |`)) ?? "";
    const [, value = "", u = ""] = /\| (\S+) ± ([\d.]+)$/.exec(line) ?? [];
    const deeper = 1000 * ((sagitta?.value ?? NaN) - targetSagitta);
    // as many digits as its uncertainty has
    const half = 0.5 * 10 ** -(u.split(".")[1]?.length ?? 0);
    assert.ok(
      Math.abs(Number(value.replace("−", "-")) - deeper) <= half * 1.001,
      `${line}: ${deeper}`,
    );
  }
});

Deno.test("what the notebook says of the spread is what its figures show", async () => {
  const text = await Deno.readTextFile(
    new URL(`../../notebooks/${stemOf("compare-class")}.ipynb`, import.meta.url),
  );
  const of = (mended = {}): string =>
    /lie ([\d.]+) mm apart/.exec(many.makersApart(kestrel, "leaves", mended).text)?.[1] ?? "";
  const mended = of({ "bench-06": 1229 * (148 / 150) ** 2 });
  assert.ok(text.includes(`From ${of()} to ${mended} mm`), `${of()} to ${mended}`);
  assert.match(many.makersApart(kestrel).text, /Ringed, far from the others: Bench 6\./);
  assert.doesNotMatch(many.makersApart(kestrel, "leaves", { "bench-06": 1197 }).text, /Ringed/);
  assert.match(
    many.farthestOne(kestrel).text,
    /2\.33 standard deviations off, limit 2\.41: a test keeps/,
  );
});

Deno.test("a mirror of another plan is not compared, one without a curve is told what to do", () => {
  assert.match(
    many.yourPlace(demo, kestrel).text,
    /^Yours · Asha.*\nFocal length 1198\.3 mm[\s\S]*mean is 1198/,
  );
  assert.match(many.yourPlace(halfway, kestrel).text, /another plan/);
  assert.match(many.yourPlace(empty, kestrel).text, /No focal length yet/);
});

Deno.test("the decision follows the first of the order", () => {
  assert.match(many.decideClass(kestrel).text, /^Decide: go to Bench 11, blue/);
  assert.match(many.decideClass(none).text, /^Decide: nobody yet/);
});

Deno.test("a class too large to draw is told in a sentence", () => {
  const rows = Array.from({ length: 10 }, () => kestrel.many.rows).flat();
  const shown = many.makersApart({ ...own, many: { ...own.many, rows } });
  assert.match(shown.text, /The makers lie/);
  assert.doesNotMatch(shown.html, /<svg/);
});
