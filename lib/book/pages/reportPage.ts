/** The mirror's report: one sheet from the summary, with what it says, how surely, and what it does not say. */
import { decisionScale } from "../../figures/decide.ts";
import { surfaceFromAbove } from "../../figures/drawings/surfaceFromAbove.ts";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { surfaceProfile } from "../../figures/plots/surfaceProfile.ts";
import { type MethodBar, threeMethods } from "../../figures/plots/threeMethods.ts";
import type { FigureSummary, Q, Summary, VerdictSummary } from "../../knowledge/summaryTypes.ts";
import { verdictNotes } from "../../knowledge/tellVerdict.ts";
import { runsOf, zoneMeasurements } from "../../knowledge/glassWork.ts";
import { methodTitle } from "../../measuring/methods/methods.ts";
import { pageInInches } from "../../quantity/inches.ts";
import type { Measured } from "../../quantity/measured.ts";
import type { Settings } from "../../record/types.ts";
import { masksOf, openingsOf as maskOpenings } from "../../stages/zones.ts";
import type { Opening } from "../../testing/zones/openings.ts";
import { wasWritten } from "../../record/readings.ts";
import { type BookFacts, bound, counted, dayOf, depthNow, plainNumber, told } from "./facts.ts";
import { edge, plainBar, printsAtFullSize, shell } from "./shell.ts";
import { figureOf, knownQuantities } from "../../knowledge/quantities.ts";
import { probabilityText, scopeOf } from "./status.ts";

/** A fraction of a wave as makers say it: 1/11. */
function fractionOf(waves: number): string {
  if (waves < 0.001) return "less than 1/1000";
  return waves >= 0.75 ? plainNumber(waves, 2) : `1/${Math.max(2, Math.floor(1 / waves))}`;
}

/** Of the glass, peak to valley, in parts of a wave: both ends of its 95 % interval outward, or the value and that its doubt is not known. */
function spanOf(figure: FigureSummary, { goal: { wavelength } }: Settings): string {
  // light goes down to the glass and comes back: half the wavefront
  const ends = figure.interval95?.wavefrontPv.map((waves) => waves / 2);
  const [low, high] = ends ?? [];
  if (low === undefined || high === undefined) {
    return `${
      fractionOf((figure.surfacePv?.value ?? NaN) / wavelength)
    } of a wave, nobody knows how surely`;
  }
  const least = low < 0.001
    ? "nothing"
    : low >= 0.75
    ? plainNumber(low, 2)
    : `1/${Math.ceil(1 / low)}`;
  return `between ${least} and ${fractionOf(high)} of a wave (95 %)`;
}

/** What the verdict comes to, in one sentence: the glass, peak to valley, how surely, and what was wanted. */
function headline(
  judged: VerdictSummary,
  figure: FigureSummary | undefined,
  settings: Settings,
): string {
  if (figure?.surfacePv === undefined) return bound(judged.why);
  const wanted = fractionOf(settings.goal.surfaceWaves), span = spanOf(figure, settings);
  const glass = judged.scope === "whole surface"
    ? "the glass, peak to valley"
    : "along the one diameter that was judged the glass, peak to valley";
  return {
    "yes": `${glass.slice(0, 1).toUpperCase()}${glass.slice(1)}: ${span}; ${wanted} was wanted.`,
    "no": `Not good enough; ${glass}: ${span}, where ${wanted} is allowed.`,
    "not shown": `The readings do not settle it; ${glass}: ${span}, where ${wanted} is allowed.`,
  }[judged.meetsGoal];
}

/** The sentence of the 95 % interval, where there is one. */
function intervalOf(figure: FigureSummary | undefined): string {
  const ends = figure?.interval95?.wavefrontPv;
  if (ends === undefined) return "";
  return `Wavefront between ${ends[0].toFixed(3)} and ${ends[1].toFixed(3)} wave (95 %). `;
}

