/** Discs and measuring in drawings: strain, marks, bevel, leaves, spherometer, lamp, Sun, pits. */
import { random } from "../../../numeric/random.ts";
import type { Html } from "../../html.ts";
import {
  across,
  dot,
  dots,
  down,
  group,
  path,
  type Point,
  rect,
  stroke,
  through,
  words,
} from "../../pen.ts";
import type { HandNumbers } from "./names.ts";
import {
  arc,
  around,
  arrow,
  drops,
  hand,
  handFigure,
  type HandShown,
  limbs,
  lit,
  named,
  notSo,
  turnArrow,
  unlit,
} from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";

/** What crossed polarising films show of a disc. */
export function strain(): HandShown {
  const r = 68, middle: Point = [76, 76];
  const disc = (contents: Html, grey = 0.86): Html =>
    group(
      rect("", [0, 0], 152, 152, `fill:${unlit};fill-opacity:.8;stroke:none`),
      dot("", middle, r, `fill:${unlit};fill-opacity:${grey};stroke:var(--line)`),
      contents,
    );
  const soft = `fill:none;stroke:${lit};stroke-opacity:.28;stroke-width:15;stroke-linecap:round`;
  return handFigure({
    finding:
      "Three discs between crossed polarising films: evenly dark, good; dark with one soft symmetrical cross, good; with lopsided bright patches and rows of spots, refused.",
    bold: "Look before you grind.",
    caption:
      "Hold the film before a white screen, turn it to darkest, put the disc between. Toughened glass bursts under the grains: colours or spots, and it is never ground.",
    panels: [
      { wide: 152, high: 152, label: "dark: good", contents: disc(group()) },
      {
        wide: 152,
        high: 152,
        label: "one even cross: good",
        contents: disc(group(
          ...[45, 135, 225, 315].map((at) =>
            stroke("", around(middle, 26, at), around(middle, 50, at), soft)
          ),
        )),
      },
      {
        wide: 152,
        high: 152,
        label: "patches, spots: never",
        contents: disc(group(
          path(
            "",
            "M30,60Q48,24 92,28Q70,52 58,92Q34,92 30,60Z",
            `fill:${lit};fill-opacity:.6;stroke:none`,
          ),
          ...Array.from(
            { length: 12 },
            (_, i) =>
              dot(
                "",
                [78 + 15 * (i % 4), 76 + 17 * Math.floor(i / 4)],
                4.5,
                `fill:${lit};fill-opacity:.75;stroke:none`,
              ),
          ),
          notSo([10, 10], 132, 132),
        )),
      },
    ],
  });
}

/** The back of a disc with its marks. */
export function marks(): HandShown {
  const r = 88, middle: Point = [100, 100];
  const back = (good: boolean): Html =>
    group(
      dot("body", middle, r),
      dot("rim", middle, r),
      good
        ? group(
          arrow([100, 62], [100, 16]),
          ...[0, 90, 180].map((at) => dot("mine", around(middle, r - 12, at), 4)),
          words([100, 92], "mirror", { anchor: "middle", kind: "b" }),
          words([100, 112], "its record’s name", { anchor: "middle" }),
          named("twelve o’clock", [186, 24], [104, 34]),
        )
        : group(
          ...[270, 30, 150].map((at) => dot("mine", around(middle, r - 14, at), 4)),
          notSo([54, 54], 92, 92),
        ),
    );
  return handFigure({
    finding:
      "The back of a disc: an arrow to the rim at twelve o’clock, dots at three, six and nine, the word mirror and the record’s name. Beside it marks at thirds, crossed out.",
    bold: "Twelve, three, six, nine.",
    caption:
      "Marks at thirds tempt the hands to turn by thirds, and each third wears its own hollow.",
    panels: [
      { wide: 260, high: 200, label: "the back", contents: back(true) },
      { wide: 200, high: 200, label: "never at thirds", contents: back(false) },
    ],
  });
}

