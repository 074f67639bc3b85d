/** The sky: what eyepiece and aperture show, and what is up tonight from the maker's place. */
export { type Eyepiece, eyepieceShift, imageSize, type View, viewThrough } from "./eyepiece.ts";
export * from "./byEye.ts";
export { jupiterShadows, type ShadowEvent } from "./jupiterShadow.ts";
export * from "./limits.ts";
export { clockAt, dayAt, momentOf } from "./localTime.ts";
export {
  heightByShare,
  heightFromShadow,
  MOON_KM,
  type MoonPlaceOn,
  type ShadowCaster,
  sunAtFoot,
  sunHeight,
  sunOverMoon,
} from "./moonShadow.ts";
export { type Occultation, occultations, type StarPlace } from "./occultation.ts";
export {
  type Evening,
  type JupiterMoon,
  jupiterMoons,
  type MoonPlace,
  type MoonSeen,
  type Place,
  type Planet,
  type RADII_KM,
  type Seen,
  tonight,
} from "./tonight.ts";
