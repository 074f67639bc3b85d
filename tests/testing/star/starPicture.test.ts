/** Finding the star: what is cut out, and what is refused in words. */
import assert from "node:assert/strict";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { aroundStar, starStamp } from "../../../lib/testing/star/starPicture.ts";
import { close } from "../../optics/close.ts";

/** INVENTED an even sky with rings of light, in the file's values. */
function sky(
  discs: readonly (readonly [x: number, y: number, radius: number, light: number])[],
  width = 600,
  height = 450,
): GreyImage {
  const values = new Float32Array(width * height).fill(0.04);
  for (const [cx, cy, radius, light] of discs) {
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        const r = Math.hypot(x + 0.5 - cx, y + 0.5 - cy);
        if (r < radius && r > 0.2 * radius) values[y * width + x] = light;
      }
    }
  }
  return { width, height, values };
}

Deno.test("the disc's middle and width are found, whatever else is far away", () => {
  const { x, y, radius, factor } = starStamp(sky([[301, 222, 40, 0.8], [80, 80, 12, 0.7]]));
  close(radius * factor, 40, 2);
  assert.ok(Math.abs(x - y) < 3 && radius <= 22.5);
});

Deno.test("around the star the camera's own pixels are kept", () => {
  const image = sky([[301, 222, 20, 0.8]]), around = aroundStar(image);
  assert.ok(around.width < 240 && around.height < 240 && around.width > 160);
  close(starStamp(around).radius, starStamp(image).radius, 1.5);
});

Deno.test("no star, two stars, a cut one, a burnt one, a speck: each is refused in its own words", () => {
  const refusal = (image: GreyImage): string => {
    try {
      starStamp(image);
      return "taken";
    } catch (error) {
      return (error as Error).message;
    }
  };
  assert.match(refusal(sky([])), /^no star stands out/);
  assert.match(
    refusal(sky([[300, 220, 40, 0.8], [400, 220, 30, 0.5]])),
    /^a second star of \d+ % of its light/,
  );
  assert.match(refusal(sky([[300, 220, 40, 0.8], [80, 80, 39, 0.8]])), /^a second star/);
  assert.match(refusal(sky([[590, 220, 40, 0.8]])), /^the star's disc is cut/);
  assert.match(refusal(sky([[300, 220, 40, 1]])), /^\d+ % of the star's disc is burnt out/);
  assert.match(refusal(sky([[300, 220, 5, 0.8]])), /^the star's disc is only 1\d pixels wide/);
  assert.equal(refusal(sky([[300, 220, 40, 0.8]])), "taken");
});
