/**
 * A polished glass that nobody sees: sessions of polishing take from it, a knife reads it. INVENTED physics that shares nothing with
 * the planner: glass goes by the time that a place lies under the lap, whose load is shared by all that it touches.
 */
import { random } from "../../lib/numeric/random.ts";
import type { PlannedStroke } from "../../lib/knowledge/summaryTypes.ts";

/** Rings of the glass, and places round each that are looked at. */
const RINGS = 74, AROUND = 24, ALONG = 16;

/** Minutes in which a lap settles to the glass. */
const SETTLES = 3;

/** A glass of 150 mm and a radius of 2400 mm, its height above the sphere in nm at whole millimetres from the centre. */
export class HiddenGlass {
  readonly heights: Float64Array;
  readonly #dice: ReturnType<typeof random>;

  /**
   * @param start       nm above the sphere, by mm from the centre
   * @param hands       um taken in an hour where the lap always lies
   * @param astigmatic  nm at the rim, along the mark and across it
   */
  constructor(
    start: (r: number) => number,
    readonly hands: number,
    public astigmatic = 0,
    seed = 1,
  ) {
    this.heights = Float64Array.from({ length: RINGS + 1 }, (_, r) => start(r));
    this.#dice = random(seed);
  }

  /** One session by a plan; what is not round wears away by half in twenty minutes of strokes that turn. */
  work(plan: readonly Pick<PlannedStroke, "sideMm" | "lengthMm" | "minutes">[]): void {
    for (const { sideMm, lengthMm, minutes } of plan) {
      const touched = this.heights.map((_, r) => under(r, sideMm, lengthMm));
      const area = touched.reduce((sum, share, r) => sum + share * r, 0) / (RINGS * RINGS / 2);
      // pressed pitch follows the glass: what it takes unevenly dies away within minutes
      const most = 1000 * this.hands * SETTLES * (1 - Math.exp(-minutes / SETTLES)) / 60;
      touched.forEach((share, r) =>
        this.heights[r] = (this.heights[r] as number) - most * share / area
      );
      this.astigmatic *= 2 ** (-minutes / 20);
    }
  }

  /** nm from the lowest to the highest place at the best focus, beside the paraboloid of R = 2400 mm, what is not round with it. */
  truth(): number {
    const left = Array.from(this.heights, (h, r) => h + r ** 4 / (8 * 2400 ** 3) * 1e6);
    // the best focus by least squares over the area, q = (r / a)^2
    const q = left.map((_, r) => (r / RINGS) ** 2), area = left.map((_, r) => r);
    const mean = (v: readonly number[]): number =>
      v.reduce((sum, x, r) => sum + x * (area[r] as number), 0) / area.reduce((a, b) => a + b);
    const h = mean(left), m = mean(q);
    const slope = mean(left.map((v, r) => (v - h) * ((q[r] as number) - m))) /
      mean(q.map((v) => (v - m) ** 2));
    const rest = left.map((v, r) => v - slope * (q[r] as number));
    const swing = q.map((v) => Math.abs(this.astigmatic) * v);
    return Math.max(...rest.map((v, r) => v + (swing[r] as number))) -
      Math.min(...rest.map((v, r) => v - (swing[r] as number)));
  }

  /**
   * One knife reading, mm. DERIVED: a lamp that moves with the knife is thrown back into itself from where the glass's normal meets
   * the axis; a slope of h' more brings that nearer by R^2 h' / r; h = A (r/a)^2 cos 2 phi by 2 R^2 A cos 2 phi / a^2.
   */
  reading(inner: number, outer: number, angleDeg: number, knifeDeg: number): number {
    let sum = 0, weight = 0;
    for (let r = Math.max(1, Math.ceil(inner)); r <= Math.min(RINGS - 1, outer); r++) {
      const slope = ((this.heights[r + 1] as number) - (this.heights[r - 1] as number)) / 2e6;
      sum -= 2400 * 2400 * slope; // weighed by r, over r
      weight += r;
    }
    // knife upright: the windows to the left and right, a quarter turn from the top where the mark stands at 0
    const phi = (knifeDeg === 0 ? 90 : 0) - angleDeg;
    const twofold = 2 * 2400 * 2400 * this.astigmatic * 1e-6 / (74 * 74) *
      Math.cos(phi * Math.PI / 90);
    return 12 + sum / weight - twofold + 0.03 * this.#dice.normal();
  }
}

/** How long a place at r lies under the lap, as a share of the time, the glass turned by and by. */
function under(r: number, side: number, length: number): number {
  let hit = 0;
  for (let k = 0; k < AROUND; k++) {
    const turn = 2 * Math.PI * (k + 0.5) / AROUND, x = r * Math.cos(turn), y = r * Math.sin(turn);
    for (let i = 0; i < ALONG; i++) {
      const along = length / 2 * Math.sin(Math.PI * ((i + 0.5) / ALONG - 0.5));
      if (Math.hypot(x - along, y - side) < 75) hit++;
    }
  }
  return hit / (AROUND * ALONG);
}
