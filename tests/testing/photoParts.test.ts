/** The parts of a photograph's reduction: averaging, outline, model and its slopes, steps, terms. */
import assert from "node:assert/strict";
import { quantileOf, shrunk } from "../../lib/testing/photo/photoImage.ts";
import { brightness } from "../../lib/testing/photo/photoBrightness.ts";
import { OWN, OWN_COUNT } from "../../lib/testing/photo/photoModel.ts";
import { findOutline } from "../../lib/testing/photo/photoOutline.ts";
import { descend } from "../../lib/testing/photo/photoSteps.ts";
import { TERMS } from "../../lib/testing/photo/photoTerms.ts";
import type { RonchiSetUp } from "../../lib/testing/bands/ronchi.ts";
import { close } from "../optics/close.ts";
import { ronchiAt } from "./bands/ronchiReference.ts";
import { makePhoto } from "./photoGenerator.ts";

Deno.test("averaging keeps the mean, whatever the factor", () => {
  const width = 60, height = 40;
  const values = Float32Array.from({ length: width * height }, (_, k) => ((k * 7919) % 101) / 101);
  const mean = (v: Float32Array): number => v.reduce((a, b) => a + b, 0) / v.length;
  for (const factor of [1, 2, 2.5, 4, 10]) { // factors that divide both sides
    const small = shrunk({ width, height, values }, factor);
    assert.deepEqual([small.width, small.height], [width / factor, height / factor]);
    close(mean(small.values), mean(values), 1e-6);
  }
  const even = shrunk({ width, height, values: values.map(() => 0.3) }, 3.7);
  assert.ok(even.values.every((v) => Math.abs(v - 0.3) < 1e-6));
  assert.throws(() => shrunk({ width, height, values }, 0.5), /factor from 1/);
  assert.throws(() => shrunk({ width: 3, height: 3, values }, 1), /width x height grey values/);
  assert.equal(quantileOf([3, 1, 2], 0.5), 2);
});

const phone = {
  aperture: 150,
  radius: 2400,
  conic: -0.7,
  linesPerMm: 4,
  light: "rays",
  width: 200,
  height: 180,
  noise: 0.03,
  uneven: 0.4,
  hot: 40,
} as const;

Deno.test("the outline is found to a third of a pixel among noise, hot pixels, a stand, off the middle", () => {
  // INVENTED pictures
  for (
    const [offset, x, y, r] of [[-5, 98.3, 92.8, 70.4], [-8, 80, 85.5, 60.9], [
      7,
      120.7,
      100,
      55,
    ]] as const
  ) {
    const found = findOutline(makePhoto({ ...phone, offset, x, y, r, stand: true }));
    close(found?.x ?? NaN, x, 0.34);
    close(found?.y ?? NaN, y, 0.34);
    close(found?.radius ?? NaN, r, 0.34);
  }
});

Deno.test("no outline where there is no mirror", () => {
  const blank = new Float32Array(6400).fill(0.5);
  const noise = Float32Array.from(
    { length: 6400 },
    (_, k) => Math.abs(Math.sin(k * 12.9898) * 43758.5453) % 1,
  );
  const ramp = Float32Array.from({ length: 6400 }, (_, k) => (k % 80) / 80);
  for (const values of [blank, noise, ramp]) {
    assert.equal(findOutline({ width: 80, height: 80, values }), undefined);
  }
});

const bench = (setUp: RonchiSetUp) => ({
  radius: 2400,
  half: 75,
  setUp,
  linesPerMm: 4,
  wavelength: 550,
});
const shapes = TERMS.filter(({ name }) => name === "astigmatism" || name === "coma")
  .flatMap((t) => t.shapes);
const amounts = [20, -15, 25, 10];
const ownOf = (setUp: RonchiSetUp): Float64Array => {
  const own = new Float64Array(OWN_COUNT);
  own[OWN.offset] = -5;
  own[OWN.sharpness] = 1;
  own[OWN.turn] = 0.1;
  own[OWN.radius] = 1e6; // a rim as sharp as the other route's
  own[OWN.phase] = 2 * Math.PI * 4 * 0.03 * (setUp === "same grating" ? 2 : 1);
  return own;
};

