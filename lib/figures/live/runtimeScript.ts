/** The page's script as built from runtime.ts; `deno run -A lib/figures/live/build.ts` builds it anew. */
import built from "./runtime.js.txt" with { type: "text" };

/** One classic script that makes the live figures of a page live; a second copy does nothing. */
export const runtimeScript: string = built;