function verdict({ summary, record: { settings } }: BookFacts): Html {
  const { verdict: judged } = summary;
  const { surfaceWaves, wavelength } = settings.goal;
  const goal = `${plainNumber(surfaceWaves * wavelength, 2)} nm (${
    fractionOf(surfaceWaves)
  } wave at ${plainNumber(wavelength)} nm)`;
  if (judged === undefined) {
    return safe`<section class="verdict" aria-label="Verdict">
<p class="word">Not yet</p>
<div><p>The surface has not been tested, so nothing is said about how good it is.</p>
<p>Wanted: glass within ${bound(goal)}, peak to valley.</p></div>
</section>`;
  }
  const figure = figureOf(summary);
  const surface = figure?.surfacePv;
  const word = judged.meetsGoal.charAt(0).toUpperCase() + judged.meetsGoal.slice(1);
  return safe`<section class="verdict" aria-label="Verdict">
<p class="word">${word}</p>
<div><p>${headline(judged, figure, settings)}</p>
<p>${surface && safe`Glass peak to valley ${told(surface)} against a goal of ${bound(goal)}. `}${
    intervalOf(figure)
  }Probability that the goal is met, by these readings of ${scopeOf(judged)}: ${
    probabilityText(judged.probability)
  }.</p></div>
</section>`;
}

type Row = readonly [name: string, found: Q, wanted: string];

/** Found beside wanted, for what is known: the readings' quantities, or the plan's where there are none yet. */
function rows({ summary, record: { settings } }: BookFacts, planned: boolean): Row[] {
  const groups = planned ? ["plan"] as const : ["curve", "grinding", "figure"] as const;
  return knownQuantities(summary, "report", groups).map((quantity) => {
    const { title, value, wanted, wantedDigits, atMost } = quantity;
    const goal = wanted?.(summary, settings);
    const said = goal === undefined
      ? ""
      : `${atMost ? "≤ " : ""}${plainNumber(goal, wantedDigits)}`;
    return [title, value, said];
  });
}

function table(parts: BookFacts): Html {
  const found = rows(parts, false);
  if (found.length === 0) {
    return safe`<h2>What is planned</h2>
<table>
<thead><tr><th scope="col">Quantity</th><th scope="col" class="n">Wanted</th></tr></thead>
<tbody>
${
      rows(parts, true).map(([name, q]) =>
        safe`<tr><th scope="row">${name}</th><td class="n">${told(q)}</td></tr>
`
      )
    }</tbody></table>`;
  }
  return safe`<h2>What was measured</h2>
<table>
<thead><tr><th scope="col">Quantity</th><th scope="col" class="n">Found</th><th scope="col" class="n">Wanted</th></tr></thead>
<tbody>
${
    found.map(([name, q, wanted]) =>
      safe`<tr><th scope="row">${name}</th><td class="n">${told(q)}</td><td class="n">${
        withUnit(wanted, q, parts)
      }</td></tr>
`
    )
  }</tbody></table>`;
}

/** What is wanted, with its unit where a plain number would be taken for the inches beside it. */
function withUnit(wanted: string, { unit }: Q, { record }: BookFacts): string {
  return record.settings.shownIn === "inch" && unit === "mm" && wanted !== ""
    ? `${wanted}\u00a0mm`
    : wanted;
}

/** When the surface was tested, in how many runs, through which mask, and how far that reaches; nothing without a test. */
function testOf({ summary, record }: BookFacts): Html | undefined {
  const last = zoneMeasurements(record).at(-1), { verdict: judged } = summary;
  const photos = summary.figure?.photos?.length ?? 0;
  const scope = judged && `, scope: ${scopeOf(judged)}`;
  if (last === undefined) {
    const days = [...new Set(record.ronchi.flatMap(({ date }) => date ?? []))].sort();
    return photos === 0
      ? undefined
      : safe`<p class="kicker">Tested${
        days.length > 0 && ` ${days.at(0)}${days.length > 1 ? ` to ${days.at(-1)}` : ""}`
      } by ${counted(photos, "photograph")} through a grating${scope}.</p>`;
  }
  const { dates, rows } = last, runs = runsOf(last).length;
  const days = dates.length === 0
    ? ""
    : ` ${dates[0]}${dates.length > 1 ? ` to ${dates.at(-1)}` : ""}`;
  const masks = masksOf(rows).map((mask) => edgesSaid(maskOpenings(mask)));
  const through = `${masks.length === 1 ? "mask" : "masks"} ${masks.join("; ")} mm from the centre`;
  return safe`<p class="kicker">${
    bound(`Tested${days}: ${counted(runs, "run")}, ${through}${scope ?? ""}.`)
  }</p>`;
}

