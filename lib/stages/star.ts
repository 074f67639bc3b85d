/** The stage of the star: what may be wrong with it, what to do next to find out, and what the record says already. */
import { facts, note, readingsTable, sentence, type TableRow } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import { type Shown, together } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { starOf } from "../knowledge/quantities.ts";
import { fromQ } from "../knowledge/q.ts";
import type { Q, StarPairSummary } from "../knowledge/summaryTypes.ts";
import type { Measured } from "../quantity/measured.ts";
import { decision } from "../record/tables.ts";
import {
  STAR_ACTS,
  STAR_CAUSES,
  type StarCauseName,
  type StarLook,
  type StarPath,
  starPath,
  SURE_CAUSE,
} from "../testing/star/starCauses.ts";
import { ownOrDemo, type Part } from "./base.ts";

/** What a record says before anybody looks: a cause, how many times likelier or less likely, and why. */
interface Hint {
  readonly causes: readonly StarCauseName[];
  readonly times: number;
  readonly why: string;
}

/** A sign that is clear counts so much, one of the weather or of a word less (COMMON PRACTICE). */
const CLEAR = 6, WEAK = 3;

/** Which causes a fault of a pair of photographs stands for; the eye is in none of them. */
const OF_PAIR: Readonly<Record<string, readonly StarCauseName[]>> = {
  "spherical": ["mirror's curve", "warm mirror"],
  "astigmatism": ["mirror astigmatic", "flat", "pinched cell"],
  "coma": ["mirrors not aligned"],
  "threefold": ["pinched cell"],
  "turned edge": ["turned edge"],
};

function pairHints(pair: StarPairSummary | undefined): readonly Hint[] {
  return (pair?.faults ?? []).flatMap(({ fault, says }): readonly Hint[] => {
    const causes = OF_PAIR[fault];
    if (causes === undefined || says === "cannot tell") return [];
    return says === "there"
      ? [{ causes, times: CLEAR, why: `Your star photographs prove ${fault}.` }]
      : [{ causes, times: 1 / CLEAR, why: `Your star photographs show no ${fault}.` }];
  });
}

function partedHints({ summary }: Mirror): readonly Hint[] {
  const parted = summary.star?.parted;
  const least = (end: readonly [number, number] | undefined): number => end?.[0] ?? 0;
  return [
    ...(least(parted?.mirror.astigmatism?.interval95) > 0
      ? [{
        causes: ["mirror astigmatic"] as const,
        times: CLEAR,
        why: "Part of the oval turned with the mirror.",
      }]
      : []),
    ...(least(parted?.rest.astigmatism?.interval95) > 0
      ? [{
        causes: ["flat", "pinched cell"] as const,
        times: WEAK,
        why: "Part of the oval stayed when the mirror was turned.",
      }]
      : []),
  ];
}

function hintsOf(mirror: Mirror): readonly Hint[] {
  const { record, summary } = mirror, screws = record.settings.telescope?.screws;
  const free = summary.telescope?.comaFreeRadius?.value;
  const off = screws === undefined ? undefined : Math.hypot(...screws.imageAt) / 2;
  const seen = record.observations.findLast(({ air }) => air !== undefined)?.air;
  const warmer = record.observations.findLast((row) => row.warmer !== undefined)?.warmer;
  const most = decision("tube_air_difference_most"), hints: Hint[] = [];
  const verdict = summary.verdict;
  if (verdict?.meetsGoal === "yes") {
    hints.push({
      causes: ["mirror's curve", "turned edge"],
      times: 1 / CLEAR,
      why: "The verdict on your glass is yes.",
    });
    if (verdict.scope === "whole surface") {
      hints.push({
        causes: ["mirror astigmatic"],
        times: 1 / CLEAR,
        why: "It is one on the whole surface.",
      });
    }
  } else if (verdict?.meetsGoal === "no") {
    hints.push({
      causes: ["mirror's curve", "turned edge"],
      times: WEAK,
      why: "The verdict on your glass is no.",
    });
  }
  if (off !== undefined && free !== undefined) {
    const isOff = off > free;
    hints.push({
      causes: ["mirrors not aligned"],
      times: isOff ? WEAK : 1 / WEAK,
      why: isOff
        ? "mirror.yaml has the image outside what coma allows."
        : "mirror.yaml has the mirrors aligned.",
    });
  }
  if (seen !== undefined && (seen <= 2 || seen >= 4)) {
    hints.push({
      causes: ["air above"],
      times: seen <= 2 ? WEAK : 1 / WEAK,
      why: `You wrote ${seen} of 5 for the air, last time.`,
    });
  }
  if (warmer !== undefined) {
    hints.push({
      causes: ["warm mirror", "air in the tube"],
      times: warmer > most ? WEAK : 1 / WEAK,
      why: `The mirror was ${warmer.toFixed(1)} °C warmer than the air, last time.`,
    });
  }
  return [...hints, ...pairHints(starOf(summary)), ...partedHints(mirror)];
}

