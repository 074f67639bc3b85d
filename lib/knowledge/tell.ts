/** A summary in plain lines, as `deno task check` prints it. */
import type { Observed } from "./observed.ts";
import { type Group, knownQuantities, labelOf } from "./quantities.ts";
import type {
  CurveSummary,
  DirectedSummary,
  FigureSummary,
  KnifeSummary,
  PartedSummary,
  Q,
  StarPairSummary,
  Summary,
} from "./summaryTypes.ts";
import { tellQ } from "./tellQ.ts";
import { astigmatismSaid, budgetSaid, verdictNotes } from "./tellVerdict.ts";

type Line = readonly [label: string, text: string];

/** A group's quantities that `check` tells, in one line. */
function inOneLine(summary: Summary, group: Group): string {
  return knownQuantities(summary, "check", [group])
    .map((quantity) => `${labelOf(quantity)} ${tellQ(quantity.value, quantity.digits)}`).join(", ");
}

/** A group's quantities that `check` tells, a line each, with their intervals. */
function eachInALine(summary: Summary, group: Group): Line[] {
  return knownQuantities(summary, "check", [group]).map((quantity) => {
    const { value, digits, interval } = quantity, ends = interval?.(summary);
    const places = value.unit === "nm" ? 0 : 3;
    const range = ends && ` (95 %: ${ends[0].toFixed(places)} to ${ends[1].toFixed(places)})`;
    return [labelOf(quantity), `${tellQ(value, digits)}${range ?? ""}`];
  });
}

function designLines(summary: Summary): Line[] {
  const { design } = summary;
  const shape = design.sphereIsEnough
    ? "a sphere is enough"
    : `a sphere is not enough: a paraboloid, ${tellQ(design.sphereDeparture, 0)} away at the edge`;
  return [
    ["wanted", inOneLine(summary, "plan")],
    ["shape", shape],
  ];
}

/** What the methods give together; nothing where no table is left to rest on. */
function togetherLines(summary: Summary, curve: CurveSummary): Line[] {
  if (curve.radius === undefined) return [];
  const agree = curve.birgeRatio === undefined
    ? ""
    : `; the methods ${curve.consistent ? "agree" : "disagree"} (Birge ratio ${
      curve.birgeRatio.toFixed(2)
    })`;
  const odd = curve.oddOne === undefined ? "" : `; the odd one is the ${curve.oddOne}`;
  return [[
    "together",
    `${inOneLine(summary, "curve")}${agree}${odd}`,
  ]];
}

function curveLines(summary: Summary): Line[] {
  const { curve } = summary;
  if (curve === undefined) return [];
  const each = curve.estimates.map((estimate): Line => {
    const aside = estimate.setAside > 0 ? `, ${estimate.setAside} set aside` : "";
    const unused = estimate.used ? "" : ", not used";
    return [
      estimate.method,
      `radius ${tellQ(estimate.radius)} from ${estimate.readings} reading${
        estimate.readings === 1 ? "" : "s"
      }${aside}${unused}`,
    ];
  });
  return [
    ...each,
    ...togetherLines(summary, curve),
    ...(curve.astigmatism === undefined
      ? []
      : [["diameters", `differ by ${tellQ(curve.astigmatism)} of sagitta`] as const]),
    ...curve.setAside.map((row): Line => [
      "set aside",
      `${row.file}, line ${row.line}: ${Number(row.value.toFixed(4))} (${row.why})`,
    ]),
  ];
}

function grindingLines(summary: Summary): Line[] {
  const { grinding } = summary;
  if (grinding === undefined) return [];
  const lines: Line[] = [];
  const { mirrorOnTop: top, toolOnTop: bottom } = grinding.rates;
  if (top !== undefined) lines.push(["mirror on top", `deepens by ${tellQ(top)}`]);
  if (bottom !== undefined) lines.push(["tool on top", `flattens by ${tellQ(bottom)}`]);
  lines.push([
    "sagitta now",
    `${tellQ(grinding.sagittaNow, 3)}, wanted ${tellQ(grinding.targetSagitta, 3)}`,
  ]);
  lines.push(...eachInALine(summary, "grinding"));
  if (grinding.minutesToTarget !== undefined) {
    const [low, high] = grinding.interval95 ?? [];
    const interval = low === undefined || high === undefined
      ? ""
      : ` (95 %: ${low.toFixed(1)} to ${high.toFixed(1)} min)`;
    lines.push([
      "to the target",
      `${tellQ(grinding.minutesToTarget)}${interval}, ${grinding.nextPosition}`,
    ]);
  } else if (!grinding.canForecast) {
    lines.push(["forecast", "cannot tell yet from these readings"]);
  }
  return lines;
}

