/** Which Jupyter a machine has, if any. */

/** A way to open notebooks in a browser. */
export interface Jupyter {
  /** subcommand of `jupyter` */
  readonly face: "lab" | "notebook";
  readonly version: string;
}

/** Whether a command runs, and the first line it says; undefined where it does not. */
export async function firstLineOf(
  command: string,
  args: readonly string[],
): Promise<string | undefined> {
  try {
    const run = new Deno.Command(command, {
      args: [...args],
      stdin: "null",
      stdout: "piped",
      stderr: "null",
    });
    const { success, stdout } = await run.output();
    return success ? new TextDecoder().decode(stdout).trim().split("\n")[0] : undefined;
  } catch {
    return undefined;
  }
}

/** The faces of the Jupyter on the PATH, the newer first. */
export async function* jupyters(): AsyncGenerator<Jupyter> {
  for (const face of ["lab", "notebook"] as const) {
    const version = await firstLineOf("jupyter", [face, "--version"]);
    if (version !== undefined) yield { face, version };
  }
}

/** The first of them; undefined where there is none. */
export async function findJupyter(): Promise<Jupyter | undefined> {
  for await (const found of jupyters()) return found;
  return undefined;
}

/** How to get a Jupyter, in one line. */
export const HOW_TO_GET_JUPYTER =
  "No Jupyter on this machine: install Python 3, then run `pip install notebook` (Debian, Ubuntu: `apt install jupyter-notebook`).";
