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

const method = oneOf("leaves", "depth gauge", "spherometer", "sun distance", "sun image", "lamp");
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
  astigmatism: quantity("um"),
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
  diameters: number(1),
  astigmatism: keys({ amplitude: nm, axis: quantity("deg"), interval_95: interval }, { stand: nm }),
  budget: (value: unknown, at: string): string[] => {
    const shape = list(keys({ source: text, share: number(0, 1) }))(value, at);
    if (shape.length > 0) return shape;
    const sum = (value as readonly { share: number }[]).reduce(
      (total, row) => total + row.share,
      0,
    );
    return unless(Math.abs(sum - 1) < 1e-6, at, "shares that add up to the whole", sum);
  },
  unseen: list(text),
  photo: text,
  noise_floor_rms: wave,
  transverse_over_airy: bare,
  offset: mm,
  tilt: quantity("deg"),
};

/** A quantity in a unit whose value lies between two limits. */
const within = (unit: string, least: number, most = Infinity): Rule => (value, at) => [
  ...quantity(unit)(value, at),
  ...keys({ value: number(least, most) })(value, at),
];
/** Zero or more, and above zero: lengths, masses, times that exist. */
const some = (unit: string): Rule => within(unit, Number.MIN_VALUE);
const noneOrMore = (unit: string): Rule => within(unit, 0);

/** A list that is not empty. */
const full = (rule: Rule): Rule => (value, at) => [
  ...list(rule)(value, at),
  ...unless(!Array.isArray(value) || value.length > 0, at, "a list with something in it", value),
];

/** The contrast at a quarter, half and three quarters of the cut-off at least, the finer the less. */
const contrast: Rule = (value, at) => {
  const shape = full(keys({ of_cutoff: number(0, 1), value: number(0, 1) }))(value, at);
  if (shape.length > 0) return shape;
  const rows = value as readonly { of_cutoff: number; value: number }[];
  const missing = [0.25, 0.5, 0.75].filter((share) =>
    !rows.some(({ of_cutoff }) => of_cutoff === share)
  );
  const falls = rows.every((row, i) => i === 0 || row.value <= (rows[i - 1]?.value ?? 0));
  return [
    ...unless(missing.length === 0, at, `rows at ${missing.join(", ")}`, value),
    ...unless(falls, at, "contrast that falls with finer detail", value),
  ];
};

/** Three turns that add up to nothing. */
const turns: Rule = (value, at) => {
  const shape = list(number())(value, at), given = value as readonly number[];
  if (shape.length > 0) return shape;
  const sum = given.reduce((total, turn) => total + turn, 0);
  return unless(given.length === 3 && Math.abs(sum) < 1e-9, at, "three turns of zero sum", value);
};

const eyepiece = keys({
  magnification: number(Number.MIN_VALUE),
  exit_pupil: some("mm"),
  true_field: within("deg", Number.MIN_VALUE, 180),
  drawtube_per_dioptre: some("mm"),
});

/** Groups of keys that come together: where one of them stands, all of them do. */
const layout = {
  flat_minor_axis_needed: some("mm"),
  flat_minor_axis: some("mm"),
  flat_offset: noneOrMore("mm"),
  flat_offset_along_face: noneOrMore("mm"),
  flat_to_focus: some("mm"),
  flat_from_vertex: some("mm"),
  fully_lit_field: mm, // below 0: no point of the field gets all the light
  obstruction_by_diameter: number(Number.MIN_VALUE, 1),
  obstruction_by_area: number(Number.MIN_VALUE, 1),
  magnitude_loss: number(0),
  contrast,
  illumination_at_field_stop: number(0, 1),
  tube_bore_needed: some("mm"),
  tube_is_wide_enough: flag,
};
const cell = {
  support_radius: some("mm"),
  support_surface_rms: some("nm"),
  support_surface_rms_thick: some("nm"),
  mirror_mass: some("kg"),
  cool_down: some("min"),
};
const collimation = { coma_free_radius: some("mm"), tilt_tolerance: some("arcmin") };
const screws = { star_shift_per_turn: some("mm"), screw_turns: turns };
const balance = { balance_point: mm, total_mass: some("kg") };
const swap = { swap_moment: noneOrMore("N m"), holds_balance: flag };

const together = (group: Readonly<Record<string, Rule>>): Rule => (value, at) =>
  isObject(value) && Object.keys(group).some((key) => key in value) ? keys(group)(value, at) : [];

const telescopeKeys = keys({}, {
  focal_length: some("mm"),
  ...layout,
  coma_rms_at_field_stop: noneOrMore("wave"),
  ...cell,
  ...collimation,
  ...screws,
  ...balance,
  ...swap,
  friction_moment: noneOrMore("N m"),
  eyepieces: full(eyepiece),
});

