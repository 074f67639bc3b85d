/** A numpy process that stays alive and does one piece of work at a time when asked. */
import { hasNumpy, python } from "../machine.ts";

export interface Peer {
  /** of numpy */
  readonly version: string;
  /** does the work once; `input` the first time */
  once(kernel: string, input?: unknown): Promise<{ cpu: number; result: number[] }>;
  stop(): Promise<void>;
}

/**
 * Starts Debian's python on a file of kernels, BLAS on one thread.
 *
 * @param file  absolute path
 * @returns `undefined` where python or numpy is missing
 */
export async function startPeer(file: string): Promise<Peer | undefined> {
  if (!hasNumpy) return undefined;
  const child = new Deno.Command(python, {
    args: [new URL("peer.py", import.meta.url).pathname, file],
    env: { OPENBLAS_NUM_THREADS: "1" },
    stdin: "piped",
    stdout: "piped",
  }).spawn();
  const writer = child.stdin.getWriter(),
    lines = linesOf(child.stdout),
    encoder = new TextEncoder();
  const next = async <T>(): Promise<T & { error?: string }> => {
    const { value } = await lines.next();
    return JSON.parse(value ?? `{"error": "its process ended"}`);
  };
  const hello = await next<{ numpy: string }>();
  return {
    version: hello.numpy,
    once: async (kernel, input) => {
      await writer.write(encoder.encode(`${JSON.stringify({ kernel, input })}\n`));
      const answer = await next<{ cpu: number; result: number[] }>();
      if (answer.error !== undefined) throw new Error(`numpy's ${kernel} failed: ${answer.error}`);
      return answer;
    },
    stop: async () => {
      await writer.close();
      await child.status;
    },
  };
}

async function* linesOf(bytes: ReadableStream<Uint8Array>): AsyncGenerator<string, undefined> {
  const decoder = new TextDecoder();
  let rest = "";
  for await (const part of bytes) {
    const lines = (rest + decoder.decode(part, { stream: true })).split("\n");
    rest = lines.pop() ?? "";
    yield* lines;
  }
  return undefined;
}
