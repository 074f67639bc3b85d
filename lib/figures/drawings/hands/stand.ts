/** The test stand in drawings: its parts and the light's way, the image found, shadows, places of the knife, zones, settings, hooks. */
import { isNarrow } from "../../figure.ts";
import type { Html } from "../../html.ts";
import { across, dot, group, path, type Point, rect, stroke, through, words } from "../../pen.ts";
import type { HandNumbers } from "./names.ts";
import {
  arc,
  around,
  arrow,
  bothWays,
  handFigure,
  type HandShown,
  lit,
  moved,
  named,
  type Panel,
  unlit,
} from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";
const dark = `fill:${unlit};fill-opacity:.8;stroke:none`;
const grey = `fill:${unlit};fill-opacity:.4;stroke:none`;

/** A mirror as the eye sees it behind the knife: lit, with a shadow. */
function disc(contents: Html, r = 70): Html {
  const middle: Point = [r + 6, r + 6];
  return group(
    dot("", middle, r, `fill:${lit};stroke:var(--line);stroke-width:1.2`),
    contents,
  );
}

/** The whole stand from the side, and the tester from above. */
export function stand({ radius }: HandNumbers): HandShown {
  const side = (width: number): Html => {
    const right = width - 16, small = isNarrow(width), top = 96;
    return group(
      stroke("axis", [2, 214], [width - 2, 214]),
      rect("", [right - 74, 146], 82, 8, wood),
      rect("", [right - 64, 154], 8, 60, wood),
      rect("", [right - 10, 154], 8, 60, wood),
      rect("", [8, 146], 108, 8, wood),
      rect("", [18, 154], 8, 60, wood),
      rect("", [98, 154], 8, 60, wood),
      path(
        "body",
        `M${right - 24},${top - 38}Q${right - 16},${top} ${right - 24},${top + 38}H${right - 8}V${
          top - 38
        }Z`,
      ),
      path("polished", `M${right - 24},${top - 38}Q${right - 16},${top} ${right - 24},${top + 38}`),
      stroke("", [right - 4, top - 46], [right + 2, 146], "stroke:var(--ink);stroke-width:4"),
      stroke("", [right - 38, 146], [right - 4, 146], "stroke:var(--ink);stroke-width:4"),
      stroke(
        "",
        [right - 4, top - 30],
        [right - 28, top - 30],
        "stroke:var(--line);stroke-width:1.5",
      ),
      path("zone-b", through([[74, top], [right - 22, top - 36], [right - 22, top + 36]], true)),
      stroke("ray", [74, top], [right - 22, top - 36], "stroke-width:.8"),
      stroke("ray", [74, top], [right - 22, top + 36], "stroke-width:.8"),
      rect("", [64, top - 20], 5, 66, "fill:var(--ink);stroke:none"),
      rect("steel", [40, top - 8], 22, 16),
      rect("", [56, 136], 44, 10, wood),
      dot("", [22, top], 9, "fill:var(--paper);stroke:var(--ink)"),
      dot("mine", [24, top], 3),
      words([12, top - 18], "eye"),
      named("lamp, slit", [40, small ? 40 : 48], [50, top - 8]),
      named("knife", [88, 70], [68, top - 14]),
      named("slide with dial", [120, 140], [98, 141]),
      words([right + 8, 22], small ? "mirror, strap" : "mirror on two rim rests, strap loose", {
        anchor: "end",
      }),
      stroke("lead", [right - 40, 26], [right - 22, top - 32]),
      across(66, right - 22, 184),
      words([(66 + right) / 2, 178], `R = ${Math.round(radius)} mm`, { anchor: "middle" }),
      words(
        [(66 + right) / 2, 202],
        small ? "all at one height" : "slit, knife and the mirror’s middle at one height",
        { anchor: "middle", kind: "soft" },
      ),
    );
  };
  const above = group(
    rect("", [22, 12], 116, 150, wood),
    rect("steel", [30, 24], 42, 42),
    words([50, 50], "lamp", { anchor: "middle" }),
    stroke("", [72, 34], [72, 66], "stroke:var(--ink);stroke-width:3"),
    stroke("", [72, 47], [72, 52], "stroke:var(--paper);stroke-width:4"),
    stroke("", [32, 76], [92, 76], "stroke:var(--ink);stroke-width:4"),
    rect("steel", [62, 92], 30, 30),
    path("", through([[72, 92], [76, 92], [74, 82]], true), "fill:var(--ink);stroke:none"),
    stroke("", [74, 96], [74, 120], "stroke:var(--ink);stroke-width:2"),
    dot("", [16, 100], 8, "fill:var(--paper);stroke:var(--ink)"),
    dot("mine", [18, 100], 3),
    stroke("ray", [74, 49], [268, 76], "stroke-width:.9"),
    stroke("ray", [268, 76], [26, 104], "stroke-width:.9;stroke-dasharray:5 3"),
    words([270, 60], "to the", { anchor: "end" }),
    words([270, 100], "mirror", { anchor: "end" }),
    named("slit", [150, 30], [74, 49]),
    named("knife", [150, 138], [76, 108]),
    words([150, 158], "beside the slit"),
    named("screen for the eye", [4, 182], [40, 77]),
  );
  return handFigure({
    finding: `The test stand from the side: eye, lamp with slit, and knife on a slide, ${
      Math.round(radius)
    } millimetres before the mirror, which stands upright on two rim rests with a loose strap. From above: the slit sends light to the mirror, and it comes back beside the slit, past the knife, into the eye; a screen keeps the lamp from the eye.`,
    bold: "Every part has a name.",
    caption:
      "Whole line: light on its way out; dashed: on its way back. Slit and knife stand side by side at the centre of curvature. The distance is not to scale.",
    panels: (width) => [
      {
        wide: Math.min(width, 600),
        high: 220,
        label: "from the side",
        contents: side(Math.min(width, 600)),
      },
      { wide: 280, high: 190, label: "the tester from above", contents: above },
    ],
  });
}

