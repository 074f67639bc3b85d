/** Fits one mirror to the whole of one or more Ronchi photographs, and lets the evidence say how much shape it has. */
import { type Mirror, OWN, OWN_COUNT } from "./photoModel.ts";
import type { PhotoPixels } from "./photoPixels.ts";
import { descend, inversePositive, type Normal, solvePositive } from "./photoSteps.ts";
import { firstStates } from "./photoStarts.ts";
import { evaluator, MAY_BE_KEPT, pixelModel, shapesOf } from "./photoSums.ts";
import { type Term, TERMS } from "./photoTerms.ts";

/** A fitted mirror with the photographs it was fitted to. */
export interface PhotoFit {
  readonly conic: number;
  readonly terms: readonly Term[];
  /** nm, for each shape of the terms in turn */
  readonly amounts: Float64Array;
  /** turn of the axes the shapes are given in, rad */
  readonly axes: number;
  /** unknowns of each photograph, by `OWN` */
  readonly own: readonly Float64Array[];
  /** of conic, amounts and all photographs' own unknowns, row after row */
  readonly covariance: Float64Array;
  readonly size: number;
  /** scatter of one pixel about the fit, in the picture's scale 0 to 1 */
  readonly scatter: number;
  /** pixels that go with one another as one */
  readonly cluster: number;
  /** pixels looked at and not set aside */
  readonly pixels: number;
  readonly residuals: readonly Float64Array[];
}

interface State {
  readonly terms: readonly Term[];
  readonly at: Float64Array;
  readonly noise: number;
}

/** What a shape must gain beyond Bayes's criterion to be taken up: "strong" in its usual scale (COMMON PRACTICE). */
const STRONG = 6;

/**
 * Fits a mirror to photographs: a few starts, the best one refined, bad pixels set aside, shapes taken up while the
 * evidence (Bayes's information criterion, clustered pixels counted once) is for them.
 *
 * @param photos  from `pixelsOf`; of one mirror
 * @param most    terms taken up at most; default 5
 * @throws {RangeError} where nothing fits
 */
export function fitPixels(photos: readonly PhotoPixels[], most = 5): PhotoFit {
  const first = firstStates(photos);
  const axes = first[0]?.own[0]?.[OWN.turn] ?? 0;
  const tries = first.map(({ conic, own }) => {
    const at = Float64Array.from([conic, ...own.flatMap((o) => [...o])]);
    const every = Math.ceil((photos[0]?.x.length ?? 0) / 1500);
    const coarse = evaluator(photos, [], axes, 0.05, { every });
    return descend(at, coarse, allButDiscs(at.length, 1, photos.length), 25);
  });
  const best = tries.reduce((a, b) => b.cost < a.cost ? b : a);
  let state: State = { terms: [], at: best.at, noise: 0.05 };
  for (let turn = 0; turn < 3; turn++) {
    state = refine(photos, state, axes, true);
    setAside(photos, residualsOf(photos, state, axes));
  }
  state = refine(photos, state, axes, true);
  for (let turn = 0; turn < most; turn++) {
    const next = nextTerm(photos, state, axes);
    if (next === undefined) break;
    state = refine(photos, withTerm(state, next), axes, true);
    setAside(photos, residualsOf(photos, state, axes));
  }
  let fit = finish(photos, refine(photos, state, axes), axes);
  for (let weak = weakTerm(fit); weak !== undefined; weak = weakTerm(fit)) {
    state = refine(photos, without({ ...state, at: stateOf(fit) }, weak), axes);
    fit = finish(photos, state, axes);
  }
  return fit;
}

function stateOf({ conic, amounts, own }: PhotoFit): Float64Array {
  return Float64Array.from([conic, ...amounts, ...own.flatMap((o) => [...o])]);
}

/** The term the evidence is least for, now that others stand beside it; none where all are needed. */
function weakTerm(
  { terms, amounts, covariance, size, pixels, cluster }: PhotoFit,
): Term | undefined {
  const each = Math.log(Math.max(3, pixels / cluster)) + STRONG;
  let from = 1, weakest: Term | undefined, least = 0;
  for (const term of terms) {
    const n = term.shapes.length, block = new Float64Array(n * n);
    for (let a = 0; a < n; a++) {
      for (let b = 0; b < n; b++) {
        block[a * n + b] = covariance[(from + a) * size + from + b] as number;
      }
    }
    const amount = amounts.slice(from - 1, from - 1 + n), solved = solvePositive(block, amount);
    const gain = solved?.reduce((sum, v, k) => sum + v * (amount[k] as number), 0) ?? 0;
    if (gain - n * each < least) [weakest, least] = [term, gain - n * each];
    from += n;
  }
  return weakest;
}

function without(state: State, gone: Term): State {
  const before = state.terms.slice(0, state.terms.indexOf(gone));
  const from = 1 + shapesOf(before).length, to = from + gone.shapes.length;
  return {
    ...state,
    terms: state.terms.filter((term) => term !== gone),
    at: state.at.filter((_, i) => i < from || i >= to),
  };
}

