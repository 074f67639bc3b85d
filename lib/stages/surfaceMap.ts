/** The surface as numbers that can be taken along: a map with its doubt, its section, its words; FITS, CSV, Zernike's terms. */
import { note } from "../figures/blocks.ts";
import { heightFromAbove } from "../figures/drawings/surfaceFromAbove.ts";
import type { Values } from "../figures/live/figure.ts";
import { live } from "../figures/live/live.ts";
import { SECTION_RADII } from "../figures/live/sectionByFinger.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { fromQ } from "../knowledge/q.ts";
import { figureOf } from "../knowledge/quantities.ts";
import type { FigureSummary, KnifeSummary, Summary } from "../knowledge/summaryTypes.ts";
import { zernike, zernikeTerms } from "../optics/zernike.ts";
import { fitsFile } from "../record/fits.ts";
import { ownOrDemo, type Part } from "./base.ts";
import { zernikeOf } from "./zernikeTable.ts";

/** Places across the disc. */
const ACROSS = 151;

/**
 * What a glass that was read along one diameter may be out of round by: amplitude at the rim, nm, standard uncertainty.
 * COMMON PRACTICE: a first mirror worked by hand with turns is round within a tenth of a wave or so.
 */
const UNREAD = 30;

/** Heights of a surface on a square grid, seen from the tester: x to the right, y to the mirror's mark. */
export interface SurfaceMap {
  /** places across */
  readonly size: number;
  /** mm from the middle of one place to the next */
  readonly step: number;
  /** radius of the judged disc, mm */
  readonly rim: number;
  /** nm of glass, + is high, mean and best focus taken out; row after row from the bottom; NaN outside the disc */
  readonly heights: Float64Array;
  /** standard uncertainty of each, nm */
  readonly u: Float64Array;
  /** height and its standard uncertainty, nm, at a share of the rim and an angle counter-clockwise from the mark, rad */
  readonly at: (share: number, angle: number) => readonly [height: number, u: number];
  /** whether more than one diameter was read; a map of one is round by assumption, its doubt says so */
  readonly isWhole: boolean;
  /** file of the photograph it is from; absent for zones */
  readonly photo?: string;
  /** whether the mirror stood in one seat only, so that what its stand bends is in the map, and in its doubt */
  readonly withStand?: boolean;
}

/**
 * What a stand may bend a mirror by that was not turned in it: amplitude of astigmatism at the rim, nm, standard uncertainty
 * (COMMON PRACTICE: as for knife-edge readings).
 */
const STAND = 20;

/** Numbers of a figure that has a profile. */
type Told = FigureSummary & Required<Pick<FigureSummary, "profile">>;

function toldFigure(summary: Summary): Told | undefined {
  const { zones, photos = [] } = summary.figure ?? {};
  return [figureOf(summary), zones, ...photos].find((one): one is Told =>
    one?.profile !== undefined && one.profile.length > 1 && one.refused === undefined
  );
}

/**
 * The map of a mirror's latest surface; nothing where there is none.
 *
 * @param summary  everything known of the mirror
 */
export function surfaceMap(summary: Summary): SurfaceMap | undefined {
  const whole = knifeOf(summary);
  if (whole !== undefined) return mapOfShapes(whole);
  const figure = toldFigure(summary);
  if (figure === undefined) return undefined;
  const { profile, astigmatism, photo } = figure, rim = profile.at(-1)?.radius ?? 0;
  const height = heightFromAbove({
    profile: profile.map(({ radius, surfaceError }) => ({ radius, height: surfaceError })),
    ...(astigmatism === undefined ? {} : {
      astigmatism: { amplitude: fromQ(astigmatism.amplitude), axis: fromQ(astigmatism.axis) },
    }),
  });
  const doubt = heightFromAbove({
    profile: profile.map(({ radius, u }) => ({ radius, height: u })),
  });
  // two components of the same u: at every angle the sum of both is as sure
  const round = astigmatism?.amplitude.u ?? UNREAD;
  const at = (share: number, angle: number): readonly [number, number] => [
    height(share, angle),
    Math.hypot(doubt(share, angle), round * share ** 2),
  ];
  return {
    ...onGrid(rim, at),
    isWhole: summary.verdict?.scope === "whole surface",
    ...(photo === undefined ? {} : { photo }),
  };
}

