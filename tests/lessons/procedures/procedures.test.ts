/** The procedures: whole, quoted from the shared facts, with every caution before its first step, and answers for a beginner. */
import assert from "node:assert/strict";
import { handDrawings } from "../../../lib/figures/drawings/hands/drawings.ts";
import { hazards } from "../../../lib/knowledge/hazards.ts";
import { course } from "../../../lib/lessons/course.ts";
import {
  benchNumbers,
  cautioned,
  type Procedure,
  wordsOf,
} from "../../../lib/lessons/procedures/procedure.ts";
import {
  procedureFor,
  procedureNames,
  stagesOfTheHand,
} from "../../../lib/lessons/procedures/procedures.ts";
import { inWords, type TableName, TABLES } from "../../../lib/record/schema.ts";
import { facts } from "../../../lib/record/tables.ts";

const numbers = benchNumbers({ aperture: 150, focalLength: 1200, thickness: 25 });
const all = procedureNames.map((stage) => procedureFor(stage, numbers) as Procedure);
const folder = new URL("../../../lib/lessons/procedures/", import.meta.url);

Deno.test("every stage of the hand has a procedure of 6 to 14 steps, in course order", () => {
  const names = course.map(({ name }) => name).filter((name) => stagesOfTheHand.includes(name));
  assert.deepEqual(stagesOfTheHand, names);
  // the stages without work of the hands: the record, the plan, the verdict, the class
  assert.equal(names.length, course.length - 4);
  for (const { stage, title, who, bench, alone, steps } of all) {
    assert.ok(steps.length >= 6 && steps.length <= 14, `${stage}: ${steps.length}`);
    for (const text of [title, who, ...bench, alone]) assert.ok(text.length > 2, stage);
    for (const step of steps) {
      assert.ok(step.do.length > 12 && step.right.length > 3, `${stage}: ${step.do}`);
      assert.doesNotMatch(wordsOf(step), /undefined|NaN|Infinity|\s\s/, stage);
    }
    assert.ok(steps.filter(({ wrong }) => wrong !== undefined).length * 2 >= steps.length, stage);
    assert.ok(steps.some(({ write }) => write !== undefined) || stage === "align", stage);
  }
});

