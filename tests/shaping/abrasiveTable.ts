import { type Grade, gradeOf } from "../../lib/shaping/grinding/grade.ts";

/** The workshop's own table, read as plain text: name, scale, middle grain and its tolerance. */
export const grades: readonly Grade[] = Deno.readTextFileSync("data/tables/abrasives.csv").split(
  /\r?\n/,
)
  .filter((line) => line !== "" && !line.startsWith("# ") && !line.startsWith("name,"))
  .map((line) => {
    const [name = "", scale = "", ds50Um = "", within = ""] = line.replaceAll('"', "").split(",");
    return {
      name,
      scale: scale as Grade["scale"],
      ds50Um: Number(ds50Um),
      ...(within === "" ? {} : { withinUm: Number(within) }),
    };
  });

/** Some of them, by name. */
export function named(...names: readonly string[]): Grade[] {
  return names.map((name) => gradeOf(name, grades));
}
