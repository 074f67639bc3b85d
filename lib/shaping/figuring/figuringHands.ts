/** What pairs of tests say of the hands: how fast they take glass, how that differs from session to session, and how wide. */
import { cholesky, forward } from "../../numeric/smallMatrix.ts";
import { type Bearing, BEARS_DOUBT, BEARS_MORE } from "./figuringBearing.ts";
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
  /** how many times worse than usual side and length are kept, rms */
  readonly unsteady: number;
  /** sessions that they were learnt from */
  readonly sessions: number;
}

/** The disc that is worked, and how its shape shifts the load. */
export interface Glass {
  /** of the disc, mm */
  readonly aperture: number;
  /** default: a sphere, on which every place bears its share */
  readonly bearing?: Bearing;
}

/** A session with a test before and after. */
export interface TestedSession {
  /** what may have been done, each as likely: one entry where side and length were written */
  readonly done: readonly (readonly TimedStroke[])[];
  readonly before: ProfileModes;
  readonly after: ProfileModes;
  /** as it was before */
  readonly glass: Glass;
  /** of what is judged, mm */
  readonly rim: number;
}

/**
 * Of ordinary polishing at the centre, um/h, of a mirror of 150 mm until a session has shown it. A wider mirror at the same pace
 * and pressure has the longer path: the rate grows with the diameter. COMMON PRACTICE; Preston's law
 */
export const usualRate = 1.3;
const USUAL_APERTURE = 150;
/** A rate nobody has measured is good to a factor of two, 95 %. COMMON PRACTICE */
const PRIOR_DOUBT = 0.35;
/** Footprints may always be wider or narrower by so much: a habit of the hands. COMMON PRACTICE */
const PRIOR_WIDTH = 0.04;
/** Scatters from session to session that may be, and how likely each was before any session. COMMON PRACTICE */
const SCATTERS: readonly (readonly [scatter: number, weight: number])[] = [
  [0.05, 0.15],
  [0.1, 0.35],
  [0.15, 0.25],
  [0.2, 0.15],
  [0.3, 0.1],
];
/** Side and length are kept to so much in one session, shares of the diameter and of the length: 2.5 mm of 150, a twentieth. COMMON PRACTICE */
const SIDE_KEPT = 1 / 60;
const LENGTH_KEPT = 0.05;
/**
 * What a lap that gives, flows and goes out of fit takes amiss in each smooth shape, and at the rim against the place a tenth
 * inside it; shares of all glass taken. With the lap on top it grows with the square of how far it is carried out: pitch that
 * hangs over is not worn, stands proud and digs at the rim when it comes back. COMMON PRACTICE
 */
function lapAmiss(
  { face, lap, travel, offset }: FiguringStroke,
): { readonly shape: number; readonly rim: number } {
  if (face === "down") return { shape: 0.01, rim: 0.05 };
  if (lap < 1) return { shape: 0.03, rim: 0.05 };
  return {
    shape: 0.01 + 0.1 * (travel * travel / 4 + offset * offset),
    rim: 0.05 + offset * offset,
  };
}

