/**
 * Light at a mirror behind a grating by a second route: each line of the pupil transformed to the grating, stopped there line by
 * line for every place in the lamp, and transformed back. It knows neither the fit's sum of images nor the first generator's.
 */

/** A mirror of revolution before a grating of the lamp's own lines; lengths mm, heights nm, turn rad. */
export interface OtherMirror {
  /** clear width of the face */
  readonly width: number;
  readonly radius: number;
  readonly conic: number;
  /** glass above the conic, nm, by the distance from the axis over half the width */
  readonly extra: (rho: number) => number;
  readonly offset: number;
  readonly lines: number;
  readonly turn: number;
  readonly shift: number;
  /** clear share of a pitch */
  readonly duty: number;
  /** nm and share of the light */
  readonly colours: readonly (readonly [nm: number, share: number])[];
}

/** Random numbers: xorshift of 128 bits (Marsaglia 2003), normal ones as a sum of twelve. */
export interface OtherDice {
  next(): number;
  from(low: number, high: number): number;
  bell(): number;
  of<T>(all: readonly T[]): T;
}

export function otherDice(seed: number): OtherDice {
  let a = 123456789 ^ Math.imul(seed + 11, 0x85ebca6b), b = 362436069 ^ Math.imul(seed, 0xc2b2ae35);
  let c = 521288629, d = 88675123 ^ seed;
  const next = (): number => {
    const t = a ^ (a << 11);
    [a, b, c] = [b, c, d];
    d = d ^ (d >>> 19) ^ t ^ (t >>> 8);
    return (d >>> 0) / 4294967296;
  };
  for (let k = 0; k < 40; k++) next();
  return {
    next,
    from: (low, high) => low + (high - low) * next(),
    bell: () => {
      let sum = -6;
      for (let k = 0; k < 12; k++) sum += next();
      return sum;
    },
    of: <T>(all: readonly T[]): T => all[Math.floor(next() * all.length)] as T,
  };
}

/** Sagitta of the conic in mm, by the root of its quadratic. */
function sagitta(r: number, radius: number, conic: number): number {
  const k = 1 + conic;
  if (Math.abs(k) < 1e-9) return (r * r) / (2 * radius);
  return (radius - Math.sqrt(radius * radius - k * r * r)) / k;
}

/** Discrete transform in place by halving, forward for `sign` -1 and backward, not divided, for 1. */
export function transform(re: Float64Array, im: Float64Array, sign: 1 | -1): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; j & bit; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i >= j) continue;
    const r = re[i] as number, s = im[i] as number;
    re[i] = re[j] as number;
    im[i] = im[j] as number;
    re[j] = r;
    im[j] = s;
  }
  const { cos, sin } = turnsOf(n);
  for (let size = 2; size <= n; size *= 2) {
    const half = size / 2, jump = n / size;
    for (let k = 0; k < half; k++) {
      const wr = cos[k * jump] as number, wi = sign * (sin[k * jump] as number);
      for (let i = k; i < n; i += size) {
        const j = i + half, br = re[j] as number, bi = im[j] as number;
        const r = wr * br - wi * bi, s = wr * bi + wi * br;
        re[j] = (re[i] as number) - r;
        im[j] = (im[i] as number) - s;
        re[i] = (re[i] as number) + r;
        im[i] = (im[i] as number) + s;
      }
    }
  }
}

const tables = new Map<number, { cos: Float64Array; sin: Float64Array }>();

function turnsOf(n: number): { cos: Float64Array; sin: Float64Array } {
  let found = tables.get(n);
  if (found === undefined) {
    const angle = (_: unknown, k: number): number => (2 * Math.PI * k) / n;
    const angles = Float64Array.from({ length: n / 2 }, angle);
    found = { cos: angles.map(Math.cos), sin: angles.map(Math.sin) };
    tables.set(n, found);
  }
  return found;
}

/** Samples along a line and places in the lamp's clear line. */
const SAMPLES = 2048, LAMP = 24;

/** The face's brightness, 1 without a grating, on a net in the grating's own axes, and how to read it anywhere. */
export function otherLight(p: OtherMirror, lines: number): (x: number, y: number) => number {
  const half = p.width / 2, reach = 1.4 * half, across = 4 * p.width, dx = across / SAMPLES;
  const dy = (2 * reach) / lines, first = -(lines - 1) / 2 * dy;
  const keep = 2 * Math.ceil(reach / dx), from = SAMPLES / 2 - keep / 2;
  const net = new Float64Array(lines * keep);
  for (const [nm, share] of p.colours) {
    const wave = nm * 1e-6, plane = p.radius + p.offset;
    const stops = stopsOf(p, (wave * plane) / across);
    for (let row = 0; row < lines; row++) {
      const y = first + row * dy;
      if (Math.abs(y) >= half) continue;
      addRow(net.subarray(row * keep, (row + 1) * keep), { p, wave, y, dx, from, share, stops });
    }
  }
  const c = Math.cos(p.turn), s = Math.sin(p.turn);
  return (x, y) => {
    const u = c * x + s * y, v = c * y - s * x;
    const fx = u / dx + keep / 2, fy = (v - first) / dy, i = Math.floor(fx), j = Math.floor(fy);
    if (i < 0 || j < 0 || i >= keep - 1 || j >= lines - 1) return 0;
    const k = j * keep + i, a = fx - i, b = fy - j;
    return (1 - b) * ((1 - a) * (net[k] as number) + a * (net[k + 1] as number)) +
      b * ((1 - a) * (net[k + keep] as number) + a * (net[k + keep + 1] as number));
  };
}

