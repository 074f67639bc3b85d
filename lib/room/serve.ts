/** The room's server: who may come in, what is asked, what is answered. */
import { join } from "node:path";
import type { ClassNow } from "../knowledge/classLines.ts";
import type { SentRow } from "../record/appendRows.ts";
import { clean } from "../record/clean.ts";
import { type TableName, TABLES } from "../record/schema.ts";
import { benchFacts, wordsOf } from "./benchFacts.ts";
import { benchSteps } from "./benchSteps.ts";
import { bookAnswer, type RoomBook } from "./book.ts";
import type { Outcome, Who } from "./benchFolder.ts";
import { asDiskRefused } from "./disk.ts";
import type { Events } from "./events.ts";
import { type Holder, KeyRing, type Keys } from "./keys.ts";
import { Limits } from "./limits.ts";
import { type Page, pages } from "./pages/pages.ts";
import { isFolder, type Room, type Seat } from "./room.ts";

/** Largest body of rows, and of a picture, bytes. */
export const LARGEST_BODY = { rows: 1_000_000, photo: 20_000_000 } as const;

/** A key's requests: so many at once, so many a second after that. The leader's laptop and projector are no phones. */
const USUAL = { phone: [300, 30], leader: [2000, 300] } as const;

/** Failures that are answered, with their status. */
class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
    readonly headers: Readonly<Record<string, string>> = {},
  ) {
    super(message);
  }
}

/** What the server stands on. */
export interface ServerParts {
  readonly room: Room;
  readonly events: Events;
  /** keys as they are now; the leader may begin a bench, which adds one */
  readonly keys: () => Keys;
  /** addresses under which the room may be asked for: "127.0.0.1:8750" */
  readonly isOwnHost: (host: string) => boolean;
  /** begins a bench: its folder is made */
  readonly begin: (folder: string, name: string) => Promise<void>;
  readonly book: RoomBook;
  /** addresses that carry keys, for the sheet of codes */
  readonly addressOf: (folder: string) => string | undefined;
}

/** One request on its way. */
interface Asked {
  readonly request: Request;
  readonly url: URL;
  readonly holder: Holder;
  /** parts of the path that the route has left open, decoded */
  readonly parts: readonly string[];
}

interface Route {
  readonly path: RegExp;
  /** who may, beside the leader */
  readonly may: (holder: Holder, parts: readonly string[]) => boolean;
  readonly on: Readonly<Record<string, (asked: Asked) => Promise<Response> | Response>>;
}

const json = (value: unknown, status = 200): Response =>
  new Response(`${JSON.stringify(value)}\n`, {
    status,
    headers: { "content-type": "application/json; charset=utf-8", "cache-control": "no-store" },
  });

const COMMON: Readonly<Record<string, string>> = {
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
  "cross-origin-resource-policy": "same-origin",
  "x-frame-options": "DENY",
};

