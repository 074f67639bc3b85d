/** The last minutes before and after the stop, drawn large: how far from it in micrometres. */
import { plotDocument } from "../figures/plots/document.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { band, dots, housePlot, lines, onPaper, Plot } from "../figures/plots/house.ts";
import { type Html, safe } from "../figures/html.ts";
import { extent } from "../figures/scale.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { forecastOf, lineOf, type LinePoint, requireLog } from "./depthLog.ts";

/** How far back the drawing goes, min. */
const lastMinutes = 15;

/** A place in micrometres over the stop. */
interface Over {
  readonly minutes: number;
  readonly um: number;
  readonly low: number;
  readonly high: number;
}

interface Near {
  readonly readings: readonly { readonly minutes: number; readonly um: number }[];
  readonly line: readonly Over[];
  readonly forecast: readonly Over[];
  readonly target: number;
}

function nearOf(mirror: Mirror, minute: number): Near {
  const log = requireLog("nearStop", mirror, minute);
  const um = (depth: number): number => 1000 * (depth - log.stopAt);
  const over = ({ minutes, sagitta, low, high }: LinePoint): Over => (
    { minutes, um: um(sagitta), low: um(low), high: um(high) }
  );
  const from = (log.input.readings.at(-1)?.afterMin ?? 0) - lastMinutes;
  const aside = log.setAside.map(({ file, line }) => `${file} ${line}`);
  const kept = log.input.readings.filter(({ file, line, afterMin }) =>
    afterMin >= from && !aside.includes(`${file} ${line}`)
  );
  return {
    readings: kept.map(({ afterMin, sagitta }) => ({ minutes: afterMin, um: um(sagitta) })),
    line: lineOf(log).filter(({ minutes }) => minutes >= from).map(over),
    forecast: forecastOf(log).map(over),
    target: um(log.target),
  };
}

function draw(near: Near, width: number, finding: string): Html {
  const { readings, line, forecast, target } = near, narrow = isNarrow(width);
  const all = [...line, ...forecast], place = { x: "minutes", y: "um" } as const;
  const minutes = extent([...all, ...readings].map((p) => p.minutes), 0.05);
  const heights = extent([0, target, ...[...all, ...readings].map((p) => p.um)], 0.15);
  const bands = [line, forecast].filter((points) => points.length > 1);
  return housePlot({
    width,
    height: narrow ? 300 : 340,
    finding,
    x: { title: "Time of grinding (min)", domain: minutes },
    y: { title: "Deeper than the stop (µm)", domain: heights },
    marks: [
      ...bands.map((points) =>
        Plot.areaY(points, { x: "minutes", y1: "low", y2: "high", ...band, clip: true })
      ),
      Plot.ruleY([target], lines.wanted),
      Plot.ruleY([0], lines.limit),
      Plot.text([[minutes[0], target]], { ...onPaper, dx: 4, dy: -9, text: () => "target" }),
      Plot.text([[minutes[0], 0]], {
        ...onPaper,
        dx: 4,
        dy: 11,
        text: () => "stop",
        fill: "var(--rouge)",
      }),
      Plot.line(line, { ...place, ...lines.demo }),
      ...(forecast.length > 1 ? [Plot.line(forecast, { ...place, ...lines.forecast })] : []),
      Plot.dot(readings, { ...place, ...dots.demo }),
    ],
  }, plotDocument());
}

/**
 * A mirror's last quarter of an hour up to some minute, in micrometres from where rough grinding should stop.
 *
 * @param minute  later minutes and readings are covered
 * @param says    the finding in bold under the figure
 * @throws {RangeError} where the log has nothing up to then
 */
export function nearStop(mirror: Mirror, minute: number, says: string): Shown {
  const near = nearOf(mirror, minute), end = near.line.at(-1), ahead = near.forecast.at(-1);
  const finding = `Micrometres deeper than the stop, against minutes. ${says}` +
    (end === undefined
      ? ""
      : ` At minute ${end.minutes} the line stands at ${end.um.toFixed(0)}.`) +
    (ahead === undefined
      ? ""
      : ` It leads back to ${ahead.um.toFixed(0)} at minute ${ahead.minutes.toFixed(1)}.`);
  return figure({
    finding,
    caption: safe`<b>${says}</b> The band is a 95 % interval of the line.${
      near.forecast.length > 1 && " Dots are a forecast."
    } Open marks: demo mirror, not yours.`,
    draw: (width) => draw(near, width, finding),
  });
}
