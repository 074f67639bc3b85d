/** The stage of the coating: how thick is enough, how little metal it is, and why it is sent out. */
import { twoMirrors } from "../coating/lamp.ts";
import { CAUTIONS, silverOnGlass } from "../coating/silver.ts";
import { facts, readingsTable, yours as yoursBlock } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { safe } from "../figures/html.ts";
import { lines, Plot, plotDocument, styledPlot } from "../figures/plots/style.ts";
import type { Shown } from "../figures/show.ts";
import { AFTER_FIGURE } from "../knowledge/nextStepLater.ts";
import type { Mirror } from "../knowledge/open.ts";
import { type Metal, mirrorFilm } from "../optics/film.ts";

interface At {
  readonly d: number;
  readonly r: number;
}

function curve(metal: Metal, thickest: number): At[] {
  return Array.from({ length: 76 }, (_, i) => {
    const d = (thickest * i) / 75;
    return { d, r: 100 * mirrorFilm(metal, d).reflected };
  });
}

/**
 * Light sent back against the thickness of the film: silver thick, aluminium thin.
 *
 * @param thickest  nm, above 0; default 150
 * @throws {RangeError} where it is not above 0
 */
export function reflectanceByThickness(thickest = 150): Shown {
  if (!(thickest > 0)) {
    throw new RangeError(`reflectanceByThickness requires thickest above 0 nm, got ${thickest}`);
  }
  const silver = curve("silver", thickest), aluminium = curve("aluminium", thickest);
  const at = (d: number): string => (100 * mirrorFilm("silver", d).reflected).toFixed(0);
  const finding =
    `Light of 550 nm sent back by a silver film: ${at(20)} per cent at 20 nm, ${at(50)} at 50 nm, ${
      at(100)
    } at 100 nm; ` +
    `aluminium rises sooner and stays at ${
      (100 * mirrorFilm("aluminium", 100).reflected).toFixed(0)
    }.`;
  return figure({
    finding,
    caption:
      safe`<b>A hundred nanometres is enough.</b> Thick line: silver. Thin line: aluminium. More metal shines no more.`,
    draw: (width) =>
      styledPlot({
        width,
        height: isNarrow(width) ? 240 : 280,
        finding,
        x: { title: "Thickness of the film (nm)", domain: [0, thickest] },
        y: { title: "Light sent back (%)", domain: [0, 100] },
        marks: [
          Plot.line(silver, { x: "d", y: "r", ...lines.yours }),
          Plot.line(aluminium, { x: "d", y: "r", ...lines.wanted }),
        ],
      }, plotDocument()),
  });
}

/** Two mirrors of each metal: what reaches the eye. */
export function metalsCompared(obstruction = 0): Shown {
  const row = (metal: Metal, lasts: string): { cells: string[] } => ({
    cells: [
      metal,
      (100 * mirrorFilm(metal, 100).reflected).toFixed(1),
      (100 * twoMirrors(metal, obstruction)).toFixed(1),
      lasts,
    ],
  });
  return readingsTable(
    "Metals side by side",
    [
      { title: "Metal", text: true },
      { title: "One mirror", unit: "%" },
      { title: "Two mirrors", unit: "%" },
      { title: "Lasts", text: true },
    ],
    [row("silver", "months, then it yellows"), row("aluminium", "years, under its clear coat")],
  );
}

/** The reader's mirror: its face, its verdict, and what coating it is ready for. */
export function yourCoating(mirror: Mirror): Shown {
  const { record, summary } = mirror,
    { areaCm2 } = silverOnGlass({ diameter: record.settings.aperture });
  return yoursBlock(
    summary.title,
    facts([
      ["Face to be coated", `${areaCm2.toFixed(0)}\u2009cm²`],
      ["Surface meets its goal", summary.verdict?.meetsGoal ?? "not judged yet"],
      ["The usual way", "sent out, for aluminium under a clear coat"],
    ]),
  );
}

/** Send out, or back to the tests. */
export function decideCoat({ summary }: Mirror): Shown {
  const ready = AFTER_FIGURE.includes(summary.nextStep.stage);
  return decide({
    title: ready ? "send it out" : "theory only",
    do: ready
      ? "Pack the mirror and send it out to be coated; write the date on the back."
      : "Read on, but coat nothing yet: something is still lacking, and the next step says what.",
    choices: [
      {
        name: "Send it out",
        when: "when the verdict is yes and nothing is lacking. This is the usual way.",
        chosen: ready,
      },
      {
        name: "Back to the tests",
        when:
          "while the verdict is no, not shown, of one diameter only, or not there: a coating mends nothing.",
        chosen: !ready,
      },
    ],
    after: CAUTIONS.at(-1) ?? "",
  });
}
