/** Nights with mixed faults (`starNights.py`), on which a learner follows the path of questions to its end. */
import { type StarActName, type StarLook, starPath } from "../../../lib/testing/star/starCauses.ts";
import { python } from "../../machine.ts";

/** What one night came to. */
export interface StarNight {
  readonly seed: number;
  /** causes at work, with waves RMS */
  readonly there: Readonly<Record<string, number>>;
  readonly strongest: string;
  /** what the path calls found */
  readonly found: readonly string[];
  /** whether it had settled every cause */
  readonly settled: boolean;
  readonly looks: readonly StarLook[];
}

/** How a night was named. */
export type NightNamed = "all" | "strongest" | "another" | "cannot tell" | "wrongly";

/** Wrongly, where anything is called found that is not at work; else by what of it is found. */
export function nightNamed({ there, strongest, found }: StarNight): NightNamed {
  if (found.some((name) => there[name] === undefined)) return "wrongly";
  if (found.length === Object.keys(there).length) return "all";
  if (found.includes(strongest)) return "strongest";
  return found.length > 0 ? "another" : "cannot tell";
}

/**
 * Follows the path on so many nights.
 *
 * @param first  dice of the first
 * @param slips  share of answers that the learner gets wrong
 */
export async function starNights(
  first: number,
  count: number,
  slips: number,
): Promise<readonly StarNight[]> {
  const script = new URL("starNights.py", import.meta.url).pathname;
  await using bench = new Deno.Command(python, {
    args: [script],
    stdin: "piped",
    stdout: "piped",
    env: { OPENBLAS_NUM_THREADS: "1" },
  }).spawn();
  const writer = bench.stdin.getWriter(), nights: StarNight[] = [];
  const lines = bench.stdout.pipeThrough(new TextDecoderStream())[Symbol.asyncIterator]();
  const ask = async (line: string) => {
    await writer.write(new TextEncoder().encode(`${line}\n`));
    let answer = "";
    while (!answer.endsWith("\n")) {
      const { value, done } = await lines.next();
      if (done === true) throw new Error(`numpy made nothing of "${line}"`);
      answer += value;
    }
    return JSON.parse(answer);
  };
  for (let seed = first; seed < first + count; seed++) {
    await ask(`night ${seed} ${slips}`);
    const looks: StarLook[] = [];
    for (;;) {
      const [next] = starPath(looks).acts;
      if (next === undefined) break;
      const act: StarActName = next.act.name, { saw } = await ask(`act ${act}`);
      looks.push({ act, saw });
    }
    const { there, strongest } = await ask("truth"), { found, settled } = starPath(looks);
    nights.push({
      seed,
      there,
      strongest,
      found: found.map(({ name }) => name),
      settled,
      looks,
    });
  }
  await writer.close();
  await lines.return?.();
  await bench.status;
  return nights;
}