/** What a summary tells of one of its figures, as if it were the only one. */
function figureLines(
  summary: Summary,
  figure: FigureSummary | undefined,
  name: string,
): Line[] {
  if (figure === undefined) return [];
  if (figure.refused !== undefined) return [[name, `not used: ${figure.refused}`]];
  const lines = eachInALine({ ...summary, figure: { zones: figure } }, "figure");
  if (figure.astigmatism !== undefined) lines.push(["astigmatism", astigmatismSaid(figure)]);
  const budget = budgetSaid(figure);
  if (budget !== "") lines.push(["doubt from", budget]);
  return lines;
}

/** What a summary tells of one sitting of photographs behind the knife. */
function knifeLines(series: KnifeSummary): Line[] {
  if (series.refused !== undefined) return [["knife", `not used: ${series.refused}`]];
  const { surfacePv, surfaceRms, conic, astigmatism, interval95, seats = 1 } = series;
  if (
    surfacePv === undefined || surfaceRms === undefined || conic === undefined ||
    interval95 === undefined
  ) {
    return [[
      "knife",
      "one direction: the surface along it is known, not the whole; take as many with knife and slit turned by 90°",
    ]];
  }
  const range = ([low, high]: readonly [number, number], digits: number): string =>
    `(95 %: ${low.toFixed(digits)} to ${high.toFixed(digits)})`.replaceAll("-", "−");
  const whose = seats > 1 ? "" : "; mirror and stand together until the mirror is turned";
  return [
    ["P-V of the glass", `${tellQ(surfacePv, 0)} ${range(interval95.surfacePv, 0)}`],
    ["RMS", `${tellQ(surfaceRms)} ${range(interval95.surfaceRms, 1)}`],
    ["conic", `${tellQ(conic)} ${range(interval95.conic, 2)}`],
    ...(astigmatism === undefined
      ? []
      : [["astigmatism", `${astigmatismSaid({ astigmatism })}${whose}`] as const]),
  ];
}

/** What a summary tells of one pair of star photographs, as if it were the only one. */
function starLines(summary: Summary, pair: StarPairSummary): Line[] {
  if (pair.refused !== undefined) return [["star", `not used: ${pair.refused}`]];
  const lines = eachInALine({ ...summary, star: { pairs: [pair] } }, "star");
  const seeing = pair.seeing?.map((q) => tellQ(q)).join(" and ");
  if (seeing !== undefined) lines.push(["blur by the air", seeing]);
  for (const says of ["there", "not there", "cannot tell"] as const) {
    const own = (pair.faults ?? []).filter((one) => one.says === says);
    if (own.length > 0) lines.push([says, own.map(({ fault }) => fault).join(", ")]);
  }
  for (const { fault, causes, act } of pair.faults ?? []) {
    if (causes === undefined || act === undefined) continue;
    lines.push([`${fault}:`, `${causes.join(", or ")}; ${act}`]);
  }
  return lines;
}

/** Zones, bands and star together. */
function surfaceLines({ figure }: Summary): Line[] {
  if (figure?.together === undefined) return [];
  const { spherical, conic, astigmatism, tests, birgeRatio, consistent, oddOne, next } =
    figure.together;
  const odd = oddOne === undefined ? "" : `; the odd one is the test by ${oddOne}`;
  return [
    ...tests.map(({ test, spherical: own, weight }): Line => [
      test,
      `spherical ${tellQ(own)}, has ${(100 * weight).toFixed(0)} % of the say`,
    ]),
    [
      "together",
      `spherical ${tellQ(spherical)}, conic ${tellQ(conic)}; the tests ${
        consistent ? "agree" : "disagree: find the cause before averaging"
      } (Birge ratio ${birgeRatio.toFixed(2)})${odd}`,
    ],
    ...(astigmatism === undefined ? [] : [
      [
        "astigmatism",
        `${tellQ(astigmatism.amount)} (95 %: ${astigmatism.interval95[0].toFixed(3)} to ${
          astigmatism.interval95[1].toFixed(3)
        })`,
      ] as const,
    ]),
    [
      "most for its time",
      `once more by ${next.test}, ${next.minutes.value} min: the doubt would be ${
        next.u.value.toFixed(3)
      } wave`,
    ],
  ];
}

