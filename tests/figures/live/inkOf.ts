/**
 * How much ink drawings have, by sharp (librsvg) in a process of its own: where records are read, all but JPEG and PNG is closed
 * for the whole process. A list of SVG texts comes in as JSON, the largest standard deviation of each one's channels goes out.
 */
import sharp from "sharp";

const drawings: string[] = JSON.parse(await new Response(Deno.stdin.readable).text());
const ink = await Promise.all(drawings.map(async (drawing) => {
  const { channels } = await sharp(new TextEncoder().encode(drawing)).flatten({
    background: "#fff",
  })
    .stats();
  return Math.max(...channels.map(({ stdev }) => stdev));
}));
// deno-lint-ignore no-console -- the answer
console.log(JSON.stringify(ink));