/** How the returned image is found: the patch on the card, then smallest, then the eye behind it. */
export function imageFound(): HandShown {
  const set = (cardX: number, spot: number, y: number): Html =>
    group(
      stroke("axis", [4, 134], [268, 134]),
      path("body", "M244,30Q252,78 244,126H260V30Z"),
      path("polished", "M244,30Q252,78 244,126"),
      rect("steel", [22, 86], 26, 16),
      stroke("ray", [48, 94], [246, 38], "stroke-width:.8"),
      stroke("ray", [48, 94], [246, 118], "stroke-width:.8"),
      stroke("ray", [246, 38], [cardX, y + spot], "stroke-width:.8;stroke-dasharray:5 3"),
      stroke("ray", [246, 118], [cardX, y - spot], "stroke-width:.8;stroke-dasharray:5 3"),
      rect("", [cardX - 4, y - 26], 4, 46, "fill:var(--paper);stroke:var(--ink)"),
      stroke(
        "",
        [cardX + 1, y - spot],
        [cardX + 1, y + spot],
        `stroke:var(--glass);stroke-width:4;stroke-linecap:round`,
      ),
    );
  return handFigure({
    finding:
      "Finding the returned image in three pictures: tilt the mirror until its patch of light lands on a white card beside the lamp; move the card until the patch is smallest; then put the knife there, the card away, the eye behind it: the whole disc shines.",
    bold: "First the patch, then the eye.",
    caption:
      "Move the card, not the mirror. Only part of the disc shines: move your eye first, then tilt.",
    panels: [
      {
        wide: 272,
        high: 142,
        label: "1 tilt: the patch lands on the card",
        contents: group(
          set(96, 15, 66),
          words([66, 24], "card"),
          arrow([226, 20], [238, 26]),
          words([176, 16], "tilt"),
        ),
      },
      {
        wide: 272,
        high: 142,
        label: "2 move the card: smallest",
        contents: group(set(50, 2.5, 66), bothWays([30, 30], [84, 30])),
      },
      {
        wide: 272,
        high: 142,
        label: "3 what your eye behind it sees",
        contents: group(
          moved(2, 4, disc(dot("", [46, 46], 39, `fill:${lit};stroke:none`), 40)),
          words([50, 118], "whole: right", { anchor: "middle" }),
          moved(
            154,
            4,
            disc(path("", through(arc([46, 46], 40, -60, 120), true), dark), 40),
          ),
          words([200, 118], "part: move your eye,", { anchor: "middle" }),
          words([200, 135], "then tilt", { anchor: "middle" }),
        ),
      },
    ],
  });
}

