/**
 * What to say to an answer: not that it is wrong, but what it shows.
 *
 * The same functions run in the page: `pageScript` writes out their source. So each of them uses nothing but the
 * language itself, `units`, `ratios` and one another.
 */
import {
  type ChoiceExercise,
  type Exercise,
  type Judgement,
  type NumberExercise,
} from "./exercise.ts";
import { opened } from "./opened.ts";
import { seal, unsealSource } from "./sealed.ts";
import script from "./exercises.js" with { type: "text" };

const { ratios, misconceptions } = opened;

/** Units a learner may write behind a number: what they measure, and how large each is. */
export const units: Readonly<Record<string, readonly [kind: string, size: number]>> = {
  nm: ["length", 1e-6],
  um: ["length", 1e-3],
  "µm": ["length", 1e-3],
  mm: ["length", 1],
  cm: ["length", 10],
  m: ["length", 1000],
  in: ["length", 25.4],
  '"': ["length", 25.4],
  s: ["time", 1 / 60],
  min: ["time", 1],
  h: ["time", 60],
  mg: ["mass", 1e-3],
  g: ["mass", 1],
  kg: ["mass", 1000],
  "": ["share", 1],
  "%": ["share", 0.01],
};

/**
 * The numbers a text may mean, likeliest first: decimal point or comma, a fraction, a unit behind, `±` and more ignored.
 *
 * @param text  as typed
 * @param unit  the unit asked for; another of the same kind is converted to it
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
  const behind = (tail.split("±")[0] ?? "").replace(/[.!]$/, "");
  const from = units[behind],
    to = units[unit],
    known = behind === "" || behind === unit.replace(/\s/g, "");
  if (!known && (from === undefined || to === undefined || from[0] !== to[0])) return [];
  const factor = known || from === undefined || to === undefined ? 1 : from[1] / to[1];
  const value = (digits: string): number =>
    Number(digits.replace(",", ".")) / Number(below.replace(",", ".")) * factor;
  const meanings = /^[+-]?[1-9]\d{0,2},\d{3}$/.test(above)
    ? [value(above), value(above.replace(",", ""))]
    : [value(above)];
  return meanings.filter(Number.isFinite);
}

/** A number as it is said back: five digits or what was typed, with a true minus and its unit. */
function saidBack(value: number, unit: string): string {
  const digits = String(Number(value.toPrecision(5))).replace("-", "−");
  return unit === "" ? digits : digits + "\u00a0" + unit;
}

/** By how much a number is off, in words: a small part in per cent, a large one as a ratio. */
function howFar(got: number, answer: number): string {
  if (answer === 0 || got === 0 || got / answer < 0) return "";
  const ratio = Math.abs(got / answer), size = ratio > 1 ? "large" : "small";
  const off = Math.abs(ratio - 1);
  if (off < 0.6) {
    return "too " + size + " by about " + Number((100 * off).toPrecision(1)) + "\u00a0%";
  }
  const times = Number((ratio > 1 ? ratio : 1 / ratio).toPrecision(2));
  return "about " + times + " times too " + size;
}

/** Whether a number is another one, rounded to two figures or to more. */
function rounds(got: number, value: number): boolean {
  return [2, 3, 4, 5].some((figures) =>
    Math.abs(Number(value.toPrecision(figures)) - got) <= 1e-9 * Math.abs(got)
  );
}

/**
 * How far off an answer may be and still be right: the task's own doubt, and never less than what rounding to two figures costs.
 * A count has none.
 */
function doubtOf({ answer, tolerance }: NumberExercise): number {
  if (tolerance === 0 || answer === 0) return tolerance ?? 0;
  const size = Math.abs(answer);
  const ofTwoFigures = 10 ** (Math.floor(Math.log10(size)) - 1) / 2;
  return Math.max(tolerance ?? 0.05 * size, ofTwoFigures);
}

function gradeNumber(exercise: NumberExercise, text: string): Judgement {
  const { answer, tolerance, unit, traps } = exercise;
  const distance = (value: number): number => Math.abs(value - answer) * (1 - 1e-9);
  const got = numbersIn(text, unit).sort((a, b) => distance(a) - distance(b))[0];
  if (got === undefined) {
    const example = unit === "" ? "0.5" : "12.5 " + unit;
    return {
      is: "unreadable",
      say: "A number is wanted" + (unit === "" ? "" : " in " + unit) + ", such as " + example + ".",
    };
  }
  const back = saidBack(got, unit), doubt = doubtOf(exercise);
  const right: Judgement = { is: "right", say: back + ". Yes." };
  if (got === answer || tolerance !== 0 && rounds(got, answer)) return right;
  const far = howFar(got, answer);
  const off = far === "" ? back : back + " is " + far;
  const trap =
    traps.filter(({ value, within }) =>
      Math.abs(got - value) <= (within ?? 0.001 * Math.abs(value)) ||
      tolerance !== 0 && rounds(got, value)
    ).sort((a, b) => Math.abs(got - a.value) - Math.abs(got - b.value))[0];
  if (trap !== undefined) return { is: "off", say: off + ": " + trap.hint };
  if (distance(got) <= doubt) return right;
  if (distance(got) <= 3 * doubt) {
    const near = far === "" ? "" : ", " + far;
    return { is: "close", say: back + " is close" + near + ". Keep one digit more on the way." };
  }
  const ratio = ratios.find(([r]) =>
    Math.abs(got / answer / r - 1) <= 0.001 || rounds(got, answer * r)
  );
  if (ratio !== undefined) return { is: "off", say: back + " is " + ratio[1] };
  return { is: "off", say: far === "" ? back + " is not it yet." : off + ". Not yet." };
}

