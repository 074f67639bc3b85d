import assert from "node:assert/strict";
import {
  MOMENT_DEFOCUS,
  NO_TROUBLE,
  type StarMoment,
  starMoment,
  type StarTroubles,
} from "../../../lib/figures/live/starMoment.ts";

const telescope = { aperture: 150, focalLength: 1200, obstruction: 0.21 };
const open = { ...telescope, obstruction: 0 };
const of = (trouble: Partial<StarTroubles>, through = telescope): StarMoment =>
  starMoment({ ...NO_TROUBLE, ...trouble }, through);

/** Second moments of a picture: widths along x and y, squared. */
function widths({ across }: StarMoment, light: Float64Array): readonly [number, number] {
  let all = 0, x = 0, y = 0, xx = 0, yy = 0;
  light.forEach((value, k) => {
    const a = k % across, b = Math.floor(k / across);
    all += value;
    x += a * value;
    y += b * value;
    xx += a * a * value;
    yy += b * b * value;
  });
  return [xx / all - (x / all) ** 2, yy / all - (y / all) ** 2];
}

function mostApart(a: Float64Array, b: Float64Array): number {
  return a.reduce((most, value, k) => Math.max(most, Math.abs(value - (b[k] ?? 0))), 0);
}

Deno.test("small faults dim the middle by the square of their RMS, whatever they are", () => {
  const small: readonly Partial<StarTroubles>[] = [
    { edge: 0.2 },
    { astigmatism: 0.03 },
    { threefold: 0.03 },
    { tilt: 0.0015 },
    { rough: 8 },
    { warmth: 1.5 },
    { tubeAir: 0.06 },
    { seeing: 0.3 },
  ];
  for (const trouble of small) {
    const { strehl, rms } = of(trouble), [fault] = Object.keys(trouble) as (keyof StarTroubles)[];
    const waves = rms[fault ?? "edge"];
    assert.ok(waves > 0.005 && waves < 0.05, `${fault} ${waves}`);
    // DERIVED: |mean of e^(2 pi i W)|^2 = 1 - (2 pi W)^2 + ..., what is focus in W being taken out by the focuser
    const wanted = Math.exp(-((2 * Math.PI * waves) ** 2));
    assert.ok(strehl >= wanted - 0.012, `${fault}: ${strehl} ${wanted}`);
    assert.ok(strehl < 1 + 1e-6);
    if (fault !== "edge" && fault !== "tubeAir" && fault !== "warmth" && fault !== "seeing") {
      assert.ok(Math.abs(strehl - wanted) < 0.012, `${fault}: ${strehl} ${wanted}`);
    }
  }
});

Deno.test("faults that change sign through the middle look the same on both sides; the others do not", () => {
  // DERIVED: the light at -z of a wave W is the light at z of -W seen through the middle; for W(-u) = -W(u) both turns cancel
  for (const trouble of [{ threefold: 0.12 }, { tilt: 0.006 }]) {
    const moment = of(trouble), { inside, outside } = moment;
    assert.ok(mostApart(inside, of({}).inside) > 0.3, "there is something to see");
    assert.ok(mostApart(inside, outside) < 1e-6);
  }
  for (const trouble of [{ edge: 1 }, { astigmatism: 0.12 }, { rough: 15 }]) {
    const { inside, outside } = of(trouble);
    assert.ok(mostApart(inside, outside) > 0.3);
  }
  const { inside, outside } = of({});
  assert.ok(mostApart(inside, outside) < 1e-6, "a perfect mirror");
});

Deno.test("an astigmatic oval lies across on the other side, by the same amount", () => {
  const moment = of({ astigmatism: 0.12 });
  const [ax, ay] = widths(moment, moment.inside), [bx, by] = widths(moment, moment.outside);
  assert.ok(ay / ax > 1.1 && bx / by > 1.1, `${ax} ${ay} ${bx} ${by}`);
  assert.ok(Math.abs(ay / bx - 1) < 1e-6 && Math.abs(ax / by - 1) < 1e-6);
});

Deno.test("light of a turned edge comes to its focus late: it lies around the disc inside, within it outside", () => {
  const moment = of({ edge: 0.6 }), { across, step, inside, outside } = moment, half = across / 2;
  const beyond = (light: Float64Array): number => {
    let far = 0, all = 0;
    light.forEach((value, k) => {
      const r = step * Math.hypot((k % across) - half, Math.floor(k / across) - half + 1);
      all += value;
      if (r > 1.15 * 4 * MOMENT_DEFOCUS) far += value;
    });
    return far / all;
  };
  // DERIVED: where the glass falls away to the rim its light meets the axis farther from the mirror
  assert.ok(beyond(inside) > 2 * beyond(of({}).inside), `${beyond(inside)}`);
  assert.ok(beyond(inside) > 2 * beyond(outside), `${beyond(inside)} ${beyond(outside)}`);
});

