/** Numbers of the hands as prose says them, in digits and in words, sentence by sentence; and whether the shared facts have them. */
import { decisions, facts } from "../../lib/record/tables.ts";

/** A number in its sentence, which speaks of something that the shared facts know. */
export interface SaidNumber {
  /** as it stands: "half an hour", "5 min" */
  readonly text: string;
  readonly value: number;
  readonly unit: string;
  readonly subject: string;
  readonly sentence: string;
}

const words: Readonly<Record<string, number>> = {
  ...{ a: 1, an: 1, one: 1, two: 2, three: 3, four: 4, five: 5, six: 6, seven: 7, eight: 8 },
  ...{ nine: 9, ten: 10, twelve: 12, fifteen: 15, twenty: 20, thirty: 30, forty: 40, fifty: 50 },
};

const number = `(\\d+(?:\\.\\d+)?|\\b(?:${Object.keys(words).join("|")}))`;
const after = "[\\s\\u00a0\\u2009-]*";

/** How a number with its unit looks; what it is multiplied by to be of the unit. */
const forms: readonly (readonly [form: RegExp, unit: string, times: number])[] = [
  [/\bhalf an hour\b/gi, "min", 30],
  [new RegExp(`${number}${after}(?:min|minutes?)\\b`, "gi"), "min", 1],
  [
    new RegExp(`(?<!half )${number}${after}(?:h|hours?)\\b(?! of a clock| and a half)`, "gi"),
    "min",
    60,
  ],
  [new RegExp(`${number}${after}(?:g|grams?)\\b`, "gi"), "g", 1],
  [new RegExp(`${number}${after}(?:kg|kilograms?)\\b`, "gi"), "kg", 1],
  [new RegExp(`${number}${after}(?:mm|millimetres)\\b`, "gi"), "mm", 1],
  [new RegExp(`${number}${after}(?:s|seconds)\\b`, "gi"), "s", 1],
  [new RegExp(`${number}${after}strokes (?:a|in a|per) minute\\b`, "gi"), "strokes/min", 1],
  [new RegExp(`${number}${after}strokes\\b(?! (?:a|in a|per) minute)`, "gi"), "strokes", 1],
  [new RegExp(`${number}${after}(?:empty |rim |edge |marked )?fields\\b`, "gi"), "fields", 1],
  [new RegExp(`${number}${after}°C`, "gi"), "deg C", 1],
  [new RegExp(`${number}°(?!C)`, "gi"), "deg", 1],
  [/\ba third of a turn\b/gi, "deg", 120],
  [/\b(?:a quarter of a turn|a quarter turn)\b/gi, "deg", 90],
];

/** Of what a sentence speaks, the unit, and the facts and decisions that it may quote then. */
const subjects: readonly (readonly [speaks: RegExp, unit: string, may: RegExp])[] = [
  [/\bturn (the|both|it)\b.*\b(upper|lower|disc)|\b(upper|lower) (disc|one) by/i, "deg", /^turn_/],
  [
    /\bturn (the|both|it)\b.*\b(upper|lower|disc)|\b(upper|lower) (disc|one) by/i,
    "strokes",
    /^turn_strokes$/,
  ],
  [
    /\bcool(s|ing|ed)?\b|\btouch|\bhandled\b|\bbath\b|\bwait(?!.*\b(lap|pitch)\b)/i,
    "min",
    /^(touch|bath|wait|third|bands|agree|pits_again|reading_rest|spherometer_rest)/,
  ],
  [/\b(lap|pitch)\b.*\bwait|\bwait.*\b(lap|pitch)\b/i, "min", /^(press_warm|skin|press)/],
  [/\b(tube|telescope)\b.*\b(cool|out)|\bevening\b.*cool/i, "min", /^outside/],
  [/\bpress(ed|es|ing)?\b/i, "min", /^press|^pause_after|^touch_bare$/],
  [
    /\bfields (at|of|just inside) the (edge|rim|bevel)\b|\b(edge|rim) fields\b/i,
    "fields",
    /^fields_polished$/,
  ],
  [/\bcharge|\bpinch/i, "min", /^(charge|polish_charge|last_charge|rough_session)/],
  [/\bcharge|\bpinch|\bspoon/i, "g", /^charge/],
  [/\bpolish(ing|ed)?\b/i, "kg", /^press_polish$/],
  [/\bglass included\b|\bpress(es|ing)? with\b/i, "kg", /^press_/],
  [/\bstrokes (a|in a|per) minute\b/i, "strokes/min", /^pace$/],
  [/\bburn(t|s)?\b.*\bwater\b|\bwater\b.*\bburn(t|s)?\b/i, "min", /^burn_cool$/],
  [/\bslit\b/i, "mm", /^slit|^slide/],
  [/\bpads?\b.*\bwide\b|\bclips?\b.*\b(air|cover)/i, "mm", /^pad|^rim_air|^clip/],
  [/\bsessions?\b/i, "min", /^(figure|session|pause|bath|touch|press)/],
  [/\bbevel\b/i, "mm", /^bevel|^chip/],
  [/\bfacets?\b|\bchannels?\b|\blap\b.*thick/i, "mm", /^(facet|channel|lap|grid|trim|bare_spot)/],
  [/\bnail\b/i, "s", /^nail/],
  [/\bpitch\b/i, "deg C", /^(plate|pour|warm|room|lap_store)/],
];

/** Lengths beyond these are no bevel and no part of a lap: widths of discs, errors of leaves. */
const sizes = [0.3, 40] as const;

/** Values, and ends of ranges, of the facts and decisions of these names. */
function allowed(may: RegExp, unit: string): number[] {
  return [...facts(), ...decisions()].filter(({ name }) => may.test(name)).flatMap((row) => {
    const times = row.unit === "h" && unit === "min" ? 60 : row.unit === unit ? 1 : undefined;
    if (times === undefined) return [];
    const ends = "provenance" in row ? [row.value, row.low, row.high] : [row.value];
    return ends.flatMap((end) => end === undefined ? [] : [end * times]);
  });
}

/**
 * Numbers of a text that speak of a shared fact and are none of its numbers.
 *
 * Code, links and formulas do not count. A sentence that speaks of two subjects may quote either.
 */
export function contradicting(prose: string): SaidNumber[] {
  const plain = prose.replace(/`[^`]*`|\]\([^)]*\)|\$\$[\s\S]*?\$\$|\$[^$\n]*\$/g, " ");
  const sentences = plain.split(/(?<=[.!?:;])\s+|\n+/);
  return sentences.flatMap((sentence) =>
    forms.flatMap(([form, unit, times]) => {
      const of = subjects.filter(([speaks, its]) => its === unit && speaks.test(sentence));
      if (of.length === 0) return [];
      const may = of.flatMap(([, , names]) => allowed(names, unit));
      return [...sentence.matchAll(form)].flatMap((found) => {
        const said = (found[1] ?? "1").toLowerCase(), value = (words[said] ?? Number(said)) * times;
        const [least, most] = unit === "mm" ? sizes : [0, Infinity];
        return value < least || value > most || may.some((one) => Math.abs(one - value) < 1e-9)
          ? []
          : [{ text: found[0], value, unit, subject: of[0]?.[2].source ?? "", sentence }];
      });
    })
  );
}
