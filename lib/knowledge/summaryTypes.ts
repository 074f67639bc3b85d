/** summary.json, key by key: the contract for machines. Keys may be added, never renamed; unknown means absent. */
import type { Method } from "../measuring/methods/methods.ts";
import type { Position, Warning } from "../record/types.ts";

/** A quantity in JSON; `u` is a standard uncertainty, `from` names the tables it rests on. */
export interface Q {
  readonly value: number;
  readonly unit: string;
  readonly u?: number;
  readonly dof?: number;
  readonly from?: readonly string[];
}

export interface DesignSummary {
  readonly aperture: Q;
  readonly focal_length: Q;
  readonly focal_ratio: number;
  readonly radius: Q;
  readonly sagitta: Q;
  readonly shape: "sphere" | "paraboloid";
  readonly sphere_is_enough: boolean;
  readonly sphere_departure: Q;
  readonly airy_radius: Q;
}

export interface EstimateSummary {
  readonly method: Method;
  readonly radius: Q;
  readonly readings: number;
  readonly set_aside: number;
  readonly used: boolean;
}

export interface SetAside {
  readonly file: string;
  readonly line: number;
  readonly value: number;
  readonly why: string;
}

export interface CurveSummary {
  /** these three are absent where every table holds a slip, so that nothing is left to rest on */
  readonly radius?: Q;
  readonly focal_length?: Q;
  readonly sagitta?: Q;
  readonly estimates: readonly EstimateSummary[];
  readonly birge_ratio?: number;
  readonly consistent: boolean;
  readonly odd_one?: Method;
  readonly set_aside: readonly SetAside[];
  readonly budget: readonly { readonly source: string; readonly share: number }[];
  readonly mistake?: { readonly file: string; readonly what: string };
}

export interface GrindingSummary {
  readonly rates: { readonly mirror_on_top?: Q; readonly tool_on_top?: Q };
  readonly sagitta_now: Q;
  readonly target_sagitta: Q;
  readonly overshoot?: Q;
  readonly next_position: Position;
  readonly can_forecast: boolean;
  readonly minutes_to_target?: Q;
  readonly interval_95?: readonly [number, number];
  readonly stop_at?: Q;
}

export interface FigureSummary {
  readonly photo?: string;
  readonly refused?: string;
  readonly conic?: Q;
  readonly surface_pv?: Q;
  readonly surface_rms?: Q;
  readonly wavefront_pv?: Q;
  readonly wavefront_rms?: Q;
  readonly strehl?: Q;
  readonly reference?: "paraboloid" | "sphere";
  readonly focus?: "least rms";
  readonly noise_floor_rms?: Q;
  readonly transverse_over_airy?: Q;
  /** scatter of one knife reading, pooled over the zones */
  readonly pooled_reading_s?: Q;
  readonly runs?: number;
  /** the clear width the figure is for: the aperture less both bevels */
  readonly judged_aperture?: Q;
  readonly offset?: Q;
  /** what `offset` is measured from */
  readonly offset_from?: string;
  readonly tilt?: Q;
  /** what a photograph shows beside the conic: amounts of glass */
  readonly terms?: readonly { readonly name: string; readonly amounts: readonly Q[] }[];
  readonly profile?: readonly {
    readonly radius: number;
    readonly surface_error: number;
    readonly u: number;
  }[];
  readonly interval_95?: {
    readonly wavefront_pv: readonly [number, number];
    readonly wavefront_rms: readonly [number, number];
    readonly strehl: readonly [number, number];
    readonly conic: readonly [number, number];
  };
  readonly probability_within_goal?: number;
  /** directions of the mirror's own frame that were read */
  readonly diameters?: number;
  /** glass higher by amplitude x (r / rho)^2 x cos 2(phi - axis), phi counter-clockwise from the mark seen from the front */
  readonly astigmatism?: {
    readonly amplitude: Q;
    readonly axis: Q;
    /** of the stand, as far as the knives see it */
    readonly stand?: Q;
    readonly interval_95: readonly [number, number];
  };
  /** of the wavefront's variance, largest first */
  readonly budget?: readonly { readonly source: string; readonly share: number }[];
  /** what readings through these openings cannot see, in sentences */
  readonly unseen?: readonly string[];
}

