/** Folders of records for tests of the class: copies of the demo class with a file changed, invented classes of any size. */
import { join } from "node:path";
import { recordsFolder } from "../../lib/knowledge/open.ts";
import { sagitta } from "../../lib/optics/sphere.ts";

export const kestrelLane = join(recordsFolder, "class-kestrel-lane");

/** Calls `use` with a copy of the demo class, `changes` written into it by path, and takes it away again. */
export async function withClass<T>(
  changes: Readonly<Record<string, string>>,
  use: (folder: string) => Promise<T>,
): Promise<T> {
  const outer = await Deno.makeTempDir({ prefix: "class-" }), folder = join(outer, "our class");
  try {
    for await (const { name } of Deno.readDir(kestrelLane)) {
      await Deno.mkdir(join(folder, name), { recursive: true });
      for await (const file of Deno.readDir(join(kestrelLane, name))) {
        await Deno.copyFile(join(kestrelLane, name, file.name), join(folder, name, file.name));
      }
    }
    for (const [path, text] of Object.entries(changes)) {
      await Deno.mkdir(join(folder, path, ".."), { recursive: true });
      await Deno.writeTextFile(join(folder, path), text);
    }
    return await use(folder);
  } finally {
    await Deno.remove(outer, { recursive: true });
  }
}

/** An even draw from 0 to 1 by a plain generator of its own. */
function dice(seed: number): () => number {
  let state = seed >>> 0;
  return () => (state = (Math.imul(state, 1664525) + 1013904223) >>> 0) / 2 ** 32;
}

const ladder = ["F120", "F220", "F320", "F500", "F800", "F1200"];

/** The files of one invented maker: every fifth at rough grinding, fine, polishing, the zone test, done. */
export function inventedMaker(index: number): Readonly<Record<string, string>> {
  const draw = dice(index + 1), stage = index % 5, f = 1200 + 24 * (draw() - 0.5);
  const day = `2026-09-${String(1 + Math.floor(28 * draw())).padStart(2, "0")}`;
  const log = ["date,abrasive,position,minutes"];
  for (let i = 0; i < 6; i++) log.push(`${day},F80,mirror on top,${i === 5 ? 28 : 20}`);
  const fine = stage === 0 ? [] : ladder.slice(0, stage === 1 ? 1 + Math.floor(5 * draw()) : 6);
  for (const grade of fine) {
    log.push(`${day},${grade},mirror on top,18`, `${day},${grade},tool on top,15`);
  }
  if (stage >= 2) { for (let i = 0; i < 6; i++) log.push(`${day},cerium oxide,mirror on top,60`); }
  const end = 128 + 33 * fine.length, deep = sagitta(148, 2 * f) - 12.7 ** 2 / (16 * f);
  const row = (minute: number, depth: number): string => {
    const low = Math.round(100 * depth - 0.5 + 0.6 * (draw() - 0.5)) / 100;
    return `${day},${minute},${low.toFixed(2)},${(low + 0.01).toFixed(2)}`;
  };
  const early = [20, 40, 60, 80, 100].map((m) => row(m, deep - (128 - m) * 0.00885));
  const late = Array.from({ length: 6 }, () => row(end, deep));
  const zones = ["date,run,inner_mm,outer_mm,reading_mm"], edges = [0, 30, 45, 57, 67, 74];
  const conic = stage === 4 ? -0.8 : 0.2 * draw();
  for (let run = 1; run <= 4; run++) {
    edges.slice(1).forEach((outer, i) => {
      const inner = edges[i] ?? 0, square = (inner ** 2 + outer ** 2) / 2;
      const knife = 12 - conic * square / (4 * f) + 0.08 * (draw() + draw() - 1);
      zones.push(`${day},${run},${inner},${outer},${knife.toFixed(2)}`);
    });
  }
  return {
    "mirror.yaml": `title: Bench ${
      index + 1
    }\naperture: 150 mm\nbevel: 1 mm\nfocal_length: 1200 mm\n`,
    "grinding.csv": `${log.join("\n")}\n`,
    "sagitta.csv": `${["date,after_min,go_mm,nogo_mm", ...early, ...late].join("\n")}\n`,
    ...(stage >= 3 ? { "zones.csv": `${zones.join("\n")}\n` } : {}),
  };
}

/** Writes so many invented makers' records into a folder; every `broken`th lacks its aperture. */
export async function writeMakers(folder: string, count: number, broken = 100): Promise<void> {
  for (let index = 0; index < count; index++) {
    const own = join(folder, `bench-${index + 1}`);
    await Deno.mkdir(own, { recursive: true });
    for (const [name, text] of Object.entries(inventedMaker(index))) {
      const spoilt = index % broken === broken - 1 && name === "mirror.yaml";
      await Deno.writeTextFile(join(own, name), spoilt ? text.replace(/aperture.*\n/, "") : text);
    }
  }
}
