/** Saturn: sizes grow with the magnification; mirror, flat and air take its detail, and nothing else does. */
import assert from "node:assert/strict";
import { inflateSync } from "node:zlib";
import { saturnSeen, type SaturnView } from "../../../lib/figures/drawings/saturnSeen.ts";
import { assertWellFormed } from "../soundFigure.ts";

const view: SaturnView = {
  aperture: 150,
  ringsArcsec: 44.7,
  globeArcsec: 19.7,
  ringTilt: 0.4,
  magnifications: [48, 120, 400],
  seeingArcsec: [0, 3],
};

interface Seen {
  readonly shown: number;
  readonly width: number;
  readonly height: number;
  /** light, row after row: the screen's curve taken back */
  readonly light: Float64Array;
}

/** Every picture of a figure, unpacked by another program's inflate. */
function picturesOf(html: string): Seen[] {
  return [...html.matchAll(/style="width:(\d+)px[^"]*" src="data:image\/png;base64,([^"]+)"/g)]
    .map(([, shown, code = ""]) => {
      const bytes = Uint8Array.from(atob(code.replaceAll("%4E", "N")), (c) => c.charCodeAt(0));
      const at = new DataView(bytes.buffer), width = at.getUint32(16), height = at.getUint32(20);
      const rows = inflateSync(bytes.subarray(41, 41 + at.getUint32(33)));
      const light = Float64Array.from({ length: width * height }, (_, i) => {
        const y = Math.floor(i / width), x = i % width;
        return ((rows[y * (2 * width + 1) + 1 + 2 * x] ?? 0) / 255) ** 2.2;
      });
      return { shown: Number(shown), width, height, light };
    });
}

/** How dark the thin gap is between the rings, at their tip: 0 none, 1 black. */
function gapOf({ width, height, light }: Seen): number {
  const row = Math.floor(height / 2) * width, half = width / 2, edge = half / 1.25;
  const between = (from: number, to: number): number[] =>
    Array.from(
      light.subarray(Math.round(row + half + from * edge), Math.round(row + half + to * edge)),
    );
  const outer = Math.max(...between(0.9, 0.99)), inner = Math.max(...between(0.7, 0.84));
  return 1 - Math.min(...between(0.85, 0.9)) / Math.min(outer, inner);
}

Deno.test("it says what grows and what stays, names every row, and tells whose mirror it is", () => {
  const { html, text } = saturnSeen({ ...view, obstruction: 0.207, mirror: "this mirror" });
  assertWellFormed(html);
  for (const name of ["48×", "120×", "400×", "still air", "air that blurs by 3″"]) {
    assert.ok(html.includes(`>${name}<`), name);
  }
  assert.match(
    text,
    /48 and 120 and 400 times through 150 mm, this mirror, behind a flat of 0\.21.*0\.92″ stays/,
  );
  assert.equal([...html.matchAll(/alt="Saturn at \d+ times, [^"]+, simulated\."/g)].length, 6);
});

Deno.test("every picture is as wide as in the eyepiece, and the rings fill their share of it", () => {
  const pictures = picturesOf(saturnSeen(view).html);
  assert.equal(pictures.length, 6);
  pictures.forEach(({ shown, width, height, light }, i) => {
    // DERIVED: 1.25 x 44.7" x M / 3600 degrees, at 600 mm and 96 px an inch
    const px = (1.25 * 44.7 * (view.magnifications[i % 3] ?? 0)) / 3600 * Math.PI / 180 * 600 *
      (96 / 25.4);
    assert.ok(Math.abs(shown - px) <= 0.5, `${shown} ${px}`);
    const row = Array.from(light.subarray(Math.floor(height / 2) * width).subarray(0, width));
    const first = row.findIndex((value) => value > 0.25);
    const last = row.findLastIndex((value) => value > 0.25);
    // DERIVED: the rings are 1 / 1.25 of the picture
    assert.ok(i > 2 || Math.abs((last - first + 1) / width - 0.8) < 0.06, `${first} to ${last}`);
  });
});

Deno.test("the gap in the rings: there in still air, gone in bad, paler behind a flat and with a bad wavefront", () => {
  const large = (more: Partial<SaturnView>): number => {
    const [picture] = picturesOf(
      saturnSeen({ ...view, magnifications: [400], seeingArcsec: [0], ...more }).html,
    );
    assert.ok(picture !== undefined);
    return gapOf(picture);
  };
  const perfect = large({}), wide = large({ aperture: 300 });
  assert.ok(perfect > 0.15 && wide > perfect + 0.1, `${perfect}, ${wide}`);
  assert.ok(large({ seeingArcsec: [3] }) < 0.03);
  const half = (q: number): number => 2 * (q * q - q);
  assert.ok(large({ waves: half }) < perfect - 0.05, `${large({ waves: half })}`);
  assert.ok(large({ waves: half, obstruction: 0.3 }) < perfect);
  // a wavefront of nothing is a perfect mirror
  assert.ok(Math.abs(large({ waves: () => 0.25 }) - perfect) < 0.01);
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => saturnSeen({ ...view, aperture: 0 }), RangeError);
  assert.throws(() => saturnSeen({ ...view, magnifications: [] }), RangeError);
  assert.throws(() => saturnSeen({ ...view, globeArcsec: 50 }), /a globe within its rings/);
  assert.throws(() => saturnSeen({ ...view, seeingArcsec: [-1] }), /blur of 0 or more/);
  assert.throws(() => saturnSeen({ ...view, obstruction: 1 }), RangeError);
});
