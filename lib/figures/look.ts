/**
 * The look of figures and blocks: colours, faces and rules, written once.
 *
 * The book puts `rootTokens()` and `rules` before its page rules; a notebook gets `scopedSheet()`, the same rules
 * inside `.first-mirror`, so that nothing of the front end around it changes.
 */

/** Declarations of the eleven colours, for daylight, for the dark, and for paper. */
export const colours = {
  light: `--paper: #fdfdfb; --tint: #f1f4f3; --ink: #1a2224; --soft: #4f5b5d;
  --hair: #cfd6d5; --line: #7b8785; --glass: #0b5a78; --glass-tint: #e3eff3;
  --rouge: #b23a1c; --rouge-tint: #fbeee9; --graphite: #667170;`,
  dark: `--paper: #14191a; --tint: #1d2425; --ink: #e3e7e4; --soft: #a9b4b1;
  --hair: #364041; --line: #75817f; --glass: #7cc4de; --glass-tint: #17303a;
  --rouge: #f28f74; --rouge-tint: #35211b; --graphite: #98a4a1;`,
  paper: `--paper: #fff; --tint: #f3f3f2; --ink: #000; --soft: #3d3d3d;
  --hair: #b9b9b9; --line: #777; --glass: #0b4a64; --glass-tint: #e8eef0;
  --rouge: #9c3015; --rouge-tint: #fff; --graphite: #666;`,
} as const;

/** Declarations of the faces and sizes of type, and of the one vertical unit. */
export const faces = {
  screen:
    `--serif: Charter, "Bitstream Charter", "Charis SIL", "Sitka Text", Cambria, "Noto Serif", "DejaVu Serif", serif;
  --sans: system-ui, -apple-system, "Segoe UI", Roboto, "Noto Sans", "Liberation Sans", sans-serif;
  --mono: ui-monospace, "SF Mono", Menlo, "Cascadia Mono", Consolas, "DejaVu Sans Mono", "Liberation Mono", monospace;
  --maths: "STIX Two Math", "Cambria Math", "Latin Modern Math", "DejaVu Math TeX Gyre", math;
  --text: clamp(1.0625rem, 1rem + .32vw, 1.1875rem); --small: .8125rem;
  --step-1: 1.1875rem; --step-2: 1.5625rem; --step-3: clamp(2rem, 1.4rem + 2.6vw, 2.875rem);
  --measure: 38rem; --side: 14.5rem; --gutter: 3.5rem; --beat: 1.75rem;`,
  paper: `--text: 10.5pt; --small: 8.5pt; --step-1: 11.5pt; --step-2: 15pt; --step-3: 24pt;
  --measure: 34em; --beat: 14pt;`,
} as const;

const second =
  `figcaption, th, summary, label, button, output, .kicker, .tag, .where, .note, .facts dt {
  font-family: var(--sans); font-size: var(--small); line-height: 1.45; }
.kicker { color: var(--soft); margin: 0 0 .5rem; }
.note { color: var(--soft); }
.sr { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
:focus-visible { outline: 3px solid var(--glass); outline-offset: 3px; border-radius: 1px; }
.q { white-space: nowrap; font-variant-numeric: lining-nums tabular-nums; }
.q i { font-style: normal; color: var(--soft); }
.n { font-variant-numeric: lining-nums tabular-nums; text-align: right; white-space: nowrap; }
`;

