/** Every step that can hurt stands behind its caution, on every page: by the one list of hazards, data/tables/hazards.csv. */
import assert from "node:assert/strict";
import { cellTags, isCode, type Notebook, parseNotebook } from "../../lib/book/notebook.ts";
import { course, findStage } from "../../lib/lessons/course.ts";
import { type Hazard, hazards } from "../../lib/knowledge/hazards.ts";

const folder = new URL("../../notebooks/", import.meta.url);
const pages = await Promise.all(course.map(async ({ name, stem }) => ({
  name,
  notebook: parseNotebook(await Deno.readTextFile(new URL(`${stem}.ipynb`, folder)), stem),
})));

type Cell = Notebook["cells"][number];
const isCaution = (cell: Cell): boolean => cellTags(cell).includes("caution");
const isCard = (cell: Cell): boolean => cellTags(cell).includes("card");

/** Where a page first comes to a step of a hazard: prose outside the lesson card and the cautions; -1 where it does not. */
function firstStep({ cells }: Notebook, { knownBy }: Hazard): number {
  return cells.findIndex((cell, i) =>
    i > 0 && !isCode(cell) && !isCaution(cell) && !isCard(cell) && knownBy.test(cell.source)
  );
}

/** The first section of a page: what stands before it stands before every step. */
const firstSection = ({ cells }: Notebook): number =>
  cells.findIndex((cell) => !isCode(cell) && !isCaution(cell) && /^## /m.test(cell.source));

/** What is wrong with a page about a hazard, in words. */
function faultsOf(name: string, notebook: Notebook, hazard: Hazard): string[] {
  const step = firstStep(notebook, hazard), listed = hazard.pages.includes(name);
  if (!listed) {
    const at = notebook.cells[step];
    return step < 0 ? [] : [`page ${name} is not listed for ${hazard.hazard}: ${at?.id}`];
  }
  const before = step < 0 ? firstSection(notebook) : step;
  const said = notebook.cells.slice(0, before).filter(isCaution).map(({ source }) => source)
    .join("\n").replace(/_/g, "");
  return hazard.says.filter((wanted) => !wanted.test(said))
    .map((wanted) => `page ${name}, ${hazard.hazard}: no caution before the step says ${wanted}`);
}

Deno.test("every page has its caution before its first section, and so before every step", () => {
  for (const { name, notebook } of pages) {
    const first = notebook.cells.findIndex(isCaution);
    assert.ok(first >= 0 && first < firstSection(notebook), `page ${name}: caution at ${first}`);
  }
});

Deno.test("no step of a hazard comes without its caution or before it", () => {
  const faults = pages.flatMap(({ name, notebook }) =>
    hazards().flatMap((hazard) => faultsOf(name, notebook, hazard))
  );
  assert.deepEqual(faults, []);
});

Deno.test("each hazard is known on a page at least, so that the test above can fail", () => {
  const unknown = hazards().filter((hazard) =>
    !pages.some(({ notebook }) => firstStep(notebook, hazard) >= 0)
  );
  assert.deepEqual(unknown.map(({ hazard }) => hazard), []);
});

Deno.test("a caution that is taken away, or put behind the step, is noticed: for every hazard on each of its pages", () => {
  let tried = 0;
  for (const { name, notebook } of pages) {
    const rest = notebook.cells.filter((cell) => !isCaution(cell));
    const cautions = notebook.cells.filter(isCaution);
    const without = { ...notebook, cells: rest };
    const behind = { ...notebook, cells: [...rest, ...cautions] };
    for (const hazard of hazards().filter((one) => one.pages.includes(name))) {
      for (const broken of [without, behind]) {
        assert.ok(faultsOf(name, broken, hazard).length > 0, `${name}: ${hazard.hazard}`);
        tried++;
      }
    }
  }
  assert.ok(tried >= 80, `${tried}`);
  // a page that nobody listed
  const [sun] = hazards().filter(({ hazard }) => hazard === "the Sun on glass");
  assert.ok(sun !== undefined);
  const cells = [{ ...pages[0]?.notebook.cells[0] as Cell }, {
    id: "x",
    cell_type: "markdown",
    metadata: {},
    source: "Catch the Sun's image.",
  } as Cell];
  const other = { ...pages[0]?.notebook as Notebook, cells };
  assert.match(faultsOf("judge-mirror", other, sun)[0] ?? "", /not listed/);
});

Deno.test("the list's pages and steps are the course's own", () => {
  for (const { hazard, pages: names, steps, says } of hazards()) {
    assert.ok(names.length > 0 && says.length > 0, hazard);
    for (const page of names) {
      assert.ok(course.some(({ name }) => name === page), `${hazard}: ${page}`);
    }
    for (const step of steps) assert.ok(findStage(step) !== undefined, `${hazard}: ${step}`);
  }
});

Deno.test("no solvent anywhere: nothing on the pages or in the library puts one near pitch", async () => {
  const solvent = /turpentine|linseed|white spirit|acetone|paraffin oil|kerosene/i;
  for (const { name, notebook } of pages) {
    for (const { source, id } of notebook.cells) {
      assert.doesNotMatch(source, solvent, `page ${name}, ${id}`);
      for (const [line] of source.matchAll(/.*\bsolvents?\b.*/g)) {
        assert.match(line, /[Nn]o solvent/);
      }
    }
  }
  const lib = new URL("../../lib/", import.meta.url);
  const look = async (at: URL): Promise<void> => {
    for await (const { name, isDirectory } of Deno.readDir(at)) {
      const path = new URL(name + (isDirectory ? "/" : ""), at);
      if (isDirectory) await look(path);
      else if (name.endsWith(".ts")) {
        assert.doesNotMatch(await Deno.readTextFile(path), solvent, path.pathname);
      }
    }
  };
  await look(lib);
});

Deno.test("hot pitch: water is kept from the pot, and stands ready for burnt skin; tempering is tried on cold pitch", () => {
  const page = pages.find(({ name }) => name === "pour-lap")?.notebook;
  const said =
    page?.cells.filter(isCaution).map(({ source }) => source.replace(/_/g, "")).join("\n") ?? "";
  assert.match(said, /No water near the hot pot/);
  assert.match(
    said,
    /cool water for burnt skin stands ready away from the plate, and is used for skin only/,
  );
  assert.match(said, /never on a kitchen stove/);
  assert.match(said, /tried on a coin of it that has cooled/);
});
