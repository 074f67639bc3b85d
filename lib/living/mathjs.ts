/**
 * mathjs for a page: of its functions those that a unit or a formula can ask for, in place of the whole.
 *
 * The builder of the page's library puts this file in place of `quantity/mathjs.ts`.
 */
import {
  absDependencies,
  acosDependencies,
  addDependencies,
  asinDependencies,
  atan2Dependencies,
  atanDependencies,
  cbrtDependencies,
  cosDependencies,
  coshDependencies,
  create,
  createUnitDependencies,
  derivativeDependencies,
  divideDependencies,
  eDependencies,
  expDependencies,
  hypotDependencies,
  log10Dependencies,
  log2Dependencies,
  logDependencies,
  type MathJsInstance,
  multiplyDependencies,
  nthRootDependencies,
  parseDependencies,
  piDependencies,
  powDependencies,
  roundDependencies,
  signDependencies,
  sinDependencies,
  sinhDependencies,
  sqrtDependencies,
  squareDependencies,
  subtractDependencies,
  tanDependencies,
  tanhDependencies,
  unaryMinusDependencies,
  unaryPlusDependencies,
  unitDependencies,
} from "mathjs";
import { withWorkshopUnits } from "../quantity/workshopUnits.ts";

const parts = {
  absDependencies,
  acosDependencies,
  addDependencies,
  asinDependencies,
  atan2Dependencies,
  atanDependencies,
  cbrtDependencies,
  cosDependencies,
  coshDependencies,
  createUnitDependencies,
  derivativeDependencies,
  divideDependencies,
  eDependencies,
  expDependencies,
  hypotDependencies,
  log10Dependencies,
  log2Dependencies,
  logDependencies,
  multiplyDependencies,
  nthRootDependencies,
  parseDependencies,
  piDependencies,
  powDependencies,
  roundDependencies,
  signDependencies,
  sinDependencies,
  sinhDependencies,
  sqrtDependencies,
  squareDependencies,
  subtractDependencies,
  tanDependencies,
  tanhDependencies,
  unaryMinusDependencies,
  unaryPlusDependencies,
  unitDependencies,
};

let ready: MathJsInstance | undefined;

/** The one instance, with the workshop's units. */
export function mathjs(): MathJsInstance {
  ready ??= withWorkshopUnits(create(parts as Parameters<typeof create>[0]));
  return ready;
}
