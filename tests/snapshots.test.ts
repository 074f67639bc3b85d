import assert from "node:assert/strict";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { assertSnapshots, drawn, firstDifference, read } from "./snapshots.ts";

Deno.test("a page is read as lines: headings, items, cells, links, pictures; scripts and the look are left out", () => {
  const page =
    `<style>p { color: red }</style><h2 id="a">Depth &amp; width</h2><ul><li>one</li><li>two</li></ul>` +
    `<table><tr><th>R</th><td>2400&nbsp;mm</td></tr></table><p>See <a href="x.html">there</a>.</p>` +
    `<img alt="A disc" src="x.png"><script>let a = "<p>no</p>";</script>`;
  assert.equal(
    read(page),
    "## Depth & width\n- one\n- two\n| R | 2400&nbsp;mm\nSee [there](x.html).\n(picture) A disc",
  );
});

Deno.test("a drawing is read by its words, and a line of it that moves is noticed", () => {
  const svg = (d: string): string =>
    `<svg aria-label="A curve"><path d="${d}"></path><text x="1">sagitta</text></svg>`;
  assert.match(read(svg("M0,0")), /^\(drawing, \d+ characters, [0-9a-f]{8}\) A curve · sagitta$/);
  assert.notEqual(read(svg("M0,0")), read(svg("M0,1")));
  assert.match(drawn(svg("M0,1")), /^<svg aria-label="A curve">\n<path d="M0,1"><\/path>\n<text/);
});

Deno.test("drawings that travel as data are unpacked, pixels are told by size and digest", () => {
  const bytes = new TextEncoder().encode("<svg><text>−75</text></svg>");
  const data = `data:image/svg+xml;base64,${bytes.toBase64()}`;
  assert.match(drawn(`<img src="${data}">`), /<svg>\n<text>−75<\/text><\/svg>/);
  assert.match(
    drawn('<img src="data:image/png;base64,AAAA">'),
    /\(png, 26 characters, [0-9a-f]{8}\)/,
  );
});

Deno.test("a difference shows the line as it was and as it is, with what stands before it", () => {
  assert.equal(firstDifference("a\nb\nc\nd", "a\nb\nc\ne"), "  line 4\n    b\n    c\n  - d\n  + e");
  assert.equal(firstDifference("a", "a\nb"), "  line 2\n    a\n  - (the end)\n  + b");
});

Deno.test("what differs, is new or is gone fails, each with its name", async () => {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-snapshots-" });
  try {
    await Deno.writeTextFile(join(folder, "a.txt"), "one\n");
    await Deno.writeTextFile(join(folder, "gone.txt"), "two\n");
    const url = pathToFileURL(`${folder}/`);
    await assert.rejects(
      assertSnapshots(url, { a: "other", "b c": "new" }),
      /3 differ[\s\S]*a\.txt\n {2}line 1\n {2}- one\n {2}\+ other\nb-c\.txt is new\ngone\.txt is gone/,
    );
    await Deno.remove(join(folder, "gone.txt"));
    await assertSnapshots(url, { a: "one" });
  } finally {
    await Deno.remove(folder, { recursive: true });
  }
});
