/** Every exercise, every wrong answer it lists: met with its own hint, told by how much it is off, never called wrong. */
import assert from "node:assert/strict";
import { levelOf } from "../../lib/lessons/exercise.ts";
import { misconceptions } from "../../lib/lessons/exercises/misconceptions.ts";
import { exercise, exercises, question } from "../../lib/lessons/exercises.ts";
import { escapeHtml } from "../../lib/figures/html.ts";
import { judge } from "../../lib/lessons/grader.ts";

const sentenceOf = (hint: string): string =>
  (misconceptions as Readonly<Record<string, string>>)[hint] ?? hint;

Deno.test("the right answer passes, written with and without its unit", () => {
  for (const asked of exercises) {
    assert.equal(judge(asked, asked.answer).is, "right", asked.id);
    if (!("choices" in asked) && ["mm", "nm", "µm"].includes(asked.unit)) {
      assert.equal(judge(asked, `${asked.answer} ${asked.unit}`).is, "right", asked.id);
      const inMetres = { mm: 1e-3, "µm": 1e-6, nm: 1e-9 }[asked.unit] ?? NaN;
      assert.equal(
        judge(asked, `${asked.answer * inMetres} m`).is,
        "right",
        `${asked.id} in metres`,
      );
    }
  }
});

Deno.test("each listed misconception gets its own hint, and no two misconceptions of one exercise are taken for each other", () => {
  let met = 0;
  for (const asked of exercises) {
    assert.ok(asked.traps.length >= 1, `${asked.id} knows a misconception`);
    for (const { value, hint } of asked.traps) {
      const { is, say } = judge(asked, value);
      assert.equal(is, "off", `${asked.id}: ${value}`);
      assert.ok(say.includes(sentenceOf(hint)), `${asked.id}: ${value}: ${say}`);
      met++;
    }
  }
  assert.ok(met >= 120, `${met} misconceptions`);
});

Deno.test("the usual misconceptions are met by their ratio also where an exercise does not list them", () => {
  const usual = [[2, "twice"], [0.5, "half"], [4, "four times"], [25.4, "25.4"], [
    1000,
    "thousand",
  ]] as const;
  for (const asked of exercises) {
    if ("choices" in asked || asked.tolerance === 0) continue;
    for (const [ratio, word] of usual) {
      const { is, say } = judge(asked, asked.answer * ratio);
      const listed = asked.traps.some(({ hint }) => say.includes(sentenceOf(hint)));
      assert.equal(is, "off", asked.id);
      assert.ok(say.includes(word) || listed, `${asked.id}, ${ratio} times: ${say}`);
    }
  }
});

Deno.test("what is off is told by how much, in round figures, and nobody is called wrong", () => {
  for (const asked of exercises) {
    const answers = "choices" in asked ? asked.choices : [asked.answer * 1.37, asked.answer * 0.3];
    for (const answer of answers) {
      const { is, say } = judge(asked, answer);
      assert.doesNotMatch(say, /\bwrong\b|incorrect|\bfalse\b|\bbad\b/i, asked.id);
      if (is !== "off" || typeof answer === "string") continue;
      const far = /too (large|small)|times it|half of it|twice it|quarter of it/;
      const hinted = asked.traps.some(({ hint }) => say.includes(sentenceOf(hint)));
      assert.ok(far.test(say) || hinted, `${asked.id}: ${say}`);
    }
  }
});

Deno.test("three levels for each notebook: try, change, think", () => {
  const levels = new Map<string, string[]>();
  for (const { id } of exercises) {
    const stage = id.slice(0, -2);
    levels.set(stage, [...levels.get(stage) ?? [], levelOf(id)]);
  }
  for (const [stage, found] of levels) assert.deepEqual(found, ["try", "change", "think"], stage);
  assert.throws(() => levelOf("measure-curve-9"), /levelOf requires an id/);
});

/** Numbers in a text, the typographic minus read as one. */
const numbersOf = (text: string): number[] =>
  [...text.replaceAll("−", "-").matchAll(/(?<![\d.])-?\d+(?:\.\d+)?/g)].map(([digits]) =>
    Number(digits)
  );

Deno.test("a question holds no answer in plain words: no number near it, no hint, no misconception", () => {
  for (const asked of exercises) {
    const { html, text } = question(asked.id);
    for (const hint of [...asked.hints, ...asked.traps.map(({ hint }) => sentenceOf(hint))]) {
      assert.ok(!html.includes(hint) && !text.includes(hint), `${asked.id}: ${hint}`);
    }
    const leaders = exercise(asked.id).html;
    for (const hint of asked.hints) assert.ok(leaders.includes(escapeHtml(hint)), asked.id);
    if ("choices" in asked) continue;
    const own = new Set(numbersOf(asked.ask));
    const shown = html.replace(/<script[\s\S]*?<\/script>/g, "").replace(/<[^>]*>/g, " ");
    const told = numbersOf(shown).concat(numbersOf(text)).filter((value) =>
      !own.has(value) && Math.abs(value / asked.answer - 1) <= 0.01
    );
    assert.deepEqual(told, [], `${asked.id}: ${shown}`);
  }
});
