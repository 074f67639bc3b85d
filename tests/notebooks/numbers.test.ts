/**
 * Numbers typed in prose are the numbers the notebook shows: each decimal and each number of three digits or more stands, to
 * its last digit, in what a cell of the same notebook holds or shows on the demo record, in whatever unit of the kit; or it
 * is worked out here. So a story told with yesterday's figures is found when the library comes to others.
 */
import assert from "node:assert/strict";
import { isCode, type Notebook } from "../../lib/book/notebook.ts";
import { focalLengthPerImage } from "../../lib/measuring/mod.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { limitsOf } from "../../lib/sky/mod.ts";
import { collimationTolerance } from "../../lib/telescope/mod.ts";
import { RECORDS } from "./books.ts";
import { executed } from "./runs.ts";
import { stageNameOf } from "../../lib/lessons/course.ts";
import { stemOf } from "../stems.ts";

const firstOfMonth = Array.from(
  { length: 12 },
  (_, month) => focalLengthPerImage(`2026-${String(month + 1).padStart(2, "0")}-04`),
);
const { record } = await openMirror(RECORDS.finished);

const sum = (leaves: readonly number[]): number => leaves.reduce((all, one) => all + one, 0);

/** True though no cell shows it, by the notebook's number; what is computed says so by itself. */
const elsewhere: Readonly<Record<string, readonly number[]>> = {
  "choose-mirror": [2.5], // metres of string for a compass of 2400 mm
  "prepare-discs": [1.5 * Math.SQRT1_2, 2 * Math.SQRT1_2], // a slope of 45 degrees as seen on the face
  "measure-curve": [Math.min(...firstOfMonth), Math.max(...firstOfMonth)],
  "weigh-readings": [...record.sagitta.flatMap(({ go = [] }) => go), 1199 - 0.5, 1199 + 0.5, 2405],
  "correct-depth": record.sagitta.flatMap(({ go = [] }) => [...go, sum(go)]),
  // the live figures', here and below; tests/figures/live/inNotebooks.test.ts holds them
  "read-bands": [0.32, 0.57],
  "measure-zones": [-0.94, -1.61],
  "place-flat": [8.6],
  "align-mirrors": [
    0.094,
    600,
    collimationTolerance({ aperture: 150, focalLength: 750 }).axis,
    Math.hypot(3, 2),
  ],
  "observe-sky": [1.6, 1.4, 1.3, 300, limitsOf(150).dawesArcsec * 150],
};

const numbersIn = (text: string): number[] =>
  [...text.replaceAll("−", "-").matchAll(/-?\d+(?:\.\d+)?/g)].map(([digits]) => Number(digits));

/** Everything the code cells hold and show, as numbers. */
function shownIn({ cells }: Pick<Notebook, "cells">): number[] {
  return cells.filter(isCode).flatMap(({ source, outputs }) => {
    const shown = outputs.map((output) => {
      if (output.output_type === "stream") return output.text;
      if (output.output_type === "error") return "";
      const html = String(output.data["text/html"] ?? "")
        .replace(/<(style|script)[\s\S]*?<\/\1>/g, "").replace(/<[^>]*>/g, " ");
      return `${String(output.data["text/plain"] ?? "")} ${html}`;
    });
    return numbersIn([source, ...shown].join("\n"));
  });
}

/** A decimal, or three digits and more; not a part of a word, a ratio, a date or a name. */
const precise = /(?<![\w.,/−-])([−-]?\d+\.\d+|[−-]?\d{3,})(?![\w]*\d)/g;

function strangers(stem: string, notebook: Pick<Notebook, "cells">): string[] {
  const known = [...shownIn(notebook), ...elsewhere[stageNameOf(stem)] ?? []];
  const found: string[] = [];
  for (const cell of notebook.cells) {
    if (isCode(cell)) continue;
    const prose = cell.source.replace(/\$\$[\s\S]*?\$\$|\$[^$]*\$|`[^`]*`|\]\([^)]*\)/g, " ");
    for (const { 1: digits = "", index } of prose.matchAll(precise)) {
      const last = 10 ** -(digits.split(".")[1]?.length ?? 0);
      const value = Math.abs(Number(digits.replace("−", "-")));
      const stands = known.some((one) =>
        [1, 1000, 0.001, 100, 0.01].some((unit) =>
          Math.abs(Math.abs(one) * unit - value) <= 0.51 * last
        )
      );
      if (!stands) {
        found.push(`${stem}: ${digits} in "${prose.slice(Math.max(0, index - 40), index + 30)}"`);
      }
    }
  }
  return found;
}

Deno.test("every precise number in prose is one that its notebook computes or shows on the demo record", async () => {
  const found = (await executed("finished")).flatMap(({ stem, notebook }) =>
    strangers(stem, notebook)
  );
  assert.deepEqual(found, []);
});

Deno.test("a number that nothing shows is found, and one in another unit is not taken for it", () => {
  const cell = {
    id: "a",
    metadata: {},
    cell_type: "code",
    source: "show(1.172)",
    outputs: [],
    execution_count: 1,
  } as const;
  const says = (source: string): string[] =>
    strangers(stemOf("smooth-surface"), {
      cells: [cell, { id: "b", metadata: {}, cell_type: "markdown", source }],
    });
  assert.deepEqual(says("It is 1.17 mm, or 1172 µm, deep."), []);
  assert.equal(says("It is 1.18 mm deep.").length, 1);
});
