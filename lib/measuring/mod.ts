/**
 * Measuring the curve: readings of leaves, depth gauge, spherometer, Sun and lamp, each turned into a radius with its
 * uncertainty, and all of them reconciled.
 */
export { type AdviceOptions, type Improvement, whatWouldHelp } from "./advice.ts";
export { betweenMakersSpread, type MakersSpread } from "./betweenMakers.ts";
export { agreement, combine, type Combined, type Value, type Weighable } from "./combine.ts";
export {
  type Component,
  type Doubt,
  type Estimate,
  estimate,
  type EstimateParts,
  type Placed,
  sumOfComponents,
} from "./estimate.ts";
export { type Bench, chordOf, type Gauges, type Handling, type Spherometer } from "./gauges.ts";
export { type byDepthGauge, depthGauge, type DepthRow } from "./methods/depthGauge.ts";
export { type byLamp, lamp, type LampRow, lampSettingU } from "./methods/lamp.ts";
export {
  type Bracket,
  bracket,
  type byLeaves,
  depthFromLeaves,
  type LeafRow,
  leaves,
} from "./methods/leaves.ts";
export type {
  CurveMethod,
  Draws,
  MethodChange,
  MethodDoubts,
  MethodDraws,
  MethodPage,
  MethodRow,
  MethodSeries,
  Misread,
  PageCell,
  PageLine,
} from "./methods/method.ts";
export type { Known, Method, METHODS } from "./methods/methods.ts";
export { type bySpherometer, type DialRow, spherometer } from "./methods/spherometer.ts";
export {
  type bySunDistance,
  sunDistance,
  type SunRow,
  sunSettingU,
} from "./methods/sunDistance.ts";
export {
  type bySunImage,
  focalLengthPerImage,
  sunAngle,
  sunDistanceAu,
  sunImage,
} from "./methods/sunImage.ts";
export {
  misconceptionFromRatio,
  type RatioContext,
  ratioOfForgottenBevel,
} from "./misconceptions.ts";
export { type Judged, reconcile, type Reconciled, type ReconcileOptions } from "./reconcile.ts";
export { type Reading, type Repeated, repeated, type RepeatedOptions } from "./repeated.ts";
export {
  type Feet,
  spherometerRadius,
  spherometerSensitivity,
  type Surface,
} from "./spherometerFeet.ts";
export { checkStack, LEAF_SETS, type Stack, stacksAround, thicknessOf } from "./stacks.ts";
export { jamOfTiltedLeaf, leafWidthCorrection } from "./straightEdge.ts";
