/** Zone readings taken from photographs behind the knife: where the two halves of each window are equally bright, whoever looks. */
import { type Measured, measured } from "../../quantity/measured.ts";
import type { KnifeStamp } from "./knifeFit.ts";

/** A window of the mask that is laid on the pictures: edges in radii, on both sides of the middle. */
export interface KnifeWindow {
  readonly inner: number;
  readonly outer: number;
}

/** Where a window's halves are equal. */
export interface KnifeZone extends KnifeWindow {
  /** across the knife's edge, rad, counter-clockwise from the right as the maker sees the mirror */
  readonly toward: number;
  /** knife along the axis, mm, on the maker's scale */
  readonly at: Measured;
}

/** Half the height of a window, radii. */
const HALF_HEIGHT = 0.15;

/** Balances between which it goes nearly straight: beyond them one half is dark. */
const STRAIGHT = 0.9;

/** What the line between two balances may miss where there is no third (COMMON PRACTICE: a tenth of the way between them). */
const BENT = 0.1;

/** Darkest half that tells, over the brightest in the series. */
const DARK = 0.02;

/** How well light to the left and to the right of the middle compares, its share (COMMON PRACTICE); and a place on the scale, mm. */
const LIGHT_U = 0.02, AT_U = 0.01;

/** Places across and along a half window. */
const STEPS = 12;

/**
 * Reads the windows.
 *
 * @param stamps   the photographs
 * @param lightAt  how much light falls on a place of the mirror beside its middle, in radii to the right and up
 * @param windows  of the mask
 * @returns one for each window and direction whose halves change places within the series
 */
export function knifeZones(
  stamps: readonly KnifeStamp[],
  lightAt: (x: number, y: number) => number,
  windows: readonly KnifeWindow[],
): readonly KnifeZone[] {
  const ways = Map.groupBy(stamps, ({ toward, mark }) => `${toward} ${mark}`);
  return [...ways.values()].flatMap((series) =>
    windows.flatMap((window): KnifeZone[] => {
      const at = balanceOf(series, lightAt, window), [first] = series;
      return at === undefined || first === undefined
        ? []
        : [{ ...window, toward: first.toward, at }];
    })
  );
}

/** Light of one half of a window, as if the whole mirror were lit evenly. */
function halfOf(
  { image: { width, height, values }, x, y, radius, toward }: KnifeStamp,
  lightAt: (x: number, y: number) => number,
  { inner, outer }: KnifeWindow,
  side: 1 | -1,
): number {
  const c = Math.cos(toward), s = Math.sin(toward);
  let sum = 0;
  for (let i = 0; i < STEPS; i++) {
    for (let j = 0; j < STEPS; j++) {
      const u = side * (inner + ((outer - inner) * (i + 0.5)) / STEPS);
      const v = HALF_HEIGHT * ((2 * (j + 0.5)) / STEPS - 1);
      const px = c * u - s * v, py = s * u + c * v;
      const column = Math.min(width - 1, Math.max(0, Math.floor(x + radius * px)));
      const row = Math.min(height - 1, Math.max(0, Math.floor(y - radius * py)));
      sum += (values[row * width + column] as number) ** 2.2 / lightAt(px, py);
    }
  }
  return sum / (STEPS * STEPS);
}

/** The place where right and left are equal, by a straight line through the balances about it; nothing where they never are. */
function balanceOf(
  series: readonly KnifeStamp[],
  lightAt: (x: number, y: number) => number,
  window: KnifeWindow,
): Measured | undefined {
  const seen = series.map((stamp) => {
    const right = halfOf(stamp, lightAt, window, 1), left = halfOf(stamp, lightAt, window, -1);
    return { at: stamp.at, both: right + left, balance: (right - left) / (right + left) };
  });
  const most = Math.max(...seen.map(({ both }) => both));
  const straight = seen.filter(({ both, balance }) =>
    Math.abs(balance) < STRAIGHT && both > DARK * most
  );
  const changes = straight.some(({ balance }) => balance > 0) &&
    straight.some(({ balance }) => balance < 0);
  if (!changes) return undefined;
  // places far from the balance count less: the slope changes there
  let w = 0, wx = 0, wy = 0, wxx = 0, wxy = 0;
  const origin = straight[0]?.at ?? 0;
  for (const { at, balance } of straight) {
    const weight = 1 / (0.15 ** 2 + balance ** 2), x = at - origin;
    w += weight;
    wx += weight * x;
    wy += weight * balance;
    wxx += weight * x * x;
    wxy += weight * x * balance;
  }
  const slope = (w * wxy - wx * wy) / (w * wxx - wx * wx), base = (wy - slope * wx) / w;
  if (!(Math.abs(slope) > 1e-6)) return undefined;
  let left = 0, weights = 0;
  for (const { at, balance } of straight) {
    const weight = 1 / (0.15 ** 2 + balance ** 2);
    left += weight * (balance - base - slope * (at - origin)) ** 2;
    weights += weight;
  }
  const free = straight.length - 2;
  const scatter = free > 0 ? Math.sqrt((left / weights) * (straight.length / free)) : BENT;
  const u = Math.hypot(LIGHT_U, scatter / Math.sqrt(straight.length)) / Math.abs(slope);
  return measured(origin - base / slope, Math.hypot(u, AT_U), "mm");
}
