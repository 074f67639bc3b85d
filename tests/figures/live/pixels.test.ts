import assert from "node:assert/strict";
import fc from "fast-check";
import sharp from "sharp";
import {
  asCanvas,
  greyAndAlpha,
  type Pixels,
  pixels,
  sideBySide,
} from "../../../lib/figures/live/pixels.ts";
import { asImage, pngAddress } from "../../../lib/figures/live/still.ts";
import { safe } from "../../../lib/figures/html.ts";
import { parsed } from "../soundFigure.ts";

/** The file inside an address, as a browser takes it: percent signs first, then base64. */
function fileOf(address: string): Uint8Array {
  const body = decodeURIComponent(address.slice(address.indexOf(",") + 1));
  return Uint8Array.from(atob(body), (c) => c.charCodeAt(0));
}

Deno.test("a picture made by the kit is read back pixel by pixel by another program's PNG reader", async () => {
  // CROSS-CHECK npm's sharp 0.35.5 (libpng), called here (pixels.test.ts), an independent decoder
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 1, max: 24 }),
      fc.integer({ min: 1, max: 24 }),
      fc.integer(),
      async (width, height, seed) => {
        const values = Float64Array.from(
          { length: width * height },
          (_, i) => (i * 7 + seed) % 5 === 0 ? NaN : Math.abs(Math.sin(i + seed)),
        );
        const picture: Pixels = { width, height, values };
        const { data, info } = await sharp(fileOf(pngAddress(picture))).ensureAlpha().raw()
          .toBuffer({ resolveWithObject: true });
        assert.deepEqual([info.width, info.height], [width, height]);
        const bytes = greyAndAlpha(picture);
        values.forEach((_, i) => {
          const last = info.channels * i + info.channels - 1;
          assert.deepEqual([data[info.channels * i], data[last]], [bytes[2 * i], bytes[2 * i + 1]]);
        });
      },
    ),
    { numRuns: 20 },
  );
});

Deno.test("a larger picture is read too, and takes less room than its pixels", async () => {
  const picture = pixels(200, (x, y) => (x + y + 2) / 4);
  assert.ok(pngAddress(picture).length < 200 * 200);
  const { info } = await sharp(fileOf(pngAddress(picture))).raw().toBuffer({
    resolveWithObject: true,
  });
  assert.deepEqual([info.width, info.height], [200, 200]);
});

Deno.test("grey runs from 0 to 255 and stops there; what is missing is clear, not black", () => {
  const picture = { width: 5, height: 1, values: Float64Array.of(0, 1, 2, -1, NaN) };
  assert.deepEqual([...greyAndAlpha(picture)], [0, 255, 255, 255, 255, 255, 0, 255, 0, 0]);
});

Deno.test("the unit square lies with its middle on the middle pixel, y downward", () => {
  const seen: [number, number][] = [];
  pixels(3, (x, y) => seen.push([x, y]));
  assert.deepEqual(seen[4], [0, 0]);
  assert.ok((seen[0]?.[0] ?? 0) < 0 && (seen[0]?.[1] ?? 0) < 0 && (seen[8]?.[1] ?? 0) > 0);
});

Deno.test("an address never spells the word for a missing number", () => {
  const picture = pixels(120, (x, y) => Math.abs(Math.sin(40 * x + 91 * y * y)));
  for (let shift = 0; shift < 6; shift++) {
    const moved = { ...picture, values: picture.values.map((v) => (v + shift / 7) % 1) };
    assert.doesNotMatch(pngAddress(moved), /NaN/);
  }
});

Deno.test("still and canvas have one size and tell the same finding", () => {
  const picture = pixels(4, () => 0.5), print = { shown: 142, finding: "A <grey> square." };
  for (
    const [paint, tag, label] of [[asImage, "img", "alt"], [
      asCanvas,
      "canvas",
      "aria-label",
    ]] as const
  ) {
    const element = parsed(paint(picture, print).markup).querySelector(tag);
    assert.equal(element?.getAttribute(label), "A <grey> square.");
    assert.match(element?.getAttribute("style") ?? "", /width:142px;height:142px/);
  }
  assert.match(asImage(picture, { ...print, rim: true }).markup, /border-radius:50%/);
  assert.match(
    sideBySide([["left", safe`<b>1</b>`], ["right", safe`<b>2</b>`]]).markup,
    /left.*1[\s\S]*right.*2/,
  );
});

Deno.test("sizes that are none are refused", () => {
  for (const size of [0, -1, 1.5, NaN]) {
    assert.throws(() => pixels(size, () => 0), /whole size of 1 or more/);
  }
});