/** The telescope: what is written down, group by group; the numbers of a group agree with each other. */
const telescope: Rule = (value, at) => {
  const shape = [telescopeKeys, ...[layout, cell, collimation, screws, balance, swap].map(together)]
    .flatMap((rule) => rule(value, at));
  if (shape.length > 0 || !isObject(value)) return shape;
  const t = value as Readonly<Record<string, { value: number }>>,
    of = (key: string): number => t[key]?.value ?? NaN;
  const agrees = (key: string, got: number, wanted: number): string[] =>
    unless(!(Math.abs(got - wanted) > 1e-9 * Math.abs(wanted)), `${at}.${key}`, `${wanted}`, got);
  return [
    ...agrees(
      "flat_offset_along_face",
      of("flat_offset_along_face"),
      Math.SQRT2 * of("flat_offset"),
    ),
    ...agrees("flat_from_vertex", of("flat_from_vertex"), of("focal_length") - of("flat_to_focus")),
    ...("obstruction_by_area" in value
      ? agrees(
        "obstruction_by_area",
        value["obstruction_by_area"] as number,
        (value["obstruction_by_diameter"] as number) ** 2,
      )
      : []),
    ...("holds_balance" in value
      ? unless(
        value["holds_balance"] === of("friction_moment") >= of("swap_moment"),
        `${at}.holds_balance`,
        "what the two moments say",
        value["holds_balance"],
      )
      : []),
  ];
};

/** The silver, and all that must be said with it: sending out first, the place's rules last. */
const coating = keys({
  silver_mass: some("mg"),
  cautions: (value, at) => {
    const words = Array.isArray(value) ? value.join(" ") : "";
    return [
      ...full(text)(value, at),
      ...[
        "sent? .*out|Send .* out",
        "never stored",
        "Under-18s",
        "Sun filter",
        "rules of the place",
      ]
        .flatMap((wanted) =>
          unless(new RegExp(wanted).test(words), at, `a caution that says ${wanted}`, words)
        ),
    ];
  },
});

const sky = keys({
  dawes_limit: some("arcsec"),
  rayleigh_limit: some("arcsec"),
  limiting_magnitude: interval,
});

/** A figure is whole, or it says why it is not there. Every value lies inside its own interval. */
const figure: Rule = (value, at) => {
  if (isObject(value) && "refused" in value) {
    return keys({ refused: text }, { photo: text })(value, at);
  }
  const shape = keys(figureParts, figureExtras)(value, at);
  if (shape.length > 0) return shape;
  const found = value as Readonly<Record<string, { value: number }>> & {
    readonly interval_95: Readonly<Record<string, readonly [number, number]>>;
  };
  return Object.entries(found.interval_95).flatMap(([key, ends]) =>
    unless(inside(found[key]?.value, ends), `${at}.${key}`, `a value in ${said(ends)}`, found[key])
  );
};

const inside = (value: number | undefined, [low, high]: readonly [number, number]): boolean =>
  value !== undefined && value >= low - 1e-9 && value <= high + 1e-9;

const meets = oneOf("yes", "no", "not shown");
const verdict = keys({
  meets_goal: meets,
  probability: number(0, 1),
  why: text,
  scope: oneOf("one diameter", "whole surface"),
}, {
  lacks: (value: unknown, at: string): string[] => full(text)(value, at),
  outside_shadow: (value: unknown, at: string): string[] => {
    const shape = keys({
      wavefront_pv: wave,
      meets_goal: meets,
      probability: number(0, 1),
      interval_95: interval,
    })(value, at);
    if (shape.length > 0) return shape;
    const { wavefront_pv: pv, interval_95: ends } = value as {
      wavefront_pv: { value: number };
      interval_95: readonly [number, number];
    };
    return unless(inside(pv.value, ends), `${at}.wavefront_pv`, `a value in ${said(ends)}`, pv);
  },
});

/** Low, middle, high in this order. */
const inOrder: Rule = (value, at) => {
  const three = Array.isArray(value) ? value as unknown[] : [];
  const holds = three.length === 3 && three.every((one) => isNumber(one) && one >= 0) &&
    (three[0] as number) <= (three[1] as number) && (three[1] as number) <= (three[2] as number);
  return unless(holds, at, "[low, middle, high]", value);
};
/** What was learnt of the hands: numbers are nm of the verdict's scope at least-rms focus. */
const figuring = keys({
  rate: quantity("um/h"),
  learned_from: count,
  before_after: list(keys({
    rms_before: number(0),
    foreseen: inOrder,
    rms_after: number(0),
  }, { date: text })),
});
/** A stroke that hands can time: a minute or more, 0 to 360 degrees of turning, on the disc. */
const stroke = keys({
  position: oneOf("mirror on top", "tool on top"),
  side_mm: number(0),
  length_mm: number(1),
  minutes: number(1),
  upper_turn_deg: number(0, 360),
  lower_turn_deg: number(0, 360),
  every_strokes: number(1),
}, { lap_mm: number(1) });
const foreseen: Rule = (value, at) => {
  const shape = keys({ from: number(0), low: number(0), middle: number(0), high: number(0) })(
    value,
    at,
  );
  if (shape.length > 0) return shape;
  const { low, middle, high } = value as { low: number; middle: number; high: number };
  return unless(low <= middle && middle <= high, at, "low <= middle <= high", value);
};

