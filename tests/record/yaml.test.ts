import assert from "node:assert/strict";
import { describe, Findings } from "../../lib/record/errors.ts";
import {
  choice,
  list,
  measure,
  number,
  type Reader,
  readYaml,
  section,
  words,
} from "../../lib/record/yaml.ts";

const SHAPE = section({
  name: words,
  legRadius: measure("length", 0, 100),
  side: choice("left", "right"),
  count: number(0, 10),
  group: section({ names: list(words, 0, 3) }),
}, ["name"]);

function read<T>(text: string, reader: Reader<T>): { value: T | undefined; told: string[] } {
  const findings = new Findings();
  const found = readYaml(text, "m.yaml", reader, findings);
  return { value: found?.value, told: findings.refusals.map(describe) };
}

Deno.test("keys in snake case become names in camel case", () => {
  const { value, told } = read(
    "name: n\nleg_radius: 2 in\nside: Left\ncount: 3\ngroup: { names: [a, b] }\n",
    SHAPE,
  );
  assert.deepEqual(told, []);
  assert.deepEqual(value, {
    name: "n",
    legRadius: 50.8,
    side: "left",
    count: 3,
    group: { names: ["a", "b"] },
  });
});

Deno.test("each key's line is kept, with remarks and blank lines counted", () => {
  const findings = new Findings();
  const found = readYaml("# first\nname: n\n\ngroup:\n  names: []\n", "m.yaml", SHAPE, findings);
  assert.deepEqual([...found?.keyLines ?? []], [["name", 2], ["group", 4], ["group.names", 5]]);
});

Deno.test("a wrong kind of thing is told by what stands there", () => {
  assert.match(
    read("name: [a]\n", SHAPE).told[0] ?? "",
    /column name: found "\[ \.\.\. \]", wanted one value/,
  );
  assert.match(
    read("name: n\ngroup: 3\n", SHAPE).told[0] ?? "",
    /column group: found "3", wanted keys with values/,
  );
  assert.match(
    read("name: n\ngroup: {names: {a: b}}\n", SHAPE).told[0] ?? "",
    /column group\.names: found "\{ \.\.\. \}", wanted a list/,
  );
  assert.match(
    read("name: n\ncount: many\n", SHAPE).told[0] ?? "",
    /column count: found "many", wanted a number/,
  );
  assert.match(read("name: n\ncount: 11\n", SHAPE).told[0] ?? "", /wanted 0 to 10/);
});

Deno.test("keys of a stranger build nothing: __proto__ and constructor are unknown keys", () => {
  const { told } = read(
    "name: n\n__proto__: { polluted: yes }\nconstructor: x\ntoString: y\n",
    SHAPE,
  );
  assert.equal(told.length, 3);
  assert.equal(({} as { polluted?: unknown }).polluted, undefined);
});

Deno.test("merge keys are unknown keys", () => {
  assert.match(read("name: n\n<<: { side: left }\n", SHAPE).told[0] ?? "", /found the key "<<"/);
});

Deno.test("broken YAML is told in its line, once a line", () => {
  for (
    const [text, line] of [["name: 'n\n", 1], ["name: n\ngroup: [a\n", 2], [
      "name: n\n\tside: left\n",
      2,
    ]] as const
  ) {
    const { value, told } = read(text, SHAPE);
    assert.equal(value, undefined);
    assert.match(told[0] ?? "", new RegExp(`^m\\.yaml, line (${line}|${line + 1}): found `), text);
    const lines = told.map((sentence) => /line \d+/.exec(sentence)?.[0]);
    assert.deepEqual([...new Set(lines)], lines);
  }
});

Deno.test("brackets within brackets end in a refusal, not in the machine's stack", () => {
  for (const sign of ["[", "{", "- ", "{a: "]) {
    const { told } = read(`name: ${sign.repeat(15_000)}\n`, SHAPE);
    assert.ok(told.length > 0, sign);
  }
});

Deno.test("aliases piled up are refused at the first anchor, before anything is unfolded", () => {
  let text = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n";
  for (let level = 1; level < 12; level++) {
    const before = `*a${level - 1}`;
    text += `a${level}: &a${level} [${Array(9).fill(before).join(", ")}]\n`;
  }
  const start = performance.now();
  const { value, told } = read(text, SHAPE);
  assert.equal(value, undefined);
  assert.equal(told.length, 1);
  assert.match(told[0] ?? "", /line 1: found an anchor/);
  assert.ok(performance.now() - start < 10_000);
});