/** What the classes of the drawings' pen look like, whatever they stand in. */
const pen =
  `.t-glass { fill: var(--glass) !important; } .t-rouge { fill: var(--rouge) !important; } .t-graphite { fill: var(--graphite) !important; }
.body { fill: var(--glass-tint); stroke: none; } .rim { fill: none; stroke: var(--glass); stroke-width: 1; }
.ground { fill: none; stroke: var(--glass); stroke-width: 2.6; stroke-linecap: round; stroke-dasharray: 0 4.4; }
.polished { fill: none; stroke: var(--glass); stroke-width: 1.5; } .silvered { fill: none; stroke: var(--glass); stroke-width: 3.5; }
.steel { fill: var(--tint); stroke: var(--ink); stroke-width: 1; } .dim { fill: none; stroke: var(--ink); stroke-width: 1; }
.lead { fill: none; stroke: var(--line); stroke-width: .75; } .limit { fill: none; stroke: var(--rouge); stroke-width: 1.5; stroke-dasharray: 6 4; }
.axis { stroke: var(--line); fill: none; } .mine { fill: var(--glass); stroke: var(--glass); } .theirs { fill: var(--paper); stroke: var(--graphite); stroke-width: 1.5; }
.zone-a { fill: var(--tint); } .zone-b { fill: var(--glass-tint); } .zone-c { fill: var(--rouge-tint); }
.halo { stroke: var(--paper); stroke-width: 5px; stroke-linejoin: round; paint-order: stroke; }
.ray { fill: none; stroke: var(--ink); stroke-width: 1; } .ray.red { stroke: var(--rouge); stroke-dasharray: 6 4; } .ray.blue { stroke: var(--glass); }
`;

/** The words of drawings inside what a selector names. */
const type = (inside: string): string =>
  `${inside} text { font-family: var(--sans); font-size: 13px; font-variant-numeric: tabular-nums; white-space: pre; }
${inside} .soft { fill: var(--soft); } ${inside} .b { font-weight: 600; }
${inside} .v { font-style: italic; font-family: var(--serif); font-size: 15px; }
`;

const figures = `figure { margin-block: var(--beat); }
figure.wide { max-width: none; }
figcaption { color: var(--soft); margin-top: .6rem; max-width: var(--measure); }
figcaption b { color: var(--ink); font-weight: 600; }
figure svg { fill: currentColor; display: block; max-width: 100%; height: auto; overflow: visible; }
${
  type("figure svg")
}.plot { --plot-background: transparent; background: none; font-size: 13px; color: var(--ink); }
.small-only, .mid-only { display: none !important; }
@media (max-width: 70rem) { .wide-only { display: none !important; } .mid-only { display: block !important; } }
@media screen and (min-width: 42.01rem) {
  :is(.yours, .demo) .wide-only { display: none !important; } :is(.yours, .demo) .mid-only { display: block !important; }
}
@media (max-width: 42rem) { .small-only { display: block !important; } .big-only, .mid-only { display: none !important; } }
` + pen;

const live =
  `.live { display: grid; grid-template-columns: minmax(0, 22rem) minmax(0, 1fr); gap: 0 2rem; align-items: start;
  border-block: 1px solid var(--hair); padding: 1rem 0; }
.live > .picture { position: sticky; top: 0; z-index: 1; padding-block: .3rem; background: var(--paper); }
@media (max-width: 42rem) { .live input { scroll-margin-top: 28rem; } }
@media (max-width: 42rem) and (max-height: 45rem) { .live > .picture { position: static; } .live input { scroll-margin-top: 0; } }
.live figcaption { grid-column: 1 / -1; }
@media (max-width: 42rem) { .live { grid-template-columns: 1fr; gap: 1.2rem 0; } }
.control { margin: 0 0 .6rem; }
.control label { display: flex; flex-wrap: wrap; justify-content: space-between; gap: 0 1rem; }
.control output, .reading output { font-weight: 600; font-variant-numeric: tabular-nums; }
.reading { margin: .4rem 0 0; font-family: var(--sans); font-size: var(--small); line-height: 1.6; }
.reading output { font-size: inherit; } .reading big output { font: inherit; }
.reading big { font: 400 1.7rem/1.2 var(--serif); display: block; font-variant-numeric: lining-nums tabular-nums; }
input[type="range"] { -webkit-appearance: none; appearance: none; width: 100%; height: 2.75rem; margin: 0; background: none; cursor: grab; touch-action: pan-y; accent-color: var(--glass); }
input[type="range"]::-webkit-slider-runnable-track { height: 1rem; border-top: 1px solid var(--line); background: repeating-linear-gradient(90deg, var(--line) 0 1px, transparent 1px 10%) 0 0 / 100% .35rem no-repeat; }
input[type="range"]::-moz-range-track { height: 1rem; border-top: 1px solid var(--line); background: repeating-linear-gradient(90deg, var(--line) 0 1px, transparent 1px 10%) 0 0 / 100% .35rem no-repeat; }
input[type="range"]::-webkit-slider-thumb { -webkit-appearance: none; width: .75rem; height: 1.75rem; margin-top: -.9rem; background: var(--glass); border: 2px solid var(--paper); border-radius: 2px; }
input[type="range"]::-moz-range-thumb { width: .5rem; height: 1.5rem; background: var(--glass); border: 2px solid var(--paper); border-radius: 2px; }
`;

