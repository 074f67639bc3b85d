/** The twenty stages of the job, in their order: the one place that says which notebook comes when. */

/** The parts the stages are grouped under on the contents page. */
export type Part = "Plan" | "Shape" | "Polish" | "Test" | "Build" | "Look";

/** One stage of the job and the notebook that teaches it. */
export interface Stage {
  /** place in the course, from 1 */
  readonly number: number;
  /** name of the notebook and of its page, without extension */
  readonly stem: string;
  readonly title: string;
  readonly part: Part;
  /** one line under the title on the contents page */
  readonly line: string;
  /** what the page answers, used where the notebook gives no first sentence */
  readonly question: string;
  /** other names under which a next step may send the maker here, lower case */
  readonly names: readonly string[];
}

type Row = readonly [
  stem: string,
  part: Part,
  title: string,
  line: string,
  question: string,
  names?: readonly string[],
];

const rows: readonly Row[] = [
  [
    "00-open-record",
    "Plan",
    "Your mirror’s page",
    "One folder, one mirror: what is known of it, and where each number came from.",
    "What do you have, what is known about it, and what comes next?",
    ["record", "report", "the record", "check the record"],
  ],
  [
    "01-choose-mirror",
    "Plan",
    "Choosing the mirror",
    "How wide, how long, how deep, and when a plain sphere will do.",
    "Why a mirror and not a lens, how wide, and how deep a curve?",
    ["design", "the design", "planning"],
  ],
  [
    "02-prepare-discs",
    "Plan",
    "Discs and abrasives",
    "Two discs, a ladder of grades, and what must never be mixed.",
    "What must be true of two discs and seven jars before the first stroke?",
    ["blanks and abrasives", "blanks", "abrasives"],
  ],
  [
    "03-grind-hollow",
    "Shape",
    "Rough grinding",
    "Strokes, turns and overhang: the disc on top grows hollow, the one below grows domed.",
    "Why does rubbing two flat discs together make one of them hollow?",
    ["grinding"],
  ],
  [
    "04-measure-curve",
    "Shape",
    "Measuring the curve",
    "Leaves, spherometer and Sun: three ways to one radius.",
    "How deep is the hollow now, how far away does it focus, and how sure are you?",
    ["measuring", "sagitta"],
  ],
  [
    "05-weigh-readings",
    "Shape",
    "Weighing the readings",
    "Readings differ. What they say together, and how surely.",
    "Your readings differ. Which one is right, and how sure may you be?",
    ["uncertainty"],
  ],
  [
    "06-correct-depth",
    "Shape",
    "The right depth",
    "A line through the log names the minute; too deep is mended by swapping the discs.",
    "When do you stop, and what if you went past?",
    ["when to stop", "correcting an overshoot", "overshoot", "correcting"],
  ],
  [
    "07-smooth-surface",
    "Shape",
    "Fine grinding",
    "Each grade digs out the pits of the one before it.",
    "When is one grade finished, and what does it do to the curve?",
    ["smoothing"],
  ],
  [
    "08-pour-lap",
    "Polish",
    "The pitch lap",
    "A slow liquid, cut in squares, that takes the mirror’s shape.",
    "What is this brown stuff that is hard to a hammer and soft to an hour?",
    ["pitch lap", "lap"],
  ],
  [
    "09-polish-surface",
    "Polish",
    "Polishing",
    "Until the last pit at the edge is gone, not until it shines.",
    "How long must you polish, and how do you know that it is over?",
    ["polish"],
  ],
  [
    "10-read-bands",
    "Test",
    "The Ronchi test",
    "Striped shadows show the whole shape at one glance.",
    "What do striped shadows say about your glass?",
    ["ronchi test", "ronchi", "bands", "band test"],
  ],
  [
    "11-measure-zones",
    "Test",
    "The zone test",
    "A knife-edge and a card with openings give the height in nanometres.",
    "How many nanometres high is this ring of glass, and is the whole surface good enough?",
    ["zone test", "zones", "knife edge"],
  ],
  [
    "12-judge-mirror",
    "Test",
    "The verdict",
    "Good enough, not good enough, or not shown: with its probability.",
    "Is your mirror good enough, and how sure are you?",
    ["verdict", "judging"],
  ],
  [
    "13-shape-surface",
    "Test",
    "Figuring",
    "Where to rub, for how long, and when to leave it alone.",
    "Which stroke, for how long, and when do you leave it alone?",
    ["figure"],
  ],
  [
    "14-coat-mirror",
    "Build",
    "Coating the mirror",
    "A tenth of a thousandth of a millimetre of metal, and who should lay it on.",
    "What makes glass a mirror, and who should do it?",
    ["coating", "coat"],
  ],
  [
    "15-place-flat",
    "Build",
    "Placing the flat",
    "The folded cone of light, drawn to scale before a hole is cut.",
    "Where do you cut the hole, and how big is the flat?",
    ["telescope", "flat", "tube", "flat and tube"],
  ],
  [
    "16-carry-weight",
    "Build",
    "Cell, balance and base",
    "Three points under the glass, and a tube that stays where you point it.",
    "How do you hold glass without bending it, and a tube without dropping it?",
    ["cell, balance, base", "cell", "balance", "mounting"],
  ],
  [
    "17-align-mirrors",
    "Build",
    "Aligning the mirrors",
    "Three screws, in the right order.",
    "Which screw, which way, how far?",
    ["collimation", "aligning", "alignment"],
  ],
  [
    "18-observe-sky",
    "Look",
    "First light",
    "What your mirror can show you, and what is up tonight.",
    "What should you see tonight, and what are you seeing?",
    ["observing", "sky", "star test", "care"],
  ],
  [
    "19-compare-class",
    "Look",
    "The class at a glance",
    "For the leader: who needs help today, and what twelve mirrors teach.",
    "Who needs help today, and what do twelve mirrors teach that one cannot?",
    ["class"],
  ],
];

/** All stages in course order. */
export const course: readonly Stage[] = rows.map((
  [stem, part, title, line, question, names = []],
  index,
) => ({ number: index + 1, stem, title, part, line, question, names }));

/**
 * The stage a next step or a file name means.
 *
 * @param text  a notebook's stem, a stage's title, or a trade name for the work, in any case
 * @returns the stage, or undefined where no stage bears that name
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(findStage("Fine grinding")?.stem, "07-smooth-surface");
 * assert.equal(findStage("pitch lap")?.number, 9);
 * assert.equal(findStage("cooking"), undefined);
 * ```
 */
export function findStage(text: string): Stage | undefined {
  const wanted = text.trim().toLowerCase().replace("’", "'");
  return course.find(({ stem, title, names }) =>
    stem === wanted || title.toLowerCase().replace("’", "'") === wanted || names.includes(wanted)
  );
}
