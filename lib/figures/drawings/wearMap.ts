/** What grinding has made of a disc: cut through, and as a map of what departs from the sphere. */
import { linearFit } from "../../numeric/leastSquares.ts";
import { departures, fittedSagitta } from "../../shaping/grinding/discShape.ts";
import { cellArea, ringRadius } from "../../shaping/grinding/polarGrid.ts";
import type { DiscShape } from "../../shaping/grinding/wornDisc.ts";
import { fixed, signed } from "../scale.ts";
import { figure, isNarrow } from "../figure.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, place, type Point, stroke, through, words } from "../pen.ts";
import type { Shown } from "../show.ts";

/** A disc with its name: "mirror, on top". */
export interface NamedDisc {
  /** title above it */
  readonly name: string;
  /** height of glass over the disc */
  readonly shape: DiscShape;
}

/** One disc, or two side by side. */
export interface WornDiscs {
  /** one or two */
  readonly discs: readonly NamedDisc[];
  /** half of what the greys span, um; default 100 */
  readonly rangeUm?: number;
  /** the finding in bold under the figure */
  readonly says?: string;
}

/** Rings and sectors of the map; the grid's own nodes are averaged into them. */
const rings = 12, sectors = 24, levels = 8;

interface Map {
  /** departure from the best sphere, um, ring after ring, from the disc's mark on */
  readonly um: readonly number[];
  readonly sagitta: number;
  readonly astigmatismUm: number;
  readonly peakToValleyUm: number;
  /** mean height at each ring's radius as a share of the rim, mm */
  readonly profile: readonly (readonly [share: number, height: number])[];
}

/** Departure of each node from the sphere and tilt that fit best, um. */
function residuals({ grid, rest }: DiscShape): readonly number[] {
  const place = (at: number): readonly [number, number] => {
    const r = ringRadius(grid, Math.floor(at / grid.angles)) / grid.radius;
    return [r, 2 * Math.PI * (at % grid.angles) / grid.angles];
  };
  const columns = Array.from(rest, (_, at) => {
    const [r, t] = place(at);
    return [1, r * Math.cos(t), r * Math.sin(t), r * r];
  });
  const areas = Array.from(rest, (_, at) => cellArea(grid, Math.floor(at / grid.angles)));
  return linearFit(columns, Array.from(rest, (height) => height * 1000), areas).residuals;
}

function mapOf(shape: DiscShape): Map {
  const { grid, rest, curve, turned } = shape, left = residuals(shape);
  const sums = new Float64Array(rings * sectors), counts = new Float64Array(rings * sectors);
  const full = 2 * Math.PI;
  left.forEach((value, at) => {
    const ring = Math.floor(Math.floor(at / grid.angles) * rings / grid.rings);
    const angle = full * (at % grid.angles) / grid.angles - turned;
    const sector = Math.floor((((angle % full) + full) % full) / full * sectors + 1e-6) % sectors;
    const cell = ring * sectors + sector;
    sums[cell] = (sums[cell] ?? 0) + value;
    counts[cell] = (counts[cell] ?? 0) + 1;
  });
  const profile = Array.from({ length: grid.rings }, (_, ring) => {
    const row = rest.subarray(ring * grid.angles, (ring + 1) * grid.angles);
    const r = ringRadius(grid, ring), mean = row.reduce((sum, h) => sum + h, 0) / grid.angles;
    return [r / grid.radius, mean + curve * r * r] as const;
  });
  const { astigmatismUm, peakToValleyUm } = departures(shape);
  const um = Array.from(sums, (sum, cell) => sum / Math.max(1, counts[cell] ?? 1));
  return { um, sagitta: fittedSagitta(shape), astigmatismUm, peakToValleyUm, profile };
}

/** One stretch of a ring, from sector to sector. */
function arc([x, y]: Point, r: number, ring: number, from: number, to: number): string {
  const at = (radius: number, sector: number): string => {
    const angle = 2 * Math.PI * sector / sectors;
    return `${place(x + radius * Math.cos(angle))},${place(y - radius * Math.sin(angle))}`;
  };
  const inner = r * ring / rings, outer = r * (ring + 1) / rings, middle = (from + to) / 2;
  const go = (radius: number, to: number, sweep: number): string =>
    [middle, to].map((end) => `A${place(radius)},${place(radius)} 0 0 ${sweep} ${at(radius, end)}`)
      .join("");
  return `M${at(outer, from)}${go(outer, to, 0)}L${at(inner, to)}${go(inner, from, 1)}Z`;
}

/** The map's greys: one path for each grey, neighbours along a ring as one stretch. */
function greys(map: Map, centre: Point, r: number, rangeUm: number): Html {
  const level = (cell: number): number => {
    const share = 0.5 - (map.um[cell] ?? 0) / (2 * rangeUm);
    return Math.round(Math.min(1, Math.max(0, share)) * levels);
  };
  const paths = Array.from({ length: levels + 1 }, () => "");
  for (let ring = 0; ring < rings; ring++) {
    for (let from = 0, to = 0; from < sectors; from = to) {
      const grey = level(ring * sectors + from);
      const end = Math.min(sectors, from + sectors / 3);
      for (to = from; to < end && level(ring * sectors + to) === grey; to++);
      paths[grey] += arc(centre, r, ring, from, to);
    }
  }
  return group(paths.map((data, grey) =>
    data !== "" && grey > 0 &&
    path("", data, `fill:var(--ink);stroke:none;opacity:${(0.85 * grey / levels).toFixed(2)}`)
  ));
}

