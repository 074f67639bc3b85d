/// <reference lib="dom" />
/**
 * The entry of the editor's script, read when a cell is first opened: CodeMirror in place of the plain field, with the library's
 * names completed from what is said of them.
 */
import {
  autocompletion,
  type Completion,
  type CompletionContext,
  type CompletionResult,
} from "@codemirror/autocomplete";
import { defaultKeymap, history, historyKeymap } from "@codemirror/commands";
import { EditorState, StateEffect, StateField } from "@codemirror/state";
import {
  Decoration,
  type DecorationSet,
  EditorView,
  keymap,
  ViewPlugin,
  type ViewUpdate,
} from "@codemirror/view";
import type { EditorMaker, Field, FieldListener } from "./field.ts";

/** Comments, texts and numbers, and names that are called: the three quiet classes of the book's code. */
const KINDS =
  /(\/\/.*|\/\*[\s\S]*?\*\/)|("(?:\\.|[^"\\\n])*"?|'(?:\\.|[^'\\\n])*'?|`(?:\\.|[^`\\])*`?|\b\d[\w.]*)|([A-Za-z_$][\w$]*)(?=\s*\()/g;
const CLASSES = ["c", "l", "f"] as const;
const WORDS = /^(?:if|for|while|switch|catch|function|return|await|typeof|import|super|show)$/;

function quiet(view: EditorView): DecorationSet {
  const marks = [...view.state.doc.toString().matchAll(KINDS)].flatMap((found) => {
    const kind = found.slice(1).findIndex((part) => part !== undefined);
    const name = CLASSES[kind];
    if (name === undefined || (name === "f" && WORDS.test(found[0]))) return [];
    return [Decoration.mark({ class: name }).range(found.index, found.index + found[0].length)];
  });
  return Decoration.set(marks);
}

const highlighting = ViewPlugin.fromClass(
  class {
    decorations: DecorationSet;

    constructor(view: EditorView) {
      this.decorations = quiet(view);
    }

    update(update: ViewUpdate): void {
      if (update.docChanged) this.decorations = quiet(update.view);
    }
  },
  { decorations: (plugin) => plugin.decorations },
);

/** The line in which a cell stopped, from 1. */
const markLine = StateEffect.define<number | undefined>();
const markedLine = StateField.define<DecorationSet>({
  create: () => Decoration.none,
  update(marked, { effects, docChanged, state }): DecorationSet {
    for (const effect of effects) {
      if (!effect.is(markLine)) continue;
      const line = effect.value;
      if (line === undefined || line > state.doc.lines) return Decoration.none;
      const at = state.doc.line(line).from;
      return Decoration.set(Decoration.line({ class: "failed-line" }).range(at));
    }
    return docChanged ? Decoration.none : marked;
  },
  provide: (field) => EditorView.decorations.from(field),
});

const look = EditorView.theme({
  "&": { fontSize: ".9rem", background: "var(--tint)" },
  "&.cm-focused": { outline: "3px solid var(--glass)", outlineOffset: "3px" },
  ".cm-scroller": { fontFamily: "var(--mono)", lineHeight: "1.6rem" },
  ".cm-content": { padding: ".6rem 0", caretColor: "var(--ink)" },
  ".cm-line": { padding: "0 1rem" },
  ".cm-cursor": { borderLeftColor: "var(--ink)" },
  ".cm-tooltip": {
    background: "var(--paper)",
    color: "var(--ink)",
    border: "1px solid var(--ink)",
  },
  ".cm-tooltip-autocomplete ul": { fontFamily: "var(--mono)", maxHeight: "14rem" },
  ".cm-tooltip-autocomplete ul li": { padding: ".3rem .6rem" },
  ".cm-tooltip-autocomplete ul li[aria-selected]": {
    background: "var(--glass-tint)",
    color: "var(--ink)",
  },
  ".cm-completionInfo": { font: "var(--small)/1.45 var(--sans)", maxWidth: "22rem" },
  ".failed-line": { background: "var(--rouge-tint)" },
});

/** Puts an editor in place of a field. */
const edit: EditorMaker = (field, { label, names, isKnown }) => {
  const listeners: FieldListener[] = [];
  const options = Object.entries(names).map(([name, [module, line]]): Completion => ({
    label: name,
    detail: module.replace("first-mirror/", ""),
    info: line,
    apply: (view, _, from, to) => {
      const begin = isKnown(name, view.state.doc.toString())
        ? ""
        : `import { ${name} } from "${module}";\n`;
      view.dispatch({
        changes: [{ from: 0, insert: begin }, { from, to, insert: name }],
        selection: { anchor: from + begin.length + name.length },
      });
    },
  }));
  const complete = (context: CompletionContext): CompletionResult | null => {
    const word = context.matchBefore(/[A-Za-z_$][\w$]*/);
    if (word === null || (word.to - word.from < 2 && !context.explicit)) return null;
    return { from: word.from, options, validFor: /^[\w$]*$/ };
  };
  // whoever is writing already goes on where she is
  const { element } = field, writing = document.activeElement === element;
  const [anchor, head] = writing && element instanceof HTMLTextAreaElement
    ? [element.selectionStart, element.selectionEnd]
    : [0, 0];
  const view = new EditorView({
    state: EditorState.create({
      doc: field.text,
      selection: { anchor, head },
      extensions: [
        history(),
        highlighting,
        markedLine,
        look,
        EditorView.lineWrapping,
        EditorView.editorAttributes.of({ class: "editor" }),
        EditorView.contentAttributes.of({
          "aria-label": label,
          autocapitalize: "off",
          autocorrect: "off",
          spellcheck: "false",
        }),
        autocompletion({ override: [complete], icons: false }),
        EditorView.updateListener.of(({ docChanged }) => {
          if (docChanged) { for (const { written } of listeners) written(); }
        }),
        keymap.of([
          {
            key: "Shift-Enter",
            run: () => {
              for (const { run } of listeners) run();
              return true;
            },
          },
          ...defaultKeymap,
          ...historyKeymap,
        ]),
      ],
    }),
  });
  element.replaceWith(view.dom);
  if (writing) view.focus();
  const better: Field = {
    element: view.dom,
    isBetter: true,
    get text() {
      return view.state.doc.toString();
    },
    set text(other) {
      if (other === view.state.doc.toString()) return;
      view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: other } });
    },
    listen: (listener) => void listeners.push(listener),
    mark: (line) => view.dispatch({ effects: markLine.of(line) }),
  };
  return better;
};

(globalThis as { firstMirrorEditor?: EditorMaker }).firstMirrorEditor = edit;
