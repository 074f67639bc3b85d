/** The templates' own geometry, read back from their svg in mm. */
import assert from "node:assert/strict";
import {
  centreFinderToPrint,
  channelGridToPrint,
  curveGaugeToPrint,
} from "../../../lib/figures/prints/curveGauge.ts";
import { zoneMaskToPrint } from "../../../lib/figures/prints/zoneMask.ts";
import { lapContact, usualLap } from "../../../lib/shaping/lap/lap.ts";
import { designMask } from "../../../lib/testing/zones/mask.ts";

const edges = [0, 30, 45, 57, 67, 74];
const openings = edges.slice(1).map((outer, i) => ({ inner: edges[i] ?? 0, outer }));
const mask = { aperture: 150, radius: 2400, source: "moves", openings } as const;

type Point = readonly [number, number];

/** The paths of a drawing as points, with their fill. */
function pathsOf(markup: string): { fill: string; points: Point[] }[] {
  return [...markup.matchAll(/<path d="M([^"]*?)Z?" fill="([^"]*)"/g)].map((
    [, data = "", fill = ""],
  ) => ({
    fill,
    points: data.split("L").map((pair) => pair.split(",").map(Number) as unknown as Point),
  }));
}

for (const shape of ["bands", "sectors"] as const) {
  Deno.test(`zone mask of ${shape}: each window's edges lie at the radii of its opening`, () => {
    const whole = zoneMaskToPrint({ ...mask, shape }).whole?.markup ?? "", middle = 79;
    const windows = pathsOf(whole).filter(({ fill }) => fill === "#e4e4e4");
    const spans = windows.map(({ points }) => {
      const radii = points.map(([x, y]) => Math.hypot(x - middle, y - middle));
      return [Math.min(...radii), Math.max(...radii)] as const;
    });
    assert.equal(windows.length, 9, "one across the centre, two for each other zone");
    spans.slice(1).forEach(([low, high], i) => {
      const opening = openings[1 + Math.floor(i / 2)];
      assert.ok(Math.abs(low - (opening?.inner ?? 0)) < 0.002, `${i}: ${low}`);
      assert.ok(Math.abs(high - (opening?.outer ?? 0)) < 0.002, `${i}: ${high}`);
    });
    assert.ok(Math.abs((spans[0]?.[1] ?? 0) - 30) < 0.002);
  });
}

/** Points along a closed outline, at most so many mm apart. */
function along(points: readonly Point[], apart: number): Point[] {
  return points.flatMap(([x, y], i) => {
    const [u, v] = points[(i + 1) % points.length] ?? [x, y];
    const parts = Math.max(1, Math.ceil(Math.hypot(u - x, v - y) / apart));
    return Array.from(
      { length: parts },
      (_, k): Point => [x + (u - x) * k / parts, y + (v - y) * k / parts],
    );
  });
}

Deno.test("zone mask: no two windows touch, so that the card holds together", () => {
  for (const shape of ["bands", "sectors"] as const) {
    for (const aperture of [80, 114, 150, 200, 300, 400]) {
      const bench = { aperture, radius: 16 * aperture, source: "moves", shape } as const;
      const { zones } = designMask({ ...bench, aperture: aperture - 2, openings: shape });
      const sheets = aperture === 150 ? [zones, openings] : [zones];
      for (const of of sheets) {
        const whole = zoneMaskToPrint({ ...bench, openings: of }).whole?.markup ?? "";
        const windows = pathsOf(whole).filter(({ fill }) => fill === "#e4e4e4")
          .map(({ points }) => along(points, aperture / 200));
        assert.equal(
          windows.length,
          2 * of.length - 1,
          "one across the centre, two for the others",
        );
        windows.forEach((one, i) => {
          for (const other of windows.slice(i + 1)) {
            let nearest = Infinity;
            for (const [x, y] of one) {
              for (const [u, v] of other) nearest = Math.min(nearest, Math.hypot(x - u, y - v));
            }
            // 4 mm of card to the neighbour; to the next but one, which lies on the same line, what lies between
            const least = Math.min(
              4,
              0.6 * (of[0]?.outer ?? 0),
              ...of.map(({ inner, outer }) => outer - inner),
            );
            assert.ok(
              nearest > least - 0.01,
              `${shape} ${aperture}: ${nearest.toFixed(1)} mm of card`,
            );
          }
        });
      }
    }
  }
});

