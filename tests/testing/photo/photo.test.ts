import assert from "node:assert/strict";
import { ALONE_AT_MOST, reducePhotos } from "../../../lib/testing/photo/photo.ts";
import type { PhotoTest } from "../../../lib/testing/photo/photoGiven.ts";
import { type MadePhoto, makePhoto } from "../photoGenerator.ts";
import { missed } from "../photoTruth.ts";
import { close } from "../../optics/close.ts";

/** A photograph of the usual bench, small, with everything a phone does to it. */
const usual: MadePhoto = {
  aperture: 150,
  radius: 2400,
  conic: -0.7,
  offset: -5,
  linesPerMm: 4,
  light: [550],
  width: 150,
  height: 140,
  x: 73.3,
  y: 68.8,
  r: 60.4,
  turn: 2,
  shift: 0.01,
  noise: 0.02,
  uneven: 0.3,
  hot: 20,
};

const testOf = (...made: MadePhoto[]): PhotoTest => ({
  aperture: 150,
  bevel: 0,
  radius: 2400,
  setUp: "same grating",
  photos: made.map((m) => ({
    image: makePhoto(m),
    linesPerMm: m.linesPerMm,
    offset: m.offset + 0.3,
  })),
});

const edge = (x: number, y: number): number => {
  const t = (Math.hypot(x, y) - 67) / 8;
  return t > 0 ? -120 * t * t : 0;
};
const ring = (x: number, y: number): number => 30 * Math.exp(-((Math.hypot(x, y) - 40) ** 2) / 128);

Deno.test("conics photographed by diffraction come back: figure, offset, turn", () => {
  const cases: Partial<MadePhoto>[] = [
    {},
    { conic: 0, offset: -4, turn: -4, seed: 2 },
    { conic: -1, offset: 8, turn: 0, seed: 3, gamma: 1.8 },
    { conic: 0.3, offset: -6, stand: true, seed: 4 },
    { conic: -1.3, offset: -7, turn: 5, light: [460, 550, 620], seed: 5, noise: 0.03 },
    { conic: -0.5, offset: -5, uneven: 0.5, fog: 0.1, seed: 6 },
  ];
  let within = 0;
  for (const change of cases) {
    const made = { ...usual, ...change }, figure = reducePhotos(testOf(made));
    const [seen] = figure.photos, k = figure.conic;
    // what a lens may bend is in u: a disc that fills most of a small picture is told to 0.05 or so
    assert.ok(Math.abs(k.value - made.conic) < 2 * k.u, `K ${made.conic}: ${k.value} u ${k.u}`);
    assert.ok(k.u < 0.06, `K ${made.conic}: u ${k.u}`);
    close(seen?.offset.value ?? NaN, made.offset, 2.5 * (seen?.offset.u ?? 0));
    assert.ok((seen?.offset.u ?? 1) < 0.15, `${seen?.offset.u}`);
    close(((seen?.turn.value ?? NaN) * 180) / Math.PI, made.turn ?? 0, 0.15);
    close(seen?.outline.radius ?? NaN, made.r, 0.35);
    assert.ok(missed(made, figure.fit) < 550 / 40, `${missed(made, figure.fit)} nm`);
    const [low, high] = figure.interval95.conic;
    if (low < made.conic && made.conic < high) within++;
  }
  assert.ok(within >= 5, `${within} of 6 intervals hold`);
});

Deno.test("a turned edge and a raised ring come back, and are named", () => {
  const turned = { ...usual, error: edge, seed: 7 }, raised = { ...usual, error: ring, seed: 8 };
  const a = reducePhotos(testOf(turned)), b = reducePhotos(testOf(raised));
  assert.ok(a.terms.some(({ name }) => name.startsWith("turned edge")), JSON.stringify(a.terms));
  assert.ok(missed(turned, a.fit) < 550 / 20 / 2, `${missed(turned, a.fit)} nm`);
  assert.ok(missed(raised, b.fit) < 550 / 20 / 2, `${missed(raised, b.fit)} nm`);
  assert.ok(b.surfacePv.value > 20 && b.terms.length > 0);
});

Deno.test("light taken as rays: the same figure, though the model knows only waves", () => {
  const made: MadePhoto = { ...usual, light: "rays", seed: 9 };
  const figure = reducePhotos(testOf(made));
  // geometric stripes have sharper corners than light can have: the fit says so by a larger misfit and a wider interval
  assert.ok(Math.abs(figure.conic.value - made.conic) < 0.1, String(figure.conic.value));
  const [low, high] = figure.interval95.conic;
  assert.ok(low < made.conic && made.conic < high, `${low} ${high}`);
  assert.ok(missed(made, figure.fit) < 2, `${missed(made, figure.fit)} nm`);
  // rays have no images of the rim beside one another: what the model sees of them there moves the focus within its doubt
  const { value = NaN, u = NaN } = figure.photos[0]?.offset ?? {};
  close(value, made.offset, 2.5 * u);
  assert.ok(u < 0.1, `${u}`);
});