/** A mask by its edges, where its openings adjoin; else by each opening. */
function edgesSaid(openings: readonly Opening[]): string {
  const adjoin = openings.every(({ inner }, at) => at === 0 || inner === openings[at - 1]?.outer);
  const edges = [openings[0]?.inner ?? 0, ...openings.map(({ outer }) => outer)];
  return adjoin
    ? edges.map((one) => plainNumber(one)).join(", ")
    : openings.map(({ inner, outer }) => `${plainNumber(inner)} to ${plainNumber(outer)}`)
      .join(", ");
}

/** What the nights came to, in one line: numbers and their doubts; nothing where nothing was seen. */
function nightsOf({ record, nights = [] }: BookFacts): Html | undefined {
  const days = record.observations.map(({ date }) => date).sort(), [first] = days;
  if (first === undefined) return undefined;
  const short = nights.flatMap((one) => one.short ?? []);
  const told = short.length === 0 ? "" : `: ${short.join("; ")}`;
  return safe`<p class="kicker">${bound(`Under the sky since ${first}${told}.`)}</p>`;
}

/** Who measured is not in the record: whoever did writes it here and answers for it. */
const signing =
  safe`Measured by ______________________ on ______________ signed ______________________`;

/** A step with its first sentence in bold. */
function firstBold(text: string): Html {
  const end = text.search(/[.;](\s|$)/) + 1;
  return end > 0 ? safe`<b>${text.slice(0, end)}</b>${text.slice(end)}` : safe`<b>${text}</b>`;
}

/** Where the depth stands, while the glass is ground. */
function depth(summary: Summary): Html | undefined {
  const scale = standing(summary);
  return scale && safe`<h2>Where the depth stands</h2>
${scale}`;
}

/** How many limits fit on the sheet. */
const most = 5;

function isWhole({ verdict }: Summary): boolean {
  return verdict?.scope === "whole surface";
}

/** A sentence that began in the middle of a line. */
function asSentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}

/** What the sheet does not say: what was not looked for, what was set aside, what is unlikely. */
export function limitsOf(summary: Summary): Html[] {
  const { curve, figure, warnings } = summary;
  const refusedPhotos = figure?.photos?.filter((photo) => photo.refused !== undefined) ?? [];
  const all: (Html | false | undefined)[] = [
    curve !== undefined && curve.radius === undefined &&
    safe`Every table of the curve holds a slip, so its radius rests on nothing yet.`,
    curve === undefined &&
    safe`Neither depth nor focal length has been measured: the curve is the plan’s.`,
    ...verdictNotes(summary).filter(([label]) => label !== "scope" || !isWhole(summary)).map((
      [, text],
    ) => safe`${bound(asSentence(text))}`),
    curve?.mistake && safe`<code>${curve.mistake.file}</code> was left out: ${curve.mistake.what}`,
    curve?.oddOne && safe`One method stands apart from the others: ${curve.oddOne}.`,
    ...(curve?.setAside ?? []).map(({ file, line, value, why }) =>
      safe`One reading was set aside and kept in the file: <code>${file}</code>, line ${line}, ${
        plainNumber(value)
      } mm: ${why}`
    ),
    ...(curve?.estimates ?? []).filter(({ used, method }) => !used && method !== curve?.oddOne)
      .map(
        ({ method, radius }) =>
          safe`One estimate of the radius was left out: ${method}, ${told(radius)}.`,
      ),
    ...refusedPhotos.map(({ photo, refused }) =>
      safe`The photograph <code>${photo ?? ""}</code> could not be used: ${refused}`
    ),
    ...warnings.map(({ file, line, message }) =>
      safe`${
        file !== undefined && safe`<code>${file}</code>${line !== undefined && `, line ${line}`}: `
      }${message}`
    ),
    figure === undefined &&
    safe`No test of the surface was read: the sheet is silent on its quality.`,
  ];
  const limits = all.filter((limit): limit is Html => limit !== false && limit !== undefined);
  const left = limits.length - most;
  return left > 0
    ? [
      ...limits.slice(0, most),
      safe`And ${counted(left, "thing")} more, in <code>summary.json</code>.`,
    ]
    : limits;
}

/**
 * The report as one page, one sheet on paper; works for a record without figure, without curve, without anything.
 */
