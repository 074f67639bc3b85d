/** An invented mirror at three states and an executed lesson, for the tests of pages. Bench numbers are the course's story. */
import type { Cell, Notebook, Output } from "../../lib/book/notebook.ts";
import type { BookFacts } from "../../lib/book/pages/facts.ts";
import { demo, notYet, readingsTable, yours } from "../../lib/figures/blocks.ts";
import { decide, decisionScale } from "../../lib/figures/decide.ts";
import { safe } from "../../lib/figures/html.ts";
import { show, type Showable } from "../../lib/figures/show.ts";
import type { Q, Summary } from "../../lib/knowledge/summaryTypes.ts";
import type { MirrorRecord } from "../../lib/record/types.ts";
import { KIT_VERSION } from "../../lib/version.ts";
import { stemOf } from "../stems.ts";

const q = (value: number, unit: string, u?: number): Q => ({
  value,
  unit,
  ...(u === undefined ? {} : { u, dof: 8 }),
});

/** A title that would run a script in a page that forgot to escape it. */
export const hostileTitle = `Asha's <img src=x onerror="document.title='broken'"> & co`;

export const record: MirrorRecord = {
  name: "demo-150-f8",
  folder: "/nowhere/demo-150-f8",
  settings: {
    title: "Kestrel Lane, blue group",
    aperture: 150,
    focalLength: 1200,
    bevel: 1,
    glass: "soda-lime",
    thickness: 25,
    goal: { surfaceWaves: 1 / 8, wavelength: 550, shape: "auto", scope: "whole surface" },
    gauges: {
      leaves: { width: 12.7, tolerance: 0.005 },
      dialStep: 0.001,
      depthGaugeStep: 0.01,
      rulerStep: 1,
      chordU: 0.15,
    },
    tester: { source: "moves with knife", openings: "bands", ronchi: "same grating" },
  },
  defaults: [],
  warnings: [],
  grinding: [
    row("F80", 120, 2),
    row("F120", 29, 3),
    row("F1200", 37, 4),
    row("cerium oxide", 360, 5),
  ],
  sagitta: [],
  spherometer: [],
  sun: [],
  lamp: [],
  zones: [],
  ronchi: [],
  knife: [],
  star: [],
  diary: [],
  observations: [],
};

function row(abrasive: string, minutes: number, line: number): MirrorRecord["grinding"][number] {
  return { file: "grinding.csv", line, abrasive, position: "mirror on top", minutes };
}

const design: Summary["design"] = {
  aperture: q(150, "mm"),
  focalLength: q(1200, "mm"),
  focalRatio: 8,
  radius: q(2400, "mm"),
  sagitta: q(1.1722, "mm"),
  shape: "paraboloid",
  sphereIsEnough: false,
  sphereDeparture: q(286, "nm"),
  airyRadius: q(5.37, "um"),
};

const empty: Summary = {
  record: "demo-150-f8",
  title: "Kestrel Lane, blue group",
  kitVersion: KIT_VERSION,
  warnings: [],
  design,
  nextStep: {
    stage: "blanks",
    do: "Bevel both discs, then grind 20 minutes with F80, mirror on top.",
    until: "the log has three readings.",
    why: "Nothing is measured yet.",
    caution: "Glass edges cut: keep the bevel at least 1 mm wide.",
  },
};

const halfway: Summary = {
  ...empty,
  curve: {
    radius: q(2898, "mm", 36),
    focalLength: q(1449, "mm", 18),
    sagitta: q(0.965, "mm", 0.012),
    estimates: [{
      method: "leaves",
      radius: q(2898, "mm", 36),
      readings: 7,
      setAside: 0,
      used: true,
    }],
    consistent: true,
    setAside: [],
    budget: [{ source: "leaf step", share: 0.8 }],
  },
  grinding: {
    rates: { mirrorOnTop: q(8.9, "um/min", 0.2) },
    sagittaNow: q(0.965, "mm", 0.012),
    targetSagitta: q(1.1722, "mm"),
    nextPosition: "mirror on top",
    canForecast: true,
    minutesToTarget: q(18, "min", 2),
    stopAt: q(1.128, "mm"),
  },
  nextStep: {
    stage: "rough grinding",
    do: "Grind 9 minutes more, mirror on top, then measure again.",
    until: "the sagitta is 1.128 mm.",
    why: "163 µm to go at 8.9 µm a minute. Do a part, look, and do the rest.",
    caution: "Glass edges cut: grind wet, and rinse outdoors.",
  },
};

