/** What a page keeps before its library is there is what the library reads, and the other way round. */
import assert from "node:assert/strict";
import script from "../../../lib/book/pages/kept.js" with { type: "text" };
import { Kept, type Storing } from "../../../lib/living/kept.ts";

const whose = { book: "demo-150-f8", record: "a/b ü" }, page = "measure-curve";

class Store implements Storing {
  [name: string]: unknown;
  #texts = new Map<string, string>();
  get length(): number {
    return this.#texts.size;
  }
  key = (index: number): string | null => [...this.#texts.keys()][index] ?? null;
  getItem = (key: string): string | null => this.#texts.get(key) ?? null;
  setItem = (key: string, value: string): void => {
    this.#texts.set(key, value);
    this[key] = value; // as a browser's storage has its keys as its own names
  };
  removeItem = (key: string): void => {
    this.#texts.delete(key);
    delete this[key];
  };
}

interface Told {
  readonly kind: string;
  readonly key: string;
  readonly value: string | undefined;
}

/** A page that runs the script: what it was told to put back, and a way to tell it. */
function opened(localStorage: Store): { back: Told[]; tell(type: string, detail?: Told): void } {
  const events = new EventTarget(), back: Told[] = [];
  events.addEventListener("first-mirror:put-back", (event) => {
    back.push((event as CustomEvent<Told>).detail);
  });
  const document = {
    addEventListener: events.addEventListener.bind(events),
    dispatchEvent: events.dispatchEvent.bind(events),
    querySelector: () => ({ textContent: JSON.stringify({ ...whose, page }) }),
  };
  new Function("document", "localStorage", script)(document, localStorage);
  return {
    back,
    tell: (type, detail) => void events.dispatchEvent(new CustomEvent(type, { detail })),
  };
}

Deno.test("what is kept before the library is there is read by it, and put back when the page opens again", () => {
  const store = new Store(), first = opened(store), library = new Kept(whose, () => store);
  assert.deepEqual(first.back, []);
  first.tell("first-mirror:keep", { kind: "guess", key: "3", value: "5 mm" });
  first.tell("first-mirror:keep", { kind: "answer", key: "04-1", value: "238" });
  assert.equal(library.get("guess", page, "3"), "5 mm");
  assert.equal(library.get("answer", page, "04-1"), "238");
  assert.deepEqual(opened(store).back, [
    { kind: "guess", key: "3", value: "5 mm" },
    { kind: "answer", key: "04-1", value: "238" },
  ]);
  first.tell("first-mirror:keep", { kind: "guess", key: "3", value: undefined });
  assert.equal(library.get("guess", page, "3"), undefined);
});

Deno.test("what the library kept is put back; another page's, another book's and what is not understood is left alone", () => {
  const store = new Store(), library = new Kept(whose, () => store);
  library.set("guess", page, "a/b", "x");
  library.set("guess", "grind-hollow", "1", "y");
  new Kept({ ...whose, book: "other" }, () => store).set("guess", page, "1", "z");
  assert.deepEqual(opened(store).back, [{ kind: "guess", key: "a/b", value: "x" }]);
});

Deno.test("once the library is ready it keeps, not the script; where nothing may be kept the page goes on", () => {
  const store = new Store(), one = opened(store);
  one.tell("first-mirror:ready");
  one.tell("first-mirror:keep", { kind: "guess", key: "3", value: "5" });
  assert.equal(store.length, 0);
  const forbidden = new Proxy({} as Store, {
    get: () => {
      throw new Error("forbidden");
    },
    ownKeys: () => {
      throw new Error("forbidden");
    },
  });
  opened(forbidden).tell("first-mirror:keep", { kind: "guess", key: "3", value: "5" });
});