/** A surface laid on the grid. */
function onGrid(
  rim: number,
  at: SurfaceMap["at"],
): Pick<SurfaceMap, "size" | "step" | "rim" | "heights" | "u" | "at"> {
  const step = (2 * rim) / (ACROSS - 1), count = ACROSS * ACROSS;
  const heights = new Float64Array(count).fill(NaN), u = new Float64Array(count).fill(NaN);
  for (let j = 0; j < ACROSS; j++) {
    for (let i = 0; i < ACROSS; i++) {
      const x = i * step - rim, y = j * step - rim, share = Math.hypot(x, y) / rim;
      if (share > 1 + 1e-9) continue;
      [heights[j * ACROSS + i], u[j * ACROSS + i]] = at(share, Math.atan2(y, x) - Math.PI / 2);
    }
  }
  return { size: ACROSS, step, rim, heights, u, at };
}

/** A series of photographs behind the knife that tells the whole surface. */
type WholeSeries = KnifeSummary & Required<Pick<KnifeSummary, "shapes" | "doubt">>;

/** The latest series from two directions of the knife. */
function knifeOf({ figure }: Summary): WholeSeries | undefined {
  return figure?.knife?.findLast((one): one is WholeSeries =>
    one.shapes !== undefined && one.doubt !== undefined && one.doubt.length > 1
  );
}

function mapOfShapes({ shapes, doubt, seats = 1 }: WholeSeries): SurfaceMap {
  const rim = doubt.at(-1)?.radius ?? 0,
    us = heightFromAbove({
      profile: doubt.map(({ radius, u }) => ({ radius, height: u })),
    });
  // the fitted edges have a mean, a tilt of none and a focus: taken out as those of all shapes were
  const edges = shapes.flatMap(({ width, amount }) =>
    width === undefined
      ? []
      : [(rho: number): number => fromQ(amount).value * Math.exp((rho - 1) / width)]
  );
  const round = (rho: number): number => edges.reduce((sum, edge) => sum + edge(rho), 0);
  const mean = overDisc(round), focus = overDisc((rho) => round(rho) * (2 * rho * rho - 1)) * 3;
  const at = (share: number, angle: number): readonly [number, number] => {
    // counter-clockwise from the mark, which stands at the top
    const theta = angle + Math.PI / 2;
    let height = round(share) - mean - focus * (2 * share * share - 1);
    for (const { n, m, amount } of shapes) {
      if (n !== undefined && m !== undefined) {
        height += amount.value * zernike({ n, m }, share, theta);
      }
    }
    return [height, Math.hypot(us(share, angle), seats > 1 ? 0 : STAND * share ** 2)];
  };
  return { ...onGrid(rim, at), isWhole: true, ...(seats > 1 ? {} : { withStand: true }) };
}

/** Mean over the disc of what depends on the distance from its middle alone. */
function overDisc(of: (rho: number) => number): number {
  const steps = 400;
  let sum = 0;
  for (let k = 0; k < steps; k++) sum += of(Math.sqrt((k + 0.5) / steps));
  return sum / steps;
}

/** A place of a section. */
export interface SectionPlace {
  /** mm from the middle, + toward the angle asked for */
  readonly at: number;
  /** nm of glass */
  readonly height: number;
  /** nm */
  readonly u: number;
}

/**
 * The surface along one diameter.
 *
 * @param degrees  counter-clockwise from the mark
 * @param places   along it, 2 or more
 * @throws {RangeError} where there are fewer places
 */
export function sectionOf(map: SurfaceMap, degrees: number, places = 61): readonly SectionPlace[] {
  if (!(Number.isInteger(places) && places >= 2 && Number.isFinite(degrees))) {
    throw new RangeError(
      `sectionOf requires degrees and 2 places or more, got ${degrees}, ${places}`,
    );
  }
  return Array.from({ length: places }, (_, k) => {
    const share = (2 * k) / (places - 1) - 1, angle = (degrees * Math.PI) / 180;
    const [height, u] = map.at(Math.abs(share), share < 0 ? angle + Math.PI : angle);
    return { at: share * map.rim, height, u };
  });
}

/** Where place number k lies, mm from the middle. */
const xOf = ({ size, step, rim }: SurfaceMap, k: number): number => (k % size) * step - rim;
const yOf = ({ size, step, rim }: SurfaceMap, k: number): number =>
  Math.floor(k / size) * step - rim;

