/** Drawings in a real browser: one a width, nothing sideways, words large enough, none over another, none off the page. */
import assert from "node:assert/strict";
import { barriers, openFile, sideways, type startBrowser } from "../browser/browser.ts";

interface Box {
  readonly text: string;
  readonly box: readonly [left: number, top: number, right: number, bottom: number];
  readonly size: number;
  readonly figure: number;
}

/** Every word of every drawing that can be seen, with its place and its size as drawn. */
const wordsSeen = `[...document.querySelectorAll("figure")].flatMap((figure, i) =>
  [...figure.querySelectorAll("svg")].filter((svg) => svg.getBoundingClientRect().width > 0).flatMap((svg) =>
    [...svg.querySelectorAll("text")].filter((t) => t.textContent.trim() !== "").map((t) => {
      const b = t.getBoundingClientRect(), scale = svg.getBoundingClientRect().width / svg.viewBox.baseVal.width;
      return { text: t.textContent, figure: i, size: parseFloat(getComputedStyle(t).fontSize) * scale,
        box: [b.left, b.top, b.right, b.bottom] };
    })))`;

function covered(a: Box, b: Box): boolean {
  const [al, at, ar, ab] = a.box, [bl, bt, br, bb] = b.box;
  const across = Math.min(ar, br) - Math.max(al, bl), down = Math.min(ab, bb) - Math.max(at, bt);
  return across > 1.5 && down > 5; // px; a line's box is taller than its letters
}

/** Looks at a file of figures at the desk and on the phone, by day and in the dark. */
export async function lookAt(
  browser: Awaited<ReturnType<typeof startBrowser>>,
  file: string,
  least: number,
): Promise<void> {
  for (
    const [width, dark] of [[1280, false], [800, true], [390, false], [360, true]] as const
  ) {
    const { page, complaints, requests } = await openFile(browser, file, { width, dark });
    assert.deepEqual([complaints, requests], [[], []]);
    assert.ok(await sideways(page) <= 0, `nothing sideways at ${width}`);
    const seen = await page.evaluate(
      `[...document.querySelectorAll("figure")].map((f) => [...f.querySelectorAll("svg")].filter((s) => s.getBoundingClientRect().width > 0).length)`,
    ) as number[];
    assert.ok(
      seen.length >= least && seen.every((count) => count === 1),
      `${width}: ${seen}`,
    );
    const words = await page.evaluate(wordsSeen) as Box[];
    assert.ok(words.length > 100, "words were found");
    const over: string[] = [];
    for (const word of words) {
      if (!/measure it on the print/.test(word.text)) {
        assert.ok(word.size >= 11.5, `${word.text}: ${word.size} px at ${width}`);
      }
      assert.ok(
        word.box[0] >= 0 && word.box[2] <= width,
        `${word.text} leaves the page at ${width}`,
      );
      for (const other of words) {
        if (other !== word && other.figure === word.figure) {
          if (covered(word, other)) over.push(`“${word.text}” over “${other.text}”`);
        }
      }
    }
    assert.deepEqual(over, [], `words over one another at ${width}`);
    assert.deepEqual(await barriers(page), []);
    await page.context().close();
  }
}
