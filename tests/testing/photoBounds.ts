/** The bounds of the photograph trial, and its figures. */
import type { Judged, Kind } from "./photoTrial.ts";

const WAVE = 550;

/** nm RMS of glass. */
export const MOST_GLASS: Readonly<Record<Kind, number>> = {
  conic: WAVE / 40,
  ring: WAVE / 20,
  "turned edge": WAVE / 20,
  astigmatism: WAVE / 20,
  hopeless: 0,
};
export const MOST_CONIC = 0.05, MOST_OFFSET = 0.05, MOST_SECONDS = 5, LEAST_HELD = 0.9;

/**
 * What lies beyond those must lie within 2.5 of its own u, and that u must not be larger than this: a lens that may bend and an edge that
 * may hide leave more open than a perfect camera before a known shape would.
 */
const MOST_CONIC_U = 0.15, MOST_OFFSET_U = 0.2;

/** Whether a value is off by more than `most`, and by more than it says itself. */
function beyond(off: number, most: number, u: number, mostU: number): boolean {
  return Math.abs(off) > most && !(u <= mostU && Math.abs(off) <= 2.5 * u);
}

/** What does not hold of one reduction. */
export function faults(found: Judged): string[] {
  const { kind, refused, glass, conic, conicU, offset, offsetU, decoding, fitting } = found;
  if (kind === "hopeless") return refused === undefined ? ["not refused"] : [];
  if (refused !== undefined) return [`refused: ${refused}`];
  return [
    ...(glass > MOST_GLASS[kind] ? ["glass"] : []),
    ...(beyond(conic, MOST_CONIC, conicU, MOST_CONIC_U) ? ["conic"] : []),
    ...(beyond(offset, MOST_OFFSET, offsetU, MOST_OFFSET_U) ? ["offset"] : []),
    ...(decoding + fitting > MOST_SECONDS ? ["time"] : []),
  ];
}

/**
 * Share of the intervals of each quantity that hold the truth. Astigmatism is left out: what lies along the lines no photograph
 * with the lines one way can see, and `assumed` says so.
 */
export function held(all: readonly Judged[], of: keyof Judged["held"]): number {
  const read = all.filter(({ kind, refused }) =>
    kind !== "hopeless" && kind !== "astigmatism" && refused === undefined
  );
  return read.filter((found) => found.held[of]).length / read.length;
}

/** One line of the trial's account. */
export function lineOf(found: Judged): string {
  const { name, kind, size, refused, glass, conic, conicU, offset, offsetU, held, terms } = found;
  const { decoding, fitting } = found;
  const begin = `${kind.padEnd(12)} ${name.padEnd(24)} ${size.padEnd(12)}`;
  const end = `${decoding.toFixed(2)} + ${fitting.toFixed(2)} s`, wrong = faults(found).join(", ");
  if (refused !== undefined) {
    return `${begin} ${end}  refused: ${refused.slice(0, 90)} ${wrong && "WRONG"}`;
  }
  const misses = Object.entries(held).filter(([, ok]) => !ok).map(([key]) => key).join(" ");
  return `${begin} glass ${glass.toFixed(1).padStart(5)} nm  K ${conic.toFixed(3).padStart(6)} u ${
    conicU.toFixed(3)
  }  offset ${offset.toFixed(3)} u ${offsetU.toFixed(3)}  ${end}  [${terms}]${
    misses && `  outside: ${misses}`
  }${wrong && `  BEYOND: ${wrong}`}`;
}

/** Middle and worst of each kind, and how many of its photographs were well done. */
export function tableOf(all: readonly Judged[]): string[] {
  const kinds = [...new Set(all.map(({ kind }) => kind))];
  return kinds.map((kind) => {
    const own = all.filter((found) => found.kind === kind),
      good = own.filter((f) => faults(f).length === 0);
    const spread = (of: (found: Judged) => number): string => {
      const sorted = own.map(of).filter(Number.isFinite).sort((a, b) => a - b);
      return sorted.length === 0
        ? "-"
        : `${(sorted[sorted.length >> 1] ?? 0).toFixed(3)} / ${(sorted.at(-1) ?? 0).toFixed(3)}`;
    };
    return `| ${kind} | ${good.length} of ${own.length} | ${spread((f) => f.glass)} | ${
      spread((f) => Math.abs(f.conic))
    } | ${spread((f) => f.offset)} | ${spread((f) => f.decoding + f.fitting)} |`;
  });
}