/** The map in words: where the glass stands highest and lowest, and how surely. */
export function mapInWords(map: SurfaceMap): readonly string[] {
  let high = 0, low = 0;
  map.heights.forEach((v, k) => {
    if (!(v <= (map.heights[high] ?? NaN))) high = Number.isNaN(v) ? high : k;
    if (!(v >= (map.heights[low] ?? NaN))) low = Number.isNaN(v) ? low : k;
  });
  const signed = (v: number): string => `${v < 0 ? "−" : "+"}${Math.abs(v).toFixed(0)}`;
  const said = (k: number): string => {
    const x = xOf(map, k), y = yOf(map, k), r = Math.hypot(x, y);
    const turn = (Math.atan2(y, x) * 180) / Math.PI - 90;
    const where = r < map.step
      ? "in the middle"
      : `${r.toFixed(0)} mm from the middle${
        map.isWhole
          ? `, ${((turn + 360) % 360).toFixed(0)} degrees counter-clockwise from the mark`
          : ""
      }`;
    return `${signed(map.heights[k] ?? NaN)} nm ± ${(map.u[k] ?? NaN).toFixed(0)} nm, ${where}`;
  };
  const turn = map.isWhole ? Math.atan2(yOf(map, high), xOf(map, high)) * 180 / Math.PI - 90 : 0;
  return [
    `highest ${said(high)}`,
    `lowest ${said(low)}`,
    `along ${map.isWhole ? "the diameter of the highest place" : "a diameter"}, from rim to rim: ${
      sectionOf(map, turn, 13).map(({ height }) => signed(height)).join(" ")
    } nm`,
    map.withStand === true
      ? `mirror and stand together, for the mirror stood in one seat: ${STAND} nm at the rim are in the doubt for the stand`
      : map.isWhole
      ? "read along enough diameters for the whole surface"
      : `read along one diameter: round by assumption, with ${UNREAD} nm at the rim in the doubt for what was not read`,
  ];
}

/**
 * The map as a FITS file: first plane heights, second plane standard uncertainties, nm of glass.
 *
 * @param title  of the mirror, for the header
 */
export function mapFits(map: SurfaceMap, title: string): Uint8Array<ArrayBuffer> {
  const { size, step, heights, u, isWhole } = map, middle = (size + 1) / 2;
  return fitsFile([heights, u], size, size, [
    { key: "OBJECT", value: title.slice(0, 60) },
    { key: "BUNIT", value: "nm", comment: "height of glass, + is high" },
    { key: "CTYPE1", value: "X", comment: "to the right, seen from the tester" },
    { key: "CUNIT1", value: "mm" },
    { key: "CRPIX1", value: middle },
    { key: "CRVAL1", value: 0 },
    { key: "CDELT1", value: step },
    { key: "CTYPE2", value: "Y", comment: "toward the mark" },
    { key: "CUNIT2", value: "mm" },
    { key: "CRPIX2", value: middle },
    { key: "CRVAL2", value: 0 },
    { key: "CDELT2", value: step },
    { key: "CTYPE3", value: "PLANE", comment: "1 height, 2 standard uncertainty" },
    { key: "SCOPE", value: isWhole ? "whole surface" : "one diameter", comment: "what was read" },
  ]);
}

const cell = (value: number, digits: number): string => String(Number(value.toFixed(digits)));

/** The map as CSV: a row for each place of the disc. */
export function mapCsv(map: SurfaceMap): string {
  const { heights, u } = map;
  const rows = Array.from(heights, (height, k) => {
    if (Number.isNaN(height)) return "";
    return `${cell(xOf(map, k), 4)},${cell(yOf(map, k), 4)},${cell(height, 3)},${
      cell(u[k] ?? NaN, 3)
    }\n`;
  });
  return `x_mm,y_mm,height_nm,u_nm\n${rows.join("")}`;
}

/** Highest degree of the terms that are written. */
const DEGREE = 6;

/**
 * All terms up to degree six in the order of ISO 24157, one row each; a term that no reading sees has no number, only why.
 *
 * @returns nothing where there is no surface
 */
