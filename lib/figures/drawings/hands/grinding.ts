/** Grinding in drawings: bench, body, hands, stroke and turn, a charge fresh and spent, cleaning, pencil, stuck discs. */
import { random } from "../../../numeric/random.ts";
import type { Html } from "../../html.ts";
import {
  across,
  dot,
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
  bothWays,
  hand,
  handFigure,
  type HandShown,
  limb,
  limbs,
  named,
  notSo,
  turnArrow,
} from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";

/** The board from above and from the side: cloth, disc, three cleats with a card's play. */
export function bench({ aperture, thickness, cleat }: HandNumbers): HandShown {
  const k = 0.62, r = k * aperture / 2, middle: Point = [130, 130];
  const block = (degrees: number): Html => {
    const near = r + 3,
      [a, b] = [around(middle, near, degrees - 16), around(middle, near, degrees + 16)];
    const [c, d] = [
      around(middle, near + 22, degrees + 12),
      around(middle, near + 22, degrees - 12),
    ];
    return path("", through([a, b, c, d], true), wood);
  };
  const above = group(
    rect("", [6, 6], 248, 248, "fill:none;stroke:var(--ink);stroke-width:1"),
    path(
      "",
      through(arc(middle, r + 14, 0, 360), true),
      "fill:var(--tint);stroke:var(--line);stroke-dasharray:3 3",
    ),
    dot("body", middle, r),
    dot("rim", middle, r),
    block(90),
    block(210),
    block(330),
    words([middle[0], middle[1] + 5], "lower disc", { anchor: "middle" }),
    named("wet cloth", [16, 246], [around(middle, r + 12, 130)[0], around(middle, r + 12, 130)[1]]),
    named("cleat", [246, 24], around(middle, r + 20, 330), "end"),
  );
  const s = 196 / aperture, left = 37, disc = s * aperture, top = 66, low = top + s * thickness;
  const step = s * cleat.below, gapNow = Math.max(1.5, s * cleat.play);
  const wedge = (x: number): Html => rect("", [x, top + step], 20, low - top - step, wood);
  const beside = group(
    rect("", [4, low + 5], 262, 16, wood),
    rect("", [6, low], 258, 5, "fill:var(--tint);stroke:var(--line)"),
    rect("body", [left, top], disc, low - top),
    rect("rim", [left, top], disc, low - top),
    wedge(left - 20 - gapNow),
    wedge(left + disc + gapNow),
    stroke("lead", [left + disc, top], [left + disc + 34, top]),
    down(left + disc + 28, top, top + step),
    words([266, top - 8], `${cleat.below} mm lower`, { anchor: "end" }),
    named("a card’s play", [8, 40], [left - gapNow / 2, top + step + 3]),
    words([135, low + 17], "board, fixed to the table", { anchor: "middle", kind: "soft" }),
  );
  return handFigure({
    finding:
      `A board from above: a disc on a wet cloth between three wooden cleats. From the side the cleats end ${cleat.below} millimetres below the disc’s top, with a card’s play beside it.`,
    bold: "Held, and not clamped.",
    caption:
      "Three cleats keep the disc from creeping and leave it a card’s play; the cloth lies without a fold.",
    panels: [
      { wide: 260, high: 260, label: "from above, to scale", contents: above },
      { wide: 270, high: 120, label: "from the side, to scale", contents: beside },
    ],
  });
}