const tables = `table { border-collapse: collapse; width: 100%; font-size: .9em; }
caption { text-align: left; }
th { text-align: left; font-weight: 400; color: var(--soft); vertical-align: bottom; padding: .3rem .9rem .3rem 0; border-bottom: 1px solid var(--line); }
th.n { text-align: right; }
th[scope="row"] { font: inherit; color: inherit; border-bottom: 1px solid var(--hair); vertical-align: baseline; padding: .32rem .9rem .32rem 0; }
td { padding: .32rem .9rem .32rem 0; border-bottom: 1px solid var(--hair); vertical-align: baseline; }
th:last-child, td:last-child { padding-right: 0; }
.scroll { overflow-x: auto; }
.aside s { text-decoration-color: var(--rouge); } .aside td, .aside th[scope="row"] { color: var(--soft); }
@media (max-width: 34rem) { td, th, th[scope="row"] { padding-right: .55rem; } th.n { white-space: normal; } }
.facts { display: grid; grid-template-columns: auto auto; margin: 0 0 1.1em; align-content: start; }
.facts > * { margin: 0; padding: .25rem 0; border-bottom: 1px solid var(--hair); }
.facts dt { color: var(--soft); padding-top: .4rem; } .facts dd { text-align: right; font-size: .9em; }
`;

const owners =
  `.tag { display: flex; gap: .55em; align-items: baseline; margin: 0 0 .5rem; color: var(--soft); }
.tag b { color: var(--ink); font-weight: 600; }
.tag::before { content: ""; flex: none; width: .68em; height: .68em; border-radius: 50%; }
.yours { border-left: 5px solid var(--glass); padding: .15rem 0 .15rem 1.2rem; margin: var(--beat) 0; }
.yours .tag::before, .dot-mine::before { background: var(--glass); border: 1.5px solid var(--glass); }
.yours .tag b { color: var(--glass); }
.demo { padding-left: calc(1.2rem + 5px); margin: var(--beat) 0; color: var(--soft); font-size: .95em; }
.demo .tag::before, .dot-theirs::before { border: 1.5px solid var(--graphite); background: none; }
.yours.empty { border-left-style: dashed; border-left-width: 3px; padding-left: calc(1.2rem + 2px); }
.yours.empty .tag::before { background: none; border-style: dashed; }
.yours > :last-child, .demo > :last-child, .caution > :last-child, .decide > :last-child, .exercise > :last-child { margin-bottom: 0; }
@media (max-width: 34rem) { .yours, .demo { padding-left: .9rem; } }
`;

const caution =
  `.caution { display: grid; grid-template-columns: 3rem 1fr; gap: 0 1rem; border: 2px solid var(--rouge); background: var(--rouge-tint);
  padding: 1rem 1.2rem 1rem 1rem; margin: var(--beat) 0; break-inside: avoid; }
.caution svg { width: 3rem; height: auto; grid-row: 1 / 9; }
.caution h3 { margin: .1rem 0 .3rem; font-family: var(--sans); font-weight: 700; font-size: 1rem; color: var(--rouge); }
.mind { border-left: 5px solid var(--rouge); padding-left: .8rem; margin: 0 0 .7rem; font: var(--small)/1.45 var(--sans); } .mind b { color: var(--rouge); } .mind ul { margin: .2rem 0 0; padding-left: 1.1em; }
.caution ul { margin: 0 0 .6em; padding-left: 1.1em; } .caution p { margin: 0 0 .6em; }
@media (max-width: 34rem) {
  .caution { grid-template-columns: 2.2rem 1fr; align-items: center; padding: .9rem 1rem; }
  .caution svg { width: 2.2rem; grid-row: 1; } .caution h3 { margin: 0; }
  .caution > :not(svg, h3) { grid-column: 1 / -1; margin-top: .6rem; }
}
`;

