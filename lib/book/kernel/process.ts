/** Starting the kernel's process, knowing when it has died, and leaving nothing behind. */
import { join } from "node:path";
import { tempFolder } from "../tempFolder.ts";
import { setGuard } from "./guard.ts";

/** The kernel's five channels, as Jupyter names them. */
export interface Ports {
  readonly shell: number;
  readonly iopub: number;
  readonly stdin: number;
  readonly control: number;
  readonly hb: number;
}

/** A running kernel process. */
export interface KernelProcess {
  readonly ports: Ports;
  readonly pid: number;
  /** the secret with which both ends sign */
  readonly key: string;
  /** a file in which the kernel notes the cell and line it has reached */
  readonly lineFile: string;
  /** settles when the process has ended, with its exit code */
  readonly died: Promise<number>;
  /** the last few lines the process wrote to its standard error */
  lastWords(): string;
  /** Ends the process at once. */
  kill(): void;
  /** Waits for the process's end and removes what it left. */
  bury(): Promise<void>;
}

/** What every Deno kernel says as it starts; no news. */
const GREETING = /^Warning "deno jupyter" is unstable.*\n/m;

/** How the kernel is to be started. */
export interface LaunchOptions {
  readonly cwd: string;
  /** added to this process's environment */
  readonly env?: Readonly<Record<string, string>>;
}

/**
 * Starts `deno jupyter --kernel` on free ports of this machine, with a guard that ends it if this process goes first.
 *
 * @throws {Error} where the folder to work in does not exist
 */
export async function launch({ cwd, env = {} }: LaunchOptions): Promise<KernelProcess> {
  if (!await Deno.stat(cwd).then(({ isDirectory }) => isDirectory, () => false)) {
    throw new Error(`the kernel requires a folder to work in, got ${cwd}, which is none`);
  }
  const folder = await tempFolder("kernel");
  const connectionFile = join(folder, "connection.json");
  const lineFile = join(folder, "line");
  const key = crypto.randomUUID();
  await Deno.writeTextFile(lineFile, "");
  const ports = freePorts();
  await Deno.writeTextFile(connectionFile, connection(ports, key), { mode: 0o600 });
  const child = new Deno.Command(Deno.execPath(), {
    args: ["jupyter", "--kernel", "--conn", connectionFile],
    cwd,
    env: { NO_COLOR: "1", ...env },
    stdin: "null",
    stdout: "null",
    stderr: "piped",
  }).spawn();
  return watchOver(child, { ports, key, lineFile }, folder);
}

function watchOver(
  child: Deno.ChildProcess,
  { ports, key, lineFile }: Pick<KernelProcess, "ports" | "key" | "lineFile">,
  folder: string,
): KernelProcess {
  const guard = setGuard(child.pid, folder);
  const words = listen(child.stderr);
  const died = child.status.then(({ code }) => code);
  return {
    ports,
    pid: child.pid,
    key,
    lineFile,
    died,
    lastWords: () => words.text.replace(GREETING, "").trim(),
    kill: () => {
      try {
        child.kill("SIGKILL");
      } catch { /* gone already */ }
    },
    bury: async () => {
      await died;
      await words.ended;
      await guard.release();
      await Deno.remove(folder, { recursive: true }).catch(() => {});
    },
  };
}

/** Five ports that nobody listens on just now. */
function freePorts(): Ports {
  const listeners = Array.from(
    { length: 5 },
    () => Deno.listen({ hostname: "127.0.0.1", port: 0 }),
  );
  const [shell = 0, iopub = 0, stdin = 0, control = 0, hb = 0] = listeners.map((listener) =>
    listener.addr.port
  );
  for (const listener of listeners) listener.close();
  return { shell, iopub, stdin, control, hb };
}

function connection(ports: Ports, key: string): string {
  const channels = Object.entries(ports).map(([name, port]) => [`${name}_port`, port]);
  return JSON.stringify({
    ...Object.fromEntries(channels),
    ip: "127.0.0.1",
    transport: "tcp",
    key,
    signature_scheme: "hmac-sha256",
  });
}

/** Reads a stream to its end, keeping the last 4 kB. */
function listen(stream: ReadableStream<Uint8Array>): { text: string; ended: Promise<void> } {
  const words = { text: "", ended: Promise.resolve() };
  words.ended = (async (): Promise<void> => {
    const decoder = new TextDecoder();
    for await (const piece of stream) {
      words.text = (words.text + decoder.decode(piece, { stream: true })).slice(-4096);
    }
  })().catch(() => {});
  return words;
}
