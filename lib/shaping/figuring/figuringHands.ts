/** What pairs of tests say of the hands: how fast they take glass, how that differs from session to session, and how wide. */
import { cholesky, forward } from "../../numeric/smallMatrix.ts";
import { footprintAt, strokeFootprint } from "./figuringFootprint.ts";
import { modeShape, ORDERS, type ProfileModes } from "./figuringModes.ts";
import { type FiguringStroke, ordinaryStroke } from "./figuringStrokes.ts";

/** A stroke and its minutes. */
export interface TimedStroke {
  /** what it takes, ring by ring */
  readonly stroke: FiguringStroke;
  /** at the pace of the plan */
  readonly minutes: number;
}

/** What is known of the hands before a session. */
export interface Hands {
  /** their rate over the usual one, the middle of what it may be in the coming session */
  readonly gain: number;
  /** standard uncertainty of the logarithm of that, the scatter from session to session in it */
  readonly doubt: number;
  /** of the lasting rate alone, without the coming session's own scatter */
  readonly rateDoubt: number;
  /** footprints are this much wider than reckoned, logarithm; and its standard uncertainty */
  readonly width: number;
  /** standard uncertainty of that logarithm */
  readonly widthDoubt: number;
  /** what a session takes differs in shape from the footprints by this share of the change it makes, rms */
  readonly shape: number;
  /** sessions that they were learnt from */
  readonly sessions: number;
}

/** A session with a test before and after. */
export interface TestedSession {
  /** what may have been done, each as likely: one entry where side and length were written */
  readonly done: readonly (readonly TimedStroke[])[];
  readonly before: ProfileModes;
  readonly after: ProfileModes;
  /** of the disc, and of what is judged of it, mm */
  readonly aperture: number;
  readonly rim: number;
}

/** Of ordinary polishing at the centre, um/h, until a session has shown it. COMMON PRACTICE */
export const usualRate = 1.3;
/** A rate nobody has measured is good to a factor of two, 95 %. COMMON PRACTICE */
const PRIOR_DOUBT = 0.35;
/** A footprint is wider or narrower by so much: hands that keep neither side nor length to the millimetre. */
const PRIOR_WIDTH = 0.06;
/** Scatters from session to session that may be, and how likely each was before any session. COMMON PRACTICE */
const SCATTERS: readonly (readonly [scatter: number, weight: number])[] = [
  [0.05, 0.15],
  [0.1, 0.35],
  [0.15, 0.25],
  [0.2, 0.15],
  [0.3, 0.1],
];
/** What a session takes may differ in shape by such a share of the change it makes, and how likely each was before. */
const SHAPES: readonly (readonly [share: number, weight: number])[] = [
  [0.1, 0.3],
  [0.2, 0.4],
  [0.4, 0.3],
];
/** And by this share of all glass that is taken: a lap that gives and flows. */
export const SHAPE_OF_ALL = 0.08;
/** Chance that a session tells nothing of the hands: the lap did not touch, the log is wrong. */
const ASTRAY = 0.05;

const steps = (from: number, to: number, count: number): number[] =>
  Array.from({ length: count }, (_, i) => from + (to - from) * i / (count - 1));
const MEANS = steps(-1.3, 1.1, 49);
const GAINS = steps(-2.2, 1.8, 81);
const WIDTHS = steps(-0.15, 0.15, 7);

const normal = (x: number, sd: number): number => Math.exp(-x * x / (2 * sd * sd)) / sd;

/** The usual hands, before any session. */
export const usualHands: Hands = {
  gain: 1,
  doubt: Math.hypot(
    PRIOR_DOUBT,
    ...SCATTERS.map(([scatter, weight]) => scatter * Math.sqrt(weight)),
  ),
  rateDoubt: PRIOR_DOUBT,
  width: 0,
  widthDoubt: PRIOR_WIDTH,
  shape: Math.hypot(...SHAPES.map(([share, weight]) => share * Math.sqrt(weight))),
  sessions: 0,
};

