/** The telescope part of mirror.yaml: tube, focuser, flats, eyepieces, screws, weights, bearing. */
import { LONGEST } from "./column.ts";
import type { Telescope } from "./types.ts";
import { type Reader } from "./yaml.ts";
import { list, section } from "./yamlGroups.ts";
import { measure, number, words } from "./yamlValues.ts";

const TURN = 2 * Math.PI;
const length = (least = 0, most = LONGEST): Reader<number> => measure("length", least, most);
const angle = (least: number, most: number): Reader<number> => measure("angle", least, most);
const mass = measure("mass", 0, 1e7);

/** What a number below zero would mean, for those that are not merely mistyped. */
const MARGIN = "below zero the focus would lie inside the racked-in drawtube, where no eyepiece " +
  "reaches it: take a lower focuser, or move the mirror nearer to it";
const FIELD = "below zero would mean that not even a star in the middle gets all the light: " +
  "write the width of field you want, 0 or more";

const SHAPE = section({
  tube: section(
    { innerDiameter: length(1), wall: length(), frontLength: length() },
    ["innerDiameter", "wall"],
  ),
  focuser: section(
    { height: length(), margin: measure("length", 0, LONGEST, MARGIN), at: length() },
    ["height", "margin"],
  ),
  fullyLitField: measure("length", 0, LONGEST, FIELD),
  flats: list(length(1), 1),
  fieldStop: length(0.1),
  eyepieces: list(
    section({ focalLength: length(0.5, 1000), apparentField: angle(0.01, Math.PI) }, [
      "focalLength",
      "apparentField",
    ]),
  ),
  screws: section({
    pitch: length(0.05, 20),
    radius: length(1),
    angles: list(
      angle(-TURN, TURN),
      3,
      3,
      "three screws point a mirror, two cannot: write three angles",
    ),
    imageAt: list(length(-LONGEST), 2, 2),
  }, ["pitch", "radius", "angles", "imageAt"]),
  parts: list(section({ name: words, mass, at: length(-LONGEST) }, ["name", "mass", "at"])),
  bearing: section({
    radius: length(1),
    friction: number(0, 10),
    padHalfAngle: angle(0, 1.56),
    altitude: angle(0, Math.PI / 2),
  }, ["radius", "friction", "padHalfAngle", "altitude"]),
  swap: mass,
});

/** Reads the keys under `telescope:`; lengths mm, angles rad, masses g. */
export const readTelescope: Reader<Telescope> = (node, context) => {
  const keys = SHAPE(node, context);
  if (keys === undefined) return undefined;
  const { screws, ...others } = keys;
  const [x, y] = screws?.imageAt ?? [];
  if (screws === undefined || x === undefined || y === undefined) return others;
  return { ...others, screws: { ...screws, imageAt: [x, y] } };
};