/** The rim in section with stone and card, and the rubbing hand from above. */
export function bevel({ bevel: [least, most] }: HandNumbers): HandShown {
  const k = 26, leg = k * (least + most) / 2, left = 96, top = 70;
  const section = group(
    path(
      "body",
      through([[left + leg, top], [262, top], [262, 170], [left, 170], [left, top + leg]], true),
    ),
    path("rim", through([[262, top], [left + leg, top], [left, top + leg], [left, 170]])),
    path(
      "",
      through([
        [left - 34, top + leg + 26],
        [left + leg + 18, top - 26],
        [left + leg + 2, top - 42],
        [left - 50, top + leg + 10],
      ], true),
      wood,
    ),
    words([4, 20], "wet stone"),
    stroke("lead", [40, 25], [left - 14, top + 2]),
    drops([left - 40, top - 14]),
    across(left, left + leg, 190),
    stroke("lead", [left + leg, top], [left + leg, 184]),
    words([left + leg + 12, 194], `${least} to ${most} mm`),
    stroke("lead", [left, top], [left + leg, top]),
    down(left - 66, top, top + leg),
    stroke("lead", [left - 60, top], [left, top]),
    stroke("lead", [left - 60, top + leg], [left, top + leg]),
    words([4, top + leg + 62], `${least} to`),
    words([4, top + leg + 79], `${most} mm`),
    words([210, 128], "glass", { anchor: "middle", kind: "soft" }),
    words([216, 62], "face", { anchor: "middle", kind: "soft" }),
  );
  const r = 230, centre: Point = [132, 312];
  const above = group(
    path("body", through([...arc(centre, r, 238, 302), ...arc(centre, r - 84, 302, 238)], true)),
    path("rim", through(arc(centre, r, 238, 302))),
    path("lead", through(arc(centre, r - 9, 238, 302))),
    path(
      "",
      through([...arc(centre, r + 16, 260, 280, 8), ...arc(centre, r - 9, 280, 260, 8)], true),
      wood,
    ),
    hand([128, 48], 84, "right", 0.9),
    turnArrow(centre, r + 26, 284, 299),
    turnArrow(centre, r + 26, 256, 241),
    words([132, 150], "along the rim,", { anchor: "middle" }),
    words([132, 167], "never off the edge", { anchor: "middle" }),
  );
  return handFigure({
    finding:
      `Left, the rim cut through: a wet stone lies at half a right angle across the edge; both legs of the bevel are ${least} to ${most} millimetres. Right, from above: a hand strokes the stone along the rim.`,
    bold: "Both legs alike, all round.",
    caption:
      "The section is drawn seven times as large. Stroke along the rim, a little inward; clicks mean that the stone breaks chips out.",
    panels: [
      { wide: 270, high: 200, label: "the rim, cut through", contents: section },
      { wide: 264, high: 200, label: "from above", contents: above },
    ],
  });
}

/** Leaves under the straight-edge, and the two hands: go and no-go. */
export function leaves({ aperture, radius }: HandNumbers): HandShown {
  const wide = 264, bow = 30, deep = aperture ** 2 / 4 / 2 / radius;
  const mirror = (contents: Html): Html =>
    group(
      path("body", `M6,84Q138,${84 + 2 * bow} 270,84V150H6Z`),
      path("ground", `M6,84Q138,${84 + 2 * bow} 270,84`),
      rect("steel", [0, 64], 276, 20),
      contents,
    );
  const stack = (count: number, x: number, lift: number): Html =>
    group(
      ...Array.from({ length: count }, (_, i) =>
        rect(
          "",
          [x, 84 + bow - 7 * (i + 1) + 3 - lift],
          118,
          6,
          "fill:var(--paper);stroke:var(--ink);stroke-width:1",
        )),
    );
  const exaggeration = Math.round(bow / (deep * wide / aperture));
  return handFigure({
    finding:
      `A straight-edge lies across the hollow mirror, its depth drawn ${exaggeration} times too deep. Left: four leaves slide in flat under its middle with a light drag, go. Right: with a fifth they stop at the edge, no-go.`,
    bold: "Go slips, no-go stops.",
    caption:
      `The depth is drawn ${exaggeration} times too deep. Slide flat, never push: pushed leaves lift the straight-edge.`,
    panels: [
      {
        wide: 276,
        high: 156,
        label: "go: a light drag",
        contents: mirror(group(
          stack(4, 96, 0),
          limbs([[[[268, 112], [226, 106]], 15], [[[270, 100], [222, 98]], 9]]),
          arrow([262, 138], [200, 138]),
          words([8, 56], "straight-edge, on its narrow side"),
        )),
      },
      {
        wide: 276,
        high: 156,
        label: "no-go: it stops",
        contents: mirror(group(
          stack(4, 152, -3),
          rect(
            "",
            [152, 84 + bow - 34 - 3],
            118,
            6,
            "fill:var(--paper);stroke:var(--ink);stroke-width:1",
          ),
          stroke("", [146, 78], [146, 116], "stroke:var(--rouge);stroke-width:3"),
          words([8, 56], "never push"),
        )),
      },
    ],
  });
}

