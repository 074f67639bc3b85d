/** Bands beside numpy and scipy in one run: a slider's frame, a picture from scratch, and the fit of a photograph. */
import { OWN, OWN_COUNT } from "../../lib/testing/photo/photoModel.ts";
import { findOutline } from "../../lib/testing/photo/photoOutline.ts";
import { pixelsOf } from "../../lib/testing/photo/photoPixels.ts";
import { firstStates } from "../../lib/testing/photo/photoStarts.ts";
import { descend } from "../../lib/testing/photo/photoSteps.ts";
import { evaluator } from "../../lib/testing/photo/photoSums.ts";
import { ronchiFrame } from "../../lib/testing/bands/ronchiFrame.ts";
import { makePhoto } from "../testing/photoGenerator.ts";
import { beside, type Race } from "./beside.ts";

const mirror = { radius: 2400, conic: -1 }, half = 75, linesPerMm = 4, pixels = 256;
const still = { surface: mirror, half, linesPerMm, setUp: "slit beside" } as const;
const size = { width: pixels, height: pixels }, offset = -6, shift = 0.03;
/** what numpy is given: the same mirror in rows of 512 */
const input = {
  ...mirror,
  half,
  lines: linesPerMm,
  wavelength: 550,
  pixels,
  samples: 512,
  offset,
  shift,
};

const told = (light: Float64Array): number[] =>
  [[128, 128], [64, 128], [148, 64]].map(([line = 0, column = 0]) =>
    light[line * pixels + column] ?? NaN
  );

/** glass so little uneven that no number moves, but enough that no row is the mirror image of another */
const error = (_: number, y: number): number => 1e-6 * y;

/** A frame as the page draws it, down to the canvas's bytes. */
function sliderFrame(lopsided: boolean): () => number[] {
  const frame = ronchiFrame(lopsided ? { ...still, error } : still, size);
  const light = frame.light(offset, shift); // every frame is written here
  return () => {
    frame.rgba(offset, shift);
    return told(light);
  };
}

const photo = makePhoto({
  ...{
    aperture: 150,
    radius: 2400,
    conic: -0.7,
    offset: -6,
    linesPerMm,
    light: [550],
    turn: 2,
    shift: 0.01,
  },
  ...{ width: 400, height: 380, x: 203.3, y: 188.8, r: 160.4, noise: 0.02, uneven: 0.3 },
});
const bench = { radius: 2400, half, setUp: "same grating", linesPerMm, wavelength: 550 } as const;
const outline = findOutline(photo);
if (outline === undefined) throw new Error("the bench's own photograph has no outline");
const picked = pixelsOf(photo, outline, bench, { offset: -6.3, offsetU: 0.5 });
const first = firstStates([picked])[0];
if (first === undefined) throw new Error("the bench's own photograph has no start");
/** The unknowns that both know, conic first: of a camera without faults, whose disc is where its rim is. */
const KNOWN = 1 + OWN.stretch, AT_RIM: readonly number[] = [1 + OWN.x, 1 + OWN.y, 1 + OWN.radius];
const start = Float64Array.from(
  [first.conic, ...first.own.flatMap((own) => [...own])],
  (v, k) => k < KNOWN ? v : 0,
);
const free = Array.from({ length: KNOWN }, (_, k) => k).filter((k) => !AT_RIM.includes(k));
const held = new Set(
  Array.from({ length: OWN_COUNT }, (_, k) => k).filter((k) => !free.includes(k + 1)),
);
const noise = 0.02;
// what stays at nothing is not held against what phones usually do
const plain = { ...picked, spread: picked.spread.map((u, k) => k < KNOWN - 1 ? u : Infinity) };

function fit(): number[] {
  const { at, cost } = descend(
    start,
    evaluator([plain], [], 0, noise, { held }),
    free,
    60,
    1e-3,
    1e-5,
  );
  return [at[0] ?? NaN, at[1 + OWN.offset] ?? NaN, at[1 + OWN.turn] ?? NaN, cost];
}

const races: readonly Race[] = [
  {
    name: "slider frame, 256 px in rows of 512, RGBA (aim: 4 ms)",
    ours: sliderFrame(true),
    // scipy's has no RGBA in it
    peers: [{ kernel: "slider_rows" }, { kernel: "slider_whole_plane", goal: 0.35 }],
    input,
    // over the whole plane the path is exact, here the lens of the rim stands for it
    tolerance: [0.03, 0.03, 0.03],
  },
  {
    name: "the same where the mirror is alike above and below",
    ours: sliderFrame(false),
    peers: [{ kernel: "slider_rows" }],
    input,
    tolerance: [1e-4, 1e-4, 1e-4],
  },
  {
    name: "one picture from scratch, rows only, like for like",
    ours: () => told(ronchiFrame({ ...still, error }, size).light(offset, shift)),
    peers: [{ kernel: "rows_from_scratch", goal: 1 }],
    input,
    tolerance: [0.03, 0.03, 0.03],
  },
  {
    name: `fit of a photograph, ${picked.x.length} pixels, ${free.length} unknowns`,
    ours: fit,
    peers: [{ kernel: "photo_fit", goal: 0.6 }],
    input: {
      ...{ radius: 2400, half, lines: linesPerMm, wavelength: 550, noise, free },
      ...{ x: [...picked.x], y: [...picked.y], value: [...picked.value] },
      start: [...start.subarray(0, KNOWN)],
      // what is likely beforehand: conic, then the photograph's own unknowns; scipy is told where there is nothing
      guess: [-0.5, ...picked.start].slice(0, KNOWN),
      u: [5, ...picked.spread].slice(0, KNOWN).map((u) => u === Infinity ? 1e30 : u),
    },
    tolerance: [2e-3, 2e-3, 1e-4, 0.5],
  },
];
await beside("peer_ronchi.py", races);
