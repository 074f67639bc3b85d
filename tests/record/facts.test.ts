/** The shared facts: sound rows, and none that the kit's own models contradict. */
import assert from "node:assert/strict";
import { REFOCUSED_RADIUS, SUPPORTS } from "../../lib/telescope/cell.ts";
import { cooling, minutesToCool, STILL_AIR } from "../../lib/telescope/cooling.ts";
import { abrasives, decisions, fact, factRow, facts, glasses } from "../../lib/record/tables.ts";
import { polishPressure, polishRate, polishTime } from "../../lib/shaping/lap/polish.ts";
import { pitchNeeded, usualLap } from "../../lib/shaping/lap/lap.ts";
import { chargeOf } from "../../lib/shaping/grinding/ladder.ts";
import { chordRoutine, minutesOf, turning } from "../../lib/shaping/grinding/routine.ts";
import { closedWear, wearSettings } from "../../lib/shaping/grinding/wearLaws.ts";

const degree = Math.PI / 180;

Deno.test("every row is sound: a range round its value, a known unit, a word on how it is known", () => {
  assert.equal(facts().length, 143);
  for (const { name, value, low, high, whatFor, provenance } of facts()) {
    assert.match(name, /^[a-z0-9_]+$/);
    assert.ok((low ?? value) <= value && value <= (high ?? value), name);
    assert.ok(whatFor.length > 10, name);
    assert.match(provenance, /^(kit: |derived: |unsure: |common practice)/, name);
  }
});

Deno.test("no name stands twice, here and among the decisions", () => {
  const names = [...facts(), ...decisions()].map(({ name }) => name);
  assert.deepEqual(names.filter((name, i) => names.indexOf(name) !== i), []);
});

Deno.test("from the warm bath to the pour: an eighth of the warmth, as the time in which two thirds go says", () => {
  // DERIVED: exp(-t / T), T = 89 min / ln 3
  const lost = 1 - Math.exp(-fact("pour_within") * Math.log(3) / fact("third"));
  assert.ok(Math.abs(lost - 1 / 8) < 0.02, `${lost}`);
});

Deno.test("a fact is asked for by its name", () => {
  assert.equal(fact("press_cold"), 15);
  assert.deepEqual([factRow("press_cold").low, factRow("press_cold").high], [10, 30]);
  assert.throws(
    () => fact("pres_cold"),
    /fact requires a name of data\/tables\/facts\.csv, got pres_cold; near: press_cold/,
  );
});

Deno.test("the rule of turning and the strokes are those that the wear model grinds by", () => {
  assert.deepEqual(
    [turning.strokes, turning.upper / degree, turning.lower / degree].map(Math.round),
    ["turn_strokes", "turn_upper", "turn_lower"].map(fact),
  );
  const { offset, travel } = chordRoutine(150);
  assert.equal(offset / 150, fact("stroke_side"));
  assert.equal((travel / 150).toFixed(4), fact("stroke_length").toFixed(4));
  assert.equal(minutesOf(fact("pace"), chordRoutine(150)), 1);
});

Deno.test("rates, charges and pitch are the models' own", () => {
  const hour = closedWear(wearSettings(150), chordRoutine(150), 60 * fact("pace")).upperSagitta;
  const perMinute = 1000 * hour / 60, { low = NaN, high = NaN } = factRow("rate_f80");
  assert.ok(perMinute > low && perMinute < high, `${perMinute}`);
  const grams = (name: string): number => {
    const grade = abrasives().find((row) => row.name === name);
    return grade === undefined ? NaN : chargeOf(grade, 150).grams;
  };
  const charges: readonly (readonly [string, string])[] = [
    ...[["F80", "charge_coarse"], ["F120", "charge_coarse"], ["F220", "charge_middle"]] as const,
    ...[["F320", "charge_fine"], ["F500", "charge_fine"]] as const,
    ...[["F800", "charge_finest"], ["F1200", "charge_finest"]] as const,
  ];
  for (const [grade, name] of charges) assert.equal(grams(grade), fact(name), grade);
  const lap = usualLap(150), pitch = pitchNeeded(lap);
  assert.equal(Math.round(pitch.grams), fact("pitch_needed"));
  assert.ok(pitch.melt.most > fact("pitch_melt") && pitch.melt.least < fact("pitch_melt"));
  assert.deepEqual(
    [lap.thickness, lap.spacing, lap.channel, lap.spacing - lap.channel, ...lap.offset],
    ["lap_thickness", "facet_spacing", "channel", "facet", "grid_off_x", "grid_off_y"].map(fact),
  );
});

Deno.test("hours of polish: the demo's pits by the rate of the model, at the edge, a factor of two either way", () => {
  const rate = polishRate({ wearPerPa: 1e-12, loadKg: 3.25, aperture: 150, metrePerSecond: 0.2 });
  assert.ok(polishPressure(fact("press_polish"), 150) > 1500);
  const { edge } = polishTime({ pits: { least: 5, most: 5 }, rate, edgeShare: 0.9 / 1.3 });
  const { value, low, high } = factRow("polish_hours");
  assert.deepEqual([edge.hours, edge.least].map((h) => Number(h.toFixed(1))), [value, low]);
  assert.equal(Math.round(edge.most), high);
});

Deno.test("waits: 25 mm of soda-lime in still air, and one time constant is no readiness", () => {
  const glass = glasses().find(({ name }) => name === "soda-lime");
  assert.ok(glass);
  const { densityKgPerM3, heatJPerKgK, conductivityWPerMK } = glass;
  const disc = { thickness: 25, densityKgPerM3, heatJPerKgK, conductivityWPerMK };
  const { timeConstant } = cooling(disc, STILL_AIR);
  const near = (name: string, minutes: number): void =>
    assert.ok(Math.abs(fact(name) - minutes) < 5, `${name}: ${minutes.toFixed(0)} min`);
  near("third", timeConstant);
  for (const off of [1, 2, 5, 10]) near(`wait_${off}`, minutesToCool(timeConstant, off, 0.25));
  near("bands_less", minutesToCool(timeConstant, 1, 0.25));
  // DERIVED the other way, without the library: density x heat x thickness / 2 / 5 W/m2K = 5250 s, and its logarithm of 8
  assert.ok(Math.abs(fact("wait_2") / (2500 * 840 * 0.0125 / 5 / 60 * Math.log(8)) - 1) < 0.03);
});

Deno.test("touched glass: warmth crosses it in the square of its thickness over the diffusivity", () => {
  // DERIVED 0.025^2 / (1.0 / (2500 x 840)) = 1312 s = 21.9 min once across; half as long again for what is left of it
  const across = 0.025 ** 2 / (1.0 / (2500 * 840)) / 60;
  assert.ok(fact("touch_bare") > across && fact("touch_bare") < 2 * across, `${across}`);
  assert.equal(fact("bath_stand"), fact("touch_bare"));
});

Deno.test("the cell's three pads stand where the kit holds a mirror up", () => {
  assert.equal(SUPPORTS[3][0]?.radius, fact("pad_radius"));
  assert.ok(REFOCUSED_RADIUS >= (factRow("pad_radius").low ?? 1));
});
