/// <reference lib="dom" />
/** Forms for readings in a page: refusals while typing, the row kept, the numbers and the next step at once. */
import type { FieldRefusal } from "../forms/judgeRows.ts";
import type { ToldRecord } from "../forms/toldRecord.ts";
import type { TableName } from "../record/schema.ts";
import type { HeldClient } from "./heldClient.ts";
import type { LaidRow, PageRecord } from "./pageRecord.ts";

/** How long after the last key a row is judged, ms. */
const PAUSE = 120;

const element = <K extends keyof HTMLElementTagNameMap>(
  tag: K,
  text = "",
  kind = "",
): HTMLElementTagNameMap[K] => {
  const made = document.createElement(tag);
  made.textContent = text;
  if (kind !== "") made.className = kind;
  return made;
};

/** One form. */
class TableForm {
  readonly table: TableName;
  readonly #touched = new Set<string>();
  #asked = 0;
  /** the row that was judged last; forgotten when the record changes */
  #judged: { readonly row: string; readonly refusals: readonly FieldRefusal[] } | undefined;
  #fresh: Promise<void> | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #photo: { readonly file: File; readonly name: string } | undefined;

  constructor(
    readonly form: HTMLFormElement,
    private readonly record: PageRecord,
    private readonly thread: HeldClient,
    private readonly added: (form: TableForm) => Promise<void>,
    today: string | undefined,
  ) {
    this.table = form.dataset["table"] as TableName;
    form.addEventListener("input", (event) => this.#typed(event.target));
    // the first touch wakes the thread, so that the first refusal comes at once
    form.addEventListener("focusin", () => void this.#awake(), { once: true });
    form.addEventListener("click", (event) => this.#key(event.target));
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#submit();
    });
    const day = this.#input("date");
    if (day !== undefined && day.value === "") day.value = today ?? localDay();
  }

  #awake(): Promise<void> {
    return this.#fresh ??= this.refresh();
  }