const finished: Summary = {
  ...halfway,
  warnings: [6, 7, 11, 12, 13].map((line) => ({
    file: "sagitta.csv",
    line,
    message:
      "the bevel was last measured at minute 15; it grows less with every grade, so measure it again.",
  })),
  curve: {
    radius: q(2396.6, "mm", 2.4),
    focalLength: q(1198.3, "mm", 1.2),
    sagitta: q(1.1739, "mm", 0.0012),
    estimates: [
      { method: "leaves", radius: q(2398.7, "mm", 13.9), readings: 6, setAside: 1, used: true },
      {
        method: "spherometer",
        radius: q(2396.1, "mm", 5.7),
        readings: 10,
        setAside: 0,
        used: true,
      },
      {
        method: "sun distance",
        radius: q(2396.7, "mm", 2.7),
        readings: 6,
        setAside: 0,
        used: true,
      },
    ],
    birgeRatio: 0.18,
    consistent: true,
    setAside: [{ file: "sagitta.csv", line: 9, value: 1.32, why: "among readings near 1.15 mm" }],
    budget: [{ source: "Sun, scatter", share: 0.7 }],
  },
  figure: {
    zones: {
      conic: q(-0.67, "", 0.04),
      surfacePv: q(26, "nm", 3),
      surfaceRms: q(6.9, "nm", 0.7),
      wavefrontPv: q(0.094, "wave", 0.011),
      wavefrontRms: q(0.025, "wave", 0.003),
      strehl: q(0.975, "", 0.006),
      reference: "paraboloid",
      focus: "least rms",
      profile: Array.from({ length: 38 }, (_, i) => ({
        radius: i * 2,
        surfaceError: 12 * Math.cos(i * 2 / 17),
        u: 1 + i / 20,
      })),
      probabilityWithinGoal: 0.999,
    },
  },
  verdict: {
    scope: "whole surface",
    meetsGoal: "yes",
    probability: 0.9995,
    why: "The glass is good to 1/21 of a wave, and 1/8 was wanted.",
  },
  nextStep: {
    stage: "coating",
    do: "Leave the surface alone. Pack the mirror and send it out to be coated.",
    until: "it comes back with its coating.",
    why: "The probability of meeting the goal is above 0.99.",
    caution: "No silver bath, no acid: coating is the work of a firm.",
  },
};

/** The mirror with a readings-free record, half ground, and finished; its title is meant to do harm. */
export const states: Readonly<Record<"empty" | "halfway" | "finished", BookFacts>> = {
  empty: factsOf({ ...empty, title: "Kestrel Lane, blue group" }, []),
  halfway: factsOf(halfway, record.grinding.slice(0, 1)),
  finished: factsOf({ ...finished, title: hostileTitle }, record.grinding),
};

function factsOf(summary: Summary, grinding: MirrorRecord["grinding"]): BookFacts {
  return { summary, record: { ...record, grinding }, builtOn: new Date(2026, 10, 25) };
}

let cells = 0;
const idOf = (): string => `cell-${++cells}`;

/** A cell of prose. */
export const prose = (source: string, ...tags: string[]): Cell => ({
  id: idOf(),
  cell_type: "markdown",
  source,
  metadata: { tags },
});

/** A cell that has run. */
export const code = (source: string, outputs: readonly Output[], ...tags: string[]): Cell => ({
  id: idOf(),
  cell_type: "code",
  source,
  outputs,
  execution_count: 1,
  metadata: { tags },
});

/** Cells as a notebook. */
export const notebookOf = (cells: readonly Cell[]): Notebook => ({
  nbformat: 4,
  nbformat_minor: 5,
  metadata: {},
  cells,
});

const display = (data: Record<string, unknown>): Output => ({
  output_type: "display_data",
  data,
  metadata: {},
});

const shown = (thing: Showable): Output =>
  display({
    "text/html": `<div class="first-mirror">${show(thing).shown.html}</div>`,
    "text/plain": show(thing).shown.text,
  });

const readings = readingsTable("Your readings", [
  { title: "Ground for", unit: "min" },
  { title: "Passes", unit: "mm" },
  { title: "Does not", unit: "mm" },
  { title: "Sagitta at 150 mm", unit: "mm" },
], [
  { cells: ["15", "0.15", "0.20", safe`0.181`] },
  { cells: ["105", "0.50 + 0.40", "0.95", safe`0.957`] },
]);