export function reportPage(parts: BookFacts): string {
  const { summary, record: { settings }, builtOn } = parts;
  const { design, nextStep: step } = summary;
  const scale = printsAtFullSize(settings.aperture)
    ? "printed at 100 % it is at full size"
    : "drawn to scale, smaller than the mirror";
  const limits = limitsOf(summary), above = fromAbove(parts);
  const assumed = (key: string): string => wasWritten(parts.record, key) ? "" : " (assumed)";
  const page = shell({
    title: `Report: ${summary.title} · First Mirror`,
    description: "One mirror on one sheet: measured values, surface, verdict, next step.",
    kind: "report",
    header: safe`${plainBar(false, parts.isAlone)}
<div class="title">
<p class="kicker">The mirror’s report · ${dayOf(builtOn)}</p>
<h1>${summary.title}</h1>
</div>
${edge({ aperture: settings.aperture, depth: depthNow(summary).depth })}
<p class="dims">${plainNumber(settings.aperture)} mm f/${
      plainNumber(design.focalRatio, 2)
    }, ${settings.glass} glass${assumed("glass")}, ${plainNumber(settings.thickness)} mm thick${
      assumed("thickness")
    }. The line is the mirror’s own curve; ${scale}.${
      settings.shownIn === "inch" && " Axes of the drawings are in millimetres."
    }</p>`,
    main: safe`${verdict(parts)}
${above === undefined && profile(parts)}
<div class="two">
<div>
${above !== undefined && profile(parts)}
${table(parts)}
${testOf(parts)}
${above !== undefined && methodsInWords(summary)}
${depth(summary)}
</div>
<div>
${
      above === undefined ? methods(summary) : safe`<h2>From above</h2>
${above}`
    }
<section class="next"><h2>Next step</h2>
<p class="mind"><b>Mind first:</b> ${bound(step.caution)}</p>
<p>${firstBold(bound(step.do))}</p>
<p class="kicker">Until ${bound(step.until)}${
      step.why !== summary.verdict?.why && ` ${bound(step.why)}`
    }</p></section>
${nightsOf(parts)}
</div>
</div>
${
      limits.length > 0 && safe`<h2>What this sheet does not say</h2>
<ul class="limits">${limits.map((limit) => safe`<li>${limit}</li>`)}</ul>`
    }`,
    footer:
      safe`<p>${signing}<br>Uncertainties are standard ones (one sigma). Every figure again: <code>deno task check ${summary.record}</code>. First Mirror ${summary.kitVersion}.</p>`,
  });
  return settings.shownIn === "inch" ? pageInInches(page) : page;
}

// The figures of the front and of the report, from the summary: where you stand, the ways to the radius, the profile.

const measuredOf = ({ value, u = 0, dof = Infinity, unit }: Q): Measured => ({
  value,
  u,
  dof,
  unit,
});

/** Ends of the 95 % interval by the usual factor of two; for a bar beside a scale. */
function around({ value, u }: Q): readonly [number, number] | undefined {
  return u === undefined || u === 0 ? undefined : [value - 2 * u, value + 2 * u];
}

/**
 * Where the depth stands between nothing and too deep; nothing once the surface has been tested, or before any reading.
 */
export function standing(summary: Summary): Html | undefined {
  const { grinding, design, figure } = summary;
  if (grinding === undefined || figure !== undefined) return undefined;
  const target = grinding.targetSagitta.value, now = grinding.sagittaNow;
  const stop = grinding.stopAt?.value ?? target;
  const hasStop = stop < target * 0.998 && stop > 0 && now.value < target;
  const interval = around(now);
  // near the target the scale begins late, so that what is left can be seen
  const isNear = now.value > 0.8 * target;
  return trusted(
    decisionScale({
      from: isNear ? roundDown(0.7 * target) : 0,
      to: Math.max(target * (isNear ? 1.08 : 1.2), now.value * 1.04),
      title: `Sagitta at the full ${plainNumber(design.aperture.value)} mm (mm)`,
      digits: 3,
      zones: [
        { name: "go on", to: hasStop ? stop : target, limit: true, tone: "before" },
        ...(hasStop ? [{ name: "stop", to: target, tone: "wanted" as const }] : []),
        { name: "too deep", tone: "past" },
      ],
      value: now.value,
      ...(interval === undefined ? {} : { interval }),
    }).html,
  );
}

/** To a tenth of a millimetre below. */
function roundDown(mm: number): number {
  return Math.floor(mm * 10) / 10;
}