/** Hands keep side and length so many times better or worse, and how likely each was before any session. */
const UNSTEADY: readonly (readonly [times: number, weight: number])[] = [
  [0.6, 0.3],
  [1, 0.5],
  [1.6, 0.2],
];
/** Chance that a session tells nothing of the hands, the lap did not touch, the log is wrong: then any gain is as likely. */
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
  unsteady: Math.hypot(...UNSTEADY.map(([times, weight]) => times * Math.sqrt(weight))),
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
 * const stroke = ordinaryStroke, glass = { aperture: 150 };
 * const taken = modesTaken([{ stroke, minutes: 20 }], glass, 74, 0);
 * const at = (share: number) => ({
 *   modes: taken.map((v, i) => ({ order: i + 2, measured: -share * v, believed: -share * v })),
 *   measuredCovariance: taken.map((_, i) => taken.map((_, j) => i === j ? 0.01 : 0)),
 * });
 * const done = [[{ stroke, minutes: 20 }]];
 * const hands = learnHands([{ done, before: at(0), after: at(2), glass, rim: 74 }]);
 * assert.ok(hands.gain > 1.1 && hands.gain < 2 && hands.doubt < usualHands.doubt);
 * ```
 */
export function learnHands(sessions: readonly TestedSession[]): Hands {
  const told = sessions.flatMap((session) => {
    const byCase = likelihood(session);
    if (byCase === undefined) return [];
    const mean = (values: readonly number[]): number =>
      values.reduce((sum, v) => sum + v, 0) / values.length;
    return [{ byCase, anyhow: mean(byCase.map(mean)) }];
  });
  if (told.length === 0) return usualHands;
  let sum = 0, m = 0, mm = 0, w = 0, ww = 0, ss = 0, hh = 0;
  for (const [scatter, chance] of SCATTERS) {
    const spread = MEANS.map((mean) => GAINS.map((g) => normal(g - mean, scatter)));
    CASES.forEach(({ width, times, weight }, k) => {
      MEANS.forEach((mean, i) => {
        const own = told.reduce<number>((product, { byCase, anyhow }) => {
          const likely = byCase[k] ?? [], row = spread[i] ?? [];
          let here = 0, all = 0;
          for (let g = 0; g < GAINS.length; g++) {
            here += (likely[g] ?? 0) * (row[g] ?? 0);
            all += row[g] ?? 0;
          }
          return product * ((1 - ASTRAY) * here / all + ASTRAY * anyhow);
        }, chance * weight * normal(mean, PRIOR_DOUBT));
        sum += own;
        m += own * mean;
        mm += own * mean * mean;
        w += own * width;
        ww += own * width * width;
        ss += own * scatter * scatter;
        hh += own * times * times;
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
    unsteady: Math.sqrt(hh / sum),
    sessions: told.length,
  };
}

/** How wide the footprints may be and how unsteady the hands, each pair with what it weighed before any session. */
const CASES = WIDTHS.flatMap((width) =>
  UNSTEADY.map(([times, weight]) => ({ width, times, weight: weight * normal(width, PRIOR_WIDTH) }))
);

/** How likely one session's change is, by case and gain, the best of all set to 1; nothing where it tells nothing. */
function likelihood(session: TestedSession): number[][] | undefined {
  const { done, before, after, glass, rim } = session;
  const first = before.measuredCovariance, second = after.measuredCovariance;
  if (first === undefined || second === undefined || done.length === 0) return undefined;
  const change = before.modes.map(({ measured }, i) => measured - (after.modes[i]?.measured ?? 0));
  const radii = placesTo(rim);
  const amissBy = new Map(UNSTEADY.map(([times]) => [
    times,
    done.map((strokes) => {
      const shapes = strokes.flatMap((one) => amissOf(one, radii, glass, times).map(inModes));
      return change.map((_, i) =>
        change.map((__, j) => shapes.reduce((sum, own) => sum + (own[i] ?? 0) * (own[j] ?? 0), 0))
      );
    }),
  ]));
  const logs = CASES.map(({ width, times }) =>
    done.map((strokes, which) => {
      const taken = modesTaken(strokes, glass, rim, width), amiss = amissBy.get(times)?.[which];
      return GAINS.map((log) => {
        const gain = Math.exp(log);
        const root = cholesky(
          first.map((row, i) =>
            Float64Array.from(row, (v, j) =>
              v + (second[i]?.[j] ?? 0) + gain * gain * (amiss?.[i]?.[j] ?? 0) +
              (i === j ? 1e-6 : 0))
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

/**
 * Glass taken in a minute by the usual hands, nm, footprints so much wider.
 *
 * @param shares    distances from the centre as shares of the disc's radius
 * @param aperture  of the disc, mm
 */
export function takenPerMinute(
  stroke: FiguringStroke,
  shares: readonly number[],
  width: number,
  aperture: number,
): number[] {
  const print = strokeFootprint(stroke, usualRate * aperture / USUAL_APERTURE);
  const narrower = Math.exp(-width);
  return shares.map((share) => footprintAt(print, share * narrower));
}

/** What strokes take by the usual hands, nm at each radius, footprints so much wider; more where the glass stands out. */
export function takenAt(
  strokes: readonly TimedStroke[],
  radii: readonly number[],
  { aperture, bearing }: Glass,
  width = 0,
): number[] {
  const sum = radii.map(() => 0);
  for (const { stroke, minutes } of strokes) {
    const own = perMinuteAt(stroke, radii, aperture, width);
    const out = bearing?.standsOut(stroke, radii);
    for (let i = 0; i < sum.length; i++) {
      const more = Math.max(0, 1 + BEARS_MORE * (out?.[i] ?? 0) / NM);
      sum[i] = (sum[i] as number) + minutes * (own[i] ?? 0) * more;
    }
  }
  return sum;
}

const NM = 1000;

/** What strokes take in a minute at some radii, by disc and width of the footprints. */
interface PerMinute {
  readonly aperture: number;
  readonly width: number;
  readonly by: WeakMap<FiguringStroke, readonly number[]>;
}

const perMinute = new WeakMap<readonly number[], PerMinute[]>();

/** `takenPerMinute` at radii in mm, reckoned once for each stroke and list of radii: a plan asks for each a score of times. */
function perMinuteAt(
  stroke: FiguringStroke,
  radii: readonly number[],
  aperture: number,
  width: number,
): readonly number[] {
  const all = perMinute.get(radii) ?? [];
  perMinute.set(radii, all);
  let kept = all.find((one) => one.aperture === aperture && one.width === width);
  if (kept === undefined) {
    if (all.length >= WIDTHS_KEPT) all.length = 0;
    all.push(kept = { aperture, width, by: new WeakMap() });
  }
  let found = kept.by.get(stroke);
  if (found === undefined) {
    const shares = radii.map((radius) => radius * 2 / aperture);
    kept.by.set(stroke, found = takenPerMinute(stroke, shares, width, aperture));
  }
  return found;
}

/** The usual width, the maker's own and its doubt, for a disc or two. */
const WIDTHS_KEPT = 8;

/**
 * What a stroke by the usual hands may take amiss, nm at each place, each entry one standard uncertainty of its own cause: side,
 * length, the lap's fit in each smooth shape, the rim, how much more is borne by what stands out.
 *
 * @param radii     mm from the centre, to the rim of what is judged
 * @param unsteady  how many times worse than usual side and length are kept
 */
export function amissOf(
  { stroke, minutes }: TimedStroke,
  radii: readonly number[],
  { aperture, bearing }: Glass,
  unsteady: number,
): number[][] {
  const rim = radii.at(-1) ?? aperture / 2, held = heldWays(stroke);
  const at = (one: FiguringStroke): number[] =>
    perMinuteAt(one, radii, aperture, 0).map((v) => minutes * v);
  const half = (a: readonly number[], b: readonly number[]): number[] =>
    a.map((v, i) => unsteady * (v - (b[i] ?? 0)) / 2);
  const mean = minutes * meanTaken(stroke, aperture), amiss = lapAmiss(stroke);
  const fit = amiss.shape * mean, edge = amiss.rim * mean;
  const out = bearing?.standsOut(stroke, radii);
  return [
    half(at(held.out), at(held.inward)),
    half(at(held.longer), at(held.shorter)),
    ...shapesOver(radii, rim).map((shape) => shape.map((v) => fit * v)),
    radii.map((r) => edge * Math.max(0, r / rim - 0.9) / 0.1),
    ...(out === undefined ? [] : [
      at(held.kept).map((v, i) => v * BEARS_DOUBT * (out[i] ?? 0) / NM),
    ]),
  ];
}

/** A stroke as it was meant, and with side and length kept one standard uncertainty amiss; its upper disc not let to tip. */
interface HeldWays {
  readonly kept: FiguringStroke;
  readonly out: FiguringStroke;
  readonly inward: FiguringStroke;
  readonly longer: FiguringStroke;
  readonly shorter: FiguringStroke;
}

const ways = new WeakMap<FiguringStroke, HeldWays>();

function heldWays(stroke: FiguringStroke): HeldWays {
  let found = ways.get(stroke);
  if (found === undefined) {
    const { travel, offset } = stroke;
    const way = (length: number, side: number): FiguringStroke =>
      heldOver({ ...stroke, travel: length, offset: Math.max(0, side) });
    ways.set(
      stroke,
      found = {
        kept: way(travel, offset),
        out: way(travel, offset + SIDE_KEPT),
        inward: way(travel, offset - SIDE_KEPT),
        longer: way(travel * (1 + LENGTH_KEPT), offset),
        shorter: way(travel * (1 - LENGTH_KEPT), offset),
      },
    );
  }
  return found;
}

const shapesAt = new WeakMap<readonly number[], readonly (readonly number[])[]>();

/** The smooth shapes at radii of which the last is the rim. */
function shapesOver(radii: readonly number[], rim: number): readonly (readonly number[])[] {
  let found = shapesAt.get(radii);
  if (found === undefined) {
    found = ORDERS.map((order) => radii.map((r) => modeShape(order, (r / rim) ** 2)));
    shapesAt.set(radii, found);
  }
  return found;
}

/** A stroke whose upper disc is not let to tip. */
function heldOver(stroke: FiguringStroke): FiguringStroke {
  const { travel, offset } = stroke, out = Math.hypot(travel / 2, offset);
  const share = Math.min(1, FARTHEST / out);
  return { ...stroke, travel: travel * share, offset: offset * share };
}

/** Centre to centre, share of the diameter, that hands do not pass without noticing it. */
const FARTHEST = 0.47;

/** Glass that the usual hands take in a minute on average over the face, nm. */
function meanTaken(stroke: FiguringStroke, aperture: number): number {
  const known = means.get(stroke);
  if (known?.aperture === aperture) return known.mean;
  const each = takenPerMinute(stroke, PLACES.map(Math.sqrt), 0, aperture);
  const mean = each.reduce((sum, v) => sum + v, 0) / each.length;
  means.set(stroke, { aperture, mean });
  return mean;
}

const means = new WeakMap<FiguringStroke, { readonly aperture: number; readonly mean: number }>();

/** Places of equal area for sums over the face. */
const PLACES = Array.from({ length: 60 }, (_, i) => (i + 0.5) / 60);
let lastPlaces: { readonly rim: number; readonly radii: readonly number[] } | undefined;

/** The same as radii, mm: for one rim one list, so that what is known at its places is found again. */
function placesTo(rim: number): readonly number[] {
  if (lastPlaces?.rim !== rim) lastPlaces = { rim, radii: PLACES.map((q) => rim * Math.sqrt(q)) };
  return lastPlaces.radii;
}

/** The smooth shapes at these. */
const SHAPES = ORDERS.map((order) => PLACES.map((q) => modeShape(order, q)));

/** Heights at `PLACES` in the shapes of `profileModes`, nm rms each. */
function inModes(heights: readonly number[]): number[] {
  return SHAPES.map((shape) =>
    shape.reduce((sum, v, i) => sum + (heights[i] ?? 0) * v, 0) / PLACES.length
  );
}

/** What the usual hands take, in the shapes of `profileModes`, nm rms each. */
export function modesTaken(
  strokes: readonly TimedStroke[],
  glass: Glass,
  rim: number,
  width: number,
): number[] {
  return inModes(takenAt(strokes, placesTo(rim), glass, width));
}

/** Glass taken at 0.7 of the disc's radius by an hour of ordinary strokes, um: value and standard uncertainty. */
export function rateOf(
  { gain, rateDoubt, width, widthDoubt }: Hands,
  aperture: number,
): { readonly value: number; readonly u: number } {
  const at = (w: number): number =>
    (takenPerMinute(ordinaryStroke, [0.7], w, aperture)[0] ?? 0) * 60 / 1000;
  const value = gain * at(width), turn = (at(width + 0.05) - at(width - 0.05)) / 0.1;
  return { value, u: Math.hypot(value * rateDoubt, gain * turn * widthDoubt) };
}