/** The body at the bench: elbow, height, wrist. */
export function posture({ belowElbow: [least, most] }: HandNumbers): HandShown {
  const person = (good: boolean): Html => {
    const floor = 250, table = good ? 148 : 112;
    const hip: Point = good ? [108, 150] : [96, 154], neck: Point = good ? [124, 78] : [112, 84];
    const shoulder: Point = good ? [126, 88] : [116, 86],
      elbow: Point = good ? [140, 128] : [132, 104];
    const wrist: Point = [good ? 178 : 172, table - 19];
    return group(
      stroke("axis", [4, floor], [266, floor]),
      rect("", [150, table], 112, 8, wood),
      rect("", [246, table + 8], 8, floor - table - 8, wood),
      rect("body", [166, table - 11], 62, 11),
      rect("rim", [166, table - 11], 62, 11),
      limbs([
        [[hip, [good ? 122 : 100, 200], [good ? 112 : 98, floor - 5], [
          good ? 124 : 110,
          floor - 5,
        ]], 19],
        [[hip, [92, 204], [80, floor - 5], [92, floor - 5]], 19],
        [[neck, hip], 28],
      ]),
      limbs([[[shoulder, elbow, wrist], 13], [[wrist, [wrist[0] + 15, table - 15]], 11]]),
      dot(
        "",
        good ? [134, 54] : [128, 62],
        17,
        "fill:var(--paper);stroke:var(--ink);stroke-width:1.2",
      ),
      good
        ? group(
          stroke("lead", [elbow[0], elbow[1]], [20, elbow[1]]),
          stroke("lead", [166, table - 11], [20, table - 11]),
          stroke("dim", [30, elbow[1]], [30, table - 11]),
          stroke("dim", [25, elbow[1]], [35, elbow[1]]),
          stroke("dim", [25, table - 11], [35, table - 11]),
          words([6, table + 8], `${least} to ${most} cm`),
          words([6, elbow[1] - 6], "elbow"),
        )
        : group(
          named("shoulders up", [10, 58], [106, 84]),
          named("wrist bent", [196, 70], [wrist[0], wrist[1] - 5]),
        ),
    );
  };
  return handFigure({
    finding:
      `Somebody at the bench from the side: the disc’s top ${least} to ${most} centimetres below the bent elbow, shoulders low, wrists straight. Beside it a bench that is too high: shoulders up, wrists bent.`,
    bold: "Push from the legs.",
    caption:
      "Too high, and the shoulders ache within ten minutes: a lower table, or a box to stand on.",
    panels: [
      { wide: 270, high: 254, label: "right", contents: person(true) },
      { wide: 270, high: 254, label: "too high", contents: person(false) },
    ],
  });
}

/** Palms near the middle, not on the part that hangs over. */
export function hands({ aperture, side, length }: HandNumbers): HandShown {
  const k = 1.02, r = k * aperture / 2;
  const sheet = (good: boolean): Html => {
    const low: Point = [120, 148], up: Point = [low[0] + k * side * 0.75, low[1] - k * length / 2];
    const out = good ? 0 : 44;
    return group(
      dot("theirs", low, r),
      dot("body", up, r, "fill-opacity:.75"),
      dot("rim", up, r),
      hand([up[0] - 23 - out / 3, up[1] + 12 - out], -76, "left", 0.95),
      hand([up[0] + 23 + out / 2, up[1] + 12 - out], -104, "right", 0.95),
      good ? group() : notSo([up[0] - 40, up[1] - 46], 80, 60),
      words([low[0] - r + 4, low[1] + r + 14], "lower disc", { kind: "soft" }),
    );
  };
  return handFigure({
    finding:
      "Two hands on the back of the upper disc, from above. Right: both palms near the middle, fingers inside the rim. Wrong: the hands press on the part that hangs over the lower disc.",
    bold: "Palms near the middle.",
    caption: "Weight on the part that hangs over tips the disc, and the rim is ground away.",
    panels: [
      { wide: 262, high: 250, label: "right", contents: sheet(true) },
      { wide: 262, high: 250, label: "not so", contents: sheet(false) },
    ],
  });
}