Deno.test("zone mask: the edges and the knife's spread stand below the drawing, within its width", () => {
  for (const aperture of [80, 150, 400]) {
    const bench = { aperture, radius: 16 * aperture, source: "moves", shape: "bands" } as const;
    const { zones } = designMask({ ...bench, aperture: aperture - 2, openings: "bands" });
    const whole = zoneMaskToPrint({ ...bench, openings: zones }).whole?.markup ?? "";
    const lines = [...whole.matchAll(/<text[^>]*font-size="2\.6"[^>]*>([^<]*)</g)].map((
      [, line = ""],
    ) => line);
    assert.match(
      lines.join(" "),
      /^Edges 0, .* mm from the centre\. Ideal spread of the knife, .* mm\.$/,
    );
    // COMMON PRACTICE: a sans letter is about half as wide as its size, 2.6 mm
    for (const line of lines) assert.ok(line.length * 1.3 <= aperture, `${aperture}: ${line}`);
  }
});

Deno.test("a mask with openings out of order or beyond the rim is refused", () => {
  for (const bad of [[], [{ inner: 30, outer: 20 }], [{ inner: 0, outer: 80 }]]) {
    assert.throws(
      () => zoneMaskToPrint({ ...mask, shape: "bands", openings: bad }),
      /zoneMaskToPrint requires rising openings/,
    );
  }
});

Deno.test("curve gauge: every point of the arc lies at R from one centre, the depth is the sagitta", () => {
  for (const [aperture, radius] of [[150, 2400], [200, 2400], [114, 1800]] as const) {
    const arc = pathsOf(curveGaugeToPrint(aperture, radius).whole?.markup ?? "")
      .find(({ points }) => points.length > 50)?.points ?? [];
    const [first = [0, 0], last = [0, 0]] = [arc[0], arc.at(-1)];
    const lowest = Math.max(...arc.map(([, y]) => y));
    // DERIVED: intersecting chords, r^2 = s (2R - s)
    const depth = lowest - first[1], half = (last[0] - first[0]) / 2;
    assert.ok(Math.abs(half * 2 - aperture) < 0.002);
    assert.ok(
      Math.abs(depth * (2 * radius - depth) - half * half) < 0.001 * 2 * radius,
      `${depth}`,
    );
  }
});

Deno.test("channels: their edges are a channel apart, and what is left is the lap's contact", () => {
  const lap = usualLap(150), middle = 79;
  const strokes = pathsOf(channelGridToPrint(lap).whole?.markup ?? "")
    .filter(({ points }) => points.length === 2);
  const down = strokes.filter(({ points: [a, b] }) => a?.[0] === b?.[0])
    .map(({ points }) => (points[0]?.[0] ?? 0) - middle).filter((x) => Math.abs(x) > 1e-9)
    .sort((a, b) => a - b);
  const across = strokes.filter(({ points: [a, b] }) => a?.[1] === b?.[1])
    .map(({ points }) => middle - (points[0]?.[1] ?? 0)).filter((y) =>
      y > -75 && Math.abs(y) > 1e-9
    )
    .sort((a, b) => a - b);
  const inChannel = (lines: readonly number[], at: number): boolean =>
    lines.some((edge, i) => {
      const next = lines[i + 1];
      return next !== undefined && Math.abs(next - edge - lap.channel) < 0.01 && at > edge &&
        at < next;
    });
  let touching = 0, all = 0;
  for (let x = -74.75; x < 75; x += 0.5) {
    for (let y = -74.75; y < 75; y += 0.5) {
      if (Math.hypot(x, y) >= 75) continue;
      all++;
      if (!inChannel(down, x) && !inChannel(across, y)) touching++;
    }
  }
  // DERIVED: the library's own integral, against counting half-millimetre squares of the drawing
  assert.ok(Math.abs(touching / all - lapContact(lap)) < 0.015, `${touching / all}`);
});

Deno.test("centre finder: rings each centimetre, the rim, three points where the cell has them", () => {
  const markup = centreFinderToPrint(150, 48.4).whole?.markup ?? "";
  const radii = [...markup.matchAll(/<circle [^>]*r="([\d.]+)"/g)].map(([, r]) => Number(r));
  assert.deepEqual(radii.slice(0, 8), [75, 10, 20, 30, 40, 50, 60, 70]);
  assert.equal(radii.filter((r) => r === 2).length, 3);
  assert.equal(
    (centreFinderToPrint(150).whole?.markup ?? "").match(/r="2"/g),
    null,
    "no points where none are known",
  );
  // a hole through which the mark of 12 mm passes; nothing is pricked near a coated face
  assert.equal(radii.filter((r) => r === 6.5).length, 1);
  assert.doesNotMatch(centreFinderToPrint(150).use, /(?<!Nothing is )prick/);
  assert.throws(() => centreFinderToPrint(5), /centreFinderToPrint requires/);
});
