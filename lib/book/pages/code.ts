/** Code on a page: three quiet classes (names of functions, literals, comments), and the names a cell calls. */
import hljs from "highlight.js/lib/core";
import typescript from "highlight.js/lib/languages/typescript";

hljs.registerLanguage("typescript", typescript);

/** The look's class for a class of the highlighter; what is not here stays plain. */
const quiet: readonly (readonly [RegExp, string])[] = [
  [/hljs-comment/, "c"],
  [/hljs-(string|number|literal|regexp)/, "l"],
  [/hljs-title function_/, "f"],
];

/**
 * TypeScript as markup in the look's three classes: weight before colour.
 *
 * @param source  a cell's code
 * @returns markup for inside `<code>`; every character of the code is escaped
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(quietCode("f(1) < 2"), '<span class="f">f</span>(<span class="l">1</span>) &lt; <span class="l">2</span>');
 * ```
 */
export function quietCode(source: string): string {
  const open: boolean[] = [];
  return hljs.highlight(source, { language: "typescript" }).value.replace(
    /<span class="([^"]*)">|<\/span>/g,
    (tag, name: string | undefined) => {
      if (name === undefined) return open.pop() === true ? tag : "";
      const letter = quiet.find(([pattern]) => pattern.test(name))?.[1];
      open.push(letter !== undefined);
      return letter === undefined ? "" : `<span class="${letter}">`;
    },
  );
}

const notNames = new Set(
  "if for while switch catch function return await typeof import super constructor show".split(" "),
);

/** Code with its comments and strings emptied, so that only names are left to look at. */
function bare(source: string): string {
  return source.replace(/\/\*[\s\S]*?\*\/|\/\/.*|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'/g, "");
}

/**
 * Names of the functions that a cell calls, each once, in their order; methods and `show` are not told.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.deepEqual(functionsCalled("show(sagitta(150, 2400), Math.round(2)); // area(3)"), ["sagitta"]);
 * ```
 */
export function functionsCalled(source: string): string[] {
  const names = [...bare(source).matchAll(/(?<![.\w$])([A-Za-z_$][\w$]*)\s*\(/g)]
    .map(([, name]) => name ?? "")
    .filter((name) => !notNames.has(name));
  return [...new Set(names)];
}

/** The line a folded cell shows: how long it is, and what it calls. */
export function cellSummary(source: string): string {
  const lines = source.trim().split("\n").length;
  const long = lines === 1 ? "1 line" : `${lines} lines`;
  const onlyImports = bare(source).replace(/import[^;]*?from\s*;?|import\s*;?/g, "").trim() === "";
  if (onlyImports) return `The tools of this page, ${long}`;
  const names = functionsCalled(source);
  const told = names.slice(0, 4).map((name) => `<code>${name}</code>`).join(", ");
  return `The cell, ${long}${told === "" ? "" : `: ${told}`}${names.length > 4 ? " …" : ""}`;
}

/** A code cell, folded under its line, or under a line of its own, unless it is to stand open. */
export function codeBlock(source: string, open = false, under = cellSummary(source)): string {
  return `<details class="cell"${open ? " open" : ""}><summary>${under}</summary>
<pre tabindex="0"><code>${quietCode(source.trim())}</code></pre></details>\n`;
}
