/** What every page of the book has: one file with its style and script inside, a bar, a main part, a foot. */
import { createHash } from "node:crypto";
import { type Html, jsonForScript, safe, trusted } from "../../figures/html.ts";
import { runtimeScript } from "../../figures/live/runtimeScript.ts";
import { paperRules, rootTokens, rules } from "../../figures/look.ts";
import { scriptElement } from "../../figures/show.ts";
import { pageScript } from "../../lessons/grader.ts";
import { guessScript } from "./guesses.ts";
import type { PageData } from "../../living/pageData.ts";
import type { Chapter } from "./chapters.ts";
import type { ClassBenches } from "./facts.ts";

import ground from "./ground.css" with { type: "text" };
import own from "./page.css" with { type: "text" };
import home from "./home.css" with { type: "text" };
import cells from "./cells.css" with { type: "text" };
import readings from "./readings.css" with { type: "text" };
import guesses from "./guesses.css" with { type: "text" };
import script from "./page.js" with { type: "text" };
import kept from "./kept.js" with { type: "text" };
import loader from "./library.js" with { type: "text" };
import choice from "./benchChoice.js" with { type: "text" };

/** The parts of one page. */
export interface PageParts {
  readonly title: string;
  readonly description: string;
  /** class of the root element, "report" for the sheet */
  readonly kind?: string;
  readonly header: Html;
  readonly main: Html;
  /** between the main part and the foot */
  readonly after?: Html;
  readonly footer: Html;
  /** for a page whose cells run: what it carries for the script beside it, and the names of those scripts */
  readonly living?: PageData;
  /** the page's notebook, to be taken along with a reader's changes */
  readonly notebook?: NotebookInPage;
}

/** A notebook without outputs, and its name without an ending. */
export interface NotebookInPage {
  readonly name: string;
  readonly notebook: unknown;
}

const style = [
  rootTokens(),
  ground,
  rules,
  own,
  home,
  cells,
  guesses,
  readings,
  `@media print { ${paperRules} }`,
]
  .join("\n");

/** That there is a script, and the theme the reader chose last, before anything is drawn. */
const earlyTheme =
  `document.documentElement.classList.add("js"); try { var t = localStorage.getItem("first-mirror-theme"); if (t) document.documentElement.dataset.theme = t; } catch (e) { /* no storage: follow the device */ }`;

/** The scripts in a page that run: not those that hold data. */
const RUNS = /<script(?![^>]*type="application\/json")[^>]*>([\s\S]*?)<\/script>/g;

/**
 * A page may load nothing from anywhere, and runs no script but its own, by their sums. Where cells run, what those bring in
 * runs too: the library beside the page, and the cells in a thread that has this policy as well.
 */
function policyOf(html: string, isLiving: boolean): string {
  const sums = [...html.matchAll(RUNS)].map(([, script = ""]) =>
    `'sha256-${createHash("sha256").update(script).digest("base64")}'`
  );
  const cells = isLiving ? " 'strict-dynamic' blob:; worker-src blob:; connect-src 'none'" : "";
  const scripts = `script-src ${[...new Set(sums)].join(" ")}${cells}`;
  return `default-src 'none'; style-src 'unsafe-inline'; ${scripts}; img-src data:; base-uri 'none'; form-action 'none'`;
}

/** Where the policy comes, which is known once the page is whole. */
const POLICY = "POLICY OF THE PAGE";

/** Drawings without labels on their inner groups: a picture tells one finding, and ARIA allows no label on a bare group. */
function oneLabel(markup: string): string {
  return markup.replace(/(<g\b(?![^>]*\srole=)[^>]*?) aria-label="[^"]*"/g, "$1");
}

/** A script that begins once the page has been drawn: a figure that comes alive draws itself anew, and no reader waits for that. */
const whenDrawn = (source: string): string =>
  `(function () {
  let begun = false;
  function begin() {
    if (begun) return;
    begun = true;
    ${source}
  }
  requestAnimationFrame(function () {
    setTimeout(begin);
  });
  addEventListener("load", function () {
    setTimeout(begin, 100);
  });
})();`;

