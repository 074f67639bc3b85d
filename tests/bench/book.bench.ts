// deno-lint-ignore-file no-console
/** The demo's whole book beside `nbconvert --execute --to html` of the same notebooks on the same record, by the clock. */
import { join } from "node:path";
import { buildBook } from "../../lib/book/build.ts";
import { hasNbconvert } from "../machine.ts";
import { RECORDS } from "../notebooks/books.ts";
import { htmlByJupyter } from "../notebooks/jupyter.ts";
import { seconds } from "./clock.ts";
import { noteRatio } from "./ratios.ts";

const folder = await Deno.makeTempDir({ prefix: "first-mirror-bench-" });
try {
  for (let round = 1; round <= 2; round++) {
    const out = join(folder, `book${round}`);
    const ours = await seconds(() => buildBook({ record: RECORDS.finished, out }));
    if (!hasNbconvert) {
      console.log(`the whole book: ${ours.toFixed(1)} s (nbconvert is not here)`);
      continue;
    }
    const theirs = await seconds(() => htmlByJupyter("finished", join(folder, `html${round}`)));
    const ratio = ours / theirs;
    if (round === 2) {
      noteRatio({ what: "the demo's whole book", beside: "nbconvert --execute --to html", ratio });
    }
    console.log(
      `the whole book, round ${round}: ${ours.toFixed(1)} s, nbconvert's pages ${
        theirs.toFixed(1)
      } s, ratio ${ratio.toFixed(2)}`,
    );
  }
} finally {
  await Deno.remove(folder, { recursive: true });
}
