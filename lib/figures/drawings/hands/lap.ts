/** The lap in drawings: its making in eight pictures, the nail, channels, contact, and how a mirror clears. */
import { random } from "../../../numeric/random.ts";
import type { Html } from "../../html.ts";
import { across, dot, group, path, type Point, rect, stroke, through, words } from "../../pen.ts";
import type { HandNumbers } from "./names.ts";
import {
  arc,
  around,
  bothWays,
  handFigure,
  type HandShown,
  limb,
  limbs,
  lit,
  moved,
  named,
  type Panel,
  turnArrow,
  unlit,
} from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";
const pitch = "fill:var(--soft);stroke:none";
const steel = "fill:var(--tint);stroke:var(--ink);stroke-width:1";

const tool = (y: number): Html =>
  group(rect("body", [30, y], 112, 20), rect("rim", [30, y], 112, 20));
const mirror = (y: number, x = 30): Html =>
  group(
    rect("", [x, y], 112, 16, "fill:var(--paper);stroke:var(--glass);stroke-width:1.3"),
    words([x + 56, y + 13], "mirror", { anchor: "middle" }),
  );
/** The lap's making in eight pictures. */
export function lapEight({ lap }: HandNumbers): HandShown {
  const y = 92;
  const table = stroke("axis", [4, y + 20], [168, y + 20]);
  const dam = group(
    rect("", [26, y - 20], 4, 36, "fill:var(--rouge-tint);stroke:var(--ink)"),
    rect("", [142, y - 20], 4, 36, "fill:var(--rouge-tint);stroke:var(--ink)"),
  );
  const layer = rect("", [30, y - 10], 112, 10, pitch);
  const facets = group(
    ...[0, 1, 2, 3, 4].map((i) => rect("", [32 + 22.4 * i, y - 10], 18, 10, pitch)),
  );
  const pot = group(
    rect("", [30, 98], 84, 14, steel),
    path(
      "",
      through([[40, 60], [40, 98], [104, 98], [104, 60]]),
      "fill:var(--soft);stroke:var(--ink)",
    ),
    rect("", [36, 50], 72, 6, steel),
    rect("", [68, 44], 8, 6, steel),
    stroke("", [92, 22], [92, 90], "stroke:var(--ink);stroke-width:2"),
    dot("", [92, 90], 4, "fill:var(--rouge);stroke:none"),
    dot("theirs", [44, 105], 4),
    words([172, 30], "adult", { anchor: "end", kind: "t-rouge" }),
  );
  const panel = (
    n: number,
    label: string,
    contents: Html,
  ): Panel => ({
    wide: 172,
    high: 126,
    label: `${n} ${label}`,
    contents,
  });
  const adult = words([172, 16], "adult", { anchor: "end", kind: "t-rouge" });
  const you = words([172, 16], "you", { anchor: "end" });
  return handFigure({
    finding:
      `The lap’s making in eight pictures: the adult melts the pitch on a plate with a lid; a nail tries a cold coin of it; tape round the warm dry tool is a dam; the adult pours to ${lap.thickness} millimetres; a wet stick says when it has a skin; the wet warm mirror is slid on; it is pressed until all is cold; channels are cut and the lap is pressed again.`,
    bold: "From bare tool to lap.",
    caption:
      "Adult: what is hot, never a learner’s. You: all the rest, behind the line while it is hot.",
    panels: [
      panel(1, "melt under a lid, no flame", group(stroke("axis", [4, 124], [168, 124]), pot)),
      panel(
        2,
        "nail on the cold coin, count",
        group(
          table,
          rect("", [30, y + 8], 112, 12, wood),
          path("", `M52,${y + 8}Q86,${y - 12} 120,${y + 8}Z`, pitch),
          limbs([[[[128, 34], [98, y - 8]], 16]]),
          path(
            "",
            through([[98, y - 4], [90, y - 2], [93, y - 12]], true),
            "fill:var(--paper);stroke:var(--ink)",
          ),
          you,
        ),
      ),
      panel(
        3,
        "warm dry tool, tape, line",
        group(table, tool(y), dam, stroke("limit", [30, y - 10], [142, y - 10]), adult),
      ),
      panel(
        4,
        `pour low, to ${lap.thickness} mm`,
        group(
          table,
          tool(y),
          dam,
          layer,
          path("", through([[66, 24], [108, 36], [102, 64], [60, 52]], true), steel),
          path("", `M63,50Q58,60 70,${y - 10}H76Q66,62 70,54Z`, pitch),
          adult,
        ),
      ),
      panel(
        5,
        "a wet stick: dents, comes clean",
        group(
          table,
          tool(y),
          dam,
          layer,
          stroke("", [130, 22], [92, y - 8], "stroke:var(--ink);stroke-width:4"),
          adult,
        ),
      ),
      panel(
        6,
        "warm wet mirror, small circles",
        group(table, tool(y), layer, mirror(y - 27, 34), turnArrow([90, 44], 16, 200, 500), adult),
      ),
      panel(
        7,
        "press until it is cold",
        group(
          table,
          tool(y),
          layer,
          mirror(y - 26),
          rect("", [62, y - 56], 48, 30, "fill:var(--ink);stroke:none"),
          bothWays([66, 26], [106, 26]),
          you,
        ),
      ),
      panel(
        8,
        "cut channels wet, press again",
        group(
          table,
          tool(y),
          facets,
          path("", through([[136, 18], [140, 20], [104, y - 4], [101, y - 8]], true), steel),
          limb([[138, 20], [150, 6]], 9),
          words([4, 16], "you"),
        ),
      ),
    ],
  });
}

