/** One of each figure and block, with the invented Kestrel Lane's numbers: for pages that tests look at. */
import { demo, facts, note, notYet, readingsTable, yours } from "../../lib/figures/blocks.ts";
import { decide, decisionScale, verdict } from "../../lib/figures/decide.ts";
import { curveToCircle } from "../../lib/figures/drawings/curveToCircle.ts";
import { grainLadder } from "../../lib/figures/drawings/grainLadder.ts";
import { lensAgainstMirror } from "../../lib/figures/drawings/lensAgainstMirror.ts";
import { mirrorSection } from "../../lib/figures/drawings/mirrorSection.ts";
import { strokePlan } from "../../lib/figures/drawings/strokePlan.ts";
import { surfaceFromAbove } from "../../lib/figures/drawings/surfaceFromAbove.ts";
import { wearMap } from "../../lib/figures/drawings/wearMap.ts";
import { zoneCrossings } from "../../lib/figures/drawings/zoneCrossings.ts";
import { zoneMask } from "../../lib/figures/drawings/zoneMask.ts";
import { paperRules, rootTokens, rules } from "../../lib/figures/look.ts";
import { budgetBars } from "../../lib/figures/plots/budgetBars.ts";
import { classDots } from "../../lib/figures/plots/classDots.ts";
import { histogramOfReadings } from "../../lib/figures/plots/histogramOfReadings.ts";
import { sagittaAgainstTime } from "../../lib/figures/plots/sagittaAgainstTime.ts";
import { sphereAgainstParaboloid } from "../../lib/figures/plots/sphereAgainstParaboloid.ts";
import { surfaceProfile } from "../../lib/figures/plots/surfaceProfile.ts";
import { threeMethods } from "../../lib/figures/plots/threeMethods.ts";
import { verdictBar } from "../../lib/figures/plots/verdictBar.ts";
import { zoneReadings } from "../../lib/figures/plots/zoneReadings.ts";
import { show, type Shown } from "../../lib/figures/show.ts";
import { timeline } from "../../lib/figures/timeline.ts";
import { say } from "../../lib/figures/words.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { chordRoutine } from "../../lib/shaping/grinding/routine.ts";
import { grindBy } from "../../lib/stages/grind.ts";
import { telescopeFigures } from "./telescopeSamples.ts";

const mm = (value: number, u: number, dof?: number): ReturnType<typeof measured> =>
  measured(value, u, "mm", dof);
const edges = [0, 30, 45, 57, 67, 74];
const openings = edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
const runs = [
  [12.21, 12.11, 12.41, 12.52, 12.72],
  [12.1, 12.14, 12.38, 12.51, 12.91],
  [12.12, 12.22, 12.38, 12.52, 12.69],
].map((readings, i) => ({ run: String(i + 1), readings }));
const points = Array.from({ length: 38 }, (_, i) => {
  const radius = 2 * i;
  return { radius, height: 13 * Math.cos(radius / 15), u: 2.5 };
});
const depths = [[20, 0.202], [40, 0.388], [60, 0.564], [80, 0.745], [100, 0.926], [120, 1.107]]
  .map(([minutes = 0, sagitta = 0]) => ({ minutes, sagitta }));
const at = (
  minutes: number,
  half: number,
): { minutes: number; sagitta: number; low: number; high: number } => {
  const sagitta = 0.023 + 0.00903 * minutes;
  return { minutes, sagitta, low: sagitta - half, high: sagitta + half };
};

const hour = grindBy(chordRoutine(150), 150, 6);

