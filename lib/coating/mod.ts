/** Coating: what a film reflects, how thick it is, and the silver bath as a lesson that never comes without its cautions. */
export {
  type Complex,
  type FilmLight,
  filmLight,
  type Metal,
  metalIndex,
  mirrorFilm,
  thickReflectance,
} from "../optics/film.ts";
export * from "./bath.ts";
export * from "./lamp.ts";