function gradeChoice(exercise: ChoiceExercise, text: string): Judgement {
  const bare = (words: string): string =>
    words.trim().toLowerCase().replace(/\s+/g, " ").replace(/[.!?]$/, "")
      .replace(/\+\/?-/g, "±").replace(/[\u2212\u2013]/g, "-").replace(/\u2019/g, "'");
  const typed = bare(text);
  const part = exercise.choices.filter((choice) => typed !== "" && bare(choice).includes(typed));
  const got = exercise.choices.find((choice) => bare(choice) === typed) ??
    (part.length === 1 ? part[0] : undefined);
  if (got === undefined) {
    return { is: "unreadable", say: "Choose one: " + exercise.choices.join("; ") + "." };
  }
  if (got === exercise.answer) return { is: "right", say: got + ". Yes." };
  const trap = exercise.traps.find(({ value }) => value === got);
  return { is: "off", say: got + ": " + (trap === undefined ? "not yet." : trap.hint) };
}

/** The exercise with its misconceptions' letters written out, so that nothing else is needed to judge it. */
export function spelledOut(exercise: Exercise): Exercise {
  const sentence = (hint: string): string =>
    (misconceptions as Readonly<Record<string, string>>)[hint] ?? hint;
  return "choices" in exercise
    ? { ...exercise, traps: exercise.traps.map((t) => ({ ...t, hint: sentence(t.hint) })) }
    : { ...exercise, traps: exercise.traps.map((t) => ({ ...t, hint: sentence(t.hint) })) };
}

/** What to say to an answer, of an exercise whose misconceptions are spelled out. */
function judgeSpelled(exercise: Exercise, answer: string | number): Judgement {
  const text = String(answer);
  if (text.trim() === "") return { is: "empty", say: "Type your answer first." };
  return "choices" in exercise ? gradeChoice(exercise, text) : gradeNumber(exercise, text);
}

/**
 * What to say to an answer.
 *
 * Right is what lies within the task's doubt, which a person's rounding to two figures is; close what lies within three
 * times that; else it is off. A known wrong answer, met exactly, is told by its own hint, and so is one that is 2, 4, 25.4 or
 * 1000 times off, or has the other sign. By how much a number is off is said in round figures.
 *
 * @param exercise  the exercise
 * @param answer    what was typed or computed; decimal comma or point, with or without its unit; a choice by its words
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
 *   traps: [{ value: 4.688, hint: "D" }],
 *   hints: ["Which radius?", "Look at 2400.", "75² ÷ 4800 = 1.172 mm."],
 * };
 * assert.equal(judge(exercise, "1,2 mm").is, "right");
 * assert.equal(judge(exercise, 1.3).is, "close");
 * assert.match(judge(exercise, 4.69).say, /starts at the middle/);
 * ```
 */
export function judge(exercise: Exercise, answer: string | number): Judgement {
  return judgeSpelled(spelledOut(exercise), answer);
}

/** The source of what reads a number, for a page's script. */
export function numbersSource(): string {
  return `const units = ${JSON.stringify(units)};\n${numbersIn}`;
}

/** The source of everything above, for a page's script; the sentences that name a misconception are sealed. */
export function judgeSource(): string {
  const functions = [
    saidBack,
    howFar,
    rounds,
    doubtOf,
    gradeNumber,
    gradeChoice,
    judgeSpelled,
  ];
  return [
    unsealSource(),
    numbersSource(),
    `const ratios = JSON.parse(unseal(${JSON.stringify(seal(JSON.stringify(ratios)))}));`,
    ...functions.map(String),
  ].join("\n");
}

/**
 * The classic script that makes exercises check themselves, with the same `judge` that tests run.
 *
 * Put it once into a page, inside `<script>`; a second copy makes the forms of exercises that were added, and no more.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(pageScript(), /function judgeSpelled\(exercise, answer\)/);
 * ```
 */
export function pageScript(): string {
  return `(function () {
if (globalThis.firstMirrorExercises) return void globalThis.firstMirrorExercises();
${judgeSource()}
${script}
})();`;
}
