/** The script that checks exercises in a page: a classic script, so that it also runs from disk. */
import { judgeSource } from "./judge.ts";

/** Listens for every exercise of the page, also for those a notebook adds later. */
const listener = `
document.documentElement.classList.add("js");
const attempts = new WeakMap();
document.addEventListener("submit", (event) => {
  const section = event.target.closest ? event.target.closest(".exercise") : null;
  if (section === null) return;
  event.preventDefault();
  const data = section.querySelector('script[type="application/json"]');
  const out = section.querySelector(".result");
  if (data === null || out === null) return;
  const typed = new FormData(event.target).get("answer");
  const attempt = (attempts.get(section) || 0) + 1;
  const { is, say } = judge(JSON.parse(data.textContent), typed === null ? "" : typed, attempt);
  if (is === "wrong") attempts.set(section, attempt);
  out.dataset.is = is;
  const words = document.createElement("span");
  words.textContent = say;
  out.replaceChildren(words);
});`;

/**
 * The classic script that makes exercises check themselves, with the same `judge` that tests run.
 *
 * Put it once into a page, inside `<script>`; a second copy does nothing.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.match(pageScript(), /function judge\(exercise, answer, attempt = 1\)/);
 * ```
 */
export function pageScript(): string {
  return `(function () {
if (window.firstMirrorExercises) return;
window.firstMirrorExercises = true;
${judgeSource()}
${listener}
})();`;
}
