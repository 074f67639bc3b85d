/// <reference lib="dom" />
/** The field in which a cell is changed: a plain one that is there at once, until a better one stands in its place. */

/** What a field tells of. */
export interface FieldListener {
  /** Shift and Enter */
  run(): void;
  written(): void;
}

/** A field for code. */
export interface Field {
  readonly element: HTMLElement;
  /** whether it is the better one */
  readonly isBetter: boolean;
  text: string;
  listen(listener: FieldListener): void;
  /** marks a line from 1, or none */
  mark(line: number | undefined): void;
}

/** What an editor needs beside the field whose place it takes. */
export interface EditorOptions {
  readonly label: string;
  /** public names of the library: its module, and its line */
  readonly names: Readonly<Record<string, readonly [module: string, line: string]>>;
  /** whether a cell has a name already, from itself or from another cell */
  readonly isKnown: (name: string, own: string) => boolean;
}

/** Puts an editor in a field's place. */
export type EditorMaker = (field: Field, options: EditorOptions) => Field;

/** A text area as high as its text. */
export function plainField(text: string, label: string): Field {
  const area = document.createElement("textarea");
  area.setAttribute("aria-label", label);
  area.setAttribute("autocapitalize", "off");
  area.autocomplete = "off";
  area.spellcheck = false;
  area.wrap = "off";
  const fit = (): void => {
    area.rows = area.value.split("\n").length;
  };
  area.value = text;
  fit();
  return {
    element: area,
    isBetter: false,
    get text() {
      return area.value;
    },
    set text(other) {
      area.value = other;
      fit();
    },
    listen({ run, written }): void {
      area.addEventListener("input", () => {
        fit();
        written();
      });
      area.addEventListener("keydown", (event) => {
        if (event.key !== "Enter" || !event.shiftKey) return;
        event.preventDefault();
        run();
      });
    },
    mark(line): void {
      area.toggleAttribute("data-line", line !== undefined);
      area.style.setProperty("--line-no", String(line ?? 0));
    },
  };
}
