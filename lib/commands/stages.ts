// deno-lint-ignore-file no-console
/** `deno task stages`: notebooks and the links to them get the numbers of their places in the course. */
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";
import { course, numberedLinks, stageNameOf } from "../lessons/course.ts";
import { sealedExercises } from "../lessons/authored.ts";
import { NotDone, runTask } from "./command.ts";

const help = `deno task stages

Gives every notebook the number of its place in the course's list, lib/lessons/course.ts, and
writes that number into the links of notebooks, README.md and DEVELOPERS.md. What a notebook says
comes "Next:" is made to lead to the stage that does. To be run after a row was put in, moved or
taken out. A new notebook may be named without a number, and links in it may be written without
one: notebooks/NAME.ipynb, [words](NAME.ipynb). The exercises, written in lib/lessons/exercises,
are sealed anew into lib/lessons/exercises.sealed.txt, from which everything else reads them.

  --help   this text

Exit status: 0 all numbers are right now, 1 a notebook has no row or a row no notebook, 2 the
command was mistyped, 70 the kit itself has a fault, with a report of it.`;

const kit = fileURLToPath(new URL("../../", import.meta.url));

/** What is not yet as the course has it. */
export interface Unnumbered {
  /** notebooks by the names they have and those they should have */
  readonly renamed: readonly (readonly [from: string, to: string])[];
  /** texts that hold a link with another number, as they should be, by path */
  readonly texts: ReadonlyMap<string, string>;
}

/** A notebook whose "Next:" leads to the stage that comes next; of several links behind it, the nearest ahead is replaced. */
function withNext(text: string, place: number): string {
  const next = place < 0 ? undefined : course[place + 1],
    from = text.lastIndexOf("Next: "),
    last = text.slice(from);
  if (next === undefined || from < 0 || last.includes(`(${next.stem}.ipynb)`)) return text;
  const [ahead] = [...last.matchAll(/\[[^\]]+\]\((\d\d-[a-z]+-[a-z]+)\.ipynb\)/g)]
    .map(([link, stem]) => ({ link, at: course.findIndex((one) => one.stem === stem) }))
    .filter(({ at }) => at > place).sort((a, b) => a.at - b.at);
  if (ahead === undefined) return text;
  return text.slice(0, from) + last.replace(ahead.link, `[${next.title}](${next.stem}.ipynb)`);
}

/**
 * What `deno task stages` would change.
 *
 * @param root  folder with `notebooks` and perhaps pages that link to them
 * @throws {NotDone} where a notebook has no row, or a row no notebook
 */
export async function unnumbered(root: string): Promise<Unnumbered> {
  const names = (await Array.fromAsync(Deno.readDir(join(root, "notebooks"))))
    .map(({ name }) => name).filter((name) => name.endsWith(".ipynb")).sort();
  const stages = names.map((name) => stageNameOf(name.slice(0, -".ipynb".length)));
  const strange = names.filter((_, at) => !course.some(({ name }) => name === stages[at]));
  const missing = course.filter(({ name }) => stages.filter((one) => one === name).length !== 1);
  if (strange.length + missing.length > 0) {
    throw new NotDone([
      ...strange.map((name) => `notebooks/${name} has no row in lib/lessons/course.ts.`),
      ...missing.map(({ name }) =>
        `notebooks has not one ${name}.ipynb, with a number or without.`
      ),
    ].join(" "));
  }
  const renamed = course.flatMap(({ stem }, place) => {
    const from = names[stages.indexOf(course[place]?.name ?? "")] ?? "", to = `${stem}.ipynb`;
    return from === to ? [] : [[from, to] as const];
  });
  const texts = new Map<string, string>();
  for (
    const file of [...names.map((name) => join("notebooks", name)), "README.md", "DEVELOPERS.md"]
  ) {
    const text = await Deno.readTextFile(join(root, file)).catch(() => "");
    const name = stageNameOf(basename(file, ".ipynb"));
    const now = withNext(numberedLinks(text), course.findIndex((stage) => stage.name === name));
    if (now !== text) texts.set(file, now);
  }
  return { renamed, texts };
}

/** Writes the numbers; what was changed, in lines. */
export async function numberStages(root: string): Promise<string[]> {
  const { renamed, texts } = await unnumbered(root);
  for (const [file, text] of texts) await Deno.writeTextFile(join(root, file), text);
  for (const [from, to] of renamed) {
    await Deno.rename(join(root, "notebooks", from), join(root, "notebooks", to));
  }
  return [
    ...renamed.map(([from, to]) => `${from} is ${to} now`),
    ...[...texts.keys()].map((file) => `links of ${file} are right now`),
  ];
}

/** Seals the exercises as they are written now; what was changed, in lines. */
async function sealExercises(root: string): Promise<string[]> {
  const file = "lib/lessons/exercises.sealed.txt", path = join(root, file);
  const now = sealedExercises(), before = await Deno.readTextFile(path).catch(() => "");
  if (now === before) return [];
  await Deno.writeTextFile(path, now);
  return [`${file} holds the exercises as they are written now`];
}

if (import.meta.main) {
  const act = async (): Promise<number> => {
    const lines = [...await numberStages(kit), ...await sealExercises(kit)];
    console.log(lines.length === 0 ? "Every number is that of its place." : lines.join("\n"));
    return 0;
  };
  Deno.exit(await runTask({ name: "stages", help, act }));
}