/** A lesson with every kind of cell a notebook of the course may hold. */
export const lesson: Notebook = notebookOf([
  prose(
    "# Measuring the curve\n\nHow deep is the hollow now, how sure are you, and how many more minutes of grinding does it need?",
  ),
  prose(
    "- **You will** read the depth with feeler leaves, turn it into a focal length with its uncertainty, and decide whether to go on.\n" +
      "- **Bring** the mirror, rinsed and dry; a 150 mm straight-edge; a lamp behind the gap.\n" +
      "- **Minutes** 15 to read, 20 at the bench.\n" +
      `- **Before this** [Rough grinding](${
        stemOf("grind-hollow")
      }.ipynb): at least one charge of F80.\n` +
      "- **Write on the disc** Radius of curvature ______ mm, with today's date.",
    "card",
  ),
  code(
    'import { sagitta } from "first-mirror/optics";\nimport { show } from "first-mirror/figures";',
    [],
  ),
  prose(
    "## What a straight-edge sees\n\nLay a straight-edge across the hollow and it touches in two places only: the inner rims of the bevel. That depth is the *sagitta*.",
  ),
  prose(
    '## From depth to radius\n\nSquare half the chord, square the depth, add them, and divide by twice the depth.\n\n<aside class="side" aria-label="Source"><b>Where it comes from.</b> Two chords of one circle: Euclid, <i>Elements</i>, III.35.</aside>\n\n$$\nR = \\frac{r^2 + s^2}{2s} \\qquad f = \\frac{R}{2}\n$$\n\nwhere **r** half the chord · **s** depth in the middle · all in mm\n\nWith $s = 1.14$ mm, guess before you open the next cell.',
  ),
  code('const depth = sagitta(150, 2400); // 1.172 mm\nshow((depth - 1) / 2, "mm");', [
    shown("The focal length moves by 10.3 mm."),
    display({}),
  ], "open"),
  code("console.log(depth)", [
    { output_type: "stream", name: "stdout", text: "1.172\n<b>not bold</b>\n" },
    display({ "text/plain": "\u001b[33m1.172\u001b[39m" }),
  ]),
  code('quantity("6")', [{
    output_type: "error",
    ename: "RangeError",
    evalue: "a length needs its unit: 6 mm or 6 in? got <6>",
    traceback: [],
  }]),
  prose("## Your readings\n\n| Grade | µm |\n|---|--:|\n| F80 | 185 |\n| F1200 | 3 |"),
  code("show(readings)", [
    shown(yours("Inés, the kitchen table · 2 readings", readings)),
    shown(notYet("spherometer", "Set it on flat glass, read the dial, five times.")),
    shown(demo("Kestrel Lane, blue group", "Radius of curvature 2402 mm.")),
  ]),
  prose(
    "### Caution: the Sun's image burns\n\n- Never look into the beam.\n- Cover the mirror whenever you are not reading.\n\nMeasure by the Sun only with the workshop's leader beside you.",
    "caution",
  ),
  prose(
    "### Check yourself\n\nLeaves of 1.14 mm pass on a chord of 148 mm. What is the radius?\n\n<details><summary>A hint</summary>\n\nThe chord is what the straight-edge rests on.\n\n</details>",
    "exercise",
  ),
  code("check(answer, 2402)", [shown("Answer ______ mm")], "exercise"),
  code("decide(...)", [shown(decide({
    title: "go on",
    do: "Grind 9 minutes more, mirror on top, then measure again.",
    scale: decisionScale({
      from: 0.9,
      to: 1.25,
      title: "Sagitta at the full 150 mm (mm)",
      digits: 3,
      zones: [{ name: "go on", to: 1.128, limit: true }, { name: "stop", to: 1.172 }, {
        name: "swap discs",
        tone: "past",
      }],
      value: 0.965,
      interval: [0.934, 0.995],
    }),
    choices: [
      { name: "Go on", when: "while the depth is below 1.128 mm.", chosen: true },
      { name: "Stop", when: "at 1.128 mm, and wash up." },
      { name: "Swap the discs", when: "if it is past 1.172 mm." },
    ],
  }))], "decide"),
]);
