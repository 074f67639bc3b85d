/** The stage of the coating: how thick is enough, how little silver stays, and why it is sent out. */
import { type BathLesson, CAUTIONS, silverBath } from "../coating/bath.ts";
import { twoMirrors } from "../coating/lamp.ts";
import { facts, readingsTable, yours as yoursBlock } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { plotDocument } from "../figures/document.ts";
import { figure, isNarrow } from "../figures/figure.ts";
import { housePlot, lines, Plot } from "../figures/house.ts";
import { safe, trusted } from "../figures/html.ts";
import { type Shown, together } from "../figures/show.ts";
import { type Metal, mirrorFilm } from "../optics/film.ts";
import type { Mirror } from "../record/open.ts";

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
      housePlot({
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

/** The warning triangle, as on every page. */
const TRIANGLE = trusted(
  `<svg viewBox="0 0 48 43" role="img" aria-label="Warning"><path d="M24 3.5 45 40H3Z" fill="none" stroke="var(--rouge)" stroke-width="4" stroke-linejoin="round"></path><path d="M24 15.5V27.5" stroke="var(--rouge)" stroke-width="4.4" stroke-linecap="round"></path><circle cx="24" cy="33.6" r="2.5" fill="var(--rouge)"></circle></svg>`,
);

/** All cautions as a list that no page folds. */
function cautionBlock(cautions: readonly string[]): Shown {
  const items = cautions.map((caution) => safe`<li>${caution}</li>\n`);
  const markup = safe`<section class="caution" aria-label="Caution: silver bath">
${TRIANGLE}<h3>Caution: these quantities are for thinking, not for mixing</h3>
<ul>
${items}</ul>
</section>`;
  return { html: markup.markup, text: ["Caution", ...cautions].join("\n") };
}

/**
 * What a bath holds and how little of it stays, with every caution: the two are shown together or not at all.
 *
 * @param lesson  from `silverBath`
 */
export function bathLesson({ quantities: q, cautions }: BathLesson): Shown {
  const mg = (grams: number): string => `${(1000 * grams).toFixed(1)}\u2009mg`;
  const g = (grams: number): string => `${grams.toFixed(2)}\u2009g`;
  return together(
    cautionBlock(cautions),
    facts([
      ["Face of the mirror", `${q.areaCm2.toFixed(0)}\u2009cm²`],
      ["Silver on the glass", mg(q.silverOnGlass)],
      ["Nitrate that holds just that", mg(q.nitrateLeast)],
      ["Nitrate in a bath", g(q.nitrateInBath)],
      ["Silver in it", g(q.silverInBath)],
      ["Stays on the mirror", `${(100 * q.yield).toFixed(2)}\u2009%`],
      ["Waste to be made safe", `${(100 * (1 - q.yield)).toFixed(1)}\u2009%`],
    ]),
  );
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
    { quantities } = silverBath({ diameter: record.settings.aperture });
  return yoursBlock(
    summary.title,
    facts([
      ["Face to be coated", `${quantities.areaCm2.toFixed(0)}\u2009cm²`],
      ["Surface meets its goal", summary.verdict?.meets_goal ?? "not judged yet"],
      ["The usual way", "sent out, for aluminium under a clear coat"],
    ]),
  );
}

/** Send out, or back to the tests; silvering only where everything for it is there. */
export function decideCoat({ summary }: Mirror): Shown {
  const ready = summary.verdict?.meets_goal === "yes";
  return decide({
    title: ready ? "send it out" : "theory only",
    do: ready
      ? "Pack the mirror and send it out to be coated; write the date on the back."
      : "Read on, but coat nothing yet: the surface is not shown to meet its goal.",
    choices: [
      {
        name: "Send it out",
        when: "when the verdict is yes. This is the usual way.",
        chosen: ready,
      },
      {
        name: "Back to the tests",
        when: "while the verdict is no, not shown, or not there: a coating mends nothing.",
        chosen: !ready,
      },
      {
        name: "Silver here",
        when:
          "only with a qualified chemist, a fume hood, a plan for the waste, and a place that permits it.",
      },
    ],
    after: CAUTIONS.at(-1) ?? "",
  });
}
