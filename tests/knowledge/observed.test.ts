/** Projects of the nights: numbers, doubts and decisions from rows written here. */
import assert from "node:assert/strict";
import { type Observed, observed, type Project } from "../../lib/knowledge/observed.ts";
import { openRecord } from "../../lib/knowledge/open.ts";
import { read } from "../record/bench.ts";

const SITE = `aperture: 150 mm
focal_length: 1200 mm
site: { latitude: 46.4 deg, longitude: 15.9 deg, time_zone: Europe/Ljubljana }
`;
const HEAD =
  "date,time,what,object,event,tenths,brighter,fainter,gap_arcsec,right,tries,doubt_s,warmer_c";

async function of(project: Project, rows: readonly string[], mirror = SITE): Promise<Observed> {
  const table = `${HEAD}\n${rows.join("\n")}\n`;
  const all = await observed(await read({ "mirror.yaml": mirror, "observations.csv": table }));
  return all.find((one) => one.project === project) ?? assert.fail(project);
}

Deno.test("the demo's six projects: every row used, each with a number, its doubt and an answer", async () => {
  const all = await observed((await openRecord()).demo.record);
  assert.deepEqual(all.map(({ project, decided }) => [project, decided?.answer]), [
    ["moon of jupiter", "yes"],
    ["double star", "yes"],
    ["moon shadow", "yes"],
    ["variable star", "yes"],
    ["occultation", "yes"],
    ["star image", "yes"],
  ]);
  for (const { rows, numbers, heads } of all) {
    assert.ok(numbers.length > 0 && numbers.every(({ value }) => value.u > 0));
    for (const { cells, setAside } of rows) {
      assert.equal(setAside, undefined);
      assert.equal(cells.length, heads.length);
    }
  }
});

Deno.test("a moon of Jupiter: seen less foretold, in seconds, weighted; an hour off is set aside", async () => {
  const rows = [
    "2026-10-17,05:29:20,moon of jupiter,Io,vanishes,,,,,,,20,",
    "2026-11-09,04:38:30,moon of jupiter,Io,vanishes,,,,,,,20,",
    "2026-11-18,01:59:55,moon of jupiter,Io,vanishes,,,,,,,20,",
    "2026-11-19,22:00:00,moon of jupiter,Io,vanishes,,,,,,,20,",
  ];
  const { rows: told, numbers, decided } = await of("moon of jupiter", rows);
  assert.deepEqual(told.map(({ setAside }) => setAside === undefined), [true, true, false, false]);
  assert.match(told[2]?.setAside ?? "", /6\d min off: is it another moon, or a clock an hour off/);
  const [{ value } = assert.fail("no number")] = numbers;
  // DERIVED: +18.5 and +29.5 s by the forecast's own table, alike in weight
  assert.ok(Math.abs(value.value - 24) < 3, `${value.value}`);
  // DERIVED: 20 s of the clock, 15 of the theory, 107 / sqrt 12 of the fading: 40, by the root of two
  assert.ok(Math.abs(value.u - 39.8 / Math.SQRT2) < 2, `${value.u}`);
  assert.equal(decided?.answer, "yes");
});

Deno.test("doubles: told, not told, and nothing told", async () => {
  const row = (gap: number, right: number): string =>
    `2026-10-01,,double star,pair ${gap},,,,,${gap},${right},10,,`;
  const good = await of("double star", [row(1.5, 10), row(0.9, 9), row(0.8, 6)]);
  assert.deepEqual([good.decided?.answer, good.numbers[0]?.value.value], ["yes", 0.9]);
  assert.equal(good.numbers[0]?.value.u.toFixed(3), "0.050");
  assert.equal((await of("double star", [row(2.4, 10), row(1.5, 5)])).decided?.answer, "no");
  // every pair told, but none close enough to say
  assert.equal((await of("double star", [row(2.4, 10)])).decided?.answer, "not shown");
  assert.match((await of("double star", [row(2.4, 5)])).says, /Not even the widest/);
});

Deno.test("a crater's rim: three looks make a height; with no Sun there the row is set aside", async () => {
  const look = (day: string, tenths: number): string =>
    `${day},19:40,moon shadow,Copernicus,,${tenths},,,,,,,`;
  const { numbers, rows, says } = await of("moon shadow", [
    look("2026-10-20", 2.5),
    look("2026-10-20", 2.8),
    look("2026-10-20", 2.4),
    look("2026-10-18", 2.5),
  ]);
  assert.equal(numbers.length, 1);
  // DERIVED: the Sun 9.9 degrees high, 0.257 x 93 km = 23.9 km: 23.9 tan 9.9 less 23.9^2 / 2 / 1737 is about 4.0 km
  assert.ok(Math.abs((numbers[0]?.value.value ?? 0) - 3.8) < 0.3);
  // the height that others tell stands with its own doubt, a tenth of 3.8
  assert.match(says, /Copernicus [\d.]+ ± [\d.]+ km \(3\.8 ± 0\.4 km is told elsewhere\)/);
  assert.match(rows[3]?.setAside ?? rows[0]?.setAside ?? "", /the Sun had not risen there/);
});

