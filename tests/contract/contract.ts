/**
 * The contract of summary.json, written down by hand from its description and from nothing else: what a program that reads
 * the file may rely on. Keys may be added, never renamed; what is not known is absent, never null and never zero.
 */

/** Lists what is wrong with a value at a place; nothing where it is as agreed. */
export type Rule = (value: unknown, at: string) => string[];

type Keys = Readonly<Record<string, unknown>>;

const isObject = (value: unknown): value is Keys =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isNumber = (value: unknown): value is number =>
  typeof value === "number" && Number.isFinite(value);
const said = (value: unknown): string => JSON.stringify(value)?.slice(0, 60) ?? "nothing";
const unless = (holds: boolean, at: string, wanted: string, value: unknown): string[] =>
  holds ? [] : [`${at}: wanted ${wanted}, got ${said(value)}`];

/** A finite number between two limits. */
export const number = (least = -Infinity, most = Infinity): Rule => (value, at) =>
  unless(
    isNumber(value) && value >= least && value <= most,
    at,
    `a number from ${least} to ${most}`,
    value,
  );
export const count: Rule = (value, at) =>
  unless(isNumber(value) && Number.isInteger(value) && value >= 0, at, "a count", value);
export const text: Rule = (value, at) =>
  unless(typeof value === "string" && value.trim() !== "", at, "words", value);
export const flag: Rule = (value, at) =>
  unless(typeof value === "boolean", at, "true or false", value);
export const oneOf = (...words: readonly string[]): Rule => (value, at) =>
  unless(words.includes(value as string), at, `one of ${words.join(", ")}`, value);

export const list = (rule: Rule): Rule => (value, at) =>
  Array.isArray(value)
    ? value.flatMap((item, index) => rule(item, `${at}[${index}]`))
    : unless(false, at, "a list", value);

/** Two numbers, the lower one first. */
export const interval: Rule = (value, at) => {
  const [low, high, ...others] = Array.isArray(value) ? value as unknown[] : [];
  const holds = isNumber(low) && isNumber(high) && low <= high && others.length === 0;
  return unless(holds, at, "[low, high]", value);
};

/** An object: these keys must be there, those may; others are additions and only looked at for holes. */
export const keys = (
  needed: Readonly<Record<string, Rule>>,
  allowed: Readonly<Record<string, Rule>> = {},
): Rule =>
(value, at) => {
  if (!isObject(value)) return unless(false, at, "an object", value);
  const missing = Object.keys(needed).filter((key) => !(key in value)).map((key) =>
    `${at}.${key}: is missing`
  );
  const found = Object.entries({ ...needed, ...allowed }).flatMap(([key, rule]) =>
    key in value ? rule(value[key], `${at}.${key}`) : []
  );
  return [...missing, ...found];
};

/** A quantity in one of these units; `u` is above zero where it is told, `from` names files. */
export const quantity = (...units: readonly string[]): Rule => (value, at) => {
  const shape = keys({ value: number(), unit: oneOf(...units) }, {
    u: number(Number.MIN_VALUE),
    dof: number(Number.MIN_VALUE),
    from: list(text),
  });
  return shape(value, at);
};

const mm = quantity("mm");
const nm = quantity("nm");
const wave = quantity("wave");
const bare = quantity("");

const warning = keys({ message: text }, { file: text, line: number(1), column: () => [] });

const design = keys({
  aperture: mm,
  focal_length: mm,
  focal_ratio: number(0.25),
  radius: mm,
  sagitta: mm,
  shape: oneOf("sphere", "paraboloid"),
  sphere_is_enough: flag,
  sphere_departure: nm,
  airy_radius: quantity("um"),
});

const method = oneOf("leaves", "depth gauge", "spherometer", "sun distance", "sun image");
const setAside = keys({ file: text, line: number(1), value: number(), why: text });

const curve = keys({
  estimates: list(
    keys({ method, radius: mm, readings: count, set_aside: count, used: flag }),
  ),
  consistent: flag,
  set_aside: list(setAside),
  budget: list(keys({ source: text, share: number(0, 1) })),
}, {
  radius: mm,
  focal_length: mm,
  sagitta: mm,
  birge_ratio: number(0),
  odd_one: method,
  mistake: keys({ file: text, what: text }),
});

const rate = quantity("um/min");
const grinding = keys({
  rates: keys({}, { mirror_on_top: rate, tool_on_top: rate }),
  sagitta_now: mm,
  target_sagitta: mm,
  next_position: oneOf("mirror on top", "tool on top"),
  can_forecast: flag,
}, {
  overshoot: quantity("um"),
  minutes_to_target: quantity("min"),
  interval_95: interval,
  stop_at: mm,
});

const profile = list(keys({ radius: number(0), surface_error: number(), u: number(0) }));
const figureParts = {
  conic: bare,
  surface_pv: nm,
  surface_rms: nm,
  wavefront_pv: wave,
  wavefront_rms: wave,
  strehl: bare,
  reference: oneOf("paraboloid", "sphere"),
  focus: oneOf("least rms"),
  profile,
  interval_95: keys({
    wavefront_pv: interval,
    wavefront_rms: interval,
    strehl: interval,
    conic: interval,
  }),
  probability_within_goal: number(0, 1),
};
const figureExtras = {
  photo: text,
  noise_floor_rms: wave,
  transverse_over_airy: bare,
  offset: mm,
  tilt: quantity("deg"),
};

/** A figure is whole, or it says why it is not there. */
const figure: Rule = (value, at) =>
  isObject(value) && "refused" in value
    ? keys({ refused: text }, { photo: text })(value, at)
    : keys(figureParts, figureExtras)(value, at);

/** The parts of the file: the first six are always there. */
const ALWAYS: Readonly<Record<string, Rule>> = {
  record: text,
  title: text,
  kit_version: text,
  warnings: list(warning),
  design,
  next_step: keys({ stage: text, do: text, until: text, why: text, caution: text }),
};
const SOMETIMES: Readonly<Record<string, Rule>> = {
  curve,
  grinding,
  figure: keys({}, { zones: figure, photos: list(figure) }),
  verdict: keys({
    meets_goal: oneOf("yes", "no", "not shown"),
    probability: number(0, 1),
    why: text,
  }),
  telescope: keys({}),
  coating: keys({}),
  sky: keys({}),
};

/** Nowhere null, nowhere a number that is none, nowhere a value without its unit. */
function holes(value: unknown, at: string): string[] {
  if (value === null || value === undefined) return [`${at}: is ${value}, wanted absent`];
  if (typeof value === "number") {
    return unless(Number.isFinite(value), at, "a finite number", value);
  }
  if (Array.isArray(value)) return value.flatMap((item, index) => holes(item, `${at}[${index}]`));
  if (!isObject(value)) return [];
  const loose = "u" in value && "value" in value && !("unit" in value)
    ? [`${at}: has a value and a u, but no unit`]
    : [];
  return [
    ...loose,
    ...Object.entries(value).flatMap(([key, item]) => holes(item, `${at}.${key}`)),
  ];
}

/**
 * What keeps a value from being a summary as agreed.
 *
 * @param summary  parsed JSON, or an object on its way there
 * @returns one line for each fault, naming its place; empty where there is none
 */
export function contractProblems(summary: unknown): string[] {
  if (!isObject(summary)) return ["the file: wanted an object"];
  const known = { ...ALWAYS, ...SOMETIMES };
  const strange = Object.keys(summary).filter((key) => !(key in known)).map((key) =>
    `.${key}: no part of this name was agreed`
  );
  return [...strange, ...keys(ALWAYS, SOMETIMES)(summary, ""), ...holes(summary, "")];
}
