// deno-lint-ignore-file no-console
/**
 * Mixed faults and a learner who errs (`tests/testing/star/starNights.py`: waves carried to both sides of focus in numpy, an eye with
 * thresholds, acts by their physics): how often the path of questions names what is there, says "cannot tell", or names what is not.
 */
import { hasNumpy } from "../machine.ts";
import { nightNamed, type StarNight, starNights } from "../testing/star/starNights.ts";

/** Dice of the last run: no choice was made by these. */
const FIRST = 90_000, COUNT = 300;

/** Share of answers that the learner gets wrong. */
const SLIPS = 0.05;

/** Of the nights on which anything is called found, so many must name nothing that is not there, and the strongest of all it names. */
const LEAST_RIGHT = 0.9;

if (!hasNumpy) {
  console.log("python3 with numpy is not here: no nights are made");
  Deno.exit(0);
}
const [from = FIRST, count = COUNT, slips = SLIPS] = Deno.args.map(Number);
const nights = await starNights(from, count, slips);
const named = Map.groupBy(nights, nightNamed);
for (const night of named.get("wrongly") ?? []) {
  console.log(
    `${night.seed}: there ${JSON.stringify(night.there)}, found ${night.found.join(", ")}; ${
      night.looks.map(({ act, saw }) => `${act}: ${saw.join(" + ")}`).join("; ")
    }`,
  );
}
const share = (some: readonly StarNight[]): string =>
  `${some.length} (${(100 * some.length / nights.length).toFixed(1)} of 100)`;
console.log(`\n${nights.length} nights, ${100 * slips} of 100 answers wrong`);
for (const how of ["all", "strongest", "another", "cannot tell", "wrongly"] as const) {
  console.log(`| ${how} | ${share(named.get(how) ?? [])} |`);
}
for (const size of [1, 2, 3]) {
  const own = nights.filter(({ there }) => Object.keys(there).length === size);
  const of = (how: string): number => own.filter((night) => nightNamed(night) === how).length;
  console.log(
    `${size} at once: ${own.length} nights, ${of("all")} all, ${of("strongest")} the strongest, ${
      of("another")
    } another, ${of("cannot tell")} cannot tell, ${of("wrongly")} wrongly`,
  );
}
const acts = nights.map(({ looks }) => looks.length).sort((a, b) => a - b);
console.log(
  `acts: ${acts[0]} at least, ${acts[acts.length >> 1]} by the median, ${acts.at(-1)} at most`,
);
const told = nights.filter(({ found }) => found.length > 0);
const right = told.filter((night) => nightNamed(night) !== "wrongly").length;
console.log(`named rightly in ${right} of the ${told.length} on which anything is named`);
if (right < LEAST_RIGHT * told.length) {
  console.log("BEYOND: too many causes are called found that are not at work");
  Deno.exit(1);
}