export function zernikeCsv(summary: Summary): string | undefined {
  const whole = knifeOf(summary);
  if (whole !== undefined) return shapesCsv(whole);
  const figure = toldFigure(summary);
  if (figure === undefined) return undefined;
  const { profile, astigmatism } = figure;
  const { terms } = zernikeOf({
    profile,
    scope: summary.verdict?.scope ?? "one diameter",
    ...(astigmatism === undefined ? {} : {
      astigmatism: {
        amplitude: fromQ(astigmatism.amplitude),
        axis: fromQ(astigmatism.axis),
        interval95: astigmatism.interval95,
      },
    }),
  });
  const rows = zernikeTerms(DEGREE).map(({ n, m }) => {
    const told = terms.find((term) => term.n === n && term.m === m), value = told?.coefficient;
    const [number, u] = value === undefined
      ? ["", ""]
      : typeof value === "number"
      ? [cell(value, 3), ""]
      : [cell(value.value, 3), cell(value.u, 3)];
    const note = told?.said ?? (value === undefined ? (n < 2 ? "taken out" : "not seen") : "");
    return `${(n * (n + 2) + m) / 2},${n},${m},${number},${u},${note}\n`;
  });
  return `j,n,m,coefficient_nm,u_nm,note\n${rows.join("")}`;
}

/** What the live section is told of a figure: its profile at even steps, its doubt, what differs from diameter to diameter. */
function sectionValues(figure: Told): Values {
  const { profile, astigmatism } = figure, rim = profile.at(-1)?.radius ?? 0;
  const height = heightFromAbove({
    profile: profile.map(({ radius, surfaceError }) => ({ radius, height: surfaceError })),
  });
  const doubt = heightFromAbove({
    profile: profile.map(({ radius, u }) => ({ radius, height: u })),
  });
  const shares = Array.from({ length: SECTION_RADII }, (_, k) => k / (SECTION_RADII - 1));
  return {
    rim,
    amplitude: astigmatism?.amplitude.value ?? 0,
    axis: astigmatism?.axis.value ?? 0,
    round: astigmatism?.amplitude.u ?? UNREAD,
    least: astigmatism?.interval95[0] ?? 0,
    ...Object.fromEntries(shares.map((share, k) => [`h${k}`, height(share, 0)])),
    ...Object.fromEntries(shares.map((share, k) => [`u${k}`, doubt(share, 0)])),
  };
}

const sectionPart: Part = {
  name: "section",
  noun: "surface",
  count: ({ summary }) => toldFigure(summary) === undefined ? 0 : 1,
  show: ({ summary }) => {
    const figure = toldFigure(summary);
    if (figure === undefined) return [];
    return [
      live("section-by-finger", sectionValues(figure)),
      ...(figure.astigmatism === undefined
        ? [
          note(
            `Read along one diameter: the glass is drawn round, and ${UNREAD} nm at the rim stand in the band for what was not read.`,
          ),
        ]
        : []),
    ];
  },
  how: "It needs a surface: zone readings in zones.csv, or a photograph in ronchi.csv.",
};

/** The latest surface from above with a line to turn over it, and the glass's height along that line. */
export function yourSection(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(sectionPart, yours, demo);
}

/** Terms of a series of photographs behind the knife; what the edges hold of each term is in it, so the terms alone are the surface. */
function shapesCsv({ shapes }: WholeSeries): string {
  const map = shapes.flatMap(({ width, amount }) =>
    width === undefined ? [] : [{ width, ...fromQ(amount) }]
  );
  const share = (n: number, width: number): number =>
    overDisc((rho) => Math.exp((rho - 1) / width) * zernike({ n, m: 0 }, rho, 0));
  const rows = zernikeTerms(KNIFE_DEGREE).map(({ n, m }) => {
    const j = (n * (n + 2) + m) / 2, own = shapes.find((one) => one.n === n && one.m === m)?.amount;
    if (own === undefined) return `${j},${n},${m},,,taken out\n`;
    const edges = m === 0
      ? map.map(({ width, value, u }) => [value, u].map((v) => v * share(n, width)))
      : [];
    const value = edges.reduce((sum, [v = 0]) => sum + v, own.value);
    const u = Math.hypot(own.u ?? 0, ...edges.map(([, v = 0]) => v));
    return `${j},${n},${m},${cell(value, 3)},${cell(u, 3)},\n`;
  });
  return `j,n,m,coefficient_nm,u_nm,note\n${rows.join("")}`;
}

/** Highest degree that photographs behind the knife tell. */
const KNIFE_DEGREE = 8;
