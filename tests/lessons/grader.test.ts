import assert from "node:assert/strict";
import fc from "fast-check";
import type { ChoiceExercise, NumberExercise } from "../../lib/lessons/exercise.ts";
import { exercises } from "../../lib/lessons/exercises.ts";
import { judge, judgeSource, numbersIn, pageScript, spelledOut } from "../../lib/lessons/grader.ts";
import { numberExercise } from "./agrees.ts";

const depth: NumberExercise = {
  id: "t-1",
  ask: "How deep?",
  unit: "mm",
  answer: 1.172,
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
    ["0.05 h", "min", [3]],
    ["1104 g", "kg", [1.104]],
    ["64 %", "", [0.64]],
    ["4.3 %", "%", [4.3]],
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

Deno.test("an empty answer is not judged", () => {
  for (const exercise of [depth, edge]) {
    for (const text of ["", "  "]) assert.equal(judge(exercise, text).is, "empty");
  }
});

Deno.test("right within the task's doubt, close within three times that, else off", () => {
  assert.deepEqual(judge(depth, "1.172"), { is: "right", say: "1.172\u00a0mm. Yes." });
  // DERIVED: 5 % of 1.172 is 0.0586, three times that 0.1758
  assert.equal(judge(depth, 1.23).is, "right");
  assert.equal(judge(depth, 1.115).is, "right");
  assert.equal(judge(depth, 1.24).is, "close");
  assert.equal(judge(depth, 1.34).is, "close");
  assert.equal(judge(depth, 1.01).is, "close");
  assert.equal(judge(depth, 1.36).is, "off");
  assert.equal(judge(depth, 0.98).is, "off");
  // DERIVED: a doubt of its own, 3 mm; but half of the second figure of 2385 is 50 mm
  assert.equal(judge(radius, 2400).is, "right", "rounded to two figures");
  assert.equal(judge(radius, 2434).is, "right");
  assert.equal(judge(radius, 2440).is, "close");
  assert.equal(judge(radius, 2534).is, "close");
  assert.equal(judge(radius, 2540).is, "off");
  assert.equal(judge(radius, "2,385").is, "right", "a comma that parts thousands");
  assert.equal(judge(radius, "2.385 m").is, "right", "another unit of length");
  assert.match(
    judge(depth, 1.24).say,
    /is close, too large by about 6\u00a0%\. Keep one digit more/,
  );
});

Deno.test("a count has no doubt: it is right, or off", () => {
  const count = {
    ...radius,
    unit: "",
    answer: 108,
    tolerance: 0,
    traps: [{ value: 12, hint: "a" }],
  };
  assert.equal(judge(count, 108).is, "right");
  for (const off of [107, 109, 110]) assert.equal(judge(count, off).is, "off");
  assert.match(judge(count, 12).say, /: a$/);
});

Deno.test("what a person rounds to two figures is right in every exercise of the course, a count excepted", () => {
  let met = 0;
  for (const each of exercises) {
    if ("choices" in each || each.tolerance === 0) continue;
    for (const figures of [2, 3, 4]) {
      const typed: number = Number(each.answer.toPrecision(figures));
      assert.equal(judge(each, typed).is, "right", `${each.id}: ${typed}`);
      assert.equal(judge(each, `${typed} ${each.unit}`).is, "right", `${each.id}: ${typed}`);
    }
    met++;
  }
  // DERIVED: 60 exercises, less 9 of choice and 2 counts
  assert.equal(met, exercises.filter((each) => !("choices" in each)).length - 2);
});

Deno.test("answers that a person gives, and that the page's own rules give, are right", () => {
  // DERIVED: 68 ÷ 21.7 = 3.1; exp(-0.163²) = 0.974; 57² ÷ 3600 = 0.903; 61 ÷ 9.1 = 6.7; 2 × 2 ÷ 75 = 5.3 %
  const given = [
    ["shape-surface-1", "3"],
    ["judge-mirror-3", "0.98"],
    ["choose-mirror-1", "0.9"],
    ["correct-depth-1", "7"],
    ["prepare-discs-3", "5.3"],
    ["pour-lap-2", "64 %"],
    ["choose-mirror-3", "1/8"],
    ["prepare-discs-1", "1100 g"],
  ] as const;
  for (const [id, text] of given) assert.equal(judge(numberExercise(id), text).is, "right", id);
});

Deno.test("misconceptions that had another's hint meet their own", () => {
  // DERIVED: 561 µm are 0.561 mm; f is half of 2385 mm
  const mm = judge(numberExercise("grind-hollow-1"), -0.561);
  assert.equal(mm.is, "off");
  assert.match(mm.say, /a thousand times too small\. Look at the units/);
  const f = judge(numberExercise("measure-curve-1"), 1192.4);
  assert.match(f.say, /The Sun finds f/);
  const hours = judge(numberExercise("shape-surface-1"), 0.0523);
  assert.match(hours.say, /in hours/);
});

Deno.test("a known wrong answer is met with its own hint", () => {
  assert.match(
    judge(depth, 4.69).say,
    /^4\.69\u00a0mm is about 4 times too large: You used the distance all the way across/,
  );
  assert.match(judge(depth, "2.35").say, /R = 2f/);
  assert.match(judge(depth, "1,141").say, /chord of 148 mm/);
  assert.doesNotMatch(judge(depth, 4.69).say, /Look at 2400/);
  assert.doesNotMatch(judge(depth, 4.4).say, /all the way across/, "only where it is met exactly");
});

Deno.test("of two traps that are near the nearer one speaks", () => {
  const close = {
    ...radius,
    traps: [{ value: 2450, hint: "a", within: 60 }, { value: 2402, hint: "b", within: 3 }],
  };
  assert.match(judge(close, 2403).say, /: b$/);
  assert.match(judge(close, 2420).say, /: a$/);
});

Deno.test("a ratio gives the misconception away", () => {
  // INVENTED answer 2385; DERIVED: what each misconception makes of it
  const said: [number, RegExp][] = [
    [-2385, /right but for its sign/],
    [1192.5, /half of it/],
    [4770, /twice it/],
    [9540, /four times it/],
    [596.25, /a quarter/],
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
    assert.equal(is, "off");
    assert.match(say, hint);
  }
});

Deno.test("any other answer is told by how much it is off, without a hint", () => {
  // DERIVED: 1.172 x 1.58 and 1.172 x 1.62 mm, above 1.6 a ratio is said
  assert.equal(judge(depth, 1.852).say, "1.852\u00a0mm is too large by about 60\u00a0%. Not yet.");
  assert.match(judge(depth, 1.899).say, /about 1\.6 times too large/);
  assert.equal(judge(depth, 1.5).say, "1.5\u00a0mm is too large by about 30\u00a0%. Not yet.");
});

Deno.test("a choice is judged by its words", () => {
  assert.equal(judge(edge, " It is  turned DOWN ").is, "right");
  assert.match(judge(edge, "it is turned up").say, /Say in words what went up/);
  assert.equal(judge(edge, "as it should be").say, "as it should be: not yet.");
  assert.equal(judge(edge, "turned down").is, "right", "a part that fits one choice only");
  assert.equal(judge(edge, "it is turned").is, "unreadable", "a part that fits two");
  assert.equal(judge(edge, "sideways").is, "unreadable");
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
      (answer) => {
        for (const exercise of [depth, radius, edge]) {
          const { is, say } = judge(exercise, answer);
          assert.ok(["right", "close", "off", "unreadable", "empty"].includes(is));
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
  const inPage = new Function(`${judgeSource()}\nreturn judgeSpelled;`)() as typeof judge;
  const answers = ["1.172", "4.69", "deep", "2.344", "0,0461", "1.5", "it is turned up", "", "0.9"];
  for (const exercise of [depth, edge, ...exercises]) {
    const known = exercise.traps.map(({ value }) => String(value));
    for (const answer of [...answers, ...known]) {
      assert.deepEqual(inPage(spelledOut(exercise), answer), judge(exercise, answer));
    }
  }
});

Deno.test("the page's script names no misconception in plain words", () => {
  for (const words of ["all the way across", "Count the passes", "decimal point", "25.4 times"]) {
    assert.ok(!pageScript().includes(words), words);
  }
});
