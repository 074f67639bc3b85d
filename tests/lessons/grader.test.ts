import assert from "node:assert/strict";
import fc from "fast-check";
import type { ChoiceExercise, NumberExercise } from "../../lib/lessons/exercise.ts";
import { judge, judgeSource, numbersIn } from "../../lib/lessons/grader.ts";

const depth: NumberExercise = {
  id: "t-1",
  ask: "How deep?",
  unit: "mm",
  answer: 1.172,
  tolerance: 0.002,
  traps: [{ value: 4.688, hint: "D" }, { value: 2.346, hint: "F" }, {
    value: 1.141,
    hint: "That is at the chord of 148 mm.",
  }],
  hints: ["Which radius?", "Look at 2400.", "75² ÷ 4800 = 1.172 mm."],
};
const radius: NumberExercise = { ...depth, unit: "mm", answer: 2385, tolerance: 3, traps: [] };
const edge: ChoiceExercise = {
  id: "t-2",
  ask: "The edge?",
  choices: ["it is turned down", "it is turned up", "as it should be"],
  answer: "it is turned down",
  traps: [{ value: "it is turned up", hint: "S" }],
  hints: ["Which lean?", "Look at the slope.", "It falls away."],
};

Deno.test("a number is read in the ways learners write it", () => {
  // DERIVED: the number that was typed; 94 x 25.4 = 2387.6, 2.385 m = 2385 mm
  const read: [string, string, number[]][] = [
    ["1.172", "mm", [1.172]],
    ["1,172", "mm", [1.172, 1172]],
    ["0,172", "mm", [0.172]],
    [" 1.172 mm", "mm", [1.172]],
    ["1.172mm ± 0.002", "mm", [1.172]],
    ["−0.67", "", [-0.67]],
    ["–36 mm", "mm", [-36]],
    ["2 385", "mm", [2385]],
    ["2'385", "mm", [2385]],
    ["1/8", "", [0.125]],
    ["2.385 m", "mm", [2385]],
    ["94 in", "mm", [2387.6]],
    ["about 7", "min", [7]],
    ["s = 1.2", "mm", [1.2]],
    [".5", "", [0.5]],
    ["5.", "", [5]],
    ["1.2e3", "mm", [1200]],
  ];
  for (const [text, unit, wanted] of read) {
    const got = numbersIn(text, unit);
    assert.equal(got.length, wanted.length, text);
    got.forEach((value, i) => assert.ok(Math.abs(value - (wanted[i] ?? NaN)) < 1e-9, text));
  }
});

Deno.test("what is no number of that kind is not read as one", () => {
  for (
    const text of [
      "",
      "  ",
      "deep",
      "mm",
      "-",
      ".",
      ",",
      "NaN",
      "Infinity",
      "1/0",
      "7 kg",
      "5 apples",
    ]
  ) {
    assert.deepEqual(numbersIn(text, "mm"), [], text);
    const said = judge(depth, text);
    assert.equal(said.is, "unreadable", text);
    assert.match(said.say, /A number is wanted in mm/);
  }
});

Deno.test("right answers are right within the tolerance, and only there", () => {
  assert.deepEqual(judge(depth, "1.172"), { is: "right", say: "1.172\u00a0mm. Yes." });
  assert.equal(judge(depth, 1.174).is, "right");
  assert.equal(judge(depth, 1.170).is, "right");
  assert.equal(judge(depth, 1.1745).is, "wrong");
  assert.equal(judge(depth, 1.1695).is, "wrong");
  assert.equal(judge(radius, "2,385").is, "right", "a comma that parts thousands");
  assert.equal(judge(radius, "2.385 m").is, "right", "another unit of length");
});

Deno.test("a known wrong answer is met with its own hint", () => {
  assert.match(
    judge(depth, 4.69).say,
    /^4\.69\u00a0mm is about 4 times too large: You used the distance all the way across/,
  );
  assert.match(judge(depth, "2.35").say, /R = 2f/);
  assert.match(judge(depth, "1,141").say, /chord of 148 mm/);
  assert.doesNotMatch(judge(depth, 4.69, 1).say, /Look at 2400/);
  assert.match(judge(depth, 4.69, 2).say, /all the way across.* Look at 2400\.$/);
  assert.match(judge(depth, 4.69, 3).say, /75² ÷ 4800/);
});

Deno.test("of two traps that are near the nearer one speaks", () => {
  const close = {
    ...radius,
    traps: [{ value: 2450, hint: "a", within: 60 }, { value: 2402, hint: "b" }],
  };
  assert.match(judge(close, 2403).say, /: b$/);
  assert.match(judge(close, 2420).say, /: a$/);
});