/** The stages that a next step may name, all of them. */
const STAGES = [
  ...["blanks", "rough grinding", "measuring", "correcting", "fine grinding", "lap", "polishing"],
  ...["band test", "zone test", "star test", "figuring", "coating", "flat and tube", "cell"],
  ...["mounting", "alignment", "first light", "care", "check the record"],
];
const nextStep = keys({
  stage: oneOf(...STAGES),
  do: text,
  until: text,
  why: text,
  caution: text,
}, {
  readings: (value: unknown, at: string): string[] =>
    full(keys({ angle_deg: number(0, 360), knife_deg: number(0, 360), runs: number(1) }))(
      value,
      at,
    ),
  plan: full(stroke),
  minutes: number(0.5),
  foreseen,
});

const directedFault = keys({
  amount: quantity("wave"),
  interval_95: list(number(0)),
  axis: quantity("deg"),
});

const surfaceTest = oneOf("zones", "bands", "star", "knife");
const zeroToOne = list(number(0));
/** zones, bands, star and knife in the terms that several see */
const allTests = keys({
  spherical: quantity("wave"),
  conic: quantity(""),
  tests: list(keys({ test: surfaceTest, spherical: quantity("wave"), weight: number(-1, 2) }, {
    astigmatism_weight: number(-1, 2),
  })),
  birge_ratio: number(0),
  round: list(keys({ n: number(4), amount: quantity("nm") })),
  next: keys({ test: surfaceTest, minutes: quantity("min"), u: quantity("wave") }),
}, {
  odd_one: surfaceTest,
  astigmatism: directedFault,
  threefold: directedFault,
  surface: keys({
    surface_pv: quantity("nm"),
    surface_rms: quantity("nm"),
    wavefront_pv: quantity("wave"),
    wavefront_rms: quantity("wave"),
    strehl: quantity(""),
    interval_95: keys({ wavefront_pv: zeroToOne, wavefront_rms: zeroToOne, strehl: zeroToOne }),
    probability_within_goal: number(0, 1),
  }),
});

/** photographs behind the knife */
const pair = list(number());
const knifeSeries = keys({ photos: list(text) }, {
  refused: text,
  directions: number(1),
  seats: number(1),
  surface_pv: quantity("nm"),
  surface_rms: quantity("nm"),
  wavefront_pv: quantity("wave"),
  wavefront_rms: quantity("wave"),
  conic: quantity(""),
  astigmatism: keys({ amplitude: quantity("nm"), axis: quantity("deg"), interval_95: pair }),
  interval_95: keys({
    surface_pv: pair,
    surface_rms: pair,
    wavefront_pv: pair,
    wavefront_rms: pair,
    conic: pair,
  }),
  shapes: list(
    keys({ amount: quantity("nm") }, { n: number(0), m: number(), width: number(0) }),
  ),
  zones: list(keys({
    inner: number(0),
    outer: number(0),
    knife: number(),
    reading: quantity("mm"),
  })),
  doubt: list(keys({ radius: number(0), u: number(0) })),
  sections: list(keys({
    angle: quantity("deg"),
    places: list(keys({ at: number(), surface_error: number(), u: number(0) })),
  })),
  misfit: number(0),
});

/** two photographs of a star */
const starPair = keys({ photos: list(text), angle: quantity("deg") }, {
  refused: text,
  spherical: quantity("wave"),
  astigmatism: directedFault,
  coma: directedFault,
  threefold: directedFault,
  edge: quantity("wave"),
  seeing: list(quantity("arcsec")),
  defocus: list(quantity("wave")),
  obstruction: quantity(""),
  misfit: number(0),
});

/** faults with the mirror turned: its own, and what stayed */
const faults = keys({}, {
  astigmatism: directedFault,
  threefold: directedFault,
  fourfold: directedFault,
});
const parted = keys({ mirror: faults, rest: faults });

/** The parts of the file: the first six are always there. */
const ALWAYS: Readonly<Record<string, Rule>> = {
  record: text,
  title: text,
  kit_version: text,
  warnings: list(warning),
  design,
  next_step: nextStep,
};
const SOMETIMES: Readonly<Record<string, Rule>> = {
  curve,
  grinding,
  figure: keys({}, {
    zones: figure,
    photos: list(figure),
    knife: list(knifeSeries),
    parted,
    together: allTests,
  }),
  star: keys({ pairs: list(starPair) }, { parted }),
  verdict,
  figuring,
  telescope,
  coating,
  sky,
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
