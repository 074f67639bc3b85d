/** Air in the light's way as it stands in print. READ `tests/references/published/air-path.json`. */
import { airIndexLessOne, airIndexPerDegree } from "../../../lib/testing/star/air.ts";
import { hold } from "../../references/published.ts";

Deno.test("the delay of a metre and a half of air, and what a degree changes", () => {
  const waves = 1.5e9 / 550, degree = -airIndexPerDegree(0) * waves;
  hold("air-path", {
    // the text's index has two digits: 14 waves for its last
    "delay of 1.5 m of air at 0 degrees, waves of 550 nm": airIndexLessOne(0) * waves,
    "the same for a degree, waves": degree,
    "the same for a degree Fahrenheit, waves": degree / 1.8,
  });
});
