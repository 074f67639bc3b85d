/**
 * What to say to an answer: not that it is wrong, but what it shows.
 *
 * The same functions run in the page: `pageScript` writes out their source. So each of them uses nothing but the
 * language itself, `slips`, `ratios`, `lengths` and one another.
 */
import { FACTORS } from "../quantity/misconceptions.ts";
import {
  type ChoiceExercise,
  type Exercise,
  type Judgement,
  type NumberExercise,
  slips,
} from "./exercise.ts";

/** Ratios of a wrong answer to the right one that give the slip away, nearest first in the list of the course. */
export const ratios: readonly (readonly [ratio: number, say: string])[] = [
  [-1, `right but for its sign. ${slips.S}`],
  [1 / FACTORS.twice, `half of it. ${slips["2"]}`],
  [FACTORS.twice, `twice it. ${slips["2"]}`],
  [
    1 / FACTORS.twice ** 2,
    "a quarter of it. Was a radius taken where the whole width is meant, and squared?",
  ],
  [
    FACTORS.twice ** 2,
    "four times it. Was a whole width taken where half of it is meant, and squared?",
  ],
  [FACTORS.inch, `25.4 times too large. ${slips.U}`],
  [1 / FACTORS.inch, `25.4 times too small. ${slips.U}`],
  [FACTORS.thousand, `a thousand times too large. ${slips.U}`],
  [1 / FACTORS.thousand, `a thousand times too small. ${slips.U}`],
  [FACTORS.thousand ** 2, `a million times too large. ${slips.U}`],
  [1 / FACTORS.thousand ** 2, `a million times too small. ${slips.U}`],
  [FACTORS.point, "ten times too large. Look at the decimal point."],
  [1 / FACTORS.point, "ten times too small. Look at the decimal point."],
  [-2, `twice it, with the other sign. ${slips.S}`],
  [-0.5, `half of it, with the other sign. ${slips.S}`],
];

/** Lengths a learner may write behind a number, in mm. */
export const lengths: Readonly<Record<string, number>> = {
  nm: 1e-6,
  um: 1e-3,
  "µm": 1e-3,
  mm: 1,
  cm: 10,
  m: 1000,
  in: 25.4,
  '"': 25.4,
};

/**
 * The numbers a text may mean, likeliest first: decimal point or comma, a fraction, a unit behind, `±` and more ignored.
 *
 * @param text  as typed
 * @param unit  the unit asked for; another length is converted to it
 * @returns no number where none can be read; two where a comma may part thousands
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(numbersIn("−0,67", ""), [-0.67]);
 * assert.deepEqual(numbersIn("2.4 m", "mm"), [2400]);
 * assert.deepEqual(numbersIn("deep", "mm"), []);
 * ```
 */
