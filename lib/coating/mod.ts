/** Coating: what a film reflects, how thick it is, and how little metal it is. The laying on is a firm's work. */
export {
  type Complex,
  type FilmLight,
  filmLight,
  type Metal,
  metalIndex,
  mirrorFilm,
  thickReflectance,
} from "../optics/film.ts";
export * from "./lamp.ts";
export * from "./silver.ts";
