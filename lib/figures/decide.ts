/** The end of a page: what to do in one sentence, where you stand, all the choices, and the mirror's verdict. */
import { axisLine } from "./drawings/axisLine.ts";
import { isNarrow } from "./figure.ts";
import { type Html, safe, trusted } from "./html.ts";
import { dot, drawing, group, path, rect, stroke, through, widthOf, words } from "./pen.ts";
import { fixed, type Scale, scale } from "./scale.ts";
import { asShown, type Showable, type Shown, wordsOf } from "./show.ts";

/** One of the ways on; exactly one may be chosen. */
export interface Choice {
  readonly name: string;
  /** when it is the right one, continuing the name: "while the depth is below 1.128 mm." */
  readonly when: string;
  readonly chosen?: boolean;
}

/** A decision as the page tells it. */
export interface Decision {
  /** the chosen way in two or three words: "go on" */
  readonly title: string;
  /** what to mind before it is done: where the block prints a whole next step */
  readonly mind?: string;
  /** what to do, in one sentence with its number */
  readonly do: string;
  readonly choices: readonly Choice[];
  /** where you stand: usually `decisionScale(...)` */
  readonly scale?: Showable;
  /** a sentence after the choices: what the number does not promise */
  readonly after?: string;
}

/**
 * The block a page was for.
 *
 * @throws {RangeError} unless there are choices and at most one of them is chosen
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const block = decide({
 *   title: "go on",
 *   do: "Grind 9 minutes more.",
 *   choices: [{ name: "Go on", when: "below 1.128 mm.", chosen: true }, { name: "Stop", when: "at it." }],
 * });
 * assert.match(block.html, /<li class="chosen"><b>Go on<\/b> below 1.128 mm.<\/li>/);
 * ```
 */
export function decide(decision: Decision): Shown {
  const { title, choices, scale, after } = decision;
  const chosen = choices.filter((choice) => choice.chosen === true);
  if (choices.length === 0 || chosen.length > 1) {
    throw new RangeError(
      `decide requires choices, at most one chosen, got ${choices.length} and ${chosen.length} chosen`,
    );
  }
  const list = choices.map(({ name, when, chosen: mine }) =>
    safe`<li${mine === true && trusted(' class="chosen"')}><b>${name}</b> ${when}</li>\n`
  );
  const even = choices.length % 3 !== 0 && choices.length % 2 === 0;
  const picture = scale === undefined ? undefined : asShown(scale);
  const markup = safe`<section class="decide" aria-label="${`Decide: ${title}`}">
<h2>Decide: ${title}</h2>
${decision.mind !== undefined && safe`<p class="mind"><b>Mind first:</b> ${decision.mind}</p>`}
<p class="do">${decision.do}</p>
${picture !== undefined && trusted(picture.html)}
<ul class="${even ? "choices four" : "choices"}">
${list}</ul>
${after !== undefined && safe`<p>${after}</p>`}
</section>`;
  const words = [
    `Decide: ${title}. ${
      decision.mind === undefined ? "" : `Mind first: ${decision.mind} `
    }${decision.do}`,
    ...(picture === undefined ? [] : [picture.text]),
    ...choices.map((c) => `${c.chosen === true ? "> " : "  "}${c.name} ${c.when}`),
    ...(after === undefined ? [] : [after]),
  ];
  return { html: markup.markup, text: words.join("\n") };
}

/** A mirror's verdict as the report tells it. */
export interface VerdictParts {
  readonly meetsGoal: "yes" | "no" | "not shown";
  /** what it comes to, in one sentence */
  readonly says: string;
  /** the numbers behind it */
  readonly because: Showable;
}

/**
 * The verdict in one word, what it comes to, and the numbers behind it.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const block = verdict({ meetsGoal: "yes", says: "Coat it.", because: "P-V 26 nm, goal 69 nm." });
 * assert.match(block.html, /<p class="word">Yes<\/p>/);
 * ```
 */
export function verdict({ meetsGoal, says, because }: VerdictParts): Shown {
  const word = meetsGoal.charAt(0).toUpperCase() + meetsGoal.slice(1);
  const numbers = asShown(because);
  const behind = trusted(numbers.html.replace(/^<p class="out">/, "<p>"));
  const markup = safe`<section class="verdict" aria-label="Verdict">
<p class="word">${word}</p>
<div><p>${says}</p>
${behind}</div>
</section>`;
  return { html: markup.markup, text: `${word}. ${says} ${numbers.text || wordsOf(numbers.html)}` };
}

// Where you stand on the scale of choices: the choices as zones, your value with its interval, the plan dotted.

/** A choice along the scale. */
export interface ScaleZone {
  readonly name: string;
  /** a shorter name for a narrow sheet */
  readonly short?: string;
  /** where the choice ends; the last one ends with the scale */
  readonly to?: number;
  /** a boundary that must not be passed is drawn as a limit, any other as a thin line */
  readonly limit?: boolean;
  /** "past": a choice nobody wants to need */
  readonly tone?: "before" | "wanted" | "past";
}

/** The scale and where a mirror stands on it. */
export interface StandOnScale {
  readonly from: number;
  readonly to: number;
  /** of the axis, with the unit */
  readonly title: string;
  readonly digits: number;
  readonly zones: readonly ScaleZone[];
  readonly value: number;
  readonly interval?: readonly [low: number, high: number];
  /** where the plan leads, and its label: "in 9 min" */
  readonly then?: { readonly value: number; readonly label: string };
  readonly whose?: "yours" | "demo";
}

const tones = { before: "zone-a", wanted: "zone-b", past: "zone-c" } as const;

