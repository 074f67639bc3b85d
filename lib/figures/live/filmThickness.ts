/** Live: how thick a film must be, what a lamp shows through it, and how well the lamp tells its thickness. */
import { thicknessFromLamp } from "../../coating/lamp.ts";
import { type Metal, mirrorFilm, thickReflectance } from "../../optics/film.ts";
import { type Html, safe } from "../html.ts";
import { dot, drawing, group, path, type Point, rect, stroke, through, words } from "../pen.ts";
import { fixed, scale } from "../scale.ts";
import { type Control, levels, type LiveFigure, once, valueOf, type Values } from "./figure.ts";

/** Blue, green and red light, nm: the three that the picture is mixed from. */
const colours = [["blue", 450], ["green", 550], ["red", 650]] as const;

/** A film, and what a lamp says of it. */
export interface FilmSeen {
  readonly metal: Metal;
  /** share of green light (550 nm) sent back */
  readonly reflected: number;
  /** share of blue, green and red light let into the glass */
  readonly through: readonly [blue: number, green: number, red: number];
  /** share of the thick metal's reflectance that is reached */
  readonly ofThick: number;
  /** nm, from the lamp's green light as it was read */
  readonly told: number;
}

/**
 * A clean film of metal on glass, and its thickness as a lamp tells it.
 *
 * @param values  thickness nm; metal 0 silver, 1 aluminium; misread percent, how far the lamp's light is misjudged
 * @example silver of 50 nm; light read 30 % too bright makes it 3.2 nm too thin
 * ```ts
 * import assert from "node:assert/strict";
 * const seen = filmSeen({ thickness: 50, metal: 0, misread: 30 });
 * assert.equal(seen.reflected.toFixed(2), "0.96");
 * assert.equal((50 - seen.told).toFixed(1), "3.2");
 * ```
 */
export function filmSeen(values: Values): FilmSeen {
  const metal: Metal = Math.round(valueOf(values, "metal")) === 1 ? "aluminium" : "silver";
  const thickness = valueOf(values, "thickness"), share = 1 + valueOf(values, "misread") / 100;
  const film = mirrorFilm(metal, thickness);
  const [blue, green, red] = colours.map(([, nm]) => mirrorFilm(metal, thickness, nm).transmitted);
  return {
    metal,
    reflected: film.reflected,
    through: [blue ?? 0, green ?? 0, red ?? 0],
    ofThick: film.reflected / thickReflectance(metal),
    told: thicknessFromLamp(metal, film.transmitted * share),
  };
}

const seenNow = once(filmSeen);

const x = scale(0, 150, 40, 340), y = scale(0, 1, 146, 26);
const curve = once((values) => {
  const metal: Metal = valueOf(values, "metal") === 1 ? "aluminium" : "silver";
  return Array.from({ length: 76 }, (_, i): Point => [
    x(2 * i),
    y(mirrorFilm(metal, 2 * i).reflected),
  ]);
});
const other = once((values) => curve({ metal: 1 - valueOf(values, "metal") }));

function reflectancePlot(values: Values, seen: FilmSeen): Html {
  const metal = { metal: Math.round(valueOf(values, "metal")) }, at = valueOf(values, "thickness");
  const flip = seen.told > 90;
  return group(
    levels([0, 0.5, 1], y, (share) => fixed(100 * share), [40, 340]),
    path("dim", through(other(metal)), "stroke:var(--line);stroke-dasharray:4 3"),
    path("polished", through(curve(metal))),
    stroke("lead", [x(at), y(seen.reflected)], [x(at), 146]),
    dot("mine", [x(at), y(seen.reflected)], 5),
    stroke("limit", [x(seen.told), 92], [x(seen.told), 146]),
    words([x(seen.told) + (flip ? -5 : 5), 136], "by the lamp", {
      kind: "t-rouge halo",
      anchor: flip ? "end" : "start",
    }),
    [0, 50, 100, 150].map((nm) =>
      words([x(nm), 164], fixed(nm), { kind: "soft", anchor: nm === 150 ? "end" : "middle" })
    ),
    words([0, 14], "Green light sent back (%)"),
    words([340, 181], "Thickness of the film (nm)", { anchor: "end" }),
  );
}

