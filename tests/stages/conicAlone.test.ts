import assert from "node:assert/strict";
import { conicAlone, conicBeside } from "../../lib/stages/conicAlone.ts";
import { reducedDays } from "../../lib/stages/zones.ts";
import { demo as asha } from "./mirrors.ts";

Deno.test("the conic alone: a smaller P-V on each day, and a yes on the day that shows nothing", () => {
  reducedDays(asha).forEach(({ found }, i) => {
    const alone = conicAlone(asha, i);
    assert.ok(alone.pv < found.wavefrontPv.value);
    assert.ok(alone.u > 0.005 && alone.u < found.wavefrontPv.u);
  });
  // CROSS-CHECK numpy 1.24.2 / scipy 1.10.1: a line through the means of 19 June against (a² + b²) / 2, K = -2 R x its
  // slope, P-V = (1 + K) 148⁴ / (2048 (R/2)³ 550e-6), R 2396.612, Student's t of 10: 0.21894, 0.011315, 0.98968
  const { pv, u, probability } = conicAlone(asha, 1);
  assert.ok(Math.abs(pv - 0.21894) < 1e-5 && Math.abs(u - 0.011315) < 1e-5, `${pv}, ${u}`);
  assert.ok(Math.abs(probability - 0.98968) < 1e-4, String(probability));
  assert.match(
    conicBeside(asha).text,
    /2026-06-19 \| [\d.]+ \| not shown \| [\d.]+ \| 0\.9\d \| yes/,
  );
});
