/** Runs cells one after the other, in page and command line alike: they share names, and what they show is gathered. */
import { runnersMark } from "../figures/show.ts";
import { nearest } from "../record/nearest.ts";
import type { CellCode, CellFunction } from "./cellCode.ts";
import { CellRefused, lineOfError, stoppedBy, TOO_MUCH } from "./cellErrors.ts";
import { inspected } from "./inspected.ts";
import { Rounds } from "./memory.ts";
import type { Output } from "./output.ts";

/** What came of a cell. */
export interface CellRun {
  readonly outputs: readonly Output[];
  /** why it stopped; absent where it ran to its end */
  readonly refused?: CellRefused;
  /** what was thrown then */
  readonly thrown?: unknown;
  /** the value of its last statement, where it ran to its end */
  readonly value?: unknown;
}

/** The place where cells run. */
export interface Around {
  /** the module a cell asks for; undefined where there is none of that name */
  load(module: string): Promise<Readonly<Record<string, unknown>> | undefined>;
  /** names of modules there are, for one that is asked for in vain */
  readonly modules: readonly string[];
  /** public names of the library, each with its module, for one that was not imported */
  readonly library: ReadonlyMap<string, string>;
  /** how a plain value is told; default as `inspected` */
  readonly inspect?: (value: unknown) => string;
}

type Names = Record<string, unknown>;

const display = Symbol.for("Jupyter.display");

/** Takes what is shown and printed while a cell runs. */
class Outputs {
  readonly list: Output[] = [];

  broadcast(type: string, content: unknown): Promise<void> {
    const { data, metadata } = content as { data: Names; metadata?: Names };
    if (type === "display_data" && Object.keys(data).length > 0) {
      this.list.push({ output_type: type, data, metadata: metadata ?? {} });
    }
    return Promise.resolve();
  }

  print(name: "stdout" | "stderr", text: string): void {
    const last = this.list.at(-1);
    if (last?.output_type === "stream" && last.name === name) {
      this.list[this.list.length - 1] = { ...last, text: last.text + text };
    } else this.list.push({ output_type: "stream", name, text });
  }
}

const PRINTERS = {
  log: "stdout",
  info: "stdout",
  debug: "stdout",
  warn: "stderr",
  error: "stderr",
} as const;

/** The notebook's names and the cells run so far. */
export class Session {
  readonly #names: Names = Object.create(null);
  #outputs = new Outputs();
  #fault: unknown;
  #hasFault = false;

  constructor(private readonly around: Around) {}

