/**
 * The records that come with the kit tell the workshop's story: what was typed gives the numbers that the lessons name.
 * Every expected number below is invented with the story; how it follows from the readings is DERIVED here with plain
 * formulas of its own, not the library's.
 */
import assert from "node:assert/strict";
import { relative } from "node:path";
import { fileURLToPath } from "node:url";
import { readRecord } from "../../lib/record/readRecord.ts";
import type { MirrorRecord, SagittaRow } from "../../lib/record/types.ts";
import { read, refusals } from "./bench.ts";

const path = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
const asha = await readRecord(path("../../data/records/demo-150-f8"));
const bram = await readRecord(path("../../data/records/halfway-200-f6"));

const total = (numbers: readonly number[]): number =>
  numbers.reduce((sum, number) => sum + number, 0);
const mean = (numbers: readonly number[]): number => total(numbers) / numbers.length;

/** DERIVED: r^2 = s (2R - s) on the chord between the bevels, and the leaf's width w adds w^2 / 8R to the gap. */
function fullSagitta(
  { settings }: MirrorRecord,
  middle: number,
): { sagitta: number; radius: number } {
  const half = settings.aperture / 2 - settings.bevel;
  let radius = 2 * settings.focalLength;
  for (let pass = 0; pass < 10; pass++) {
    const depth = middle + settings.gauges.leaves.width ** 2 / (8 * radius);
    radius = (half ** 2 + depth ** 2) / (2 * depth);
  }
  const edge = settings.aperture / 2;
  return { sagitta: edge ** 2 / (radius + Math.sqrt(radius ** 2 - edge ** 2)), radius };
}

function middle({ go = [], nogo = [] }: SagittaRow): number {
  return (total(go) + total(nogo)) / 2;
}

const at = ({ sagitta }: MirrorRecord, minutes: number): number[] =>
  sagitta.filter(({ afterMin }) => afterMin === minutes).map(middle);

Deno.test("neither record has a warning or a value taken as usual", () => {
  for (const { warnings, defaults } of [asha, bram]) {
    assert.deepEqual(warnings, []);
    assert.deepEqual(defaults, []);
  }
});

Deno.test("Asha's log: minutes, grades, and the shares of the two positions", () => {
  const minutes = (test: (row: MirrorRecord["grinding"][number]) => boolean): number =>
    total(asha.grinding.filter(test).map((row) => row.minutes));
  assert.equal(
    minutes(({ abrasive, position }) => abrasive === "F80" && position === "mirror on top"),
    130,
  );
  assert.equal(
    minutes(({ abrasive, position }) => abrasive === "F80" && position === "tool on top"),
    4,
  );
  const ladder = ["F120", "F220", "F320", "F500", "F800", "F1200"];
  assert.deepEqual(ladder.map((grade) => minutes(({ abrasive }) => abrasive === grade)), [
    29,
    32,
    34,
    39,
    33,
    37,
  ]);
  const top = minutes(({ abrasive, position }) =>
    ladder.includes(abrasive) && position === "mirror on top"
  );
  assert.equal((top / 204).toFixed(2), "0.55");
  assert.equal(minutes(({ abrasive }) => abrasive === "cerium oxide"), 6 * 60 + 4 + 6);
});

Deno.test("Asha's leaves give the story's depths, but for one misread row", () => {
  // INVENTED record; DERIVED: the middles of its brackets, carried to the whole disc
  const depths = [20, 40, 60, 80, 100, 120].map((minute) =>
    fullSagitta(asha, at(asha, minute).at(-1) ?? NaN).sagitta.toFixed(3)
  );
  assert.deepEqual(depths, ["0.202", "0.388", "0.564", "0.745", "0.926", "1.107"]);
  const [misread = NaN, again = NaN] = at(asha, 100);
  assert.equal((misread - again).toFixed(3), "0.090");
  const row = asha.sagitta.find((one) => middle(one) === misread);
  assert.equal(row?.line, 7);
  assert.match(row?.note ?? "", /read again/);
});

Deno.test("Asha's six diameters, spherometer and Sun agree on the curve", () => {
  // INVENTED record; DERIVED: means of its rows
  const last = at(asha, 338);
  assert.equal(last.length, 6);
  assert.equal(mean(last).toFixed(3), "1.133");
  assert.equal(fullSagitta(asha, mean(last)).radius.toFixed(1), "2398.7");
  const dial = (surface: string): number =>
    mean(asha.spherometer.filter((row) => row.surface === surface).map((row) => row.dial));
  assert.deepEqual([dial("flat").toFixed(4), dial("mirror").toFixed(4)], ["5.0008", "5.5232"]);
  const h = dial("mirror") - dial("flat");
  // DERIVED: R = (a^2 + h^2) / 2h + b for feet with balls of radius b on a circle of radius a.
  assert.equal(((50 ** 2 + h ** 2) / (2 * h) + 3).toFixed(1), "2396.1");
  assert.equal(mean(asha.sun.flatMap(({ distance }) => distance ?? [])).toFixed(2), "1198.33");
  assert.deepEqual(asha.sun.flatMap(({ image }) => image ?? []), [11.1]);
});

