/** The hand-written contract against what the library gives, and against summaries broken on purpose. */
import { summaryText } from "../../lib/knowledge/summaryFile.ts";
import assert from "node:assert/strict";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { contractProblems } from "./contract.ts";
import { cut, EMPTY, withCopy } from "./copies.ts";

type Json = Record<string, unknown>;

async function summaryOf(folder: string): Promise<Json> {
  return JSON.parse(summaryText((await openMirror(folder)).summary));
}

const demo = await summaryOf(`${recordsFolder}/demo-150-f8`);

Deno.test("the records that come with the kit keep the contract, part by part", async () => {
  const parts: Record<string, readonly string[]> = {
    [`${recordsFolder}/demo-150-f8`]: [
      "curve",
      "grinding",
      "figure",
      "verdict",
      "telescope",
      "coating",
      "sky",
    ],
    [`${recordsFolder}/halfway-200-f6`]: ["curve", "grinding", "telescope", "coating", "sky"],
    [EMPTY]: ["coating", "sky"],
  };
  for (const [folder, wanted] of Object.entries(parts)) {
    const summary = await summaryOf(folder);
    assert.deepEqual(contractProblems(summary), [], folder);
    const readings = [
      ...["curve", "grinding", "figure", "verdict", "telescope", "coating", "sky"],
    ].filter((part) => part in summary);
    assert.deepEqual(readings, wanted, folder);
  }
});

Deno.test("every state on the way keeps the contract: before, between, after the tests, with slips", async () => {
  const slips = (table: string, from: RegExp, to: string) => (name: string, text: string) =>
    name === table ? text.replaceAll(from, to) : text;
  const states: Record<string, Parameters<typeof withCopy>[1]> = {
    "after one hour": (name, text) => cut(name, text, { minute: 60 }),
    "one depth only": (name, text) => cut(name, text, { minute: 20 }),
    "before figuring": (name, text) => cut(name, text, { date: "2026-06-12" }),
    "one run of one day": (name, text) =>
      name === "zones.csv"
        ? text.split("\n").filter((line) => !/^2026/.test(line) || line.includes(",a1,")).join("\n")
        : text,
    "a Sun in inches among millimetres": slips("sun.csv", /,1(1\d\d|2\d\d),/g, ",47.2,"),
    "a spherometer of legs in diameters": slips(
      "mirror.yaml",
      /leg_radius: 50/g,
      "leg_radius: 100",
    ),
  };
  for (const [name, change] of Object.entries(states)) {
    await withCopy("demo-150-f8", change, async (folder) => {
      assert.deepEqual(contractProblems(await summaryOf(folder)), [], name);
    });
  }
});

/** The demo's summary with one thing done to a copy of it. */
function broken(act: (copy: Json) => void): string[] {
  const copy = structuredClone(demo);
  act(copy);
  return contractProblems(copy);
}
// deno-lint-ignore no-explicit-any -- whatever stands at a path of a summary
const at = (copy: Json, path: string): any =>
  path.split(".").reduce<unknown>((part, key) => (part as Json)[key], copy);