/** The server as one function from request to response. */
export function server(parts: ServerParts): (request: Request) => Promise<Response> {
  const { room, events } = parts;
  const limits = {
    phone: new Limits(...USUAL.phone),
    leader: new Limits(...USUAL.leader),
  };

  const ownBench = (holder: Holder, [folder]: readonly string[]): boolean =>
    holder.kind === "bench" && holder.folder === folder;
  const reads = (holder: Holder): boolean => holder.kind === "wall";
  const nobody = (): boolean => false;

  const seatOf = async ([folder = ""]: readonly string[]): Promise<Seat> => {
    if (!room.seats.has(folder)) await room.look();
    const seat = room.seats.get(folder);
    if (seat === undefined) throw new Refused(404, "There is no such bench in this class.");
    return seat;
  };
  const writable = async (open: readonly string[]): Promise<Seat> => {
    const seat = await seatOf(open);
    if (!isFolder(seat.kind)) {
      throw new Refused(409, "This bench’s folder is a link, which is not followed.");
    }
    return seat;
  };

  const routes: readonly Route[] = [
    {
      path: /^\/wall$/,
      may: reads,
      on: { GET: (): Response => shown(pages.wall) },
    },
    { path: /^\/leader$/, may: nobody, on: { GET: (): Response => shown(pages.leader) } },
    {
      path: /^\/bench\/([^/]+)$/,
      may: ownBench,
      on: {
        GET: async ({ parts: open }): Promise<Response> => {
          await seatOf(open);
          return shown(pages.bench);
        },
      },
    },
    {
      // browsers ask for a sign of their own accord where a page names none
      path: /^\/favicon\.ico$/,
      may: () => true,
      on: { GET: (): Response => new Response(null, { status: 204 }) },
    },
    {
      path: /^\/bench\/([^/]+)\/book(?:\/(.*))?$/,
      may: ownBench,
      on: {
        GET: async ({ request, parts: open }): Promise<Response> => {
          const { folder } = await seatOf(open), [, file = ""] = open;
          const home = `/bench/${encodeURIComponent(folder)}/book/`;
          if (file === "" || file === "index.html") {
            const front = `${home}benches/${encodeURIComponent(folder)}/index.html`;
            return elsewhere(front);
          }
          const state = parts.book.state();
          if (state === "under way") return shown(pages.layingOut);
          if (state !== "ready") throw new Refused(503, state.why);
          return await bookFile(folder, file, request);
        },
      },
    },
    {
      path: /^\/cards$/,
      may: nobody,
      on: {
        GET: async (): Promise<Response> => {
          await room.settled();
          const { cardsPage } = await import("./pages/cards.ts");
          return shown(cardsPage(room.now(), room.many(), parts.addressOf));
        },
      },
    },
    {
      path: /^\/day$/,
      may: nobody,
      on: {
        GET: async (): Promise<Response> => {
          await room.settled();
          const { dayPage } = await import("./pages/day.ts");
          return shown(dayPage(room.now(), room.many(), await historyOf(room)));
        },
      },
    },
    {
      path: /^\/api\/class$/,
      may: reads,
      on: {
        GET: async (): Promise<Response> => {
          await room.settled();
          return json(classJson(room));
        },
      },
    },
    {
      path: /^\/api\/class\.parquet$/,
      may: reads,
      on: {
        GET: async (): Promise<Response> => {
          await room.settled();
          const answer = await room.parquet();
          if (!("base64" in answer)) throw new Refused(500, "The table could not be made.");
          return new Response(Uint8Array.fromBase64(answer.base64), {
            headers: {
              "content-type": "application/vnd.apache.parquet",
              "cache-control": "no-store",
            },
          });
        },
      },
    },
    {
      path: /^\/api\/events$/,
      may: (holder) => holder.kind !== "leader",
      on: {
        GET: ({ request, holder }): Response => {
          const hears = ({ bench }: { readonly bench: string }): boolean =>
            holder.kind !== "bench" || holder.folder === bench;
          const last = request.headers.get("last-event-id") ?? undefined;
          return new Response(events.stream(hears, last), {
            headers: { "content-type": "text/event-stream", "cache-control": "no-store" },
          });
        },
      },
    },
    {
      path: /^\/api\/pins$/,
      may: nobody,
      on: {
        POST: async ({ request }): Promise<Response> => {
          const { bench, first } = await bodyOf(request);
          if (typeof bench !== "string" || typeof first !== "boolean") {
            throw new Refused(400, 'Wanted: { "bench": FOLDER, "first": true or false }.');
          }
          await seatOf([bench]);
          await room.pin(bench, first);
          return json({ pinned: room.pinned });
        },
      },
    },
    {
      path: /^\/api\/benches$/,
      may: nobody,
      on: {
        POST: async ({ request }): Promise<Response> => {
          const { folder, name } = await bodyOf(request);
          if (typeof folder !== "string") {
            throw new Refused(400, 'Wanted: { "folder": NAME }.');
          }
          if (!/^[\p{L}\p{N}][\p{L}\p{N} _.-]{0,60}$/u.test(folder) || folder.endsWith(".")) {
            throw new Refused(
              422,
              "A bench’s folder has 1 to 60 letters, digits, spaces or dashes, such as bench-13.",
            );
          }
          if (await room.isThere(folder)) {
            throw new Refused(409, `${folder} is there already, and was not touched.`);
          }
          await parts.begin(folder, typeof name === "string" ? clean(name, 60) : folder);
          await room.look();
          room.changed([folder]);
          return json({ folder, url: parts.addressOf(folder) }, 201);
        },
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)$/,
      may: ownBench,
      on: {
        GET: async ({ parts: open }): Promise<Response> =>
          json(await benchFacts(room, await seatOf(open))),
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)\/steps\/([^/]+)$/,
      may: ownBench,
      on: {
        GET: async ({ parts: open }): Promise<Response> => {
          const { folder, kind } = await seatOf(open);
          const steps = isFolder(kind)
            ? await benchSteps(join(room.folder, folder), open[1] ?? "")
            : undefined;
          if (steps === undefined) {
            throw new Refused(
              404,
              "There are no steps of this: the stage has none, or mirror.yaml cannot be read.",
            );
          }
          return json(steps);
        },
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)\/summary$/,
      may: (holder, open) => ownBench(holder, open) || reads(holder),
      on: {
        GET: async ({ parts: open }): Promise<Response> => {
          const seat = await seatOf(open);
          if (!isFolder(seat.kind)) {
            return json({ refusals: [`${clean(seat.folder)}: ${seat.kind}`] }, 422);
          }
          const answer = await room.whole(seat.folder);
          if ("refusals" in answer) return json({ refusals: answer.refusals }, 422);
          if (!("summary" in answer)) {
            throw new Refused(500, "The kit has a fault here; the record is not to blame.");
          }
          return new Response(answer.summary, {
            headers: {
              "content-type": "application/json; charset=utf-8",
              "cache-control": "no-store",
            },
          });
        },
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)\/tables\/([^/]+)\/rows$/,
      may: ownBench,
      on: {
        POST: async ({ request, holder, parts: open }): Promise<Response> => {
          const seat = await seatOf(open), table = tableOf(open[1]);
          const { id, rows } = sentRows(await bodyOf(request));
          await writable(open);
          return await written(
            seat,
            table,
            await seat.files.addRows(table, id, whoOf(holder), rows, room.today),
          );
        },
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)\/tables\/([^/]+)\/rows\/([^/]+)$/,
      may: ownBench,
      on: {
        // what a hand has taken out, the leader may put back
        PUT: async ({ holder, parts: open }): Promise<Response> => {
          if (holder.kind !== "leader") throw forbidden();
          const seat = await writable(open), table = tableOf(open[1]);
          return await written(
            seat,
            table,
            await seat.files.putBack(table, open[2] ?? "", "leader"),
          );
        },
        DELETE: async ({ holder, parts: open }): Promise<Response> => {
          const seat = await seatOf(open), table = tableOf(open[1]);
          await writable(open);
          return await written(
            seat,
            table,
            await seat.files.undo(table, open[2] ?? "", whoOf(holder)),
          );
        },
      },
    },
    {
      path: /^\/api\/benches\/([^/]+)\/photos$/,
      may: ownBench,
      on: {
        POST: async ({ request, holder, parts: open }): Promise<Response> => {
          const seat = await writable(open);
          const id = request.headers.get("idempotency-key") ?? "";
          if (!isId(id)) {
            throw new Refused(400, "A photograph comes with its id in the header Idempotency-Key.");
          }
          const bytes = await bytesOf(request, LARGEST_BODY.photo);
          const type = request.headers.get("content-type") ?? "";
          return await written(
            seat,
            "photos",
            await seat.files.addPhoto(id, whoOf(holder), bytes, type),
          );
        },
      },
    },
  ];

  /** A file of a bench's book: its own, made from its record as it stands, or one that all share. */
  async function bookFile(folder: string, file: string, request: Request): Promise<Response> {
    const nothing = new Refused(404, "There is no such page in this book.");
    const start = `benches/${folder}/`;
    if (!file.startsWith("benches/")) {
      const found = await parts.book.file(file, request);
      if (found === undefined) throw nothing;
      return found;
    }
    if (!file.startsWith(start)) throw forbidden();
    const own = file.slice(start.length), answer = await room.bookFile(folder, own);
    if (!("text" in answer)) throw new Refused(503, "The page could not be made just now.");
    if (answer.text === null) throw nothing;
    return bookAnswer(own, answer.text);
  }

  async function written(seat: Seat, table: string, outcome: Outcome): Promise<Response> {
    if (outcome.status === 201 || (outcome.status === 200 && table !== "photos")) {
      await room.written(seat.folder, table);
    }
    const { status, ...body } = outcome;
    return json(body, status);
  }

  async function handled(request: Request, url: URL): Promise<Response> {
    const ring = new KeyRing(parts.keys());
    if (url.pathname === "/enter" && request.method === "GET") {
      refuseStrangers(request, parts.isOwnHost);
      return shown(pages.enter);
    }
    const key = keyOf(request), holder = ring.holderOf(key);
    if (holder === undefined || key === undefined || ring.isIn(decoded(url.search) ?? "")) {
      throw new Refused(401, "A key is needed: scan the code of your bench, or ask the leader.");
    }
    refuseStrangers(request, parts.isOwnHost);
    const wait = limits[holder.kind === "bench" ? "phone" : "leader"].take(key, Date.now());
    if (wait > 0) {
      throw new Refused(429, "Too many at once from here; wait a little.", {
        "retry-after": String(wait),
      });
    }
    if (url.pathname === "/enter") return entered(request, holder, key);
    if (url.pathname === "/") return elsewhere(placeOf(holder));
    return await routed(request, url, holder);
  }

  async function routed(request: Request, url: URL, holder: Holder): Promise<Response> {
    for (const { path, may, on } of routes) {
      const found = path.exec(url.pathname);
      if (found === null) continue;
      const open = found.slice(1).map((part) => decoded(part) ?? "");
      if (holder.kind !== "leader" && !may(holder, open)) throw forbidden();
      const act = on[request.method];
      if (act === undefined) {
        throw new Refused(405, `Only ${Object.keys(on).join(", ")} is understood here.`, {
          allow: Object.keys(on).join(", "),
        });
      }
      return await act({ request, url, holder, parts: open });
    }
    // what is nobody's is not found; what is another bench's or the leader's is said to be so
    const [, folder] = /^\/(?:api\/benches|bench)\/([^/]+)/.exec(url.pathname) ?? [];
    const isOthers = folder !== undefined && holder.kind !== "leader" &&
      !ownBench(holder, [decoded(folder) ?? ""]);
    if (isOthers || (holder.kind === "bench" && /^\/(leader|wall|api\/class)/.test(url.pathname))) {
      throw forbidden();
    }
    throw new Refused(404, "There is nothing at this address.");
  }

  return async (request) => {
    const url = new URL(request.url);
    let response: Response;
    try {
      response = await handled(request, url);
    } catch (error) {
      if (error instanceof Refused) {
        response = refusedWith(request, error.status, error.message);
        for (const [name, value] of Object.entries(error.headers)) {
          response.headers.set(name, value);
        }
      } else {
        const { message, isFull } = disk(error);
        response = refusedWith(request, isFull ? 507 : 503, message);
      }
    }
    for (const [name, value] of Object.entries(COMMON)) response.headers.set(name, value);
    return response;
  };
}

