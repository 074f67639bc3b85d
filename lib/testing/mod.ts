/** Tests of the finished glass: knife, zones, star, and what they prove. */
export {
  bandSpacing,
  type FaceError,
  type RonchiSetting,
  type RonchiSetUp,
  travelFactor,
} from "./bands/ronchi.ts";
export { ronchiByDiffraction, type RonchiPicture } from "./bands/ronchiPicture.ts";
export type { FigureNumbers, Pair } from "./figureNumbers.ts";
export * from "./photo/photo.ts";
export type { WeightedModel } from "./photo/photoWeights.ts";
export type { PhotoRemark } from "./photo/photoCheck.ts";
export type { PhotoFit } from "./photo/photoFit.ts";
export type { PhotoTest, RonchiPhoto } from "./photo/photoGiven.ts";
export type { GreyImage } from "./photo/photoImage.ts";
export type { Outline } from "./photo/photoOutline.ts";
export type { PhotoSeen } from "./photo/photoSeen.ts";
export type { Kind, Shape, Term } from "./photo/photoTerms.ts";
export type { MissingView } from "./photo/photoViews.ts";
export * from "./star/air.ts";
export * from "./star/star.ts";
export * from "./star/starFaults.ts";
export * from "./star/starPair.ts";
export * from "./star/starTurns.ts";
export { SURFACE_TERMS, type SurfaceTerm, type SurfaceTerms } from "./surfaceTerms.ts";
export { type KnifeSetting, rayAtKnife, shadowByRays, type ShadowPicture } from "./zones/knife.ts";
export { designMask, type MaskDesign, type MaskWish, type MaskZone } from "./zones/mask.ts";
export {
  effectiveRadius,
  type Opening,
  type OpeningShape,
  type WindowRule,
  windowRule,
} from "./zones/openings.ts";
export { type Advice, furtherReadings } from "./zones/zoneAdvice.ts";
export { SURE_ENOUGH, type Verdict, verdictOf } from "./zones/zoneFigure.ts";
export { type MethodResult, reduceBy, type ZoneMethod } from "./zones/zoneMethods.ts";
export type { Tester } from "./zones/zoneModel.ts";
export {
  type PooledRuns,
  poolRuns,
  type ZoneGroup,
  type ZoneMean,
  type ZoneReading,
} from "./zones/zoneRuns.ts";
export type { Astigmatism, Seats, ToldAstigmatism } from "./zones/zoneSeats.ts";
export * from "./zones/zones.ts";
