/**
 * Every drawing as it was when it was last looked at: a line that moves by accident is found, one that moves on purpose is
 * looked at in `deno task book` and recorded anew by
 *
 *     RECORD=1 deno test -A tests/figures/recorded.test.ts
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
import { assertRecorded, digest, withoutScripts } from "../recorded.ts";
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

/** A live figure's sliders, and what it shows with all of them a tenth, a half and nine tenths of the way along. */
function along({ name, controls, start }: LiveFigure): string {
  const shown = [0.1, 0.5, 0.9].map((share) => {
    const values = controls.map(({ key, min, max, step }) =>
      [key, min + step * Math.round(share * (max - min) / step)] as const
    );
    return live(name, { ...start, ...Object.fromEntries(values) });
  });
  return JSON.stringify([controls, shown]);
}

/** Every drawing's markup by its name, without scripts. */
const drawings: Readonly<Record<string, string>> = Object.fromEntries([
  ...Object.entries({ ...figures, ...blocks, ...plans }).map(([name, { html }]) => [name, html]),
  ...liveFigures.map((figure) => [`live: ${figure.name}`, live(figure.name).html]),
  ...liveFigures.map((figure) => [`live, moved: ${figure.name}`, along(figure)]),
  ...course.map(({ name }) => [`stage: ${name}`, stageDrawing(name).markup]),
].map(([name, html]) => [name, withoutScripts(html ?? "")]));

Deno.test("every drawing is as it was when it was last looked at", async () => {
  const now = Object.entries(drawings).map(([name, html]) => [name, digest(html)]);
  await assertRecorded(new URL("recorded.json", import.meta.url), Object.fromEntries(now));
});
