/** One small drawing for each stage, 84 by 34; glass is dotted while ground, thin once polished, thick when coated. */
import { type Html, trusted } from "../../figures/html.ts";

/** The disc in section with a curve of the given depth on the drawing. */
const disc = (depth: number): string =>
  `<path class="body" d="M6,8Q42,${depth} 78,8V24H6Z"></path><path class="rim" d="M6,8V24H78V8"></path>`;
const face = (kind: string, depth: number): string =>
  `<path class="${kind}" d="M6,8Q42,${depth} 78,8"></path>`;
const ring = (kind: string, r: number): string =>
  `<circle class="${kind}" cx="42" cy="17" r="${r}"></circle>`;
const dot = (kind: string, x: number, y: number, r = 3.4): string =>
  `<circle class="${kind}" cx="${x}" cy="${y}" r="${r}"></circle>`;
const stroke = (kind: string, d: string, style = ""): string =>
  `<path class="${kind}" d="${d}"${style === "" ? "" : ` style="${style}"`}></path>`;

const drawings: Readonly<Record<string, string>> = {
  "open-record": stroke("dim", "M31,2H53V32H31Z") + stroke("rim", "M34,7Q42,11 50,7") +
    stroke("lead", "M34,15H50M34,19H50M34,23H44"),
  "choose-mirror": stroke("rim", "M78,4Q70,17 78,30", "stroke-width:2") +
    stroke("lead", "M2,7H76L20,17L76,27H2") + dot("mine", 20, 17, 2),
  "prepare-discs": disc(8) + stroke("rim", "M6,8H78") + stroke("rim", "M6,3H78"),
  "grind-hollow": disc(17) + face("ground", 17),
  "measure-curve": disc(22) + face("ground", 22) + stroke("dim", "M2,8H82M42,8V15"),
  "weigh-readings": stroke("axis", "M6,31H78") + stroke("dim", "M46,2V31") +
    stroke("mine", "M16,8H66M34,16H62M38,24H54", "stroke-width:1.5") + dot("mine", 40, 8, 2.6) +
    dot("mine", 48, 16, 2.6) + dot("mine", 46, 24, 2.6),
  "correct-depth": disc(27) + face("ground", 27) + face("limit", 22),
  "smooth-surface": disc(22) + face("ground fine", 22),
  "pour-lap": disc(22) + face("ground fine", 22) +
    stroke("dim", "M6,2Q42,16 78,2", "stroke-width:5;stroke-dasharray:9 2.5"),
  "polish-surface": disc(22) + face("polished", 22),
  "read-bands": ring("rim", 15) + stroke(
    "dim",
    "M42,3V31M35.5,4Q32,17 35.5,30M48.5,4Q52,17 48.5,30M30,9Q27,17 30,25M54,9Q57,17 54,25",
    "stroke-width:2.4",
  ),
  "measure-zones": stroke("body", "M27,17A15,15 0 1 1 57,17A15,15 0 1 1 27,17Z") +
    ring("rim", 15) + stroke("axis", "M27,12.5H57M27,21.5H57") +
    stroke("dim", "M31,12.5V21.5M35,12.5V21.5M49,12.5V21.5M53,12.5V21.5"),
  "judge-mirror": stroke("axis", "M6,26H78") + stroke("limit", "M58,4V26") +
    stroke("mine", "M20,15H46", "stroke-width:2") + dot("mine", 33, 15),
  "shape-surface": disc(22) + face("polished", 22) +
    stroke("limit", "M6,6.5C26,17 34,19 42,19S58,17 78,6.5", "stroke-width:1.2"),
  "coat-mirror": disc(22) + face("silvered", 22),
  "place-flat": stroke("dim", "M6,6H78M6,28H78") +
    stroke("rim", "M75,8Q69,17 75,26", "stroke-width:2.5") +
    stroke("dim", "M20,11L30,23", "stroke-width:2.5") + stroke("dim", "M21,6V1H29V6"),
  "carry-weight": ring("rim", 15) + dot("mine", 42, 7.4, 2) + dot("mine", 33.7, 21.8, 2) +
    dot("mine", 50.3, 21.8, 2) + stroke("lead", "M42,7.4L33.7,21.8H50.3Z"),
  "align-mirrors": ring("dim", 14) + ring("rim", 8.5) + ring("dim", 4) + ring("mine", 1.2),
  "read-star":
    `<circle class="dim" cx="18" cy="17" r="13"></circle><circle class="dim" cx="18" cy="17" r="8"></circle>` +
    dot("mine", 42, 17, 2.4) +
    `<ellipse class="dim" cx="66" cy="17" rx="13" ry="8"></ellipse><ellipse class="dim" cx="66" cy="17" rx="8" ry="4"></ellipse>`,
  "observe-sky": ring("mine", 3.4) + ring("rim", 8) + ring("lead", 13),
  "compare-class": dot("theirs", 12, 21) + dot("theirs", 24, 14) + dot("theirs", 36, 19) +
    dot("mine", 48, 11) + dot("theirs", 60, 22) + dot("theirs", 72, 17) +
    stroke("limit", "M6,27H78", "stroke-width:1.2"),
};

/**
 * A stage's drawing, a decoration beside its name.
 *
 * @param name  of the stage: "measure-curve"
 * @returns a plain disc for a stage that has no drawing of its own
 */
export function stageDrawing(name: string): Html {
  return trusted(
    `<svg viewBox="0 0 84 34" aria-hidden="true">${drawings[name] ?? disc(8)}</svg>`,
  );
}