/** Spherometer: feet on the plate, on the mirror; how it is lifted and turned. */
export function spherometer(): HandShown {
  const body = (drop: number, low: (x: number) => number): Html =>
    group(
      rect("steel", [46, 66], 140, 12),
      ...[54, 168].map((x) => rect("steel", [x, 78], 10, low(x + 5) - 78)),
      rect("steel", [111, 30], 10, 36),
      path(
        "steel",
        through(
          [[113, 78], [119, 78], [119, 108 + drop], [116, 114 + drop], [113, 108 + drop]],
          true,
        ),
      ),
      dot("theirs", [116, 22], 20),
      stroke("dim", [116, 22], around([116, 22], 15, -60 + 14 * drop)),
    );
  const plan = group(
    dot("body", [96, 96], 90),
    dot("rim", [96, 96], 90),
    ...[270, 30, 150].map((at) => dot("steel", around([96, 96], 52, at), 7)),
    dot("mine", [96, 96], 4),
    path("lead", through(arc([96, 96], 52, 0, 360), true), "stroke-dasharray:4 4"),
    turnArrow([96, 96], 70, 280, 380),
  );
  return handFigure({
    finding:
      "A spherometer stands with three feet on a flat plate: the middle pin touches at its zero. On the hollow mirror the pin goes farther down, and the dial shows the difference. From above: three feet on one circle, lifted and turned by a third twice.",
    bold: "Plate, mirror, plate.",
    caption:
      "The depth is drawn much too deep. Both means on the plate must agree: else a foot is dirty, or the instrument is warm.",
    panels: [
      {
        wide: 232,
        high: 150,
        label: "on the flat plate: the zero",
        contents: group(
          body(0, () => 114),
          rect("body", [6, 114], 220, 26),
          rect("rim", [6, 114], 220, 26),
        ),
      },
      {
        wide: 232,
        high: 150,
        label: "on the mirror",
        contents: group(
          path("body", "M6,106Q116,142 226,106V144H6Z"),
          body(10, (x) => 106 + 18 * (1 - ((x - 116) / 110) ** 2)),
          path("ground", "M6,106Q116,142 226,106"),
        ),
      },
      { wide: 192, high: 192, label: "from above: lift, turn by a third", contents: plan },
    ],
  });
}

