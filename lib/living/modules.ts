/** What a cell in a page can import: the library's doors, and the two packages that cells use beside it. */
import * as Plot from "@observablehq/plot";
import * as coating from "../coating/mod.ts";
import * as figures from "../figures/mod.ts";
import * as knowledge from "../knowledge/mod.ts";
import * as lessons from "../lessons/mod.ts";
import * as measuring from "../measuring/mod.ts";
import * as numeric from "../numeric/mod.ts";
import * as optics from "../optics/mod.ts";
import * as quantity from "../quantity/mod.ts";
import * as record from "../record/mod.ts";
import * as shaping from "../shaping/mod.ts";
import * as sky from "../sky/mod.ts";
import * as stages from "../stages/mod.ts";
import * as telescope from "../telescope/mod.ts";
import * as testing from "../testing/mod.ts";
import { assert } from "./assert.ts";
import { frames } from "./frames.ts";

type Module = Readonly<Record<string, unknown>>;

const library: Readonly<Record<string, Module>> = {
  quantity,
  numeric,
  optics,
  measuring,
  shaping,
  testing,
  telescope,
  coating,
  sky,
  record,
  knowledge,
  figures,
  lessons,
  stages,
};

/** Modules by the names that cells write. */
export const modules: ReadonlyMap<string, Module> = new Map<string, Module>([
  ...Object.entries(library).map(([name, module]) => [`first-mirror/${name}`, module] as const),
  ["@observablehq/plot", Plot as Module],
  ["nodejs-polars", { default: frames }],
  ["node:assert/strict", { default: assert, ...assert }],
]);

/** Every public name of the library, with the module that has it: the lowest where several hand it on. */
export const publicNames: ReadonlyMap<string, string> = new Map(
  Object.entries(library).toReversed().flatMap(([module, all]) =>
    Object.keys(all).map((name) => [name, `first-mirror/${module}`] as const)
  ),
);
