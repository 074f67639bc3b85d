/** Building in drawings: the parcel, the telescope with its names, the cell, the tip test, the view through the cap, a star's rings. */
import { isNarrow } from "../../figure.ts";
import type { Html } from "../../html.ts";
import { dot, group, path, type Point, rect, stroke, through, words } from "../../pen.ts";
import type { HandNumbers } from "./names.ts";
import { arc, around, arrow, handFigure, type HandShown, named, type Panel } from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";

/** Washing a coated mirror: soaked, cotton drawn outward, dried on edge. */
export function washing(): HandShown {
  const soak = group(
    path("", "M6,20L16,140H174L184,20", "fill:none;stroke:var(--ink);stroke-width:1.5"),
    rect("", [18, 126], 154, 13, "fill:var(--hair);stroke:var(--line)"),
    rect("body", [35, 102], 120, 24),
    rect("rim", [35, 102], 120, 24),
    path("polished", "M37,102Q95,109 153,102"),
    stroke("", [10, 62], [180, 62], "stroke:var(--line);stroke-width:1.5;stroke-dasharray:7 4"),
    words([95, 54], "lukewarm, soap", { anchor: "middle" }),
    words([95, 121], "mirror, face up", { anchor: "middle" }),
    named("a towel below", [95, 166], [95, 132], "middle"),
  );
  const drawn = group(
    dot("body", [90, 76], 70),
    dot("rim", [90, 76], 70),
    ...[-150, -90, -30, 30, 90, 150].map((degrees) =>
      arrow(around([90, 76], 10, degrees), around([90, 76], 62, degrees))
    ),
    dot("", around([90, 76], 40, 90), 9, "fill:var(--paper);stroke:var(--ink)"),
    named("wet cotton, its own weight", [90, 166], around([90, 76], 40, 90), "middle"),
  );
  const edge = group(
    stroke("", [10, 136], [170, 136], "stroke:var(--ink);stroke-width:1.5"),
    path("body", "M74,136L51,128L91,14L114,22Z"),
    path("rim", "M74,136L51,128L91,14L114,22Z"),
    path("polished", "M51,128Q77,72 91,14"),
    path("", "M116,136V14H124V136Z", wood),
    dot("", [72, 132], 4, "fill:var(--paper);stroke:var(--ink)"),
    named("last drop: corner of a paper", [90, 166], [72, 132], "middle"),
  );
  return handFigure({
    finding:
      "Three pictures. A mirror lies face up on a towel in a tub, under water. Seen from above, wet cotton is drawn from the middle straight out to the rim, a new piece each time. Then the mirror leans on edge against a board and dries; the last drop at its lower rim is touched with a corner of paper.",
    bold: "Water does the work, fingers press nothing.",
    caption: "From the middle outward, each piece of cotton once. Never dry, never in circles.",
    panels: [
      { wide: 190, high: 172, label: "1 soak", contents: soak },
      { wide: 190, high: 172, label: "2 draw, from above", contents: drawn },
      { wide: 190, high: 172, label: "3 dry on edge", contents: edge },
    ],
  });
}

/** The box for the coating firm, cut through. */
export function packing(): HandShown {
  const cut = group(
    rect("", [6, 30], 288, 134, "fill:none;stroke:var(--ink);stroke-width:1.5"),
    rect("", [24, 46], 252, 104, "fill:none;stroke:var(--ink);stroke-width:1.5"),
    rect("", [26, 120], 248, 28, "fill:var(--hair);stroke:var(--line)"),
    rect("", [26, 74], 44, 46, "fill:var(--hair);stroke:var(--line)"),
    rect("", [230, 74], 44, 46, "fill:var(--hair);stroke:var(--line)"),
    rect("", [26, 48], 248, 10, "fill:var(--hair);stroke:var(--line)"),
    rect("body", [70, 94], 160, 26),
    rect("rim", [70, 94], 160, 26),
    path("polished", "M72,94Q150,100 228,94"),
    rect("", [60, 72], 180, 4, wood),
    words([150, 88], "air", { anchor: "middle", kind: "soft" }),
    words([150, 112], "mirror", { anchor: "middle" }),
    named("card, clear of the face", [150, 20], [150, 72], "middle"),
    named("foam holds the rim", [8, 186], [48, 100]),
    named("second box", [292, 186], [286, 150], "end"),
  );
  const label = group(
    rect("", [4, 6], 232, 146, wood),
    ...[
      "record’s name",
      "width, focal length",
      "FRONT HERE ↑",
      "hold by the rim",
      "the organiser’s address",
      "(no child’s name)",
    ]
      .map((text, i) => words([18, 30 + 23 * i], text, i === 2 ? { kind: "b" } : {})),
  );
  return handFigure({
    finding:
      "A box cut through: foam holds the mirror at its rim, a stiff card stands clear of the face with air between, nothing lies on the face; a second box goes round it. Beside it the label.",
    bold: "Nothing on the face, no tissue.",
    caption:
      "Shaken, nothing moves and nothing touches the face. Photograph it before it is closed.",
    panels: [
      { wide: 296, high: 192, label: "cut through", contents: cut },
      { wide: 240, high: 192, label: "the label", contents: label },
    ],
  });
}

