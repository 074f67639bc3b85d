/** The plots: axis titles with units, the right marks for yours and the demo's, sound at the edges. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { budgetBars } from "../../lib/figures/plots/budgetBars.ts";
import { Plot, plotted } from "../../lib/figures/plots/style.ts";
import { histogramOfReadings } from "../../lib/figures/plots/histogramOfReadings.ts";
import {
  type SagittaAgainstTime,
  sagittaAgainstTime,
} from "../../lib/figures/plots/sagittaAgainstTime.ts";
import { sphereAgainstParaboloid } from "../../lib/figures/plots/sphereAgainstParaboloid.ts";
import { surfaceProfile } from "../../lib/figures/plots/surfaceProfile.ts";
import { threeMethods } from "../../lib/figures/plots/threeMethods.ts";
import { timeline } from "../../lib/figures/timeline.ts";
import { verdictBar } from "../../lib/figures/plots/verdictBar.ts";
import { zoneReadings } from "../../lib/figures/plots/zoneReadings.ts";
import { measured } from "../../lib/quantity/measured.ts";
import { assertFigure, assertWellFormed, parsed } from "./soundFigure.ts";
import { stemOf } from "../stems.ts";

const nasty = `"><script>alert(1)</script>`;
const openings = [{ inner: 0, outer: 30 }, { inner: 30, outer: 45 }, { inner: 45, outer: 74 }];
const log: SagittaAgainstTime = {
  aperture: 150,
  readings: [[20, 0.202], [40, 0.388], [60, 0.564]].map(([minutes = 0, sagitta = 0]) => ({
    minutes,
    sagitta,
  })),
  line: [0, 60].map((m) => ({
    minutes: m,
    sagitta: 0.02 + 0.009 * m,
    low: 0.01 + 0.009 * m,
    high: 0.03 + 0.009 * m,
  })),
  forecast: [{ minutes: 60, sagitta: 0.56 }, { minutes: 127, sagitta: 1.168 }],
  rate: measured(9.03, 0.03, "um/min"),
  target: 1.172,
  stop: 1.128,
  beside: { name: "Kestrel Lane", readings: [{ minutes: 30, sagitta: 0.3 }] },
};

Deno.test("depth against minutes: titles, stop, target, forecast, both mirrors", () => {
  const [svg] = assertFigure(sagittaAgainstTime(log), {
    titles: [
      /^Time of grinding \(min\)$/,
      /^Sagitta at the full 150 mm \(mm\)$/,
      /^target 1\.172$/,
      /^stop 1\.128/,
      /^yours$/,
      /^Kestrel Lane$/,
    ],
    says:
      /Your 3 readings go from 0\.202 at 20 minutes to 0\.564 at 60 minutes\. Stop at 1\.128\. The line leads to 1\.168 at minute 127/,
  });
  const html = svg?.outerHTML ?? "";
  assert.match(
    html,
    /stroke-dasharray="6 4"[^>]*stroke="var\(--rouge\)"|stroke="var\(--rouge\)"[^>]*stroke-dasharray="6 4"/,
  );
  assert.match(html, /stroke-dasharray="2 4"/, "the forecast is dotted");
  assert.match(html, /fill="var\(--glass-tint\)"/, "the band");
  assert.equal(
    [...(svg?.querySelectorAll('g[fill="var(--glass)"] circle') ?? [])].length,
    3,
    "yours filled",
  );
  assert.equal(
    [...(svg?.querySelectorAll('g[fill="var(--paper)"] circle') ?? [])].length,
    1,
    "the demo’s open",
  );
});

Deno.test("depth against minutes: nothing yet, one reading, all at one depth, one set aside", () => {
  assertFigure(sagittaAgainstTime({ aperture: 150, readings: [] }), { says: /No readings yet/ });
  assertFigure(sagittaAgainstTime({ aperture: 150, readings: [{ minutes: 20, sagitta: 0.2 }] }), {
    says: /one reading is 0\.200/,
  });
  assertFigure(
    sagittaAgainstTime({
      aperture: 150,
      readings: [{ minutes: 0, sagitta: 0 }, { minutes: 0, sagitta: 0 }],
    }),
  );
  const aside = sagittaAgainstTime({
    aperture: 150,
    readings: [{ minutes: 2, sagitta: 0.1 }, { minutes: 4, sagitta: 9, setAside: true }],
  });
  assertFigure(aside, { says: /1 set aside, struck through/ });
  assertFigure(sagittaAgainstTime({ ...log, whose: "demo" }), { says: /The demo’s 3 readings/ });
  assert.throws(
    () => sagittaAgainstTime({ aperture: 150, readings: [{ minutes: 1, sagitta: NaN }] }),
    RangeError,
  );
});

const bars = [
  { name: "Leaves", value: measured(2398.7, 13.9, "mm", 8) },
  { name: "Sun, distance", value: measured(2396.7, 2.7, "mm", 5), whose: "demo" as const },
];

Deno.test("methods: a bar each, what they give together, the wanted", () => {
  const shown = threeMethods({
    bars,
    together: measured(2396.6, 2.4, "mm"),
    wanted: 2400,
    title: "Radius of curvature (mm)",
    birgeRatio: 0.18,
  });
  for (
    const svg of assertFigure(shown, {
      titles: [/^Radius of curvature \(mm\)$/, /^Leaves$/, /^Together$/],
      says: /Together 2396\.6 ± 2\.4\. Wanted 2400\. Birge ratio 0\.18/,
    })
  ) {
    assert.equal([...svg.querySelectorAll("circle.mine")].length, 2, "leaves and together");
    assert.equal([...svg.querySelectorAll("circle.theirs")].length, 1);
    const band = svg.querySelector("rect.zone-b"), x = Number(band?.getAttribute("x"));
    const mark = Number([...svg.querySelectorAll("circle")].at(-1)?.getAttribute("cx"));
    assert.ok(
      mark > x && mark < x + Number(band?.getAttribute("width")),
      "the mark is in the band",
    );
  }
  assert.match(shown.html, /They agree/);
});

Deno.test("methods: the bar is the 95 % interval by Student", () => {
  const [svg] = assertFigure(
    threeMethods({
      bars: [{ name: "a", value: measured(0, 1, "", 4) }, { name: "b", value: measured(0, 1, "") }],
      title: "x (mm)",
    }),
  );
  const widths = [...(svg?.querySelectorAll("path.mine") ?? [])].map((p) => {
    const [x0 = 0, , x1 = 0] = [...(p.getAttribute("d") ?? "").matchAll(/-?\d+(\.\d+)?/g)].map((
      [n],
    ) => Number(n));
    return x1 - x0;
  });
  // READ GUM (JCGM 100:2008), table G.2 (from memory): t95 is 2.78 for 4 degrees of freedom, 1.960 for infinitely many.
  assert.ok(Math.abs((widths[0] ?? 0) / (widths[1] ?? 1) - 2.776 / 1.96) < 0.005);
});

Deno.test("methods: none, one, no spread, one that stands apart", () => {
  assertFigure(threeMethods({ bars: [], title: "R (mm)" }), { says: /no readings yet/ });
  assert.match(
    threeMethods({ bars: bars.slice(0, 1), title: "R (mm)" }).html,
    /One way is no check/,
  );
  assertFigure(
    threeMethods({
      bars: [{ name: "a", value: measured(5, 0, "mm") }],
      together: measured(5, 0, "mm"),
      title: "R (mm)",
    }),
  );
  const odd = threeMethods({
    bars: [{ ...bars[0], name: "Leaves", value: measured(2350, 12, "mm"), odd: true }],
    title: "R (mm)",
  });
  assert.match(odd.text, /Leaves stands apart/);
  const agree = threeMethods({ bars, title: "R (mm)" });
  assert.doesNotMatch(agree.text + agree.html, /stands? apart/, "none of two that agree");
  assert.match(agree.html, /No common value is drawn/);
});

Deno.test("a histogram: dots stacked, mean with its bar, what is set aside kept and struck", () => {
  const readings = [1199, 1194, 1199, 1199].map((value) => ({ value }));
  const shown = histogramOfReadings({
    readings: [...readings, { value: 1222, setAside: nasty }],
    ...{
      title: "Distance (mm)",
      unit: "mm",
      digits: 0,
      spread: 2.5,
      mean: measured(1197.8, 1.25, "mm", 3),
    },
  });
  for (
    const svg of assertFigure(shown, {
      titles: [/^Distance \(mm\)$/, /^mean 1197\.8 ± 1\.3$/],
      says: /4 readings from 1194 to 1199 mm.*struck through: 1222/,
    })
  ) {
    const marks = [...svg.querySelectorAll("circle")].map((c) =>
      [Number(c.getAttribute("cx")), Number(c.getAttribute("cy"))] as const
    );
    assert.equal(marks.length, 5);
    marks.forEach(([x, y], i) =>
      marks.slice(0, i).forEach(([a, b]) =>
        assert.ok(Math.hypot(x - a, y - b) > 8, "no dot hides another")
      )
    );
    assert.equal([...svg.querySelectorAll("path.limit")].length, 1);
  }
});

Deno.test("a histogram of nothing, of one, of equals", () => {
  for (const values of [[], [5], [5, 5, 5]]) {
    assertFigure(
      histogramOfReadings({
        readings: values.map((value) => ({ value })),
        title: "Dial (mm)",
        unit: "mm",
        digits: 3,
        spread: 0,
      }),
    );
  }
});

Deno.test("two readings are no histogram, three are", () => {
  const told = (values: readonly number[]): string =>
    histogramOfReadings({
      ...{
        readings: values.map((value) => ({ value })),
        title: "Dial (mm)",
        unit: "mm",
        digits: 3,
      },
    }).html;
  assert.match(told([5, 5.1]), /Too few to see a histogram/);
  assert.match(told([5, 5.1, 5.2]), /Every reading is a draw from a distribution/);
});

Deno.test("shares: the largest first and named, all at one scale", () => {
  const shown = budgetBars([{ source: "chord", share: 0.25 }, { source: "leaf", share: 0.5 }, {
    source: nasty,
    share: 0.001,
  }]);
  const [svg] = assertFigure(shown, {
    titles: [/^50 %$/, /^below 1 %$/],
    says: /leaf 50 %, chord 25 %/,
  });
  const [a, b] = [...(svg?.querySelectorAll("rect") ?? [])].map((r) =>
    Number(r.getAttribute("width"))
  );
  assert.ok(Math.abs((a ?? 0) / (b ?? 1) - 2) < 0.01);
  assertFigure(budgetBars([{ source: "all", share: 0 }]));
  assert.throws(() => budgetBars([]), /requires at least one source/);
  assert.throws(() => budgetBars([{ source: "x", share: NaN }]), RangeError);
});

Deno.test("sphere beside paraboloid: the numbers of 150 f/8 and 200 f/6", () => {
  // DERIVED: r⁴ ÷ 8R³ = 286.1 nm; a quarter of it is left, doubled in the wavefront: 0.260 wave of 550 nm.
  assertFigure(sphereAgainstParaboloid({ aperture: 150, radius: 2400 }), {
    titles: [/^Distance from the centre \(mm\)$/, /glass \(nm\)$/],
    says: /286 nm .*72 nm of glass remain, 0\.26 wave/,
  });
  assert.match(sphereAgainstParaboloid({ aperture: 200, radius: 2400 }).text, /0\.82 wave/);
  assert.throws(() => sphereAgainstParaboloid({ aperture: 150, radius: 50 }), RangeError);
});

const points = [0, 20, 40, 74].map((radius, i) => ({
  radius,
  height: [30, 5, -15, 20][i] ?? 0,
  u: 3,
}));

Deno.test("a profile: band and solid with several runs, dashed with one", () => {
  const sure = surfaceProfile({ points, openings, pv: measured(45, 3, "nm"), goal: 69 });
  assertFigure(sure, {
    span: "wide",
    titles: [/^Distance from the centre \(mm\)$/, /\(nm\)$/, /^45 ± 3$/, /^goal 69$/],
    says: /Peak to valley 45 ± 3 nm of glass; the goal is 69/,
  });
  assert.match(sure.html, /glass-tint/);
  const once = surfaceProfile({
    points: points.map(({ radius, height }) => ({ radius, height })),
    goal: 69,
  });
  assertFigure(once, { span: "wide", titles: [/^45$/] });
  assert.match(once.html, /stroke-dasharray="5 4"/);
  assert.doesNotMatch(once.html, /fill="var\(--glass-tint\)"/);
});

Deno.test("a profile that is flat, or compared with an earlier one, is sound", () => {
  const flat = points.map((p) => ({ ...p, height: 0 }));
  assertFigure(surfaceProfile({ points: flat, before: { name: nasty, points }, whose: "demo" }), {
    span: "wide",
  });
  assert.throws(() => surfaceProfile({ points: points.slice(0, 1) }), /two points or more, got 1/);
  assert.throws(
    () => surfaceProfile({ points: [...points, { radius: NaN, height: 1 }] }),
    RangeError,
  );
});

Deno.test("zone readings: a stroke for each reading, a thick one for each mean, the perfect curve", () => {
  const runs = [{ run: "1", readings: [12.1, 12.2, 12.5] }, {
    run: "2",
    readings: [12.2, undefined, 12.7],
  }];
  const shown = zoneReadings({ openings, runs, radius: 2396, source: "moves" });
  const [svg] = assertFigure(shown, {
    titles: [/^Knife position/, /^Distance from the centre \(mm\)$/, /^a perfect paraboloid$/],
    says: /2 runs through 3 openings: means 12\.15, 12\.20, 12\.60 mm/,
  });
  assert.equal(
    [...(svg?.querySelectorAll('g[stroke-width="3"] path, g[stroke-width="3"] line') ?? [])].length,
    3,
  );
  assertFigure(zoneReadings({ openings, runs: [], radius: 2396, source: "fixed" }), {
    says: /no readings yet/,
  });
  assertFigure(
    zoneReadings({
      openings,
      runs: runs.slice(0, 1),
      radius: 2396,
      source: "fixed",
      wanted: "sphere",
      whose: "demo",
    }),
  );
  assert.throws(() => zoneReadings({ openings: [], runs, radius: 1, source: "fixed" }), RangeError);
  assert.throws(
    () => zoneReadings({ openings: openings.slice(0, 2), runs, radius: 2396, source: "fixed" }),
    /run 1 with 3 readings/,
  );
});

Deno.test("verdicts: bar, goal, word and probability", () => {
  const results = [
    { name: "12 June", value: measured(0.292, 0.016, "wave"), verdict: "no", probability: 0.003 },
    {
      name: nasty,
      value: measured(0.237, 0.016, "wave"),
      interval: [0.208, 0.268],
      verdict: "not shown",
      probability: 0.78,
    },
    {
      name: "Spell 2",
      value: measured(0.094, 0.01, "wave"),
      verdict: "yes",
      probability: 0.9999,
      whose: "demo",
    },
  ] as const;
  const shown = verdictBar({
    results,
    goal: 0.25,
    title: "Wavefront, peak to valley (wave)",
    digits: 3,
  });
  assertFigure(shown, {
    titles: [
      /^goal 0\.250$/,
      /^no, P < 0\.01$/,
      /^not shown, P 0\.78$/,
      /^yes, P > 0\.99$/,
      /^Wavefront, peak to valley \(wave\)$/,
    ],
    says: /0\.237, interval 0\.208 to 0\.268: not shown, P 0\.78/,
  });
  assertFigure(verdictBar({ results: [], goal: 0.25, title: "Wavefront (wave)", digits: 2 }), {
    says: /No result yet/,
  });
  assert.throws(
    () => verdictBar({ results, goal: 0, title: "x", digits: 1 }),
    /goal above 0, got goal=0/,
  );
});

Deno.test("the path says each stage’s state in words, and links nowhere but to pages beside it", () => {
  const { html, text } = timeline([
    {
      number: 1,
      name: nasty,
      state: "done",
      got: measured(1.169, 0.004, "mm"),
      from: nasty,
      href: `${stemOf("measure-curve")}.html#yours`,
    },
    { number: 2, name: "b", state: "here", href: "javascript:alert(1)" },
    { number: 3, name: "c", state: "ahead", href: "//elsewhere.example/x.html" },
  ]);
  assertWellFormed(html);
  const document = parsed(html);
  assert.deepEqual([...document.querySelectorAll("a")].map((a) => a.getAttribute("href")), [
    `${stemOf("measure-curve")}.html#yours`,
  ]);
  assert.deepEqual(
    [...document.querySelectorAll("li")].map((li) => li.getAttribute("class") || null),
    [
      null,
      "here",
      "ahead",
    ],
  );
  assert.equal(
    document.querySelector('[aria-current="step"]')?.querySelector(".num")?.textContent,
    "2",
  );
  assert.equal([...document.querySelectorAll("script")].length, 0);
  assert.match(text, /2 b, here now\n3 c, still ahead/);
  assert.throws(() => timeline([]), RangeError);
  assert.throws(
    () =>
      timeline([{ number: 0, name: "a", state: "here" }, { number: 1, name: "b", state: "here" }]),
    /at most one of them here, got 2 and 2/,
  );
});

Deno.test("any plausible readings give a sound figure, the same each time", () => {
  const reading = fc.record({
    minutes: fc.double({ min: 0, max: 500, noNaN: true }),
    sagitta: fc.double({ min: -0.1, max: 5, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(reading, { maxLength: 8 }), (readings) => {
      const shown = sagittaAgainstTime({ aperture: 150, readings, target: 1.172 });
      assertFigure(shown);
      assert.equal(sagittaAgainstTime({ aperture: 150, readings, target: 1.172 }).html, shown.html);
    }),
    { numRuns: 8 },
  );
});

Deno.test("a cell's own plot: marks of Observable Plot at both widths, its sentence below, no script of a stranger", () => {
  const rows = [{ minutes: 20, depth_mm: 0.2 }, { minutes: 40, depth_mm: 0.39 }];
  const { html, text } = plotted(`Two depths ${nasty}`, {
    marks: [Plot.dot(rows, { x: "minutes", y: "depth_mm", fx: () => nasty })],
  });
  assertWellFormed(html);
  assert.equal(html.match(/<svg/g)?.length, 2);
  assert.equal(parsed(html).querySelector("script, style"), null);
  assert.match(html, /depth_mm/);
  assert.equal(text, `Two depths ${nasty}`);
});

Deno.test("a cell's own plot of a table without rows is drawn; a row without a number is left out", () => {
  const of = (...depths: readonly (number | null)[]): string =>
    plotted("Depths.", { marks: [Plot.dot(depths, { x: (_, i) => i, y: (depth) => depth })] }).html;
  assertWellFormed(of());
  assert.doesNotMatch(of(), /<circle/);
  assert.equal(of(1, null, 2).match(/<circle/g)?.length, 4); // DERIVED: two dots at each of two widths
});