/** The knife askew and square. */
export function shadow(): HandShown {
  const r = 70, middle: Point = [76, 76];
  const slit = (high: number, low: number): Html =>
    group(
      rect("", [4, 4], 144, 144, "fill:none;stroke:var(--line)"),
      rect("", [68, 22], 8, 108, "fill:var(--glass);stroke:none"),
      path(
        "",
        through([[high, 4], [148, 4], [148, 148], [low, 148]], true),
        "fill:var(--tint);stroke:var(--ink)",
      ),
      words([120, 80], "blade", { anchor: "middle", kind: "soft" }),
    );
  const front = (degrees: number): Html =>
    disc(path("", through(arc(middle, r, 90 + degrees, 270 + degrees), true), grey));
  return handFigure({
    finding:
      "The slit’s image on the blade, and what the eye sees. Askew: the blade cuts one end of the slit’s image first, and a slanted front runs over the disc. Square: the blade cuts all of it at once, and the disc dims evenly.",
    bold: "Square the knife first.",
    caption: "Turn the blade, looking at the slit’s image on it through a magnifier.",
    panels: [
      { wide: 152, high: 152, label: "askew: the slit’s image", contents: slit(92, 56) },
      { wide: 152, high: 152, label: "seen: a slanted front", contents: front(30) },
      { wide: 152, high: 152, label: "square: all at once", contents: slit(73, 73) },
      {
        wide: 152,
        high: 152,
        label: "seen: dims evenly",
        contents: disc(dot("", middle, r, grey)),
      },
    ],
  });
}

/** Shadow from the knife's side, all grey, from the other side; and why. */
export function knifePlaces(): HandShown {
  const r = 60, middle: Point = [66, 66];
  const rays = (knife: number): Html => {
    const cross = 84, last = 156;
    return group(
      path("polished", "M4,10Q12,40 4,70"),
      stroke("ray", [6, 12], [last, 40 + 28 * (last - cross) / cross], "stroke-width:.9"),
      stroke("ray", [6, 68], [last, 40 - 28 * (last - cross) / cross], "stroke-width:.9"),
      path(
        "",
        through([[knife - 4, 84], [knife + 4, 84], [knife, knife === cross ? 41 : 46]], true),
        "fill:var(--ink);stroke:none",
      ),
      dot("", [last + 10, 40], 8, "fill:var(--paper);stroke:var(--ink)"),
    );
  };
  const half = (left: boolean): Html =>
    disc(path("", through(arc(middle, r, left ? 90 : -90, left ? 270 : 90), true), dark), r);
  const place = (label: string, seen: Html, knife: number): Panel => ({
    wide: 184,
    high: 236,
    label,
    contents: group(moved(26, 0, seen), moved(2, 142, rays(knife))),
  });
  return handFigure({
    finding:
      "The knife comes from the left. Inside, nearer the mirror than the centre of curvature, the shadow comes from the left too; at the centre all turns grey at once; outside, farther away, the shadow comes from the right. Below each, rays that cross at the centre show why.",
    bold: "From the knife’s side: inside.",
    caption:
      "From the left like the knife: slide back, away from the mirror. From the other side: slide in. Below each disc the light from above: the mirror at the left, the eye at the right, the knife before, at or behind the crossing.",
    panels: [
      place("inside: from the left too", half(true), 58),
      place("at the centre: all at once", disc(dot("", middle, r, grey), r), 84),
      place("outside: from the right", half(false), 112),
    ],
  });
}

