/** What is said to a guess, how well a reader guesses, and a value tried in a cell. */
import assert from "node:assert/strict";
import fc from "fast-check";
import {
  type Guess,
  guessed,
  guessMark,
  guessOf,
  guessSource,
  howWell,
  trialOf,
  withTrial,
} from "../../lib/lessons/guess.ts";

const depth: Guess = { unit: "mm", truth: 1.172 };

Deno.test("a mark holds a unit or choices, and an answer that is one of them", () => {
  assert.deepEqual(guessMark({ unit: "" }), { unit: "" });
  for (
    const [mark, says] of [
      [undefined, /requires a mark/],
      [[], /requires a mark/],
      [{}, /a unit, or choices/],
      [{ unit: "mm", choices: ["a", "b"] }, /not both/],
      [{ choices: ["a"] }, /a unit, or choices/],
      [{ choices: ["a", "b"], comes: "c" }, /among its choices, got c/],
      [{ unit: "mm", found: "x" }, /got found/],
    ] as const
  ) assert.throws(() => guessMark(mark), says);
});

Deno.test("what came out is read from the cell's own words", () => {
  // INVENTED words of cells; DERIVED: the number that stands in them
  assert.equal(guessOf({ unit: "mm" }, "−30.75 mm").truth, -30.75);
  assert.equal(
    guessOf({ unit: "h", find: "edge after ([\\d.]+)" }, "centre after 3.8 h, edge after 5.6 h")
      .truth,
    5.6,
  );
  assert.equal(
    guessOf({ unit: "pairs", counts: "\\| apart" }, "A | apart\nB | not\nC | apart").truth,
    2,
  );
  assert.equal(guessOf({ unit: "mm", find: "spreads by (\\d+)" }, "nothing yet").truth, undefined);
  assert.equal(guessOf({ choices: ["a", "b"], comes: "b" }, "").truth, "b");
});

Deno.test("a number is told by how far off it is: near, within twice, farther, the other sign", () => {
  // DERIVED: 5 / 1.172 = 4.27; 1.4 / 1.172 = 1.19; 1.172 / 0.1 = 11.7
  const said: readonly (readonly [string, string, RegExp])[] = [
    ["1.172", "near", /So it is\.$/],
    ["1,2", "near", /very near, too large by about 2\u00a0%\.$/],
    ["1.4", "twice", /too large by about 20\u00a0%\.$/],
    ["0.7 mm", "twice", /too small by about 40\u00a0%\.$/],
    ["5", "far", /It is 1\.172\u00a0mm: your guess is about 4\.3 times too large\.$/],
    ["0.1", "far", /about 12 times too small\.$/],
    ["0.1 cm", "twice", /You guessed 1\u00a0mm\./],
    ["-1", "far", /has the other sign\.$/],
    ["0", "far", /off by 1\.172\u00a0mm\.$/],
    ["as a coin", "untold", /^You guessed as a coin\. It is 1\.172\u00a0mm\.$/],
  ];
  for (const [typed, how, say] of said) {
    const told = guessed(depth, typed);
    assert.equal(told.how, how, typed);
    assert.match(told.say, say);
  }
  assert.equal(guessed({ unit: "", truth: 6, exact: true }, "7").how, "far");
  assert.equal(guessed({ unit: "mm" }, "7").how, "untold", "what only the reader can see");
});

Deno.test("words are right, or what comes out is said; other words stay as they were typed", () => {
  const which: Guess = { choices: ["a coin", "a finger"], truth: "a coin" };
  assert.equal(guessed(which, " A  coin.").say, "You guessed a coin. So it is.");
  assert.equal(guessed(which, "a finger").say, "You guessed a finger. It is: a coin.");
  assert.equal(guessed(which, "5").say, "You guessed 5. It is: a coin.");
  assert.match(guessed({ choices: ["x", "y"] }, "x").say, /Compare it with the result/);
});

Deno.test("whatever is typed, a guess is told in a sentence", () => {
  fc.assert(fc.property(fc.string({ minLength: 1, maxLength: 200 }), (typed) => {
    for (const guess of [depth, { choices: ["a", "b"], truth: "a" }, { unit: "%" }] as Guess[]) {
      const { say } = guessed(guess, typed);
      assert.ok(say.startsWith("You guessed ") && say.endsWith("."), say);
      assert.doesNotMatch(say, /undefined|NaN/);
    }
  }));
});

Deno.test("how well a reader guesses: how many, how near, and which way they lean", () => {
  assert.match(howWell([], 5), /^This page asks for 5 guesses\. Guess first/);
  assert.match(howWell([], 1), /asks for 1 guess\./);
  const all = ["5", "2.3", "1.2"].map((typed) => guessed(depth, typed));
  // DERIVED: 5 / 1.172 = 4.27, 2.3 / 1.172 = 1.96 in the middle, 1.2 / 1.172 = 1.02
  assert.equal(
    howWell(all, 4),
    "You guessed 3 of 4: 1 right or within a tenth, 1 within twice, 1 farther off. " +
      "A number of yours is usually off by a factor of 2.0. More of them are too large than too small.",
  );
  assert.doesNotMatch(howWell(all.slice(0, 2), 4), /factor/, "two are too few to say");
});

Deno.test("a value to try is marked behind its line, and takes the value's place as a text or a number", () => {
  assert.deepEqual(trialOf('const jar = "F80"; // try #400'), {
    name: "jar",
    value: "#400",
    unit: "",
  });
  assert.equal(trialOf("const a = 1; // tried"), undefined);
  const source = 'const jar = "F80"; // try #400\nconst wide = 150;\nshow(wide);';
  assert.equal(
    withTrial(source, "jar", 'F4"00')?.split("\n")[0],
    'const jar = "F4\\"00"; // try #400',
  );
  assert.equal(withTrial(source, "wide", "200 mm", "mm")?.split("\n")[1], "const wide = 200;");
  assert.equal(withTrial(source, "wide", "$& $1", "mm"), undefined);
  assert.equal(withTrial(source, "wide", "wide"), undefined);
  assert.equal(withTrial(source, "gone", "1"), undefined);
});

Deno.test("whatever is typed into a text's place stays one text", () => {
  fc.assert(fc.property(fc.string({ maxLength: 60 }), (typed) => {
    const now = withTrial('const jar = "F80";', "jar", typed) ?? "";
    const kept = /^const jar = (".*");$/s.exec(now)?.[1] ?? "";
    assert.equal(JSON.parse(kept), typed.trim());
  }));
});

Deno.test("the source for a page says the same as the module", () => {
  const inPage = new Function(`${guessSource()}\nreturn { guessed, howWell, withTrial };`)();
  for (const typed of ["5", "1,2", "coin", "0", "-3"]) {
    assert.deepEqual(inPage.guessed(depth, typed), guessed(depth, typed));
  }
  const all = ["5", "2.3", "1.2"].map((typed) => guessed(depth, typed));
  assert.equal(inPage.howWell(all, 4), howWell(all, 4));
  assert.equal(inPage.withTrial("const a = 1;", "a", "2"), "const a = 2;");
});