/** The scripts a page needs, each once: figures and exercises come without their own. */
function scriptsFor(
  main: string,
  living: PageData | undefined,
  notebook: NotebookInPage | undefined,
): Html {
  return safe`<script>
${trusted(script)}</script>
${
    living &&
    safe`<script type="application/json" data-page>${jsonForScript(living)}</script>
${
      notebook !== undefined &&
      safe`<script type="application/json" data-notebook>${jsonForScript(notebook)}</script>
`
    }${
      living.benches !== undefined && safe`<script>
${trusted(choice)}</script>
`
    }<script>
${trusted(loader)}</script>
`
  }${/<form class="ask(?! (?:guess|try))/.test(main) && scriptElement(pageScript())}${
    /<form class="ask (guess|try)/.test(main) && scriptElement(guessScript())
  }${
    living && safe`<script>
${trusted(kept)}</script>`
  }${main.includes('<figure class="live"') && scriptElement(whenDrawn(runtimeScript))}`;
}

/**
 * A whole page as one file.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { safe } from "../../figures/html.ts";
 * const page = shell({ title: "A & B", description: "", header: safe``, main: safe`<p>1</p>`, footer: safe`` });
 * assert.match(page, /<title>A &amp; B<\/title>/);
 * ```
 */
export function shell(parts: PageParts): string {
  const { title, description, kind, header, main, after, footer, living, notebook } = parts;
  const html = safe`<!doctype html>
<html lang="en"${kind !== undefined && safe` class="${kind}"`}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${trusted(POLICY)}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<meta name="description" content="${description}">
<meta name="color-scheme" content="light dark">
<script>${trusted(earlyTheme)}</script>
<style>
${trusted(style)}
</style>
</head>
<body>
<a class="skip" href="#text">Skip to the text</a>
<div class="sheet">
<header>
${header}
</header>
<main id="text">
${trusted(oneLabel(main.markup))}
</main>
${after}
<footer>
${footer}
</footer>
</div>
${scriptsFor(main.markup, living, notebook)}
</body>
</html>
`.markup;
  return html.replace(POLICY, policyOf(html, living !== undefined));
}

const themeButton = safe`<button id="theme" type="button" class="js-only">Dark page</button>`;

/** Which bench a page of a class's book is of; without script it is of the first one. */
export function benchChoice({ all }: ClassBenches): Html {
  return safe`<form class="bench-choice js-only" data-benches><label for="bench">Bench</label>
<select id="bench" name="bench" autocomplete="off">${
    all.map(({ folder, name }) => safe`<option value="${folder}">${name}</option>`)
  }</select> <a href="index.html" data-bench-page>Its own page</a>
<p class="dims" data-bench-says role="status"></p></form>
`;
}

/** Alive as soon as the library is there. */
const runAll = safe`<button id="run-all" type="button" class="js-only" disabled>Run all</button>
`;

/** A link of the menu, marked where it leads to the page itself. */
function menuLink(file: string, words: string, here: string | undefined): Html {
  const current = file === here && trusted(' aria-current="page"');
  return safe`<a href="${file}"${current}>${words}</a>`;
}

function menuItem(chapter: Chapter, here: string | undefined): Html {
  if (chapter.file === undefined) {
    return safe`<li class="unwritten">${chapter.title} (not written yet)</li>
`;
  }
  return safe`<li>${menuLink(chapter.file, chapter.title, here)}</li>
`;
}

/**
 * The bar of a page: home, the contents folded, the search, the theme.
 *
 * @param here  the page's own file
 */
export function bookBar(chapters: readonly Chapter[], here?: string): Html {
  const isLesson = chapters.some(({ file }) => file !== undefined && file === here);
  return safe`<div class="bar">
<a href="index.html">First Mirror</a>
<details><summary>Contents</summary>
<nav aria-label="Stages of the job"><ol>
${chapters.map((chapter) => menuItem(chapter, here))}</ol>
<p>${menuLink("report.html", "The mirror’s report", here)} · ${
    menuLink("glossary.html", "Glossary", here)
  }</p></nav></details>
${menuLink("search.html", "Search", here)}
${isLesson && runAll}${themeButton}
</div>`;
}