/** What turned with the mirror and what stayed, where it was turned between pairs. */
function partedLines(parted: PartedSummary | undefined): Line[] {
  const { mirror, rest } = parted ?? {};
  const said = (fault: DirectedSummary | undefined, from: string): string | undefined =>
    fault &&
    `${tellQ(fault.amount)} (95 %: ${fault.interval95[0].toFixed(3)} to ${
      fault.interval95[1].toFixed(3)
    })${fault.interval95[0] > 0 ? `, ahead ${fault.axis.value.toFixed(0)}° from ${from}` : ""}`;
  return [
    ["astigmatism", said(mirror?.astigmatism, "the mark"), said(rest?.astigmatism, "the top")],
    ["threefold", said(mirror?.threefold, "the mark"), said(rest?.threefold, "the top")],
    ["fourfold", said(mirror?.fourfold, "the mark"), said(rest?.fourfold, "the top")],
  ].flatMap(([name = "", own, other]): Line[] =>
    own === undefined || other === undefined
      ? []
      : [[name, `the mirror’s ${own}`], ["", `what stays ${other}`]]
  );
}

function block(title: string, lines: readonly Line[]): string[] {
  if (lines.length === 0) return [];
  return ["", title, ...lines.map(([label, text]) => `  ${label.padEnd(15)} ${text}`)];
}

/** A long text with each sentence, and each stroke of a session, on a line of its own. */
function sentences(label: string, text: string): Line[] {
  const parts = text.length < 120 ? [text] : text.split(/(?<=\.) (?=[A-Z])|(?<=;) /);
  return parts.map((part, i) => [i === 0 ? label : "", part]);
}

/**
 * What is known of a mirror, how surely, and the next step, in plain lines.
 *
 * @param summary   everything worked out from a record
 * @param defaults  sentences on values that were not written and were taken as usual
 * @param nights    what observations came to, as `observed` gives it
 * @returns lines without colour codes, ready to print
 */
export function tell(
  summary: Summary,
  defaults: readonly string[] = [],
  nights: readonly Observed[] = [],
): string[] {
  const { design, verdict } = summary;
  const photos = (summary.figure?.photos ?? []).flatMap((photo) =>
    block(
      `Surface, from ${photo.photo ?? "a photograph"}`,
      figureLines(summary, photo, "photograph"),
    )
  );
  const stars = (summary.star?.pairs ?? []).flatMap((pair) =>
    block(`Whole telescope, from ${pair.photos.join(" and ")}`, starLines(summary, pair))
  );
  const knives = (summary.figure?.knife ?? []).flatMap((series) =>
    block(
      `Whole surface, from ${series.photos.length} photographs behind the knife`,
      knifeLines(series),
    )
  );
  const verdictLines: Line[] = verdict === undefined
    ? []
    : [["meets the goal", verdict.meetsGoal], ["why", verdict.why], ...verdictNotes(summary)];
  return [
    `${summary.title}  (${summary.record})`,
    `${tellQ(design.aperture)} aperture, f/${Number(design.focalRatio.toFixed(2))}`,
    ...block("Design", designLines(summary)),
    ...block("Curve", curveLines(summary)),
    ...block("Grinding", grindingLines(summary)),
    ...block("Surface, from the zones", figureLines(summary, summary.figure?.zones, "zones")),
    ...photos,
    ...knives,
    ...stars,
    ...block("Turned with the mirror, and what stayed", partedLines(summary.star?.parted)),
    ...block(
      "By the bands: turned with the mirror, and what stayed in the stand",
      partedLines(summary.figure?.parted),
    ),
    ...block("All tests of the surface together", surfaceLines(summary)),
    ...block("Verdict", verdictLines),
    ...block("Telescope", telescopeLines(summary)),
    ...block("Coating and sky", coatingAndSkyLines(summary)),
    ...block(
      "Nights",
      nights.map(({ project, says, short, decided }): Line => [
        project,
        short === undefined || decided === undefined
          ? says
          : `${short}. ${decided.asked} ${decided.answer}`,
      ]),
    ),
    ...block(
      "Look at this",
      summary.warnings.map(({ file, line, message }): Line => [
        file === undefined ? "" : line === undefined ? file : `${file}:${line}`,
        message,
      ]),
    ),
    ...block("Taken as usual", defaults.map((sentence): Line => ["", sentence])),
    ...nextStepLines(summary),
  ];
}

