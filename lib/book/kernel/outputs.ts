/** From what the kernel sends to what a notebook stores. */
import { pathToFileURL } from "node:url";
import { bundleProblems, type MimeBundle, type Output } from "../notebook.ts";
import type { Message } from "./kernel.ts";

/** What a cell has put out, and what was wrong with some of it. */
export interface Collected {
  readonly outputs: readonly Output[];
  /** contents that a notebook cannot store, left out of the outputs */
  readonly problems: readonly string[];
}

/** Cleans every text before it is stored: see `tidyText`. */
export type Tidy = (text: string) => string;

/**
 * A cleaner of texts: colour codes go, and so do the absolute paths that would tie a notebook to one computer.
 *
 * @param folders  absolute folders, each with what shall stand in its place
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const tidy = tidyText([["/home/asha/mirror", "."]]);
 * assert.equal(tidy("\u001b[33mfile:///home/asha/mirror/a.ts\u001b[39m"), "./a.ts");
 * ```
 */
export function tidyText(folders: readonly (readonly [folder: string, name: string])[]): Tidy {
  const swaps = folders.filter(([folder]) => folder.length > 1)
    .sort(([a], [b]) => b.length - a.length)
    .flatMap(([folder, name]) => [[pathToFileURL(folder).href, name], [folder, name]] as const);
  // deno-lint-ignore no-control-regex
  const colour = /\u001b\[[0-9;]*[A-Za-z]/g;
  return (text) => {
    const plain = text.replace(colour, "");
    return swaps.reduce((now, [folder, name]) => replaceFolder(now, folder, name), plain);
  };
}

/** Replaces a folder's path where it ends as a path does, not in the middle of a longer name. */
function replaceFolder(text: string, folder: string, name: string): string {
  const parts = text.split(folder);
  return parts.slice(1).reduce(
    (done, part) => done + (/^[\w-]/.test(part) ? folder : name) + part,
    parts[0] ?? "",
  );
}

/**
 * Turns one cell's messages into its outputs: streams of one name joined, empty results dropped, texts tidied,
 * `clear_output` and updates of displays with an id obeyed.
 *
 * @param messages  what the cell sent, in order
 * @param count     the cell's execution count
 * @param tidy      cleaner of texts
 */
export function collectOutputs(messages: readonly Message[], count: number, tidy: Tidy): Collected {
  const outputs: { output: Output; displayId?: string }[] = [];
  const problems: string[] = [];
  let clearing = false;
  for (const { header: { msg_type: type }, content } of messages) {
    if (type === "clear_output") {
      if (content["wait"] === true) clearing = true;
      else outputs.length = 0;
      continue;
    }
    const made = toOutput(type, content, count, tidy, problems);
    if (made === undefined) continue;
    if (clearing) outputs.length = 0;
    clearing = false;
    const displayId = (content["transient"] as { display_id?: string } | undefined)?.display_id;
    if (type === "update_display_data") {
      for (const held of outputs) {
        if (displayId !== undefined && held.displayId === displayId) held.output = made;
      }
    } else outputs.push({ output: made, ...(displayId !== undefined && { displayId }) });
  }
  return { outputs: joinStreams(outputs.map(({ output }) => output)), problems };
}

type Content = Record<string, unknown>;

function toOutput(
  type: string,
  content: Content,
  count: number,
  tidy: Tidy,
  problems: string[],
): Output | undefined {
  if (type === "stream") {
    const name = content["name"] === "stderr" ? "stderr" : "stdout";
    return { output_type: "stream", name, text: tidy(String(content["text"])) };
  }
  if (type === "error") {
    const traceback = Array.isArray(content["traceback"]) ? content["traceback"] : [];
    return {
      output_type: "error",
      ename: String(content["ename"]),
      evalue: tidy(String(content["evalue"])),
      traceback: traceback.map((line) => tidy(String(line))),
    };
  }
  const shown = ["execute_result", "display_data", "update_display_data"].includes(type);
  return shown ? toDisplay(type, content, count, tidy, problems) : undefined;
}

function toDisplay(
  type: string,
  content: Content,
  count: number,
  tidy: Tidy,
  problems: string[],
): Output | undefined {
  const data = tidyBundle((content["data"] ?? {}) as MimeBundle, tidy, problems);
  if (Object.keys(data).length === 0) return undefined;
  const metadata = (content["metadata"] ?? {}) as Record<string, unknown>;
  return type === "execute_result"
    ? { output_type: type, execution_count: count, data, metadata }
    : { output_type: "display_data", data, metadata };
}

/** Outputs that came from no kernel, their texts cleaned; an empty one is dropped. */
export function tidiedOutputs(outputs: readonly Output[], tidy: Tidy): Collected {
  const problems: string[] = [];
  const kept = outputs.flatMap((output): Output[] => {
    if (output.output_type === "stream") return [{ ...output, text: tidy(output.text) }];
    if (!("data" in output)) return [output];
    const data = tidyBundle(output.data, tidy, problems);
    return Object.keys(data).length === 0 ? [] : [{ ...output, data }];
  });
  return { outputs: kept, problems };
}

function tidyBundle(data: MimeBundle, tidy: Tidy, problems: string[]): MimeBundle {
  const kept: MimeBundle = {};
  for (const [type, value] of Object.entries(data)) {
    const wrong = bundleProblems({ [type]: value }, "what the cell shows as ");
    problems.push(...wrong.map((problem) => problem.replace(/ \["(.*?)"\]/, " $1")));
    if (wrong.length > 0) continue;
    const text = Array.isArray(value) && !type.endsWith("json") ? value.join("") : value;
    kept[type] = typeof text === "string" && type.startsWith("text/") ? tidy(text) : text;
  }
  return kept;
}

/** Pieces of the same stream that follow each other, as one. */
function joinStreams(outputs: readonly Output[]): Output[] {
  const joined: Output[] = [];
  for (const output of outputs) {
    const last = joined.at(-1);
    const same = last?.output_type === "stream" && output.output_type === "stream" &&
      last.name === output.name;
    if (same) joined[joined.length - 1] = { ...last, text: last.text + output.text };
    else joined.push(output);
  }
  return joined;
}
