/** What the drawings of the hands' work are called by, and the numbers that they are drawn from. */

/** Names of the drawings, by which a step calls for one. */
export type HandDrawing =
  | "bench"
  | "posture"
  | "hands"
  | "stroke"
  | "turn"
  | "charge"
  | "cleaning"
  | "pencil"
  | "stuck"
  | "strain"
  | "marks"
  | "bevel"
  | "leaves"
  | "spherometer"
  | "lamp"
  | "sun"
  | "pits"
  | "lap-eight"
  | "nail"
  | "channels"
  | "contact"
  | "clearing"
  | "stand"
  | "image-found"
  | "shadow"
  | "knife-places"
  | "zones"
  | "there-back"
  | "four-settings"
  | "hooks"
  | "packing"
  | "washing"
  | "telescope"
  | "cell"
  | "tip"
  | "cap"
  | "star-rings"
  | "sighting"
  | "finder"
  | "moon"
  | "dew";

/** Numbers that the drawings are to scale of; lengths mm, turns degrees. */
export interface HandNumbers {
  readonly aperture: number;
  readonly thickness: number;
  readonly radius: number;
  /** how far beside the centre a rough stroke passes, and its length */
  readonly side: number;
  readonly length: number;
  readonly strokes: number;
  readonly upperTurn: number;
  readonly lowerTurn: number;
  /** legs of the bevel on the face, least and most */
  readonly bevel: readonly [number, number];
  /** below the disc's top, and play */
  readonly cleat: { readonly below: number; readonly play: number };
  /** below the bent elbow, cm */
  readonly belowElbow: readonly [number, number];
  readonly lap: {
    readonly diameter: number;
    readonly thickness: number;
    readonly spacing: number;
    readonly channel: number;
    readonly depth: number;
    readonly offset: readonly [number, number];
  };
  /** widths of the pits that grades leave, um, coarse to fine; and the loupe that shows them */
  readonly pits: readonly {
    readonly grade: string;
    readonly um: number;
    readonly loupe: number;
  }[];
  /** of three pads, as a share of the radius */
  readonly padRadius: number;
  readonly rimAir: number;
}