Deno.test("the light is what a sum over the mirror's face gives, place by place", () => {
  // DERIVED: the diffraction integral itself as a sum over rings and spokes of the face, without a grid or a transform
  const troubles = { ...NO_TROUBLE, astigmatism: 0.1, tilt: 0.004 };
  const moment = starMoment(troubles, open), { across, step, outside } = moment;
  // DERIVED: h = 4.8 mm, h / (32 x 8^3) = 293.0 nm, over root 72 and 550 nm
  const coma = 0.06278;
  // at places x, y in wavelength / aperture
  const light = (px: number, py: number): number => {
    let re = 0, im = 0, count = 0;
    for (let ring = 0; ring < 200; ring++) {
      const r = Math.sqrt((ring + 0.5) / 200);
      for (let spoke = 0; spoke < 320; spoke++) {
        const t = (2 * Math.PI * spoke) / 320, x = r * Math.cos(t), y = r * Math.sin(t);
        // orthonormal: root 6 r^2 cos 2t, root 8 (3 r^3 - 2 r) cos t
        const wave = 0.1 * Math.sqrt(6) * r * r * Math.cos(2 * t) +
          coma * Math.sqrt(8) * (3 * r ** 3 - 2 * r) * Math.cos(t) + MOMENT_DEFOCUS * r * r;
        const turn = 2 * Math.PI * (wave - (px * x + py * y) / 2);
        re += Math.cos(turn);
        im += Math.sin(turn);
        count++;
      }
    }
    return (re * re + im * im) / (count * count);
  };
  // an even disc of radius 4 w: the face's light pi / 4 spread over pi (4 w)^2
  const even = (Math.PI / 4) / (Math.PI * (4 * MOMENT_DEFOCUS) ** 2) * (4 / Math.PI) ** 2;
  let worst = 0, told = "";
  for (const [column, row] of [[48, 47], [60, 47], [48, 60], [70, 40], [30, 30], [40, 66]]) {
    const c = column ?? 0, w = row ?? 0;
    const wanted = light(step * (c - across / 2), step * (across / 2 - 1 - w)) / even;
    told += ` ${wanted.toFixed(3)}/${(outside[w * across + c] ?? 0).toFixed(3)}`;
    worst = Math.max(worst, Math.abs((outside[w * across + c] ?? 0) - wanted));
  }
  assert.ok(worst < 0.08, `${worst} ${told}`);
});

Deno.test("amounts in waves: air by Noll, coma by the third order, warm air by its index", () => {
  // READ Noll, J. Opt. Soc. Am. 66 (1976) 207, table IV: without piston and tilt 0.134 (D / r0)^(5/3) rad^2
  const r0 = 150, seeing = (0.98 * 550e-6 / r0) * 206264.806;
  const air = of({ seeing }, open).rms.seeing;
  assert.ok(Math.abs(air / (Math.sqrt(0.134) / (2 * Math.PI)) - 1) < 0.01, `${air}`);
  // DERIVED: f tilt = 1200 x 10' = 3.491 mm; h / 32 N^3 = 213.0 nm; over root 72 and 550 nm: 0.0457 wave
  const tilt = of({ tilt: (10 / 60) * Math.PI / 180 }, open).rms.tilt;
  assert.ok(Math.abs(tilt / 0.04565 - 1) < 0.02, `${tilt}`);
  // DERIVED: twice through 10 mm, half of it: 10 mm x 0.97e-6 per K at 10 degC = 9.7 nm = 0.0177 wave a kelvin
  const warm = of({ warmth: 1 }, open).rms.warmth;
  assert.ok(Math.abs(warm / 0.0177 - 1) < 0.03, `${warm}`);
  // DERIVED: 10 nm RMS of glass are 20 nm of wavefront
  assert.ok(Math.abs(of({ rough: 10 }, open).rms.rough / (20 / 550) - 1) < 1e-9);
});

Deno.test("a telescope that is none is refused", () => {
  for (const wrong of [{ aperture: 0 }, { focalLength: NaN }, { obstruction: 1 }]) {
    assert.throws(() => starMoment(NO_TROUBLE, { ...telescope, ...wrong }), RangeError);
  }
});