/** The figures, by name. */
export const figures: Readonly<Record<string, Shown>> = {
  classDots: classDots({
    dots: [1198, 1191, 1183, 1229].map((f, i) => ({
      name: `Bench ${i + 1}`,
      value: mm(f, 3),
      glass: i === 0 ? "done" as const : i === 1 ? "polished" as const : "ground" as const,
      stage: i === 2 ? "correcting" : "polishing",
      far: i === 3,
    })),
    mean: 1200.2,
    sd: 20,
    wanted: 1200,
    title: "Focal length by leaves (mm)",
    says: "The makers lie 20 mm apart.",
  }),
  ...telescopeFigures,
  mirrorSection: mirrorSection({ aperture: 150, radius: 2400, thickness: 25, bevel: 1 }),
  mirrorSectionFast: mirrorSection({
    aperture: 200,
    radius: 2400,
    thickness: 32,
    bevel: 1,
    face: "silvered",
  }),
  grainLadder: grainLadder({
    ladder: [["F80", 185], ["F120", 109], ["F220", 58], ["F320", 29.2], ["F500", 12.8], [
      "F800",
      6.5,
    ], ["F1200", 3]]
      .map(([name, sizeUm]) => ({ name: String(name), sizeUm: Number(sizeUm) })),
    alike: [{ name: "F400", sizeUm: 17.3 }, { name: "#400", sizeUm: 30 }, {
      name: "P400",
      sizeUm: 35,
    }],
  }),
  strokePlan: strokePlan({ aperture: 150, offset: 37.5, travel: 50 }),
  strokePlanCentre: strokePlan({ aperture: 200, offset: 0, travel: 66 }),
  wearMap: wearMap({
    discs: [{ name: "mirror, on top", shape: hour.mirror.shape }, {
      name: "tool, below",
      shape: hour.tool.shape,
    }],
    says: "The upper one hollow, the lower one domed.",
  }),
  curveToCircle: curveToCircle({ aperture: 150, radius: 2400 }),
  lensAgainstMirror: lensAgainstMirror({ aperture: 150, focalLength: 1200, split: 18.6 }),
  sphereAgainstParaboloid: sphereAgainstParaboloid({ aperture: 150, radius: 2400 }),
  sphereFast: sphereAgainstParaboloid({ aperture: 200, radius: 2400 }),
  sagittaAgainstTime: sagittaAgainstTime({
    ...{
      aperture: 150,
      readings: depths,
      target: 1.172,
      stop: 1.128,
      rate: measured(9.03, 0.03, ""),
    },
    line: [at(0, 0.012), at(60, 0.006), at(120, 0.01)],
    forecast: [at(120, 0.01), at(122.4, 0.01)],
    says: "Your line reaches the stop at minute 122.",
    beside: {
      name: "Kestrel Lane",
      readings: [{ minutes: 60, sagitta: 0.43 }, { minutes: 120, sagitta: 0.9 }],
    },
  }),
  threeMethods: threeMethods({
    bars: [
      { name: "Leaves", value: mm(2398.7, 13.9, 8) },
      { name: "Spherometer", value: mm(2396.1, 5.7, 20) },
      { name: "Sun, distance", value: mm(2396.7, 2.7, 6), whose: "demo" },
    ],
    ...{
      together: mm(2396.6, 2.4, 12),
      wanted: 2400,
      title: "Radius of curvature (mm)",
      birgeRatio: 0.18,
    },
  }),
  histogramOfReadings: histogramOfReadings({
    readings: [1199, 1194, 1203, 1197, 1196, 1201].map((value) => ({ value })),
    ...{
      title: "Sun’s image from the glass (mm)",
      unit: "mm",
      digits: 0,
      spread: 3.3,
      mean: mm(1198.33, 1.36, 5),
    },
  }),
  budgetBars: budgetBars([
    { source: "leaf step and tolerance", share: 0.62 },
    { source: "chord", share: 0.31 },
    { source: "where the ball feet of the spherometer touch the glass", share: 0.07 },
  ]),
  surfaceProfile: surfaceProfile({ points, openings, pv: measured(26, 3, "nm"), goal: 69 }),
  surfaceFromAbove: surfaceFromAbove({
    profile: points.map(({ radius, height }) => ({ radius, height })),
    astigmatism: {
      amplitude: measured(46, 8, "nm"),
      axis: measured(30, 5, "deg"),
      interval95: [30, 62],
    },
    pv: measured(98, 16, "nm"),
    shadowRadius: 15.5,
  }),
  zoneReadings: zoneReadings({ openings, runs, radius: 2396, source: "moves" }),
  zoneCrossings: zoneCrossings({
    openings,
    readings: [12.126, 12.21, 12.394, 12.536, 12.758],
    radius: 2396,
  }),
  verdictBar: verdictBar({
    results: [
      {
        name: "12 June, 3 runs",
        value: measured(0.292, 0.016, "wave"),
        verdict: "no",
        probability: 0.003,
      },
      {
        name: "Spell 1, 3 runs",
        value: measured(0.237, 0.016, "wave"),
        verdict: "not shown",
        probability: 0.78,
      },
      {
        name: "Spell 2, 5 runs",
        value: measured(0.094, 0.011, "wave"),
        verdict: "yes",
        probability: 0.9999,
      },
    ],
    ...{ goal: 0.25, title: "Wavefront, peak to valley (wave)", digits: 3 },
  }),
  zoneMask: zoneMask({ aperture: 150, openings }),
};