/** What the nail leaves in cold pitch, by how long it took. */
export function nail(): HandShown {
  const coin = (
    dent: number,
    wide: number,
    label: string,
  ): Panel => ({
    wide: 150,
    high: 96,
    label,
    contents: group(
      path("", `M8,80Q75,${20} 142,80Z`, pitch),
      dent > 0
        ? path(
          "",
          `M${75 - wide},${50 + 1}Q75,${50 + 2.2 * dent} ${75 + wide},${51}Q75,${44} ${
            75 - wide
          },51Z`,
          "fill:var(--paper);stroke:var(--ink);stroke-width:1",
        )
        : stroke("", [66, 49], [84, 49], "stroke:var(--paper);stroke-width:1"),
      stroke("axis", [2, 80], [148, 80]),
    ),
  });
  return handFigure({
    finding:
      "Three cold coins of pitch after a thumbnail: a deep dent at once, too soft; a clear mark within some seconds, right; hardly a line after half a minute, too hard.",
    bold: "The cold coin decides.",
    caption: "Cooled ten minutes in water of the polishing room. Count aloud.",
    panels: [
      coin(14, 24, "at once: too soft"),
      coin(5, 14, "5 to 20 s: right"),
      coin(0, 0, "none in 30 s: too hard"),
    ],
  });
}

/** The channels from above and in section: open, closing, closed. */
export function channels({ lap }: HandNumbers): HandShown {
  const k = 1.5, r = k * lap.diameter / 2, middle: Point = [122, 136];
  const shift: Point = [k * lap.offset[0], k * lap.offset[1]], lines: Html[] = [];
  const ends = (at: number): number => Math.sqrt(Math.max(0, r * r - at * at));
  for (let i = -4; i <= 4; i++) {
    const x = shift[0] + i * k * lap.spacing, y = shift[1] + i * k * lap.spacing;
    const style = `stroke:var(--paper);stroke-width:${k * lap.channel};fill:none`;
    if (Math.abs(x) < r) {
      lines.push(
        stroke(
          "",
          [middle[0] + x, middle[1] - ends(x)],
          [middle[0] + x, middle[1] + ends(x)],
          style,
        ),
      );
    }
    if (Math.abs(y) < r) {
      lines.push(
        stroke(
          "",
          [middle[0] - ends(y), middle[1] + y],
          [middle[0] + ends(y), middle[1] + y],
          style,
        ),
      );
    }
  }
  const crossing: Point = [middle[0] + shift[0], middle[1] + shift[1]];
  const plan = group(
    dot("", middle, r, pitch),
    ...lines,
    dot("rim", middle, r),
    dot("", middle, 4, "fill:var(--rouge);stroke:var(--paper);stroke-width:1.5"),
    named("the tool’s middle", [246, 14], middle, "end"),
    stroke("lead", crossing, [crossing[0] + 74, 254]),
    words([246, 266], "a crossing", { anchor: "end" }),
  );
  const s = 11, low = 86, layer = s * lap.thickness * 0.62;
  const section = (open: number): Html => {
    const gapWide = s * lap.channel * 0.62 * open,
      deep = s * lap.depth * 0.62 * (open < 0.05 ? 0.2 : 1);
    return group(
      rect("body", [4, low], 192, 24),
      rect("", [4, low - layer], 192, layer, pitch),
      path(
        "",
        through([
          [100 - gapWide / 2 - 5 * open, low - layer - 1],
          [100 + gapWide / 2 + 5 * open, low - layer - 1],
          [100 + gapWide / 2, low - layer + deep],
          [100 - gapWide / 2, low - layer + deep],
        ], true),
        "fill:var(--paper);stroke:none",
      ),
      open > 0.8
        ? group(
          across(100 - gapWide / 2, 100 + gapWide / 2, low - layer - 10),
          words([100, low - layer - 18], `${lap.channel} mm`, { anchor: "middle" }),
        )
        : group(),
      words([8, low + 16], "tool", { kind: "soft" }),
    );
  };
  return handFigure({
    finding:
      `A lap from above, to scale: channels every ${lap.spacing} millimetres, ${lap.channel} wide; the tool’s middle lies ${
        lap.offset[0]
      } and ${
        lap.offset[1]
      } millimetres off a crossing. In section a channel is open, closing, closed; it never reaches the glass.`,
    bold: "Channels let the pitch flow and the slurry in.",
    caption:
      "Off the middle, so that no ring of the mirror always meets an edge. Recut when a channel is half as deep as it was.",
    panels: [
      { wide: 246, high: 270, label: "from above, to scale", contents: plan },
      {
        wide: 200,
        high: 270,
        label: "above: open; below: closing, recut it wet and cold",
        contents: group(section(1), moved(0, 130, section(0.4))),
      },
    ],
  });
}