/** The rough stroke and the fine one from above, to scale. */
export function strokeOf({ aperture, side, length }: HandNumbers): HandShown {
  const k = 0.78, r = k * aperture / 2;
  const sheet = (offset: number): Html => {
    const low: Point = [136, 136], end = k * length / 2, x = low[0] + k * offset;
    return group(
      dot("theirs", low, r, "fill:var(--tint)"),
      dot(
        "",
        [x, low[1] - end],
        r,
        "fill:var(--glass-tint);fill-opacity:.6;stroke:var(--glass);stroke-width:1.5",
      ),
      dot(
        "",
        [x, low[1] + end],
        r,
        "fill:none;stroke:var(--glass);stroke-width:1;stroke-dasharray:4 4",
      ),
      stroke("axis", [low[0], 18], [low[0], 254], "stroke-dasharray:8 3 2 3"),
      bothWays([x, low[1] - end], [x, low[1] + end]),
      dot("mine", [x, low[1] - end], 2.5),
      dot("mine", [x, low[1] + end], 2.5),
      ...(offset > 0
        ? [
          across(low[0], x, low[1] + end + 14),
          words([low[0] - 8, low[1] + end + 19], `${Number(offset.toFixed(1))} mm`, {
            kind: "halo",
            anchor: "end",
          }),
        ]
        : []),
      words([x + 8, low[1] + 5], `${Math.round(length)} mm`, { kind: "halo" }),
    );
  };
  return handFigure({
    finding: `Two strokes from above, to scale. The rough stroke runs ${
      Number(side.toFixed(1))
    } millimetres beside the lower disc’s centre, ${
      Math.round(length)
    } millimetres from end to end; the fine one is as long and runs over the centre.`,
    bold: "Where the stroke runs.",
    caption:
      "Drawn whole: the upper disc at one end of its stroke; dashed: at the other. The dots are its centre.",
    panels: [
      { wide: 272, high: 268, label: "rough: beside the centre", contents: sheet(side) },
      { wide: 272, high: 268, label: "fine, and polishing: over the centre", contents: sheet(0) },
    ],
  });
}

/** The one rule of turning, as a clock: the upper disc, and the walk. */
export function turn({ aperture, strokes, upperTurn, lowerTurn }: HandNumbers): HandShown {
  const middle: Point = [132, 132], r = 0.6 * aperture, up = -90;
  const face = (contents: Html): Html =>
    group(
      dot("body", middle, r),
      dot("rim", middle, r),
      ...Array.from({ length: 12 }, (_, i) =>
        stroke("lead", around(middle, r - 7, 30 * i), around(middle, r - 1, 30 * i))),
      ...[12, 3, 6, 9].map((hour) => {
        const [x, y] = around(middle, r - 17, up + 30 * hour);
        return words([x, y + 4.5], String(hour), { anchor: "middle", kind: "soft" });
      }),
      contents,
    );
  const marks = (turnBy: number): Html =>
    group(
      stroke("polished", middle, around(middle, r - 28, up), "stroke-dasharray:4 3"),
      arrow(middle, around(middle, r - 28, up + turnBy)),
      turnArrow(middle, r - 44, up + 6, up + turnBy - 5),
    );
  const foot = (degrees: number, kind: string): Html => {
    const at = around(middle, r + 24, degrees);
    return group(
      limb([around(at, 5, degrees), around(at, -7, degrees)], 9, kind),
      limb(
        [
          around(around(at, 12, degrees + 90), 5, degrees),
          around(around(at, 12, degrees + 90), -7, degrees),
        ],
        9,
        kind,
      ),
    );
  };
  return handFigure({
    finding:
      `Two clock faces. After ${strokes} strokes the upper disc’s arrow goes from twelve to five o’clock, ${upperTurn} degrees. Then you walk on from six o’clock by about an hour and a half, ${lowerTurn} degrees, or turn the lower disc by as much.`,
    bold: "The one rule of turning.",
    caption:
      "By eye, never to marks; each always one way for the whole session. Lost count? Turn anyway.",
    panels: [
      {
        wide: 264,
        high: 264,
        label: `after ${strokes} strokes: the upper disc, five hours`,
        contents: face(marks(upperTurn)),
      },
      {
        wide: 264,
        high: 264,
        label: "then walk on an hour and a half, or turn the lower disc",
        contents: face(group(
          foot(82, "var(--paper)"),
          foot(82 + lowerTurn, "var(--hair)"),
          turnArrow(middle, r + 44, 92, 92 + lowerTurn - 12),
          words([middle[0], middle[1] + 5], "lower disc", { anchor: "middle" }),
        )),
      },
    ],
  });
}

