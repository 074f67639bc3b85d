/** The entry of the page's script: makes live what is there, and whatever a notebook adds later. */
import { mount, type PageElement } from "./mount.ts";

interface Page {
  readonly documentElement: { readonly classList: { add(name: string): void } };
  readonly readyState: string;
  querySelectorAll(selector: string): Iterable<PageElement>;
  addEventListener(type: string, listener: () => void): void;
}
interface Host {
  readonly document: Page;
  firstMirrorLive?: { push(call: unknown): number };
}

const host = globalThis as unknown as Host;

function mountAll(): number {
  let live = 0;
  for (const element of host.document.querySelectorAll("figure.live[data-live]")) {
    if (mount(element)) live += 1;
  }
  return live;
}

host.document.documentElement.classList.add("js");
host.firstMirrorLive = { push: mountAll };
mountAll();
if (host.document.readyState === "loading") {
  host.document.addEventListener("DOMContentLoaded", mountAll);
}
