/// <reference lib="dom" />
/** The cells of a page as its reader sees them: fields, buttons, outputs and their marks. */
import { type CellResult, Cells, type CellView } from "./cells.ts";
import type { Kept } from "./kept.ts";
import { type EditorMaker, type EditorOptions, type Field, plainField } from "./field.ts";

/** What a cell's change is told as, on `document`. */
export interface CellEvent {
  readonly cell: number;
  readonly state: CellView["state"];
  /** what it gave in words; of what was built, the words on the page */
  readonly text: string;
}

/** What `first-mirror:write` on a cell's element asks: that its text be changed by its reader's wish, and run. */
export interface WriteDetail {
  /** the new text; nothing where it cannot be */
  change(source: string): string | undefined;
  /** set at once where it is run */
  ran?: Promise<CellResult>;
}

/** What the cells of a page are made from. */
export interface PageCellsOptions
  extends Pick<ConstructorParameters<typeof Cells>[0], "thread" | "begin"> {
  /** where changed cells are kept, under the page's name */
  readonly kept: Kept;
  readonly page: string;
  /** how markup is changed before it is shown, where lengths are in inches */
  readonly inHouse?: (html: string) => string;
  /** puts a better field in place of a plain one, when a cell is opened */
  readonly editor?: () => Promise<EditorMaker | undefined>;
  /** public names of the library, for the editor */
  readonly names?: EditorOptions["names"];
}

/** What a cell gave may hold no script, no handler, and nothing that leads away by itself. */
const FORBIDDEN = "script, style, meta, base, link, iframe, object, embed, frame, template";

function harmless(html: string): DocumentFragment {
  const made = document.createElement("template");
  made.innerHTML = html;
  for (const element of made.content.querySelectorAll(FORBIDDEN)) element.remove();
  for (const element of made.content.querySelectorAll("*")) {
    for (const { name, value } of [...element.attributes]) {
      const leads = /^(?:xlink:)?href$|^action$|^formaction$|^src$/.test(name) &&
        /^\s*(?:javascript|vbscript|data:text)/i.test(value);
      if (name.startsWith("on") || leads) element.removeAttribute(name);
    }
  }
  return made.content;
}

const made = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  kind: string,
  text = "",
): HTMLElementTagNameMap[K] => {
  const element = document.createElement(tag);
  if (kind !== "") element.className = kind;
  element.textContent = text;
  return element;
};

function button(words: string, act: () => void): HTMLButtonElement {
  const element = made("button", "act", words);
  element.type = "button";
  element.addEventListener("click", act);
  return element;
}

const spoken = (seconds: number): string =>
  seconds < 0.0995
    ? `${Math.max(1, Math.round(seconds * 1000))} ms`
    : `${seconds.toFixed(seconds < 9.95 ? 1 : 0)} s`;

/** One cell on the page. */
class PageCell {
  readonly built: string;
  readonly #out: HTMLElement | null;
  readonly #builtNodes: readonly Node[];
  readonly #builtText: string;
  field: Field;
  #clock: ReturnType<typeof setInterval> | undefined;

  constructor(readonly n: number, readonly element: HTMLElement) {
    const code = element.querySelector("pre");
    this.built = code?.textContent ?? "";
    this.#out = document.querySelector(`[data-output-of="${n}"]`);
    this.#builtNodes = [...this.#out?.childNodes ?? []];
    this.#builtText = wordsIn(this.#out);
    this.field = plainField(this.built, `Cell ${n + 1}`);
    code?.replaceWith(this.field.element);
  }

  act(name: string): HTMLButtonElement | null {
    return this.element.querySelector(`[data-act="${name}"]`);
  }

  /** Says whether the reader has changed it. */
  mark(): void {
    const isChanged = this.field.text !== this.built;
    this.element.toggleAttribute("data-changed", isChanged);
    const summary = this.element.querySelector("summary"),
      told = summary?.querySelector(".changed");
    if (isChanged && told === null) summary?.append(made("b", "changed", " · changed by you"));
    if (!isChanged) told?.remove();
    const back = this.act("back");
    if (back !== null) back.disabled = false;
  }

