/** In a page the script of the live figures is there already; cells need not bring it. */

/** Nothing. The builder of the page's library puts this file in place of `figures/live/runtimeScript.ts`. */
export const runtimeScript = "";
