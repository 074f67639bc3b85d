/** The stage of repeated readings: histograms of settings of one thing, and what stands too far off. */
import { demo as demoBlock, note } from "../figures/blocks.ts";
import { histogramOfReadings } from "../figures/plots/histogramOfReadings.ts";
import { safe } from "../figures/html.ts";
import { type Showable, type Shown, together } from "../figures/show.ts";
import type { MethodRow, MethodSeries } from "../measuring/methods/method.ts";
import { methods, rowsOf } from "../measuring/methods/methods.ts";
import { type Reading, repeated } from "../measuring/repeated.ts";
import { measured } from "../quantity/measured.ts";
import type { Mirror } from "../knowledge/open.ts";
import { ofLatestMinute } from "../record/readings.ts";
import type { MirrorRecord, Row } from "../record/types.ts";
import { countOf, ownOrDemo, type Part, type Whose } from "./base.ts";

/** Fewer readings than this do not show a histogram. COMMON PRACTICE */
const histogramLeast = 3;

/** Readings of one kind: how they are drawn, how to take them. */
interface Series extends Omit<MethodSeries<MethodRow>, "readings"> {
  readonly readings: (record: MirrorRecord) => readonly Reading[];
  /** one of the course's methods */
  readonly usual: boolean;
}

/** The settings of each method that has any, the coarsest reading first. */
const series: readonly Series[] = methods.flatMap((method): Series[] => {
  const { series: own } = method;
  if (own === undefined) return [];
  const readings = (record: MirrorRecord): readonly Reading[] =>
    own.readings(ofLatestMinute(rowsOf(method, record) as readonly Row[]), record.settings);
  return [{ ...own, readings, usual: method.page?.usual ?? false }];
}).sort((a, b) => a.digits - b.digits);

/** A histogram of readings with their mean; one that stands too far off is struck through. */
function histogramFigure(
  readings: readonly Reading[],
  { title, digits }: Pick<Series, "title" | "digits">,
  whose: Whose,
): Shown {
  const found = repeated(readings), step = Math.max(...readings.map((one) => one.step));
  const aside = [...found.setAside];
  return histogramOfReadings({
    readings: readings.map(({ value }) => {
      const at = aside.findIndex((one) => one.value === value);
      const [doubt] = at < 0 ? [] : aside.splice(at, 1);
      return doubt === undefined ? { value } : { value, setAside: doubt.why };
    }),
    ...{ title, digits, unit: "mm", whose },
    ...(found.s === undefined ? {} : { spread: Math.max(found.s, step / Math.sqrt(12)) }),
    ...(readings.length < histogramLeast
      ? {}
      : { mean: measured(found.mean, found.u, "mm", found.dof) }),
  });
}

/**
 * Readings of one thing as a histogram, with what the kit would set aside struck through.
 *
 * @param values  mm
 * @param as      title of the axis, the gauge's step in mm, digits after the point
 * @throws {RangeError} for none, or where one is not finite
 * @example five readings, one of them odd: none is set aside
 * ```ts
 * import assert from "node:assert/strict";
 * const shown = histogram([12.31, 12.36, 12.27, 12.33, 12.58], { title: "Dial (mm)", step: 0.01, digits: 2 });
 * assert.doesNotMatch(shown.text, /struck through/);
 * ```
 */
export function histogram(
  values: readonly number[],
  as: { readonly title: string; readonly step: number; readonly digits: number },
): Shown {
  return histogramFigure(values.map((value) => ({ value, step: as.step })), as, "demo");
}

function partOf(kind: Series): Part {
  return {
    name: kind.name,
    count: ({ record }) => kind.readings(record).length,
    show: ({ record }, whose) => {
      const readings = kind.readings(record), lines = readings.map(({ line = 0 }) => line);
      const file = readings[0]?.file ?? "";
      return [
        histogramFigure(readings, kind, whose),
        note(
          safe`From <code>${file}</code>, lines ${Math.min(...lines)} to ${Math.max(...lines)}.`,
        ),
      ];
    },
    how: kind.how,
  };
}

/** The reader's latest readings of each kind, as histograms; with fewer than three of a kind also how to go on, and the demo's. */
export function yourRepeats(yours: Mirror, demo: Mirror): Shown {
  return together(...series.flatMap((kind): Showable[] => {
    const part = partOf(kind), own = part.count(yours);
    // what the course does not ask for is told only to whoever read it
    if (own === 0 && !kind.usual) return [];
    const shown = ownOrDemo(part, yours, demo);
    if (own === 0 || own >= histogramLeast) return [shown];
    const more = note(`Only ${countOf(own)}: measure again. ${kind.how}`);
    // the demo has not every kind
    if (part.count(demo) < histogramLeast) return [shown, more];
    return [shown, more, demoBlock(demo.summary.title, ...part.show(demo, "demo"))];
  }));
}
