/**
 * A document in memory that Plot draws in where there is no browser: as much of one as drawing takes, and the drawing as markup.
 */

/** A piece of a drawing: an element or a text. */
type Part = DrawnElement | DrawnText;

class DrawnText {
  readonly nodeType = 3;
  parentNode: DrawnElement | null = null;

  constructor(public textContent: string) {}

  get outerHTML(): string {
    return this.textContent.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;")
      .replaceAll("\u00a0", "&#160;");
  }
}

/** Declarations of an element's own style, kept in its attribute. */
class Declarations {
  constructor(private readonly element: DrawnElement) {}

  setProperty(name: string, value: string): void {
    const others = (this.element.getAttribute("style") ?? "").split(";").map((one) => one.trim())
      .filter((one) => one !== "" && !one.startsWith(`${name}:`));
    this.element.setAttribute("style", [...others, `${name}: ${value}`].join("; ") + ";");
  }
}

/** An element of a drawing. */
export class DrawnElement {
  readonly nodeType = 1;
  readonly childNodes: Part[] = [];
  readonly style = new Declarations(this);
  parentNode: DrawnElement | null = null;
  readonly #attributes = new Map<string, string>();

  constructor(
    readonly ownerDocument: DrawnDocument,
    readonly namespaceURI: string,
    readonly localName: string,
  ) {}

  get tagName(): string {
    return this.localName;
  }

  get nodeName(): string {
    return this.localName;
  }

  get firstChild(): Part | null {
    return this.childNodes[0] ?? null;
  }

  get nextSibling(): Part | null {
    const siblings = this.parentNode?.childNodes ?? [];
    return siblings[siblings.indexOf(this) + 1] ?? null;
  }

  get children(): DrawnElement[] {
    return this.childNodes.filter((part) => part instanceof DrawnElement);
  }

  getAttribute(name: string): string | null {
    return this.#attributes.get(name) ?? null;
  }

  hasAttribute(name: string): boolean {
    return this.#attributes.has(name);
  }

  setAttribute(name: string, value: unknown): void {
    this.#attributes.set(name, String(value));
  }

  setAttributeNS(_: string | null, name: string, value: unknown): void {
    this.setAttribute(name, value);
  }

  removeAttribute(name: string): void {
    this.#attributes.delete(name);
  }

  appendChild<P extends Part>(part: P): P {
    return this.insertBefore(part, null);
  }

  append(...parts: (Part | string)[]): void {
    for (const part of parts) {
      this.appendChild(typeof part === "string" ? new DrawnText(part) : part);
    }
  }

  insertBefore<P extends Part>(part: P, before: Part | null): P {
    part.parentNode?.removeChild(part);
    const at = before === null ? this.childNodes.length : this.childNodes.indexOf(before);
    this.childNodes.splice(at, 0, part);
    part.parentNode = this;
    return part;
  }

  removeChild(part: Part): void {
    const at = this.childNodes.indexOf(part);
    if (at >= 0) this.childNodes.splice(at, 1);
    part.parentNode = null;
  }

  remove(): void {
    this.parentNode?.removeChild(this);
  }

  get textContent(): string {
    return this.childNodes.map(({ textContent }) => textContent).join("");
  }

  set textContent(text: string) {
    this.childNodes.splice(0);
    if (text !== "") this.append(text);
  }

  /** Elements inside by their name, or by an attribute they have, `[aria-label]`. */
  querySelectorAll(selector: string): DrawnElement[] {
    const attribute = /^\[([\w-]+)\]$/.exec(selector)?.[1];
    const fits = (one: DrawnElement): boolean =>
      attribute === undefined ? one.localName === selector : one.hasAttribute(attribute);
    return this.children.flatMap((
      one,
    ) => [...(fits(one) ? [one] : []), ...one.querySelectorAll(selector)]);
  }

  querySelector(selector: string): DrawnElement | null {
    return this.querySelectorAll(selector)[0] ?? null;
  }

  get outerHTML(): string {
    const attributes = [...this.#attributes].toReversed().map(([name, value]) =>
      ` ${name}="${value.replaceAll("&", "&amp;").replaceAll('"', "&quot;")}"`
    ).join("");
    if (this.childNodes.length === 0) return `<${this.localName}${attributes} />`;
    const inside = this.childNodes.map(({ outerHTML }) => outerHTML).join("");
    return `<${this.localName}${attributes}>${inside}</${this.localName}>`;
  }
}

/** The document itself. */
export class DrawnDocument {
  readonly nodeType = 9;
  readonly documentElement: DrawnElement = this.createElement("html");

  createElement(name: string): DrawnElement {
    return new DrawnElement(this, "http://www.w3.org/1999/xhtml", name);
  }

  createElementNS(namespace: string, name: string): DrawnElement {
    return new DrawnElement(this, namespace, name);
  }

  createTextNode(text: string): DrawnText {
    return new DrawnText(text);
  }
}
