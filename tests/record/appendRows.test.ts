/** Rows sent by their columns' names, in the file's own style. Rows are INVENTED. */
import assert from "node:assert/strict";
import fc from "fast-check";
import { appendedRows, type SentRow } from "../../lib/record/appendRows.ts";
import { readCells } from "../../lib/record/cells.ts";
import { splitTable } from "../../lib/record/csv.ts";
import { Findings } from "../../lib/record/errors.ts";
import { matchHeader } from "../../lib/record/header.ts";
import { columnsOf, type TableName } from "../../lib/record/schema.ts";

function append(table: TableName, rows: SentRow[], text?: string): string | string[] {
  const findings = new Findings();
  const made = appendedRows(table, rows, text, undefined, findings);
  return made?.added ?? findings.refusals.map(({ message }) => message);
}

Deno.test("lengths change between mm and inches and come back to a tenth of a nanometre; no other unit changes", () => {
  fc.assert(fc.property(fc.double({ min: 0.001, max: 3000, noNaN: true }), (mm) => {
    const sent = String(Number(mm.toPrecision(7)));
    const added = append("lamp", [{ distance_mm: sent }], "distance_in\n94.5\n");
    assert.ok(typeof added === "string");
    assert.ok(Math.abs(Number(added) * 25.4 - Number(sent)) < 3e-6, `${sent} mm: ${added}`);
  }));
  // DERIVED: 0.88 mm / 25.4 = 0.034645669 in, 1.15 mm / 25.4 = 0.045275591 in
  assert.match(
    String(append("sagitta", [{ go_mm: "0.88+0.25", nogo_mm: "1.15" }], "go_in,nogo_in\n")),
    /^0\.03464567\+0\.00984252,0\.04527559\n$/,
  );
  const [no = ""] = append("lamp", [{ distance_m: "2.4" }], "distance_mm\n") as string[];
  assert.match(no, /wanted the unit of the file: send it as distance_mm/);
  const [angle = ""] = append(
    "zones",
    [{ angle_rad: "1" }],
    "run,inner_mm,outer_mm,reading_mm,angle_deg\n",
  ) as string[];
  assert.match(angle, /unit of the file/);
});

Deno.test("whatever is noted, it is read back as one cell of its own row", () => {
  const headers = ["distance_mm,note\n", "distance_mm;note\r\n2398,5;\r\n", "note\tdistance_mm\n"];
  fc.assert(
    fc.property(
      fc.string({ unit: "grapheme", maxLength: 60 }),
      fc.constantFrom(...headers),
      (note, head) => {
        const findings = new Findings(), file = "lamp.csv";
        const made = appendedRows(
          "lamp",
          [{ distance_mm: "2400.5", note }],
          head,
          undefined,
          findings,
        );
        if (made === undefined) return;
        const csv = splitTable(head + made.added, file, findings);
        assert.ok(csv !== undefined);
        const rows = readCells(csv, matchHeader(columnsOf("lamp"), csv, findings), new Findings());
        assert.equal(rows.length, head.split("\n").length - 1);
        // INVENTED: what was sent above
        assert.equal(rows.at(-1)?.get("distance"), 2400.5);
        assert.equal(rows.at(-1)?.line, made.lines[0]);
      },
    ),
  );
});

Deno.test("a fresh table's header is what is sent, in its order; strange names are refused with the nearest known", () => {
  assert.equal(
    append("lamp", [{ note: "a", distance_mm: "1" }, { date: "2026-01-01" }]),
    "note,distance_mm,date\na,1,\n,,2026-01-01\n",
  );
  assert.match(String(append("lamp", [{ distanc_mm: "1" }])), /did you mean distance_mm/);
  assert.match(
    String(append("lamp", [{ "distance_mm": "1", "x\n,y": "2" }])),
    /a column of this table/,
  );
});