/** The blocks, by name. */
export const blocks: Readonly<Record<string, Shown>> = {
  yours: yours(
    "Asha, blue group · 3 readings",
    readingsTable("Leaves", [{ title: "Ground for", unit: "min" }, {
      title: "Sagitta",
      unit: "mm",
    }], [
      { cells: ["20", mm(0.202, 0.006)] },
      {
        cells: ["50", mm(0.788, 0.006)],
        setAside: "sagitta.csv, line 4: far from its neighbours.",
      },
    ]),
    note("From sagitta.csv, lines 2 to 4."),
  ),
  notYet: notYet("spherometer", "Set it on flat glass, read the dial, five times."),
  demo: demo("Kestrel Lane, blue group", say`Radius of curvature ${mm(2402, 6)}.`),
  facts: facts([["Radius of curvature", mm(2396.6, 2.4)], ["Glass", "soda-lime"]]),
  decide: decide({
    title: "go on",
    do: "Grind 9 minutes more, mirror on top, then measure again.",
    choices: [
      { name: "Go on", when: "while the depth is below 1.128 mm.", chosen: true },
      { name: "Stop", when: "at 1.128 mm, and wash up." },
      { name: "Swap the discs", when: "if it is past 1.172 mm." },
    ],
    scale: decisionScale({
      ...{ from: 0.9, to: 1.25, title: "Sagitta at the full 150 mm (mm)", digits: 3 },
      zones: [{ name: "go on", to: 1.128, limit: true }, { name: "stop", to: 1.172 }, {
        name: "swap discs",
        tone: "past",
      }],
      ...{ value: 0.965, interval: [0.934, 0.995], then: { value: 1.045, label: "in 9 min" } },
    }),
  }),
  verdict: verdict({
    meetsGoal: "not shown",
    says: "The readings allow both.",
    because: say`Surface P-V ${measured(65, 4, "nm")}.`,
  }),
  timeline: timeline([
    {
      number: 1,
      name: "Rough grinding",
      state: "done",
      got: mm(1.169, 0.004),
      from: "sagitta, from sagitta.csv",
      href: "x.html",
    },
    { number: 2, name: "Fine grinding", state: "here" },
    { number: 3, name: "Polishing", state: "ahead" },
  ]),
};

/** A page of its own around some things, with the look and nothing else. */
export function samplePage(things: readonly Shown[], script = ""): string {
  const body = things.map((thing) => `<div class="sample">${show(thing).shown.html}</div>`).join(
    "\n",
  );
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Samples</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<style>${rootTokens()} *, ::before, ::after { box-sizing: border-box; }
body { margin: 0; background: var(--paper); color: var(--ink); font: 400 var(--text)/1.55 var(--serif); }
main { max-width: 60rem; margin: 0 auto; padding: 0 1.25rem; } .sample > * { max-width: var(--measure); } .sample > figure.wide { max-width: none; }
p, ul, ol, dl, figure, table, form { margin: 0 0 1.1em; }
${rules} html:not(.js) .control, html:not(.js) .js-only { display: none; } @media print { ${paperRules} }</style></head>
<body><main><h1>Samples</h1>${body}</main><script>${script}</script></body></html>`;
}
