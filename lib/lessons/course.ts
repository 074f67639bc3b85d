/**
 * The stages of the job, in their order: the one place that says which notebook comes when. A number is given by the place in
 * this list; after a row was put in, moved or taken out, `deno task stages` gives files and links their numbers.
 */

import type { TableName } from "../record/schema.ts";
import type { Exercise } from "./exercise.ts";
import { opened } from "./opened.ts";

/** The parts the stages are grouped under on the contents page. */
export type Part = "Plan" | "Shape" | "Polish" | "Test" | "Build" | "Look";

/** One stage of the job and the notebook that teaches it. */
export interface Stage {
  /** place in the course, from 0, as its notebook and page are numbered */
  readonly number: number;
  /** a verb and a noun, by which everything else speaks of the stage: "measure-curve" */
  readonly name: string;
  /** the notebook and its page, without extension: its place, from 00, and its name: "04-measure-curve" */
  readonly stem: string;
  readonly title: string;
  readonly part: Part;
  /** one line under the title on the contents page */
  readonly line: string;
  /** what the page answers, used where the notebook gives no first sentence */
  readonly question: string;
  /** other names under which a next step may send the maker here, lower case */
  readonly names: readonly string[];
  /** tables of the record that are written on the way, the one that is wanted first; absent where none is */
  readonly tables?: readonly TableName[];
  /** try, change, think */
  readonly exercises: readonly Exercise[];
}

/** One stage a row; what is not here follows from its place. */
const rows: readonly Omit<Stage, "number" | "stem" | "exercises">[] = [
  {
    name: "open-record",
    part: "Plan",
    title: "Your mirror’s page",
    line: "One folder, one mirror: what is known of it, and where each number came from.",
    question: "What do you have, what is known about it, and what comes next?",
    names: ["record", "report", "the record", "check the record"],
  },
  {
    name: "choose-mirror",
    part: "Plan",
    title: "Choosing the mirror",
    line: "How wide, how long, how deep, and when a plain sphere will do.",
    question: "Why a mirror and not a lens, how wide, and how deep a curve?",
    names: ["design", "the design", "planning"],
  },
  {
    name: "prepare-discs",
    part: "Plan",
    title: "Discs and abrasives",
    line: "Two discs, a ladder of grades, and what must never be mixed.",
    question: "What must be true of two discs and seven jars before the first stroke?",
    names: ["blanks and abrasives", "blanks", "abrasives"],
  },
  {
    name: "grind-hollow",
    part: "Shape",
    title: "Rough grinding",
    line: "Strokes, turns and overhang: the disc on top grows hollow, the one below grows domed.",
    question: "Why does rubbing two flat discs together make one of them hollow?",
    tables: ["grinding", "sagitta"],
    names: ["grinding"],
  },
  {
    name: "measure-curve",
    part: "Shape",
    title: "Measuring the curve",
    line: "Leaves, spherometer and Sun: three ways to one radius.",
    question: "How deep is the hollow now, how far away does it focus, and how sure are you?",
    tables: ["sagitta", "spherometer", "sun", "lamp"],
    names: ["measuring", "sagitta"],
  },
  {
    name: "weigh-readings",
    part: "Shape",
    title: "Weighing the readings",
    line: "Readings differ. What they say together, and how surely.",
    question: "Your readings differ. Which one is right, and how sure may you be?",
    tables: ["sagitta", "spherometer"],
    names: ["uncertainty"],
  },
  {
    name: "correct-depth",
    part: "Shape",
    title: "The right depth",
    line: "A line through the log names the minute; too deep is mended by swapping the discs.",
    question: "When do you stop, and what if you went past?",
    tables: ["sagitta", "grinding"],
    names: ["when to stop", "correcting an overshoot", "overshoot", "correcting"],
  },
  {
    name: "smooth-surface",
    part: "Shape",
    title: "Fine grinding",
    line: "Each grade digs out the pits of the one before it.",
    question: "When is one grade finished, and what does it do to the curve?",
    tables: ["grinding", "diary"],
    names: ["smoothing"],
  },
  {
    name: "pour-lap",
    part: "Polish",
    title: "The pitch lap",
    line: "A slow liquid, cut in squares, that takes the mirror’s shape.",
    question: "What is this brown stuff that is hard to a hammer and soft to an hour?",
    tables: ["diary"],
    names: ["pitch lap", "lap"],
  },
  {
    name: "polish-surface",
    part: "Polish",
    title: "Polishing",
    line: "Until the last pit at the edge is gone, not until it shines.",
    question: "How long must you polish, and how do you know that it is over?",
    tables: ["grinding", "diary"],
    names: ["polish"],
  },
  {
    name: "read-bands",
    part: "Test",
    title: "The Ronchi test",
    line: "Striped shadows show the whole shape at one glance.",
    question: "What do striped shadows say about your glass?",
    tables: ["ronchi"],
    names: ["ronchi test", "ronchi", "bands", "band test"],
  },
  {
    name: "measure-zones",
    part: "Test",
    title: "The zone test",
    line: "A knife-edge and a card with openings give the height in nanometres.",
    question:
      "How many nanometres high is this ring of glass, and is the whole surface good enough?",
    tables: ["zones", "knife"],
    names: ["zone test", "zones", "knife edge"],
  },
  {
    name: "judge-mirror",
    part: "Test",
    title: "The verdict",
    line: "Good enough, not good enough, or not shown: with its probability.",
    question: "Is your mirror good enough, and how sure are you?",
    tables: ["zones"],
    names: ["verdict", "judging"],
  },
  {
    name: "shape-surface",
    part: "Test",
    title: "Figuring",
    line: "Where to rub, for how long, and when to leave it alone.",
    question: "Which stroke, for how long, and when do you leave it alone?",
    tables: ["grinding", "zones"],
    names: ["figure"],
  },
  {
    name: "coat-mirror",
    part: "Build",
    title: "Coating the mirror",
    line: "A tenth of a thousandth of a millimetre of metal, and who should lay it on.",
    question: "What makes glass a mirror, and who should do it?",
    tables: ["diary"],
    names: ["coating", "coat"],
  },
  {
    name: "place-flat",
    part: "Build",
    title: "Placing the flat",
    line: "The folded cone of light, drawn to scale before a hole is cut.",
    question: "Where do you cut the hole, and how big is the flat?",
    names: ["telescope", "flat", "tube", "flat and tube"],
  },
  {
    name: "carry-weight",
    part: "Build",
    title: "Cell, balance and base",
    line: "Three points under the glass, and a tube that stays where you point it.",
    question: "How do you hold glass without bending it, and a tube without dropping it?",
    names: ["cell, balance, base", "cell", "balance", "mounting"],
  },
  {
    name: "align-mirrors",
    part: "Build",
    title: "Aligning the mirrors",
    line: "Three screws, in the right order.",
    question: "Which screw, which way, how far?",
    tables: ["diary"],
    names: ["collimation", "aligning", "alignment"],
  },
  {
    name: "read-star",
    part: "Look",
    title: "Reading a star",
    line: "A star out of focus tells glass, cell, screws, warmth and air apart.",
    question:
      "What is wrong with this star: the glass, its cell, its place, its warmth, or the air?",
    tables: ["star", "diary"],
    names: ["star", "star test"],
  },
  {
    name: "observe-sky",
    part: "Look",
    title: "First light",
    line: "What your mirror can show you, and what is up tonight.",
    question: "What should you see tonight, and what are you seeing?",
    tables: ["observations", "diary"],
    names: ["observing", "sky", "care"],
  },
  {
    name: "compare-class",
    part: "Look",
    title: "The class at a glance",
    line: "For the leader: who needs help today, and what twelve mirrors teach.",
    question: "Who needs help today, and what do twelve mirrors teach that one cannot?",
    names: ["class"],
  },
];