/** What both windows of a zone look like: unequal, equal. */
export function zones(): HandShown {
  const r = 74, middle: Point = [80, 80];
  const seen = (left: number, right: number): Html => {
    const window = (from: number, to: number, tone: number): Html =>
      group(
        path(
          "",
          through([...arc(middle, 58, from, to, 20), ...arc(middle, 40, to, from, 20)], true),
          `fill:${lit};stroke:var(--line)`,
        ),
        path(
          "",
          through([...arc(middle, 58, from, to, 20), ...arc(middle, 40, to, from, 20)], true),
          `fill:${unlit};fill-opacity:${tone};stroke:none`,
        ),
      );
    return group(
      dot("", middle, r, `fill:${unlit};fill-opacity:.9;stroke:var(--line)`),
      window(150, 210, left),
      window(-30, 30, right),
    );
  };
  return handFigure({
    finding:
      "A mask before the mirror with one pair of windows open. Left window darker: the knife is inside this zone’s centre. Both equally grey: read. Right window darker: outside.",
    bold: "Read when both grey alike.",
    caption:
      "The knife comes from the left, from the same side each time. Look at the pair, not at one window.",
    panels: [
      { wide: 160, high: 160, label: "inside: slide back", contents: seen(0.8, 0.15) },
      { wide: 160, high: 160, label: "alike: say “now”", contents: seen(0.42, 0.42) },
      { wide: 160, high: 160, label: "outside: slide in", contents: seen(0.15, 0.8) },
    ],
  });
}

/** A double run: there and back, and why a drift cancels. */
export function thereBack(): HandShown {
  const zone = [1, 2, 3, 4, 5, 5, 4, 3, 2, 1], k = 25;
  const sheet = group(
    ...zone.map((n, i) => {
      const x = 26 + k * i, drift = 96 - 4.2 * i;
      return group(
        dot(i < 5 ? "mine" : "theirs", [x, drift], 5),
        words([x, 132], String(n), { anchor: "middle" }),
      );
    }),
    stroke("limit", [16, 98], [264, 56]),
    words([20, 20], "the dial creeps: each reading a little higher"),
    ...[0, 2, 4].map((i) => {
      const a: Point = [26 + k * i, 96 - 4.2 * i],
        b: Point = [26 + k * (9 - i), 96 - 4.2 * (9 - i)];
      return path(
        "lead",
        `M${a[0]},${a[1] - 7}Q${(a[0] + b[0]) / 2},${24 + 9 * i} ${b[0]},${b[1] - 7}`,
        "stroke-dasharray:3 3",
      );
    }),
    stroke("axis", [10, 114], [268, 114]),
    words([10, 152], "zone, in the order of reading", { kind: "soft" }),
  );
  return handFigure({
    finding:
      "Ten readings in the order one, two, three, four, five, five, four, three, two, one, on a dial that creeps steadily. The mean of both readings of a zone lies on one level for all zones: the drift cancels.",
    bold: "There and back: a steady drift cancels.",
    caption:
      "Filled: there; open: back. Both readings of a zone lie as far before as behind the middle. One way alone would mix drift with shape.",
    panels: [{ wide: 278, high: 158, label: "one double run", contents: sheet }],
  });
}

/** The four settings at right angles, in the degrees of zones.csv. */
const SETTINGS = [
  { letter: "A", angleDeg: 0, knifeDeg: 0, label: "arrow up, knife upright" },
  { letter: "B", angleDeg: 0, knifeDeg: 90, label: "knife turned, glass untouched" },
  { letter: "C", angleDeg: 90, knifeDeg: 0, label: "arrow left, knife upright" },
  { letter: "D", angleDeg: 90, knifeDeg: 90, label: "arrow left, knife turned" },
] as const;

/**
 * Where the mirror's mark stands at an `angle_deg` of the record, seen from the tester: counter-clockwise from the top.
 *
 * @param angleDeg  degrees
 */
export function markAt(middle: Point, radius: number, angleDeg: number): Point {
  return around(middle, radius, -90 - angleDeg);
}