Deno.test("no number with a unit is typed into a procedure: each is quoted from the facts or the record", async () => {
  const typed: string[] = [];
  for await (const { name } of Deno.readDir(folder)) {
    if (["procedure.ts", "procedures.ts"].includes(name)) continue;
    const source = await Deno.readTextFile(new URL(name, folder));
    const words = source.replace(/\/\*\*[\s\S]*?\*\//g, "").replace(/\$\{[^}]*\}/g, "#");
    for (
      const [found] of words.matchAll(
        /[\d.]+\s?(mm|cm|m|µm|g|kg|ml|l|s|min|h|hours?|minutes?|seconds?|°C)\b|[\d.]+\s?[°%]/g,
      )
    ) {
      // the half of a right angle is geometry, the wavelength the field's standard
      if (found !== "45°") typed.push(`${name}: ${found}`);
    }
  }
  assert.deepEqual(typed, []);
});

Deno.test("numbers are this mirror's own: another disc, other charges, strokes and pitch", () => {
  const wide = benchNumbers({ aperture: 200, focalLength: 1200, thickness: 33 });
  const words = (stage: string): string =>
    (procedureFor(stage, wide)?.steps ?? []).map(wordsOf).join(" ").replaceAll("\u00a0", " ");
  // DERIVED 4 g x (200 / 150)^2 = 7.1, on kitchen scales 7; 6 kg x 16 / 9 = 10.7; 200 / 4 = 50 beside, 200 / 3 = 67 long;
  // 180 and 200 g x 16 / 9 = 320 and 356
  assert.match(words("grind-hollow"), /one charge evenly on the lower disc: 7 g of F80/);
  assert.match(words("grind-hollow"), /Press with 10\.5 kg, glass included/);
  assert.match(words("grind-hollow"), /50 mm beside the centre, 67 mm from end to end/);
  assert.match(words("pour-lap"), /320 to 355 g/);
  // DERIVED 30 min x (33 / 25)^1.4 = 44; 125 x 33 / 25 = 165
  assert.match(words("measure-zones"), /45 min after a bare hand.*165 min from one degree off/);
});

Deno.test("each caution of the list stands once, before or at the first step it belongs to, and none is missing", () => {
  for (const { stage, steps } of all) {
    for (const { hazard, pages, short, knownBy } of hazards()) {
      const known = steps.findIndex((step) => knownBy.test(wordsOf(step)));
      const said = steps.flatMap(({ cautions }, i) => cautions.includes(short) ? [i] : []);
      if (!pages.includes(stage)) {
        assert.equal(known, -1, `${stage} comes to ${hazard}: ${steps[known]?.do}`);
        assert.deepEqual(said, []);
      } else {
        assert.equal(said.length, 1, `${stage}: ${hazard}`);
        assert.ok(
          known < 0 || (said[0] ?? 99) <= known,
          `${stage}: ${hazard} at ${said} after ${known}`,
        );
      }
    }
  }
});

Deno.test("a step that names a hazard of another page is refused", () => {
  const work = {
    ...{ title: "x", who: "x", bench: ["x"], alone: "x" },
    steps: [{ do: "Lift.", right: "Light.", minds: ["hot pitch"] }],
  };
  assert.throws(() => cautioned("grind-hollow", work), /hazards of that page, got hot pitch/);
  assert.equal(procedureFor("judge-mirror", numbers), undefined);
});

Deno.test("what is hot, and the Sun, is the trained adult's column, never the learner's", () => {
  const lap = all.find(({ stage }) => stage === "pour-lap");
  for (const { do: what, adult } of lap?.steps ?? []) {
    assert.doesNotMatch(what, /\b(melt|pour|stir|warm (it|the pitch|the lap))\b/i, what);
    if (/\b(Melts|Pours|Stirs|Warms)\b/.test(adult ?? "")) assert.ok(what.length > 0);
  }
  const hot = (lap?.steps ?? []).filter(({ adult }) => /Melts|Pours|Warms/.test(adult ?? ""));
  assert.ok(hot.length >= 3, `${hot.length}`);
  const sun = all.find(({ stage }) => stage === "measure-curve")?.steps
    .find(({ drawing }) => drawing === "sun");
  assert.match(sun?.adult ?? "", /Catches the image/);
  assert.match(sun?.do ?? "", /^Only if a trained adult does it/);
});

Deno.test("what is written down has a place in the record", () => {
  const columns = new Map(TABLES.map((table) => [table, inWords(table).map(({ head }) => head)]));
  let looked = 0;
  for (const { stage, steps } of all) {
    for (const { write = "" } of steps) {
      for (const [, table = "", list = ""] of write.matchAll(/([a-z]+)\.csv:? ?([a-z_0-9, ]*)/g)) {
        const heads = columns.get(table as TableName);
        assert.ok(heads !== undefined, `${stage}: ${table}.csv`);
        for (
          const word of list.split(/, ?/).filter((one) =>
            /_|^(run|order|abrasive|position|minutes|strokes|amount)$/.test(one)
          )
        ) {
          assert.ok(heads.includes(word.trim()), `${stage}: ${table}.csv has no ${word}`);
          looked++;
        }
      }
    }
  }
  assert.ok(looked > 30, `${looked}`);
});

Deno.test("every drawing is called for by a step, and every step's drawing is there", () => {
  const called = new Set(all.flatMap(({ steps }) => steps.flatMap(({ drawing }) => drawing ?? [])));
  assert.deepEqual(Object.keys(handDrawings).filter((name) => !called.has(name as never)), []);
  assert.ok(called.size >= 38, `${called.size}`);
});

Deno.test("every shared fact is used by somebody", async () => {
  const texts: string[] = [];
  const look = async (at: URL): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(at)) {
      const path = new URL(name + (isDirectory ? "/" : ""), at);
      if (isDirectory) await look(path);
      else if (name.endsWith(".ts")) texts.push(await Deno.readTextFile(path));
    }
  };
  await look(new URL("../../../lib/", import.meta.url));
  // sizes of the lap come from its own model, which the test of the facts holds to them
  texts.push(await Deno.readTextFile(new URL("../../record/facts.test.ts", import.meta.url)));
  const whole = texts.join("\n");
  assert.deepEqual(
    facts().filter(({ name }) => !whole.includes(`"${name}"`)).map(({ name }) => name),
    [],
  );
});

