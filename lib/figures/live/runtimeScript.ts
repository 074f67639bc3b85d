/** The page's script as built from runtime.ts; the test of live figures builds it anew where it is older than the code. */
import built from "./runtime.js.txt" with { type: "text" };

/** One classic script that makes the live figures of a page live; a second copy does nothing. */
export const runtimeScript: string = built;
