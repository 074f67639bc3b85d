/** What an exercise with the reader's own numbers is made of. */
import type { Mirror } from "../../knowledge/open.ts";
import type { NumberExercise } from "../../lessons/exercise.ts";
import { typeA } from "../../quantity/typeB.ts";

/** An exercise before its page gives it a name. */
export type Asked = Omit<NumberExercise, "id">;

/** Readings that an exercise is made from, in words, and how it is made; nothing where they are missing. */
export type Maker = readonly [needs: string, make: (yours: Mirror) => Asked | undefined];

/** A number with so many figures, as a person writes it. */
export const digits = (value: number, figures: number): string =>
  String(Number(value.toPrecision(figures)));

/** The same with a true minus. */
export const signedText = (value: number, figures = 3): string =>
  digits(value, figures).replace("-", "−");

/** A ratio to its own doubt that a decision goes by: asked in words, answered in doubts. */
export function inDoubts(
  { ask, first, second, u, unit, digitsAfter }: {
    readonly ask: string;
    readonly first: number;
    readonly second: number;
    readonly u: number;
    readonly unit: string;
    readonly digitsAfter: number;
  },
): Asked | undefined {
  const off = Number((first - second).toFixed(digitsAfter));
  if (!(u > 0) || off === 0) return undefined;
  const [a, b] = [first, second].map((one) => one.toFixed(digitsAfter)), answer = off / u;
  return {
    ask,
    unit: "",
    answer,
    traps: [
      { value: -answer, hint: "S" },
      { value: off, hint: `That is in ${unit}. How many u is it?` },
    ],
    hints: [
      "How far apart are they, and how far may that be by itself?",
      `Look at ${a} − ${b} = ${signedText(off)} ${unit}.`,
      `${signedText(off)} ÷ ${digits(u, 4)} = ${signedText(answer, 2)}.`,
    ],
  };
}

/** How sure the mean of some readings is, mm, by their scatter alone; nothing where they do not scatter. */
export function ofMean(
  whose: string,
  taken: readonly number[],
  written: (one: number) => string,
): Asked | undefined {
  const { s, u } = typeA(taken);
  if (!(u > 0)) return undefined;
  return {
    ask: `${whose}: ${
      taken.map(written).join(", ")
    } mm. What is the standard uncertainty of their mean, from their scatter alone?`,
    unit: "mm",
    answer: u,
    traps: [
      { value: s, hint: "That is one reading’s spread. And that of the mean?" },
      {
        value: s / taken.length,
        hint: `Divide by the root of ${taken.length}, not by ${taken.length}.`,
      },
    ],
    hints: [
      "Of one reading, or of the mean?",
      `Look at the spread, ${digits(s, 3)} mm, and at √${taken.length}.`,
      `${digits(s, 3)} ÷ √${taken.length} = ${digits(u, 3)} mm.`,
    ],
  };
}
