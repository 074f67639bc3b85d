/** The goal in mirror.yaml: its keys, what is refused there, and what a maker has looked at again and lets stand. */
import { shown } from "./errors.ts";
import { type Reader } from "./yaml.ts";
import { list, section } from "./yamlGroups.ts";
import { choice, measure, scalar } from "./yamlValues.ts";

/** A goal or a wavelength beyond these is refused; beyond `LIKELY` the record is checked first. */
const POSSIBLE = { waves: [1 / 100, 4], nm: [300, 1100] } as const;

/** Peak to valley on the glass in waves, and nm of light, within which a goal is usual. COMMON PRACTICE */
export const LIKELY = { waves: [1 / 20, 1], nm: [380, 780] } as const;

/** `1/8 wave`, `0.125 waves`, `lambda/8`: a share of the wavelength. */
const waves = scalar((text, { findings, place }) => {
  const plain = text.toLowerCase().replace(/\s+/g, "").replace(/waves?$/, "lambda").replace(
    "λ",
    "lambda",
  );
  const share = /^(\d*\.?\d+)(?:\/(\d*\.?\d+))?lambda$/.exec(plain) ??
    /^lambda\/(\d*\.?\d+)$/.exec(plain);
  if (share === null) {
    const comma = /^(\d+),(\d+)lambda$/.exec(plain);
    const bare = /^[\d./]+$/.test(plain)
      ? `write ${text} wave, if that is meant`
      : comma !== null
      ? `write ${comma[1]}.${comma[2]} wave, with a decimal point`
      : "write it like 1/8 wave";
    findings.refuse(place, shown(text), "a part of a wave on the glass, peak to valley", bare);
    return undefined;
  }
  const value = plain.startsWith("lambda")
    ? 1 / Number(share[1])
    : Number(share[1]) / Number(share[2] ?? 1);
  const [least, most] = POSSIBLE.waves;
  if (value >= least * (1 - 1e-9) && value <= most) return value;
  const mend = "no maker's goal is that; look at the digits, 1/8 wave is usual";
  findings.refuse(place, shown(text), "1/100 to 4 waves", mend);
  return undefined;
});

const wavelength: Reader<number> = (node, context) => {
  const mm = measure("length", 1e-9, 1)(node, context), [least, most] = POSSIBLE.nm;
  if (mm === undefined) return undefined;
  const nm = Number((mm * 1e6).toPrecision(12));
  if (nm >= least && nm <= most) return mm;
  const mend = "no test is done in that light; look at the digits, 550 nm is usual";
  context.findings.refuse(
    context.place,
    `${Number(nm.toPrecision(6))} nm`,
    `${least} to ${most} nm`,
    mend,
  );
  return undefined;
};

/** The keys of `goal`. */
export const goal = section({
  surface: waves,
  wavelength,
  shape: choice("sphere", "paraboloid", "auto"),
  scope: choice("whole surface", "one diameter"),
});

/** What a maker may have looked at again; a slip of that kind then no longer holds up the next step. */
export const CHECKED = [
  "goal",
  "lamp",
  "scale",
  "units",
  "runs",
  "photographs",
  "curve",
] as const;
export type Checked = typeof CHECKED[number];

/** `checked: [goal, lamp]`. */
export const checked = list(choice(...CHECKED), 0, CHECKED.length);