/** What comes through as a screen mixes it from blue, green and red, as bright as the brightest of them can be. */
function mixed([blue, green, red]: FilmSeen["through"]): string {
  const most = Math.max(blue, green, red);
  const byte = (share: number): number => Math.round(255 * (share / most) ** (1 / 2.2));
  return `rgb(${byte(red)}, ${byte(green)}, ${byte(blue)})`;
}

/** Powers of ten of the light, from none to all. */
const light = scale(-8, 0, 136, 340);
const bars = ["#3f78d8", "#3b9a58", "#c4453a"] as const;

function lampPanel({ through }: FilmSeen): Html {
  return group(
    words([0, 214], "The lamp, seen through the film"),
    rect("rim", [0, 226], 84, 84, "fill:#0b0f10;stroke:var(--line)"),
    dot("lamp", [42, 268], 30, `fill:${mixed(through)}`),
    ["10⁻⁸", "10⁻⁶", "10⁻⁴", "1 %", "all"].map((name, i) =>
      group(
        stroke("lead", [light(2 * i - 8), 230], [light(2 * i - 8), 302], "stroke:var(--hair)"),
        words([light(2 * i - 8), 318], name, {
          kind: "soft",
          anchor: i === 0 ? "start" : i === 4 ? "end" : "middle",
        }),
      )
    ),
    through.map((share, i) =>
      group(
        rect("bar", [136, 234 + 23 * i], light(Math.log10(share)) - 136, 16, `fill:${bars[i]}`),
        words([130, 246.5 + 23 * i], colours[i]?.[0] ?? "", { anchor: "end" }),
      )
    ),
    words([340, 336], "Share that comes through", { anchor: "end" }),
  );
}

function picture(values: Values): Html {
  const seen = seenNow(values), [blue, green, red] = seen.through;
  return drawing({
    width: 352,
    height: 340,
    finding: `A film of ${fixed(valueOf(values, "thickness"))} nanometres of ${seen.metal} sends ${
      fixed(100 * seen.reflected, 1)
    } percent of green light back. Of a lamp it lets through ${shareOf(blue)} of the blue, ${
      shareOf(green)
    } of the green and ${shareOf(red)} of the red light.`,
    contents: group(reflectancePlot(values, seen), lampPanel(seen)),
  });
}

/** A share as one part in so many, or percent where it is large. */
function shareOf(share: number): string {
  if (share > 0.02) return `${fixed(100 * share)} %`;
  const parts = 10 ** Math.floor(Math.log10(1 / share) - 1);
  return `1 part in ${
    String(Math.round(1 / share / parts) * parts).replace(/\B(?=(\d{3})+$)/g, ",")
  }`;
}

function reading(values: Values): Html {
  const { reflected, through, ofThick, told } = seenNow(values);
  return safe`Sent back <big><output>${fixed(100 * reflected, 1)} %</output></big> ${
    fixed(100 * ofThick, 1)
  } % of what the thickest film sends back. Let through, green: <output>${
    shareOf(through[1])
  }</output>; blue ${
    fixed(through[0] / through[2], 1)
  } times as much as red. From the lamp you would say <output>${fixed(told)} nm</output>.`;
}

const controls: readonly Control[] = [
  {
    ...{ key: "thickness", label: "Thickness of the film", min: 10, max: 150, step: 1, digits: 0 },
    ...{ unit: "nm", spoken: "nanometres" },
  },
  {
    ...{ key: "metal", label: "The metal", min: 0, max: 1, step: 1, digits: 0 },
    ...{ unit: "", spoken: "", choices: ["silver", "aluminium"] },
  },
  {
    ...{
      key: "misread",
      label: "Lamp’s light misjudged by",
      min: -50,
      max: 50,
      step: 5,
      digits: 0,
    },
    ...{ unit: "%", spoken: "percent" },
  },
];

/** The figure: thickness and metal to slide, and how badly the lamp's light is judged. */
export const filmThickness: LiveFigure = {
  name: "film-thickness",
  controls,
  start: { thickness: 30, metal: 0, misread: 0 },
  picture,
  reading,
  value: (values) => seenNow(values).reflected,
  caption:
    safe`Solid, clean metal on glass; the broken line is the other metal. The lamp’s colour is mixed from blue, green and red light (450, 550, 650 nm) and <b>brightened</b>: in truth it soon is very dark. A lamp, never the Sun: a film is no filter.`,
};
