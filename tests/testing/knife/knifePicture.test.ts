/** The mirror found in its photographs, and what is refused. */
import assert from "node:assert/strict";
import { CannotTell } from "../../../lib/numeric/cannotTell.ts";
import { mirrorCuts } from "../../../lib/testing/knife/knifePicture.ts";
import type { GreyImage } from "../../../lib/testing/photo/photoImage.ts";
import { close } from "../../optics/close.ts";

/** INVENTED a grey disc of 70 pixels half width in a dark frame. */
function disc(x: number, y: number, value = 0.6, radius = 70): GreyImage {
  const width = 220, height = 200;
  return {
    width,
    height,
    values: Float32Array.from({ length: width * height }, (_, k) => {
      const u = (k % width) + 0.5 - x, v = Math.floor(k / width) + 0.5 - y;
      return Math.hypot(u, v) < radius ? value * (0.8 + 0.2 * u / radius) : 0.04;
    }),
  };
}

const names = ["a.jpg", "b.jpg", "c.jpg", "d.jpg"];

Deno.test("discs are cut out with their middle and radius; one without an outline takes that of the others", () => {
  const none = { ...disc(110, 100), values: new Float32Array(220 * 200).fill(0.04) };
  const cuts = mirrorCuts([disc(110, 100), disc(110, 101), none, disc(111, 100)], names);
  for (const { image, x, y, radius } of cuts) {
    close(radius, 70, 1);
    close(x - image.width / 2, 0, 2);
    close(y - image.height / 2, 0, 2);
  }
});

Deno.test("cut by the edge, burnt out, too small, not there: refused with the photograph's name", () => {
  const good = disc(110, 100);
  const refused = (images: readonly GreyImage[], why: RegExp): void =>
    assert.throws(() => mirrorCuts(images, names), (error) => {
      assert.ok(error instanceof CannotTell);
      assert.match(error.message, why);
      return true;
    });
  const cut = disc(55, 100);
  refused([cut, cut, cut, cut], /in a\.jpg the mirror is cut by the picture's edge/);
  refused([good, disc(110, 100, 1.3), good, good], /in b\.jpg \d+ % of the mirror is burnt out/);
  const small = disc(110, 100, 0.6, 25);
  refused([small, small, small, small], /in a\.jpg the mirror is only \d\d pixels wide/);
  const none = { ...good, values: new Float32Array(220 * 200).fill(0.04) };
  refused([none, none, good, none], /in a\.jpg no mirror is found/);
});
