/** The first evening in drawings: sighting along the tube, the finder set on a lamp, the Moon, dew. */
import type { Html } from "../../html.ts";
import { dot, group, path, type Point, rect, stroke, through, words } from "../../pen.ts";
import { arc, handFigure, type HandShown, limbs, lit, turned, unlit } from "./sheet.ts";

const wood = "fill:var(--tint);stroke:var(--ink);stroke-width:1";

/** Sighting along the tube at a far lamp. */
export function sighting(): HandShown {
  const side = group(
    stroke("axis", [4, 186], [296, 186]),
    turned(
      -14,
      [130, 120],
      group(
        rect("", [66, 98], 132, 34, "fill:var(--paper);stroke:var(--ink);stroke-width:1.2"),
        rect("steel", [172, 82], 14, 16),
        rect("steel", [92, 88], 40, 7),
      ),
    ),
    dot("theirs", [128, 124], 14),
    path("", through([[104, 186], [116, 136], [140, 136], [152, 186]], true), wood),
    dot("", [34, 128], 15, "fill:var(--paper);stroke:var(--ink)"),
    dot("mine", [43, 123], 3),
    limbs([[[[32, 152], [34, 186]], 22]]),
    stroke("limit", [46, 122], [284, 60], "stroke:var(--ink);stroke-width:1"),
    stroke("", [286, 62], [286, 186], "stroke:var(--line);stroke-width:3"),
    dot("mine", [286, 58], 5),
    words([292, 40], "far lamp", { anchor: "end" }),
    words([60, 30], "along the top edge"),
    stroke("lead", [110, 34], [122, 98]),
  );
  const seen = group(
    rect("", [4, 4], 190, 148, "fill:var(--tint);stroke:var(--ink)"),
    path(
      "",
      through([[30, 152], [74, 84], [124, 84], [168, 152]], true),
      "fill:var(--paper);stroke:var(--ink);stroke-width:1.2",
    ),
    path(
      "",
      through(arc([99, 84], 25, 180, 360, 24)),
      "fill:var(--paper);stroke:var(--ink);stroke-width:1.2",
    ),
    dot("mine", [99, 44], 5),
    stroke("lead", [99, 48], [99, 60]),
    words([110, 40], "lamp"),
    words([99, 128], "tube", { anchor: "middle", kind: "soft" }),
  );
  return handFigure({
    finding:
      "Somebody behind the telescope looks along the top edge of the tube at a far lamp, both eyes open. What is seen: the lamp stands just above the far end of the tube.",
    bold: "Point the tube before you look through it.",
    caption:
      "Both eyes open. Then the low-power eyepiece: the lamp is in its field, or just beside it.",
    panels: [
      { wide: 296, high: 192, label: "from the side", contents: side },
      { wide: 198, high: 158, label: "what you see", contents: seen },
    ],
  });
}

function field(r: number, contents: Html): Html {
  return group(
    dot("", [r + 4, r + 4], r, `fill:${unlit};stroke:var(--line)`),
    contents,
  );
}

const bright = `fill:${lit};stroke:none`;

/** Eyepiece and finder: the lamp centred in one, then in the other. */
export function finder(): HandShown {
  const r = 66, middle: Point = [70, 70];
  const cross = group(
    stroke("", [4, 70], [136, 70], "stroke:var(--line);stroke-width:1"),
    stroke("", [70, 4], [70, 136], "stroke:var(--line);stroke-width:1"),
  );
  const view = (at: Point, wires: boolean): Html =>
    field(
      r,
      group(
        wires ? cross : group(),
        dot("", at, 4, bright),
        dot("", at, 8, `fill:none;stroke:${lit};stroke-opacity:.5`),
      ),
    );
  return handFigure({
    finding:
      "First the lamp stands in the middle of the eyepiece’s field while the finder shows it beside the cross. Then the finder’s screws are turned, the tube left alone, until its cross stands on the lamp too.",
    bold: "First the eyepiece, then the finder’s screws.",
    caption:
      "The tube stays where it is. Look again in the eyepiece afterwards: the lamp must still be in the middle.",
    panels: [
      { wide: 140, high: 140, label: "eyepiece: in the middle", contents: view(middle, false) },
      { wide: 140, high: 140, label: "finder: beside the cross", contents: view([98, 46], true) },
      { wide: 140, high: 140, label: "turn its screws: on it", contents: view(middle, true) },
    ],
  });
}

