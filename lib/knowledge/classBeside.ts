/** The class a mirror belongs to: the records that lie beside its own; where there are none, the demo class. */
import { files, folderOf } from "../record/fileSystem.ts";
import { type ClassOfRecords, openClass, recordsIn } from "./classOfRecords.ts";
import { demoName, type Mirror, recordsFolder } from "./open.ts";

/** The invented class that comes with the kit. */
export const demoClassName = "class-kestrel-lane";

/** The kit's two lone mirrors are nobody's class. */
const ofTheKit: readonly string[] = [demoName, "halfway-200-f6"];

/** A class to look at, and whether it is the reader's. */
export interface ClassAtHand {
  /** the class itself */
  readonly many: ClassOfRecords;
  /** the kit's demo class, since there is no other */
  readonly isDemo: boolean;
}

/**
 * The records beside a mirror's, as a class.
 *
 * @param mirror  its folder lies among the others of the class
 * @returns the reader's class where two records or more lie there, else the demo class
 */
export async function classBeside({ record }: Pick<Mirror, "record">): Promise<ClassAtHand> {
  const folder = folderOf(record.folder);
  const isKit = folder === await files().realPath(recordsFolder);
  const without = isKit ? ofTheKit : [];
  const names = (await recordsIn(folder).catch(() => [])).filter((name) => !without.includes(name));
  if (names.length >= 2) return { many: await openClass(folder, { without }), isDemo: false };
  return await demoClass();
}

/** The invented class of Kestrel Lane: twelve benches, one with a forgotten bevel. */
export async function demoClass(): Promise<ClassAtHand> {
  return { many: await openClass(`${recordsFolder}/${demoClassName}`), isDemo: true };
}
