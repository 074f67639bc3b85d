// deno-lint-ignore-file no-console
/** Sixty photographs by diffraction, spoilt as a phone spoils them: what the fit makes of each, and whether its intervals hold. */
import { faults, held, LEAST_HELD, lineOf, tableOf } from "../testing/photoBounds.ts";
import { caseOf, judge, type Judged, WHOLE } from "../testing/photoTrial.ts";

const only = Deno.args[0] ?? "", all: Judged[] = [];
let seed = 0;
for (const [kind, cases] of WHOLE) {
  for (let n = 0; n < cases; n++, seed++) {
    if (!kind.startsWith(only)) continue;
    const found = await judge(caseOf(seed, kind));
    all.push(found);
    console.log(`${String(seed).padStart(2)} ${lineOf(found)}`);
  }
}

console.log(
  "\n| kind | good | glass, nm RMS | K | offset, mm | CPU s |      middle / worst\n|---|---|---|---|---|---|",
);
for (const line of tableOf(all)) console.log(line);
const quantities = ["conic", "pv", "rms", "strehl"] as const;
const shares = quantities.map((of) => held(all, of));
console.log(
  `\n95 % intervals that hold: ${
    quantities.map((q, i) => `${q} ${((shares[i] ?? 0) * 100).toFixed(0)} %`).join(", ")
  }`,
);
const together = shares.reduce((a, b) => a + b, 0) / shares.length;
const wrong = all.filter((found) => faults(found).length > 0).length;
console.log(
  `together ${(100 * together).toFixed(0)} %; ${wrong} of ${all.length} reductions beyond a bound`,
);
if (wrong > 0 || together < LEAST_HELD) Deno.exit(1);
