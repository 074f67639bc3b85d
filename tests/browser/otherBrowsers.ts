/** Firefox by WebDriver BiDi and WebKitGTK by its driver, each without a screen, for tests of pages from disk. */
import { firefox, webkit } from "../machine.ts";

/** A browser with one page. */
export interface OtherBrowser {
  readonly name: string;
  open(file: string): Promise<void>;
  /** an expression in the page, awaited; its value as JSON keeps it */
  evaluate<T>(expression: string): Promise<T>;
  /** what its console said of faults since the page was opened; in WebKit, whose driver tells nothing of it, since it was loaded */
  complaints(): Promise<readonly string[]>;
  /** the page as it is seen, a PNG */
  picture(): Promise<Uint8Array>;
  close(): Promise<void>;
}

/** Says a port that is free now. */
function freePort(): number {
  using listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  return (listener.addr as Deno.NetAddr).port;
}

/** Waits until something answers. */
async function until<T>(what: string, ask: () => Promise<T | undefined>): Promise<T> {
  for (let tries = 0; tries < 150; tries++) {
    const answer = await ask().catch(() => undefined);
    if (answer !== undefined) return answer;
    await new Promise((later) => setTimeout(later, 200));
  }
  throw new Error(`${what} does not answer`);
}

/** Reads a stream until a line fits, and lets the rest flow. */
async function lineIn(
  stream: ReadableStream<Uint8Array<ArrayBuffer>>,
  pattern: RegExp,
): Promise<string> {
  const reader = stream.pipeThrough(new TextDecoderStream()).getReader();
  let text = "";
  for (;;) {
    const { value, done } = await reader.read();
    if (done) throw new Error(`ended, having said: ${text.slice(0, 500)}`);
    text += value;
    const found = pattern.exec(text)?.[1];
    if (found === undefined) continue;
    void (async () => {
      while (!(await reader.read()).done);
    })().catch(() => {});
    return found;
  }
}

/** Debian's Firefox, spoken to by WebDriver BiDi. */
export async function startFirefox(): Promise<OtherBrowser> {
  const profile = await Deno.makeTempDir({ prefix: "first-mirror-firefox-" });
  const child = new Deno.Command(firefox ?? "", {
    args: ["--headless", "--no-remote", "--profile", profile, "--remote-debugging-port=0"],
    env: { HOME: profile, MOZ_HEADLESS: "1" },
    stdout: "null",
    stderr: "piped",
  }).spawn();
  const address = await lineIn(child.stderr, /WebDriver BiDi listening on (ws:\S+)/);
  const socket = new WebSocket(`${address}/session`);
  await new Promise((open, failed) => {
    socket.onopen = open;
    socket.onerror = failed;
  });
  let number = 0;
  const waiting = new Map<number, (answer: Answer) => void>();
  interface Answer {
    readonly id?: number;
    readonly result?: Record<string, unknown>;
    readonly error?: string;
    readonly message?: string;
    readonly params?: { readonly level?: string; readonly text?: string };
  }
  let complaints: string[] = [];
  socket.onmessage = ({ data }) => {
    const answer = JSON.parse(data) as Answer;
    const { level, text = "" } = answer.params ?? {};
    if (level === "error" || level === "warn") complaints.push(text);
    if (answer.id !== undefined) waiting.get(answer.id)?.(answer);
  };
  const ask = async (method: string, params: object = {}): Promise<Record<string, unknown>> => {
    const id = ++number;
    const answer = await new Promise<Answer>((done) => {
      waiting.set(id, done);
      socket.send(JSON.stringify({ id, method, params }));
    });
    waiting.delete(id);
    if (answer.result === undefined) {
      throw new Error(`${method}: ${answer.message ?? answer.error}`);
    }
    return answer.result;
  };
  await ask("session.new", { capabilities: {} });
  await ask("session.subscribe", { events: ["log.entryAdded"] });
  const tree = await ask("browsingContext.getTree") as {
    readonly contexts: readonly { readonly context: string }[];
  };
  const context = tree.contexts[0]?.context;
  return {
    name: "Firefox",
    open: async (file) => {
      complaints = [];
      await ask("browsingContext.navigate", { context, url: `file://${file}`, wait: "complete" });
    },
    complaints: () => Promise.resolve(complaints),
    picture: async () => {
      const { data } = await ask("browsingContext.captureScreenshot", { context });
      return Uint8Array.fromBase64(String(data));
    },
    evaluate: async <T>(expression: string): Promise<T> => {
      const { result, exceptionDetails } = await ask("script.evaluate", {
        expression: `(async () => JSON.stringify(await (${expression})) ?? "null")()`,
        target: { context },
        awaitPromise: true,
      }) as {
        readonly result?: { readonly value: string };
        readonly exceptionDetails?: { readonly text: string };
      };
      if (result === undefined) throw new Error(exceptionDetails?.text);
      return JSON.parse(result.value) as T;
    },
    close: async () => {
      await ask("browser.close").catch(() => {});
      socket.close();
      await child.status;
      await Deno.remove(profile, { recursive: true }).catch(() => {});
    },
  };
}

