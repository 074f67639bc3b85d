/** What a cell holds, guessed within a factor of two; and a loop that eats memory is ended by it. */
import assert from "node:assert/strict";
import { readCell } from "../../lib/living/cellCode.ts";
import { heldBy } from "../../lib/living/memory.ts";
import { Session } from "../../lib/living/session.ts";

Deno.test("what is held is guessed within a factor of two of what was made", () => {
  // DERIVED: 8 bytes a number, 2 a letter of a text that may hold any letter
  const made: readonly (readonly [unknown, number])[] = [
    [new Array(1e6).fill(1.5), 8e6],
    [new Float64Array(1e6), 8e6],
    [Array.from({ length: 100 }, () => new Array(1e4).fill(1.5)), 8e6],
    ["x".repeat(1e6), 2e6],
    [{ deep: { list: new Array(1e6).fill(1.5) } }, 8e6],
    [new Map([[1, new Float64Array(1e6)]]), 8e6],
  ];
  for (const [value, bytes] of made) {
    const ratio = heldBy(value) / bytes;
    assert.ok(ratio > 0.5 && ratio < 2, `${ratio}`);
  }
  const round: unknown[] = [];
  round.push(round);
  assert.ok(heldBy(round) < 1000, "what holds itself ends");
});

const run = async (source: string): Promise<[message?: string, line?: number]> => {
  const session = new Session({
    load: () => Promise.resolve(undefined),
    modules: [],
    library: new Map(),
  });
  const { refused } = await session.run(readCell(source), new Set());
  return refused === undefined ? [] : [refused.message, refused.line ?? 0];
};

for (
  const [what, source, line] of [
    ["by a name of the page", "const all = [];\nfor (;;) all.push(new Float64Array(1e6));", 2],
    [
      "by a function's own variable",
      "function eat() {\n  const all = [];\n  while (true) {\n    all.push(new Float64Array(1e6));\n  }\n}\neat();",
      3,
    ],
    [
      "after many light rounds",
      "let n = 0;\nwhile (n < 1e6) n++;\nconst all = [];\ndo { all.push(new Float64Array(1e7)); } while (true);",
      4,
    ],
  ] as const
) {
  Deno.test(`a loop that eats memory is ended, ${what}`, async () => {
    assert.deepEqual(await run(source), ["the cell asked for more memory than there is.", line]);
  });
}

Deno.test("a long loop that holds little runs to its end, and loses little time by being counted", async () => {
  const begun = performance.now();
  const light =
    "let s = 0;\nfor (let i = 0; i < 2e7; i++) s += i;\nfor (const x of [1, 2]) s += x;";
  assert.deepEqual(await run(light), []);
  assert.ok(performance.now() - begun < 4000);
});
