/** The reading of knife-edge photographs, loaded where there are some: it is large, and most records have none. */
import type { reduceKnifeSeries } from "./knifeSeries.ts";

let loaded: typeof reduceKnifeSeries | undefined;

/** Loads it once. */
export async function loadKnife(): Promise<void> {
  loaded ??= (await import("./knifeSeries.ts")).reduceKnifeSeries;
}

/** What is loaded; nothing before any photograph behind a knife was decoded. */
export function knifeReader(): typeof reduceKnifeSeries | undefined {
  return loaded;
}
