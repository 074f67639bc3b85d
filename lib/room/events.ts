/** Server-sent events: what changed, to everybody who may hear it, and again to whoever was away for a moment. */

/** What is told after each change. */
export interface RoomEvent {
  /** folder of the bench */
  readonly bench: string;
  /** without its ".csv"; "" where no table changed */
  readonly table: string;
  /** of the bench now; absent where none is known */
  readonly next_step?: string;
}

interface Listener {
  readonly hears: (event: RoomEvent) => boolean;
  readonly send: (text: string) => void;
}

/** So many events are kept for whoever comes back. */
const KEPT = 1000;

/** The room's events. */
export class Events {
  readonly #listeners = new Set<Listener>();
  readonly #kept: { readonly id: number; readonly event: RoomEvent }[] = [];
  #last: number;

  /** @param first  the counter's start: a clock's, so that it grows over a restart too */
  constructor(first: number) {
    this.#last = first;
  }

  /** how many listen */
  get listeners(): number {
    return this.#listeners.size;
  }

  /** Tells an event to all who may hear it. */
  tell(event: RoomEvent): void {
    const id = ++this.#last;
    this.#kept.push({ id, event });
    if (this.#kept.length > KEPT) this.#kept.shift();
    for (const { hears, send } of this.#listeners) {
      if (hears(event)) send(written(id, event));
    }
  }

  /** Keeps the connections awake. */
  breathe(): void {
    for (const { send } of this.#listeners) send(": here\n\n");
  }

  /**
   * A stream for one listener.
   *
   * @param hears   which events it may hear
   * @param lastId  the last event it has heard, as it says; those after it come first
   */
  stream(
    hears: (event: RoomEvent) => boolean,
    lastId: string | undefined,
  ): ReadableStream<Uint8Array> {
    const encoder = new TextEncoder();
    let listener: Listener | undefined;
    return new ReadableStream<Uint8Array>({
      start: (controller): void => {
        const send = (text: string): void => {
          // a listener that does not read is let go: its phone comes back with the last id it heard
          const isStuck = (controller.desiredSize ?? 0) < -1000;
          try {
            if (!isStuck || listener === undefined) {
              return controller.enqueue(encoder.encode(text));
            }
            this.#listeners.delete(listener);
            controller.close();
          } catch { // it went away in this very moment
            if (listener !== undefined) this.#listeners.delete(listener);
          }
        };
        listener = { hears, send };
        send("retry: 1000\n\n");
        const from = lastId !== undefined && /^\d{1,15}$/.test(lastId) ? Number(lastId) : Infinity;
        for (const { id, event } of this.#kept) {
          if (id > from && hears(event)) send(written(id, event));
        }
        this.#listeners.add(listener);
      },
      cancel: (): void => {
        if (listener !== undefined) this.#listeners.delete(listener);
      },
    });
  }
}

function written(id: number, event: RoomEvent): string {
  return `id: ${id}\ndata: ${JSON.stringify(event)}\n\n`;
}
