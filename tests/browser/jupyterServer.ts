/** A Jupyter on loopback: Debian's classic Notebook or another, in a folder of its own, with the kit's kernel and nothing of the user's. */
import { join } from "node:path";
import { kernelMetadata, writeKernelspec } from "../../lib/book/kernelspec.ts";
import { recordsFolder } from "../../lib/knowledge/open.ts";

const root = new URL("../../", import.meta.url);
const program = "/usr/bin/jupyter-notebook";

/** Its version; undefined where it is not installed. */
export const jupyterNotebook: string | undefined = (() => {
  try {
    const { success, stdout } = new Deno.Command(program, { args: ["--version"] }).outputSync();
    return success ? new TextDecoder().decode(stdout).trim() : undefined;
  } catch {
    return undefined;
  }
})();

/** A folder outside the kit whose cells may import the kit: its own deno.json names every room by its place. */
export async function folderForCells(): Promise<string> {
  const folder = await Deno.makeTempDir({ prefix: "first-mirror-cells-" });
  const { imports, ...rest } = JSON.parse(await Deno.readTextFile(new URL("deno.json", root)));
  const placed = Object.entries(imports as Record<string, string>).map(([name, target]) => [
    name,
    target.startsWith("./") ? new URL(target, root).href : target,
  ]);
  const config = { imports: Object.fromEntries(placed), nodeModulesDir: rest.nodeModulesDir };
  await Deno.writeTextFile(join(folder, "deno.json"), JSON.stringify(config));
  return folder;
}

/** A notebook of these cells of code, as Jupyter stores it. */
export function notebookOf(cells: readonly string[]): string {
  return JSON.stringify({
    cells: cells.map((source, i) => ({
      ...{ cell_type: "code", id: `code-${i + 1}`, metadata: {}, execution_count: null },
      ...{ outputs: [], source },
    })),
    metadata: kernelMetadata(),
    nbformat: 4,
    nbformat_minor: 5,
  });
}

/** A front end of Jupyter's, and how its server is started. */
export interface FrontEnd {
  readonly program: string;
  readonly args: (folder: string) => readonly string[];
}

/** Debian's. */
export const classicNotebook: FrontEnd = {
  program,
  args: (folder) => [
    ...["--NotebookApp.port_retries=0", "--NotebookApp.token=", "--NotebookApp.password="],
    `--notebook-dir=${folder}`,
  ],
};

/** A running server. */
export interface Server {
  readonly address: string;
  stop(): Promise<void>;
}

function freePort(): number {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr as Deno.NetAddr;
  listener.close();
  return port;
}

async function answers(address: string, program: string): Promise<void> {
  for (let tries = 0; tries < 150; tries++) {
    const answer = await fetch(`${address}/api/status`).catch(() => undefined);
    await answer?.body?.cancel();
    if (answer?.ok === true) return;
    await new Promise((again) => setTimeout(again, 200));
  }
  throw new Error(`${program} does not answer at ${address}`);
}

/** Starts it on a folder; everything it writes goes into that folder's `jupyter`. Cells open the record given. */
export async function startJupyter(
  folder: string,
  record = join(recordsFolder, "demo-150-f8"),
  { program, args }: FrontEnd = classicNotebook,
): Promise<Server> {
  const own = join(folder, "jupyter"), port = freePort(), address = `http://127.0.0.1:${port}`;
  await writeKernelspec(join(own, "kit"));
  const child = new Deno.Command(program, {
    args: [
      ...["--no-browser", "--allow-root", "--ip=127.0.0.1", `--port=${port}`],
      ...args(folder),
    ],
    cwd: folder,
    env: {
      HOME: own,
      JUPYTER_PATH: join(own, "kit"),
      JUPYTER_DATA_DIR: join(own, "data"),
      JUPYTER_CONFIG_DIR: join(own, "config"),
      JUPYTER_RUNTIME_DIR: join(own, "runtime"),
      IPYTHONDIR: join(own, "ipython"),
      DENO_DIR: Deno.env.get("DENO_DIR") ?? await denoDir(),
      FIRST_MIRROR_RECORD: record,
    },
    stdin: "null",
    stdout: "null",
    stderr: "null",
  }).spawn();
  try {
    await answers(address, program);
  } catch (error) {
    child.kill("SIGKILL");
    throw error;
  }
  return {
    address,
    async stop(): Promise<void> {
      const listed = await fetch(`${address}/api/kernels`).then((r) => r.json()) as {
        id: string;
      }[];
      for (const { id } of listed) {
        await (await fetch(`${address}/api/kernels/${id}`, { method: "DELETE" })).body?.cancel();
      }
      child.kill("SIGTERM");
      await child.status;
    },
  };
}

/** Deno's cache as it is for this process: the server has another home. */
async function denoDir(): Promise<string> {
  const { stdout } = await new Deno.Command(Deno.execPath(), { args: ["info", "--json"] }).output();
  return JSON.parse(new TextDecoder().decode(stdout)).denoDir;
}
