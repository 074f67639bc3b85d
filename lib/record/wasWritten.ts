import type { MirrorRecord } from "./types.ts";

/** Whether a key of mirror.yaml was written; else its value was taken as usual, and `defaults` has a sentence on it. */
export function wasWritten(record: Pick<MirrorRecord, "defaults">, key: string): boolean {
  return !record.defaults.some((sentence) => sentence.startsWith(`${key}:`));
}
