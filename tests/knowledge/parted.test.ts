/** Bands with the mirror turned in its stand: what turned is the mirror's, what stayed is the stand's. */
import assert from "node:assert/strict";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { partedSummary } from "../../lib/knowledge/parted.ts";
import { photoFigures } from "../../lib/knowledge/photoFigures.ts";
import { close } from "../optics/close.ts";
import { demoPhoto } from "../record/demoPhoto.ts";
import { makePhoto } from "../testing/photoGenerator.ts";

/** INVENTED astigmatism and four waves of glass: turns, height at the rim, nm, and the axis, degrees from mark or top. */
const MIRROR = [[2, 60, 25], [4, 40, 10]] as const, STAND = [[2, 40, 70], [4, 25, 60]] as const;

Deno.test("four photographs in each of two seats part the mirror's two- and fourfold figures from the stand's", async () => {
  const demo = await openMirror(`${recordsFolder}/demo-150-f8`), [row] = demo.record.ronchi;
  assert.ok(row !== undefined);
  const half = demoPhoto.aperture / 2, degree = Math.PI / 180;
  // lines that lean by 12 degrees in the first: what is told is from the picture's own right all the same
  const views = [0, 40].flatMap((mark) =>
    [12, 57].flatMap((turn) => [-7.8, 9].map((offset) => ({ mark, turn, offset })))
  );
  const photos = new Map(views.map(({ mark, turn, offset }, n) => {
    const error = (x: number, y: number): number => {
      const q = (x * x + y * y) / (half * half), theta = Math.atan2(y, x) / degree - 90;
      const of = (faults: typeof MIRROR | typeof STAND, from: number): number =>
        faults.reduce(
          (sum, [n, height, axis]) =>
            sum + height * q ** (n / 2) * Math.cos(n * degree * (theta - from - axis)),
          0,
        );
      return (demoPhoto.error?.(x, y) ?? 0) + of(MIRROR, mark) + of(STAND, 0);
    };
    const small = { ...demoPhoto, width: 220, height: 200, x: 108, y: 102, r: 80 };
    const made = { ...small, light: [550], error, turn, offset, seed: 70 + n };
    return [`photos/${n}.png`, makePhoto(made)] as const;
  }));
  const record = {
    ...demo.record,
    grinding: [],
    diary: [],
    ronchi: views.map(({ mark, offset }, n) => ({
      ...{ ...row, line: n + 2, photo: `photos/${n}.png`, angleDeg: mark },
      ...{ offset: Math.round(offset), linesPerMm: demoPhoto.linesPerMm },
    })),
  };
  const { parted } = photoFigures(record, demo.summary.curve, photos);
  for (const [faults, wantedOnes] of [[parted?.mirror, MIRROR], [parted?.rest, STAND]] as const) {
    for (const [times, height, axis] of wantedOnes) {
      const found = times === 2 ? faults?.astigmatism : faults?.fourfold;
      // DERIVED wavefront RMS of that height: twice the glass over root six or ten, in waves of 550 nm
      const wanted = (2 * height) / Math.sqrt(2 * times + 2) / 550, u = found?.amount.u ?? NaN;
      assert.ok(u < 0.4 * wanted, `${u} beside ${wanted}`);
      close(found?.amount.value ?? NaN, wanted, 3 * u);
      const whole = 360 / times;
      const off = (((found?.axis.value ?? NaN) - axis + 1.5 * whole) % whole) - whole / 2;
      assert.ok(Math.abs(off) < 3 * (found?.axis.u ?? NaN) + 1, `${off} degrees off`);
    }
  }
});

Deno.test("a mirror that was not turned is not parted", () => {
  const one = { mark: 0, components: [0.1, 0] as const, u: 0.01 };
  assert.equal(
    partedSummary({ astigmatism: [one, one], threefold: [], fourfold: [] }, "ronchi.csv"),
    undefined,
  );
});