Deno.test("a fixed lamp is not a lamp that moves along", () => {
  // the picture of a moving lamp taken for a fixed one: half the offset would do as well, so the record's is gainsaid
  const wrong = reducePhotos({ ...testOf({ ...usual, offset: -6 }), setUp: "fixed" });
  assert.ok(
    wrong.cautions.some((c) => c.includes("the bands say the grating stood at")) ||
      (wrong.photos[0]?.misfit ?? 0) > 0.1,
  );
});

Deno.test("oblique astigmatism: out of sight in one photograph, plain in one from each side", () => {
  const error = (x: number, y: number): number => (60 * 2 * x * y) / 75 ** 2;
  const inside = { ...usual, error, turn: 0, seed: 10 };
  const outside = { ...inside, offset: 8, seed: 11 };
  const one = reducePhotos(testOf(inside));
  assert.ok(one.assumed.some((a) => a.includes("no astigmatism")));
  const both = reducePhotos(testOf(inside, outside));
  const found = both.terms.find(({ name }) => name === "astigmatism, oblique")?.amounts[0];
  assert.ok(Math.abs((found?.value ?? 0) - 60) < 8, JSON.stringify(both.terms));
  assert.ok(missed(inside, both.fit) < 550 / 40, `${missed(inside, both.fit)}`);
});

Deno.test("a wrong pitch shows where two photographs part", () => {
  const made = [{ ...usual, seed: 12 }, { ...usual, offset: 8, seed: 13 }];
  const test = testOf(...made);
  const wrong = { ...test, photos: test.photos.map((p) => ({ ...p, linesPerMm: 5 })) };
  assert.ok(reducePhotos(wrong).cautions.some((c) => c.includes("look at the grating's lines")));
  assert.ok(!reducePhotos(test).cautions.some((c) => c.includes("grating's lines")));
});

Deno.test("what cannot tell is refused, in words for the maker", () => {
  const refused = (change: Partial<MadePhoto>, wanted: RegExp): void => {
    assert.throws(() => reducePhotos(testOf({ ...usual, ...change })), wanted);
  };
  refused({ exposure: 3 }, /burnt out/);
  refused({ exposure: 0.001, fog: 0.05 }, /no mirror/);
  refused(
    { offset: -60, width: 120, height: 110, x: 60, y: 55, r: 40 },
    /finer than its pixels|no mirror/,
  );
  refused({ offset: -0.4, conic: 0 }, /too few bands/);
  refused({ blur: 12, offset: -8 }, /out of focus/);
  refused({ x: 12 }, /cut off at the left/);
  const test = testOf(usual);
  assert.throws(() => reducePhotos({ ...test, photos: [] }), /requires a photograph/);
  assert.throws(() => reducePhotos({ ...test, radius: NaN }), /radius=NaN/);
});

Deno.test("what no mirror explains is refused, alone and beside a photograph that one does", () => {
  const test = testOf(usual, { ...usual, offset: -7, seed: 5 }), [good, second] = test.photos;
  assert.ok(good !== undefined && second !== undefined);
  const { x, y, width } = usual, bright = Math.max(...second.image.values);
  const rings = second.image.values.map((value, i) => {
    const r = Math.hypot(i % width - x, Math.floor(i / width) - y);
    return r < 60 ? bright * (0.5 + 0.5 * Math.cos(r / 4)) : value;
  });
  const odd = { ...second, image: { ...second.image, values: rings } };
  for (const photos of [[odd], [good, odd]]) {
    assert.throws(() => reducePhotos({ ...test, photos }), /not explained by any mirror: \d\d %/);
  }
  reducePhotos(test);
});

Deno.test("the same photograph gives the same figure", () => {
  const test = testOf({ ...usual, seed: 14 });
  assert.deepEqual(reducePhotos(test).conic, reducePhotos(test).conic);
});

