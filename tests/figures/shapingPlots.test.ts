/** Plan of the lap, pits against hours, plan of a removal, foreseen and found: sound drawings at every width, findings in words, refusals. */
import assert from "node:assert/strict";
import { type DrawnLap, lapPlan } from "../../lib/figures/drawings/lapPlan.ts";
import { type DrawnSessions, foreseenFound } from "../../lib/figures/plots/foreseenFound.ts";
import { pitsAgainstHours } from "../../lib/figures/plots/pitsAgainstHours.ts";
import { type DrawnRemoval, removalPlan } from "../../lib/figures/plots/removalPlan.ts";
import type { Shown } from "../../lib/figures/show.ts";

const lap: DrawnLap = {
  diameter: 150,
  spacing: 25,
  channel: 5,
  offset: [6, 9],
  contact: 0.6366,
  says: "Off centre.",
};
const places = [{ name: "centre", hours: 3.9 }, {
  name: "edge",
  hours: 5.6,
  least: 2.8,
  most: 11.1,
}];
const line = (nm: number): { radius: number; nm: number }[] =>
  [0, 37, 74].map((radius) => ({ radius, nm: nm * (1 - radius / 74) }));
const removal: DrawnRemoval = { stands: line(68), taken: line(30), left: line(38), says: "Half." };

const sessions: DrawnSessions = {
  sessions: [
    { date: "2026-06-19", before: 30, foreseen: [8, 14, 24], after: 12 },
    { before: 12, foreseen: [5, 7, 11], after: 13 },
  ],
  says: "Two.",
};

function sound({ html, text }: Shown): void {
  assert.equal(html.match(/<svg role="img" aria-label|role="img"/g)?.length, 2, "two widths");
  assert.doesNotMatch(html, /NaN|undefined|Infinity/);
  assert.ok(text.length > 40);
}

Deno.test("each draws at two widths and tells its finding", () => {
  for (
    const shown of [
      lapPlan(lap),
      lapPlan({ ...lap, ridges: [{ from: 0, to: 8, excess: -0.11 }] }),
      pitsAgainstHours({ depth: 5, places, says: "The edge." }),
      pitsAgainstHours({
        depth: 5,
        places,
        seen: [{ hours: 2, depth: 3.2 }],
        whose: "yours",
        says: "Seen.",
      }),
      removalPlan(removal),
      removalPlan({ ...removal, whose: "yours" }),
      foreseenFound(sessions),
      foreseenFound({ ...sessions, whose: "yours" }),
    ]
  ) sound(shown);
});

Deno.test("a channel is drawn for each line of the grid that crosses the lap, and its width to scale", () => {
  const { html } = lapPlan(lap), svg = html.split("</svg>")[0] ?? "";
  const drawn = svg.match(/stroke:var\(--paper\);stroke-width:([\d.]+)/g) ?? [];
  // DERIVED: lines at 6 + 25 k and at -9 + 25 k inside +-75: six each
  assert.equal(drawn.length, 12);
  const width = Number(/stroke-width:([\d.]+)/.exec(drawn[0] ?? "")?.[1]);
  const radius = Number(/<circle[^>]* r="([\d.]+)"/.exec(svg)?.[1]);
  assert.ok(Math.abs(width / radius - 5 / 75) < 0.002, `${width} ${radius}`);
});

Deno.test("the findings name the numbers", () => {
  assert.match(lapPlan(lap).text, /facets of 20.0 mm, channels of 5.0 mm.*64 % of it touches/);
  const ring = lapPlan({ ...lap, ridges: [{ from: 0, to: 8, excess: -0.11 }] }).text;
  assert.match(ring, /0 to 8 mm, 11 % less/);
  assert.match(removalPlan(removal).text, /68 nm at the most, the session takes 30, 38 are left/);
});

Deno.test("foreseen and found: a bar and a mark a session, the reader's filled, the demo's open", () => {
  const { html, text } = foreseenFound(sessions), svg = html.split("</svg>")[0] ?? "";
  assert.match(text, /session 1: from 30 nm, foreseen 8 to 24, found 12; session 2: from 12 nm/);
  assert.equal(svg.match(/<rect [^>]*width/g)?.length, 2, "a bar each");
  // the state before the first session has its mark too
  assert.equal(svg.match(/<circle/g)?.length, 3);
  assert.match(svg, /RMS of the glass \(nm\)/);
  assert.match(svg, /Sessions, with a test after each/);
  assert.match(svg, /var\(--graphite\)/);
  assert.doesNotMatch(foreseenFound({ ...sessions, whose: "yours" }).html, /var\(--graphite\)/);
});

Deno.test("what cannot be drawn is refused", () => {
  assert.throws(() => foreseenFound({ sessions: [], says: "" }), /requires a session/);
  assert.throws(() => lapPlan({ ...lap, channel: 25 }), /0 < channel < spacing < diameter/);
  assert.throws(() => pitsAgainstHours({ depth: 0, places, says: "" }), /depth and hours above 0/);
  assert.throws(() => pitsAgainstHours({ depth: 5, places: [], says: "" }), /0 places/);
  assert.throws(() => removalPlan({ ...removal, left: [] }), /two places or more/);
});
