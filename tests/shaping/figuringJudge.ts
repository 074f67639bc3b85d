// deno-lint-ignore-file no-non-null-assertion -- plain loops over typed arrays
/**
 * The judge of a figuring plan: a mirror on square cells worked on a lap of pitch, set by set, turned bodily.
 *
 * It shares no code with the planning. Other physics on purpose: the planning takes a lap that fits and a load that spreads in
 * a straight line; here lap and glass touch through a layer that gives, high glass carries more, the pitch flows where it is
 * pressed, and the hands' real rate is not the one thought of.
 */
import { along, balance, gaps, meeting, Square, wearDown } from "./judge.ts";

/** A session's stroke as the judge needs it; lengths mm. */
export interface Work {
  readonly face: "down" | "up";
  readonly lap: number;
  readonly travel: number;
  readonly offset: number;
  readonly minutes: number;
  /** pressure over the usual */
  readonly press: number;
  /** as the plan says: after so many strokes the upper and the lower disc are turned by so much, rad */
  readonly turns: { readonly strokes: number; readonly upper: number; readonly lower: number };
  /** um by which the lap's middle stands off the mirror's shape against its rim after pressing; default 0: it fits */
  readonly misfitUm?: number;
}

export interface Workshop {
  readonly cells: number;
  readonly places: number;
  /** mean pressure, N/mm2 */
  readonly pressure: number;
  /** wear of the glass, mm2/N */
  readonly wear: number;
  /** how far the layer gives under the mean pressure, um */
  readonly giveUm: number;
  /** how fast the pitch flows under the mean pressure, um/min */
  readonly flowUm: number;
  readonly strokesPerMinute: number;
  /** hands turn by so much too far and too little, rad */
  readonly turnScatter: number;
}

/**
 * 3.25 kg on 150 mm, 1.3 um an hour in the middle by ordinary strokes (a coefficient of 2.5e-12 per Pa at 40 strokes a minute),
 * pitch of 1e9 Pa s, at the hard end of what is usable. Eleven places along the stroke: with five the rim of the upper disc
 * left steps, a tenth of the shape for long strokes.
 */
export const workshop: Workshop = {
  cells: 44,
  places: 11,
  pressure: 1.8036e-3,
  wear: 2.52e-6,
  giveUm: 1,
  flowUm: 0.3,
  strokesPerMinute: 40,
  turnScatter: 0.1,
};

/** A mirror's glass over the sphere it lies on, mm, on its own cells. */
export class JudgedMirror {
  readonly disc: Square;

  constructor(readonly aperture: number, cells: number, overSphere: (r: number) => number) {
    this.disc = new Square(aperture / 2, cells);
    this.disc.nodes.forEach((node, k) => {
      const r = Math.min(aperture / 2, Math.hypot(this.disc.x[k]!, this.disc.y[k]!));
      this.disc.height[node] = overSphere(r);
    });
  }

  /**
   * One stroke for some minutes on a lap just pressed; `gain` is the real rate over the usual one. The mirror is taken up as it
   * was left, so that a second one does not begin at the places of the first.
   */
  polish(work: Work, gain: number, shop = workshop): void {
    const { face, lap, travel, offset, minutes, press, turns } = work;
    const mirror = this.disc;
    // cells of about one size on both, for each looks between the other's
    const cells = Math.max(20, Math.round(shop.cells * lap / this.aperture));
    const tool = new Square(lap / 2, cells);
    this.#press(tool, lap < this.aperture ? offset : 0);
    tool.nodes.forEach((node, k) => {
      const q = (tool.x[k]! ** 2 + tool.y[k]! ** 2) / tool.radius ** 2;
      tool.height[node]! += (work.misfitUm ?? 0) / 1000 * (0.5 - q);
    });
    const [upper, lower] = face === "down" ? [mirror, tool] : [tool, mirror];
    tool.turned = 0;
    const force = press * shop.pressure * Math.PI * Math.min(mirror.radius, tool.radius) ** 2;
    const stiffness = shop.pressure / (shop.giveUm / 1000), f = force / stiffness;
    const strokes = minutes * shop.strokesPerMinute;
    const perMinute = 2 * travel * shop.strokesPerMinute;
    const flow = shop.flowUm / 1000 / shop.pressure / perMinute;
    const rates = face === "down"
      ? { upper: shop.wear * gain, lower: flow }
      : { upper: flow, lower: shop.wear * gain };
    const e = new Float64Array(Math.max(upper.nodes.length, lower.nodes.length));
    const planes = along(shop.places).map(() => [-press * shop.giveUm / 1000, 0, 0]);
    let side = 1;
    for (let left = strokes; left > 1e-9; left -= turns.strokes) {
      const path = 2 * travel * Math.min(left, turns.strokes) * stiffness;
      for (const [i, { at, share }] of along(shop.places).entries()) {
        const plane = planes[i]!;
        const x = travel / 2 * at;
        const below = meeting(lower, upper, x, offset, false);
        const above = meeting(upper, lower, -x, -offset, true);
        gaps(below, lower, upper, e);
        balance(below, e, plane, f, 0);
        const settled = [...plane], saved = e.slice(0, below.n);
        gaps(above, upper, lower, e);
        wearDown(below, lower, saved, settled, rates.lower * path * share);
        balance(above, e, plane, f, 0);
        wearDown(above, upper, e, plane, rates.upper * path * share);
      }
      upper.turned += turns.upper + shop.turnScatter * side;
      lower.turned += turns.lower + shop.turnScatter * side;
      side = -side;
    }
  }