Deno.test("the contract finds a renamed key, a null, a lost unit, a wrong unit, a new part", () => {
  const cases: readonly (readonly [act: (copy: Json) => void, told: RegExp])[] = [
    [(copy) => void delete copy["design"], /^\.design: is missing$/],
    [(copy) => void (copy["mirror"] = {}), /^\.mirror: no part of this name/],
    [(copy) => {
      const { sagitta, ...others } = at(copy, "design");
      copy["design"] = { ...others, depth: sagitta };
    }, /^\.design\.sagitta: is missing$/],
    [
      (copy) => void (at(copy, "curve").radius.unit = "cm"),
      /^\.curve\.radius\.unit: wanted one of mm/,
    ],
    [(copy) => void delete at(copy, "curve.radius").unit, /^\.curve\.radius\.unit: is missing$/],
    [(copy) => void (at(copy, "curve").radius.u = 0), /^\.curve\.radius\.u: wanted a number from/],
    [(copy) => void (at(copy, "curve").radius.dof = null), /^\.curve\.radius\.dof: /],
    [(copy) => void (at(copy, "curve").odd_one = null), /^\.curve\.odd_one: /],
    [(copy) => void (at(copy, "verdict").meets_goal = "maybe"), /^\.verdict\.meets_goal: wanted/],
    [(copy) => void (at(copy, "verdict").probability = 1.2), /^\.verdict\.probability: /],
    [
      (copy) => void (at(copy, "figure.zones").surface_pv.unit = "wave"),
      /surface_pv\.unit: wanted/,
    ],
    [(copy) => void (at(copy, "figure.zones").interval_95.conic = [1, -1]), /interval_95\.conic: /],
    [
      (copy) => void at(copy, "figure.zones").profile.push({ radius: 1 }),
      /surface_error: is missing/,
    ],
    [(copy) => void (at(copy, "grinding").rates.tool_on_top = Number.NaN), /tool_on_top: /],
    [(copy) => void (at(copy, "curve").set_aside = 1), /^\.curve\.set_aside: wanted a list/],
    [(copy) => void (copy["extra"] = undefined), /^\.extra: /],
    [(copy) => void (at(copy, "next_step").stage = "silvering"), /^\.next_step\.stage: wanted/],
    [
      (copy) => void (at(copy, "next_step").readings = [{ angle_deg: 400, knife_deg: 0, runs: 1 }]),
      /^\.next_step\.readings\[0\]\.angle_deg: /,
    ],
    [(copy) => void (at(copy, "next_step").readings = []), /readings: wanted a list with/],
    [(copy) => void delete at(copy, "verdict").scope, /^\.verdict\.scope: is missing$/],
    [(copy) => void (at(copy, "verdict").lacks = []), /^\.verdict\.lacks: wanted a list with/],
    [
      (copy) => void (at(copy, "verdict").outside_shadow = { wavefront_pv: { value: 1 } }),
      /outside_shadow\.wavefront_pv\.unit: is missing/,
    ],
    [
      (copy) => void (at(copy, "figure.zones").astigmatism = { amplitude: 46 }),
      /astigmatism\.amplitude: wanted an object/,
    ],
    [(copy) => void (at(copy, "figure.zones").diameters = 0), /figure\.zones\.diameters: /],
    [
      (copy) => void (at(copy, "figure.zones").budget = [{ source: "scatter", share: 0.7 }]),
      /budget: wanted shares that add up/,
    ],
    [
      (copy) => void (at(copy, "figure.zones").wavefront_pv.value = 15),
      /figure\.zones\.wavefront_pv: wanted a value in/,
    ],
    [
      (copy) => void (at(copy, "telescope").flat_offset.unit = "um"),
      /^\.telescope\.flat_offset\.unit: wanted one of mm/,
    ],
    [
      (copy) => void (at(copy, "telescope").flat_minor_axis.value = 0),
      /^\.telescope\.flat_minor_axis\.value: wanted a number from/,
    ],
    [(copy) => void delete at(copy, "telescope").contrast, /^\.telescope\.contrast: is missing$/],
    [
      (copy) => void at(copy, "telescope").contrast.shift(),
      /^\.telescope\.contrast: wanted rows at 0\.25/,
    ],
    [
      (copy) => void (at(copy, "telescope").illumination_at_field_stop = 79),
      /illumination_at_field_stop: wanted a number from 0 to 1/,
    ],
    [
      (copy) => void (at(copy, "telescope").screw_turns = [0.1, 0.1, 0.1]),
      /screw_turns: wanted three turns of zero sum/,
    ],
    [
      (copy) => void (at(copy, "telescope").holds_balance = true),
      /holds_balance: wanted what the two moments say/,
    ],
    [
      (copy) => void (at(copy, "telescope").flat_offset_along_face.value += 1),
      /flat_offset_along_face: wanted/,
    ],
    [
      (copy) => void (at(copy, "telescope").eyepieces[1].exit_pupil = 1.25),
      /eyepieces\[1\]\.exit_pupil/,
    ],
    [(copy) => void (at(copy, "telescope").eyepieces = []), /eyepieces: wanted a list with/],
    [
      (copy) => void (at(copy, "coating").silver_mass.unit = "g"),
      /^\.coating\.silver_mass\.unit: wanted one of mg/,
    ],
    [
      (copy) => void at(copy, "coating").cautions.pop(),
      /cautions: wanted a caution that says rules/,
    ],
    [(copy) => void delete at(copy, "coating").cautions, /^\.coating\.cautions: is missing$/],
    [(copy) => void (at(copy, "sky").limiting_magnitude = 13), /limiting_magnitude: wanted \[low/],
    [
      (copy) => void (at(copy, "sky").dawes_limit.unit = "deg"),
      /^\.sky\.dawes_limit\.unit: wanted one of arcsec/,
    ],
  ];
  for (const [act, told] of cases) {
    const found = broken(act);
    assert.ok(found.some((line) => told.test(line)), `${told} in ${found.join("; ")}`);
  }
  assert.deepEqual(broken(() => {}), []);
});

Deno.test("a key may be added inside a part without breaking a reader", () => {
  assert.deepEqual(broken((copy) => void (at(copy, "design").colour = "green")), []);
});

Deno.test("the same record gives the same JSON byte for byte, read again and read from elsewhere", async () => {
  const text = async (folder: string): Promise<string> =>
    summaryText((await openMirror(folder)).summary);
  const home = `${recordsFolder}/demo-150-f8`;
  const first = await text(home);
  assert.equal(await text(home), first);
  await withCopy("demo-150-f8", (_, file) => file, async (folder) => {
    assert.equal(await text(folder), first, "a copy under the same name");
  });
});

Deno.test("where a number comes from is a file of the record", () => {
  const froms: string[] = [];
  const walk = (value: unknown): void => {
    if (typeof value !== "object" || value === null) return;
    // `grinding.from` is a method's name, not a table's
    const { from, ...others } = value as { from?: string | readonly string[] };
    if (typeof from !== "string") froms.push(...from ?? []);
    Object.values(others).forEach(walk);
  };
  walk(demo);
  const files = new Set(
    [...Deno.readDirSync(`${recordsFolder}/demo-150-f8`)].map(({ name }) => name),
  );
  assert.ok(froms.length > 20);
  for (const from of froms) assert.ok(files.has(from), from);
});