Deno.test("a ratio gives the slip away", () => {
  // INVENTED answer 2385; DERIVED: what each slip makes of it
  const said: [number, RegExp][] = [
    [-2385, /right but for its sign/],
    [1192.5, /half of it/],
    [4770, /twice it/],
    [9540, /four times it/],
    [596, /a quarter/],
    [2385 / 25.4, /25\.4 times too small.*1 in = 25\.4 mm/],
    [2385 * 25.4, /25\.4 times too large/],
    [2.385, /a thousand times too small/],
    [2385e3, /a thousand times too large/],
    [2385e6, /a million times too large/],
    [238.5, /decimal point/],
    [-4770, /other sign/],
  ];
  for (const [answer, hint] of said) {
    const { is, say } = judge(radius, answer);
    assert.equal(is, "wrong");
    assert.match(say, hint);
  }
});

Deno.test("any other answer gets a question, the number to look at, the worked line", () => {
  // DERIVED: 1.172 x 1.58 and 1.172 x 1.62 mm, above 1.6 a ratio is said
  assert.match(judge(depth, 1.852, 1).say, /too large by about 60 %/);
  assert.match(judge(depth, 1.899, 1).say, /about 1\.6 times too large/);
  assert.equal(judge(depth, 1.5, 1).say, "1.5\u00a0mm is too large by about 30 %. Which radius?");
  assert.equal(judge(depth, 1.5, 2).say, "1.5\u00a0mm is too large by about 30 %. Look at 2400.");
  assert.equal(
    judge(depth, 1.5, 3).say,
    "1.5\u00a0mm is too large by about 30 %. 75² ÷ 4800 = 1.172 mm.",
  );
  assert.equal(judge(depth, 1.5, 99).say, judge(depth, 1.5, 3).say);
  assert.equal(judge(depth, 1.5, -7).say, judge(depth, 1.5, 1).say);
});

Deno.test("a choice is judged by its words", () => {
  assert.equal(judge(edge, " It is  turned DOWN ").is, "right");
  assert.match(judge(edge, "it is turned up").say, /Say in words what went up/);
  assert.match(judge(edge, "as it should be").say, /Which lean\?$/);
  assert.match(judge(edge, "as it should be", 2).say, /Look at the slope/);
  assert.equal(judge(edge, "up").is, "unreadable");
});

Deno.test("an answer of nothing, a sign for a mark: the right sign is asked for", () => {
  const shorter: NumberExercise = { ...radius, answer: -35.5, tolerance: 1.5 };
  assert.equal(judge(shorter, "−36").is, "right");
  assert.match(judge(shorter, "36").say, /sign/);
});

Deno.test("an answer of zero has no ratios and is still judged", () => {
  const zero: NumberExercise = { ...depth, answer: 0, tolerance: 0.1, traps: [] };
  assert.equal(judge(zero, 0.05).is, "right");
  assert.match(judge(zero, 3).say, /not it yet/);
});

Deno.test("whatever is typed, judge answers with a sentence and does not throw", () => {
  fc.assert(
    fc.property(
      fc.oneof(
        fc.string({ maxLength: 300 }),
        fc.double(),
        fc.constantFrom("__proto__", "constructor"),
      ),
      fc.oneof(fc.integer(), fc.constantFrom(NaN, Infinity, -Infinity, 0.5)),
      (answer, attempt) => {
        for (const exercise of [depth, radius, edge]) {
          const { is, say } = judge(exercise, answer, attempt);
          assert.ok(["right", "wrong", "unreadable"].includes(is));
          assert.ok(say.length > 3 && !say.includes("undefined"), say);
        }
      },
    ),
  );
});

Deno.test("a right answer stays right however its decimals are written", () => {
  fc.assert(fc.property(fc.double({ min: -9999, max: 9999, noNaN: true }), (value) => {
    const answer = Number(value.toFixed(3));
    const exercise = { ...depth, answer, tolerance: 0.0006, traps: [] };
    const text = answer.toFixed(3);
    for (const typed of [text, text.replace(".", ","), text.replace("-", "−"), `${text} mm`]) {
      assert.equal(judge(exercise, typed).is, "right", typed);
    }
  }));
});

Deno.test("the source for a page gives the same words as the module", () => {
  const inPage = new Function(`${judgeSource()}\nreturn judge;`)() as typeof judge;
  const answers = ["1.172", "4.69", "deep", "2.344", "0,0461", "1.5", "it is turned up", ""];
  for (const exercise of [depth, edge]) {
    for (const answer of answers) {
      for (const attempt of [1, 2, 3]) {
        assert.deepEqual(inPage(exercise, answer, attempt), judge(exercise, answer, attempt));
      }
    }
  }
});