Deno.test("a slit beside the grating and a lamp that stays come back too; with few bands the interval says so", () => {
  // the model takes the slit for a line: 0.03 mm of it costs a K of 0.02 with four pitches across the disc, 0.06 with two and a half
  for (
    const [lamp, offset, most] of [["slit beside", -8, 0.05], ["fixed", -16, 0.05], [
      "slit beside",
      -5,
      0.1,
    ]] as const
  ) {
    const made: MadePhoto = { ...usual, lamp, slit: 0.03, exposure: 0.5, offset, seed: 15 };
    const figure = reducePhotos({ ...testOf(made), setUp: lamp }), name = `${lamp} at ${offset} mm`;
    assert.ok(Math.abs(figure.conic.value - made.conic) < most, `${name}: K ${figure.conic.value}`);
    const told = figure.photos[0]?.offset ?? { value: NaN, u: 0 };
    close(told.value, made.offset, 2.5 * told.u);
    assert.ok(told.u < 0.2, `${name}: offset u ${told.u}`);
    assert.ok(missed(made, figure.fit) < 550 / 40, `${name}: ${missed(made, figure.fit)} nm`);
    const [low, high] = figure.interval95.conic;
    assert.ok(low < made.conic && made.conic < high, `${name}: ${low} ${high}`);
  }
});

Deno.test("an outline by hand serves where none is found", () => {
  const made = { ...usual, seed: 16 }, test = testOf(made), [photo] = test.photos;
  if (photo === undefined) throw new Error("no photograph");
  const outline = { x: made.x + 0.3, y: made.y - 0.2, radius: made.r, u: 1 };
  const figure = reducePhotos({ ...test, photos: [{ ...photo, outline }] });
  assert.deepEqual(figure.photos[0]?.outline, outline);
  assert.ok(
    Math.abs(figure.conic.value - made.conic) < 3 * figure.conic.u,
    String(figure.conic.value),
  );
});

Deno.test("one photograph alone is never a yes, and says which views are missing; every value lies inside its interval", () => {
  const perfect = { ...usual, conic: -1, offset: -6, seed: 17 };
  const one = reducePhotos(testOf(perfect));
  assert.equal(one.verdict, "not shown");
  assert.ok(one.probabilityWithinGoal <= ALONE_AT_MOST && one.probabilityWithinGoal > 0.5);
  assert.equal(one.missing[0], "a second photograph");
  const { interval95: i } = one;
  for (
    const [value, [low, high]] of [
      [one.wavefrontPv.value, i.wavefrontPv],
      [one.wavefrontRms.value, i.wavefrontRms],
      [one.strehl.value, i.strehl],
      [one.conic.value, i.conic],
    ] as const
  ) assert.ok(low <= value && value <= high, `${value} in ${low} to ${high}`);
  // a perfect mirror may be perfect, and may have an edge narrower than the picture shows
  assert.equal(i.wavefrontPv[0], 0);
  assert.ok(i.wavefrontPv[1] > 0.08);
  assert.ok((one.profile.at(-1)?.u ?? 0) > 2 * (one.profile[10]?.u ?? 0));
});

Deno.test("a phone's S-shaped curve is no coma", () => {
  const made = { ...usual, conic: -1, offset: -6, uneven: 0.4, gamma: 2.2, noise: 0.01, seed: 18 };
  const test = testOf(made), [photo] = test.photos;
  if (photo === undefined) throw new Error("no photograph");
  // INVENTED: as much as phones do, v + 0.8 v (1 - v)(2 v - 1)
  const values = photo.image.values.map((v) => v + 0.8 * v * (1 - v) * (2 * v - 1));
  const bent = reducePhotos({ ...test, photos: [{ ...photo, image: { ...photo.image, values } }] });
  assert.deepEqual(bent.terms.filter(({ name }) => name === "coma"), []);
  assert.ok(missed(made, bent.fit) < 10, `${missed(made, bent.fit)} nm`);
});

Deno.test("upright astigmatism: from both sides of focus, and again with the grating turned by 45 degrees", () => {
  const error = (x: number, y: number): number => (60 * (x * x - y * y)) / 75 ** 2;
  const made = [-6, 8].flatMap((offset) =>
    [1, 46].map((turn, k) => ({ ...usual, conic: -1, error, offset, turn, seed: 19 + offset + k }))
  );
  const figure = reducePhotos(testOf(...made));
  assert.deepEqual(figure.missing, []);
  const found = figure.terms.find(({ name }) => name === "astigmatism, upright")?.amounts[0];
  // the shapes lie along the first photograph's lines
  assert.ok(Math.abs((found?.value ?? 0) - 60) < 3 * (found?.u ?? 0), JSON.stringify(found));
  assert.ok((found?.u ?? 99) < 20, JSON.stringify(found));
  assert.equal(figure.verdict, "no");
});
