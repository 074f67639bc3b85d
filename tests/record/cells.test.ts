import assert from "node:assert/strict";
import { read } from "./bench.ts";

Deno.test("leaves may be added up with spaces, given as a sum, or be none", async () => {
  const { sagitta } = await read({ "sagitta.csv": "go_mm,nogo_mm\n0.88 + 0.25,1.15\n0,0.04\n" });
  assert.deepEqual(sagitta.map(({ go, nogo }) => [go, nogo]), [[[0.88, 0.25], [1.15]], [[0], [
    0.04,
  ]]]);
});

Deno.test("the same leaf in go and in no-go is no slip", async () => {
  const { sagitta } = await read({ "sagitta.csv": "go_mm,nogo_mm\n0.88+0.04,0.88+0.05\n" });
  assert.equal(sagitta.length, 1);
});

Deno.test("a decimal comma in one cell makes it the file's sign, also for stacks", async () => {
  const { sagitta } = await read({ "sagitta.csv": "go_mm;nogo_mm;chord_mm\n0,88+0,25;1,15;148\n" });
  assert.deepEqual(sagitta[0]?.go, [0.88, 0.25]);
});

Deno.test("thousandths after a comma are decimals: 1,200 in a file of commas is 1.2", async () => {
  const { zones } = await read({ "zones.csv": "run;inner_mm;outer_mm;reading_mm\n1;0;30;1,200\n" });
  assert.equal(zones[0]?.reading, 1.2);
});

Deno.test("remarks in a note keep their signs, line ends and commas", async () => {
  const note = 'wet, "loud"\nand <b>bold</b>';
  const { sun } = await read({
    "sun.csv": `distance_mm,note\n1199,"${note.replaceAll('"', '""')}"\n`,
  });
  assert.equal(sun[0]?.note, note);
});

Deno.test("optional cells left empty are absent, not zero", async () => {
  // INVENTED row
  const { sun, grinding } = await read({
    "sun.csv": "distance_mm,image_mm,date,after_min,note\n1199,,,,\n",
    "grinding.csv": "abrasive,position,minutes,strokes\nrouge,tool on top,60,\n",
  });
  assert.deepEqual(sun[0], { file: "sun.csv", line: 2, distance: 1199 });
  assert.deepEqual(Object.keys(grinding[0] ?? {}).sort(), [
    "abrasive",
    "file",
    "line",
    "minutes",
    "position",
  ]);
});

Deno.test("grades are read whatever their capitals and spaces, each to its own scale", async () => {
  const { grinding } = await read({
    "grinding.csv":
      "abrasive,position,minutes\nf80,Mirror On Top,1\n#400,mirror on top,1\nP 400,tool  on top,1\n" +
      "Cerium Oxide,tool on top,1\n",
  });
  assert.deepEqual(grinding.map(({ abrasive }) => abrasive), [
    "F80",
    "#400",
    "P400",
    "cerium oxide",
  ]);
});

Deno.test("angles are read in degrees and kept in radians", async () => {
  // INVENTED row
  const { sagitta } = await read({ "sagitta.csv": "depth_um,angle_deg\n1135,120\n" });
  assert.equal(sagitta[0]?.depth?.toFixed(12), "1.135000000000");
  assert.equal(sagitta[0]?.angle, 2 * Math.PI / 3);
});
