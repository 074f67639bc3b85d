/** What every page of the book has: one file with its style and script inside, a bar, a main part, a foot. */
import { type Html, safe, trusted } from "../../figures/html.ts";
import { runtimeScript } from "../../figures/live/runtimeScript.ts";
import { paperRules, rootTokens, rules } from "../../figures/look.ts";
import { scriptElement } from "../../figures/show.ts";
import { pageScript } from "../../lessons/pageScript.ts";
import ground from "./ground.css" with { type: "text" };
import own from "./page.css" with { type: "text" };
import home from "./home.css" with { type: "text" };
import script from "./page.js" with { type: "text" };
import type { Chapter } from "./chapters.ts";

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
}

const style = [rootTokens(), ground, rules, own, home, `@media print { ${paperRules} }`].join("\n");

/** The theme the reader chose last, before anything is drawn. */
const earlyTheme =
  `try { var t = localStorage.getItem("first-mirror-theme"); if (t) document.documentElement.dataset.theme = t; } catch (e) { /* no storage: follow the device */ }`;

/** A page may load nothing from anywhere: what it needs is inside. */
const policy =
  "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/** Drawings without labels on their inner groups: a picture tells one finding, and ARIA allows no label on a bare group. */
function oneLabel(markup: string): string {
  return markup.replace(/(<g\b(?![^>]*\srole=)[^>]*?) aria-label="[^"]*"/g, "$1");
}

/** The scripts a page needs, each once: figures and exercises come without their own. */
function scriptsFor(main: string): Html {
  return safe`<script>
${trusted(script)}</script>
${main.includes('<form class="ask') && scriptElement(pageScript())}${
    main.includes('<figure class="live"') && scriptElement(runtimeScript)
  }`;
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
  const { title, description, kind, header, main, after, footer } = parts;
  return safe`<!doctype html>
<html lang="en"${kind !== undefined && safe` class="${kind}"`}>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${trusted(policy)}">
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
${scriptsFor(main.markup)}
</body>
</html>
`.markup;
}

const themeButton = safe`<button id="theme" type="button" class="js-only">Dark page</button>`;

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
  return safe`<div class="bar">
<a href="index.html">First Mirror</a>
<details><summary>Contents</summary>
<nav aria-label="Stages of the job"><ol>
${chapters.map((chapter) => menuItem(chapter, here))}</ol>
<p>${menuLink("report.html", "The mirror’s report", here)} · ${
    menuLink("glossary.html", "Glossary", here)
  }</p></nav></details>
${menuLink("search.html", "Search", here)}
${themeButton}
</div>`;
}

/** The bar of a page without the contents in it: the front, the report. */
export function plainBar(isFront: boolean): Html {
  const here = isFront ? "index.html" : undefined;
  return safe`<div class="bar">${menuLink("index.html", "First Mirror", here)}
${menuLink("glossary.html", "Glossary", here)}
${menuLink("search.html", "Search", here)}
${themeButton}</div>`;
}