/**
 * Learns the hands from sessions with a test before and after each.
 *
 *     change of the profile's shapes = gain of the session x what the footprints take + doubt
 *     ln gain of the session ~ normal about ln gain of the hands, scatter from session to session
 *
 * The usual rate is the prior, known to a factor of two; the scatter, and how much wider the footprints are than reckoned, have
 * theirs. Doubt is that of both tests, of the footprint's shape as the sessions show it, and a small chance that a session tells nothing at all. Summed
 * over a grid of gain, scatter and width. Where side or length was not written, every stroke is tried that may have been done.
 *
 * @param sessions  in any order; one whose profile came without uncertainty tells nothing
 * @see hierarchical normal model in the logarithm of the rate; derived for this kit
 * @example hands twice as fast, seen once: a single session says little, for its shape alone may differ by a quarter
 * ```ts
 * import assert from "node:assert/strict";
 * import { ordinaryStroke } from "./figuringStrokes.ts";
 * const stroke = ordinaryStroke, taken = modesTaken([{ stroke, minutes: 20 }], 150, 74, 0);
 * const at = (share: number) => ({
 *   modes: taken.map((v, i) => ({ order: i + 2, measured: -share * v, believed: -share * v })),
 *   measuredCovariance: taken.map((_, i) => taken.map((_, j) => i === j ? 0.01 : 0)),
 * });
 * const done = [[{ stroke, minutes: 20 }]];
 * const hands = learnHands([{ done, before: at(0), after: at(2), aperture: 150, rim: 74 }]);
 * assert.ok(hands.gain > 1.1 && hands.gain < 2 && hands.doubt < usualHands.doubt);
 * ```
 */
export function learnHands(sessions: readonly TestedSession[]): Hands {
  const told = sessions.flatMap((session) => {
    const own = likelihood(session);
    return own === undefined ? [] : [own];
  });
  if (told.length === 0) return usualHands;
  let sum = 0, m = 0, mm = 0, w = 0, ww = 0, ss = 0, hh = 0;
  for (const [scatter, chance] of SCATTERS) {
    const spread = MEANS.map((mean) => GAINS.map((g) => normal(g - mean, scatter)));
    CASES.forEach(({ width, shape, weight }, k) => {
      MEANS.forEach((mean, i) => {
        const own = told.reduce<number>((product, byCase) => {
          const likely = byCase[k] ?? [], row = spread[i] ?? [];
          let here = 0, all = 0;
          for (let g = 0; g < GAINS.length; g++) {
            here += (likely[g] ?? 0) * (row[g] ?? 0);
            all += row[g] ?? 0;
          }
          return product * ((1 - ASTRAY) * here / all + ASTRAY);
        }, chance * weight * normal(mean, PRIOR_DOUBT));
        sum += own;
        m += own * mean;
        mm += own * mean * mean;
        w += own * width;
        ww += own * width * width;
        ss += own * scatter * scatter;
        hh += own * shape * shape;
      });
    });
  }
  const mean = m / sum, rateDoubt = Math.sqrt(Math.max(1e-6, mm / sum - mean * mean));
  return {
    gain: Math.exp(mean),
    doubt: Math.sqrt(rateDoubt * rateDoubt + ss / sum),
    rateDoubt,
    width: w / sum,
    widthDoubt: Math.sqrt(Math.max(1e-6, ww / sum - (w / sum) ** 2)),
    shape: Math.sqrt(hh / sum),
    sessions: told.length,
  };
}

/** How wide the footprints may be and how far off in shape, each pair with what it weighed before any session. */
const CASES = WIDTHS.flatMap((width) =>
  SHAPES.map(([shape, weight]) => ({ width, shape, weight: weight * normal(width, PRIOR_WIDTH) }))
);