/** The four settings: arrow up or left, knife upright or turned; as the maker sees them from the tester. */
export function fourSettings(): HandShown {
  const middle: Point = [84, 70];
  const setting = (letter: string, angleDeg: number, isFlat: boolean): Html => {
    const mark = markAt(middle, 52, angleDeg), beside = markAt(middle, 62, angleDeg);
    return group(
      dot("body", middle, 52),
      dot("rim", middle, 52),
      arrow(middle, markAt(middle, 44, angleDeg)),
      dot("mark", mark, 4, "fill:var(--ink);stroke:none"),
      words(
        [beside[0] - (angleDeg === 0 ? 0 : 4), beside[1] + (angleDeg === 0 ? 2 : 5)],
        `${angleDeg}°`,
        {
          anchor: angleDeg === 0 ? "middle" : "end",
          kind: "soft",
        },
      ),
      words([10, 20], letter, { kind: "b" }),
      isFlat
        ? path(
          "",
          through([[142, 88], [190, 88], [190, 98], [142, 100]], true),
          "fill:var(--tint);stroke:var(--ink)",
        )
        : path(
          "",
          through([[160, 38], [172, 38], [170, 102], [160, 102]], true),
          "fill:var(--tint);stroke:var(--ink)",
        ),
      words([164, 122], "knife", { anchor: "middle", kind: "soft" }),
    );
  };
  return handFigure({
    finding:
      "Four settings, as you see them from the tester. A: arrow up, angle_deg 0, knife upright. B: arrow up, knife and slit turned by a quarter, the glass untouched. C: arrow to the left, angle_deg 90, knife upright. D: arrow to the left, knife turned. Glass is B less A plus C less D, halved.",
    bold: "Glass = half of (B − A) + (C − D).",
    caption:
      "As you see it from the tester: counter-clockwise is to the left. A dot on the rim shows where the arrow on the back points. Stand, air and the mirror’s seat cancel. Then the same with the arrow half-way between, to the upper left, angle_deg 45: two diameters at right angles are blind to what lies between them.",
    panels: SETTINGS.map(({ letter, angleDeg, knifeDeg, label }) => ({
      wide: 200,
      high: 128,
      label,
      contents: setting(letter, angleDeg, knifeDeg === 90),
    })),
  });
}

/** Ends of the bands on both sides: straight, hooked. */
export function hooks(): HandShown {
  const r = 66, middle: Point = [72, 72];
  // a ray from (x, y) meets the grating at x (D + k r^2): inside D > 0 the ends draw together, outside apart; a rim turned down
  // has its focus farther off still, so that its ends go on the same way, steeply
  const bands = (bend: number, hook: number): Html => {
    const lines = [-42, -14, 14, 42].map((c) => {
      const points: Point[] = [];
      for (let y = -r; y <= r; y += 1) {
        const share = Math.hypot(c, y) / r;
        const x = c * (1 - bend * (y / r) ** 2) -
          Math.sign(c) * hook * Math.max(0, share - 0.92) * 70;
        if (Math.hypot(x, y) < r - 2) points.push([middle[0] + x, middle[1] + y]);
      }
      return path(
        "",
        through(points),
        `fill:none;stroke:${unlit};stroke-width:10;stroke-linejoin:round;stroke-opacity:.75`,
      );
    });
    return disc(group(...lines), r);
  };
  return handFigure({
    finding:
      "Bands of a paraboloid inside and outside the centre of curvature, bent like brackets, their ends running straight off the glass; and beside them bands whose last bits hook, inside one way and outside the other: a turned edge.",
    bold: "Look at the very ends.",
    caption:
      "Hooks go opposite ways inside and outside. Leave the rim, press longer, shorten the stroke, trim the lap.",
    panels: [
      { wide: 144, high: 144, label: "inside: ( ) good", contents: bands(0.2, 0) },
      { wide: 144, high: 144, label: "outside: ) ( good", contents: bands(-0.28, 0) },
      { wide: 144, high: 144, label: "inside, turned edge", contents: bands(0.2, 0.9) },
      { wide: 144, high: 144, label: "outside, turned edge", contents: bands(-0.28, -0.9) },
    ],
  });
}
