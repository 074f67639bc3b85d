/** Moons, planets and the Moon's light as they stand in print. READ each in `tests/references/published`. */
import assert from "node:assert/strict";
import { JUPITER_MOONS, jupiterMoons, tonight } from "../../lib/sky/tonight.ts";
import { type Got, hold, published } from "../references/published.ts";

const DEGREE = Math.PI / 180;
/** a place for what does not depend on it */
const ANYWHERE = { latitude: 0.8, longitude: 0 };

/** What the air lifts a star that stands so many degrees high, degrees. READ: Meeus, the same book, formula 16.4 */
const bent = (height: number): number =>
  1.02 / Math.tan((height + 10.3 / (height + 5.11)) * DEGREE) / 60;

/** "+38 55 17" in radians. */
const angle = (text: string): number => {
  const [degrees = 0, minutes = 0, seconds = 0] = text.split(" ").map(Number);
  return (degrees + minutes / 60 + seconds / 3600) * DEGREE;
};

Deno.test("the moons of Jupiter on a winter's night of 1992", async () => {
  const { moment } = published<{ moment: string }>("jupiter-moons-1992").inputs;
  const moons = await jupiterMoons(new Date(moment));
  // turned against the book's axes, which lie along the planet's equator: the distance from its middle is the same in both
  hold(
    "jupiter-moons-1992",
    Object.fromEntries(JUPITER_MOONS.map((name): [string, Got] => [
      `${name}, from the middle by the printed X and Y, radii`,
      moons.find((one) => one.name === name)?.radii ?? assert.fail(name),
    ])),
  );
});

Deno.test("how much of Venus and of the Moon was lit in 1992", async () => {
  const { venus, moon } = published<{ venus: string; moon: string }>("venus-and-moon-1992").inputs;
  const then = await tonight(ANYWHERE, new Date(venus));
  hold("venus-and-moon-1992", {
    "Venus, lit share": then.planets.find(({ name }) => name === "Venus")?.lit ?? assert.fail(),
    "Moon, lit share": (await tonight(ANYWHERE, new Date(moon))).moon.lit,
  });
});

Deno.test("where Venus stood over Washington", async () => {
  const { inputs } = published<Record<string, string>>("venus-at-washington-1987");
  const { planets } = await tonight(
    {
      latitude: angle(inputs["latitude"] ?? ""),
      longitude: -angle(inputs["longitude west"] ?? ""),
    },
    new Date(inputs["moment"] ?? ""),
  );
  const venus = planets.find(({ name }) => name === "Venus") ?? assert.fail();
  hold("venus-at-washington-1987", {
    "azimuth from north, degrees": venus.azimuth / DEGREE,
    "altitude without the air, degrees": venus.altitude / DEGREE - bent(15.125),
  });
});

Deno.test("a new Moon and a last quarter, at their minutes", async () => {
  const { inputs } = published<Record<string, string>>("places-and-phases");
  // a new Moon passes up to 5.3 degrees beside the Sun: (1 - cos 5.3°) / 2 = 0.0021 of it is lit even then
  const lit = async (phase: string): Promise<number> =>
    (await tonight(ANYWHERE, new Date(inputs[phase] ?? ""))).moon.lit;
  hold("places-and-phases", {
    "new Moon of February 1977, lit share": await lit("new Moon"),
    "last quarter of January 2044, lit share": await lit("last quarter"),
  });
});

Deno.test("what the kit does not reckon of the sky is named", () => {
  hold("venus-at-boston-1988", {});
  hold("refraction-and-separation", {});
  hold("stars-together", {});
});
