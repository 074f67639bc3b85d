/** The stage of the bands: photographs through the grating, what they say of the glass, and what to do. */
import { facts, note } from "../figures/blocks.ts";
import { decide } from "../figures/decide.ts";
import { safe } from "../figures/html.ts";
import { photoBesideFit, ronchiPicture } from "../figures/drawings/ronchiPicture.ts";
import type { Showable, Shown } from "../figures/show.ts";
import { surfaceProfile } from "../figures/plots/surfaceProfile.ts";
import type { Measured } from "../quantity/measured.ts";
import { judgingRadius } from "../knowledge/figureSummary.ts";
import type { Mirror } from "../knowledge/open.ts";
import { clean } from "../record/clean.ts";
import { photoOfRow, reducePhotoRows } from "../knowledge/photoFigures.ts";
import { fromQ } from "../knowledge/q.ts";
import { readPhotos } from "../record/readPhoto.ts";
import type { FigureSummary, Q } from "../knowledge/summaryTypes.ts";
import { decision } from "../record/tables.ts";
import { lookOver } from "../testing/photo/photoCheck.ts";
import { findOutline } from "../testing/photo/photoOutline.ts";
import type { RonchiSetting } from "../testing/bands/ronchi.ts";
import { ownOrDemo, type Part } from "./base.ts";

const how =
  "Grating 5 to 10 mm inside the centre of curvature, phone close behind it on a stand, focused on the mirror, the whole disc in " +
  "the picture, nothing burnt out. Write the file, the grating's lines for each mm and its distance from the centre into ronchi.csv.";

/** What was right and what was wrong with the photograph taken last. */
async function lookedOver({ record, summary }: Mirror): Promise<readonly Showable[]> {
  const row = record.ronchi.at(-1);
  const image = row &&
    (await readPhotos({ ...record, ronchi: [row], star: [], knife: [] })).get(row.photo);
  if (row === undefined || image === undefined) return [];
  const { image: grey, linesPerMm, offset, outline } = photoOfRow({ row, image });
  const { aperture, bevel, goal, tester } = record.settings;
  const bench = {
    radius: judgingRadius(record, summary.curve),
    half: aperture / 2 - bevel,
    setUp: tester.ronchi,
    linesPerMm,
    wavelength: goal.wavelength,
  };
  const remarks = lookOver(grey, outline ?? findOutline(grey), bench, offset);
  return [
    note(safe`<b>The photograph you took last</b>, <code>${clean(row.photo)}</code>`),
    facts(remarks.map(({ about, grade, says }) => [`${NAMES[about]}: ${GRADES[grade]}`, says])),
  ];
}

const NAMES = { disc: "Disc", light: "Light", focus: "Focus", bands: "Bands" } as const;
const GRADES = { good: "good", fair: "will do", bad: "take it again" } as const;

/** The last photograph that could be reduced, its row and its place. */
function lastRead({ summary }: Mirror): FigureSummary | undefined {
  return summary.figure?.photos?.findLast(({ refused }) => refused === undefined);
}

function numbersOf(figure: FigureSummary): Shown {
  const rows: [string, Q | undefined][] = [
    ["Conic constant", figure.conic],
    ["Grating from the best conic's centre of curvature, by the bands", figure.offset],
    ["Turn of the grating", figure.tilt],
    ["Glass, peak to valley", figure.surfacePv],
    ["Wavefront, peak to valley", figure.wavefrontPv],
    ["Strehl ratio", figure.strehl],
  ];
  const known = rows.flatMap(([name, q]): [string, Measured][] =>
    q === undefined ? [] : [[name, fromQ(q)]]
  );
  const more = (figure.terms ?? []).map(({ name, amounts }): [string, Measured | string] => {
    const [first] = amounts;
    return [name, first === undefined || amounts.length > 1 ? "taken up" : fromQ(first)];
  });
  return facts([...known, ...more]);
}

/**
 * The latest photograph beside its fit, the profile of the glass and the numbers; where there is none, how to take one.
 *
 * @param yours  the reader's mirror
 * @param demo   the demo mirror
 */
export async function yourBands(yours: Mirror, demo: Mirror): Promise<Shown> {
  const faces = new Map<Mirror, readonly Showable[]>();
  for (const mirror of new Set([yours, demo])) {
    faces.set(mirror, [...await lookedOver(mirror), ...await faceOf(mirror)]);
  }
  const part: Part = {
    name: "photographs of bands",
    noun: "photograph",
    count: ({ summary }) => summary.figure?.photos?.length ?? 0,
    show: (mirror, whose) => {
      const figure = lastRead(mirror);
      return [
        ...(faces.get(mirror) ?? []),
        ...refusedOf(mirror),
        ...(figure === undefined ? [] : [profileOf(figure, mirror, whose), numbersOf(figure)]),
      ];
    },
    how,
  };
  return ownOrDemo(part, yours, demo);
}