/** Contact seen through the mirror's back. */
export function contact({ lap }: HandNumbers): HandShown {
  const r = 74, middle: Point = [80, 80], k = r / (lap.diameter / 2);
  const seen = (tone: (share: number, x: number, y: number) => number): Html => {
    const cells: Html[] = [];
    for (let i = -4; i <= 4; i++) {
      for (let j = -4; j <= 4; j++) {
        const x = k * (lap.offset[0] + i * lap.spacing + lap.spacing / 2);
        const y = k * (lap.offset[1] + j * lap.spacing + lap.spacing / 2);
        const size = k * (lap.spacing - lap.channel), share = Math.hypot(x, y) / r;
        if (share > 0.84) continue;
        cells.push(
          rect(
            "",
            [middle[0] + x - size / 2, middle[1] + y - size / 2],
            size,
            size,
            `fill:${unlit};fill-opacity:${
              tone(share, x, y).toFixed(2)
            };stroke:var(--line);stroke-width:.5`,
          ),
        );
      }
    }
    return group(
      dot("", middle, r, `fill:${lit};stroke:var(--glass);stroke-width:1.3`),
      ...cells,
    );
  };
  return handFigure({
    finding:
      "A lap seen through the back of the mirror: every facet one dull tone, full contact; a pale ring at the rim, it does not touch there; pale spots, bubbles.",
    bold: "One dull tone, everywhere.",
    caption:
      "Dark touches, pale does not. Press until the pale is gone; pale facets after an hour are warmed and pressed by an adult.",
    panels: [
      { wide: 160, high: 160, label: "full: go on", contents: seen(() => 0.7) },
      {
        wide: 160,
        high: 160,
        label: "rim not yet: press",
        contents: seen((s) => s > 0.62 ? 0.12 : 0.7),
      },
      {
        wide: 160,
        high: 160,
        label: "bubbles: press, wet",
        contents: group(
          seen(() => 0.7),
          ...[[58, 60], [98, 104], [104, 62]].map(([x = 0, y = 0]) =>
            dot("", [x, y], 9, `fill:${lit};stroke:var(--line)`)
          ),
        ),
      },
    ],
  });
}

/** How pits go hour by hour: the middle first, the rim last. */
export function clearing(): HandShown {
  const r = 74, middle: Point = [80, 80];
  const at = (left: readonly [number, number, number], seed: number): Html => {
    const draw = random(seed);
    const rings = [[0, 0.45], [0.45, 0.8], [0.8, 0.97]] as const;
    const bits = rings.flatMap(([from, to], i) =>
      Array.from({ length: left[i] ?? 0 }, () => {
        const out = Math.sqrt(from * from + (to * to - from * from) * draw.uniform());
        return dot(
          "",
          around(middle, r * out, 360 * draw.uniform()),
          1.1,
          "fill:var(--ink);stroke:none",
        );
      })
    );
    return group(
      dot("body", middle, r),
      dot("rim", middle, r),
      ...bits,
      path("lead", through(arc(middle, 0.45 * r, 0, 360), true), "stroke-dasharray:3 3"),
      path("lead", through(arc(middle, 0.8 * r, 0, 360), true), "stroke-dasharray:3 3"),
    );
  };
  return handFigure({
    finding:
      "Three discs with the pits that are left: early pits everywhere; later the middle is clear, some are left at seven tenths of the radius and many at the rim; at last a few at the rim alone.",
    bold: "The rim decides.",
    caption: "Drawn, not counted. The middle shines long before the rim is polished out.",
    panels: [
      { wide: 160, high: 160, label: "early", contents: at([60, 120, 110], 5) },
      { wide: 160, high: 160, label: "later", contents: at([0, 26, 74], 6) },
      { wide: 160, high: 160, label: "last", contents: at([0, 0, 7], 7) },
    ],
  });
}
