/** One sentence to the cells of a row; what is not understood is one sentence with the nearest words and an example. */
import assert from "node:assert/strict";
import { NOTE_EXAMPLES, noteWords, NotUnderstood } from "../../lib/record/noteWords.ts";
import { SCHEMA } from "../../lib/record/schema.ts";

const CONTEXT = {
  aperture: 150,
  lastAbrasive: (sort: "grit" | "polish") => sort === "grit" ? "F80" : "cerium oxide",
};

/** The cells of a sentence's first row, numbers as typed with their unit behind. */
function cells(typed: string): Record<string, string> {
  const { table, rows: [row = {}] } = noteWords(typed, CONTEXT);
  return {
    table,
    ...Object.fromEntries(
      Object.entries(row).map(([field, cell]) => [
        field,
        typeof cell === "string" ? cell : `${cell.numbers.join("+")}${cell.unit ?? ""}`,
      ]),
    ),
  };
}

/** What is told of a sentence that is not understood. */
function told(typed: string): string {
  try {
    noteWords(typed, CONTEXT);
  } catch (error) {
    if (error instanceof NotUnderstood) return error.message;
    throw error;
  }
  return "understood";
}

Deno.test("every example is understood, and goes to the table it is of", () => {
  const tables = Object.values(NOTE_EXAMPLES).map((one) => noteWords(one, CONTEXT).table);
  assert.deepEqual(tables, [
    ...["grinding", "grinding", "grinding", "sagitta", "sagitta", "spherometer", "sun", "lamp"],
    ...["zones", "diary", "diary"],
  ]);
});

Deno.test("work: minutes, grade, which disc on top, side, length, strokes, in any order", () => {
  assert.deepEqual(cells("polished 20 min, lap on top, side 20"), {
    table: "grinding",
    abrasive: "cerium oxide",
    position: "tool on top",
    minutes: "20",
    side: "20",
  });
  assert.deepEqual(cells("Ground 1 h 20 min #400 mirror on top 3200 strokes length 2 1/2 in"), {
    table: "grinding",
    abrasive: "#400",
    position: "mirror on top",
    minutes: "80",
    strokes: "3200",
    length: "2 1/2in",
  });
  assert.deepEqual(cells("figured lap on top 4 min, 20 mm to the side, 50 mm long with rouge"), {
    table: "grinding",
    abrasive: "rouge",
    position: "tool on top",
    minutes: "4",
    side: "20mm",
    length: "50mm",
  });
  assert.equal(cells("ground 20 min f 120, tool on top")["abrasive"], "F120");
});

Deno.test("every word of the diary is understood by itself, and by what makers say for it", () => {
  for (const word of SCHEMA.diary.columns.what.choices) {
    assert.deepEqual(cells(word.toUpperCase()), { table: "diary", what: word });
  }
  assert.equal(cells("poured a lap")["what"], "lap poured");
  assert.equal(cells("saw a star")["what"], "star seen");
  assert.equal(cells("turned edge")["what"], "edge turned");
});

Deno.test("sights: how many or how long, and where", () => {
  assert.deepEqual(cells("pits 3 at 60"), {
    table: "diary",
    what: "pits",
    where: "60",
    amount: "3",
  });
  assert.deepEqual(cells("scratch 12 mm at 40 mm"), {
    table: "diary",
    what: "scratch",
    where: "40mm",
    amount: "12",
  });
  // DERIVED: half an inch is 12.7 mm; the edge of a disc of 150 mm is 75 mm from its centre
  assert.deepEqual(cells("chip 1/2 in at the edge"), {
    table: "diary",
    what: "chip",
    where: "75mm",
    amount: "12.7",
  });
  assert.equal(cells("lap pressed 20 min")["amount"], "20");
});

Deno.test("leaves, in whichever order the words go", () => {
  const wanted = { table: "sagitta", go: "0.88+0.25", nogo: "0.85+0.30" };
  for (
    const typed of [
      "leaves 0.88+0.25 go, 0.85+0.30 no",
      "leaves 0.85+0.30 no, 0.88+0.25 goes",
      "leaves go 0.88 + 0.25, nogo 0.85 + 0.30",
      "feeler leaves 0,88+0,25 0,85+0,30",
    ]
  ) assert.deepEqual(cells(typed), wanted, typed);
  assert.equal(cells("leaves 0.2 go 0.3 no chord 140")["chord"], "140");
});

Deno.test("gauge, dial, Sun and lamp", () => {
  assert.deepEqual(cells("depth gauge 1.135 mm"), { table: "sagitta", depth: "1.135mm" });
  assert.equal(noteWords("spherometer mirror 5.523 5.524 5.522", CONTEXT).rows.length, 3);
  // INVENTED, as typed
  assert.deepEqual(cells("spherometer flat 5.001"), {
    table: "spherometer",
    surface: "flat",
    dial: "5.001",
  });
  assert.deepEqual(cells("sun 1.199 m image 11.1"), {
    table: "sun",
    distance: "1.199m",
    image: "11.1",
  });
});

Deno.test("zones: readings, seat, knife, the first read again, a zone not read, runs in one go", () => {
  // INVENTED, as typed
  assert.deepEqual(cells("zones 12.01 - 11.80 angle 45 knife 90 run b again 12.03"), {
    table: "zones",
    run: "b",
    angleDeg: "45",
    knifeDeg: "90",
    first_again: "12.03",
    zone_1: "12.01",
    zone_2: "",
    zone_3: "11.80",
  });
  const { rows } = noteWords("zones 12.01 11.70 / 12.02 \u22120.5", CONTEXT);
  // INVENTED, as typed
  assert.deepEqual(rows.map(({ zone_2: cell }) => cell), [
    { numbers: ["11.70"] },
    { numbers: ["-0.5"] },
  ]);
});

Deno.test("a day and free words", () => {
  assert.deepEqual(cells("washed on 2026-04-18 note: with soap, 20 min, side 3"), {
    table: "diary",
    what: "washed",
    date: "2026-04-18",
    note: "with soap, 20 min, side 3",
  });
});

Deno.test("an act that is not known is told with the nearest names and an example", () => {
  assert.match(
    told("scrach 12 at 40"),
    /"scrach 12 at 40" is no act.*did you mean scratch\? Such as: scratch 12 mm at 40/,
  );
  assert.match(told("polishd 20 min"), /did you mean polished/);
  assert.match(told("lap poored"), /did you mean lap poured/);
  assert.match(told("sung a song"), /is no act, sight or reading the kit knows/);
  assert.match(told("xyzzy"), /begin with what was done or read.*Such as: polished/);
});

Deno.test("nothing is guessed: what is missing is asked for, what is left over is named", () => {
  assert.match(told("polished lap on top"), /^How many minutes\?/);
  assert.match(told("polished 20 min"), /^Which disc lay on top/);
  assert.match(
    told("polished 20 min lap on top, sied 20"),
    /"sied 20" is not understood here: did you mean side/,
  );
  assert.match(
    told("ground 20 min 400 mirror on top"),
    /"400" is no grade: which scale: P400, #400 or F400/,
  );
  assert.match(told("ground 20 min cerium oxide mirror on top"), /polishes; write polished/);
  assert.match(told("leaves 0.88 go"), /^Two stacks are wanted/);
  assert.match(told("zones twelve 12.1"), /"twelve" is not understood here/);
  assert.match(told("spherometer 5.5"), /^On flat glass, or on the mirror\?/);
});
