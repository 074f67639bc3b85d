/** Light behind a knife against closed forms, finer rows, and rays. */
import assert from "node:assert/strict";
import { knifeLight, knifeNodes, slitPoints } from "../../../lib/testing/knife/knifeWave.ts";
import { close } from "../../optics/close.ts";

/** The one point that an infinitely narrow slit is. */
const POINT = { at: [0], share: [1] };

Deno.test("a perfect wave, the knife on the axis: a quarter in the middle, bright at the rim", () => {
  const nodes = knifeNodes(13), phase = new Float64Array(nodes.across.length);
  const { light } = knifeLight(
    { nodes, phase, perMm: 300, edge: 0, slit: 0, points: POINT },
    false,
  );
  nodes.across.forEach((x, k) => {
    const c = Math.sqrt(1 - (nodes.along[k] ?? 0) ** 2);
    if (Math.abs(x) > 0.97 * c) return;
    // READ (Linfoot, Recent Advances in Optics, 1955, chapter II: from memory) 1/4 (1 + ln^2((c + x) / (c - x)) / pi^2)
    close(light[k] ?? NaN, 0.25 * (1 + (Math.log((c + x) / (c - x)) / Math.PI) ** 2), 1e-9);
  });
});

/** INVENTED a wave with focus, spherical aberration and something across. */
function bent(nodes: ReturnType<typeof knifeNodes>): Float64Array {
  return nodes.across.map((x, k) => {
    const y = nodes.along[k] ?? 0, q = x * x + y * y;
    return 4 * q - 5 * q * q + 0.6 * x * y;
  });
}

Deno.test("slopes along phases are what small changes make", () => {
  const nodes = knifeNodes(5, 40), phase = bent(nodes);
  const wave = { nodes, perMm: 350, edge: 0.004, slit: 0.03, points: slitPoints(3.4, false) };
  const { slopes } = knifeLight({ ...wave, phase }, true);
  assert.ok(slopes !== undefined);
  const row = 2 * 41, step = 1e-5;
  for (const [i, j] of [[20, 25], [20, 20], [7, 33], [33, 32]] as const) {
    const by = (h: number): number => {
      const other = phase.slice();
      other[row + j] = (other[row + j] ?? NaN) + h;
      return knifeLight({ ...wave, phase: other }, false).light[row + i] ?? NaN;
    };
    close(slopes[2 * 41 * 41 + i * 41 + j] ?? NaN, (by(step) - by(-step)) / (2 * step), 1e-8);
  }
});

Deno.test("rows four times as fine give the same light to some thousandths", () => {
  const coarse = knifeNodes(5), fine = knifeNodes(5, 256);
  const of = (nodes: typeof fine): Float64Array =>
    knifeLight({
      nodes,
      phase: bent(nodes),
      perMm: 350,
      edge: 0.004,
      slit: 0.03,
      points: slitPoints(3.4, false),
    }, false).light;
  const a = of(coarse), b = of(fine);
  for (let k = 0; k < 5; k++) {
    for (let i = 2; i < 63; i++) close(a[k * 65 + i] ?? NaN, b[k * 257 + 4 * i] ?? NaN, 3e-3);
  }
});

Deno.test("an edge turned down by 100 nm within a twentieth of the radius is seen by the usual rows too", () => {
  const of = (stretches?: number): Float64Array => {
    const nodes = knifeNodes(5, stretches);
    // INVENTED a wave has twice the glass
    const phase = nodes.across.map((x, k) => {
      const rho = Math.hypot(x, nodes.along[k] ?? 0);
      return ((4 * Math.PI * 100) / 550) * Math.exp((rho - 1) / 0.05);
    });
    const points = slitPoints(3.4, false);
    return knifeLight({ nodes, phase, perMm: 350, edge: 0.004, slit: 0.03, points }, false).light;
  };
  const usual = of(), fine = of(512);
  for (let k = 1; k < 4; k++) {
    // DERIVED places that lie evenly miss by 0.010 here
    for (let i = 4; i < 61; i++) {
      close(usual[k * 65 + i] ?? NaN, fine[k * 513 + 8 * i] ?? NaN, 7e-3);
    }
  }
});

Deno.test("the wider the slit, the more light goes as rays do", () => {
  const nodes = knifeNodes(5, 200), perMm = 350;
  const q = (k: number): number => (nodes.across[k] ?? 0) ** 2 + (nodes.along[k] ?? 0) ** 2;
  /** RMS of light less what rays give, the focus so far off that rays fill the slit's image */
  const apart = (slit: number): number => {
    const focus = 50 * slit, phase = nodes.across.map((_, k) => focus * q(k));
    const points = slitPoints(114 * slit, false);
    const { light } = knifeLight({ nodes, phase, perMm, edge: 0, slit, points }, false);
    let sum = 0, count = 0;
    nodes.across.forEach((x, k) => {
      if (q(k) > 0.7) return;
      // DERIVED ray at (d phase / d across) / perMm; the slit's image there is cut at 0
      const shone = Math.min(1, Math.max(0, 0.5 + (2 * focus * x) / perMm / slit));
      sum += ((light[k] ?? NaN) - shone) ** 2;
      count++;
    });
    return Math.sqrt(sum / count);
  };
  const [narrow = NaN, wide = NaN] = [0.03, 0.2].map(apart);
  assert.ok(wide < 0.02 && narrow > 2 * wide, `${narrow}, ${wide}`);
});

Deno.test("a hole has more of its light in its middle than a slit", () => {
  // DERIVED a disc's chord goes as sqrt(1 - t^2): variance 1/16 of its width squared, a slit's 1/12
  const variance = (isRound: boolean): number => {
    const { at, share } = slitPoints(10, isRound);
    return at.reduce((sum, t, k) => sum + t * t * (share[k] ?? NaN), 0);
  };
  close(variance(false), 1 / 12, 1e-9);
  close(variance(true), 1 / 16, 1e-4);
});