  get #inputs(): readonly HTMLInputElement[] {
    return [...this.form.querySelectorAll<HTMLInputElement>("input[name]")];
  }

  #input(name: string): HTMLInputElement | undefined {
    return this.#inputs.find((one) => one.name === name);
  }

  #cells(): Readonly<Record<string, string>> {
    return Object.fromEntries(this.#inputs.map((one) => [
      one.name,
      one.type === "file" ? this.#photo?.name ?? "" : one.value.trim(),
    ]));
  }

  #typed(target: EventTarget | null): void {
    if (!(target instanceof HTMLInputElement)) return;
    this.#touched.add(target.name);
    if (target.type === "file") {
      this.#photo = undefined;
      void this.#taken(target);
      return;
    }
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => void this.judge(), PAUSE);
  }

  /** A photograph goes to the record's thread before its row is judged. */
  async #taken(input: HTMLInputElement): Promise<void> {
    const [file] = input.files ?? [];
    if (file === undefined) return;
    this.say("Reading the photograph …");
    this.#photo = { file, name: await this.record.addPhoto(file) };
    this.say(`Kept as photos/${this.#photo.name}.`);
    await this.judge();
  }

  /** A key that puts a word, or a plus sign, into a field. */
  #key(target: EventTarget | null): void {
    const key = target instanceof Element
      ? target.closest<HTMLButtonElement>("button[data-into]")
      : null;
    if (key === null) return;
    const { into = "", word, put } = key.dataset;
    const input = document.getElementById(into);
    if (!(input instanceof HTMLInputElement)) return;
    if (word !== undefined) input.value = word;
    else if (put !== undefined && !input.value.trimEnd().endsWith(put)) {
      input.value = `${input.value.trim()}${put}`;
    }
    input.focus();
    input.dispatchEvent(new Event("input", { bubbles: true }));
  }

  /** Shows what is wrong; of fields that nobody has touched yet only when the row is to be added. */
  async judge(isWhole = false): Promise<readonly FieldRefusal[]> {
    clearTimeout(this.#timer);
    const asked = ++this.#asked, cells = this.#cells(), row = JSON.stringify(cells);
    const known = this.#judged?.row === row ? this.#judged.refusals : undefined;
    const refusals = known ??
      await this.thread.ask({ ask: "refusals", table: this.table, cells });
    this.#judged = { row, refusals };
    if (asked !== this.#asked) return refusals;
    const shown = refusals.filter(({ name }) =>
      isWhole || (name !== undefined && this.#touched.has(name))
    );
    this.#show(shown);
    return refusals;
  }

  #show(refusals: readonly FieldRefusal[]): void {
    const known = new Set(this.#inputs.map(({ name }) => name));
    for (const place of this.form.querySelectorAll<HTMLElement>("[data-refusal]")) {
      const name = place.dataset["refusal"] ?? "";
      const own = refusals.filter((one) =>
        name === "" ? one.name === undefined || !known.has(one.name) : one.name === name
      );
      const text = own.map(({ sentence }) => sentence).join(" ");
      if (place.textContent !== text) place.textContent = text;
    }
    for (const input of this.#inputs) {
      const isWrong = refusals.some(({ name }) => name === input.name);
      if (isWrong) input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
  }

  async #submit(): Promise<void> {
    try {
      await this.#awake();
      const refusals = await this.judge(true);
      if (refusals.length > 0) {
        this.form.querySelector<HTMLElement>("[aria-invalid]")?.focus();
        return;
      }
      this.record.add(this.table, this.#cells());
      this.#photo = undefined;
      this.#touched.clear();
      await this.added(this);
    } catch (error) {
      this.say(`This did not work: ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  say(text: string): void {
    const place = this.form.querySelector("[data-said]");
    if (place !== null) place.textContent = text;
  }

  /** The fields as the record has them now: what is usual stands in them, what was read is empty again. */
  async refresh(keep = true): Promise<void> {
    this.#judged = undefined;
    const { fields } = await this.thread.ask({ ask: "form", table: this.table });
    for (const { name, usual, choices } of fields) {
      const input = this.#input(name);
      if (input === undefined || this.#touched.has(name)) continue;
      if (usual !== undefined) input.value = usual;
      else if (input.type === "file") input.value = "";
      else if (!keep && choices === undefined) input.value = "";
    }
  }
}

/** The day it is where the reader is, ISO. */
function localDay(now = new Date()): string {
  const two = (part: number): string => String(part).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

/** All forms of a page, the list of what was typed, the numbers and the next step. */
export class PageForms {
  readonly #forms: readonly TableForm[];
  #told: ToldRecord | undefined;
  #turn = 0;

  /**
   * @param today  ISO day that it is for the record, where not the clock's
   */
  constructor(private readonly record: PageRecord, thread: HeldClient, today?: string) {
    const added = (form: TableForm): Promise<void> => this.#added(form);
    this.#forms = [...document.querySelectorAll<HTMLFormElement>("form[data-table]")]
      .map((form) => new TableForm(form, record, thread, added, today));
  }

  async #added(form: TableForm): Promise<void> {
    await this.record.lay();
    const rows = this.record.rows(), mark = rows.at(-1)?.mark;
    form.say(
      mark?.is === "kept here"
        ? `Added to ${form.table}.csv as line ${mark.line}.`
        : mark?.is === "waits"
        ? `Kept; it counts when its other is there. ${mark.why}`
        : mark?.is === "in the record"
        ? `${form.table}.csv has this row already.`
        : "",
    );
    await this.show(form.table);
    await form.refresh(false);
  }

  /** Shows rows, numbers and next step as they are now; of photographs when they are reduced. */
  async show(table?: TableName): Promise<void> {
    const turn = ++this.#turn;
    this.#rows();
    const [first] = this.#forms, about = table ?? first?.table;
    if (document.querySelector("[data-told]") === null) return;
    this.#tell(await this.record.told(about));
    if (!this.record.hasPhotos() || turn !== this.#turn) return;
    const whole = await this.record.toldWithPhotos(about);
    if (whole !== undefined && turn === this.#turn) this.#tell(whole);
  }

  #tell(told: ToldRecord): void {
    // a caution stands before what it warns of, also in time
    for (const part of ["caution", "do", "until"] as const) {
      for (const place of document.querySelectorAll(`[data-told="${part}"]`)) {
        if (place.textContent !== told.nextStep[part]) place.textContent = told.nextStep[part];
      }
    }
    const before = new Map(this.#told?.numbers ?? []);
    const list = document.querySelector("[data-numbers]");
    list?.replaceChildren(...told.numbers.flatMap(([title, value]) => {
      const number = element("dd", value);
      if (this.#told !== undefined && before.get(title) !== value) number.className = "new";
      return [element("dt", title), number];
    }));
    const doubts = document.querySelector("[data-doubts]");
    doubts?.replaceChildren(...told.warnings.map((text) => element("li", text)));
    this.#told = told;
  }

  #rows(): void {
    const rows = this.record.rows();
    for (const form of this.#forms) {
      const list = document.querySelector<HTMLElement>(`[data-typed="${form.table}"]`);
      const own = rows.filter(({ table }) => table === form.table);
      list?.replaceChildren(...own.map((row) => this.#row(row)));
      if (list !== null) list.hidden = own.length === 0;
    }
  }

  #row(row: LaidRow): HTMLElement {
    const { mark } = row, item = element("li");
    const cells = Object.entries(row.cells).filter(([, cell]) => cell !== "");
    item.append(element("span", cells.map(([name, cell]) => `${name} ${cell}`).join(", ")), " ");
    const how = mark === undefined || mark.is === "in the record"
      ? "in the record"
      : mark.is === "kept here"
      ? "kept here"
      : mark.is === "waits"
      ? "kept here, waits for its other"
      : `kept here, not in the record: ${mark.why}`;
    item.append(element("i", how), " ");
    item.dataset["mark"] = mark?.is ?? "";
    if (mark?.is === "in the record") return item; // what stands in the record's own table is changed there
    const back = element("button", "Take it back", "act");
    back.type = "button";
    back.addEventListener("click", async () => {
      this.record.remove(row);
      await this.record.lay();
      await this.show(row.table);
      await this.#forms.find(({ table }) => table === row.table)?.refresh();
    });
    item.append(back);
    return item;
  }
}
