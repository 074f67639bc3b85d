/** The work of the hands at a stage, one step at a time, with the numbers of the bench's own mirror. */
import { join } from "node:path";
import { handDrawings } from "../figures/drawings/hands/drawings.ts";
import { course, findStage } from "../lessons/course.ts";
import {
  benchNumbers,
  type CautionedStep,
  type Procedure,
} from "../lessons/procedures/procedure.ts";
import { procedureFor, stagesOfTheHand } from "../lessons/procedures/procedures.ts";
import { Findings } from "../record/errors.ts";
import { decodeText, LARGEST } from "../record/files.ts";
import { readSettings } from "../record/settings.ts";
import { handNumbers } from "../stages/doIt.ts";

/** A step as a phone shows it. */
export interface BenchStep extends Omit<CautionedStep, "drawing" | "minds"> {
  /** markup of the drawing, as narrow as a phone */
  readonly drawing?: string;
}

/** A procedure as a phone shows it. */
export interface BenchSteps extends Omit<Procedure, "steps"> {
  readonly steps: readonly BenchStep[];
}

/** A stage with work of the hands. */
export interface HandStage {
  readonly stage: string;
  readonly title: string;
}

/** All stages with work of the hands, in the order of the course. */
export const handStages: readonly HandStage[] = course
  .filter(({ name }) => stagesOfTheHand.includes(name))
  .map(({ name, title }) => ({ stage: name, title }));

/** The stage whose work a next step belongs to; nothing where that has none. */
export function handStageOf(nextStage: string): string | undefined {
  const name = findStage(nextStage)?.name;
  return name !== undefined && stagesOfTheHand.includes(name) ? name : undefined;
}

/** The narrow one of a drawing's pictures. */
function narrow(html: string): string | undefined {
  const all = html.match(/<svg[\s\S]*?<\/svg>/g) ?? [];
  return all.find((one) => /class="[^"]*small-only/.test(one)) ?? all[0];
}

/**
 * The steps of a stage.
 *
 * @param path   of the bench's folder
 * @param stage  "grind-hollow"
 * @returns nothing where the stage has no work of the hands, or mirror.yaml cannot be read
 */
export async function benchSteps(path: string, stage: string): Promise<BenchSteps | undefined> {
  const file = join(path, "mirror.yaml"), there = await Deno.lstat(file).catch(() => undefined);
  if (there?.isFile !== true || there.size > LARGEST.settings) return undefined;
  const text = decodeText(await Deno.readFile(file), "mirror.yaml", new Findings());
  const settings = text === undefined
    ? undefined
    : readSettings(text, "", new Findings())?.settings;
  if (settings === undefined) return undefined;
  const numbers = benchNumbers(settings), found = procedureFor(stage, numbers);
  if (found === undefined) return undefined;
  const drawn = handNumbers(numbers);
  return {
    ...found,
    steps: found.steps.map(({ drawing: name, minds: _, ...step }) => {
      const drawing = name === undefined ? undefined : narrow(handDrawings[name](drawn).html);
      return { ...step, ...(drawing === undefined ? {} : { drawing }) };
    }),
  };
}
