// deno-lint-ignore-file no-console
/** Builds the page's script from runtime.ts: `deno run -A lib/figures/live/build.ts`. */

/**
 * The runtime as one classic script.
 *
 * @throws {Error} where the bundler fails, with what it said
 */
export async function bundleRuntime(): Promise<string> {
  const entry = new URL("./runtime.ts", import.meta.url).pathname;
  const { success, stdout, stderr } = await new Deno.Command(Deno.execPath(), {
    args: ["bundle", "--quiet", "--platform", "browser", "--format", "iife", "--minify", entry],
    env: { NO_COLOR: "1" },
  }).output();
  const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
  if (!success) throw new Error(`bundleRuntime requires a bundle, got: ${text(stderr)}`);
  return text(stdout);
}

if (import.meta.main) {
  const script = await bundleRuntime();
  await Deno.writeTextFile(new URL("./runtime.js.txt", import.meta.url), script);
  console.log(`runtime.js.txt: ${new TextEncoder().encode(script).length} bytes`);
}