/** What two people asked who followed the page to the letter and never made a lap, and the words that answer it. */
const questions: readonly (readonly [string, RegExp])[] = [
  ["Who may melt it?", /Only a trained adult melts and pours pitch/],
  ["Nobody here is trained.", /Never pour alone\. Four honest ways/],
  ["Which pitch do I order?", /pitch sold for polishing, in lumps: a middle grade for your room/],
  ["Softer and harder than what?", /one softer and one harder than it/],
  ["What lies ready against fire?", /fire blanket, extinguisher/],
  ["Where do I stand?", /behind the line, 2 m from the pot/],
  ["How do I read its temperature from there?", /temperature that the adult calls/],
  ["How much do I melt?", /180 to 200 g/],
  ["In what?", /old metal pot with lid, never again for food/],
  [
    "Is that the plate’s heat or the pitch’s?",
    /plate at 100 °C and never over 120 °C, a thermometer in the pitch/,
  ],
  ["How do I see that it is ready?", /thread off the stick, like warm syrup/],
  [
    "What if it burns?",
    /It burns: lid or blanket on it, never water, all out, call the fire brigade/,
  ],
  ["What if skin is burnt?", /cool water for burnt skin/],
  ["Is it the right hardness?", /thumbnail on the COLD coin/],
  ["How large is a coin?", /a thumb wide and half a finger thick/],
  ["Pitch on a wet tile, does it spit?", /Away from the pot: lets a coin/],
  ["How hard do I press the nail?", /as hard as on a door bell/],
  ["Between 20 and 30 s?", /Between: a second coin/],
  [
    "What makes it harder or softer, how much of it?",
    /lumps of a bought harder or softer pitch, a tenth at a time, stirs ten minutes/,
  ],
  ["When do the discs go into the tub?", /Right: lid on, and only now the tub/],
  ["How warm must tool and mirror be?", /45 to 50 °C in 15 min/],
  ["How do I make the water warmer?", /Adds hotter water at the tub’s side, never on glass/],
  ["Does the mirror stay in the tub?", /Keeps it so warm until step 7: the mirror stays in/],
  ["Which face of the tool?", /takes the tool out, its ground face up/],
  ["How is it made level?", /sets it level both ways on a cloth with slips of card/],
  [
    "What holds the pitch in, which tape?",
    /wide tape of paper or metal foil \(plastic goes soft\)/,
  ],
  ["How high is the tape?", /winds the tape twice round, standing 12 mm above the face/],
  ["How do I draw a line inside it?", /cut it beforehand.*drew a line on its inside, 7 mm above/],
  ["How long may the warm tool wait?", /From tub to pouring no more than 10 min/],
  ["The tool is domed.", /in the middle the pitch will be a millimetre thinner, and that is right/],
  [
    "When do I pour, from where?",
    /come down to about 90 °C.*low over the tool, from the middle outward/,
  ],
  ["What if it does not reach the tape?", /stops short: too cool/],
  ["It leaks.", /runs out under the tape: nobody touches it/],
  ["There are bubbles.", /Bubbles on top do no harm/],
  ["What of the rest in the pot?", /Lid on what is left, and the pot out of the way/],
  ["When may the mirror go on?", /wet stick leaves a shallow dent/],
  ["It dents no more.", /leaves no dent at all: too late, step 14/],
  ["When does the tape come off?", /pulls the tape off: the pitch stands by itself/],
  ["Must I bring soap water over the line?", /stood beside the tool since before the pouring/],
  ["What keeps the mirror from sticking?", /floods its face with soap water/],
  [
    "Circles how large, for how long?",
    /circles of two fingers without weight.*for 20 min \(10 to 60\)/,
  ],
  ["Below 40 °C of what?", /thermometer at the joint/],
  ["May it lie still?", /never lies still on warm pitch/],
  ["How long do I press, with what?", /2 kg on the mirror, flat bottles of water will do.*30 min/],
  [
    "It sticks, and soap water does not help.",
    /a night in the refrigerator, where pitch shrinks and lets go/,
  ],
  ["What may wait until tomorrow?", /next steps may wait until tomorrow/],
  [
    "How do the lines come onto the pitch?",
    /prick both ends of each line into the pitch’s edge, take the sheet off/,
  ],
  [
    "How is a channel cut, with what?",
    /score both sides with many light strokes.*lift out the crumbs/,
  ],
  [
    "How wide, how deep, where?",
    /every 25 mm, 5 mm wide, 3 to 4 mm deep.*6 and 9 mm off a crossing/,
  ],
  ["Which way does the blade go?", /the blade away from your body/],
  ["Slivers at the rim?", /Slivers at the rim may stay/],
  ["A facet broke out, how do I clean up?", /brush every crumb off under water/],
  ["The soft mould?", /soft mat with ribs/],
  ["Soap water or oxide, how much?", /Press: 2 ml of oxide in water/],
  ["How do I see that it touches?", /Seen through the mirror’s back every facet is one dull tone/],
  ["My disc’s back is ground.", /A ground back: wet it and lay clear food film on it/],
  ["How often may I press again?", /still pale after an hour of pressing: step 14/],
  ["What net, what is it for?", /curtain cloth with a mesh.*lets the oxide in/],
  ["What before each session?", /Before each session/],
  ["May I leave the mirror on it?", /lift the mirror off when you leave/],
  ["Where does it lie until tomorrow?", /level, face up, damp under a clean lid/],
  ["How long after warming until I polish?", /rest without the mirror for 60 min/],
  ["When is it worn out?", /Thinner than 4 mm/],
  [
    "How does old pitch come off?",
    /Old pitch comes off cold, a night in the refrigerator, with wood/,
  ],
  ["What do I write down?", /diary\.csv: lap poured, nail seconds/],
];

Deno.test("the lap for somebody who never made one: every question of the list is answered", () => {
  const lap = all.find(({ stage }) => stage === "pour-lap");
  const said = [
    lap?.alone,
    ...(lap?.bench ?? []),
    ...(lap?.steps ?? []).flatMap((step) => [...step.cautions, wordsOf(step)]),
  ]
    .join(" ").replaceAll("\u00a0", " ");
  assert.deepEqual(
    questions.filter(([, answer]) => !answer.test(said)).map(([question]) => question),
    [],
  );
  assert.ok(questions.length >= 60);
});