/** The whole telescope in section, every part by its name. */
export function telescopeNamed(): HandShown {
  const draw = (width: number): Html => {
    const right = width - 14, left = 46, top = 96, low = 162, small = isNarrow(width);
    const hole = right - (small ? 60 : 96), mid = (top + low) / 2;
    const foot = left + (small ? 62 : 150), finder = left + (small ? 40 : 70);
    return group(
      rect("", [left - 18, top - 8], hole - 22 - left + 18, 4, wood),
      rect("", [hole + 22, top - 8], right - hole - 22, 4, wood),
      rect("", [left - 18, low + 6], right - left + 18, 4, wood),
      rect("steel", [hole - 18, top - 38], 36, 30),
      rect("steel", [hole - 11, top - 54], 22, 16),
      path(
        "zone-b",
        through([[left + 10, top + 4], [hole - 12, mid - 10], [hole, top - 62], [
          hole + 10,
          mid + 10,
        ], [left + 10, low - 4]], true),
      ),
      stroke("ray", [right, top + 4], [left + 10, top + 4], "stroke-width:.8"),
      stroke("ray", [right, low - 4], [left + 10, low - 4], "stroke-width:.8"),
      path("body", `M${left + 8},${top}Q${left},${mid} ${left + 8},${low}H${left - 8}V${top}Z`),
      path("silvered", `M${left + 8},${top}Q${left},${mid} ${left + 8},${low}`),
      rect("", [left - 16, top + 2], 4, low - top - 4, wood),
      ...[top + 8, mid, low - 8].map((y) => rect("steel", [left - 24, y - 2], 10, 4)),
      stroke("silvered", [hole - 13, mid - 13], [hole + 13, mid + 13]),
      stroke("dim", [hole + 4, mid + 4], [hole + 4, low + 6]),
      dot("mine", [hole, top - 62], 3),
      dot("", [hole - 2, top - 78], 8, "fill:var(--paper);stroke:var(--ink)"),
      named("eye", [hole + 14, top - 74], [hole + 5, top - 79]),
      rect("steel", [finder, top - 30], 72, 12),
      stroke("dim", [finder + 14, top - 18], [finder + 14, top - 8]),
      stroke("dim", [finder + 58, top - 18], [finder + 58, top - 8]),
      words([finder + 4, top - 38], "finder"),
      named("focuser", [hole - 30, top - 44], [hole - 18, top - 30], "end"),
      named("mirror", [left - 40, low + (small ? 28 : 40)], [left - 2, low]),
      named("cell, screws", [left - 40, top - (small ? 62 : 22)], [left - 18, top + 2]),
      named("flat (secondary)", [hole + (small ? 4 : -6), low + (small ? 60 : 40)], [
        hole + 8,
        mid + 8,
      ], "end"),
      named("vane", [hole + 16, low + 40], [hole + 4, low]),
      words([right, mid + 4], small ? "light" : "light of a star", { anchor: "end", kind: "soft" }),
      path(
        "",
        through(arc([foot, low + 16], 26, 0, 180, 24)),
        "fill:none;stroke:var(--ink);stroke-width:2",
      ),
      stroke("", [foot - 30, low + 34], [foot - 44, low + 74], "stroke:var(--ink);stroke-width:3"),
      stroke("", [foot + 30, low + 34], [foot + 44, low + 74], "stroke:var(--ink);stroke-width:3"),
      rect("", [foot - 54, low + 74], 108, 8, wood),
      named("bearing, pivot", [foot + (small ? 62 : 58), low + (small ? 76 : 64)], [
        foot + 22,
        low + 32,
      ]),
      named("base, three feet", [foot + 62, low + 92], [foot + 50, low + 80]),
    );
  };
  return handFigure({
    finding:
      "A telescope in section with its names: the mirror in its cell with three screws, the tube, the flat on its vanes, the focuser with the eyepiece and the eye above it, the finder, and below the bearing, its pivot and the base.",
    bold: "Two mirrors, one tube, one eyepiece.",
    caption:
      "Not to scale. Light comes from the right, goes to the mirror, back to the flat, and out through the focuser.",
    panels: (
      width,
    ) => [{
      wide: Math.min(width, 600),
      high: 262,
      label: "",
      contents: draw(Math.min(width, 600)),
    }],
  });
}

