/** What a Deno subcommand says, on both of its streams; no colours, nothing to read. */
export async function denoSays(
  args: readonly string[],
  cwd: string,
): Promise<{ readonly out: string; readonly err: string }> {
  const command = new Deno.Command(Deno.execPath(), {
    args: [...args],
    cwd,
    env: { NO_COLOR: "1" },
    stdin: "null",
    stdout: "piped",
    stderr: "piped",
  });
  const { stdout, stderr } = await command.output();
  const decoder = new TextDecoder();
  return { out: decoder.decode(stdout), err: decoder.decode(stderr) };
}
