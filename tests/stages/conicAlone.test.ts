import assert from "node:assert/strict";
import { conicAlone, conicBeside } from "../../lib/stages/conicAlone.ts";
import { reducedDays } from "../../lib/stages/zoneDays.ts";
import { demo as asha } from "./mirrors.ts";

Deno.test("the conic alone: a smaller P-V on each day, and sure on the two days that show nothing", () => {
  reducedDays(asha).forEach(({ found, rows }, i) => {
    const alone = conicAlone(asha, i);
    assert.ok(alone.pv < found.wavefrontPv.value);
    // DERIVED: about 0.0107 from 15 readings, and u falls with the root of their number
    assert.ok(alone.u > 0.01 * Math.sqrt(15 / rows.length) && alone.u < found.wavefrontPv.u);
  });
  // CROSS-CHECK numpy 1.24.2 / scipy 1.10.1: a line through the means of a day against (a² + b²) / 2, K = -2 R x its
  // slope, P-V = (1 + K) 148⁴ / (2048 (R/2)³ 550e-6), R 2396.612; scatter of what zones and runs leave, Student's t of 8:
  // 0.27033, 0.010813, 0.04843 on 12 June; 0.21894, 0.010560, 0.99067 on 19 June
  const read = [[0.27033, 0.010813, 0.04843], [0.21894, 0.01056, 0.99067]] as const;
  read.forEach(([wanted, wantedU, chance], day) => {
    const { pv, u, probability } = conicAlone(asha, day);
    assert.ok(Math.abs(pv - wanted) < 1e-5 && Math.abs(u - wantedU) < 1e-5, `${pv}, ${u}`);
    assert.ok(Math.abs(probability - chance) < 1e-4, String(probability));
  });
  const { text } = conicBeside(asha);
  assert.match(text, /2026-06-12 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.05 \| no/);
  assert.match(text, /2026-06-19 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.9\d \| yes/);
  assert.match(text, /2026-06-26 and 27 \| [\d.]+ \| yes/);
});