/** What the lines let through, for each place in the lamp: places at the grating are `step` mm apart. */
function stopsOf(p: OtherMirror, step: number): Float64Array[] {
  const pitch = 1 / p.lines;
  return Array.from({ length: LAMP }, (_, n) => {
    const lamp = ((n + 0.5) / LAMP - 0.5) * p.duty * pitch + 2 * p.shift;
    return Float64Array.from({ length: SAMPLES }, (_, k) => {
      const at = (k < SAMPLES / 2 ? k : k - SAMPLES) * step - lamp;
      const off = Math.abs(at - pitch * Math.round(at / pitch));
      // the share of one sample's width that lies over the clear line
      return Math.min(1, Math.max(0, ((p.duty * pitch) / 2 - off) / step + 0.5));
    });
  });
}

interface RowOf {
  readonly p: OtherMirror;
  readonly wave: number;
  readonly y: number;
  readonly dx: number;
  readonly from: number;
  readonly share: number;
  readonly stops: readonly Float64Array[];
}

function addRow(out: Float64Array, { p, wave, y, dx, from, share, stops }: RowOf): void {
  const half = p.width / 2, plane = p.radius + p.offset, chord = Math.sqrt(half * half - y * y);
  const re = new Float64Array(SAMPLES), im = new Float64Array(SAMPLES);
  for (let k = 0; k < SAMPLES; k++) {
    const x = (k - SAMPLES / 2) * dx,
      part = Math.min(1, Math.max(0, (chord - Math.abs(x)) / dx + 0.5));
    if (part === 0) continue;
    const r = Math.min(half, Math.hypot(x, y));
    const z = sagitta(r, p.radius, p.conic) + 1e-6 * p.extra(r / half);
    const way = 2 * (Math.hypot(r, plane - z) - plane), angle = (2 * Math.PI * way) / wave;
    re[k] = part * Math.cos(angle);
    im[k] = part * Math.sin(angle);
  }
  transform(re, im, -1);
  const a = new Float64Array(SAMPLES), b = new Float64Array(SAMPLES);
  for (const stop of stops) {
    for (let k = 0; k < SAMPLES; k++) {
      const t = (stop[k] as number) / SAMPLES;
      a[k] = t * (re[k] as number);
      b[k] = t * (im[k] as number);
    }
    transform(a, b, 1);
    const part = share / LAMP;
    for (let k = 0; k < out.length; k++) {
      const r = a[from + k] as number, s = b[from + k] as number;
      out[k] = (out[k] as number) + part * (r * r + s * s);
    }
  }
}

/** What such a mirror is worth against the paraboloid at the focus of least RMS: rings of equal area, the rim and the middle. */
export function otherTruth(
  p: OtherMirror,
  waveNm = 550,
): { conic: number; pv: number; rms: number; strehl: number } {
  const rings = 4000,
    half = p.width / 2,
    q = Array.from({ length: rings }, (_, k) => (k + 0.5) / rings);
  const height = (v: number): number =>
    1e6 *
      (sagitta(half * Math.sqrt(v), p.radius, p.conic) -
        sagitta(half * Math.sqrt(v), p.radius, -1)) +
    p.extra(Math.sqrt(v));
  const ball = (v: number): number =>
    1e6 * (sagitta(half * Math.sqrt(v), p.radius, 0) - sagitta(half * Math.sqrt(v), p.radius, -1));
  const mean = (of: (v: number) => number): number => q.reduce((sum, v) => sum + of(v), 0) / rings;
  const flat = (of: (v: number) => number): (v: number) => number => {
    const m = mean(of), slope = 12 * mean((v) => (of(v) - m) * (v - 0.5));
    return (v) => of(v) - m - slope * (v - 0.5);
  };
  const left = flat(height),
    unit = flat(ball),
    waves = (v: number): number => (2 * left(v)) / waveNm;
  const conic = mean((v) => left(v) * unit(v)) / mean((v) => unit(v) ** 2) - 1;
  const all = [0, 1, ...q].map(waves), turn = (v: number): number => 2 * Math.PI * waves(v);
  return {
    conic,
    pv: Math.max(...all) - Math.min(...all),
    rms: Math.sqrt(mean((v) => waves(v) ** 2)),
    strehl: mean((v) => Math.cos(turn(v))) ** 2 + mean((v) => Math.sin(turn(v))) ** 2,
  };
}
