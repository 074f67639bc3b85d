/** What a maker wrote down, after reading: typed, in the kit's units (mm, nm, rad, min), each row with its place. */

import type { Checked } from "./goalKeys.ts";
import type { DIARY_WORDS } from "./schemaLater.ts";

/** Where something stands in a maker's files; `line` counts from 1. */
export interface Place {
  readonly file: string;
  readonly line?: number;
  readonly column?: string | number;
}

/** Something unlikely: told wherever the number is used, never a reason to stop. */
export interface Warning extends Partial<Place> {
  readonly message: string;
}

/** A reason not to read the record: one sentence that says what stood there, what is wanted, how to mend it. */
export interface Refusal extends Place {
  readonly message: string;
}

/** Fields every row of every table may have. */
export interface Row {
  readonly file: string;
  readonly line: number;
  /** ISO date, e.g. "2026-04-18" */
  readonly date?: string;
  /** minutes of grinding so far */
  readonly afterMin?: number;
  readonly note?: string;
}

export type Position = "mirror on top" | "tool on top";

export interface GrindingRow extends Row {
  /** name of a row of data/tables/abrasives.csv, e.g. "F80" */
  readonly abrasive: string;
  readonly position: Position;
  readonly minutes: number;
  readonly strokes?: number;
}

export interface SagittaRow extends Row {
  /** leaves that passed together, mm each, as read: `0.88+0.25` is [0.88, 0.25] */
  readonly go?: readonly number[];
  /** leaves of the next stack, which did not pass, mm each */
  readonly nogo?: readonly number[];
  /** a depth gauge's reading, mm; a row has either this or go and nogo */
  readonly depth?: number;
  /** where the straight-edge rests, mm; absent means the aperture less both bevels */
  readonly chord?: number;
  /** which diameter, rad */
  readonly angle?: number;
}

export interface SpherometerRow extends Row {
  readonly surface: "flat" | "mirror";
  /** mm */
  readonly dial: number;
}

export interface SunRow extends Row {
  /** centre of the glass to the Sun's image, mm */
  readonly distance?: number;
  /** diameter of the image, mm */
  readonly image?: number;
}

export interface ZoneRow extends Row {
  readonly run: string;
  /** edges of the opening, mm from the centre */
  readonly inner: number;
  readonly outer: number;
  /** knife position along the axis, mm, larger = farther from the mirror */
  readonly reading: number;
  /** where the mirror's mark stood, degrees counter-clockwise from the top as seen from the front; absent means 0 */
  readonly angleDeg?: number;
  /** the knife's edge from the vertical, degrees counter-clockwise; absent means 0 */
  readonly knifeDeg?: number;
  /** which way the zones were read; absent means as the rows stand */
  readonly order?: "outward" | "inward";
}

/** An act or a sight of the diary. */
export interface DiaryRow extends Row {
  readonly date: string;
  readonly what: typeof DIARY_WORDS[number];
  /** from the centre, mm */
  readonly where?: number;
  /** pits in 1 cm2, mm of a scratch, minutes of pressing */
  readonly amount?: number;
}

export interface RonchiRow extends Row {
  /** path inside the record's folder */
  readonly photo: string;
  readonly linesPerMm: number;
  /** grating from the centre of curvature, mm, + = farther from the mirror */
  readonly offset: number;
  readonly offsetU?: number;
  readonly gamma?: number;
  /** the disc by hand, pixels of the upright picture as the camera gave it */
  readonly disc?: { readonly x: number; readonly y: number; readonly radius: number };
}

export interface Telescope {
  readonly tube?: {
    readonly innerDiameter: number;
    readonly wall: number;
    readonly frontLength?: number;
  };
  readonly focuser?: { readonly height: number; readonly margin: number; readonly at?: number };
  readonly fullyLitField?: number;
  readonly flats?: readonly number[];
  readonly fieldStop?: number;
  readonly eyepieces?: readonly { readonly focalLength: number; readonly apparentField: number }[];
  readonly screws?: {
    readonly pitch: number;
    readonly radius: number;
    readonly angles: readonly number[];
    readonly imageAt: readonly [number, number];
  };
  /** mass in g, `at` in mm from the tube's rear end */
  readonly parts?: readonly { readonly name: string; readonly mass: number; readonly at: number }[];
  readonly bearing?: {
    readonly radius: number;
    readonly friction: number;
    readonly padHalfAngle: number;
    readonly altitude: number;
  };
  /** mass added at the focuser, g */
  readonly swap?: number;
}

/** mirror.yaml with every default filled in; lengths mm, angles rad, masses g. */
export interface Settings {
  readonly title: string;
  readonly aperture: number;
  readonly focalLength: number;
  /** 0 where it was not written */
  readonly bevel: number;
  /** the widest that an unwritten bevel may be, each width from 0 on as likely; absent where it was written */
  readonly unknownBevel?: number;
  readonly glass: string;
  readonly thickness: number;
  readonly goal: {
    /** peak to valley on the glass, in waves */
    readonly surfaceWaves: number;
    /** nm */
    readonly wavelength: number;
    readonly shape: "sphere" | "paraboloid" | "auto";
    /** what a yes must be of before the mirror is sent out */
    readonly scope: "whole surface" | "one diameter";
  };
  /** what the maker has looked at again and lets stand; absent where nothing was */
  readonly checked?: readonly Checked[];
  readonly gauges: {
    readonly leaves: { readonly width: number; readonly tolerance: number };
    readonly spherometer?: {
      readonly legRadius: number;
      readonly ballRadius: number;
      readonly legRadiusU: number;
      readonly ballRadiusU: number;
    };
    readonly dialStep: number;
    readonly depthGaugeStep: number;
    readonly rulerStep: number;
    readonly chordU: number;
  };
  readonly tester: {
    readonly source: "moves with knife" | "fixed";
    readonly openings: "bands" | "sectors";
    readonly ronchi: "same grating" | "slit beside" | "fixed";
    /** how far the mirror may have moved along the axis when it was put back, mm either way; absent means 0.1 */
    readonly seating?: number;
  };
  /** openings of the mask from the centre outward, edges in mm */
  readonly mask?: readonly { readonly inner: number; readonly outer: number }[];
  /** how lengths are told; absent means mm */
  readonly shownIn?: "mm" | "inch";
  /** strokes a minute where the log does not count them */
  readonly strokeRate?: number;
  readonly telescope?: Telescope;
  /** angles in rad, east and north positive */
  readonly site?: {
    readonly latitude: number;
    readonly longitude: number;
    readonly timeZone: string;
  };
}

export interface MirrorRecord {
  /** the folder's own name */
  readonly name: string;
  /** absolute path */
  readonly folder: string;
  readonly settings: Settings;
  /** sentences, one for each value that was not written and was taken as usual */
  readonly defaults: readonly string[];
  readonly warnings: readonly Warning[];
  /** empty arrays where a table is absent */
  readonly grinding: readonly GrindingRow[];
  readonly sagitta: readonly SagittaRow[];
  readonly spherometer: readonly SpherometerRow[];
  readonly sun: readonly SunRow[];
  readonly zones: readonly ZoneRow[];
  readonly ronchi: readonly RonchiRow[];
  readonly diary: readonly DiaryRow[];
}