/** The Moon in finder and eyepiece, and through focus. */
export function moon(): HandShown {
  const half = (at: Point, r: number, soft: number): Html => {
    const glow = (k: number, opacity: number): Html =>
      path(
        "",
        through([...arc(at, r * k, -90, 90, 36)], true),
        `fill:${lit};fill-opacity:${opacity};stroke:none`,
      );
    const craters: readonly (readonly [number, number, number])[] = [
      [0.16, -0.5, 0.1],
      [0.34, -0.1, 0.14],
      [0.12, 0.28, 0.11],
      [0.5, 0.36, 0.1],
      [0.56, -0.42, 0.09],
      [0.2, 0.62, 0.08],
    ];
    return group(
      ...(soft > 0
        ? [1 + soft, 1 + soft / 2, 1, 1 - soft / 2].map((k) => glow(k, 0.3))
        : [glow(1, 0.95)]),
      ...(soft > 0 ? [] : craters.map(([x, y, s]) =>
        group(
          dot(
            "",
            [at[0] + x * r, at[1] + y * r],
            s * r,
            `fill:${unlit};fill-opacity:.35;stroke:none`,
          ),
          path(
            "",
            through(arc([at[0] + x * r, at[1] + y * r], s * r, 120, 240, 12)),
            `fill:none;stroke:${unlit};stroke-width:1.2`,
          ),
        )
      )),
    );
  };
  const r = 66;
  const wires = group(
    stroke("", [4, 70], [136, 70], "stroke:var(--line);stroke-width:1"),
    stroke("", [70, 4], [70, 136], "stroke:var(--line);stroke-width:1"),
  );
  return handFigure({
    finding:
      "The half Moon: small on the finder’s cross; in the eyepiece as a soft blur before focus; sharp with craters in focus; a soft blur again behind it.",
    bold: "Turn through, and back to where craters snap sharp.",
    caption:
      "It dazzles and does no harm. Never sharp at either end of the travel: write down which way it was short.",
    panels: [
      {
        wide: 140,
        high: 140,
        label: "finder: on the cross",
        contents: field(r, group(half([70, 70], 9, 0), wires)),
      },
      {
        wide: 140,
        high: 140,
        label: "eyepiece: not yet",
        contents: field(r, half([56, 70], 46, 0.22)),
      },
      { wide: 140, high: 140, label: "sharp", contents: field(r, half([56, 70], 46, 0)) },
      {
        wide: 140,
        high: 140,
        label: "past it: turn back",
        contents: field(r, half([56, 70], 46, 0.22)),
      },
    ],
  });
}

/** Dew: the cap, and what to do with a fogged eyepiece and a fogged mirror. */
export function dew(): HandShown {
  const tube = group(
    rect("", [6, 60], 140, 50, "fill:var(--paper);stroke:var(--ink);stroke-width:1.2"),
    rect("", [146, 58], 56, 54, `fill:${unlit};stroke:var(--ink)`),
    rect("steel", [112, 36], 18, 24),
    stroke("dim", [146, 128], [202, 128]),
    stroke("dim", [146, 123], [146, 133]),
    stroke("dim", [202, 123], [202, 133]),
    words([174, 148], "as long as wide", { anchor: "middle" }),
    words([212, 90], "black card"),
    ...[0, 1, 2].map((i) => path("lead", `M${222 + 14 * i},${40 - 6 * i}q4,7 0,14`, "")),
    words([8, 48], "tube"),
  );
  const eye = group(
    limbs([[[[60, 40], [60, 120]], 60]]),
    path(
      "",
      through([[46, 84], [74, 84], [72, 116], [48, 116]], true),
      "fill:var(--tint);stroke:var(--ink)",
    ),
    rect("steel", [53, 62], 14, 26),
    words([104, 70], "into the pocket,"),
    words([104, 87], "no cloth"),
  );
  return handFigure({
    finding:
      "A cap of black card, as long as the tube is wide, keeps dew from the flat. A fogged eyepiece goes into the pocket, without a cloth. A fogged mirror ends the evening: bring it in covered and let it dry in the open, without wiping.",
    bold: "Dew comes out of a clear sky.",
    caption:
      "Glass that looks at the sky grows colder than the air. A fogged mirror: stop, cover, bring it in, let it dry; never wipe.",
    panels: [
      { wide: 290, high: 154, label: "the dew cap", contents: tube },
      { wide: 200, high: 154, label: "a fogged eyepiece", contents: eye },
    ],
  });
}
