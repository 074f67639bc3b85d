/** A row of sagitta.csv as the log reads it: a depth at the full aperture, with its minute. */
import { CannotTell } from "../numeric/cannotTell.ts";
import { chordOf } from "../measuring/gauges.ts";
import { isHollow } from "../measuring/depthsUnderChord.ts";
import { bracket, depthFromLeaves } from "../measuring/methods/leaves.ts";
import { carrySagitta } from "../optics/sphere.ts";
import { resolution } from "../quantity/typeB.ts";
import type { DepthReading } from "../shaping/grinding/grindingLog.ts";
import type { SagittaRow, Settings } from "../record/types.ts";

/**
 * The depth of a row, carried by the sphere from its chord to the full aperture; undefined where the row tells no minute or no depth,
 * or one that no hollow of the disc has.
 *
 * Leaves give the middle of their bracket, less what their width hides, with the bracket's width over 2 sqrt 3 as u; a
 * depth gauge its reading, with its step over 2 sqrt 3. A depth of 0 is a disc still flat.
 */
export function depthReading(row: SagittaRow, settings: Settings): DepthReading | undefined {
  const { afterMin, file, line, go, nogo } = row;
  if (afterMin === undefined) return undefined;
  const { aperture, gauges } = settings, chord = chordOf(settings, row.chord);
  const gap = go === undefined || nogo === undefined ? undefined : bracket(go, nogo);
  const read = gap?.middle ?? row.depth;
  if (read === undefined || !(read === 0 || isHollow(read, chord, aperture))) return undefined;
  const depth = gap ? behindLeaf(gap.middle, chord, gauges.leaves.width) : read;
  if (depth === undefined || !(depth === 0 || isHollow(depth, chord, aperture))) return undefined;
  const u = (gap?.u ?? resolution(gauges.depthGaugeStep)) * (aperture / chord) ** 2;
  return {
    afterMin,
    sagitta: depth === 0 ? 0 : carrySagitta(depth, chord, aperture),
    u,
    file,
    line,
  };
}

/** As `depthFromLeaves`; undefined where so wide a leaf does not reach into so deep a hollow. */
function behindLeaf(middle: number, chord: number, width: number): number | undefined {
  try {
    return depthFromLeaves(middle, chord, width);
  } catch (error) {
    if (error instanceof CannotTell) return undefined;
    throw error;
  }
}