/** The ways to one radius beside one another; nothing without an estimate. */
export function methods({ curve, design }: Summary): Html | undefined {
  if (curve === undefined) return undefined;
  const shown = curve.estimates.filter(({ method, used }) => used || curve.oddOne === method);
  const bars: MethodBar[] = shown.map(({ method, radius }) => ({
    name: methodTitle(method),
    value: measuredOf(radius),
    odd: curve.oddOne === method,
  }));
  if (bars.length === 0) return undefined;
  const count =
    ["No way", "One way", "Two ways", "Three ways", "Four ways", "Five ways"][bars.length];
  const drawn = threeMethods({
    bars,
    ...(curve.consistent && curve.radius ? { together: measuredOf(curve.radius) } : {}),
    wanted: design.radius.value,
    title: "Radius of curvature (mm)",
    ...(curve.birgeRatio === undefined ? {} : { birgeRatio: curve.birgeRatio }),
  });
  return safe`<h2>${count ?? "Several ways"} to one radius</h2>
${trusted(drawn.html)}`;
}

/** The same ways in one line, where the sheet has no room for their drawing; nothing without an estimate. */
export function methodsInWords({ curve }: Summary): Html | undefined {
  const used = curve?.estimates.filter((estimate) => estimate.used) ?? [];
  if (curve === undefined || used.length === 0) return undefined;
  const each = used.map(({ method, radius }, i) =>
    safe`${i > 0 && ", "}${methodTitle(method).replace(/^(?!Sun)./, (a) => a.toLowerCase())} ${
      told(radius)
    }`
  );
  const agree = used.length > 1 && (curve.consistent ? "; they agree" : "; they do not agree");
  return safe`<p class="kicker">Radius of curvature by ${each}${agree}.</p>`;
}

/** Openings of the mask the zones were read through, each once, from the centre outwards. */
function openingsOf({ zones }: BookFacts["record"]): { inner: number; outer: number }[] {
  const all = new Map(zones.map(({ inner, outer }) => [`${inner} ${outer}`, { inner, outer }]));
  return [...all.values()].sort((a, b) => a.inner - b.inner);
}

/** The surface from above; nothing where one diameter was read, or the figure is a photograph's. */
export function fromAbove(
  { summary, record }: Pick<BookFacts, "summary" | "record">,
): Html | undefined {
  const zones = summary.figure?.zones, { astigmatism, profile: points = [] } = zones ?? {};
  if (astigmatism === undefined || points.length < 2) return undefined;
  const flat = summary.telescope?.flatMinorAxis?.value;
  const drawn = surfaceFromAbove({
    profile: points.map(({ radius, surfaceError: height }) => ({ radius, height })),
    astigmatism: {
      amplitude: measuredOf(astigmatism.amplitude),
      axis: measuredOf(astigmatism.axis),
      interval95: astigmatism.interval95,
    },
    wanted: record.settings.goal.shape === "sphere" ? "sphere" : "paraboloid",
    isCompact: true,
    ...(zones?.surfacePv && { pv: measuredOf(zones.surfacePv) }),
    ...(flat === undefined ? {} : { shadowRadius: flat / 2 }),
  });
  return trusted(drawn.html);
}

/** The profile of the glass with its band and the goal; nothing where the surface has not been tested. */
export function profile(
  { summary, record }: Pick<BookFacts, "summary" | "record">,
): Html | undefined {
  const figure = figureOf(summary);
  const points = figure?.profile ?? [];
  if (figure === undefined || points.length < 2) return undefined;
  const isZones = figure === summary.figure?.zones;
  const openings = isZones ? openingsOf(record) : [];
  const { surfaceWaves, wavelength } = record.settings.goal;
  const drawn = surfaceProfile({
    points: points.map(({ radius, surfaceError: height, u }) => ({ radius, height, u })),
    goal: surfaceWaves * wavelength,
    ...(openings.length > 0 && { openings }),
    ...(isZones && figure.astigmatism
      ? { meanOf: figure.diameters ?? 2 }
      : figure.surfacePv && { pv: measuredOf(figure.surfacePv) }),
    ...(figure.reference && { wanted: figure.reference }),
  });
  return safe`<h2>The surface, from ${isZones ? "the zones" : "a photograph"}</h2>
${trusted(drawn.html)}`;
}