/**
 * The bar of a page without the contents in it: the front, the report.
 *
 * @param isAlone  where there are no lessons beside it
 */
export function plainBar(isFront: boolean, isAlone = false): Html {
  if (isAlone) {
    return safe`<div class="bar">${menuLink("index.html", "To print", undefined)}
${themeButton}</div>`;
  }
  const here = isFront ? "index.html" : undefined;
  return safe`<div class="bar">${menuLink("index.html", "First Mirror", here)}
${menuLink("glossary.html", "Glossary", here)}
${menuLink("search.html", "Search", here)}
${themeButton}</div>`;
}

// The sign of the house: a straight-edge resting on the mirror's own curve, to scale, a tick for each stage.

/** What the sign is drawn from. */
export interface EdgeParts {
  /** diameter of the disc, mm */
  readonly aperture: number;
  /** depth of the curve, mm; 0 or more */
  readonly depth: number;
  /** how many ticks, none for a sheet that is no stage */
  readonly stages?: number;
  /** the stage this page is, from 0 */
  readonly here?: number;
  /** stages the record has something for, from 0 */
  readonly done?: ReadonlySet<number>;
}

/** Widest curve that still stands at full size on a sheet of A4 or Letter, mm. */
const widestOnPaper = 174;

/** Whether a curve of this width is printed at full size. */
export function printsAtFullSize(aperture: number): boolean {
  return aperture <= widestOnPaper;
}

const px = (value: number): string => String(Number(value.toFixed(3)));

function ticks({ aperture, stages = 0, here, done }: EdgeParts, base: number): string {
  const unit = aperture / 150;
  const paths = { steel: "", done: "", here: "" };
  for (let stage = 0; stage < stages; stage++) {
    const at = px((stage + 0.5) * aperture / stages);
    if (stage === here) paths.here += `M${at},${px(base)}V${px(unit)}`;
    else paths[done?.has(stage) ? "done" : "steel"] += `M${at},${px(base)}v${px(-1.3 * unit)}`;
  }
  return Object.entries(paths).filter(([, d]) => d !== "")
    .map(([kind, d]) => `<path class="${kind}" d="${d}"></path>`).join("");
}

/**
 * The sign, as wide as the page; on paper as wide as the mirror, where the sheet is wide enough.
 *
 * One unit of the drawing is 1 mm, across and down alike. The arc is a parabola through the rim and the depth: beside
 * the circle it is out by less than a thousandth of the depth at f/4 and longer.
 *
 * @throws {RangeError} unless the aperture is above 0 and the depth 0 or more, both finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const drawn = edge({ aperture: 150, depth: 1.172, stages: 20, here: 4 }).markup;
 * assert.match(drawn, /class="face" d="M0,3.6Q75,5.944 150,3.6"/);
 * ```
 */
export function edge(parts: EdgeParts): Html {
  const { aperture, depth } = parts;
  if (!(aperture > 0 && Number.isFinite(aperture) && depth >= 0 && Number.isFinite(depth))) {
    throw new RangeError(
      `edge requires aperture above 0 and depth of 0 or more in mm, got aperture=${aperture}, depth=${depth}`,
    );
  }
  const base = (3.6 * aperture) / 150;
  const height = base + Math.max(depth, aperture / 150) + (0.4 * aperture) / 150;
  const width = printsAtFullSize(aperture) ? aperture : 150;
  const face = `M0,${px(base)}Q${px(aperture / 2)},${px(base + 2 * depth)} ${px(aperture)},${
    px(base)
  }`;
  return safe`<svg class="edge" viewBox="0 0 ${px(aperture)} ${px(height)}" style="--full-size: ${
    px(width)
  }mm" aria-hidden="true"><path class="steel" d="M0,${px(base)}H${px(aperture)}"></path>${
    trusted(ticks(parts, base))
  }<path class="face" d="${face}"></path></svg>`;
}
