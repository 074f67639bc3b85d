/** Abrasives as people call them: understood, or asked about with three names at most, the likeliest first. */
import assert from "node:assert/strict";
import { findAbrasive } from "../../lib/record/abrasiveNames.ts";
import { abrasives } from "../../lib/record/tables.ts";
import { read, refusals } from "./bench.ts";

const meant = (text: string): string => findAbrasive(text).name ?? findAbrasive(text).mend;

Deno.test("a grade is found by its letter, and asked for where it has none, coarse first", () => {
  assert.equal(meant(" f 1200"), "F1200");
  assert.equal(meant("F-80"), "F80");
  assert.equal(meant("ROUGE"), "rouge");
  assert.equal(meant("ceria"), "cerium oxide");
  assert.equal(meant("400"), "which scale: P400, #400 or F400?");
  assert.equal(meant("80"), "which scale: F80?");
});

Deno.test("a number that its scale has not is the same number of another, not the same letters", () => {
  assert.equal(meant("#80"), "did you mean F80?");
  assert.equal(meant("P80"), "did you mean F80?");
  assert.equal(meant("F81"), "did you mean F80, F90 or F70?");
  assert.equal(meant("F8O"), "did you mean F80?");
  assert.equal(meant("#8000"), "#8000");
});

Deno.test("sizes in microns are asked about by size", () => {
  for (const text of ["25 micron", "25 um", "25µm", "alumina 25 microns"]) {
    assert.equal(meant(text), "by its size, is it #500 (25 um), F360 (22.8 um) or F320 (29.2 um)?");
  }
  assert.match(meant("9 um"), /^by its size, is it F600 \(9\.3 um\), /);
  assert.doesNotMatch(meant("30 um"), /P\d/, "papers grind no glass");
});

Deno.test("a material before or behind a number does not hide it", () => {
  for (const text of ["SiC 80", "80 SiC", "silicon carbide 80", "80 grit", "grit no. 80"]) {
    assert.equal(meant(text), "which scale: F80?", text);
  }
});

Deno.test("never more than three names, whatever was typed", () => {
  const names = abrasives().map(({ name }) => name);
  for (
    const text of [
      "sand",
      "x",
      "12",
      "1",
      "99999",
      "7 um",
      "0.1 um",
      "#",
      "F",
      "grit",
      "",
      "SiC",
      "F10000",
    ]
  ) {
    const { mend } = findAbrasive(text);
    const offered = mend.split(/[ ,?()]+/).filter((word) => names.includes(word));
    assert.ok(offered.length <= 3 && mend.length < 120, `${text}: ${mend}`);
  }
});

Deno.test("in a log: #80 at the head of a line is a grade, refused with its neighbour", async () => {
  const head = "abrasive,position,minutes\n";
  const [told] = await refusals({ "grinding.csv": `${head}#80,mirror on top,20\n` });
  assert.match(told?.message ?? "", /did you mean F80\?$/);
  const { grinding } = await read({ "grinding.csv": `${head}f 80,mirror on top,20\n` });
  assert.equal(grinding[0]?.abrasive, "F80");
});
