/** Rows that are not of one series with the others: told before the method is used. */
import { median } from "../../numeric/quantiles.ts";
import { mm } from "../../quantity/format.ts";
import {
  isBelievable,
  type Misconception,
  nearestMisconception,
} from "../../quantity/misconceptions.ts";
import type { Bench } from "../gauges.ts";
import type { MethodRow, Misread } from "./method.ts";

/** A row, the radius it stands for near enough to tell, and what was read, mm. */
export interface Seen {
  readonly row: MethodRow;
  readonly radius: number;
  readonly asRead: number;
}

/**
 * A row that is not of one series with the others: by its radius, beyond what any gauge does.
 *
 * @param method    its name, and what its readings are taken for
 * @param seen      the rows of one session
 * @param expected  planned radius, mm
 * @param least     how far apart two readings must be at least, mm
 */
export function apartFromSeries(
  method: { readonly name: string; readonly misconceptions: readonly Misconception[] },
  seen: readonly Seen[],
  expected: number,
  least: number,
): Misread | undefined {
  if (seen.length < 2) return undefined;
  const near = (one: Seen): number => Math.abs(Math.log(one.radius / expected));
  const nearest = seen.reduce((a, b) => near(b) < near(a) ? b : a);
  const middle = seen.length > 2 ? median(seen.map(({ radius }) => radius)) : nearest.radius;
  const usual = seen.length > 2 ? median(seen.map(({ asRead }) => asRead)) : nearest.asRead;
  const far = seen.find(({ radius, asRead }) =>
    !isBelievable(radius / middle) && Math.abs(asRead - usual) > least
  );
  if (far === undefined) return undefined;
  const found = nearestMisconception(far.radius / middle, method.misconceptions);
  const why = found === undefined ? "" : `; it would be so if ${found.explains}`;
  return {
    row: far.row,
    message: `${mm(far.asRead)} does not go with the others, which lie about ${
      mm(usual)
    }${why}. ${method.name} is not used until this is mended`,
  };
}

/** A depth below a chord, as a row has it. */
interface DepthSeen {
  readonly row: MethodRow & { readonly chord?: number };
  /** mm; undefined or 0 where nothing was read */
  readonly depth: number | undefined;
}

/** A depth that does not go with the others of its session. */
export function apartFromDepths(
  method: { readonly name: string; readonly misconceptions: readonly Misconception[] },
  depths: readonly DepthSeen[],
  { aperture, bevel, focalLength }: Bench,
): Misread | undefined {
  const seen = depths.flatMap(({ row, depth = 0 }): Seen[] => {
    if (!(depth > 0)) return [];
    const half = (row.chord ?? aperture - 2 * bevel) / 2;
    return [{ row, radius: (half * half + depth * depth) / (2 * depth), asRead: depth }];
  });
  return apartFromSeries(method, seen, 2 * focalLength, 0.1);
}
