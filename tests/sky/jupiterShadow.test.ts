/** Eclipses of Jupiter's moons: by a second theory, and by laws of their own. */
import assert from "node:assert/strict";
import { findRoot } from "../../lib/numeric/rootFinding.ts";
import { jupiterShadows } from "../../lib/sky/jupiterShadow.ts";
import { JUPITER_MOONS } from "../../lib/sky/tonight.ts";
import { fromShadowEdge, jde, toDate } from "./secondRoute.ts";

const MINUTE = 60_000;

Deno.test("every eclipse of forty days by theory E5 as seen from the Sun", async () => {
  const events = await jupiterShadows(
    new Date("2026-10-10T00:00:00Z"),
    new Date("2026-11-19T00:00:00Z"),
  );
  const worst = new Map(JUPITER_MOONS.map((moon) => [moon, 0]));
  for (const { moon, half } of events) {
    const day = jde(half.toISOString()), k = JUPITER_MOONS.indexOf(moon);
    // CROSS-CHECK tests/sky/secondRoute.ts: astronomia 4.2.0, theory E5 (Meeus 1998, chapter 44) seen from the Sun
    const other = toDate(findRoot((t) => fromShadowEdge(k, t), day - 0.03, day + 0.03, 1e-6));
    const off = Math.abs(half.getTime() - other.getTime()) / 1000;
    worst.set(moon, Math.max(worst.get(moon) ?? 0, off));
  }
  // DERIVED: periods 1.769, 3.551, 7.155, 16.69 days: 22, 11, 5 and 2 eclipses of two ends each, one more or less
  const count = JUPITER_MOONS.map((moon) => events.filter((one) => one.moon === moon).length);
  [44, 22, 11, 5].forEach((wanted, i) =>
    assert.ok(Math.abs((count[i] ?? 0) - wanted) <= 2, `${count}`)
  );
  // measured 9, 51, 21 and 126 s, 0.002 to 0.015 of the planet's radius; 0.02 of it at 17.3, 13.7, 10.9 and 8.2 km/s
  const most = [82, 104, 131, 174];
  JUPITER_MOONS.forEach((moon, i) =>
    assert.ok((worst.get(moon) ?? NaN) < (most[i] ?? 0), `${[...worst]}`)
  );
});

Deno.test("before opposition the shadow lies west; a moon is wholly dark after the half, and before it comes back", async () => {
  const events = await jupiterShadows(
    new Date("2026-11-01T00:00:00Z"),
    new Date("2026-11-10T00:00:00Z"),
  );
  for (const { moon, event, half, dark, side } of events) {
    assert.notEqual(side, "east", `${moon} ${half.toISOString()}`);
    const later = (dark.getTime() - half.getTime()) / MINUTE;
    // DERIVED: Io's half-width of 1821 km at 17.3 km/s is 105 s, Callisto's 2410 km at 8.2 km/s and a slant some five minutes
    assert.ok(event === "vanishes" ? later > 1 : later < -1, `${moon} ${later}`);
    assert.ok(Math.abs(later) < 10);
    if (moon === "Io") assert.ok(Math.abs(Math.abs(later) - 1.75) < 0.2, `${later}`);
  }
});

Deno.test("after opposition it lies east; what is behind the planet is told as hidden", async () => {
  const events = await jupiterShadows(
    new Date("2027-04-01T00:00:00Z"),
    new Date("2027-04-10T00:00:00Z"),
  );
  assert.ok(events.some(({ side }) => side === "east"));
  assert.ok(events.every(({ side }) => side !== "west"));
  const io = events.filter(({ moon }) => moon === "Io");
  assert.ok(io.some(({ side, event }) => side === "hidden" && event === "vanishes"));
});

Deno.test("refuses an end before the beginning, and dates out of range", async () => {
  const now = new Date("2026-11-01T00:00:00Z");
  await assert.rejects(jupiterShadows(now, now), /an end within 40 days/);
  await assert.rejects(jupiterShadows(now, new Date("2027-11-01")), /an end within 40 days/);
  await assert.rejects(jupiterShadows(new Date("1700-01-01"), now), /1900 to 2100, got 1700/);
});