async function faceOf(mirror: Mirror): Promise<readonly Showable[]> {
  const { record, summary } = mirror;
  const wanted = summary.figure?.photos?.findLast(({ refused, photo }) =>
    refused === undefined && !photo?.includes(" + ")
  )?.photo;
  const row = record.ronchi.findLast(({ photo }) => photo === wanted);
  const image = row &&
    (await readPhotos({ ...record, ronchi: [row], star: [], knife: [] })).get(row.photo);
  if (row === undefined || image === undefined) return [];
  const found = reducePhotoRows(record, [{ row, image }], judgingRadius(record, summary.curve));
  const [seen] = found.photos;
  return seen === undefined ? [] : [photoBesideFit(seen.face, row.photo)];
}

function refusedOf({ summary }: Mirror): readonly Showable[] {
  return (summary.figure?.photos ?? []).flatMap(({ photo, refused }) =>
    refused === undefined
      ? []
      : [note(safe`<code>${photo ?? ""}</code> could not be used: ${refused}.`)]
  );
}

function profileOf(figure: FigureSummary, { record }: Mirror, whose: "yours" | "demo"): Shown {
  const { goal } = record.settings;
  return surfaceProfile({
    points: (figure.profile ?? []).map(({ radius, surfaceError, u }) => ({
      radius,
      height: surfaceError,
      u,
    })),
    pv: fromQ(figure.surfacePv ?? { value: 0, unit: "nm" }),
    goal: goal.surfaceWaves * goal.wavelength,
    wanted: figure.reference ?? "paraboloid",
    whose,
  });
}

/** The grating of the lessons before a mirror of 148 mm clear width. */
function before(conic: number, offset: number, more: Partial<RonchiSetting> = {}): RonchiSetting {
  const surface = { radius: 2396, conic };
  return { surface, half: 74, setUp: "same grating", linesPerMm: 4, offset, ...more };
}

/** One mirror inside and outside its centre of curvature. */
export function inAndOut(conic: number, offset = 8): Shown {
  return ronchiPicture(
    [
      { name: `${offset} mm inside`, setting: before(conic, -offset) },
      { name: `${offset} mm outside`, setting: before(conic, offset) },
    ],
    `The same mirror, K = ${conic}, from both sides of its centre of curvature: ${
      conic < -0.2
        ? "( ) inside, ) ( outside"
        : conic > 0.2
        ? ") ( inside, ( ) outside"
        : "straight on both"
    }.`.replace("-", "−"),
  );
}

/** Three faults at a glance: hooked ends, a ring, and two curves at right angles. */
export function bandFaults(): Shown {
  const rolled = (x: number, y: number): number => {
    const t = (Math.hypot(x, y) - 66) / 8;
    return t > 0 ? -150 * t * t : 0;
  };
  const ring = (x: number, y: number): number =>
    60 * Math.exp(-((Math.hypot(x, y) - 40) ** 2) / 100);
  const twoCurves = (x: number, y: number): number => (200 * 2 * x * y) / 74 ** 2;
  return ronchiPicture(
    [
      { name: "turned edge", setting: before(-1, -8, { error: rolled }) },
      { name: "raised ring", setting: before(-1, -8, { error: ring }) },
      { name: "astigmatism", setting: before(0, -8, { error: twoCurves }) },
    ],
    "Hooked ends: the rim rolls away. A kink on both sides of a ring: a hill of glass. Straight but slanting: two curves at right angles.",
  );
}

type State = "none" | "again" | "back" | "on";

function stateOf(mirror: Mirror): State {
  const photos = mirror.summary.figure?.photos ?? [], read = lastRead(mirror);
  if (photos.length === 0) return "none";
  if (read === undefined) return "again";
  const { goal } = mirror.record.settings, most = (goal.surfaceWaves * goal.wavelength) / 4;
  const bent = (read.terms ?? []).some(({ name, amounts }) =>
    /^(turned edge|ring)/.test(name) && amounts.some(({ value }) => Math.abs(value) > most)
  );
  return bent ? "back" : "on";
}

const SAYS: Readonly<Record<State, readonly [title: string, what: string]>> = {
  none: ["look", "Look through the grating from both sides of the centre, then take a photograph."],
  again: ["again", "Take the photograph again: what was wrong stands beside it."],
  back: ["back to the lap", "The bands hook or kink: back to polishing, ten minutes at a time."],
  on: ["go on", "The bands are smooth to the rim. Go on to the zones."],
};

/** What the bands call for. */
export function decideBands(mirror: Mirror): Shown {
  const state = stateOf(mirror), [title, what] = SAYS[state];
  return decide({
    title,
    do: what,
    choices: [
      {
        name: "Go on",
        when: `when bands are smooth, unhooked in the outer ${
          decision("hook_zone")
        } mm, and alike with the grating turned.`,
        chosen: state === "on",
      },
      {
        name: "Back to the lap",
        when: "when they hook at the rim or kink at a ring.",
        chosen: state === "back",
      },
      {
        name: "Look again",
        when:
          "when the picture cannot tell, or bands slant one way inside and the other way outside.",
        chosen: state === "none" || state === "again",
      },
    ],
  });
}