export function numbersIn(text: string, unit: string): number[] {
  const plain = text.slice(0, 80).replace(/[\u2212\u2013\u2012]/g, "-").replace(/μ/g, "µ")
    .replace(/[\s\u2009\u202f\u00a0'_]/g, "");
  const read = /^([+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[+-]?\d+)?)(?:\/(\d+(?:[.,]\d+)?))?([^\d]*)/i
    .exec(
      plain.replace(/^(about|±|[a-z]{1,3}=|=)/i, ""),
    );
  if (read === null) return [];
  const [, above = "", below = "1", tail = ""] = read;
  const behind = tail.split("±")[0] ?? "";
  const from = lengths[behind], to = lengths[unit];
  if (behind !== "" && behind !== unit && (from === undefined || to === undefined)) return [];
  const factor = behind === "" || from === undefined || to === undefined ? 1 : from / to;
  const value = (digits: string): number =>
    Number(digits.replace(",", ".")) / Number(below.replace(",", ".")) * factor;
  const meanings = /^[+-]?[1-9]\d{0,2},\d{3}$/.test(above)
    ? [value(above), value(above.replace(",", ""))]
    : [value(above)];
  return meanings.filter(Number.isFinite);
}

/** The sentence behind a hint: a slip's, or the hint itself. */
function sentence(hint: string): string {
  return (slips as Readonly<Record<string, string>>)[hint] ?? hint;
}

/** A number as it is said back: four digits or what was typed, with a true minus and its unit. */
function saidBack(value: number, unit: string): string {
  const digits = String(Number(value.toPrecision(5))).replace("-", "−");
  return unit === "" ? digits : digits + "\u00a0" + unit;
}

/** By how much an answer is off, in words: a small part in per cent, a large one as a ratio. */
function howFar(got: number, answer: number): string {
  if (answer === 0 || got === 0 || got / answer < 0) return "";
  const ratio = Math.abs(got / answer), size = ratio > 1 ? "large" : "small";
  const off = Math.abs(ratio - 1);
  if (off < 0.6) return "too " + size + " by about " + Number((100 * off).toPrecision(1)) + " %";
  const times = Number((ratio > 1 ? ratio : 1 / ratio).toPrecision(2));
  return "about " + times + " times too " + size;
}

/** The hint that goes with the first, second, third answer. */
function hintFor(exercise: Exercise, attempt: number): string {
  return exercise.hints[Math.max(0, Math.min(2, Math.floor(attempt) - 1))] ?? exercise.hints[0];
}

function gradeNumber(exercise: NumberExercise, text: string, attempt: number): Judgement {
  const { answer, tolerance, unit, traps } = exercise;
  const meanings = numbersIn(text, unit);
  const near = (value: number, wanted: number, within: number): boolean =>
    Math.abs(value - wanted) <= within * (1 + 1e-9);
  const got = meanings.find((value) => near(value, answer, tolerance)) ?? meanings[0];
  if (got === undefined) {
    const example = unit === "" ? "0.5" : "12.5 " + unit;
    return {
      is: "unreadable",
      say: "A number is wanted" + (unit === "" ? "" : " in " + unit) + ", such as " + example + ".",
    };
  }
  const back = saidBack(got, unit);
  if (near(got, answer, tolerance)) return { is: "right", say: back + ". Yes." };
  const more = attempt > 1 ? " " + hintFor(exercise, attempt) : "";
  const far = howFar(got, answer);
  const off = far === "" ? back : back + " is " + far;
  const trap =
    traps.filter((t) =>
      near(got, t.value, t.within ?? Math.max(tolerance, Math.abs(t.value) * 0.004))
    )
      .sort((a, b) => Math.abs(got - a.value) - Math.abs(got - b.value))[0];
  if (trap !== undefined) return { is: "wrong", say: off + ": " + sentence(trap.hint) + more };
  const close = Math.max(0.004, Math.min(0.02, tolerance / Math.abs(answer)));
  const ratio = ratios.find(([r]) => Math.abs(got / answer / r - 1) <= close);
  if (ratio !== undefined) return { is: "wrong", say: back + " is " + ratio[1] + more };
  const yet = far === "" ? back + " is not it yet. " : off + ". ";
  return { is: "wrong", say: yet + hintFor(exercise, attempt) };
}

function gradeChoice(exercise: ChoiceExercise, text: string, attempt: number): Judgement {
  const bare = (words: string): string => words.trim().toLowerCase().replace(/\s+/g, " ");
  const got = exercise.choices.find((choice) => bare(choice) === bare(text));
  if (got === undefined) {
    return { is: "unreadable", say: "Choose one: " + exercise.choices.join("; ") + "." };
  }
  if (got === exercise.answer) return { is: "right", say: got + ". Yes." };
  const trap = exercise.traps.find((t) => t.value === got);
  const hint = trap === undefined ? hintFor(exercise, attempt) : sentence(trap.hint);
  const more = trap !== undefined && attempt > 1 ? " " + hintFor(exercise, attempt) : "";
  return { is: "wrong", say: got + ": " + hint + more };
}

/**
 * What to say to an answer.
 *
 * A known wrong answer is met with its own hint; one that is 2, 4, 25.4 or 1000 times off, or has the other sign,
 * with what that ratio gives away; any other with the next hint: a question, the number to look at, the worked line.
 * By how much a number is off is said in round figures.
 *
 * @param exercise  the exercise
 * @param answer    what was typed or computed; decimal comma or point, with or without its unit
 * @param attempt   1 for the first answer, 2 for the second ...
 * @returns never throws, whatever was typed
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import type { NumberExercise } from "./exercise.ts";
 * const exercise: NumberExercise = {
 *   id: "x-1",
 *   ask: "How deep is it?",
 *   unit: "mm",
 *   answer: 1.172,
 *   tolerance: 0.002,
 *   traps: [{ value: 4.688, hint: "D" }],
 *   hints: ["Which radius?", "Look at 2400.", "75² ÷ 4800 = 1.172 mm."],
 * };
 * assert.equal(judge(exercise, "1,172 mm").is, "right");
 * assert.match(judge(exercise, 4.69).say, /starts at the middle/);
 * ```
 */
export function judge(exercise: Exercise, answer: string | number, attempt = 1): Judgement {
  const text = String(answer);
  return "choices" in exercise
    ? gradeChoice(exercise, text, attempt)
    : gradeNumber(exercise, text, attempt);
}

/** The source of everything above, for a page's script. */
export function judgeSource(): string {
  const data = { slips, ratios, lengths };
  const constants = Object.entries(data).map(([name, value]) =>
    `const ${name} = ${JSON.stringify(value)};`
  );
  const functions = [
    numbersIn,
    sentence,
    saidBack,
    howFar,
    hintFor,
    gradeNumber,
    gradeChoice,
    judge,
  ];
  return [...constants, ...functions.map(String)].join("\n");
}

/** Listens for every exercise of the page, also for those a notebook adds later. */
const listener = `
document.documentElement.classList.add("js");
const attempts = new WeakMap();
document.addEventListener("submit", (event) => {
  const section = event.target.closest ? event.target.closest(".exercise") : null;
  if (section === null) return;
  event.preventDefault();
  const data = section.querySelector('script[type="application/json"]');
  const out = section.querySelector(".result");
  if (data === null || out === null) return;
  const typed = new FormData(event.target).get("answer");
  const attempt = (attempts.get(section) || 0) + 1;
  const { is, say } = judge(JSON.parse(data.textContent), typed === null ? "" : typed, attempt);
  if (is === "wrong") attempts.set(section, attempt);
  out.dataset.is = is;
  const words = document.createElement("span");
  words.textContent = say;
  out.replaceChildren(words);
});`;

/**
 * The classic script that makes exercises check themselves, with the same `judge` that tests run.
 *
 * Put it once into a page, inside `<script>`; a second copy does nothing.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(pageScript(), /function judge\(exercise, answer, attempt = 1\)/);
 * ```
 */
export function pageScript(): string {
  return `(function () {
if (window.firstMirrorExercises) return;
window.firstMirrorExercises = true;
${judgeSource()}
${listener}
})();`;
}