/** Lamp and card at the centre of curvature of the wet mirror. */
export function lamp({ radius }: HandNumbers): HandShown {
  const draw = (width: number): Html => {
    const right = width - 8, box = 86;
    return group(
      rect("", [20, 100], box - 12, 44, wood),
      rect("", [52, 62], 4, 40, "fill:var(--ink);stroke:none"),
      rect("steel", [22, 74], 26, 14),
      path("zone-b", through([[56, 80], [right - 16, 40], [right - 16, 132]], true)),
      stroke("ray", [56, 80], [right - 16, 40], "stroke-width:.8"),
      stroke("ray", [right - 16, 40], [56, 92], "stroke-width:.8;stroke-dasharray:5 3"),
      stroke("ray", [56, 80], [right - 16, 132], "stroke-width:.8"),
      stroke("ray", [right - 16, 132], [56, 92], "stroke-width:.8;stroke-dasharray:5 3"),
      path("body", `M${right - 18},34Q${right - 8},86 ${right - 18},138H${right}V34Z`),
      path("ground", `M${right - 18},34Q${right - 8},86 ${right - 18},138`),
      dot("mine", [57, 92], 3.5),
      words([12, 52], "torch, card with a hole"),
      named("image on the white card", [104, 126], [60, 94]),
      words([right, 22], "wet mirror", { anchor: "end" }),
      across(54, right - 18, 164),
      words([(54 + right) / 2, 182], `R: about ${Math.round(radius)} mm, not f`, {
        anchor: "middle",
      }),
      stroke("axis", [4, 144], [right, 144]),
    );
  };
  return handFigure({
    finding: `A torch behind a card with a hole stands on one box with a white card, ${
      Math.round(radius)
    } millimetres from the wet mirror. The mirror sends the light back: a sharp image of the hole beside the torch. Where it is sharpest, the box stands at the centre of curvature.`,
    bold: "Look at the card, never for the lamp in the glass.",
    caption:
      "Whole lines: light on its way out; dashed: on its way back. Slide the box until the image is sharpest, then measure.",
    panels: (width) => [{
      wide: Math.min(width, 600),
      high: 186,
      label: "from the side; the distance is not to scale",
      contents: draw(Math.min(width, 600)),
    }],
  });
}

/** The Sun's image on a card, from above: the adult beside, the Sun at the back; a trained adult's work. */
export function sun({ aperture, radius }: HandNumbers): HandShown {
  const k = 230 / (radius / 2), half = k * aperture / 2, middle: Point = [196, 288];
  const image: Point = [middle[0] - k * 130, middle[1] - k * radius / 2];
  const head: Point = [30, 96], right = middle[0] + half + 10;
  const forbidden = { x: middle[0] - 62, y: 118, wide: 140, high: 112 };
  const hatched = Array.from({ length: 12 }, (_, i) => {
    const along = 21 * (i + 1), { x, y, wide, high } = forbidden;
    const from: Point = along < high ? [x, y + along] : [x + along - high, y + high];
    const to: Point = along < wide ? [x + along, y] : [x + wide, y + along - wide];
    return stroke("", from, to, "stroke:var(--rouge);stroke-width:.8");
  });
  const sheet = group(
    ...hatched,
    rect(
      "",
      [forbidden.x, forbidden.y],
      forbidden.wide,
      forbidden.high,
      "fill:none;stroke:var(--rouge);stroke-dasharray:6 4",
    ),
    rect("", [middle[0] - half, 20], 2 * half, middle[1] - 20, "fill:var(--paper);stroke:none"),
    ...[-half + 1, 0, half - 1].map((x) =>
      group(
        stroke("dim", [middle[0] + x, 22], [middle[0] + x, middle[1] - 2]),
        arrow([middle[0] + x, 22], [middle[0] + x, 44]),
      )
    ),
    words([right, 36], "light of the Sun:"),
    words([right, 53], "whole lines"),
    ...[-half, half].map((x) =>
      stroke("", [middle[0] + x, middle[1]], image, "stroke:var(--ink);stroke-dasharray:4 3")
    ),
    words([right, 82], "back to the card:"),
    words([right, 99], "dashed"),
    path(
      "",
      through([[middle[0] - half, middle[1] - 1], [middle[0] + half, middle[1] + 1], [
        middle[0] + half,
        middle[1] + 7,
      ], [middle[0] - half, middle[1] + 5]], true),
      "fill:var(--glass-tint);stroke:var(--ink)",
    ),
    stroke(
      "",
      [image[0] - 10, image[1] - 1],
      [image[0] + 9, image[1] - 1],
      "stroke:var(--ink);stroke-width:4",
    ),
    dot("mine", [image[0], image[1] + 2], 2.5),
    stroke(
      "",
      [head[0] + 22, head[1] - 6],
      [image[0] - 9, image[1] - 1],
      "stroke:var(--ink);stroke-width:2",
    ),
    words([8, image[1] - 34], "card on a stick,"),
    named("an arm long", [8, image[1] - 17], [image[0] - 60, image[1] + 14]),
    words([right - 2, middle[1] - 6], "mirror, covered"),
    words([right - 2, middle[1] + 11], "between readings"),
    limbs([[[[head[0] - 6, head[1] - 18], [head[0] + 2, head[1] + 18]], 22]]),
    limbs([[[[head[0] + 2, head[1] - 14], [head[0] + 24, head[1] - 6]], 9]]),
    dot("", [head[0] - 2, head[1]], 11, "fill:var(--paper);stroke:var(--ink)"),
    words([8, head[1] + 46], "adult beside the"),
    words([8, head[1] + 63], "beam, the Sun at"),
    words([8, head[1] + 80], "the side, face"),
    words([8, head[1] + 97], "to the card only"),
    words([middle[0] + half + 6, 168], "nobody in", { kind: "halo" }),
    words([middle[0] + half + 6, 185], "front of it", { kind: "halo" }),
  );
  return handFigure({
    finding:
      "From above: the Sun’s light falls on the mirror, and the image falls on a card beside the incoming light. An adult stands beside the beam, an arm’s length and a stick away, the Sun at the side, the face turned from the mirror. Nobody stands in front of the mirror. Between readings the mirror is covered.",
    bold: "A trained adult’s work, and not the usual way.",
    caption:
      "Never look at the Sun or at its image on the glass. The shadow of a rod aims; the card catches; the cover goes on before the tape is read. The lamp at R needs no Sun.",
    panels: [{
      wide: 332,
      high: 316,
      label: "from above; mirror and distance to one scale",
      contents: sheet,
    }],
  });
}