const forbidden = (): Refused => new Refused(403, "This key does not open that.");

function disk(error: unknown): { message: string; isFull: boolean } {
  try {
    return asDiskRefused(error);
  } catch {
    return {
      message: "The kit has a fault here; nothing was written. Keep the entry and tell the leader.",
      isFull: false,
    };
  }
}

/** A page for a person, else data. */
function refusedWith(request: Request, status: number, sentence: string): Response {
  return request.headers.get("accept")?.includes("text/html") === true
    ? shown(pages.refused(sentence), status)
    : json({ error: sentence }, status);
}

function shown({ html, policy }: Page, status = 200): Response {
  return new Response(html, {
    status,
    headers: {
      "content-type": "text/html; charset=utf-8",
      "content-security-policy": policy,
      "cache-control": "no-store",
    },
  });
}

/** The key that a request brings: behind Bearer, else in the cookie. */
function keyOf(request: Request): string | undefined {
  const authorization = request.headers.get("authorization");
  if (authorization !== null) return /^Bearer +(\S+)$/i.exec(authorization)?.[1];
  const cookies = request.headers.get("cookie") ?? "";
  return cookies.split(/; */).map((one) => /^room=(\S+)$/.exec(one)?.[1])
    .find((one) => one !== undefined);
}

/** Pages of other places may not ask in a reader's name, nor may the room be called by a name that is not its own. */
function refuseStrangers(request: Request, isOwnHost: (host: string) => boolean): void {
  const host = request.headers.get("host") ?? "", origin = request.headers.get("origin");
  const from = origin === null ? undefined : /^http:\/\/([^/]+)$/.exec(origin)?.[1];
  if (!isOwnHost(host) || (origin !== null && (from === undefined || !isOwnHost(from)))) {
    throw new Refused(403, "Only the room’s own pages may ask here.");
  }
}

