/** What a thread answers to its page: it reads cells and runs them, one after the other. */
import { type CellCode, readCell } from "./cellCode.ts";
import { CellRefused } from "./cellErrors.ts";
import type { CellNames } from "./dependence.ts";
import type { Asked, Beginning, ReadAnswer, RunAnswer, Said, Stopped } from "./messages.ts";
import { outputHtml } from "./outputHtml.ts";
import { type Session, textOf } from "./session.ts";

const read = new Map<string, CellCode | CellRefused>();

function codeOf(source: string): CellCode | CellRefused {
  const known = read.get(source);
  if (known !== undefined) return known;
  let code: CellCode | CellRefused;
  try {
    code = readCell(source);
  } catch (refused) {
    if (!(refused instanceof CellRefused)) throw refused;
    code = refused;
  }
  read.set(source, code);
  return code;
}

const stopped = ({ message, line }: CellRefused): Stopped => ({
  says: message,
  ...(line !== undefined && { line }),
});

function namesOf(source: string): ReadAnswer {
  const code = codeOf(source);
  return code instanceof CellRefused ? stopped(code) : namesIn(code);
}

/** A cell's names, as `Dependence` takes them. */
export function namesIn(code: CellCode): CellNames {
  return {
    gives: [...code.declares.keys(), ...code.imports.keys()],
    imports: Object.fromEntries(
      [...code.imports].map(([name, from]) => [name, `${from.module} ${from.name}`]),
    ),
    uses: [...code.uses.keys()],
    writes: [...code.writes],
    writesLater: Object.fromEntries(
      [...code.writesLater].map(([name, changed]) => [name, [...changed]]),
    ),
  };
}

/** Runs a cell; what it uses of other cells' imports it has, whether they have run or not. */
async function run(
  session: Session,
  { cell, source, others }: Extract<Asked, { ask: "run" }>,
  say: (said: Said) => void,
): Promise<RunAnswer> {
  const code = codeOf(source);
  if (code instanceof CellRefused) return { shown: [], stopped: stopped(code) };
  const all = [source, ...others].map(codeOf)
    .filter((one): one is CellCode => !(one instanceof CellRefused));
  for (const other of all) {
    await session.provide(new Map([...other.imports].filter(([name]) => code.uses.has(name))));
  }
  const known = new Set(all.flatMap((one) => [...one.declares.keys(), ...one.imports.keys()]));
  const at = (line: number): void => say({ at: line, cell });
  const { outputs, refused } = await session.run(code, known, at);
  return {
    shown: outputs.map((output) => ({ html: outputHtml(output), text: textOf([output]) })),
    ...(refused !== undefined && { stopped: stopped(refused) }),
  };
}

/**
 * What answers for a session.
 *
 * @param session  in which cells run
 * @param say      says to the page what is no answer
 * @param begin    takes the page's files
 */
export function answering(
  session: Session,
  say: (said: Said) => void,
  begin: (beginning: Beginning) => void = () => {},
): (asked: Asked) => Promise<unknown> {
  // deno-lint-ignore require-await -- a fault of the kit comes back as one of the answer
  return async (asked) => {
    switch (asked.ask) {
      case "begin":
        begin(asked.with);
        return true;
      case "read":
        return asked.sources.map(namesOf);
      case "run":
        return run(session, asked, say);
      case "drop":
        session.drop(asked.names);
        return true;
      case "free":
        return true;
    }
  };
}