/** Between the discs, as through a strong glass: grains fresh and spent, too dry, too wet. */
export function charge(): HandShown {
  const sheet = (
    grains: number,
    [least, most]: readonly [number, number],
    apart: number,
    water: number,
    seed: number,
  ): Html => {
    const draw = random(seed), low = 72, high = low - apart;
    const bits = Array.from({ length: grains }, (_, i) => {
      const size = least + (most - least) * draw.uniform();
      const x = 12 + 216 * (i + 0.5) / grains + 6 * (draw.uniform() - 0.5);
      const y = low - size - (apart - 2 * size) * (water > 30 ? draw.uniform() : 0);
      const corners = Array.from(
        { length: 6 },
        (_, k) =>
          around([x, y], size * (0.75 + 0.3 * draw.uniform()), 60 * k + 25 * draw.uniform()),
      );
      return path("", through(corners, true), "fill:var(--ink);stroke:none");
    });
    return group(
      rect("body", [4, high - 26], 232, 26),
      stroke("ground", [4, high], [236, high], "stroke-width:2"),
      rect("", [4, low - water], 232, water, "fill:var(--hair);stroke:none"),
      ...bits,
      rect("body", [4, low], 232, 26),
      stroke("ground", [4, low], [236, low], "stroke-width:2"),
    );
  };
  return handFigure({
    finding:
      "Between two discs, much enlarged: a fresh charge, whose large grains roll in water and crackle; a spent one, whose grains are small and lie in thick mud; too dry, when grains drag without water; and too wet, when the upper disc floats.",
    bold: "What you hear is the size of the grains.",
    caption:
      "Not to scale. Fresh: an even crackle. Spent: a hiss, and it drags. Too dry: squeal and jerks; give water, never push through. Too wet: no sound at all.",
    panels: [
      { wide: 240, high: 102, label: "fresh: crackles", contents: sheet(9, [11, 14], 28, 26, 3) },
      {
        wide: 240,
        high: 102,
        label: "spent: hisses and drags",
        contents: sheet(26, [3, 5], 11, 11, 4),
      },
      { wide: 240, high: 102, label: "too dry: squeals", contents: sheet(9, [11, 14], 28, 4, 5) },
      {
        wide: 240,
        high: 102,
        label: "too wet: floats, no sound",
        contents: sheet(5, [8, 10], 44, 44, 6),
      },
    ],
  });
}