const exercise =
  `.exercise { border-top: 1px solid var(--ink); padding-top: .9rem; margin: calc(var(--beat) * 1.5) 0 var(--beat); }
.exercise h3 { margin: 0 0 .4rem; } .exercise .level { font: 400 var(--small)/1.45 var(--sans); color: var(--soft); }
.ask { display: flex; flex-wrap: wrap; gap: .6rem .8rem; align-items: end; margin: 0 0 .8rem; }
.exercise .acts { display: flex; flex-wrap: wrap; gap: .4rem 1.4rem; } :is(.ask, .acts):empty { display: none; }
.ask label { display: grid; gap: .3rem; color: var(--soft); }
.ask span { display: flex; align-items: baseline; gap: .5rem; } .ask label b { font-weight: 400; }
input[type="text"] { font: inherit; font-size: 1.1rem; font-family: var(--serif); color: var(--ink); background: var(--paper); border: 0;
  border-bottom: 2px solid var(--ink); padding: .3rem .2rem; width: 7.5rem; min-height: 2.75rem; font-variant-numeric: tabular-nums; }
.ask input:not([inputmode]) { width: min(16rem, 70vw); }
.ask button { min-height: 2.75rem; padding: 0 1.2rem; border: 1px solid var(--ink); background: none; color: var(--ink); cursor: pointer; }
.ask button:hover { background: var(--ink); color: var(--paper); }
.ask .picks { display: flex; flex-wrap: wrap; gap: .5rem; flex-basis: 100%; margin: 0; } .ask .picks button { text-align: left; padding: .35rem 1rem; border-color: var(--line); }
.result { display: grid; grid-template-columns: 1.6rem 1fr; padding: .1rem 0; margin: 0 0 .8rem; }
.result:empty { display: none; } .ask .result { flex-basis: 100%; margin: 0; } .result span { display: block; }
.result::before { font-family: var(--sans); font-weight: 700; content: "?"; }
.result:is([data-judged="right"], [data-is="right"])::before { content: "\\2713"; color: var(--glass); }
.result:is([data-judged="close"], [data-is="close"])::before { content: "\\2248"; color: var(--ink); }
.result:is([data-judged="off"], [data-is="off"])::before { content: "\\2260"; color: var(--rouge); }
.paper-only { display: none; }
.blank { display: inline-block; min-width: 6.5rem; border-bottom: 1px solid var(--ink); }
.fold { margin: 0; } .fold > :not(summary) { padding-left: 1.2rem; }
.fold summary { cursor: pointer; color: var(--soft); padding: .8rem 0; width: fit-content; }
.fold summary:hover { color: var(--ink); }
`;

const decide =
  `.decide { clear: both; border-top: 2px solid var(--ink); border-bottom: 2px solid var(--ink); padding: 1.2rem 0 1.3rem;
  margin: calc(var(--beat) * 2) 0 var(--beat); break-inside: avoid; }
.decide h2 { margin: 0 0 .5rem; font-size: var(--step-1); font-style: italic; font-weight: 400; color: var(--soft); }
.decide .do { font-size: var(--step-2); line-height: 1.25; text-wrap: balance; margin: 0 0 1rem; }
.decide figure { margin: 0 0 1.2rem; }
.choices { list-style: none; padding: 0; margin: 0 0 1rem; display: grid; grid-template-columns: repeat(3, 1fr); gap: 0 1.2rem; }
.choices.four { grid-template-columns: repeat(2, 1fr); gap: .9rem 1.2rem; }
.choices li { border-top: 1px solid var(--hair); padding-top: .5rem; color: var(--soft); font: var(--small)/1.45 var(--sans); }
.choices b { display: block; color: var(--ink); }
.choices .chosen { border-top: 5px solid var(--glass); padding-top: calc(.5rem - 4px); color: var(--ink); } .choices .chosen b { color: var(--glass); }
@media (max-width: 34rem) { .choices, .choices.four { grid-template-columns: 1fr; gap: .7rem; } }
.verdict { display: grid; grid-template-columns: max-content minmax(0, 1fr); gap: 0 1.3rem; align-items: center;
  border-top: 2px solid var(--ink); border-bottom: 2px solid var(--ink); padding: .8rem 0; margin: 0 0 1.1em; }
.verdict .word { font-size: 2.7rem; line-height: 1; color: var(--glass); margin: 0; }
.verdict p { margin: 0; } .verdict p + p { font: var(--small)/1.45 var(--sans); color: var(--soft); margin-top: .3rem; }
@media (max-width: 42rem) { .verdict { grid-template-columns: 1fr; gap: .3rem; } }
`;

