/** Who may not work beside whom on one evening, by what lies on the benches. */
import assert from "node:assert/strict";
import { openClass } from "../../lib/knowledge/classOfRecords.ts";
import { mixedRoom } from "../../lib/knowledge/classRoom.ts";
import { COARSE_UM, grainUm, ladder } from "../../lib/knowledge/rules.ts";
import { tellClass } from "../../lib/knowledge/tellClass.ts";
import { mindFirst } from "../../lib/stages/many.ts";
import { kestrelLane } from "../record/classBench.ts";

const many = await openClass(kestrelLane);

Deno.test("coarse is F80 to F220: the grades that the course grinds with 6 kg", () => {
  const coarse = ["F80", ...ladder].filter((grade) => (grainUm(grade) ?? 0) >= COARSE_UM);
  assert.deepEqual(coarse, ["F80", "F120", "F220"]);
});

Deno.test("the demo's twelve: three with coarse grains, seven with fine work, two with none on the bench", () => {
  const numbers = (kind: "coarse" | "fine" | undefined): number[] =>
    many.rows.flatMap(({ works }, i) => works === kind ? [i + 1] : []);
  // RECORDED by the last line of each log: F80 at 4 and 11, F220 at 6; 1 is done, 12 at the knife
  assert.deepEqual(numbers("coarse"), [4, 6, 11]);
  assert.deepEqual(numbers("fine"), [2, 3, 5, 7, 8, 9, 10]);
  assert.deepEqual(numbers(undefined), [1, 12]);
});

Deno.test("it is said before the benches begin, in lines and on the page, and only of a mixed room", () => {
  const said = /Bench 4, Bench 6, and Bench 11 with F80 to F220, .*not in one room on one evening/;
  assert.match(tellClass(many).join("\n"), said);
  assert.match(mindFirst({ many, isDemo: true }).text, said);
  const alike = many.rows.filter(({ works }) => works !== "coarse");
  assert.equal(mixedRoom(alike), undefined);
  assert.doesNotMatch(tellClass({ ...many, rows: alike }).join("\n"), /one coarse grain/);
});

Deno.test("a large class is counted, not named bench by bench", () => {
  const rows = Array.from({ length: 30 }, (_, i) => ({
    title: `Bench ${i}`,
    works: i < 14 ? "coarse" as const : "fine" as const,
  }));
  assert.match(mixedRoom(rows)?.said ?? "", /^14 benches with F80 to F220, 16 benches with finer/);
});

Deno.test("twelve benches are named, thirteen are counted", () => {
  const rows = Array.from({ length: 25 }, (_, i) => ({
    title: `Bench ${i}`,
    works: i < 12 ? "coarse" as const : "fine" as const,
  }));
  assert.match(
    mixedRoom(rows)?.said ?? "",
    /^Bench 0, .*Bench 10,? and Bench 11 with F80 to F220, 13 benches with finer/,
  );
});