/** The order of cleaning between two grades, as a numbered bench. */
export function cleaning(): HandShown {
  const number = ([x, y]: Point, n: number): Html =>
    group(
      dot("theirs", [x, y], 11),
      words([x, y + 4.5], String(n), { anchor: "middle", kind: "b" }),
    );
  const sheet = group(
    stroke("axis", [6, 250], [334, 250]),
    rect("", [20, 40], 130, 7, wood),
    dot("", [46, 26], 13, "fill:var(--paper);stroke:var(--ink)"),
    stroke("dim", [46, 26], [46, 17]),
    stroke("dim", [46, 26], [53, 28]),
    path("", through([[92, 40], [92, 18], [98, 12], [110, 12], [114, 18], [114, 40]], true), wood),
    stroke("dim", [98, 12], [88, 8]),
    rect("", [30, 150], 200, 8, wood),
    rect("", [42, 158], 8, 92, wood),
    rect("", [210, 158], 8, 92, wood),
    rect("", [58, 142], 144, 8, wood),
    rect("body", [88, 128], 84, 14),
    rect("rim", [88, 128], 84, 14),
    rect("", [78, 134], 8, 8, wood),
    rect("", [174, 134], 8, 8, wood),
    path(
      "",
      through([[62, 204], [68, 250], [104, 250], [110, 204]], true),
      "fill:var(--hair);stroke:var(--ink)",
    ),
    path(
      "",
      through([[122, 204], [128, 250], [164, 250], [170, 204]], true),
      "fill:var(--paper);stroke:var(--ink)",
    ),
    words([86, 234], "dirty", { anchor: "middle" }),
    words([146, 234], "clean", { anchor: "middle" }),
    limbs([
      [[[282, 104], [282, 156]], 42],
      [[[272, 170], [271, 244], [262, 244]], 17],
      [[[292, 170], [293, 244], [284, 244]], 17],
    ]),
    limbs([[[[264, 100], [246, 128], [236, 142]], 12]]),
    dot("", [282, 64], 17, "fill:var(--paper);stroke:var(--ink)"),
    rect("", [266, 104], 32, 66, "fill:var(--tint);stroke:var(--ink)"),
    number([136, 26], 1),
    number([86, 190], 2),
    number([44, 134], 3),
    number([190, 176], 4),
    number([190, 236], 5),
    number([318, 136], 6),
    number([146, 190], 7),
    number([204, 122], 8),
  );
  return handFigure({
    finding:
      "A bench with numbers in the order of cleaning: shelf, clock and sprayer; discs in the dirty bucket; board and cleats; table; floor; apron, hands and forearms; discs in fresh water; new paper and cloth.",
    bold: "From high to low, from dirty to clean.",
    caption:
      "1 shelf, clock, sprayer. 2 discs in the dirty bucket, brushed on rim, bevel, back and face. 3 board and cleats. 4 table. 5 floor. 6 apron, hands, nails, forearms. 7 discs again, in fresh water. 8 new paper and cloth. Only then the new jar.",
    panels: [{ wide: 340, high: 258, label: "one grain costs a grade", contents: sheet }],
  });
}

/** The pencil grid on the upper disc after ten strokes: untouched, gone, middle left, rim left. */
export function pencil(): HandShown {
  const r = 76, middle: Point = [82, 82];
  const sheet = (left: (share: number) => number): Html => {
    // strokes of the pencil by how much of it is left, in tenths
    const byInk = new Map<number, string[]>();
    for (let place = -64; place <= 64; place += 21.3) {
      const half = Math.sqrt(r * r - place * place);
      for (let along = -half; along < half - 2; along += 6) {
        const ink = Math.round(10 * left(Math.hypot(place, along + 3) / r));
        if (ink < 1) continue;
        const [x, y] = middle,
          ends: readonly (readonly [Point, Point])[] = [
            [[x + place, y + along], [x + place, y + along + 6]],
            [[x + along, y + place], [x + along + 6, y + place]],
          ];
        byInk.set(ink, [...byInk.get(ink) ?? [], ...ends.map((two) => through(two))]);
      }
    }
    const lines = [...byInk].map(([ink, data]) =>
      path(
        "",
        data.join(""),
        `stroke:var(--ink);stroke-width:1.6;stroke-opacity:${ink / 10};fill:none`,
      )
    );
    return group(dot("body", middle, r), dot("rim", middle, r), ...lines);
  };
  const gone = group(
    sheet(() => 0),
    words([middle[0], middle[1] + 5], "gone", { anchor: "middle", kind: "b" }),
  );
  return handFigure({
    finding:
      "Four discs with a pencil grid after ten strokes: all lines still there, so nothing touched yet; all gone, so the discs touch all over; lines left in the middle, so the hollow one is deeper; lines left at the rim, so it is shallower.",
    bold: "Where the pencil is gone, the discs touch.",
    caption:
      "All there: nothing touched, not yet. Left in the middle: the hollow disc is deeper than the other. Left at the rim: shallower. Two more charges, and again. On one side only: a grain lies between.",
    panels: [
      { wide: 164, high: 164, label: "all there: not yet", contents: sheet(() => 1) },
      { wide: 164, high: 164, label: "gone all over: go on", contents: gone },
      { wide: 164, high: 164, label: "middle left", contents: sheet((s) => 1 - 1.15 * s) },
      {
        wide: 164,
        high: 164,
        label: "rim left",
        contents: sheet((s) => Math.max(0, 1.6 * s - 0.6)),
      },
    ],
  });
}