/** An answer that leads on; its headers can still be set. */
function elsewhere(place: string): Response {
  return new Response(null, { status: 303, headers: { location: place } });
}

function placeOf(holder: Holder): string {
  if (holder.kind === "bench") return `/bench/${encodeURIComponent(holder.folder)}`;
  return holder.kind === "leader" ? "/leader" : "/wall";
}

function entered(request: Request, holder: Holder, key: string): Response {
  if (request.method !== "POST") {
    throw new Refused(405, "Only GET, POST is understood here.", { allow: "GET, POST" });
  }
  const response = json({ to: placeOf(holder) });
  response.headers.set(
    "set-cookie",
    `room=${key}; Path=/; HttpOnly; SameSite=Strict; Max-Age=2592000`,
  );
  return response;
}

function decoded(part: string): string | undefined {
  try {
    return decodeURIComponent(part);
  } catch {
    return undefined;
  }
}

const whoOf = (holder: Holder): Who => holder.kind === "leader" ? "leader" : "bench";

function tableOf(name: string | undefined): TableName {
  const table = TABLES.find((one) => one === name);
  if (table === undefined) {
    throw new Refused(404, `There is no such table; a record has ${TABLES.join(", ")}.`);
  }
  return table;
}

const isId = (id: unknown): id is string =>
  typeof id === "string" && /^[\x21-\x7e]{1,100}$/.test(id);

