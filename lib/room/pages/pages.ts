/** The room's pages: one answer each with style and script inside, under a policy that lets nothing else run. */
import { createHash } from "node:crypto";
import { type Html, safe, trusted } from "../../figures/html.ts";
import { rootTokens, rules } from "../../figures/look.ts";
import base from "./base.css" with { type: "text" };
import benchBody from "./bench.html" with { type: "text" };
import benchScript from "./bench.js" with { type: "text" };
import benchStyle from "./bench.css" with { type: "text" };
import callerScript from "./caller.js" with { type: "text" };
import enterScript from "./enter.js" with { type: "text" };
import leaderBody from "./leader.html" with { type: "text" };
import leaderScript from "./leader.js" with { type: "text" };
import leaderStyle from "./leader.css" with { type: "text" };
import plainStyle from "./plain.css" with { type: "text" };
import queueScript from "./queue.js" with { type: "text" };
import wallBody from "./wall.html" with { type: "text" };
import wallScript from "./wall.js" with { type: "text" };
import wallStyle from "./wall.css" with { type: "text" };

/** A page, and the policy it is sent with. */
export interface Page {
  readonly html: string;
  readonly policy: string;
}

/** What a page is made of. */
export interface PageParts {
  readonly title: string;
  readonly style: string;
  readonly body: Html;
  /** one after the other; none for a page that only stands there */
  readonly scripts?: readonly string[];
  /** asks for itself again after so many seconds */
  readonly again?: number;
}

/** The theme that was chosen last, before anything is drawn. */
const EARLY =
  `try { var t = localStorage.getItem("first-mirror-theme"); if (t) document.documentElement.dataset.theme = t; } catch (e) { /* no storage: follow the device */ }`;

const hashOf = (text: string): string =>
  `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

/**
 * A page with its policy: scripts by their hash, pictures of its own, requests to its own server alone.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * import { safe } from "../../figures/html.ts";
 * const { policy } = pageOf({ title: "A", style: "", body: safe`<p>1</p>`, scripts: ["go()"] });
 * assert.doesNotMatch(policy, /script-src[^;]*unsafe/);
 * ```
 */
export function pageOf({ title, style, body, scripts = [], again }: PageParts): Page {
  const hashes = [EARLY, ...scripts].map(hashOf).join(" ");
  const policy = [
    "default-src 'none'",
    `script-src ${hashes}`,
    "style-src 'unsafe-inline'",
    "img-src 'self' blob: data:",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join("; ");
  const html = safe`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<title>${title} · First Mirror</title>
<meta name="color-scheme" content="light dark">
<link rel="icon" href="data:,">${
    again !== undefined && safe`
<meta http-equiv="refresh" content="${String(again)}">`
  }
<script>${trusted(EARLY)}</script>
<style>
${trusted([rootTokens(), base, style].join("\n"))}
</style>
</head>
<body>
${body}
${scripts.map((script) => safe`<script>${trusted(script)}</script>`)}
</body>
</html>
`.markup;
  return { html, policy };
}

const plain = (title: string, body: Html, scripts: readonly string[] = []): Page =>
  pageOf({ title, style: plainStyle, body, scripts });

/** Pages that are the same for everybody; what they show they ask for. */
export const pages = {
  wall: pageOf({
    title: "The wall",
    style: wallStyle,
    body: trusted(wallBody),
    scripts: [wallScript],
  }),
  leader: pageOf({
    title: "The leader’s page",
    style: leaderStyle,
    body: trusted(leaderBody),
    scripts: [leaderScript],
  }),
  bench: pageOf({
    title: "Your bench",
    // drawings of the hands' work have the figures' own look, and nothing else on the page has
    style: `${benchStyle}\n#drawn { ${rules} }`,
    body: trusted(benchBody),
    scripts: [queueScript, callerScript, benchScript],
  }),
  enter: plain(
    "Come in",
    safe`<main><h1>The room</h1><p id="says" role="status">Opening your page …</p>
<noscript><p>The room’s pages need script. Write on the card of your bench, and hand it in.</p></noscript></main>`,
    [enterScript],
  ),
  /** until the lessons are there */
  layingOut: pageOf({
    title: "The book",
    style: plainStyle,
    body:
      safe`<main><h1>The book</h1><p role="status">The leader’s laptop lays the lessons out, which takes some ten seconds the first time. This page looks again by itself.</p></main>`,
    again: 2,
  }),
  /** where somebody may not go, in a sentence */
  refused: (sentence: string): Page =>
    plain("Not here", safe`<main><h1>Not here</h1><p>${sentence}</p></main>`),
} as const;