/** How much likelier a record makes each cause. */
export function starPrior(mirror: Mirror): Readonly<Partial<Record<StarCauseName, number>>> {
  const prior: Partial<Record<StarCauseName, number>> = {};
  for (const { causes, times } of hintsOf(mirror)) {
    for (const cause of causes) prior[cause] = (prior[cause] ?? 1) * times;
  }
  return prior;
}

const percent = (share: number): string => share < 0.01 ? "under 1" : (100 * share).toFixed(0);

/** What was done and seen, in words. */
function doneRows(looks: readonly StarLook[]): readonly TableRow[] {
  return looks.map(({ act: name, saw }) => {
    const act = STAR_ACTS.find((one) => one.name === name);
    const known = act === undefined ? [] : [...act.signs, act.none];
    return {
      cells: [
        name,
        saw.map((key) => known.find((one) => one.key === key)?.said ?? key).join("; and "),
      ],
    };
  });
}

function nextNote({ causes, acts: [next], found, settled }: StarPath): readonly Shown[] {
  if (settled) {
    return [
      sentence(
        found.length === 0
          ? safe`<b>Nothing found:</b> none of these is at work so that an eye would see it.`
          : safe`<b>Done:</b> nothing else is likely. Mend it, and look at both sides again.`,
      ),
    ];
  }
  if (next !== undefined) {
    const { does, minutes, signs, none } = next.act;
    return [
      sentence(
        safe`<b>Do next:</b> ${does} It takes ${
          minutes === 1 ? "a minute" : `${minutes} minutes`
        } and tells most.`,
      ),
      readingsTable(
        signs.length > 1 ? "It shows one or several of these" : "It shows one of these",
        [{ title: "Write", text: true }, { title: "What you see", text: true }],
        [...signs, none].map(({ key, said }) => ({ cells: [key, said] })),
      ),
    ];
  }
  const open = causes.filter(({ probability }) =>
    probability < SURE_CAUSE && probability > 1 - SURE_CAUSE
  );
  return [
    sentence(
      safe`<b>Cannot tell:</b> nothing that is left to do parts these: ${
        open.map(({ cause }) => cause.said).join("; ")
      }.`,
    ),
  ];
}

function pathShown(path: StarPath, looks: readonly StarLook[]): readonly Shown[] {
  const { causes, found } = path;
  return [
    ...(looks.length === 0 ? [] : [
      readingsTable(
        "What you saw",
        [{ title: "Act", text: true }, { title: "Seen", text: true }],
        doneRows(looks),
      ),
    ]),
    readingsTable(
      "What may be wrong",
      [{ title: "Cause", text: true }, { title: "How likely", unit: "%" }],
      causes.filter(({ probability }, i) => i < 3 || probability >= 0.05)
        .map(({ cause, probability }) => ({ cells: [cause.said, percent(probability)] })),
    ),
    note("Several may be at work at once: the shares need not make 100 %."),
    ...found.map(({ said, mend }) => sentence(safe`<b>Found:</b> ${said}. ${mend}`)),
    ...nextNote(path),
  ];
}

/**
 * What is likely wrong with a star after what was seen, and the act that tells most next.
 *
 * @param yours  the reader's mirror; what its record says weighs the causes from the start
 * @param seen   act and what it showed, in the words of the page and in their order, several signs in a list:
 *   `{ rack: ["oval", "boils"], head: "stays" }`
 * @throws {RangeError} for an act or a sign that is not in the list
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { openRecord } from "../knowledge/open.ts";
 * const { demo } = await openRecord();
 * assert.match(whatIsWrong(demo, { rack: "oval" }).text, /Do next: Turn your head/);
 * ```
 */
export function whatIsWrong(
  yours: Mirror,
  seen: Readonly<Record<string, string | readonly string[]>> = {},
): Shown {
  const looks = Object.entries(seen).map(([act, saw]) =>
    ({ act, saw: typeof saw === "string" ? [saw] : saw }) as StarLook
  );
  const hints = hintsOf(yours);
  return together(
    ...pathShown(starPath(looks, starPrior(yours)), looks),
    ...(hints.length === 0
      ? []
      : [note(safe`From your folder: ${hints.map(({ why }) => why).join(" ")}`)]),
  );
}