Deno.test("Asha's zones: three days of eleven runs with the story's means, then twelve in three seats", () => {
  // INVENTED record; DERIVED: means of its rows
  const means = (date: string): string[] =>
    [0, 30, 45, 57, 67].map((inner) =>
      mean(
        asha.zones.filter((row) => row.date === date && row.inner === inner).map((row) =>
          row.reading
        ),
      ).toFixed(3)
    );
  assert.deepEqual(means("2026-06-12"), ["12.327", "12.277", "12.187", "12.187", "12.260"]);
  assert.deepEqual(means("2026-06-19"), ["11.953", "11.947", "11.913", "11.973", "12.077"]);
  assert.deepEqual(means("2026-06-26"), ["12.126", "12.210", "12.394", "12.536", "12.758"]);
  const [seats = [], before = []] = [true, false].map((later) =>
    asha.zones.filter(({ date = "" }) => date > "2026-06-26" === later)
  );
  const stood = new Set(seats.map(({ angleDeg, knifeDeg }) => `${angleDeg} ${knifeDeg}`));
  assert.deepEqual([...stood], ["0 0", "0 90", "45 0", "45 90", "90 0", "90 90"]);
  assert.equal(new Set(seats.map(({ run }) => run)).size, 12);
  const runs = new Set(before.map(({ run }) => run));
  assert.equal(runs.size, 11);
  for (const run of runs) {
    const edges = asha.zones.filter((row) => row.run === run).map((
      { inner, outer },
    ) => [inner, outer]);
    assert.deepEqual(edges, [[0, 30], [30, 45], [45, 57], [57, 67], [67, 74]]);
  }
});

Deno.test("Asha's telescope weighs and balances as the story says", () => {
  // INVENTED record; DERIVED: moments over the mass
  const parts = asha.settings.telescope?.parts ?? [];
  const mass = total(parts.map((part) => part.mass));
  assert.equal(mass, 6650);
  assert.equal((total(parts.map((part) => part.mass * part.at)) / mass).toFixed(1), "524.2");
  assert.equal(asha.settings.telescope?.bearing?.radius, 90);
  assert.deepEqual(asha.settings.telescope?.screws?.imageAt, [3, -2]);
});

Deno.test("Bram's leaves, log and dials give the story's numbers", () => {
  // INVENTED record; DERIVED: means of its rows
  const depths = [60, 100, 140, 180, 210].map((minute) => middleOf(minute).toFixed(3));
  assert.deepEqual(depths, ["0.570", "0.935", "1.305", "1.665", "1.940"]);
  assert.equal(total(bram.grinding.map(({ minutes }) => minutes)), 235);
  const last = bram.sagitta.filter(({ afterMin }) => afterMin === 235);
  assert.equal(fullSagitta(bram, mean(last.map(middle))).sagitta.toFixed(3), "2.131");
  const dial = (surface: string): number =>
    mean(bram.spherometer.filter((row) => row.surface === surface).map((row) => row.dial));
  assert.deepEqual([dial("flat").toFixed(4), dial("mirror").toFixed(4)], ["5.0010", "5.5343"]);
  assert.deepEqual([bram.zones, bram.ronchi, bram.sun], [[], [], []]);

  function middleOf(minute: number): number {
    return at(bram, minute)[0] ?? NaN;
  }
});

Deno.test("every leaf of the stories is in one set of 32", () => {
  // COMMON PRACTICE: the leaves of a usual set of 32, mm.
  const set =
    (".04 .05 .06 .07 .08 .09 .10 .13 .15 .18 .20 .23 .25 .28 .30 .33 .38 .40 .45 .50 .55 .60 .63 .65 .70 .73 " +
      ".75 .78 .80 .83 .85 .88").split(" ").map(Number);
  assert.equal(set.length, 32);
  const stacks = [...asha.sagitta, ...bram.sagitta].flatMap(({ go = [], nogo = [] }) => [go, nogo]);
  for (const leaf of stacks.filter((stack) => stack.length > 1).flat()) {
    assert.ok(set.includes(leaf), `${leaf}`);
  }
});

Deno.test("a mirror.yaml alone is a record", async () => {
  const record = await readRecord(path("../records/empty-130-f7"));
  assert.equal(record.name, "empty-130-f7");
  assert.equal(record.settings.focalLength / record.settings.aperture, 7);
  const tables = [
    record.grinding,
    record.sagitta,
    record.spherometer,
    record.sun,
    record.zones,
    record.ronchi,
  ];
  assert.deepEqual(tables, [[], [], [], [], [], []]);
  assert.equal(record.defaults.length, 11);
});

Deno.test("a table without rows is read where it says that there are none yet", async () => {
  const { sun } = await read({ "sun.csv": "# No readings yet: clouds\ndistance_mm\n" });
  assert.deepEqual(sun, []);
});

Deno.test("a record may lie anywhere and be called by a relative path", async () => {
  const { folder, name } = await readRecord(`${relative(Deno.cwd(), asha.folder)}/`);
  assert.equal(folder, asha.folder);
  assert.equal(name, "demo-150-f8");
});

Deno.test("mirror.yaml may have a mark, CRLF, or be UTF-16", async () => {
  // DERIVED: 6 x 25.4 and 48 x 25.4
  const text = "# ऊँचाई\r\naperture: 6 in\r\nfocal_length: 48 in\r\n";
  const utf16 = new Uint8Array(
    new Uint16Array([...`\ufeff${text}`].map((sign) => sign.charCodeAt(0))).buffer,
  );
  for (const page of [`\ufeff${text}`, text, utf16]) {
    const { settings } = await read({ "mirror.yaml": page });
    assert.deepEqual([settings.aperture, settings.focalLength.toFixed(9)], [
      152.4,
      "1219.200000000",
    ]);
  }
  const [told] = await refusals({ "mirror.yaml": `\ufeff${text}bevl: 1 mm\r\n` });
  assert.equal(told?.line, 4);
});
