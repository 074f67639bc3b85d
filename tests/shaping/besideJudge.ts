/** The wear engine beside the brute-force judge, for ten routines. The long run is `deno task trial judge`. */
import assert from "node:assert/strict";
import { detailFor } from "../../lib/shaping/grinding/detailFor.ts";
import { departures, fittedSagitta } from "../../lib/shaping/grinding/discShape.ts";
import type { StrokeSet } from "../../lib/shaping/grinding/routine.ts";
import { WearBench, type WearDetail, type Worn } from "../../lib/shaping/grinding/wear.ts";
import { type WearSettings, wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";
import { judge, type Judgement } from "./judge.ts";
import { tenRoutines } from "./tenRoutines.ts";

export function grind(
  sets: readonly StrokeSet[],
  changes: Partial<WearSettings> = {},
  detail: WearDetail = {},
): Worn {
  const bench = new WearBench({ ...wearSettings(150), ...changes }, detail);
  for (const set of sets) bench.grind(set);
  return bench.worn;
}

export function um({ upper, lower }: Worn): { upper: number; lower: number } {
  return { upper: fittedSagitta(upper) * 1000, lower: fittedSagitta(lower) * 1000 };
}

export function within(value: number, wanted: number, share: number, what: string): void {
  const off = Math.abs(value - wanted);
  assert.ok(off <= share * Math.abs(wanted), `${what}: got ${value}, wanted ${wanted}`);
}

/** A shape that no grid here resolves, um. */
const floorUm = 0.25;
/** One routine by the judge, and by the engine at the detail that the routine asks for. */
export interface BesideJudge {
  readonly name: string;
  readonly played: readonly StrokeSet[];
  readonly judged: { readonly upper: Judgement; readonly lower: Judgement };
  readonly worn: Worn;
}

export function besideJudge(sets: number, lump: number): BesideJudge[] {
  return tenRoutines(sets).map(([name, played, routine]) => ({
    name,
    played,
    judged: judge(played, { lump }),
    worn: grind(played, {}, detailFor(routine, 150)),
  }));
}

/** How far off each disc's sagitta is, as a share. */
export function sagittasOff(worn: Worn, judged: BesideJudge["judged"]): [number, number] {
  const { upper, lower } = um(worn);
  return [upper / judged.upper.sagitta - 1, lower / judged.lower.sagitta - 1];
}

/** The worst of astigmatism and trefoil of both discs as a share, but for what no grid resolves. */
export function shapesOff(worn: Worn, judged: BesideJudge["judged"]): number {
  const shares = (["upper", "lower"] as const).flatMap((side) => {
    const found = departures(worn[side]), { astigmatism, trefoil } = judged[side];
    return ([[found.astigmatismUm, astigmatism], [found.trefoilUm, trefoil]] as const)
      .map(([value, wanted]) =>
        Math.abs(value - wanted) <= floorUm ? 0 : Math.abs(value / wanted - 1)
      );
  });
  return Math.max(...shares);
}

/** Both discs' sagittas within 0.5 % and the shapes within 15 %, no routine excepted. */
export function holdToJudge(name: string, worn: Worn, judged: BesideJudge["judged"]): void {
  const [upper, lower] = sagittasOff(worn, judged), shapes = shapesOff(worn, judged);
  assert.ok(Math.abs(upper) <= 0.005, `${name}: upper off by ${upper}`);
  assert.ok(Math.abs(lower) <= 0.005, `${name}: lower off by ${lower}`);
  assert.ok(shapes <= 0.15, `${name}: shapes off by ${shapes}`);
}
