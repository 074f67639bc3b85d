/** Where a pixel looks: an ellipse, a slant and a lens leave the rim at the rim, and slopes are those of small steps. */
import assert from "node:assert/strict";
import { OWN, OWN_COUNT } from "../../../lib/testing/photo/photoModel.ts";
import { SIGHT, sightOf } from "../../../lib/testing/photo/photoSight.ts";
import { close } from "../../optics/close.ts";

const middle = [0.4, -0.3] as const;
const own = new Float64Array(OWN_COUNT);
own[OWN.x] = 61;
own[OWN.y] = 47;
own[OWN.radius] = 40;

Deno.test("a round disc seen straight on: pixels over the radius, upward", () => {
  const sight = sightOf(own, middle);
  sight.look(81, 37);
  assert.deepEqual([sight.u(), sight.v()], [0.5, 0.25]);
});

Deno.test("slant and lens leave an ellipse's rim where it is, to their own square", () => {
  const bent = own.slice();
  bent[OWN.stretch] = 0.004;
  bent[OWN.slant] = 0.003;
  bent[OWN.slant + 1] = -0.002;
  bent[OWN.bow] = 0.002;
  const sight = sightOf(bent, middle);
  for (let k = 0; k < 12; k++) {
    const t = (Math.PI * k) / 6, r = 40 * (1 - 0.004 * Math.cos(2 * t));
    sight.look(61 + r * Math.cos(t), 47 - r * Math.sin(t));
    close(Math.hypot(sight.u(), sight.v()), 1, 1e-4);
  }
  sight.look(61, 47); // the middle moves, by 3 c bow and by the slant
  close(sight.u(), -0.003 + 3 * 0.4 * 0.002, 1e-12);
  close(sight.v(), 0.002 - 3 * 0.3 * 0.002, 1e-12);
});

Deno.test("slopes by place, size, ellipse, slant and lens are those of small steps", () => {
  const sight = sightOf(own, middle), step = 1e-6;
  sight.look(85, 30);
  sight.slopes();
  SIGHT.forEach((at, k) => {
    const [more, less] = [step, -step].map((d) => {
      const other = own.slice();
      other[at] = (other[at] ?? 0) + d;
      const seen = sightOf(other, middle);
      seen.look(85, 30);
      return [seen.u(), seen.v()] as const;
    });
    close(sight.byU[k] ?? NaN, ((more?.[0] ?? NaN) - (less?.[0] ?? NaN)) / (2 * step), 1e-7);
    close(sight.byV[k] ?? NaN, ((more?.[1] ?? NaN) - (less?.[1] ?? NaN)) / (2 * step), 1e-7);
  });
});