/** All unknowns but place and size of the discs: those are measured at their edges, not by the bands. */
function allButDiscs(size: number, head: number, photos: number): number[] {
  const held = new Set<number>();
  for (let n = 0; n < photos; n++) {
    for (const k of [OWN.x, OWN.y, OWN.radius]) held.add(head + n * OWN_COUNT + k);
  }
  return Array.from({ length: size }, (_, i) => i).filter((i) => !held.has(i));
}

/** Lowest place near a state, and the noise that goes with it; a rough one looks at every fourth pixel only. */
function refine(photos: readonly PhotoPixels[], state: State, axes: number, rough = false): State {
  const free = allButDiscs(state.at.length, 1 + shapesOf(state.terms).length, photos.length);
  let { at, noise } = state;
  for (let turn = 0; turn < (rough ? 1 : 2); turn++) {
    const every = rough ? 4 : 1;
    at = descend(at, evaluator(photos, state.terms, axes, noise, { every }), free, 8).at;
    const left = residualsOf(photos, { ...state, at }, axes);
    noise = Math.max(scatterOf(photos, left), 1e-3);
  }
  return { ...state, at, noise };
}

function mirrorOf({ terms, at }: State, axes: number): Mirror {
  const shapes = shapesOf(terms);
  return { conic: at[0] as number, shapes, amounts: at.subarray(1, 1 + shapes.length), axes };
}

function ownOf(state: State, n: number): Float64Array {
  const from = 1 + shapesOf(state.terms).length + n * OWN_COUNT;
  return state.at.slice(from, from + OWN_COUNT);
}

function residualsOf(photos: readonly PhotoPixels[], state: State, axes: number): Float64Array[] {
  const mirror = mirrorOf(state, axes);
  return photos.map((photo, n) => {
    const seen = pixelModel(photo, ownOf(state, n), mirror, false);
    return photo.value.map((v, i) => v - seen.at(photo.x[i] as number, photo.y[i] as number));
  });
}

function scatterOf(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): number {
  let sum = 0, count = 0;
  photos.forEach(({ weight }, n) =>
    residuals[n]?.forEach((r, i) => {
      if (weight[i] === 0) return;
      sum += r * r;
      count++;
    })
  );
  return Math.sqrt(sum / Math.max(1, count));
}

/** Hot pixels, fingers and stands: what lies over 4.5 times the usual scatter from the fit counts for nothing. */
function setAside(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): void {
  photos.forEach(({ weight }, n) => {
    const off = residuals[n] ?? new Float64Array(0);
    const middle = Float64Array.from(off, Math.abs).sort()[Math.floor(off.length / 2)] ?? 0;
    const limit = Math.max(4.5 * 1.4826 * middle, 0.02);
    off.forEach((r, i) => weight[i] = Math.abs(r) > limit ? 0 : 1);
  });
}

/** How many neighbouring pixels err together, from their correlation along rows and columns. */
function clusterOf(photos: readonly PhotoPixels[], residuals: readonly Float64Array[]): number {
  let most = 1;
  photos.forEach((photo, n) => {
    const off = residuals[n] ?? new Float64Array(0), at = new Map<number, number>();
    photo.place.forEach((p, i) => photo.weight[i] === 1 && at.set(p, off[i] ?? 0));
    const along = (step: number): number => {
      let total = 1;
      for (let lag = 1; lag <= 6; lag++) {
        let product = 0, square = 0;
        for (const [p, a] of at) {
          const b = at.get(p + lag * step);
          if (b === undefined) continue;
          product += a * b;
          square += a * a;
        }
        const share = product / Math.max(square, 1e-30);
        if (share < 0.03) break;
        total += 2 * share;
      }
      return total;
    };
    most = Math.max(most, along(1) * along(photo.across));
  });
  return most;
}

/** The term the evidence is most for, if it is for any. */
function nextTerm(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
): Term | undefined {
  const own = photos.map((_, n) => ownOf(state, n));
  const met = { "two turns": turnsApart(own), "both sides": bothSides(own) };
  const open = TERMS.filter((term) =>
    !state.terms.includes(term) && (term.needs === undefined || met[term.needs])
  );
  const wide: State = { ...withTerms(state, open), noise: state.noise };
  const every = 2; // half the pixels, each counted twice, tell as well which shape is wanted
  const noise = state.noise / Math.sqrt(every);
  const normal = evaluator(photos, wide.terms, axes, noise, { every })(wide.at, true);
  const cluster = clusterOf(photos, residualsOf(photos, state, axes));
  const pixels = photos.reduce((sum, { weight }) => sum + weight.reduce((a, b) => a + b, 0), 0);
  const each = Math.log(Math.max(3, pixels / cluster));
  const used = 1 + shapesOf(state.terms).length;
  let from = used, best: Term | undefined, most = 0;
  const head = 1 + shapesOf(wide.terms).length;
  const fixed = allButDiscs(wide.at.length, head, photos.length).filter((i) =>
    i < used || i >= head
  );
  for (const term of open) {
    const places = term.shapes.map((_, k) => from + k);
    from += term.shapes.length;
    const evidence = gainOf(normal, wide.at.length, fixed, places) / cluster -
      places.length * (each + STRONG);
    if (evidence > most) [best, most] = [term, evidence];
  }
  return best;
}