/** The cell from behind, and a post with its air. */
export function cellOf({ padRadius, rimAir, aperture }: HandNumbers): HandShown {
  const r = 88, middle: Point = [100, 100];
  const behind = group(
    dot("body", middle, r),
    dot("rim", middle, r),
    path("lead", through(arc(middle, padRadius * r, 0, 360), true), "stroke-dasharray:4 4"),
    ...[270, 30, 150].map((at) => dot("steel", around(middle, padRadius * r, at), 11)),
    ...[330, 90, 210].map((at) => dot("mine", around(middle, r + 5, at), 4)),
    stroke("dim", middle, around(middle, padRadius * r, 30)),
    words([96, 152], `${Math.round(padRadius * aperture / 2)} mm`, { anchor: "middle" }),
    words([100, 96], "pads", { anchor: "middle" }),
  );
  const post = group(
    rect("", [6, 140], 210, 12, wood),
    rect("steel", [60, 126], 60, 14),
    rect("body", [20, 74], 150, 52),
    path("rim", through([[20, 74], [170, 74], [170, 126], [20, 126]])),
    rect("", [178, 60], 12, 80, wood),
    rect("", [156, 58], 34, 8, wood),
    stroke("lead", [170, 96], [178, 96]),
    words([150, 40], `air: ${rimAir} mm, above and beside`, { anchor: "middle" }),
    stroke("lead", [166, 45], [164, 70]),
    stroke("lead", [186, 45], [174, 86]),
    words([90, 106], "mirror", { anchor: "middle" }),
    words([90, 137], "pad", { anchor: "middle", kind: "soft" }),
    words([196, 104], "post"),
    words([116, 68], "clip", { anchor: "end" }),
  );
  return handFigure({
    finding:
      `The cell from behind: three pads at ${padRadius} of the radius and three posts at the rim. In section: a post and its clip stand clear of the glass by ${rimAir} millimetres.`,
    bold: "A faint rattle when shaken.",
    caption:
      "Silent means pinched, and a pinched mirror shows three-cornered stars. The air is drawn much too wide.",
    panels: [
      { wide: 200, high: 200, label: "from behind", contents: behind },
      { wide: 230, high: 160, label: "a post in section", contents: post },
    ],
  });
}

/** The tip test at the eyepiece. */
export function tip(): HandShown {
  const tube = (good: boolean): Html =>
    group(
      stroke("axis", [4, 212], [228, 212]),
      rect("", [70, 190], 90, 8, wood),
      stroke("", [78, 198], [good ? 62 : 74, 210], "stroke:var(--ink);stroke-width:5"),
      stroke(
        "",
        [152, 198],
        [good ? 168 : 156, good ? 210 : 204],
        "stroke:var(--ink);stroke-width:5",
      ),
      path("", through([[84, 190], [96, 140], [134, 140], [146, 190]], true), wood),
      path(
        "",
        through([[64, 150], [150, 44], [176, 66], [90, 172]], true),
        "fill:var(--paper);stroke:var(--ink);stroke-width:1.2",
      ),
      dot("theirs", [115, 118], 15),
      rect("steel", [134, 36], 12, 14),
      arrow([140, 40], [good ? 60 : 62, 28]),
      words([8, 20], "pull, four ways"),
      good ? group() : group(
        stroke("limit", [150, 206], [188, 206]),
        words([172, 188], "lifts", { kind: "t-rouge" }),
      ),
    );
  return handFigure({
    finding:
      "A tube on its base; somebody pulls with a spring scale at the eyepiece. Feet far out: nothing lifts. Feet close together: one lifts, the telescope would tip.",
    bold: "Try it with the dummy.",
    caption:
      "Tube low, half-way and steep; pull to all four sides. A foot lifts: feet farther out.",
    panels: [
      { wide: 232, high: 220, label: "no foot lifts", contents: tube(true) },
      { wide: 232, high: 220, label: "one lifts: wider feet", contents: tube(false) },
    ],
  });
}