Deno.test("the model's sum of sheared images and the transform row by row are the same light", () => {
  const points = [[0, 0], [10, 5], [20, -30], [30, 40], [-50, 20]] as const;
  const c = Math.cos(0.1) / 75, s = Math.sin(0.1) / 75;
  for (const [setUp, room] of [["same grating", 0.012], ["slit beside", 0.15]] as const) {
    const mirror = { conic: -0.7, shapes, amounts, axes: 0.1 };
    const face = brightness(bench(setUp), ownOf(setUp), mirror, false);
    const other = ronchiAt(points, {
      surface: { radius: 2400, conic: -0.7 },
      half: 75,
      setUp,
      linesPerMm: 4,
      offset: -5,
      turn: 0.1,
      shift: 0.03,
      error: (x, y) =>
        shapes.reduce((sum, f, i) => sum + (amounts[i] ?? 0) * f(c * x + s * y, c * y - s * x), 0),
    });
    // the model leaves out the grating's weakest orders: 0.007 at most here behind an LED, more for a point lamp
    points.forEach(([x, y], i) => close(face.at(x, y), other[i] ?? NaN, room));
  }
});

Deno.test("its slopes are those of small steps", () => {
  for (const setUp of ["same grating", "slit beside", "fixed"] as const) {
    const own = ownOf(setUp), mirror = { conic: -0.7, shapes, amounts, axes: 0.1 };
    const at = (o: Float64Array, m: typeof mirror): number =>
      brightness(bench(setUp), o, m, false).at(30, 40);
    const face = brightness(bench(setUp), own, mirror, true);
    face.at(30, 40);
    const byOwn = [OWN.offset, OWN.phase, OWN.sharpness].map((k) => {
      const up = own.slice(), down = own.slice();
      up[k] = (up[k] ?? 0) + 1e-5;
      down[k] = (down[k] ?? 0) - 1e-5;
      return (at(up, mirror) - at(down, mirror)) / 2e-5;
    });
    // the shear grows a little with the offset, which the slope leaves out: 4 parts in 10,000 of s
    byOwn.forEach((v, i) => close(face.byOwn[i] ?? NaN, v, i === 0 ? 2e-3 : 1e-6));
    // nor does the turn's slope follow the images over the shapes: judged on the bare conic
    const bare = { conic: -0.7, shapes: [], amounts: [], axes: 0 };
    const turned = [1e-5, -1e-5].map((d) => {
      const other = own.slice();
      other[OWN.turn] = (other[OWN.turn] ?? 0) + d;
      return brightness(bench(setUp), other, bare, false).at(30, 40);
    });
    const plain = brightness(bench(setUp), own, bare, true);
    plain.at(30, 40);
    close(plain.byOwn[3] ?? NaN, ((turned[0] ?? NaN) - (turned[1] ?? NaN)) / 2e-5, 1e-5);
    const k = 1e-5;
    const byConic =
      (at(own, { ...mirror, conic: -0.7 + k }) - at(own, { ...mirror, conic: -0.7 - k })) / (2 * k);
    close(face.byMirror[0] ?? NaN, byConic, 1e-6);
    amounts.forEach((v, j) => {
      const other = (d: number): number =>
        at(own, { ...mirror, amounts: amounts.map((a, i) => i === j ? v + d : a) });
      close(face.byMirror[j + 1] ?? NaN, (other(0.01) - other(-0.01)) / 0.02, 1e-8);
    });
  }
});

