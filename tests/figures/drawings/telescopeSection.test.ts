/** The section: one scale, the cone closed on the focus, names apart, at every width. */
import assert from "node:assert/strict";
import {
  type SectionedTelescope,
  telescopeSection,
} from "../../../lib/figures/drawings/telescopeSection.ts";
import { assertFigure, type Part } from "../soundFigure.ts";
import { fiveTelescopes } from "../telescopeSamples.ts";

/** The story's own telescope, then five from 76 mm f/10 to 300 mm f/4.5. */
function telescopes(): SectionedTelescope[] {
  const story = {
    ...{ aperture: 150, focalLength: 1198.3, thickness: 25, focuserHeight: 70, flatToFocus: 178 },
    ...{ flat: 31, offset: 0.91, fullyLit: 10.1 },
    tube: { innerDiameter: 180, wall: 3, frontLength: 180 },
  };
  return [story, ...fiveTelescopes()];
}

const numbers = (part: Part | null | undefined): number[] =>
  [...(part?.getAttribute("d") ?? "").matchAll(/-?\d+(\.\d+)?/g)].map(([n]) => Number(n));

Deno.test("names and lengths stand on the sheet, and it says what it found", () => {
  const [first] = telescopes();
  assert.ok(first !== undefined);
  assertFigure(telescopeSection(first), {
    span: "wide",
    titles: [
      /focus/,
      /focuser/,
      /tube/,
      /mirror/,
      /flat/,
      /1020 from the mirror/,
      /178/,
      /one scale/,
    ],
    says: /1020 mm from the mirror.*178 mm.*flat of 31 mm.*10\.1 mm gets all the light/,
  });
});

Deno.test("the cone closes on the focus, which stands L above the axis, to one scale", () => {
  for (const telescope of telescopes()) {
    for (const svg of assertFigure(telescopeSection(telescope), { span: "wide" })) {
      const rays = [...svg.querySelectorAll("path.ray")].map(numbers);
      assert.equal(rays.length, 2);
      const [a = [], b = []] = rays;
      assert.deepEqual(a.slice(-2), b.slice(-2), "both rays end in one point");
      // DERIVED: aperture in px is the height between the parallel rays; the focus is L above their middle
      const k = ((b[1] ?? 0) - (a[1] ?? 0)) / telescope.aperture,
        axis = ((a[1] ?? 0) + (b[1] ?? 0)) / 2;
      assert.ok(Math.abs((axis - (a.at(-1) ?? 0)) / k - telescope.flatToFocus) < 0.3 / k);
      // the rays meet the flat inside its ends
      const flat = numbers([...svg.querySelectorAll("path.silvered")].at(-1));
      for (const ray of rays) {
        const x = ray[4] ?? 0;
        assert.ok(x >= (flat[0] ?? 0) - 0.2 && x <= (flat[2] ?? 0) + 0.2, "on the flat");
      }
    }
  }
});

Deno.test("no two names overlap, and none leaves the sheet", () => {
  for (const telescope of telescopes()) {
    for (const svg of assertFigure(telescopeSection(telescope), { span: "wide" })) {
      const width = Number(svg.getAttribute("width"));
      const boxes = [...svg.querySelectorAll("text")].map((text) => {
        const x = Number(text.getAttribute("x")), y = Number(text.getAttribute("y"));
        const wide = (text.textContent ?? "").length * 6.9,
          anchor = text.getAttribute("text-anchor");
        const left = x - (anchor === "end" ? wide : anchor === "middle" ? wide / 2 : 0);
        return { name: text.textContent ?? "", left, right: left + wide, top: y - 11, low: y + 3 };
      });
      // leads and lengths run beside the names, not through them
      const upright = [...svg.querySelectorAll("path.lead"), ...svg.querySelectorAll("path.dim")]
        .map(numbers).filter(([x0, , x1]) => x0 === x1);
      for (const box of boxes) {
        for (const [x = 0, y0 = 0, , y1 = 0] of upright) {
          const through = x > box.left + 1 && x < box.right - 1 && Math.min(y0, y1) < box.low - 2 &&
            Math.max(y0, y1) > box.top + 3;
          assert.ok(!through, `a stroke at ${x} runs through ${box.name}, ${width} px`);
        }
        assert.ok(
          box.left >= -1 && box.right <= width + 2,
          `${box.name} at ${box.left} to ${box.right} of ${width}`,
        );
        for (const other of boxes) {
          const apart = other === box || other.left >= box.right || other.right <= box.left ||
            other.top >= box.low || other.low <= box.top;
          assert.ok(apart, `${box.name} over ${other.name}, ${width} px`);
        }
      }
    }
  }
});

Deno.test("a field below zero is said, not drawn", () => {
  const [first] = telescopes();
  assert.ok(first !== undefined);
  const shown = telescopeSection({ ...first, flat: 20, fullyLit: -8 });
  assert.match(shown.text, /no point of the field gets all the light/);
});

Deno.test("refuses a flat behind the focus, and lengths of nothing", () => {
  const [first] = telescopes();
  assert.ok(first !== undefined);
  assert.throws(
    () => telescopeSection({ ...first, flatToFocus: 1300 }),
    /between mirror and focus/,
  );
  assert.throws(() => telescopeSection({ ...first, aperture: 0 }), RangeError);
  assert.throws(() => telescopeSection({ ...first, offset: NaN }), RangeError);
});
