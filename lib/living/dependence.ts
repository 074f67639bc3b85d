/**
 * Which cell rests on which: by names, as they stand from the top of the page down.
 *
 * A cell rests on the cell above it that gives a name it uses, and on those in between that change what the name holds.
 * So what a cell gave holds as long as its own text and those of all it rests on are the same: its stamp says which they were.
 */

/** What is known of a cell's names; of a cell that cannot be read nothing. */
export interface CellNames {
  /** names it gives */
  readonly gives: readonly string[];
  /** those of them that are imports, with what they are: module and name */
  readonly imports: Readonly<Record<string, string>>;
  readonly uses: readonly string[];
  /** names of others that it changes */
  readonly writes: readonly string[];
  /** what is changed where a function it gives is used */
  readonly writesLater: Readonly<Record<string, readonly string[]>>;
}

/** A cell that gives nothing and needs nothing. */
export const noNames: CellNames = { gives: [], imports: {}, uses: [], writes: [], writesLater: {} };

/** Functions of the library that read the record: what uses them rests on it. */
const READS_RECORD =
  /^(?:openRecord|openMirror|openClass|readings|readRecord|classBeside|demoClass|recordsIn)$/;

/** One name that a cell uses, and the cells it has it from. */
interface Source {
  readonly name: string;
  /** the cell that gives it; absent where none does */
  readonly giver?: number;
  /** cells that change it on the way from there */
  readonly changers: readonly number[];
}

/** Names a cell changes, also by the functions it uses. */
function changedBy(cells: readonly CellNames[], n: number): Set<string> {
  const cell = cells[n] ?? noNames;
  const changed = new Set(cell.writes);
  for (const name of [...cell.uses, ...cell.gives]) {
    const giver = cell.gives.includes(name) ? n : giverOf(cells, n, name);
    const later = giver === undefined ? [] : cells[giver]?.writesLater[name] ?? [];
    // a function that is only given changes nothing until it is used
    if (giver !== n) { for (const one of later) changed.add(one); }
  }
  return changed;
}

/** The cell a name comes from: the nearest above, else the nearest below. */
function giverOf(cells: readonly CellNames[], n: number, name: string): number | undefined {
  for (let i = n - 1; i >= 0; i--) if (cells[i]?.gives.includes(name)) return i;
  for (let i = n + 1; i < cells.length; i++) if (cells[i]?.gives.includes(name)) return i;
  return undefined;
}

/** Which cell rests on which, for the cells as they stand. */
export class Dependence {
  readonly #changed: readonly ReadonlySet<string>[];

  constructor(private readonly cells: readonly CellNames[]) {
    this.#changed = cells.map((_, n) => changedBy(cells, n));
  }

  #sources(n: number): Source[] {
    const used = new Set([...this.cells[n]?.uses ?? [], ...this.#changed[n] ?? []]);
    return [...used].map((name) => {
      const giver = giverOf(this.cells, n, name);
      if (giver === undefined) return { name, changers: [] };
      const changers = this.#changed.flatMap((changed, k) =>
        k > giver && k < n && changed.has(name) ? [k] : []
      );
      return { name, giver, changers };
    });
  }

  /** Cells that must have run before one can, from the top down; a name that is only imported needs no run. */
  needs(n: number): readonly number[] {
    const found = new Set<number>();
    const visit = (at: number): void => {
      for (const { name, giver, changers } of this.#sources(at)) {
        const runs = giver === undefined || this.cells[giver]?.imports[name] !== undefined
          ? []
          : [giver];
        for (const one of [...runs, ...changers]) {
          if (one === n || found.has(one)) continue;
          found.add(one);
          visit(one);
        }
      }
    };
    visit(n);
    return [...found].sort((a, b) => a - b);
  }

  /** Cells that gave a name which another changes: what they give anew, it has to change anew. */
  changes(n: number): readonly number[] {
    return this.#sources(n).flatMap(({ name, giver }) =>
      giver !== undefined && this.#changed[n]?.has(name) ? [giver] : []
    );
  }

  /** Cells below that rest on one, whatever way. */
  restingOn(n: number): readonly number[] {
    const found = new Set([n]);
    for (let at = n + 1; at < this.cells.length; at++) {
      const rests = this.#sources(at).some(({ giver, changers }) =>
        [giver, ...changers].some((one) => one !== undefined && found.has(one))
      );
      if (rests) found.add(at);
    }
    found.delete(n);
    return [...found];
  }

  /**
   * Stamps of all cells: two stamps of a cell are the same where all that it rests on was the same.
   *
   * @param texts   what each cell says
   * @param record  which record it is, by any mark
   * @param again   how often a cell has changed once more what it had changed already
   */
  stamps(texts: readonly string[], record: string, again: readonly number[] = []): string[] {
    const stamps: string[] = [];
    for (let n = 0; n < this.cells.length; n++) {
      const parts = this.#sources(n).flatMap(({ name, giver, changers }) => {
        const imported = giver === undefined ? undefined : this.cells[giver]?.imports[name];
        if (giver === undefined) return [];
        const from = imported ?? (giver < n ? stamps[giver] : texts[giver]);
        const record_ = imported !== undefined && READS_RECORD.test(imported.split(" ")[1] ?? "")
          ? [record]
          : [];
        return [`${name}=${from}`, ...record_, ...changers.map((k) => stamps[k] ?? "")];
      });
      const own = Object.values(this.cells[n]?.imports ?? {})
        .some((one) => READS_RECORD.test(one.split(" ")[1] ?? ""));
      stamps.push(
        digest([texts[n] ?? "", String(again[n] ?? 0), own ? record : "", ...parts.sort()]),
      );
    }
    return stamps;
  }
}

/** Texts as a short mark of them (FNV-1a of 32 bits, twice with different beginnings). */
export function digest(texts: readonly string[]): string {
  let one = 0x811c9dc5, two = 0x1b873593;
  for (const text of texts) {
    for (let at = 0; at <= text.length; at++) {
      const code = at < text.length ? text.charCodeAt(at) : 0x10ffff;
      one = Math.imul(one ^ code, 0x01000193);
      two = Math.imul(two ^ code, 0x85ebca6b) ^ (two >>> 13);
    }
  }
  return (one >>> 0).toString(36) + (two >>> 0).toString(36);
}
