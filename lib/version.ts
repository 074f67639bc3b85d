/** The kit's version, written once: in every summary, in every page's foot. */
export const KIT_VERSION = "0.2.0";

/** The day of this version: no record of it can be read on an earlier one. */
export const KIT_DAY = "2026-11-30";
