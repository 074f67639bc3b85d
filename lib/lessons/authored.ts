/** The exercises as they are written, stage by stage, with the misconceptions: what `deno task stages` seals for the kit to read. */
import { alignMirrors } from "./exercises/alignMirrors.ts";
import { carryWeight } from "./exercises/carryWeight.ts";
import { chooseMirror } from "./exercises/chooseMirror.ts";
import { coatMirror } from "./exercises/coatMirror.ts";
import { compareClass } from "./exercises/compareClass.ts";
import { correctDepth } from "./exercises/correctDepth.ts";
import { grindHollow } from "./exercises/grindHollow.ts";
import { judgeMirror } from "./exercises/judgeMirror.ts";
import { measureCurve } from "./exercises/measureCurve.ts";
import { measureZones } from "./exercises/measureZones.ts";
import { observeSky } from "./exercises/observeSky.ts";
import { openRecord } from "./exercises/openRecord.ts";
import { placeFlat } from "./exercises/placeFlat.ts";
import { readStar } from "./exercises/readStar.ts";
import { polishSurface } from "./exercises/polishSurface.ts";
import { pourLap } from "./exercises/pourLap.ts";
import { prepareDiscs } from "./exercises/prepareDiscs.ts";
import { readBands } from "./exercises/readBands.ts";
import { shapeSurface } from "./exercises/shapeSurface.ts";
import { smoothSurface } from "./exercises/smoothSurface.ts";
import { weighReadings } from "./exercises/weighReadings.ts";
import { misconceptions, ratios } from "./exercises/misconceptions.ts";
import type { Lessons } from "./opened.ts";
import { seal } from "./sealed.ts";

const authored: Lessons = {
  misconceptions,
  ratios,
  exercises: {
    "open-record": openRecord,
    "choose-mirror": chooseMirror,
    "prepare-discs": prepareDiscs,
    "grind-hollow": grindHollow,
    "measure-curve": measureCurve,
    "weigh-readings": weighReadings,
    "correct-depth": correctDepth,
    "smooth-surface": smoothSurface,
    "pour-lap": pourLap,
    "polish-surface": polishSurface,
    "read-bands": readBands,
    "measure-zones": measureZones,
    "judge-mirror": judgeMirror,
    "shape-surface": shapeSurface,
    "coat-mirror": coatMirror,
    "place-flat": placeFlat,
    "carry-weight": carryWeight,
    "align-mirrors": alignMirrors,
    "read-star": readStar,
    "observe-sky": observeSky,
    "compare-class": compareClass,
  },
};

/**
 * Everything that tells an answer or a hint, as the text of `exercises.sealed.txt`, in lines.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { readFile } from "node:fs/promises";
 * const kept = await readFile(new URL("./exercises.sealed.txt", import.meta.url), "utf8").catch(() => "");
 * assert.ok(kept === "" || kept === sealedExercises());
 * ```
 */
export function sealedExercises(): string {
  return seal(JSON.stringify(authored)).replace(/.{1,120}/g, "$&\n");
}