/** How many times too deep the sections are drawn, one number for all. */
function exaggeration(maps: readonly Map[], radius: number): number {
  const deepest = Math.max(...maps.map(({ sagitta }) => Math.abs(sagitta)), 1e-9);
  return [500, 200, 100, 50, 20, 10, 5, 2].find((times) => deepest * times <= radius / 4) ?? 1;
}

function section({ profile }: Map, [x, y]: Point, r: number, k: number, deeper: number): Html {
  const edge = profile.at(-1)?.[1] ?? 0;
  const high = (height: number): number => y - (height - edge) * k * deeper;
  const side = (sign: number): Point[] =>
    profile.map(([share, h]) => [x + sign * share * r, high(h)]);
  const face = [...side(-1).reverse(), ...side(1)];
  const first = face[0] ?? [x - r, y], last = face.at(-1) ?? [x + r, y];
  const foot = y + r * 0.42;
  return group(
    path("body", through([[first[0], foot], ...face, [last[0], foot]], true)),
    stroke("lead", [x - r, y], [x + r, y]),
    path("ground", through(face)),
  );
}

function draw(
  { discs, rangeUm = 100 }: WornDiscs,
  maps: readonly Map[],
  width: number,
  finding: string,
): Html {
  const small = isNarrow(width), share = width / Math.max(2, discs.length);
  const r = Math.min(share / 2 - 10, small ? 78 : 104), y = 38 + r, cut = y + r + 74;
  const radius = discs[0]?.shape.grid.radius ?? 1, deeper = exaggeration(maps, radius);
  const parts = maps.map((map, i) => {
    const x = share * (i + 0.5), centre: Point = [x, y];
    return group(
      words([x, 18], discs[i]?.name ?? "", { kind: "b", anchor: "middle" }),
      greys(map, centre, r, rangeUm),
      dot("axis", centre, r),
      stroke("polished", [x + r - 4, y], [x + r + 6, y]),
      words(
        [x, y + r + 22],
        `astigmatism ${fixed(map.astigmatismUm, map.astigmatismUm < 10 ? 1 : 0)} µm`,
        {
          anchor: "middle",
        },
      ),
      section(map, [x, cut], r, r / radius, deeper),
      words([x, cut + r * 0.42 + 20], `s = ${signed(map.sagitta, 3)} mm`, { anchor: "middle" }),
    );
  });
  const foot = cut + r * 0.42 + 44;
  return drawing({
    width,
    height: foot + 4,
    finding,
    contents: group(
      ...parts,
      words([width / 2, foot], `cut through, faces up, depth × ${deeper}`, {
        kind: "soft",
        anchor: "middle",
      }),
    ),
  });
}

/**
 * Worn discs as maps and in section, all to one scale of greys and one of depths.
 *
 * @param worn  one disc or two, of one size
 * @throws {RangeError} for no disc, more than two, or a range that is not above 0 um
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const grid = { radius: 75, rings: 12, angles: 24 };
 * const shape = { grid, rest: new Float64Array(288), curve: 1e-4, turned: 0 };
 * const { text } = wearMap({ discs: [{ name: "mirror, on top", shape }] });
 * assert.match(text, /mirror, on top: sagitta \+0\.563 mm, hollow; astigmatism 0\.0 µm/);
 * ```
 */
export function wearMap(worn: WornDiscs): Shown {
  const { discs, rangeUm = 100, says } = worn;
  if (!(discs.length >= 1 && discs.length <= 2 && rangeUm > 0 && rangeUm < Infinity)) {
    throw new RangeError(
      `wearMap requires one or two discs and a range above 0 um, got ${discs.length} discs, rangeUm=${rangeUm}`,
    );
  }
  const maps = discs.map(({ shape }) => mapOf(shape));
  const told = maps.map(({ sagitta, astigmatismUm, peakToValleyUm }, i) =>
    `${discs[i]?.name}: sagitta ${signed(sagitta, 3)} mm, ${
      sagitta > 0 ? "hollow" : "domed"
    }; astigmatism ${fixed(astigmatismUm, 1)} µm, ${
      fixed(peakToValleyUm)
    } µm off the sphere from peak to valley`
  );
  const finding = `Worn discs from above and cut through. ${told.join(". ")}.`;
  return figure({
    finding,
    caption: safe`${
      says !== undefined && safe`<b>${says}</b> `
    }The stronger the grey, the lower the glass against the sphere that fits best; the greys span ±${
      fixed(rangeUm)
    } µm. The tick is the disc’s own mark.`,
    draw: (width) => draw(worn, maps, width, finding),
  });
}