/** By how much the sum of squares would fall if these unknowns were let free beside those already so. */
function gainOf(
  normal: Normal,
  size: number,
  fixed: readonly number[],
  places: readonly number[],
): number {
  const fall = (free: readonly number[]): number => {
    const n = free.length, a = new Float64Array(n * n), b = new Float64Array(n);
    free.forEach((i, r) => {
      b[r] = normal.right[i] as number;
      free.forEach((j, c) => a[r * n + c] = normal.square[i * size + j] as number);
    });
    const inverse = inversePositive(a, n);
    if (inverse === undefined) return 0;
    let sum = 0;
    for (let r = 0; r < n; r++) {
      for (let c = 0; c < n; c++) {
        sum += (b[r] as number) * (inverse[r * n + c] as number) * (b[c] as number);
      }
    }
    return sum;
  };
  return fall([...fixed, ...places]) - fall(fixed);
}

function turnsApart(own: readonly Float64Array[]): boolean {
  const turns = own.map((o) => o[OWN.turn] as number);
  return turns.some((a) => turns.some((b) => Math.abs(Math.sin(a - b)) > 0.35));
}

/** Two photographs from both sides of the centre, the grating not turned between: see `TURN_KEPT`. */
function bothSides(own: readonly Float64Array[]): boolean {
  return own.some((a) =>
    own.some((b) =>
      (a[OWN.offset] as number) * (b[OWN.offset] as number) < 0 &&
      Math.abs((a[OWN.turn] as number) - (b[OWN.turn] as number)) < MAY_BE_KEPT
    )
  );
}

function withTerm(state: State, term: Term): State {
  return withTerms(state, [term]);
}

function withTerms(state: State, added: readonly Term[]): State {
  const head = 1 + shapesOf(state.terms).length;
  const at = Float64Array.from([
    ...state.at.subarray(0, head),
    ...shapesOf(added).map(() => 0),
    ...state.at.subarray(head),
  ]);
  return { ...state, terms: [...state.terms, ...added], at };
}

function finish(photos: readonly PhotoPixels[], state: State, axes: number): PhotoFit {
  const residuals = residualsOf(photos, state, axes), cluster = clusterOf(photos, residuals);
  const size = state.at.length, scatter = scatterOf(photos, residuals);
  const covariance = covarianceOf(photos, state, axes, scatter * Math.sqrt(cluster));
  const mirror = mirrorOf(state, axes);
  return {
    conic: mirror.conic,
    terms: state.terms,
    amounts: Float64Array.from(mirror.amounts),
    axes,
    own: photos.map((_, n) => ownOf(state, n)),
    covariance,
    size,
    scatter,
    cluster,
    pixels: photos.reduce((sum, { weight }) => sum + weight.reduce((a, b) => a + b, 0), 0),
    residuals,
  };
}

/**
 * Covariance of all unknowns. Neighbours that err together bring less, as if the scatter were larger by the root of their
 * number. Place and size of the discs are not fitted; how surely they are known goes through to all else.
 */
function covarianceOf(
  photos: readonly PhotoPixels[],
  state: State,
  axes: number,
  noise: number,
): Float64Array {
  const { square } = evaluator(photos, state.terms, axes, noise, { discs: true })(state.at, true);
  const size = state.at.length, head = 1 + shapesOf(state.terms).length;
  const free = allButDiscs(size, head, photos.length),
    n = free.length,
    open = new Float64Array(n * n);
  free.forEach((i, a) => free.forEach((j, b) => open[a * n + b] = square[i * size + j] as number));
  const inner = inversePositive(open, n), out = new Float64Array(size * size);
  if (inner === undefined) {
    throw new RangeError(
      "this photograph does not hold the mirror fast: its fit has no single lowest place",
    );
  }
  free.forEach((i, a) => free.forEach((j, b) => out[i * size + j] = inner[a * n + b] as number));
  photos.forEach(({ outline }, at) => {
    for (const k of [OWN.x, OWN.y, OWN.radius]) {
      const held = head + at * OWN_COUNT + k;
      const pull = free.map((_, a) =>
        free.reduce(
          (sum, j, b) => sum + (inner[a * n + b] as number) * (square[j * size + held] as number),
          0,
        ) *
        outline.u
      );
      free.forEach((i, a) =>
        free.forEach((j, b) =>
          out[i * size + j] = (out[i * size + j] as number) +
            (pull[a] as number) * (pull[b] as number)
        )
      );
      out[held * size + held] = outline.u * outline.u;
    }
  });
  return out;
}
