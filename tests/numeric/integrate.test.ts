import fc from "fast-check";
import { near } from "../references/reference.ts";
import { integrate } from "./integrate.ts";

Deno.test("integrals known in closed form, smooth and not", () => {
  // DERIVED: elementary antiderivatives
  const cases: readonly (readonly [string, (x: number) => number, number, number, number])[] = [
    ["e^x", Math.exp, 0, 1, Math.E - 1],
    ["sin", Math.sin, 0, Math.PI, 2],
    ["√x", Math.sqrt, 0, 1, 2 / 3],
    ["|x - 0.3|", (x) => Math.abs(x - 0.3), 0, 1, 0.29],
    ["1/(1+x²)", (x) => 1 / (1 + x * x), -10, 10, 2 * Math.atan(10)],
    ["a narrow peak", (x) => 1e-3 / (1e-6 + (x - 0.4) ** 2), 0, 1, Math.atan(600) + Math.atan(400)],
    ["backwards", Math.exp, 1, 0, 1 - Math.E],
    ["no width", Math.exp, 2, 2, 0],
  ];
  for (const [name, f, a, b, wanted] of cases) {
    near(integrate(f, a, b), wanted, 2e-12, name, "absolute");
  }
  near(integrate(() => 0, 0, 1), 0, 0, "zero", "absolute");
});

Deno.test("law: an integral splits anywhere", () => {
  const end = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(fc.property(end, end, end, (a, b, c) => {
    const f = (x: number): number => Math.cos(3 * x) + x * x;
    near(integrate(f, a, b) + integrate(f, b, c), integrate(f, a, c), 1e-10, "sum", "absolute");
  }));
});
