/** Every public name of the library says what it is: `deno doc --lint` on the modules that deno.json offers. */
import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";

const kit = fileURLToPath(new URL("../", import.meta.url));

/** Types of packages that public functions take or give: the package's own pages tell of them. */
const OF_PACKAGES = ["DataFrame", "PlotOptions"];

/** What `deno doc --lint` has against modules: a line for each, with file and place. */
async function missing(modules: readonly string[]): Promise<string[]> {
  const { stderr } = await new Deno.Command(Deno.execPath(), {
    args: ["doc", "--lint", ...modules],
    cwd: kit,
    env: { NO_COLOR: "1" },
  }).output();
  const told = new TextDecoder().decode(stderr);
  const findings = told.matchAll(/^error\[([\w-]+)\]: (.+)\n\s*--> (.+)$/gm);
  const found = [...findings].map(([, rule = "", what = "", place = ""]) =>
    `${place.replace(kit, "")}: ${rule}, ${what}`
  );
  // a run that said nothing that is understood here must not pass for a clean one
  if (found.length === 0 && !/^Checked \d+ file/m.test(told)) return [told.slice(0, 2000)];
  return found.filter((line) =>
    !OF_PACKAGES.some((type) => line.endsWith(`references private type '${type}'`))
  );
}

Deno.test("docs: every public name has its line, and no type it needs is kept back", async () => {
  const { exports } = JSON.parse(await Deno.readTextFile(`${kit}deno.json`)) as {
    readonly exports: Readonly<Record<string, string>>;
  };
  const found = await missing(Object.values(exports));
  assert.equal(found.length, 0, `${found.length} in all:\n${found.slice(0, 20).join("\n")}`);
});

Deno.test("docs: what lacks its line is told with file and place", async () => {
  const file = await Deno.makeTempFile({ suffix: ".ts" });
  try {
    await Deno.writeTextFile(
      file,
      "/** A leaf. */\nexport interface Leaf {\n  thickness: number;\n}\n",
    );
    const [one = "", ...others] = await missing([file]);
    assert.match(one, /:3:\d+: missing-jsdoc/);
    assert.deepEqual(others, []);
    await Deno.writeTextFile(file, "/** A leaf, mm. */\nexport type Leaf = number;\n");
    assert.deepEqual(await missing([file]), []);
  } finally {
    await Deno.remove(file);
  }
});