/** Stuck discs in a tub, pushed apart level and sideways. */
export function stuck(): HandShown {
  const tub = (contents: Html): Html =>
    group(
      path(
        "",
        through([[8, 52], [22, 150], [238, 150], [252, 52]]),
        "fill:none;stroke:var(--ink);stroke-width:1.5",
      ),
      path(
        "",
        through([[12, 76], [22, 148], [238, 148], [248, 76]], true),
        "fill:var(--glass-tint);stroke:none;fill-opacity:.7",
      ),
      stroke("lead", [12, 76], [248, 76]),
      contents,
    );
  const pair = (shift: number, y: number): Html =>
    group(
      rect("", [70, y + 18], 120, 18, "fill:var(--paper);stroke:var(--glass);stroke-width:1.2"),
      rect("", [70 + shift, y], 120, 18, "fill:var(--paper);stroke:var(--glass);stroke-width:1.2"),
    );
  return handFigure({
    finding:
      "First both discs lie under lukewarm water for an hour or a night. Then, on a wet cloth, an adult holds the lower one by its two sides and a learner pushes the upper one level and sideways with both thumbs on its rim, towards a folded towel and a board that stop it. A hammer, a blade and a flame are crossed out.",
    bold: "Water and patience.",
    caption:
      "Nobody’s hand lies where the upper disc comes off: towel and board stop it there. Never strike, lever or heat: discs that let go at once fall or break.",
    panels: [
      {
        wide: 260,
        high: 156,
        label: "lukewarm water above the joint",
        contents: tub(pair(0, 104)),
      },
      {
        wide: 260,
        high: 172,
        label: "adult holds the sides, you push level, a minute",
        contents: group(
          rect("", [20, 130], 236, 6, "fill:var(--tint);stroke:var(--line)"),
          rect("", [198, 111], 38, 19, "fill:var(--paper);stroke:var(--ink);stroke-width:1"),
          stroke("dim", [198, 117], [232, 117]),
          stroke("dim", [198, 123], [232, 123]),
          rect("", [238, 84], 8, 46, wood),
          pair(18, 94),
          limbs([[[[130, 170], [130, 142]], 17], [[[122, 140], [122, 122]], 9], [[[131, 140], [
            131,
            120,
          ]], 9], [[[140, 140], [140, 122]], 9]]),
          limbs([[[[6, 84], [52, 98]], 17], [[[46, 97], [86, 102]], 11]]),
          arrow([104, 84], [150, 84]),
          words([152, 164], "adult, both sides"),
          words([30, 70], "you", { anchor: "middle" }),
          words([256, 76], "towel, board", { anchor: "end" }),
        ),
      },
      {
        wide: 260,
        high: 120,
        label: "never",
        contents: group(
          limb([[26, 96], [64, 40]], 8),
          rect("", [48, 26], 40, 18, "fill:var(--tint);stroke:var(--ink)"),
          path(
            "",
            through([[108, 88], [164, 70], [164, 78], [108, 92]], true),
            "fill:var(--tint);stroke:var(--ink)",
          ),
          limb([[164, 74], [182, 70]], 10),
          path(
            "",
            "M222,96C204,84 212,66 220,56C222,66 232,66 230,44C246,60 248,84 234,96Z",
            "fill:var(--rouge-tint);stroke:var(--ink)",
          ),
          notSo([22, 24], 70, 78),
          notSo([106, 50], 76, 54),
          notSo([202, 40], 50, 62),
        ),
      },
    ],
  });
}