/** How likely one session's change is, by case and gain, the best of all set to 1; nothing where it tells nothing. */
function likelihood(session: TestedSession): number[][] | undefined {
  const { done, before, after, aperture, rim } = session;
  const first = before.measuredCovariance, second = after.measuredCovariance;
  if (first === undefined || second === undefined || done.length === 0) return undefined;
  const change = before.modes.map(({ measured }, i) => measured - (after.modes[i]?.measured ?? 0));
  const logs = CASES.map(({ width, shape }) =>
    done.map((strokes) => {
      const taken = modesTaken(strokes, aperture, rim, width);
      const doubt = shapeDoubtOf(strokes, aperture, rim, shape) / Math.sqrt(taken.length);
      return GAINS.map((log) => {
        const gain = Math.exp(log);
        const root = cholesky(
          first.map((row, i) =>
            Float64Array.from(row, (v, j) =>
              v + (second[i]?.[j] ?? 0) + (i === j ? (gain * doubt) ** 2 + 1e-6 : 0))
          ),
        );
        const off = forward(
          root,
          change.map((v, i) =>
            v - gain * (taken[i] ?? 0)
          ),
        );
        const size = root.reduce((s, row, i) => s + Math.log(row[i] ?? 1), 0);
        return -off.reduce((s, v) => s + v * v, 0) / 2 - size;
      });
    })
  );
  const best = logs.reduce(
    (all, byDone) => byDone.reduce((a, row) => Math.max(a, ...row), all),
    -Infinity,
  );
  return logs.map((byDone) =>
    GAINS.map((_, g) =>
      byDone.reduce((s, row) => s + Math.exp((row[g] ?? -Infinity) - best), 0) / done.length
    )
  );
}

/** Glass taken in a minute by the usual hands, nm, footprints so much wider. */
export function takenPerMinute(
  stroke: FiguringStroke,
  share: number,
  width: number,
): number {
  return footprintAt(strokeFootprint(stroke, usualRate), share * Math.exp(-width));
}

/** Places of equal area for sums over the face. */
const PLACES = Array.from({ length: 60 }, (_, i) => (i + 0.5) / 60);

function heightsTaken(
  strokes: readonly TimedStroke[],
  aperture: number,
  rim: number,
  width: number,
): number[] {
  return PLACES.map((q) =>
    strokes.reduce(
      (sum, { stroke, minutes }) =>
        sum + minutes * takenPerMinute(stroke, rim * Math.sqrt(q) / (aperture / 2), width),
      0,
    )
  );
}

/** What the usual hands take, in the shapes of `profileModes`, nm rms each. */
export function modesTaken(
  strokes: readonly TimedStroke[],
  aperture: number,
  rim: number,
  width: number,
): number[] {
  const taken = heightsTaken(strokes, aperture, rim, width);
  return ORDERS.map((order) =>
    PLACES.reduce((sum, q, i) => sum + (taken[i] ?? 0) * modeShape(order, q), 0) / PLACES.length
  );
}

/**
 * By how much the shape of what is taken may differ from the footprints', nm rms.
 *
 * @param shape  share of the change that strokes make
 */
export function shapeDoubtOf(
  strokes: readonly TimedStroke[],
  aperture: number,
  rim: number,
  shape: number,
): number {
  const each = strokes.map((one) => {
    const all = heightsTaken([one], aperture, rim, 0);
    const mean = all.reduce((sum, v) => sum + v, 0) / all.length;
    return Math.hypot(
      SHAPE_OF_ALL * mean,
      shape * Math.hypot(...modesTaken([one], aperture, rim, 0)),
    );
  });
  return Math.hypot(...each);
}

/** Glass taken at 0.7 of the disc's radius by an hour of ordinary strokes, um: value and standard uncertainty. */
export function rateOf(
  { gain, rateDoubt, width, widthDoubt }: Hands,
): { readonly value: number; readonly u: number } {
  const at = (w: number): number => takenPerMinute(ordinaryStroke, 0.7, w) * 60 / 1000;
  const value = gain * at(width), turn = (at(width + 0.05) - at(width - 0.05)) / 0.1;
  return { value, u: Math.hypot(value * rateDoubt, gain * turn * widthDoubt) };
}
