/** The stage of the alignment: which screw, which way, how far, and when it is good enough. */
import { facts, note, readingsTable } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import type { Shown } from "../figures/show.ts";
import type { Mirror } from "../knowledge/open.ts";
import { decision } from "../record/tables.ts";
import { COLLIMATION_STEPS } from "../telescope/collimation.ts";
import { ownOrDemo, type Part } from "./base.ts";

const degrees = (angle: number): string => `${((angle * 180) / Math.PI).toFixed(0)}°`;

/** "down by 0.05", "up by 0.09": turns in words. */
function turnInWords(turn: number): string {
  if (Math.abs(turn) < 0.005) return "leave it";
  return `${turn > 0 ? "up" : "down"} by ${Math.abs(turn).toFixed(2)} turn`;
}

const screwsPart: Part = {
  name: "screws",
  noun: "screw",
  count: ({ summary }) => summary.telescope?.screwTurns?.length ?? 0,
  show: ({ record, summary }) => {
    const screws = record.settings.telescope?.screws, t = summary.telescope;
    if (screws === undefined || t?.screwTurns === undefined) return [];
    const [x, y] = screws.imageAt;
    const turns = t.screwTurns;
    return [
      readingsTable(
        "What to turn",
        [
          { title: "Screw at", text: true },
          { title: "Turns" },
          { title: "In words", text: true },
        ],
        screws.angles.map((angle, i) => {
          const turn = turns[i] ?? 0;
          return {
            cells: [degrees(angle), turn.toFixed(3).replace("-", "−"), turnInWords(turn)],
          };
        }),
      ),
      facts([
        ["Image of the star now", `${x.toFixed(1)}, ${y.toFixed(1)}\u2009mm`.replaceAll("-", "−")],
        ["One turn moves it", `${(t.starShiftPerTurn?.value ?? 0).toFixed(1)}\u2009mm`],
        ["Good enough within", `${(t.comaFreeRadius?.value ?? 0).toFixed(2)}\u2009mm`],
        ["As tilt of the mirror", `${(t.tiltTolerance?.value ?? 0).toFixed(1)}′`],
      ]),
      note(
        "Angles counter-clockwise from the focuser, seen from the sky looking down at the mirror. Up: toward the sky.",
      ),
    ];
  },
  how:
    "Measure the screws’ pitch, the circle they stand on and their angles from the focuser, and where the image of a star " +
    "sits from the field’s middle. Write them into mirror.yaml under telescope: screws.",
};

/** The reader's screws and the turns that bring the star to the middle. */
export function yourScrews(yours: Mirror, demo: Mirror): Shown {
  return ownOrDemo(screwsPart, yours, demo);
}

/** The order of the work: what to turn, and what is seen when it is done. */
export function orderOfWork(): Shown {
  return readingsTable(
    "The order of the work",
    [{ title: "Step", text: true }, { title: "Turn", text: true }, { title: "Until", text: true }],
    COLLIMATION_STEPS.map(({ name, turn, until }, i) => ({
      cells: [`${i + 1} ${name}`, turn, until],
    })),
  );
}

type State = "measure" | "turn" | "fine" | "on";

/** How far the image is off, mm; half of it is how far the mirror's axis is. */
function offOf({ record }: Mirror): number | undefined {
  const at = record.settings.telescope?.screws?.imageAt;
  return at === undefined ? undefined : Math.hypot(...at) / 2;
}

function stateOf(mirror: Mirror): State {
  const off = offOf(mirror), most = mirror.summary.telescope?.comaFreeRadius?.value;
  if (off === undefined || most === undefined) return "measure";
  if (off > most) return "turn";
  return off > decision("planet_share") * most ? "fine" : "on";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  measure: [
    "look first",
    "Look through the cap and write down where the image sits; then the turns follow.",
  ],
  turn: ["turn", "Turn by eighths, watching, until the image stands in the middle."],
  fine: ["go on", "Good for stars. Turn a little more before you look at planets."],
  on: ["go on", "Good enough, for planets too. Go on to the sky."],
};

/** Go on, or turn. */
export function decideAlign(mirror: Mirror): Shown {
  const state = stateOf(mirror), [title, what] = SAYS[state], off = offOf(mirror);
  const most = mirror.summary.telescope?.comaFreeRadius?.value;
  const limit = (share: number): string =>
    most === undefined ? "what coma allows" : `${(share * most).toFixed(1)} mm`;
  return decide({
    title,
    do: what,
    choices: [
      {
        name: "Go on",
        when: `with the mirror’s axis within ${limit(1)} of the field’s middle, ${
          limit(decision("planet_share"))
        } for planets.`,
        chosen: state === "on" || state === "fine",
      },
      { name: "Turn by eighths", when: "while it is farther off.", chosen: state === "turn" },
      {
        name: "Begin again",
        when: "when a screw is at its end, or nothing was written down.",
        chosen: state === "measure",
      },
    ],
    ...(off === undefined
      ? {}
      : { after: `Your axis is ${off.toFixed(1)} mm off: half as far as the star’s image.` }),
  });
}
