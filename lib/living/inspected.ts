/** A plain value in words, as the kernel tells it: for a cell that does not end in `show(...)`. */

const WIDE = 72;
const DEEP = 4;
const MANY = 100;

const keyOf = (key: string): string => /^[A-Za-z_$][\w$]*$/.test(key) ? key : JSON.stringify(key);

/** A text in quotes that it does not hold itself, where there are such. */
function quoted(text: string): string {
  const quote = ['"', "'", "`"].find((sign) => !text.includes(sign)) ?? '"';
  const inside = JSON.stringify(text).slice(1, -1).replaceAll('\\"', quote === '"' ? '\\"' : '"');
  return quote + inside + quote;
}

function listed(
  name: string,
  [open, close]: string,
  parts: readonly string[],
  deep: number,
): string {
  const before = name === "" ? "" : `${name} `;
  if (parts.length === 0) return `${before}${open}${close}`;
  const short = `${before}${open} ${parts.join(", ")} ${close}`;
  if (short.length <= WIDE && !short.includes("\n")) return short;
  const indent = "  ".repeat(deep + 1);
  return `${before}${open}\n${indent}${parts.join(`,\n${indent}`)}\n${"  ".repeat(deep)}${close}`;
}

function nameOf(value: object): string {
  const made: unknown = Reflect.get(value, "constructor");
  return typeof made === "function" && made !== Object && made !== Array ? made.name : "";
}

/**
 * A value in words.
 *
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(inspected({ depth: 1.17, "in mm": true }), '{ depth: 1.17, "in mm": true }');
 * ```
 */
export function inspected(value: unknown, deep = 0, seen: readonly unknown[] = []): string {
  if (typeof value === "string") return quoted(value);
  if (typeof value === "bigint") return `${value}n`;
  if (Object.is(value, -0)) return "-0";
  if (typeof value === "function") {
    if (/^class\b/.test(String(value))) return `[class ${value.name}]`;
    return value.name === "" ? "[Function (anonymous)]" : `[Function: ${value.name}]`;
  }
  if (typeof value !== "object" || value === null) return String(value);
  if (seen.includes(value)) return "[Circular]";
  if (value instanceof Error) return `${value.name}: ${value.message}`;
  if (value instanceof Date) return value.toISOString();
  if (value instanceof RegExp) return String(value);
  const name = nameOf(value), isList = Array.isArray(value) || ArrayBuffer.isView(value);
  if (deep > DEEP) return `[${name || (isList ? "Array" : "Object")}]`;
  const inside = (one: unknown): string => inspected(one, deep + 1, [...seen, value]);
  const some = (all: readonly unknown[], tell: (one: unknown) => string): string[] => [
    ...all.slice(0, MANY).map(tell),
    ...(all.length > MANY ? [`... ${all.length - MANY} more items`] : []),
  ];
  if (isList) {
    const all = Array.from(value as ArrayLike<unknown>);
    return listed(name === "" ? "" : `${name}(${all.length})`, "[]", some(all, inside), deep);
  }
  if (value instanceof Map) {
    const parts = some([...value], (pair) => (pair as [unknown, unknown]).map(inside).join(" => "));
    return listed(`Map(${value.size})`, "{}", parts, deep);
  }
  if (value instanceof Set) {
    return listed(`Set(${value.size})`, "{}", some([...value], inside), deep);
  }
  const parts = Object.entries(value).map(([key, one]) => `${keyOf(key)}: ${inside(one)}`);
  return listed(name, "{}", parts, deep);
}