  /** Shows what the cell gave. */
  show(view: CellView, runOn: () => void, inHouse = (html: string): string => html): void {
    clearInterval(this.#clock);
    const stop = this.act("stop");
    if (stop !== null) stop.disabled = view.state !== "running";
    const out = this.#out;
    if (out === null) return;
    out.dataset["state"] = view.state;
    this.field.mark(view.stopped?.line);
    for (const how of out.querySelectorAll(":scope > .how")) how.remove();
    if (view.state === "running") return this.#count(out);
    out.querySelector(":scope > .failure")?.remove();
    if (view.shown === undefined) out.replaceChildren(...this.#builtNodes);
    else if (view.state !== "stale") {
      this.#put(
        out,
        inHouse(view.shown.map(({ html }) => html).join("")),
      );
    }
    if (view.stopped !== undefined && view.state === "failed") out.append(failure(view.stopped));
    const how = this.#how(view, runOn);
    if (how !== undefined) out.append(how);
  }

  #put(out: HTMLElement, html: string): void {
    const all = harmless(html);
    const only = out.dataset["only"], typed = answersIn(out);
    if (only === undefined) out.replaceChildren(all);
    else out.replaceChildren(...all.querySelectorAll(only));
    if (out.querySelector("figure.live, form[data-exercise]") !== null) live();
    for (const detail of typed) {
      document.dispatchEvent(new CustomEvent("first-mirror:put-back", { detail }));
    }
  }

  /** Counts the seconds of a run that takes longer than a blink. */
  #count(out: HTMLElement): void {
    const begun = performance.now(), how = made("p", "how");
    this.#clock = setInterval(() => {
      const seconds = Math.floor((performance.now() - begun) / 1000);
      how.textContent = `Running, ${seconds} s. It ends by itself after 30 s.`;
      if (how.parentNode === null) out.append(how);
    }, 500);
  }

  #how(
    { state, shown, seconds, since, source }: CellView,
    runOn: () => void,
  ): HTMLElement | undefined {
    if (state === "stale") {
      const why = since === undefined ? "what it rests on" : `cell ${since + 1}`;
      const how = made("p", "how", `Stale: ${why} has changed since. `);
      how.append(button("Run on", runOn));
      return how;
    }
    if (state !== "done" || seconds === undefined) return undefined;
    const text = (shown ?? []).map((one) => one.text).join(" ").trim();
    const before = this.#builtText;
    const differs = source !== this.built && before !== "" && before.length <= 60 &&
      text !== before;
    return made(
      "p",
      "how",
      `Run in ${spoken(seconds)}.${differs ? ` As built it was ${before}.` : ""}`,
    );
  }
}

const wordsIn = (element: HTMLElement | null): string =>
  (element?.textContent ?? "").replace(/\s+/g, " ").trim();

function failure({ says, line }: { readonly says: string; readonly line?: number }): HTMLElement {
  const told = made("p", "failure");
  const first = says.charAt(0).toUpperCase() + says.slice(1);
  if (line === undefined) told.textContent = first;
  else told.append(made("b", "", `Line ${line}:`), ` ${says}`);
  return told;
}

/** What a reader has typed into the exercises of an output, as it is put back. */
function answersIn(out: HTMLElement): { kind: "answer"; key: string; value: string }[] {
  return [...out.querySelectorAll<HTMLFormElement>("form[data-exercise]")].flatMap((form) => {
    const value = form.querySelector("input")?.value ?? "", key = form.dataset["exercise"] ?? "";
    return value === "" ? [] : [{ kind: "answer", key, value }];
  });
}

/** Figures and exercises that came with an output come alive. */
function live(): void {
  const host = globalThis as {
    firstMirrorLive?: { push(call: unknown): unknown };
    firstMirrorExercises?: () => void;
  };
  host.firstMirrorLive?.push(undefined);
  host.firstMirrorExercises?.();
}

/** The page's cells, their fields and buttons alive. */
export class PageCells {
  readonly cells: Cells;
  readonly #on: readonly PageCell[];