const doit =
  `.doit { border-top: 2px solid var(--ink); border-bottom: 2px solid var(--ink); padding: 1rem 0; margin: var(--beat) 0; }
.doit > h3 { margin: 0 0 .5rem; } .doit > :last-child { margin-bottom: 0; }
.doit ol { list-style: none; counter-reset: step; margin: 0 0 1.1em; padding: 0; }
.doit li { counter-increment: step; position: relative; padding: .8rem 0 .1rem 2.6rem; border-top: 1px solid var(--hair); }
.doit li::before { content: counter(step); position: absolute; left: 0; top: .66rem; font-size: var(--step-2); line-height: 1.2; color: var(--soft); font-variant-numeric: tabular-nums; }
.doit li > p { margin: 0 0 .35rem; } .doit li > p.mind { margin-bottom: .7rem; } .doit li figure { margin: .8rem 0; }
.doit .sign { padding-left: 1.6em; text-indent: -1.6em; } .doit .sign i { font: 700 1em/1 var(--sans); display: inline-block; width: 1.35em; text-indent: 0; }
.doit .right i { color: var(--glass); } .doit .wrong i { color: var(--rouge); }
.doit .who { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.4rem; margin: 0 0 .35rem; } .doit .who > p { margin: 0; border-top: 5px solid var(--hair); padding-top: .35rem; }
.doit .who > .adult { border-top-color: var(--rouge); } .doit .who b { display: block; font: 600 var(--small)/1.45 var(--sans); }
@media (max-width: 34rem) { .doit li { padding-left: 1.9rem; } .doit li figure { margin-left: -1.9rem; } .doit .who { grid-template-columns: 1fr; gap: .5rem; } }
`;

const path =
  `.path { list-style: none; padding: 0; margin: 0 0 1.1em; border-top: 1px solid var(--hair); }
.path li { position: relative; display: grid; grid-template-columns: 2.2rem minmax(0, 1fr) 5.5rem; gap: 0 1rem; padding: .85rem 0 .85rem 2rem; }
.path li::before { content: ""; position: absolute; left: .3rem; top: 0; bottom: 0; border-left: 1px solid var(--line); }
.path li.ahead::before { border-left: 2px dotted var(--hair); }
.path li::after { content: ""; position: absolute; left: 0; top: 1.3rem; width: .66rem; height: .66rem; border-radius: 50%; background: var(--glass); }
.path li.ahead::after { background: var(--paper); border: 1.5px solid var(--line); }
.path li.here::after { left: -.22rem; top: 1.1rem; width: 1.1rem; height: 1.1rem; background: var(--paper); border: 5px solid var(--glass); }
.path li.here::before { border-left: 2px dotted var(--hair); } .path li.here > div::before { content: ""; position: absolute; left: .3rem; top: 0; height: 1.1rem; border-left: 1px solid var(--line); }
.path .num { font-variant-numeric: tabular-nums; color: var(--soft); text-align: right; line-height: 1.3; padding-top: .1em; }
.path a, .path .stage { font-size: 1.12em; line-height: 1.3; color: var(--ink); text-decoration-color: var(--hair); }
.path .here a, .path .here .stage { font-weight: 700; } .path a:hover { text-decoration-color: currentColor; }
.path p { margin: .15rem 0 0; font: var(--small)/1.45 var(--sans); color: var(--soft); max-width: 34rem; }
.path p.got { color: var(--glass); } .path p.got .q i { color: inherit; }
@media (max-width: 34rem) { .path li { grid-template-columns: 1.6rem minmax(0, 1fr) 3.6rem; gap: 0 .7rem; padding-left: 1.5rem; } }
`;

/** Every rule that figures, live figures, tables and blocks need; the class names are those of the pages. */
export const rules: string = second + figures + live + tables + owners + caution + exercise +
  decide + doit + path;

