#!/usr/bin/env -S deno run --allow-read
// deno-lint-ignore-file no-console
/** Prints how many printed values are held, by source; what the kit cannot reckon yet is named. */
import { published, publishedNames } from "./published.ts";

export interface Count {
  readonly name: string;
  readonly source: string;
  /** values that a test holds */
  readonly held: number;
  /** of these, errors of the source that the kit must not share */
  readonly errors: number;
  readonly cannot: readonly string[];
}

/** Counts of one source after the other. */
export function publishedCounts(): Count[] {
  return publishedNames().map((name) => {
    const { source, values } = published<unknown>(name), all = Object.entries(values);
    const cannot = all.flatMap(([key, { cannot }]) => cannot === undefined ? [] : `${key}: ${cannot}`);
    const errors = all.filter(([, { right }]) => right !== undefined).length;
    return { name, source, held: all.length - cannot.length, errors, cannot };
  });
}

if (import.meta.main) {
  const counts = publishedCounts();
  for (const { name, source, held, errors, cannot } of counts) {
    console.log(`${`${held}`.padStart(4)}  ${name}${errors === 0 ? "" : `, ${errors} of the source's own errors not shared`}`);
    console.log(`      ${source}`);
    for (const one of cannot) console.log(`      not reckoned: ${one}`);
  }
  const sum = (of: (count: Count) => number): number => counts.reduce((all, one) => all + of(one), 0);
  console.log(
    `${`${sum(({ held }) => held)}`.padStart(4)}  values from ${counts.length} sources, ${sum(({ errors }) => errors)} errors of theirs; ` +
      `${sum(({ cannot }) => cannot.length)} not reckoned yet`,
  );
}