Deno.test("a variable star by nights: hours past midnight belong to the evening before", async () => {
  const look = (date: string, time: string, tenths: number): string =>
    `${date},${time},variable star,Algol,,${tenths},2.1,3.3,,,,,`;
  const one = await of("variable star", [
    look("2026-10-20", "22:00", 1),
    look("2026-10-21", "01:00", 1),
  ]);
  assert.deepEqual([one.numbers.length, one.decided?.answer], [1, "not shown"]);
  const two = await of("variable star", [
    look("2026-10-20", "22:00", 1),
    look("2026-10-20", "22:20", 1),
    look("2026-10-23", "22:00", 9),
    look("2026-10-23", "22:20", 9),
  ]);
  // DERIVED: 8 tenths of 1.2; 0.12 / sqrt 2, twice
  assert.match(two.says, /changed by 0\.96 ± 0\.12 magnitude/);
  assert.equal(two.decided?.answer, "yes");
});

Deno.test("an occultation: seconds against the forecast; the wrong end and the wrong day are told", async () => {
  const row = (date: string, time: string, event: string): string =>
    `${date},${time},occultation,Taygeta,${event},,,,,,,0.6,`;
  const { rows, numbers, decided } = await of("occultation", [
    row("2026-10-28", "02:51:30", "appears"),
    row("2026-10-27", "02:51:30", "appears"),
  ]);
  assert.match(rows.find(({ line }) => line === 3)?.setAside ?? "", /the Moon did not pass/);
  assert.ok(Math.abs((numbers[0]?.value.value ?? 0) - 24) < 1.5);
  assert.equal(decided?.answer, "no", "24 s with a doubt of 5");
});

Deno.test("a star's width before and after: less by more than twice the doubt, or not shown; one alone is told", async () => {
  const look = (event: string, tenths: number): string =>
    `2026-10-10,,star image,Mizar,${event},${tenths},,,,,,,`;
  const shrunk = await of("star image", [
    ...[3.5, 3, 4].map((tenths) => look("before cooling", tenths)),
    ...[1.5, 1.5, 2].map((tenths) => look("after cooling", tenths)),
  ]);
  assert.equal(shrunk.decided?.answer, "yes");
  // DERIVED: 14.6 x (0.35 - 0.1667)
  assert.equal(shrunk.numbers[2]?.value.value.toFixed(2), "2.68");
  const alike = await of("star image", [look("before cooling", 2), look("after cooling", 1.8)]);
  assert.equal(alike.decided?.answer, "not shown");
  assert.match((await of("star image", [look("before cooling", 2)])).says, /Only before cooling/);
});

Deno.test("a gap from memory says so where it stands, and a twentieth of it is in the doubt; one that was read does not", async () => {
  const row = (pair: string, right: number): string =>
    `2026-10-01,,double star,${pair},,,,,,${right},10,,`;
  const izar = await of("double star", [row("Izar", 10), row("Zeta Cancri A and B", 5)]);
  assert.deepEqual(izar.rows[0]?.cells[1], "2.90 from memory");
  // DERIVED half of what lies between it and the next, (2.9 - 1.1) / 2, and 0.05 x 2.9
  assert.equal(izar.numbers[0]?.value.u.toFixed(4), Math.hypot(0.9, 0.145).toFixed(4));
  const lyra = await of("double star", [row("Epsilon 1 Lyrae", 10), row("Zeta Cancri A and B", 5)]);
  assert.equal(lyra.rows[0]?.cells[1], "2.20");
  // DERIVED (2.2 - 1.1) / 2
  assert.equal(lyra.numbers[0]?.value.u.toFixed(2), "0.55");
  const star = (event: string, tenths: number): string =>
    `2026-10-10,,star image,Izar,${event},${tenths},,,,,,,`;
  const { numbers, rows } = await of("star image", [
    star("before cooling", 4),
    star("after cooling", 2),
  ]);
  assert.match(rows[0]?.cells[0] ?? "", /^Izar, 2\.9″ apart from memory$/);
  // DERIVED one look each: half a tenth of 2.9 for the eye, and a twentieth of 0.4 x 2.9 for the gap
  assert.equal(numbers[0]?.value.u.toFixed(4), Math.hypot(0.05 * 2.9, 0.05 * 0.4 * 2.9).toFixed(4));
});

Deno.test("no site, no number from a clock, and it says what to write; by day nothing is a target", async () => {
  const io = "2026-10-17,05:29:20,moon of jupiter,Io,vanishes,,,,,,,20,";
  const without = await of("moon of jupiter", [io], "aperture: 150 mm\nfocal_length: 1200 mm\n");
  assert.deepEqual(without.numbers, []);
  assert.match(without.says, /write site with latitude, longitude and time_zone/);
  const noon = await of("moon of jupiter", [io.replace("05:29:20", "12:00:00")]);
  assert.match(noon.rows[0]?.setAside ?? "", /the Sun was up then/);
  assert.match(noon.says, /No timing could be used/);
  const gap = await of("moon of jupiter", [io.replace("2026-10-17,05", "2026-03-29,02")]);
  assert.match(gap.rows[0]?.setAside ?? "", /leapt over that hour/);
});

Deno.test("of very many rows the latest are worked out, and it is said", async () => {
  const row = "2026-10-10,,star image,Mizar,before cooling,3,,,,,,,";
  const after = "2026-10-10,,star image,Mizar,after cooling,2,,,,,,,";
  const rows = [...Array.from({ length: 30_000 }, () => row), after];
  const { rows: told, says } = await of("star image", rows);
  assert.equal(told.length, 200);
  assert.match(says, /Only the latest 200 of 30001 rows are worked out\.$/);
});
