/** The stage of the pitch lap: the lap for this mirror, what a centred grid would do, how the pitch flows. */
import { facts, readingsTable, yours as yoursBlock } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { lapPlan } from "../figures/drawings/lapPlan.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { grainUm, ladder } from "../knowledge/rules.ts";
import { decision, fact } from "../record/tables.ts";
import {
  type Lap,
  lapContact,
  lapRubbing,
  lapSinking,
  pitchNeeded,
  pitchViscosity,
  usualLap,
} from "../shaping/lap/lap.ts";

/** A lap with what its facets do under strokes a third long, over the centre. */
export function lapDrawn(lap: Lap, says: string): Shown {
  const stroke = { offset: 0, travel: lap.diameter / 3 };
  const { ridges } = lapRubbing(lap, stroke);
  return lapPlan({ ...lap, contact: lapContact(lap), ridges, says });
}

/** The lap for the reader's own mirror: size, pitch, grid, contact. */
export function yourLap({ record, summary }: Mirror): Shown {
  const lap = usualLap(record.settings.aperture), { volume, grams, melt } = pitchNeeded(lap);
  return yoursBlock(
    `${summary.title} · a lap of ${lap.diameter} mm`,
    lapDrawn(lap, "The lap for your mirror."),
    facts([
      ["Thickness", `${lap.thickness}\u2009mm`],
      ["Pitch in it", `${(volume / 1000).toFixed(0)}\u2009cm³, ${grams.toFixed(0)}\u2009g`],
      ["To melt", `${melt.least.toFixed(0)} to ${melt.most.toFixed(0)}\u2009g`],
      ["Facets", `${lap.spacing - lap.channel}\u2009mm, channels ${lap.channel}\u2009mm`],
      ["Grid off the centre by", `${lap.offset[0]} and ${lap.offset[1]}\u2009mm`],
      ["Touches", `${(lapContact(lap) * 100).toFixed(0)} %`],
    ]),
  );
}

/** How fast a lap sinks at several temperatures of the room; pitch of 1e8 Pa s at 20 degrees. */
export function sinkingByTemperature(
  lap: Lap,
  loadKg: number,
  temperatures: readonly number[],
): Shown {
  const rows = temperatures.map((temperature) => {
    const viscosityPaS = pitchViscosity(1e8, temperature);
    const { umPerMinute } = lapSinking(lap, { loadKg, viscosityPaS });
    return { cells: [temperature, umPerMinute.toFixed(umPerMinute < 1 ? 2 : 1)] };
  });
  return readingsTable("How fast the facets sink", [
    { title: "Room", unit: "°C" },
    { title: "Sinks", unit: "µm/min" },
  ], rows);
}

/** What the lap calls for. */
export function decideLap({ record }: Mirror): Shown {
  const last = record.grinding.at(-1)?.abrasive;
  const polished = record.grinding.some(({ abrasive }) => grainUm(abrasive) === undefined);
  const isReady = polished || last === ladder.at(-1);
  const bare = decision("bare_spot_most"), press = fact("press_between");
  return decide({
    title: isReady ? "press, look, polish" : "finish the ladder first",
    do: isReady
      ? `Press ${press} minutes, look through the back, and polish when it touches all over.`
      : "Finish fine grinding: a lap poured too early waits and flows.",
    choices: [
      {
        name: "Polish",
        when:
          "when the lap touches all over, its channels are open to half its depth, and the grid is off centre.",
        chosen: isReady,
      },
      { name: "Press again", when: `for a chip or a bare spot wider than ${bare} mm.` },
      {
        name: "Wait",
        when:
          "while the last grade is not done, or a thumbnail leaves no mark in 30 s on the cold coin: a trained adult tempers the pitch.",
        chosen: !isReady,
      },
    ],
  });
}
