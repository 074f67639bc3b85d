/** The kit's version, written once: in every summary, in every page's foot. */
export const KIT_VERSION = "0.1.0";
