/**
 * What was looked at and found good, kept as text: a word that changes shows as that word in a review. What changes by accident is
 * found; what changes on purpose is read in the difference and written anew by `RECORD=1 deno test -A FILE`.
 */
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";

/** What nobody reads as text, by its size and a digest. */
function stamp(kind: string, data: string): string {
  const digest = createHash("sha256").update(data).digest("hex").slice(0, 8);
  return `(${kind}, ${data.length} characters, ${digest})`;
}

const entities: Readonly<Record<string, string>> = {
  ...{ "&lt;": "<", "&gt;": ">", "&quot;": '"', "&#39;": "'", "&#34;": '"', "&amp;": "&" },
};
const plain = (text: string): string =>
  text.replace(/&(?:lt|gt|quot|amp|#39|#34);/g, (found) => entities[found] ?? found);

/** Markup without scripts, which have tests of their own, and without the look, which has too. */
function bare(markup: string): string {
  return markup.replace(/<(script|style)\b[\s\S]*?<\/\1>/g, "");
}

/** Pixels by a digest with their size, drawings that travel as data as the drawings they are. */
function unpacked(markup: string): string {
  return markup
    .replace(/data:image\/png;base64,[\w+/=]+/g, (data) => stamp("png", data))
    .replace(/data:image\/svg\+xml;base64,([\w+/=%]+)/g, (_, data: string) => {
      const svg = Uint8Array.from(atob(data.replaceAll("%4E", "N")), (c) => c.charCodeAt(0));
      return `\n${new TextDecoder().decode(svg)}\n`;
    });
}

/**
 * Markup as lines that can be compared: one tag a line, text beside its tag, coordinates as they are drawn.
 *
 * @param markup  of a block, with or without drawings
 */
export function drawn(markup: string): string {
  return bare(unpacked(markup)).replace(/>\s*<(?!\/)/g, ">\n<").replace(/>\s+<\//g, "></").trim();
}

const blocks =
  "address|article|aside|blockquote|body|button|caption|dd|details|div|dl|dt|fieldset|figcaption|figure|footer|form|h[1-6]|" +
  "header|hr|label|legend|li|main|nav|ol|p|pre|section|summary|table|tbody|thead|title|tr|ul";

/**
 * What a reader reads of a page or a block, a line for each paragraph: headings with `#`, list items with `-`, cells of a table
 * parted by `|`, links with where they lead; of a drawing its words, and a digest by which a moved line is noticed.
 *
 * @param markup  of a page or a block
 */
export function read(markup: string): string {
  const told = bare(unpacked(markup)).replace(/<!--[\s\S]*?-->/g, "")
    .replace(/<svg\b[\s\S]*?<\/svg>/g, (svg) => {
      const words = [...svg.matchAll(/aria-label="([^"]*)"|<(?:text|tspan|title)\b[^>]*>([^<]+)/g)]
        .map(([, label, text]) => label ?? text).join(" · ");
      return `<p>${stamp("drawing", svg)} ${words}</p>`;
    })
    .replace(/<math\b[\s\S]*?<annotation[^>]*>([\s\S]*?)<\/annotation>[\s\S]*?<\/math>/g, "$$$1$$")
    .replace(/<img\b[^>]*\balt="([^"]*)"[^>]*>/g, "(picture) $1")
    .replace(/<a\b[^>]*\bhref="([^"]*)"[^>]*>([\s\S]*?)<\/a>/g, "[$2]($1)")
    .replace(/<h([1-6])\b[^>]*>/g, (_, level) => `\n${"#".repeat(Number(level))} `)
    .replace(/<li\b[^>]*>/g, "\n- ").replace(/<(td|th)\b[^>]*>/g, " | ")
    .replace(new RegExp(`</?(?:${blocks}|br)\\b[^>]*>`, "g"), "\n")
    .replace(/<[^>]*>/g, "");
  return plain(told).split("\n").map((line) => line.replace(/[ \t]+/g, " ").trim())
    .filter((line) => line !== "" && line !== "-").join("\n");
}

/** A name that a file can have on any machine. */
const fileOf = (name: string): string =>
  `${name.replace(/[^\w./ -]/g, "-").replaceAll(" ", "-")}.txt`;

function filesBelow(folder: string): string[] {
  try {
    return [...Deno.readDirSync(folder)].flatMap(({ name, isDirectory }) =>
      isDirectory ? filesBelow(join(folder, name)) : [join(folder, name)]
    );
  } catch (error) {
    if (error instanceof Deno.errors.NotFound) return [];
    throw error;
  }
}

/** The first line that differs, with two lines before it, as it was and as it is. */
export function firstDifference(was: string, is: string): string {
  const before = was.split("\n"), now = is.split("\n");
  const at = before.findIndex((line, i) => line !== now[i]);
  const line = at < 0 ? before.length : at;
  const around = before.slice(Math.max(0, line - 2), line).map((text) => `    ${text}`);
  return [
    `  line ${line + 1}`,
    ...around,
    `  - ${before[line] ?? "(the end)"}`,
    `  + ${now[line] ?? "(the end)"}`,
  ].map((text) => text.slice(0, 400)).join("\n");
}

/**
 * Holds texts to the files in which they were kept, or keeps them.
 *
 * @param folder  of the files; nothing else lies in it
 * @param now     texts by their names; a name may have folders
 * @throws {AssertionError} with the first differing line of each of the first ten files, and names that came or went
 */
export async function assertSnapshots(
  folder: URL,
  now: Readonly<Record<string, string>>,
): Promise<void> {
  const root = fileURLToPath(folder);
  const texts = new Map(Object.entries(now).map(([name, text]) => [fileOf(name), `${text}\n`]));
  assert.equal(texts.size, Object.keys(now).length, "no two names make one file");
  if (Deno.env.get("RECORD") === "1") {
    await Deno.remove(root, { recursive: true }).catch(() => {});
    for (const [file, text] of texts) {
      await Deno.mkdir(dirname(join(root, file)), { recursive: true });
      await Deno.writeTextFile(join(root, file), text);
    }
  }
  const kept = new Set(filesBelow(root).map((path) => relative(root, path).replaceAll("\\", "/")));
  const faults: string[] = [];
  for (const [file, text] of texts) {
    if (!kept.delete(file)) faults.push(`${file} is new`);
    else {
      const was = await Deno.readTextFile(join(root, file));
      if (was !== text) faults.push(`${file}\n${firstDifference(was, text)}`);
    }
  }
  faults.push(...[...kept].map((file) => `${file} is gone`));
  assert.ok(
    faults.length === 0,
    `${faults.length} differ from what was kept; where it is meant, run with RECORD=1\n\n${
      faults.slice(0, 10).join("\n")
    }${faults.length > 10 ? `\nand ${faults.length - 10} more` : ""}`,
  );
}