/** Pits of each grade as a loupe shows them, at true size on a screen or print of 96 px an inch. */
export function pits({ pits }: HandNumbers): HandShown {
  const r = 46, middle: Point = [50, 50], pxPerMm = 96 / 25.4;
  const field = (um: number, loupe: number, seed: number, stranger: number): Html => {
    const draw = random(seed), size = um / 1000 * loupe * pxPerMm;
    const count = Math.min(150, Math.round(0.16 * Math.PI * r * r / Math.max(1.4, size) ** 2));
    // by widths to a tenth of a pixel; what is finer than a pixel is a grey speck
    const byWidth = new Map<number, Point[]>();
    for (let k = 0; k < count; k++) {
      const out = (r - size / 2 - 2) * Math.sqrt(draw.uniform());
      const at = around(middle, out, 360 * draw.uniform());
      const wide = Math.round(10 * size * (0.6 + 0.5 * draw.uniform())) / 10;
      const shown = wide < 0.9 ? 0 : wide;
      byWidth.set(shown, [...byWidth.get(shown) ?? [], at]);
    }
    const bits = [...byWidth].map(([wide, at]) =>
      wide === 0 ? dots(at, 0.7, "var(--soft)") : dots(at, wide, "var(--ink)")
    );
    const left = Math.max(1.1, stranger / 1000 * loupe * pxPerMm);
    return group(
      dot("", middle, r, "fill:var(--tint);stroke:var(--ink);stroke-width:1"),
      ...bits,
      stranger > 0
        ? group(
          dot("", [64, 38], left / 2, "fill:var(--ink);stroke:none"),
          arrow([88, 16], [66 + left / 2, 36 - left / 3], "var(--rouge)"),
        )
        : group(),
    );
  };
  return handFigure({
    finding: `What a loupe shows of each grade, at true size: ${
      pits.map(({ grade, um, loupe }) => `${grade}, pits of ${um} micrometres at ${loupe} times`)
        .join("; ")
    }. From F500 on single pits can hardly be seen; a left-over pit of the grade before shines out of an even grey.`,
    bold: "Count what is plainly larger.",
    caption:
      "At about true size on a screen of 96 pixels an inch: what lies before your eye behind the loupe. The arrow shows a pit that the grade before left over. Dirt wipes off; no loupe can tell a depth.",
    panels: pits.map(({ grade, um, loupe }, i) => ({
      wide: 104,
      high: 104,
      label: `${grade}, ${loupe} ×`,
      contents: field(um, loupe, 11 + i, pits[i - 1]?.um ?? 0),
    })),
  });
}