function check({ from, to, zones, value }: StandOnScale): void {
  const ends = zones.slice(0, -1).map((zone) => zone.to ?? NaN);
  const rising = [from, ...ends, to].every((end, i, all) => i === 0 || end > (all[i - 1] ?? NaN));
  if (!rising || zones.length === 0 || !Number.isFinite(value)) {
    throw new RangeError(
      `decisionScale requires zones whose ends rise from ${from} to ${to} and a finite value, got ends ${
        ends.join(", ")
      }, value=${value}`,
    );
  }
}

/** The zone a value stands in. */
function zoneOf({ zones, value }: StandOnScale): ScaleZone | undefined {
  return zones.find((zone, i) => i === zones.length - 1 || value < (zone.to ?? Infinity));
}

function zonesHtml(stand: StandOnScale, at: Scale, small: boolean): Html {
  const { zones, from, to } = stand, here = zoneOf(stand);
  let start = from, lastEnd = -Infinity;
  return group(
    zones.map((zone, i) => {
      const end = i === zones.length - 1 ? to : zone.to ?? to, left = start;
      start = end;
      const name = small ? zone.short ?? zone.name : zone.name;
      const half = widthOf(name) / 2;
      const wish = (at(left) + at(end)) / 2;
      const middle = Math.min(at(to) - half, Math.max(wish, lastEnd + 10 + half, at(from) + half));
      lastEnd = middle + half;
      const tone = tones[zone.tone ?? (i === 0 ? "before" : "wanted")];
      return group(
        rect(tone, [at(left), 30], at(end) - at(left), 32),
        words([middle, 20], name, {
          anchor: "middle",
          ...(zone === here ? { kind: "b" } : {}),
        }),
      );
    }),
    zones.slice(0, -1).map((zone) =>
      stroke(zone.limit === true ? "limit" : "dim", [at(zone.to ?? to), 24], [
        at(zone.to ?? to),
        68,
      ])
    ),
  );
}

function standHtml(stand: StandOnScale, at: Scale): Html {
  const inside = (v: number): number => at(Math.min(stand.to, Math.max(stand.from, v)));
  const kind = stand.whose === "demo" ? "theirs" : "mine";
  const x = inside(stand.value), { interval, then } = stand;
  const bar = interval !== undefined &&
    path(kind, through([[inside(interval[0]), 46], [inside(interval[1]), 46]]), "stroke-width:2");
  if (then === undefined) return group(bar, dot(kind, [x, 46], 6));
  const goal = inside(then.value), side = goal >= x ? 1 : -1;
  const reach = interval === undefined ? x + side * 7 : inside(interval[side > 0 ? 1 : 0]);
  const flip = goal + 11 + widthOf(then.label) > at(stand.to);
  return group(
    bar,
    dot(kind, [x, 46], 6),
    side * (goal - reach) > 14 &&
      path(
        "lead",
        through([[reach + 4 * side, 46], [goal - 8 * side, 46]]),
        "stroke:var(--glass);stroke-dasharray:2 4;stroke-width:2",
      ),
    dot("theirs", [goal, 46], 5, "stroke:var(--glass);fill:none"),
    words([goal + (flip ? -11 : 11), 50.5], then.label, {
      kind: "t-glass",
      anchor: flip ? "end" : "start",
    }),
  );
}

function draw(stand: StandOnScale, width: number, finding: string): Html {
  const { from, to, title } = stand, at = scale(from, to, 1, width - 1);
  return drawing({
    width,
    height: 106,
    finding,
    contents: group(
      zonesHtml(stand, at, isNarrow(width)),
      axisLine({ domain: [from, to], from: 1, to: width - 1, y: 62, title }, at),
      standHtml(stand, at),
    ),
  });
}

function findingOf(stand: StandOnScale): string {
  const { from, to, title, digits, zones, value, interval, then } = stand;
  const n = (v: number): string => fixed(v, digits);
  const list = zones.map((zone, i) =>
    i === zones.length - 1 ? `${zone.name} beyond` : `${zone.name} up to ${n(zone.to ?? to)}`
  );
  const bar = interval === undefined
    ? ""
    : `, 95 percent interval ${n(interval[0])} to ${n(interval[1])}`;
  return `Scale of ${title}, from ${n(from)} to ${n(to)}: ${list.join(", ")}. ` +
    `${stand.whose === "demo" ? "The demo’s" : "Yours"} stands at ${n(value)}${bar}, in “${
      zoneOf(stand)?.name ?? ""
    }”.` + (then === undefined ? "" : ` The plan leads to ${n(then.value)} ${then.label}.`);
}

/**
 * The scale of a decision, for the block `decide`.
 *
 * @param stand  values in the unit of the title; zones in rising order
 * @returns a figure without a caption: the choices below it are its words
 * @throws {RangeError} unless the zones' ends rise from `from` to `to` and the value is finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = decisionScale({
 *   from: 0.9,
 *   to: 1.25,
 *   title: "Sagitta at the full 150 mm (mm)",
 *   digits: 3,
 *   zones: [{ name: "go on", to: 1.128, limit: true }, { name: "stop", to: 1.172 }, {
 *     name: "swap discs",
 *     tone: "past",
 *   }],
 *   value: 0.965,
 * });
 * assert.match(shown.text, /Yours stands at 0.965, in “go on”/);
 * ```
 */
export function decisionScale(stand: StandOnScale): Shown {
  check(stand);
  const finding = findingOf(stand);
  const [big, small] = [608, 340].map((width) => draw(stand, width, finding).markup);
  const markup = safe`<figure>
${trusted((big ?? "").replace('class="plot"', 'class="plot big-only"'))}
${trusted((small ?? "").replace('class="plot"', 'class="plot small-only"'))}
</figure>`;
  return { html: markup.markup, text: finding };
}