  constructor(private readonly options: PageCellsOptions) {
    const found = [...document.querySelectorAll<HTMLElement>("[data-cell]")]
      .map((element) => [Number(element.dataset["cell"]), element] as const)
      .sort(([a], [b]) => a - b);
    this.#on = found.map(([n, element]) => new PageCell(n, element));
    const count = Math.max(-1, ...found.map(([n]) => n)) + 1;
    const sources = Array.from({ length: count }, (_, n) => this.#at(n)?.built ?? "");
    this.cells = new Cells({
      ...options,
      sources,
      onChange: (view) => this.#show(view),
    });
    for (const cell of this.#on) this.#wake(cell);
    this.#wakeRunAll();
  }

  /** Runs a cell; its field, its output and the marks below follow. */
  async run(n: number, source?: string): Promise<{ text: string; failed: boolean }> {
    if (source !== undefined) this.#write(n, source);
    return await this.cells.run(n, source);
  }

  #at(n: number): PageCell | undefined {
    return this.#on.find((cell) => cell.n === n);
  }

  #write(n: number, source: string): void {
    const cell = this.#at(n);
    if (cell === undefined) return;
    cell.field.text = source;
    cell.mark();
  }

  #show(view: CellView): void {
    this.#at(view.cell)?.show(
      view,
      () => void this.cells.runOn(view.cell),
      this.options.inHouse,
    );
    const out = document.querySelector<HTMLElement>(`[data-output-of="${view.cell}"]`);
    const text = view.stopped?.says ??
      view.shown?.map((one) => one.text).join("\n") ?? wordsIn(out);
    const detail: CellEvent = { cell: view.cell, state: view.state, text };
    document.dispatchEvent(new CustomEvent("first-mirror:cell", { detail }));
  }

  #wake(cell: PageCell): void {
    const { n, element } = cell, { page } = this.options;
    const keep = (text: string | undefined): void =>
      this.options.kept.set("cell", page, String(n), text);
    const kept = this.options.kept.get("cell", page, String(n));
    if (kept !== undefined && kept !== cell.built) {
      cell.field.text = kept;
      this.cells.write(n, kept);
    }
    cell.mark();
    const run = (): void => {
      const text = cell.field.text;
      keep(text === cell.built ? undefined : text);
      void this.cells.run(n, text);
    };
    const written = (): void => {
      this.cells.write(n, cell.field.text);
      cell.mark();
    };
    element.addEventListener("first-mirror:write", (event) => {
      const { detail } = event as CustomEvent<WriteDetail>;
      const changed = detail.change(cell.field.text);
      if (changed === undefined) return;
      this.#write(n, changed);
      keep(changed === cell.built ? undefined : changed);
      detail.ran = this.cells.run(n, changed);
    });
    cell.field.listen({ run, written });
    this.#press(cell, "run", run);
    this.#press(cell, "stop", () => this.cells.stop());
    this.#press(cell, "back", () => {
      cell.field.text = cell.built;
      cell.mark();
      keep(undefined);
      void this.cells.asItWas(n);
    });
    const stop = cell.act("stop");
    if (stop !== null) stop.disabled = true;
    const better = async (): Promise<void> => {
      if (!(element as HTMLDetailsElement).open || cell.field.isBetter) return;
      const maker = await this.options.editor?.();
      if (maker === undefined || cell.field.isBetter) return;
      const field = maker(cell.field, {
        label: `Cell ${n + 1}`,
        names: this.options.names ?? {},
        isKnown: (name, own) => this.#isKnown(name, own),
      });
      field.listen({ run, written });
      cell.field = field;
    };
    element.addEventListener("toggle", () => void better());
    void better();
  }

  /** Whether a name is there for a cell: imported or declared by one of the page. */
  #isKnown(name: string, own: string): boolean {
    const given = new RegExp(
      String
        .raw`import\s[^;]*\b${name}\b[^;]*from|(?:const|let|var|function|class)\s[^;=]*\b${name}\b`,
    );
    return [own, ...this.#on.map(({ field }) => field.text)].some((text) => given.test(text));
  }

  #press(cell: PageCell, name: string, act: () => void): void {
    const found = cell.act(name);
    if (found === null) return;
    found.disabled = false;
    found.addEventListener("click", act);
  }

  #wakeRunAll(): void {
    const all = document.querySelector<HTMLButtonElement>("#run-all");
    if (all === null) return;
    all.disabled = false;
    all.addEventListener("click", async () => {
      const root = document.documentElement;
      delete root.dataset["ran"];
      all.disabled = true;
      root.setAttribute("aria-busy", "true");
      try {
        const count = this.cells.count;
        const well = await this.cells.runAll((n) => {
          all.textContent = `Running ${n + 1} of ${count}`;
        });
        root.dataset["ran"] = String(well);
      } finally {
        root.removeAttribute("aria-busy");
        all.textContent = "Run all";
        all.disabled = false;
      }
    });
  }
}
