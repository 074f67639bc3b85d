/** How far the makers of a class lie apart, what the farthest one says of itself, and where the reader's own mirror lies. */
import { note, yours as yoursBlock } from "../figures/blocks.ts";
import { classDots, type MakerDot } from "../figures/plots/classDots.ts";
import type { Shown } from "../figures/show.ts";
import { findStage } from "../lessons/course.ts";
import { FREE_OF_RIM, methodNamed } from "../measuring/methods/methods.ts";
import { measured } from "../quantity/measured.ts";
import type { ClassAtHand } from "../knowledge/classBeside.ts";
import type { ClassRow } from "../knowledge/classRow.ts";
import { type ClassSpread, classSpread, focalOf, type Quantity } from "../knowledge/classSpread.ts";
import type { Mirror } from "../knowledge/open.ts";
import { drawnMost, ofClass } from "./many.ts";

/** How far the glass of a row is, by the course's parts. */
function glassOf(row: ClassRow): MakerDot["glass"] {
  if (row.done) return "done";
  const part = findStage(row.stage)?.part;
  return part === "Plan" || part === "Shape" || row.stage === "lap" ? "ground" : "polished";
}

/** By which readings a focal length is: "by leaves". */
function byWords(by: Quantity): string {
  return by === "together" ? "by all methods" : methodNamed(by)?.by ?? `by ${by}`;
}

function spreadSays({ sd, ownU, betweenMakers }: ClassSpread): string {
  return `The makers lie ${sd.toFixed(1)} mm apart; their own readings leave ${
    ownU.toFixed(1)
  } mm open, so ${betweenMakers.toFixed(1)} mm is the makers’.`;
}

/** The makers' focal lengths on one axis; fewer than three of one plan say so. */
export function makersApart(
  at: ClassAtHand,
  by: Quantity = "leaves",
  mended: Readonly<Record<string, number>> = {},
): Shown {
  const spread = classSpread(at.many, by, { mended });
  if (spread === undefined) {
    return ofClass(at, `Fewer than three mirrors of one plan have a focal length ${byWords(by)}.`);
  }
  const { rows, values, mean, sd, farthest, focalLength, leftOut } = spread;
  const says = spreadSays(spread);
  if (rows.length > drawnMost) return ofClass(at, says);
  const dots = rows.map((row, i): MakerDot => ({
    name: row.title.split(",")[0] ?? row.title,
    value: measured(values[i]?.value ?? 0, values[i]?.u ?? 0, "mm"),
    glass: glassOf(row),
    stage: row.stage,
    far: i === farthest?.index && (farthest.tooFar || row.slip !== undefined) &&
      mended[row.record] === undefined,
  }));
  const title = `Focal length ${byWords(by)} (mm)`;
  return ofClass(
    at,
    classDots({ dots, mean, sd, wanted: focalLength, title, says }),
    ...(leftOut > 0 ? [note(`${leftOut} left out: another plan, or no such reading yet.`)] : []),
  );
}

/** What a test of the whole class says of the farthest mirror, and what its own readings say. */
export function farthestOne(at: ClassAtHand): Shown {
  const spread = classSpread(at.many, "leaves"), far = spread?.farthest;
  const row = far && spread.rows[far.index];
  if (spread === undefined || far === undefined || row === undefined) {
    return ofClass(at, "Too few mirrors to say which one is far from the others.");
  }
  const own = FREE_OF_RIM.flatMap((method) => {
    const found = focalOf(row, method.name);
    return found === undefined ? [] : [`${method.by} ${found.value.toFixed(0)} mm`];
  });
  const kept = far.tooFar ? "too far to belong to the others" : "a test keeps it";
  return ofClass(
    at,
    `${row.title}: ${(spread.values[far.index]?.value ?? 0).toFixed(0)} mm by leaves, ${
      far.deviations.toFixed(2)
    } standard deviations off, limit ${far.limit.toFixed(2)}: ${kept}.`,
    own.length === 0
      ? "It has no other reading of its own: ask for one by the spherometer, or, with a trained adult in charge, by the Sun."
      : `Its own other readings: ${own.join(", ")}.`,
    ...(row.slip === undefined ? [] : [row.slip]),
  );
}

/** Where the reader's own mirror lies among the class. */
export function yourPlace({ summary }: Mirror, at: ClassAtHand): Shown {
  const { design, curve, nextStep: next, title } = summary;
  const spread = classSpread(at.many, "together"), focal = curve?.focalLength;
  const where = focal === undefined
    ? "No focal length yet: read the curve, and it joins the others."
    : `Focal length ${focal.value.toFixed(1)} mm, next: ${next.stage}.`;
  const same = spread?.aperture === design.aperture.value &&
    spread.focalLength === design.focalLength.value;
  const beside = spread === undefined || focal === undefined
    ? []
    : same
    ? [`The class’s mean is ${spread.mean.toFixed(1)} mm, its spread ${spread.sd.toFixed(1)} mm.`]
    : [
      `The class’s mirrors are ${spread.aperture} mm planned at ${spread.focalLength} mm: another plan, not to be compared.`,
    ];
  return yoursBlock(title, where, ...beside);
}
