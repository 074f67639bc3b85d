// deno-lint-ignore-file no-console
/** Checks the notebooks' cells: types, lint and the rules of the house, told by notebook, cell and line. */
import { checkCells, findingText } from "../book/cells.ts";
import { notebookPaths } from "../book/notebookPaths.ts";

if (import.meta.main) {
  const findings = await checkCells(await notebookPaths());
  for (const finding of findings) console.error(findingText(finding));
  Deno.exit(findings.length > 0 ? 1 : 0);
}