  /** Names that have a value. */
  has(name: string): boolean {
    const own = Object.getOwnPropertyDescriptor(this.#names, name);
    return own !== undefined && "value" in own;
  }

  #values(): readonly unknown[] {
    return Object.values(Object.getOwnPropertyDescriptors(this.#names)).map(({ value }) => value);
  }

  /** Takes names away: what gave them is no longer what stands in the cell. */
  drop(names: Iterable<string>): void {
    for (const name of names) delete this.#names[name];
  }

  /** An error that no cell caught, in a timer or in a promise that is not awaited. @returns whether a cell is running */
  fault(reason: unknown): void {
    if (this.#hasFault) return;
    this.#fault = reason;
    this.#hasFault = true;
  }

  /**
   * Runs a cell.
   *
   * @param code   the cell, read
   * @param known  all names that cells of the notebook give
   * @param at     told the line before each statement
   * @returns never throws for a fault of the cell
   */
  async run(
    code: CellCode,
    known: { has(name: string): boolean },
    at: (line: number) => void = () => {},
  ): Promise<CellRun> {
    const outputs = this.#outputs = new Outputs();
    let line: number | undefined, value: unknown, address = "";
    this.#hasFault = false;
    const quiet = this.#listen(outputs);
    try {
      await this.#take(code);
      this.#await(code, known);
      const brought = await bring(code.module(known));
      address = brought.address;
      const hands = Object.assign(new Rounds(() => this.#values()), {
        at: (now: number): void => at(line = now),
        value: (last: unknown): void => void (value = last),
        load: (module: string) => this.#module(module, line),
      });
      await brought.cell(this.#names, hands);
      await this.#show(value, outputs);
      if (this.#hasFault) throw this.#fault;
      return { outputs: outputs.list, value };
    } catch (thrown) {
      const place = {
        line: lineOfError(thrown, address) ?? line,
        names: Object.keys(this.#names),
        library: this.around.library,
      };
      const refused = stoppedBy(thrown, place);
      // what it held is let go
      if (refused.message === TOO_MUCH) this.drop(code.declares.keys());
      return { outputs: outputs.list, refused, thrown };
    } finally {
      quiet();
    }
  }

  /** Sends what is shown and printed to the cell that runs. @returns what puts all back */
  #listen(outputs: Outputs): () => void {
    const before = Reflect.get(globalThis, runnersMark) as unknown;
    Reflect.set(globalThis, runnersMark, outputs);
    const printers = Object.entries(PRINTERS).map(([method, name]) => {
      const own: unknown = Reflect.get(console, method);
      const told = (...things: unknown[]): void =>
        outputs.print(name, `${things.map((thing) => this.#told(thing)).join(" ")}\n`);
      Reflect.set(console, method, told);
      return () => void Reflect.set(console, method, own);
    });
    return () => {
      for (const back of printers) back();
      if (before === undefined) Reflect.deleteProperty(globalThis, runnersMark);
      else Reflect.set(globalThis, runnersMark, before);
    };
  }

  #told(thing: unknown): string {
    return typeof thing === "string" ? thing : (this.around.inspect ?? inspected)(thing);
  }

  /** Takes the cell's imports among the names, as a kernel would; also those of a cell that has not run. */
  async #take(code: CellCode): Promise<void> {
    for (const [name, { module, name: wanted, line }] of code.imports) {
      const all = await this.#module(module, line);
      if (wanted !== "*" && !(wanted in all)) {
        const [near] = nearest(wanted, Object.keys(all), 1);
        const perhaps = near === undefined ? "" : `; did you mean ${near}?`;
        throw new CellRefused(`"${module}" has nothing called ${wanted}${perhaps || "."}`, line);
      }
      this.#define(name, wanted === "*" ? all : all[wanted], true);
    }
  }

  /** Gives names that are imports of cells above, which need not have run. */
  async provide(imports: CellCode["imports"]): Promise<void> {
    for (const [name, { module, name: wanted }] of imports) {
      if (this.has(name)) continue;
      const all = await this.around.load(module).catch(() => undefined);
      if (all === undefined || wanted !== "*" && !(wanted in all)) continue;
      this.#define(name, wanted === "*" ? all : all[wanted], true);
    }
  }

  async #module(module: string, line: number | undefined): Promise<Readonly<Names>> {
    const all = await this.around.load(module);
    if (all !== undefined) return all;
    const [near] = nearest(module, this.around.modules, 1);
    const perhaps = near === undefined ? "" : ` did you mean "${near}"?`;
    throw new CellRefused(
      `there is no module "${module}" here;${
        perhaps || ` there are ${this.around.modules.join(", ")}.`
      }`,
      line,
    );
  }

  /** Until its declaration is reached a name has no value, and says so; so does one that no cell has given yet. */
  #await({ declares, uses }: CellCode, known: { has(name: string): boolean }): void {
    const others = [...uses.keys()].filter((name) => known.has(name) && !(name in this.#names));
    for (const name of [...declares.keys(), ...others]) {
      Object.defineProperty(this.#names, name, {
        configurable: true,
        enumerable: true,
        get: () => {
          throw new ReferenceError(`${name} is not defined`);
        },
        set: (value: unknown) => this.#define(name, value, declares.get(name) === "fixed"),
      });
    }
  }

  #define(name: string, value: unknown, isFixed: boolean): void {
    Object.defineProperty(this.#names, name, {
      configurable: true,
      enumerable: true,
      writable: !isFixed,
      value,
    });
  }

  async #show(value: unknown, outputs: Outputs): Promise<void> {
    if (value === undefined || value === null) return;
    const shows: unknown = Reflect.get(Object(value), display);
    const data = typeof shows === "function"
      ? await (shows as () => Promise<Names>).call(value)
      : { "text/plain": (this.around.inspect ?? inspected)(value) };
    if (Object.keys(data).length === 0) return;
    outputs.list.push({ output_type: "execute_result", execution_count: null, data, metadata: {} });
  }
}

/** A cell's module brought in, and the address by which its errors name it. */
interface Brought {
  readonly cell: CellFunction;
  readonly address: string;
}

/**
 * Brings a module in as a blob; where a thread may not (WebKit, in a page from disk) as a text that is its own address. Where
 * neither can be the first reason counts.
 */
async function bring(module: string): Promise<Brought> {
  const address = URL.createObjectURL(new Blob([module], { type: "text/javascript" }));
  try {
    return { cell: (await import(address) as { default: CellFunction }).default, address };
  } catch (reason) {
    const text = `data:text/javascript;charset=utf-8,${encodeURIComponent(module)}`;
    const other = await import(text).catch(() => {
      throw reason;
    }) as { default: CellFunction };
    return { cell: other.default, address: text };
  } finally {
    URL.revokeObjectURL(address);
  }
}

/** What a cell gave in words: the plain text of all that it showed and printed. */
export function textOf(outputs: readonly Output[]): string {
  return outputs.map((output) => {
    if (output.output_type === "stream") return output.text.trimEnd();
    if (output.output_type === "error") return output.evalue;
    return String(output.data["text/plain"] ?? "");
  }).join("\n");
}