/** What the two sides of focus show with each cause. */
export function signsOfStar(): Shown {
  const rack = STAR_ACTS[0];
  const rows = STAR_CAUSES.map(({ name, said }): TableRow => {
    const shown = (rack?.signs ?? [])
      .filter((sign) => (sign.with[name] ?? 0) >= 0.3)
      .sort((a, b) => (b.with[name] ?? 0) - (a.with[name] ?? 0));
    return { cells: [said, shown.map((sign) => sign.said).join("; or ")] };
  });
  return readingsTable(
    "Both sides of focus",
    [{ title: "Cause", text: true }, { title: "What you see", text: true }],
    rows,
  );
}

/** The acts with their words, as `whatIsWrong` wants them. */
export function actsOfStar(): Shown {
  return together(
    readingsTable(
      "What you can do",
      [
        { title: "Act", text: true },
        { title: "What to do", text: true },
        { title: "Takes", unit: "min" },
      ],
      STAR_ACTS.map(({ name, does, minutes }) => ({ cells: [name, does, minutes] })),
    ),
    note("Minutes are common practice, not measured."),
  );
}

const waves = (told: Q | undefined): Measured | undefined =>
  told === undefined ? undefined : fromQ(told);

const SAYS = { "there": "is there", "not there": "is not there", "cannot tell": "cannot tell" };

/** What the last pair of photographs says of each fault, and how much. */
function pairShown({ summary }: Mirror): readonly Shown[] {
  const last = summary.star?.pairs.at(-1), pair = starOf(summary);
  if (pair === undefined) {
    return last?.refused === undefined
      ? [note(
        "No star photographs yet. One inside focus and one outside, a row for each in star.csv, tell how much.",
      )]
      : [note(`Your photographs tell nothing: ${last.refused}`)];
  }
  const acts = (pair.faults ?? []).filter(({ act }) => act !== undefined);
  return [
    readingsTable(
      "What the pair says",
      [{ title: "Fault", text: true }, { title: "Says", text: true }],
      (pair.faults ?? []).map(({ fault, says }) => ({ cells: [fault, SAYS[says]] })),
    ),
    facts([
      ["Spherical", waves(pair.spherical)],
      ["Astigmatism", waves(pair.astigmatism?.amount)],
      ["Coma", waves(pair.coma?.amount)],
      ["Threefold", waves(pair.threefold?.amount)],
    ]),
    ...acts.map(({ fault, causes = [], act = "" }) =>
      note(safe`<b>${fault}:</b> ${causes.join(", or ")}. ${act}.`)
    ),
  ];
}

const soFar: Part = {
  name: "star",
  noun: "hint",
  count: (mirror) => hintsOf(mirror).length,
  show: (mirror) => [
    ...pathShown(starPath([], starPrior(mirror)), []),
    note(`From the folder: ${hintsOf(mirror).map(({ why }) => why).join(" ")}`),
    ...pairShown(mirror),
  ],
  how:
    "A verdict, the screws in mirror.yaml, a night in observations.csv or a pair in star.csv: each of them says something of your star before you look.",
};

/** What the reader's record says of her star before she looks: likely causes, and her photographs. */
export function yourStarSoFar(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(soFar, yours, demo);
}

/** Observe, find out, or mend. */
export function decideStar(mirror: Mirror): Shown {
  const proved = (starOf(mirror.summary)?.faults ?? []).filter(({ says }) => says === "there");
  const first = proved[0];
  return decide({
    title: first === undefined ? "look at both sides" : `mend first: ${first.fault}`,
    do: first === undefined
      ? "Rack through focus on the next clear night, write down what both sides show, and follow the path."
      : `Your photographs prove ${first.fault}: ${first.act ?? "follow the path"}.`,
    choices: [
      { name: "Observe", when: "when the rings are round and alike on both sides." },
      {
        name: "Find out",
        when: "when they are not: one act after the other, the one that tells most first.",
        chosen: first === undefined,
      },
      {
        name: "Mend",
        when: "when one cause is surer than nine in ten, or your photographs prove a fault.",
        chosen: first !== undefined,
      },
    ],
    after: "The mirror goes back to the lap for nothing that a screw, a clip or a wait may mend.",
  });
}