/** Hears what goes wrong in a page that has been loaded. */
const LISTEN = `(() => {
  const heard = globalThis.heard = [];
  for (const level of ["error", "warn"]) {
    const say = console[level];
    console[level] = (...words) => { heard.push(words.join(" ")); say.apply(console, words); };
  }
  addEventListener("error", ({ message }) => void heard.push(message));
  addEventListener("unhandledrejection", ({ reason }) => void heard.push(String(reason)));
})()`;

/** Debian's WebKitGTK by its driver, on a screen that only memory holds. */
export async function startWebKit(): Promise<OtherBrowser> {
  const own = webkit;
  if (own === undefined) throw new Error("there is no WebKit here");
  const home = await Deno.makeTempDir({ prefix: "first-mirror-webkit-" });
  const port = freePort(), display = `:${20 + port % 4000}`;
  const env = {
    GDK_BACKEND: "x11",
    DISPLAY: display,
    // drawn by the processor: there is no card to draw by, and pages open in half the time
    WEBKIT_DISABLE_COMPOSITING_MODE: "1",
    WEBKIT_DISABLE_DMABUF_RENDERER: "1",
    HOME: home,
    XDG_RUNTIME_DIR: home,
    WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: "1",
  };
  const quiet = { stdout: "null", stderr: "null", env } as const;
  const screen = new Deno.Command(own.screen, {
    args: [display, "-screen", "0", "1400x1000x24", "-nolisten", "tcp"],
    ...quiet,
  }).spawn();
  const driver = new Deno.Command(own.driver, { args: ["-p", String(port)], ...quiet }).spawn();
  const ask = async (method: string, path: string, body?: object): Promise<unknown> => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, {
      method,
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const { value } = await answer.json() as { readonly value: unknown };
    if (answer.ok) return value;
    throw new Error((value as { readonly message: string }).message);
  };
  await until("WebKit's driver", async () => (await ask("GET", "/status"), true));
  const { sessionId } = await until("WebKit", async () =>
    await ask("POST", "/session", {
      capabilities: {
        alwaysMatch: {
          "webkitgtk:browserOptions": { binary: own.browser, args: ["--automation"] },
        },
      },
    }) as { readonly sessionId: string });
  const session = `/session/${sessionId}`;
  await ask("POST", `${session}/timeouts`, { script: 300_000, pageLoad: 120_000 });
  await ask("POST", `${session}/window/rect`, { x: 0, y: 0, width: 1280, height: 900 });
  const evaluate = async <T>(expression: string): Promise<T> => {
    const script =
      `const done = arguments[arguments.length - 1]; (async () => (${expression}))().then((value) => done({ value: JSON.stringify(value) ?? "null" }), (reason) => done({ reason: String(reason) }));`;
    const { value, reason } = await ask("POST", `${session}/execute/async`, {
      script,
      args: [],
    }) as {
      readonly value?: string;
      readonly reason?: string;
    };
    if (value === undefined) throw new Error(reason);
    return JSON.parse(value) as T;
  };
  return {
    name: "WebKit",
    open: async (file) => {
      await ask("POST", `${session}/url`, { url: `file://${file}` });
      await evaluate(LISTEN);
    },
    complaints: () => evaluate<string[]>("heard"),
    picture: async () => Uint8Array.fromBase64(String(await ask("GET", `${session}/screenshot`))),
    evaluate,
    close: async () => {
      await ask("DELETE", session).catch(() => {});
      for (const child of [driver, screen]) {
        child.kill();
        await child.status;
      }
      await Deno.remove(home, { recursive: true }).catch(() => {});
    },
  };
}