  /** The lap takes the mirror's shape, averaged round as it is turned, where it will work. */
  #press(tool: Square, offset: number): void {
    const rings = this.radial(40), last = rings.length - 1;
    const at = (r: number): number => {
      const t = Math.min(last, r / (this.aperture / 2) * 40 - 0.5), i = Math.max(0, Math.floor(t));
      const next = Math.min(last, i + 1);
      return rings[i]! + (rings[next]! - rings[i]!) * Math.max(0, Math.min(1, t - i));
    };
    tool.nodes.forEach((node, k) => {
      const r = Math.hypot(tool.x[k]!, tool.y[k]!);
      let sum = 0;
      for (let turn = 0; turn < 12; turn++) {
        const a = 2 * Math.PI * turn / 12;
        sum += at(Math.hypot(r * Math.cos(a) + offset, r * Math.sin(a)));
      }
      tool.height[node] = -sum / 12;
    });
  }

  /** Mean height by ring, mm. */
  radial(count: number): number[] {
    const sum = new Float64Array(count), weight = new Float64Array(count);
    this.disc.nodes.forEach((node, k) => {
      const r = Math.hypot(this.disc.x[k]!, this.disc.y[k]!);
      const across = r / (this.aperture / 2) * count - 0.5, i = Math.floor(across);
      for (const [ring, share] of [[i, 1 - (across - i)], [i + 1, across - i]] as const) {
        if (ring < 0 || ring >= count || this.disc.own[k] === 0) continue;
        sum[ring]! += share * this.disc.own[k]! * this.disc.height[node]!;
        weight[ring]! += share * this.disc.own[k]!;
      }
    });
    return Array.from(sum, (v, i) => v / weight[i]!);
  }
}

/** What is left of a surface inside a rim: rms of all cells, nm, piston, tilt and focus out; and its radial curve. */
export function leftOver(
  mirror: JudgedMirror,
  wanted: (r: number) => number,
  rim: number,
): { rms: number; radial: (r: number) => number } {
  const { disc } = mirror;
  const cells: { b: number[]; h: number }[] = [];
  disc.nodes.forEach((node, k) => {
    const x = disc.x[k]!, y = disc.y[k]!, r = Math.hypot(x, y);
    if (r > rim) return;
    cells.push({
      b: [1, x / rim, y / rim, (r / rim) ** 2],
      h: (disc.height[node]! - wanted(r)) * 1e6,
    });
  });
  const M = [0, 1, 2, 3].map((i) => [
    ...[0, 1, 2, 3].map((j) => cells.reduce((s, { b }) => s + b[i]! * b[j]!, 0)),
    cells.reduce((s, { b, h }) => s + b[i]! * h, 0),
  ]);
  for (let p = 0; p < 4; p++) {
    for (let r = 0; r < 4; r++) {
      if (r === p) continue;
      const share = M[r]![p]! / M[p]![p]!;
      for (let k = p; k < 5; k++) M[r]![k]! -= share * M[p]![k]!;
    }
  }
  const c = M.map((row, i) => row[4]! / row[i]!);
  const square = cells.reduce(
    (s, { b, h }) => s + (h - b.reduce((t, v, i) => t + v * c[i]!, 0)) ** 2,
    0,
  );
  const count = 40, rings = mirror.radial(count);
  const radial = (r: number): number => {
    const across = Math.max(0, Math.min(count - 1, r / (mirror.aperture / 2) * count - 0.5));
    const i = Math.min(count - 2, Math.floor(across)), t = across - i;
    const h = rings[i]! * (1 - t) + rings[i + 1]! * t;
    return (h - wanted(r)) * 1e6 - c[0]! - c[3]! * (r / rim) ** 2;
  };
  return { rms: Math.sqrt(square / cells.length), radial };
}

/**
 * Knife readings of a surface through a mask, lamp moving along: a window's mean slope over its radius.
 *
 *     reading = (a^2 + b^2) / (4 R) - R^2 (h(b) - h(a)) / ((b^2 - a^2) / 2)
 */
export function readZones(
  radial: (r: number) => number,
  edges: readonly number[],
  radius: number,
  runs: number,
  noise: () => number,
): { run: string; inner: number; outer: number; reading: number }[] {
  return Array.from({ length: runs }, (_, run) =>
    edges.slice(1).map((outer, i) => {
      const inner = edges[i]!, half = (outer ** 2 - inner ** 2) / 2;
      const ideal = (inner ** 2 + outer ** 2) / 4 / radius;
      const off = -(radius ** 2) * (radial(outer) - radial(inner)) * 1e-6 / half;
      return { run: `${run + 1}`, inner, outer, reading: 12 + ideal + off + noise() };
    })).flat();
}
