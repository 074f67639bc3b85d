/** The sky: what eyepiece and aperture show, and what is up tonight from the maker's place. */
export { type Eyepiece, eyepieceShift, imageSize, type View, viewThrough } from "./eyepiece.ts";
export * from "./limits.ts";
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
