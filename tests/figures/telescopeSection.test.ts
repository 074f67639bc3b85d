/** The section: one scale, the cone closed on the focus, names apart, at every width. */
import assert from "node:assert/strict";
import { type SectionedTelescope, telescopeSection } from "../../lib/figures/telescopeSection.ts";
import { layOut } from "../../lib/telescope/layout.ts";
import { assertFigure, type Part } from "./soundFigure.ts";

/** Aperture, focal length, tube, wall, focuser, margin, field: five telescopes. */
const FIVE = [
  [150, 1198.3, 180, 3, 70, 15, 8],
  [200, 1200, 230, 5, 70, 15, 10],
  [150, 750, 180, 3, 60, 10, 15],
  [250, 1250, 290, 6, 60, 15, 15],
  [114, 900, 140, 3, 60, 15, 8],
] as const;

function telescopes(): SectionedTelescope[] {
  return FIVE.map(([aperture, focalLength, innerDiameter, wall, height, margin, fullyLit]) => {
    const bend = { innerDiameter, wall, height, margin }, flats = [25, 31, 35, 40, 46, 50, 63, 70];
    const plan = layOut({ aperture, focalLength, bend, fullyLit, flats });
    return {
      ...{ aperture, focalLength, thickness: aperture / 6, focuserHeight: height },
      tube: { innerDiameter, wall, frontLength: innerDiameter },
      ...{ flatToFocus: plan.flatToFocus, flat: plan.flat },
      ...{ offset: plan.offset, fullyLit: plan.fullyLit },
    };
  });
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
      for (const box of boxes) {
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
