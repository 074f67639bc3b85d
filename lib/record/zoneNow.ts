/** The zone test's names as they are being given. */
import type { Measured } from "../quantity/measured.ts";
import type { Verdict } from "../testing/verdict.ts";
import type { ZoneFigure, ZoneTest } from "../testing/zones.ts";

export type ZoneTestNow = ZoneTest & {
  readonly seating?: number;
  readonly shadowRadius?: number;
  readonly scopeWanted?: "whole surface" | "one diameter";
};

export type ZoneFigureNow = ZoneFigure & {
  readonly scope?: "one diameter" | "whole surface";
  readonly diameters?: number;
  readonly astigmatism?: {
    readonly amplitude: Measured;
    readonly axis: Measured;
    readonly interval95: readonly [number, number];
    readonly stand?: Measured;
  };
  readonly wanted?: readonly {
    readonly angleDeg: number;
    readonly knifeDeg: number;
    readonly runs: number;
  }[];
  readonly budget?: readonly { readonly source: string; readonly share: number }[];
  readonly outsideShadow?: {
    readonly wavefrontPv: Measured;
    readonly interval95: readonly [number, number];
    readonly probability: number;
    readonly verdict: Verdict;
  };
  readonly unseen?: readonly string[];
  readonly lacks?: readonly string[];
};
