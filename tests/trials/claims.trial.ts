// deno-lint-ignore-file no-console
/**
 * Figures that README, DEVELOPERS, help texts and docstrings claim, beside what their commands print: each command of
 * `tests/evidence/claims.csv` that says how its figure is found is run once. `deno task trial claims`, some ten seconds. What takes
 * minutes is by hand, and named.
 */
import { against, root, shown } from "../evidence/claims.ts";

const commands = Map.groupBy(
  shown().filter(({ shownBy, printed }) => shownBy.startsWith("deno task") && printed !== ""),
  ({ shownBy }) => shownBy,
);
for (const [command, claims] of commands) {
  const figures = claims.filter(({ printed }) => printed !== "by hand");
  for (const { file, words } of claims.filter((one) => !figures.includes(one))) {
    console.log(`by hand: ${command}: ${file}, "${words}"`);
  }
  if (figures.length === 0) continue;
  const { success, stdout } = await new Deno.Command(Deno.execPath(), {
    args: command.split(" ").slice(1),
    cwd: root,
    stderr: "inherit",
  }).output();
  const text = new TextDecoder().decode(stdout);
  if (!success) Deno.exitCode = 1;
  for (const claim of figures) {
    const wrong = against(claim, text);
    console.log(`${wrong === undefined ? "holds" : "WRONG"}: ${claim.file}, "${claim.words}"`);
    if (wrong !== undefined) {
      console.log(`  ${wrong}`);
      Deno.exitCode = 1;
    }
  }
}
