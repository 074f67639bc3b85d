/** The sky: what eyepiece and aperture show, and what is up tonight from the maker's place. */
export * from "./limits.ts";
export * from "./eyepiece.ts";
export * from "./tonight.ts";
export * from "./limits.ts";
export * from "./tonight.ts";
