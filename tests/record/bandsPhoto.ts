import type { MadePhoto } from "../testing/photoGenerator.ts";

/** A paraboloid 148 mm wide, photographed 10 mm inside its centre of curvature; INVENTED, for tests that change one thing. */
export const bandsPhoto = {
  aperture: 148,
  radius: 2400,
  conic: -1,
  offset: -10,
  linesPerMm: 4,
  light: [550],
  width: 400,
  height: 380,
  x: 200,
  y: 190,
  r: 150,
  turn: 0.02,
  shift: 0.03,
  noise: 0.01,
  seed: 7,
} satisfies MadePhoto;
