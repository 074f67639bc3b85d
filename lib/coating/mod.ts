/** Coating: what a film reflects, how thick it is, and how little metal it is. The laying on is a firm's work. */
export { filmLight, metalIndex, mirrorFilm, thickReflectance } from "../optics/film.ts";
export * from "./lamp.ts";
export * from "./silver.ts";
