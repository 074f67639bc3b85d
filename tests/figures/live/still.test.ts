import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import fc from "fast-check";
import { safe } from "../../../lib/figures/html.ts";
import { live } from "../../../lib/figures/live/live.ts";
import { liveFigures } from "../../../lib/figures/live/figures.ts";
import { asImage, asStill, inlined } from "../../../lib/figures/live/still.ts";
import { dot, drawing, group, words } from "../../../lib/figures/pen.ts";
import { parsed } from "../soundFigure.ts";

Deno.test("a drawing comes back from its image letter by letter, whatever words stand in it", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary" }), fc.string({ minLength: 1 }), (label, finding) => {
      const contents = group(words([2, 9], label), dot("mine", [5, 5], 3));
      const sheet = drawing({ width: 352, height: 222.5, finding: `A ${finding}`, contents });
      const around = safe`<p>before</p>${sheet}<p>between</p>${sheet}`;
      assert.equal(inlined(asStill(around).markup), around.markup);
    }),
  );
});

Deno.test("what holds no drawing stays as it is", () => {
  const markup = safe`<p>1</p><img alt="a" src="data:image/png;base64,AAAA">`;
  assert.equal(asStill(markup).markup, markup.markup);
  assert.equal(inlined(markup.markup), markup.markup);
});

Deno.test("every live figure's still is the picture the page draws, and stands on its own", async () => {
  const names: string[] = [], drawings: string[] = [];
  for (const figure of liveFigures) {
    const { html } = live(figure.name);
    assert.ok(inlined(html).includes(figure.picture(figure.start, asImage).markup), figure.name);
    for (const image of parsed(html).querySelectorAll("img.drawn")) {
      const source = image.getAttribute("src") ?? "";
      const file = atob(decodeURIComponent(source.slice(source.indexOf(",") + 1)));
      assert.doesNotMatch(file, /http(?!:\/\/www\.w3\.org\/2000\/svg")/, "asks for nothing");
      names.push(figure.name);
      drawings.push(new TextDecoder().decode(Uint8Array.from(file, (c) => c.charCodeAt(0))));
    }
  }
  // CROSS-CHECK still.test.ts: npm's sharp 0.35.5 (librsvg), which draws them without any page: ink must be there
  (await inkOf(drawings)).forEach((ink, i) => assert.ok(ink > 5, `${names[i]} is blank`));
});

async function inkOf(drawings: readonly string[]): Promise<number[]> {
  const script = fileURLToPath(new URL("./inkOf.ts", import.meta.url));
  const child = new Deno.Command(Deno.execPath(), {
    args: ["run", "-A", "--no-check", script],
    stdin: "piped",
    stdout: "piped",
  }).spawn();
  const input = child.stdin.getWriter();
  await input.write(new TextEncoder().encode(JSON.stringify(drawings)));
  await input.close();
  const { stdout } = await child.output(),
    ink: number[] = JSON.parse(new TextDecoder().decode(stdout));
  assert.equal(ink.length, drawings.length);
  return ink;
}