/** The view through the cap: five circles, wrong and right. */
export function cap(): HandShown {
  const names = group(
    named("drawtube", [180, 22], [151, 34]),
    named("flat", [180, 54], [138, 64]),
    named("mirror, its clips", [172, 90], [128, 86]),
    named("its ring, the dot", [172, 124], [91, 89]),
    named("flat’s shadow", [180, 158], [97, 95]),
  );
  const view = (flat: Point, main: Point, mark: Point, label: string, named?: Html): Panel => ({
    wide: 250,
    high: 172,
    label,
    contents: group(
      dot("", [86, 86], 82, "fill:var(--soft);stroke:var(--ink)"),
      dot("", [86 + flat[0], 86 + flat[1]], 60, "fill:var(--paper);stroke:var(--ink)"),
      dot(
        "",
        [86 + main[0], 86 + main[1]],
        46,
        "fill:var(--glass-tint);stroke:var(--glass);stroke-width:1.5",
      ),
      ...[270, 30, 150].map((at) => dot("steel", around([86 + main[0], 86 + main[1]], 44, at), 4)),
      dot(
        "",
        [86 + mark[0], 86 + mark[1]],
        15,
        "fill:var(--soft);fill-opacity:.6;stroke:var(--ink)",
      ),
      dot("", [86 + main[0], 86 + main[1]], 6, "fill:none;stroke:var(--ink);stroke-width:2"),
      dot("", [86 + mark[0], 86 + mark[1]], 2.5, "fill:var(--ink);stroke:none"),
      ...(named === undefined ? [] : [named]),
    ),
  });
  return handFigure({
    finding:
      "Views through the hole of the cap. First the flat sits to one side in the drawtube; then the mirror sits to one side in the flat, with a clip missing; then the dot of the cap misses the ring on the mirror; at last all are round one another and the dot stands in the ring.",
    bold: "From the outside in: flat, mirror, dot.",
    caption:
      "Mend the outermost first. The dot is the cap’s own hole, seen in the middle of the flat’s shadow; right is when it stands in the ring on the mirror.",
    panels: [
      view([12, 8], [12, 8], [12, 8], "1 flat aside: slide its stem"),
      view([0, 0], [-14, 6], [-14, 6], "2 mirror aside: tilt the flat"),
      view([0, 0], [0, 0], [12, -9], "3 dot off: the mirror’s screws"),
      view([0, 0], [0, 0], [0, 0], "right", names),
    ],
  });
}

/** A star inside, in and outside focus: right, off, pinched, warm. */
export function starRings(): HandShown {
  const rings = (shift: number, form: (degrees: number) => number, boil: number): Html => {
    const middle: Point = [60, 60];
    return group(...[12, 24, 36, 48].map((r, i) => {
      const c: Point = [middle[0] + shift * (4 - i) / 4, middle[1]];
      const points = Array.from(
        { length: 73 },
        (_, k) =>
          around(c, r * form(5 * k) + boil * Math.sin(5 * k * 7 * Math.PI / 180 + i * 2), 5 * k),
      );
      return path(
        "",
        through(points, true),
        "fill:none;stroke:var(--ink);stroke-width:3;stroke-opacity:.7",
      );
    }));
  };
  const round = (): number => 1;
  return handFigure({
    finding:
      "A star just out of focus: rings round one another, aligned; rings to one side, an eighth of a screw; three-cornered rings, a pinched mirror; rings that boil, warm glass or bad air.",
    bold: "Read the rings on both sides of focus.",
    caption:
      "The same shift on both sides: screws. An oval that turns by a quarter between the sides: pinch, air, glass or your own eye; turn your head to tell.",
    panels: [
      { wide: 124, high: 122, label: "right", contents: rings(0, round, 0) },
      { wide: 124, high: 122, label: "off: a screw", contents: rings(12, round, 0) },
      {
        wide: 124,
        high: 122,
        label: "pinched: file",
        contents: rings(0, (at) => 1 + 0.13 * Math.cos(3 * (at - 30) * Math.PI / 180), 0),
      },
      { wide: 124, high: 122, label: "boils: wait", contents: rings(0, round, 2.4) },
    ],
  });
}