/** What changes on paper, to stand inside `@media print`. */
export const paperRules =
  `.control, .ask, .fold, .result { display: none !important; } .paper-only { display: block; }
figure, .demo, .exercise, .live, tr, .verdict, .doit li { break-inside: avoid; }
figure svg { max-width: 136mm; } figure.wide svg { max-width: 100%; } .live svg { max-width: 88mm; }
.live { grid-template-columns: 90mm 1fr; } .decide figure svg { max-width: 100%; } figcaption { max-width: 150mm; }
.small-only, .mid-only { display: none !important; } .big-only, .wide-only { display: block !important; }
.choices { grid-template-columns: repeat(3, 1fr); }`;

/** What a drawing of class `hands` needs that stands alone on paper. */
export const onPaper: string =
  `.hands { ${colours.paper} --serif: serif; --sans: inherit; color: var(--ink); fill: currentColor; overflow: visible; }
${type(".hands")}${pen}`;

/**
 * The custom properties of a whole page: daylight, dark by the device or by `data-theme`, paper.
 *
 * @returns CSS for the page's `:root`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(rootTokens(), /:root\[data-theme="dark"\]/);
 * ```
 */
export function rootTokens(): string {
  return `:root { color-scheme: light; ${colours.light}
  ${faces.screen} }
@media (prefers-color-scheme: dark) { :root:not([data-theme="light"]) { color-scheme: dark; ${colours.dark} } }
:root[data-theme="dark"] { color-scheme: dark; ${colours.dark} }
@media print { :root, :root[data-theme="dark"], :root:not([data-theme="light"]) { color-scheme: light; ${colours.paper} ${faces.paper} } }
`;
}

/** What a notebook's front end sets on tables, headings and code, put back to the look. */
const inNotebooks =
  `& { background: var(--paper); color: var(--ink); color-scheme: light; padding: .1rem .6rem;
  font: 400 var(--text)/1.55 var(--serif); font-variant-numeric: lining-nums; max-width: 58rem; box-sizing: border-box; }
& *, & *::before, & *::after { box-sizing: border-box; }
p, ul, ol, dl, figure, table, details, form { margin: 0 0 1.1em; }
> * { max-width: var(--measure); } > figure.wide { max-width: none; }
h2, h3 { font-weight: 400; line-height: 1.15; color: var(--ink); } h3 { font-size: var(--step-1); font-weight: 700; }
code { font-family: var(--mono); font-size: .82em; background: none; padding: 0; color: inherit; }
a { color: var(--glass); } output { display: inline; padding: 0; color: inherit; }
table { table-layout: auto; border: 0; margin-left: 0; } table tbody tr:nth-child(n) { background: none; }
th, td { border-top: 0; border-left: 0; border-right: 0; max-width: none; white-space: normal; text-align: left; }
th.n, td.n { text-align: right; white-space: nowrap; }
`;

/**
 * The whole look inside `.first-mirror`, for the output of a notebook cell.
 *
 * The dark colours follow the front end's own theme (JupyterLab and VS Code mark it on `body`), not the device:
 * a notebook may be white on a dark desktop.
 *
 * @returns CSS that touches nothing outside `.first-mirror`
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.ok(scopedSheet().startsWith(".first-mirror {"));
 * ```
 */
export function scopedSheet(): string {
  return inPx(sheetOfNotebooks());
}

/** Lengths in px instead of rem: the classic Notebook's root font is 10 px, and words would shrink with it. */
function inPx(css: string): string {
  return css.replace(
    /(?<![\w.])(\d*\.?\d+)rem\b/g,
    (_, rem) => `${Number((16 * Number(rem)).toFixed(3))}px`,
  );
}

function sheetOfNotebooks(): string {
  const dark = `[data-jp-theme-light="false"] .first-mirror, body.vscode-dark .first-mirror`;
  return `.first-mirror { ${colours.light}
  ${faces.screen}
${inNotebooks}${rules}
@media print { & { ${colours.paper} } ${paperRules} }
}
${dark} { ${colours.dark} color-scheme: dark; }
html:not(.js) .first-mirror :is(.control, .js-only) { display: none; }
`;
}
