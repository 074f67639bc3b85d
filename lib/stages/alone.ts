/** What one person alone may do at a kitchen table, and what not: from the one list of hazards. */
import { readingsTable } from "../figures/blocks.ts";
import { type Shown, together } from "../figures/show.ts";
import { hazards } from "../knowledge/hazards.ts";

function column(title: string, alone: "may" | "may not"): Shown {
  const rows = hazards().filter((one) => one.alone === alone);
  return readingsTable(
    title,
    [{ title: "Hazard", text: true }, { title, text: true }],
    rows.map(({ hazard, aloneWhat }) => ({
      cells: [
        hazard,
        alone === "may not"
          ? `Never ${aloneWhat}.`
          : `${aloneWhat.charAt(0).toUpperCase()}${aloneWhat.slice(1)}.`,
      ],
    })),
  );
}

/** Two tables: first what one person alone may not do, then what she may. */
export function aloneAtHome(): Shown {
  return together(
    column("Never alone, or not at all", "may not"),
    column("One person alone may", "may"),
  );
}