Deno.test("where an image's rim crosses, light moves with the disc's place, with blur and with an edge's height", () => {
  const edges = TERMS.filter(({ kind }) => kind === "edge").flatMap((t) => t.shapes);
  const mirror = { conic: -0.7, shapes: edges, amounts: edges.map((_, k) => 40 - 15 * k), axes: 0 };
  const own = ownOf("same grating");
  own[OWN.radius] = 28; // pixels of 2.7 mm
  own[OWN.turn] = 0.03;
  own[OWN.blur] = own[OWN.blur + 2] = 3e-4;
  const at = (x: number, y: number, o = own, m: typeof mirror = mirror): number =>
    brightness(bench("same grating"), o, m, false).at(x, y);
  // DERIVED: the first image is 5.3 mm to the side, so that its rim crosses these pixels
  for (const [x, y] of [[70.2, 0], [-69.4, 3], [49, 50], [-52, -46]] as const) {
    const face = brightness(bench("same grating"), own, mirror, true);
    face.at(x, y);
    const d = 1e-4,
      near = (found = NaN, wanted = NaN, least = 0): void =>
        close(found, wanted, Math.max(least, 0.06 * Math.abs(wanted)));
    // how a step to the side moves the images over the shapes is left out: judged on the bare conic
    const bare = { conic: -0.7, shapes: [], amounts: [], axes: 0 };
    const plain = brightness(bench("same grating"), own, bare, true);
    plain.at(x, y);
    const light = (u: number, v: number): number => at(u, v, own, bare);
    near(plain.byPlace[0], (light(x + d, y) - light(x - d, y)) / (2 * d), 4e-3);
    near(plain.byPlace[1], (light(x, y + d) - light(x, y - d)) / (2 * d), 4e-3);
    for (const [k, place] of [[4, OWN.blur], [6, OWN.blur + 2]] as const) {
      const step = (by: number): Float64Array => own.map((v, i) => i === place ? v + by : v);
      near(face.byOwn[k], (at(x, y, step(1e-8)) - at(x, y, step(-1e-8))) / 2e-8, 1);
    }
    edges.forEach((_, j) => {
      const step = (by: number): typeof mirror => ({
        ...mirror,
        amounts: mirror.amounts.map((v, i) => i === j ? v + by : v),
      });
      near(
        face.byMirror[j + 1],
        (at(x, y, own, step(0.01)) - at(x, y, own, step(-0.01))) / 0.02,
        1e-6,
      );
    });
  }
});

Deno.test("damped steps go down a bent valley, and leave what is held where it is", () => {
  const valley = (p: Float64Array) => {
    const x = p[0] ?? 0, y = p[1] ?? 0, r0 = 10 * (y - x * x), r1 = 1 - x;
    // J of (r0, r1) with r = data - model: model slopes are -dr
    const rows = [[20 * x, -10], [1, 0]] as const, r = [r0, r1];
    const right = new Float64Array(2), square = new Float64Array(4);
    rows.forEach((row, i) => {
      for (let a = 0; a < 2; a++) {
        right[a] = (right[a] ?? 0) + (row[a] ?? 0) * (r[i] ?? 0);
        for (let b = 0; b < 2; b++) {
          square[2 * a + b] = (square[2 * a + b] ?? 0) + (row[a] ?? 0) * (row[b] ?? 0);
        }
      }
    });
    return { cost: r0 * r0 + r1 * r1, right, square };
  };
  const { at } = descend(Float64Array.of(-1.2, 1), valley, [0, 1], 100, 1e-6);
  close(at[0] ?? NaN, 1, 0.05);
  assert.equal(descend(Float64Array.of(0.5, 1), valley, [1], 50).at[0], 0.5);
});

Deno.test("every shape is finite over the disc, and says what it is", () => {
  for (const { name, shapes, usual } of TERMS) {
    assert.ok(name.length > 3 && usual > 0);
    for (const f of shapes) {
      for (const [u, v] of [[0, 0], [0.5, 0.5], [1, 0], [0, -1], [-0.7, 0.3]] as const) {
        assert.ok(Math.abs(f(u, v)) <= 1.5, `${name} ${u} ${v}`);
      }
    }
  }
});
