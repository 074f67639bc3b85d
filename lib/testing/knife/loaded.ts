/** The reading of knife-edge photographs, loaded where there are some: it is large, and most records have none. */
type Reader = Pick<
  typeof import("./knifeSeries.ts"),
  "reduceKnifeSeries" | "knifeTerms" | "joinKnife"
>;

let loaded: Reader | undefined;

/** Loads it once. */
export async function loadKnife(): Promise<void> {
  loaded ??= await import("./knifeSeries.ts");
}

/** What is loaded; nothing before any photograph behind a knife was decoded. */
export function knifeReader(): Reader | undefined {
  return loaded;
}