/** All stages in course order. */
export const course: readonly Stage[] = rows.map((row, index) => ({
  ...row,
  number: index,
  stem: `${String(index).padStart(2, "0")}-${row.name}`,
  exercises: opened.exercises[row.name] ?? [],
}));

/**
 * The name of a stage in a notebook's: what is left of it without its place.
 *
 * @param stem  "04-measure-curve"
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(stageNameOf("04-measure-curve"), "measure-curve");
 * ```
 */
export function stageNameOf(stem: string): string {
  return stem.replace(/^\d\d-/, "");
}

/**
 * Links to notebooks with the numbers of their places: `measure-curve.ipynb`, whatever digits stand before it.
 *
 * @param text  of a notebook or a page in which links are written
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(numberedLinks("[the curve](measure-curve.ipynb)"), "[the curve](04-measure-curve.ipynb)");
 * ```
 */
export function numberedLinks(text: string): string {
  return text.replace(
    /(?<![\w-])(?:\d\d-)?([a-z]+-[a-z]+)(?=\.ipynb)/g,
    (found, name: string) => course.find((one) => one.name === name)?.stem ?? found,
  );
}

/**
 * The stage a next step or a file name means.
 *
 * @param text  a stage's name, with or without its place, its title, or a trade name for the work, in any case
 * @returns the stage, or undefined where no stage bears that name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(findStage("Fine grinding")?.name, "smooth-surface");
 * assert.equal(findStage("pitch lap")?.number, 8);
 * assert.equal(findStage("cooking"), undefined);
 * ```
 */
export function findStage(text: string): Stage | undefined {
  const wanted = text.trim().toLowerCase().replace("’", "'");
  return course.find(({ name, stem, title, names }) =>
    [name, stem, title.toLowerCase().replace("’", "'"), ...names].includes(wanted)
  );
}