/** Reads a body to its end, or says that it is too large; what is much too large is not waited for. */
async function bytesOf(request: Request, most: number): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array[] = [];
  let length = 0;
  const reader = request.body?.getReader();
  for (; reader !== undefined;) {
    const { done, value } = await reader.read().catch(() => {
      throw new Refused(400, "The body ended before its end; send it again.");
    });
    if (done) break;
    length += value.length;
    if (length <= most) parts.push(value);
    else parts.length = 0;
    if (length > 4 * most) {
      await reader.cancel().catch(() => undefined);
      break;
    }
  }
  if (length > most) {
    throw new Refused(413, `At most ${most / 1e6} MB at once: make it smaller.`);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** A body's JSON, a group of keys. */
async function bodyOf(request: Request): Promise<Readonly<Record<string, unknown>>> {
  const bytes = await bytesOf(request, LARGEST_BODY.rows);
  let value: unknown;
  try {
    value = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch {
    throw new Refused(400, "The body is no JSON.");
  }
  if (typeof value !== "object" || value === null || Array.isArray(value)) {
    throw new Refused(400, "The body is no JSON object.");
  }
  return value as Readonly<Record<string, unknown>>;
}

/** What a body of rows has to be. */
function sentRows(
  { id, rows }: Readonly<Record<string, unknown>>,
): { id: string; rows: readonly SentRow[] } {
  const isRow = (row: unknown): row is SentRow =>
    typeof row === "object" && row !== null && !Array.isArray(row) &&
    Object.values(row).every((cell) => typeof cell === "string");
  if (!isId(id)) throw new Refused(400, "Wanted an id of 1 to 100 signs, such as a UUID.");
  if (!Array.isArray(rows) || rows.length === 0 || !rows.every(isRow)) {
    throw new Refused(
      400,
      'Wanted rows, each with its cells as text: { "id": UUID, "rows": [{ "go_mm": "0.88+0.25" }] }.',
    );
  }
  return { id, rows };
}

/** The class as the contract has it, and what wall and leader show besides. */
function classJson(room: Room): unknown {
  const now: ClassNow = room.now();
  return {
    title: now.title,
    today: now.today,
    benches: now.benches.map(({ folder, name, state, why, stage, nextStep, rank, ...rest }) => {
      const seat = room.seats.get(folder);
      return {
        ...{ folder, name, state },
        ...(why === undefined ? {} : { why }),
        ...(stage === undefined ? {} : { stage }),
        ...(nextStep === undefined ? {} : { next_step: nextStep }),
        ...{ rank, reason: rest.reason, kind: rest.kind },
        ...(rest.idleDays === undefined ? {} : { idle_days: rest.idleDays }),
        ...(seat?.lastAt === undefined ? {} : { last_at: seat.lastAt }),
        ...(seat?.gone === undefined || seat.gone.length === 0 ? {} : {
          gone: seat.gone.map((entry) => ({
            ...{ id: entry.id, table: entry.table, words: wordsOf(entry) },
          })),
        }),
      };
    }),
    tester: now.tester,
    adults: now.adults,
    stock: now.stock,
    pinned: room.pinned,
    at: new Date().toISOString(),
    ...(room.settingsRefused.length === 0 ? {} : { class_yaml: room.settingsRefused }),
  };
}

/** What each bench has entered, by its folder. */
async function historyOf(room: Room): Promise<
  ReadonlyMap<string, Awaited<ReturnType<Seat["files"]["history"]>>>
> {
  const all = new Map<string, Awaited<ReturnType<Seat["files"]["history"]>>>();
  for (const { folder, files } of room.seats.values()) {
    all.set(folder, await files.history().catch(() => []));
  }
  return all;
}