/** The next step under its stage, as the last lines of `check`. */
export function nextStepLines({ nextStep: next }: Pick<Summary, "nextStep">): string[] {
  return block(`Next step: ${next.stage}`, [
    ...sentences("caution", next.caution),
    ...sentences("do", next.do),
    ["until", next.until],
    ["why", next.why],
  ]);
}

function told({ value, unit }: Q, digits = 1): string {
  return `${String(Number(value.toFixed(digits))).replace("-", "−")} ${unit}`;
}

/** The layout, the flat, the alignment and the balance, as far as the record says. */
export function telescopeLines({ telescope }: Summary): Line[] {
  if (telescope === undefined) return [];
  const t = telescope, lines: Line[] = [["built for", `focal length ${told(t.focalLength)}`]];
  const add = (label: string, parts: readonly (string | undefined)[]): void => {
    const said = parts.filter((part) => part !== undefined);
    if (said.length > 0) lines.push([label, said.join(", ")]);
  };
  const q = (before: string, quantity: Q | undefined, digits = 1): string | undefined =>
    quantity === undefined ? undefined : `${before} ${told(quantity, digits)}`;
  add("flat", [
    q("needed", t.flatMinorAxisNeeded),
    q("taken", t.flatMinorAxis),
    q("hole at", t.flatFromVertex),
    q("offset each way", t.flatOffset, 2),
  ]);
  add("field", [
    q("fully lit", t.fullyLitField),
    t.obstructionByArea === undefined
      ? undefined
      : `${(100 * t.obstructionByArea).toFixed(1)} % of the light blocked`,
    q("tube bore", t.tubeBoreNeeded),
  ]);
  add("cell", [
    q("three points at", t.supportRadius),
    q("sag", t.supportSurfaceRmsThick),
    q("time constant", t.coolDown, 0),
  ]);
  add("alignment", [
    q("a turn moves a star", t.starShiftPerTurn),
    t.screwTurns === undefined
      ? undefined
      : `turns wanted ${t.screwTurns.map((turn) => turn.toFixed(2).replace("-", "−")).join(" ")}`,
    q("axis within", t.comaFreeRadius, 2),
  ]);
  add("balance", [
    q("at", t.balancePoint),
    q("mass", t.totalMass, 2),
    t.holdsBalance === undefined
      ? undefined
      : t.holdsBalance
      ? "holds a swapped eyepiece"
      : "lets go with a swapped eyepiece: larger bearings, or a counterweight",
  ]);
  return lines;
}

/**
 * Limits of the aperture, once a telescope or a verdict is in sight; of the silver no quantity, since those never go
 * without all their cautions.
 */
export function coatingAndSkyLines({ sky, telescope, verdict }: Summary): Line[] {
  if (sky === undefined || (telescope === undefined && verdict === undefined)) return [];
  const [low, high] = sky.limitingMagnitude;
  return [
    [
      "coating",
      "send the mirror out, to a firm; what the film is, and its cautions: notebook 14",
    ],
    [
      "limits",
      `pairs ${told(sky.dawesLimit, 2)} to ${told(sky.rayleighLimit, 2)}, stars to magnitude ${
        low.toFixed(1)
      } to ${high.toFixed(1)}`,
    ],
  ];
}