export interface VerdictSummary {
  readonly meets_goal: "yes" | "no" | "not shown";
  readonly probability: number;
  readonly why: string;
  /** what the verdict is of */
  readonly scope: "one diameter" | "whole surface";
  /** what is still missing for a yes that may be sent to be coated; absent where nothing is */
  readonly lacks?: readonly string[];
  /** the same verdict on what lies outside the flat's shadow, where a flat is known */
  readonly outside_shadow?: {
    readonly wavefront_pv: Q;
    readonly interval_95: readonly [number, number];
    readonly probability: number;
    readonly meets_goal: "yes" | "no" | "not shown";
  };
}

/** Zone readings that are wanted next: a seat of the mirror, a direction of the knife, how many runs. */
export interface WantedReading {
  readonly angle_deg: number;
  readonly knife_deg: number;
  readonly runs: number;
}

/** The telescope of the record's `telescope:` part; a group of keys is absent where its part is not written. */
export interface TelescopeSummary {
  /** what it is laid out for: the measured focal length once it is near the plan, else the plan's */
  readonly focal_length: Q;
  readonly flat_minor_axis_needed?: Q;
  readonly flat_minor_axis?: Q;
  /** away from the focuser, and as much toward the mirror */
  readonly flat_offset?: Q;
  readonly flat_offset_along_face?: Q;
  readonly flat_to_focus?: Q;
  readonly flat_from_vertex?: Q;
  /** below 0: no point of the field gets all the light */
  readonly fully_lit_field?: Q;
  readonly obstruction_by_diameter?: number;
  readonly obstruction_by_area?: number;
  readonly magnitude_loss?: number;
  readonly contrast?: readonly { readonly of_cutoff: number; readonly value: number }[];
  readonly illumination_at_field_stop?: number;
  readonly coma_free_radius?: Q;
  readonly coma_rms_at_field_stop?: Q;
  readonly tube_bore_needed?: Q;
  readonly tube_is_wide_enough?: boolean;
  readonly support_radius?: Q;
  readonly support_surface_rms?: Q;
  readonly support_surface_rms_thick?: Q;
  readonly mirror_mass?: Q;
  /** time constant, still air on both faces */
  readonly cool_down?: Q;
  readonly cool_down_with_fan?: Q;
  readonly star_shift_per_turn?: Q;
  readonly screw_turns?: readonly number[];
  readonly tilt_tolerance?: Q;
  readonly balance_point?: Q;
  readonly total_mass?: Q;
  readonly swap_moment?: Q;
  readonly friction_moment?: Q;
  readonly holds_balance?: boolean;
  readonly eyepieces?: readonly {
    readonly magnification: number;
    readonly exit_pupil: Q;
    readonly true_field: Q;
    readonly drawtube_per_dioptre: Q;
  }[];
}

/** The silver of a film of 100 nm on the mirror's face, as physics; never without its cautions. */
export interface CoatingSummary {
  readonly silver_mass: Q;
  readonly cautions: readonly [string, ...string[]];
}

/** What the aperture can show at best. */
export interface SkySummary {
  readonly dawes_limit: Q;
  readonly rayleigh_limit: Q;
  readonly limiting_magnitude: readonly [low: number, high: number];
}

export interface NextStep {
  readonly stage: string;
  readonly do: string;
  readonly until: string;
  readonly why: string;
  readonly caution: string;
  /** where zones are to be read */
  readonly readings?: readonly WantedReading[];
}

export interface Summary {
  readonly record: string;
  readonly title: string;
  readonly kit_version: string;
  readonly warnings: readonly Warning[];
  readonly design: DesignSummary;
  readonly curve?: CurveSummary;
  readonly grinding?: GrindingSummary;
  readonly figure?: { readonly zones?: FigureSummary; readonly photos?: readonly FigureSummary[] };
  readonly verdict?: VerdictSummary;
  readonly telescope?: TelescopeSummary;
  readonly coating?: CoatingSummary;
  readonly sky?: SkySummary;
  readonly next_step: NextStep;
}
