/** Notebooks by the names of their stages, so that no test knows a number. */
import { course } from "../lib/lessons/course.ts";

/** The notebook of a stage, without extension. @throws {Error} where no stage has that name */
export function stemOf(name: string): string {
  const stage = course.find((one) => one.name === name);
  if (stage === undefined) throw new Error(`no stage is called ${name}`);
  return stage.stem;
}
