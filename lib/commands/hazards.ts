// deno-lint-ignore-file no-console
/** `deno task hazards`: the one list of what can hurt somebody, with pages, steps and sheets. */
import { type Hazard, hazards } from "../knowledge/hazards.ts";
import { course } from "../lessons/course.ts";
import { runTask } from "./command.ts";

const help = `deno task hazards

Prints the one list of what can hurt somebody on the way to a telescope: who does it, what is said
before it, whether one person alone may do it at home, and where it is said: on which pages, before
which next steps, on which sheets. The list is data/tables/hazards.csv; a test fails where a step of
a hazard comes without its caution or before it.

  --help   this text`;

/** A page by the name of its stage: its number and its title. */
function pageOf(name: string): string {
  const stage = course.find((one) => one.name === name);
  return stage === undefined
    ? `${name}, no page of the course`
    : `${stage.stem.slice(0, 2)} ${stage.title}`;
}

const listed = (names: readonly string[]): string => names.length === 0 ? "none" : names.join(", ");

/** One hazard in plain lines. */
export function hazardLines(one: Hazard): string[] {
  return [
    `${one.hazard}: ${one.who}`,
    `  caution  ${one.short}`,
    `  alone    ${one.alone}: ${one.aloneWhat}`,
    `  pages    ${listed(one.pages.map(pageOf))}`,
    `  steps    ${listed(one.steps)}`,
    `  sheets   ${listed(["safety", "workshop", ...one.sheets])}`,
  ];
}

/** The whole list in plain lines. */
export function hazardList(): string[] {
  const all = hazards();
  return [
    `${all.length} hazards. Local rules, data sheets and qualified people come before every line of this.`,
    ...all.flatMap((one) => ["", ...hazardLines(one)]),
  ];
}

if (import.meta.main) {
  Deno.exit(
    await runTask({
      name: "hazards",
      help,
      act: () => {
        console.log(hazardList().join("\n"));
        return 0;
      },
    }),
  );
}
