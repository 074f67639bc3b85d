// deno-lint-ignore-file no-console
/** Two-, three- and fourfold figures of mirror and stand parted by bands with the mirror turned: pictures of numpy's (`bandsBench.py`). */
import { spawnSync } from "node:child_process";
import { openMirror, recordsFolder } from "../../lib/knowledge/open.ts";
import { photoFigures } from "../../lib/knowledge/photoFigures.ts";
import { hasNumpy, python } from "../machine.ts";
import { demoPhoto } from "../record/demoPhoto.ts";
import { otherDice } from "../testing/photoOther.ts";

/** Dice of the last run, and how many benches. */
const [FIRST = 9100, COUNT = 3] = Deno.args.map(Number);

const NAMES = ["astigmatism", "threefold", "fourfold"] as const;

type Fault = readonly [turns: number, height: number, axis: number];

if (!hasNumpy) {
  console.log("python3 with numpy is not here: no bands are made");
  Deno.exit(0);
}
const demo = await openMirror(`${recordsFolder}/demo-150-f8`), [row] = demo.record.ronchi;
if (row === undefined) throw new Error("the demo has no bands");
let within = 0, held = 0, told = 0, all = 0;
for (let seed = FIRST; seed < FIRST + COUNT; seed++) {
  const dice = otherDice(seed);
  // INVENTED heights at the rim, nm, and axes, degrees from mark or top
  const faultsOf = (most: number): readonly Fault[] =>
    [2, 3, 4].map((n) => [n, dice.from(0.4 * most, most), dice.from(0, 360 / n)] as const);
  const mirror = faultsOf(60), stand = faultsOf(35), lean = dice.from(-20, 20);
  const views = [0, dice.from(32, 55)].flatMap((mark) =>
    [lean, lean + 45].flatMap((turn) => [-7.8, 9].map((offset) => ({ mark, turn, offset })))
  );
  const { aperture, radius, linesPerMm } = demoPhoto;
  const bench = { aperture, radius, lines: linesPerMm, seed, conic: dice.from(-1.2, -0.7) };
  const script = new URL("../testing/bands/bandsBench.py", import.meta.url).pathname;
  const { stdout, status } = spawnSync(python, [script], {
    input: JSON.stringify({ ...bench, views, mirror, stand }),
    env: { OPENBLAS_NUM_THREADS: "1" },
    maxBuffer: 1e9,
  });
  if (status !== 0) throw new Error("numpy made no pictures");
  const made: { width: number; height: number; grey: string }[] = JSON.parse(stdout.toString());
  const photos = new Map(made.map(({ width, height, grey }, n) => [
    `photos/${n}.png`,
    { width, height, values: Float32Array.from(atob(grey), (c) => c.charCodeAt(0) / 255) },
  ]));
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
  for (
    const [whose, faults, wantedOnes] of [
      ["mirror", parted?.mirror, mirror],
      ["stand", parted?.rest, stand],
    ] as const
  ) {
    NAMES.forEach((name, k) => {
      const [times, height, axis] = wantedOnes[k] as Fault, found = faults?.[name];
      all++;
      // DERIVED wavefront RMS of that height: twice the glass over root 2 (n + 1), in waves of 550 nm
      const wanted = (2 * height) / Math.sqrt(2 * times + 2) / 550, whole = 360 / times;
      if (found?.amount.u === undefined) {
        console.log(`${seed} ${whose} ${name}: not told (${wanted.toFixed(4)} wave)`);
        return;
      }
      told++;
      const off = ((found.axis.value - axis + 1.5 * whole) % whole) - whole / 2;
      const miss = Math.hypot(
        found.amount.value * Math.cos((times * off * Math.PI) / 180) - wanted,
        found.amount.value * Math.sin((times * off * Math.PI) / 180),
      );
      if (miss < 0.01) within++;
      const [low, high] = found.interval95;
      if (wanted >= low && wanted <= high) held++;
      console.log(
        `${seed} ${whose} ${name}: ${found.amount.value.toFixed(4)} ± ${
          found.amount.u.toFixed(4)
        } wave where ${wanted.toFixed(4)} is true, ${off.toFixed(1)} degrees off`,
      );
    });
  }
}
console.log(
  `${told} of ${all} told, ${within} missed by under 0.01 wave RMS, ${held} amounts in their 95 %`,
);
if (told < 0.9 * all || within < 0.9 * told) {
  console.log("BEYOND: figures with a direction are told wrongly or not at all");
  Deno.exit(1);
}
