/** The work of the hands at a stage as a page shows it: steps with their signs, cautions before them, drawings beside them. */
import { type Html, safe, trusted } from "../figures/html.ts";
import type { Shown } from "../figures/show.ts";
import { handDrawings } from "../figures/drawings/hands/drawings.ts";
import type { HandDrawing, HandNumbers } from "../figures/drawings/hands/names.ts";
import type { Mirror } from "../knowledge/open.ts";
import { ladder } from "../knowledge/rules.ts";
import { abrasives, fact, factRow } from "../record/tables.ts";
import { pitDepth } from "../shaping/grinding/grade.ts";
import { usualLap } from "../shaping/lap/lap.ts";
import {
  type BenchNumbers,
  benchNumbers,
  type CautionedStep,
  type Procedure,
} from "../lessons/procedures/procedure.ts";
import { procedureFor } from "../lessons/procedures/procedures.ts";

function stepHtml(step: CautionedStep, drawn: Html | undefined): Html {
  const { cautions, do: what, right, wrong, adult, write } = step;
  return safe`<li>${
    cautions.length > 0 && safe`<p class="mind"><b>Mind first.</b> ${cautions.join(" ")}</p>\n`
  }${
    adult === undefined
      ? safe`<p>${what}</p>`
      : safe`<div class="who"><p class="adult"><b>Trained adult</b> ${adult}</p>
<p><b>You</b> ${what}</p></div>`
  }
<p class="sign right"><i title="right">✓</i> ${right}</p>${
    wrong !== undefined && safe`\n<p class="sign wrong"><i title="wrong">≠</i> ${wrong}</p>`
  }${write !== undefined && safe`\n<p class="note">Write down: ${write}</p>`}${
    drawn !== undefined && safe`\n${drawn}`
  }</li>\n`;
}

function stepText(step: CautionedStep, i: number): string {
  const { cautions, do: what, right, wrong, adult, write } = step;
  return [
    ...(cautions.length > 0 ? [`Mind first: ${cautions.join(" ")}`] : []),
    ...(adult === undefined
      ? [`${i + 1}. ${what}`]
      : [`${i + 1}. Trained adult: ${adult}`, `   You: ${what}`]),
    `   Right: ${right}`,
    ...(wrong === undefined ? [] : [`   Wrong: ${wrong}`]),
    ...(write === undefined ? [] : [`   Write down: ${write}`]),
  ].join("\n");
}

const ends = (name: string): readonly [number, number] => {
  const { value, low = value, high = value } = factRow(name);
  return [low, high];
};

/** The numbers that the drawings are to scale of: this mirror's, and the shared facts. */
export function handNumbers(numbers: BenchNumbers): HandNumbers {
  const { aperture } = numbers, grades = ["F80", ...ladder];
  return {
    ...numbers,
    strokes: fact("turn_strokes"),
    upperTurn: fact("turn_upper"),
    lowerTurn: fact("turn_lower"),
    bevel: ends("bevel"),
    cleat: { below: fact("cleat_below_top"), play: fact("cleat_play") },
    belowElbow: ends("bench_below_elbow"),
    lap: { ...usualLap(aperture), depth: fact("channel_depth") },
    pits: abrasives().filter(({ name }) => grades.includes(name)).map((grade) => ({
      grade: grade.name,
      um: Number(pitDepth(grade).most.toPrecision(2)),
      loupe: fact(grade.ds50Um > fineBelowUm ? "loupe_coarse" : "loupe_fine"),
    })),
    padRadius: fact("pad_radius"),
    rimAir: fact("rim_air"),
  };
}

/** Grains from F500 on: their pits want the stronger loupe, um. */
const fineBelowUm = 20;

/**
 * A procedure as a section of a page; each drawing stands at the first step that calls for it.
 *
 * @param numbers  what the drawings are to scale of
 */
export function procedureShown(
  { title, who, bench, alone, steps }: Procedure,
  numbers: HandNumbers,
): Shown {
  const seen = new Set<HandDrawing>();
  const items = steps.map((step) => {
    const name = step.drawing;
    if (name === undefined || seen.has(name)) return stepHtml(step, undefined);
    seen.add(name);
    return stepHtml(step, trusted(handDrawings[name](numbers).html));
  });
  const markup = safe`<section class="doit" aria-label="${`Do it: ${title}`}">
<h3>${title}</h3>
<p class="note">Who: ${who}. Ready: ${bench.join("; ")}.</p>
<ol>
${items}</ol>
<p class="note">Alone? ${alone}</p>
</section>`;
  const text = [
    title,
    `Who: ${who}.`,
    `Ready: ${bench.join("; ")}.`,
    ...steps.map(stepText),
    `Alone? ${alone}`,
  ];
  return { html: markup.markup, text: text.join("\n") };
}

/**
 * What the hands do at a stage, with the numbers of this record.
 *
 * @param stage  "grind-hollow"
 * @throws {RangeError} where a stage has no work of the hands
 */
export function doIt({ record }: Mirror, stage: string): Shown {
  const numbers = benchNumbers(record.settings), procedure = procedureFor(stage, numbers);
  if (procedure === undefined) {
    throw new RangeError(`doIt requires a stage with work of the hands, got ${stage}`);
  }
  return procedureShown(procedure, handNumbers(numbers));
}
