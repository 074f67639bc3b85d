/**
 * Every drawing as it was when it was last looked at, its words and its lines: one that moves by accident is found, one that moves
 * on purpose is looked at in `deno task book` and kept anew by
 *
 *     RECORD=1 deno test -A tests/figures/snapshots.test.ts
 */
import { stageDrawing } from "../../lib/book/pages/stageDrawings.ts";
import type { LiveFigure } from "../../lib/figures/live/figure.ts";
import { liveFigures } from "../../lib/figures/live/figures.ts";
import { live } from "../../lib/figures/live/live.ts";
import { course } from "../../lib/lessons/course.ts";
import { lapPlan } from "../../lib/figures/drawings/lapPlan.ts";
import { removalPlan } from "../../lib/figures/plots/removalPlan.ts";
import { surfaceProfile } from "../../lib/figures/plots/surfaceProfile.ts";
import { sagMap } from "../../lib/figures/drawings/sagMap.ts";
import type { Shown } from "../../lib/figures/show.ts";
import { assertSnapshots, drawn } from "../snapshots.ts";
import { blocks, figures } from "./samples.ts";

const line = (
  nm: number,
): { radius: number; nm: number }[] => [{ radius: 0, nm }, { radius: 74, nm: 0 }];
const points = (high: number): { radius: number; height: number; u: number }[] =>
  [0, 20, 40, 60, 74].map((radius) => ({ radius, height: high * Math.cos(radius / 20), u: 4 }));
const plans = {
  lap: lapPlan({
    ...{ diameter: 150, spacing: 25, channel: 5, offset: [6, 9], contact: 0.637 },
    says: "Off centre.",
  }),
  sag: sagMap({ aperture: 150, at: (r) => 2 - r / 30, rms: 0.6, points: [], name: "3 points" }),
  earlier: surfaceProfile({ points: points(20), before: { name: "12 June", points: points(60) } }),
  spell: removalPlan({ stands: line(68), taken: line(30), left: line(38), says: "Half of it." }),
};

/** What it says, and its markup. */
const both = ({ text, html }: Shown): string => `${text}\n\n${drawn(html)}`;

/** A live figure's sliders, and what it shows with all of them a tenth, a half and nine tenths of the way along. */
function along({ name, controls, start }: LiveFigure): string {
  const shown = [0.1, 0.5, 0.9].map((share) => {
    const values = controls.map(({ key, min, max, step }) =>
      [key, min + step * Math.round(share * (max - min) / step)] as const
    );
    return both(live(name, { ...start, ...Object.fromEntries(values) }));
  });
  return [...controls.map((control) => JSON.stringify(control)), ...shown].join("\n\n");
}

/** Every drawing by its name. */
const drawings: Readonly<Record<string, string>> = Object.fromEntries([
  ...Object.entries({ ...figures, ...blocks, ...plans }).map(([name, one]) => [name, both(one)]),
  ...liveFigures.map((figure) => [`live/${figure.name}`, both(live(figure.name))]),
  ...liveFigures.map((figure) => [`live/${figure.name}, moved`, along(figure)]),
  ...course.map(({ name }) => [`stages/${name}`, drawn(stageDrawing(name).markup)]),
]);

Deno.test("every drawing is as it was when it was last looked at", () =>
  assertSnapshots(new URL("snapshots/", import.meta.url), drawings));
