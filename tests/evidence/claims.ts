/** Claims of README, DEVELOPERS, pages and docstrings that only a measurement can show, and the command that shows each. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";

export const root = fileURLToPath(new URL("../../", import.meta.url));

/** A sentence that claims a figure. */
export interface Said {
  readonly file: string;
  readonly sentence: string;
}

/** A row of claims.csv: the words that stand in the file, and what shows them. */
export interface Claim {
  readonly file: string;
  readonly words: string;
  /** a command: a task of deno.json with its argument, or a file of tests or of what cells print */
  readonly shownBy: string;
  /** what finds the figure in what that prints, "by hand" for a command of minutes; empty where a test holds it itself */
  readonly printed: string;
  /** how near it must be: half of the last digit said where it is empty, a share in %, or "at least" */
  readonly within: string;
}

/** How a claim of speed, size, rate or agreement reads. */
const CLAIMING = [
  // "takes 0.2 s", "40 ms for the timer", "are 47 MB"
  /\b\d[\d.,]* ?(?:ms|kB|MB|GB)\b/,
  /\b(?:takes?|took|in|under|after|least|some|costs?) (?:some |about )?\d[\d.,]* ?(?:s|seconds|minutes|hours)\b(?! of\b)/,
  // "in 94 of 100 logs"
  /\b\d+ (?:of|in|out of) (?:\d{3}|40|a hundred)\b/,
  /\bnine in ten\b|\b(?:a|one) in (?:ten|twenty|a hundred)\b/,
  // "40 times as fast", "within 0.6 %"
  /\b[\d.]+ times as (?:fast|slow|long)\b/,
  /\b(?:within|agrees? to|good to|off by) (?:some )?\d[\d.,]* ?%/,
  /\bmeasured (?:at |as )?\d/,
];

/** Prose of a file: comments of the library, its help texts, Markdown, and the Markdown cells of a notebook; one line a piece. */
function proseOf(file: string, text: string): string[] {
  if (file.endsWith(".ipynb")) {
    const { cells } = JSON.parse(text) as { cells: { cell_type: string; source: string[] }[] };
    return cells.filter(({ cell_type }) => cell_type === "markdown")
      .flatMap(({ source }) => source.join("").split(/\n{2,}/));
  }
  if (file.endsWith(".md")) return text.replace(/^\|/gm, "\n\n|").split(/\n{2,}/);
  const blocks = text.match(/\/\*\*[\s\S]*?\*\/|(?:^[ \t]*\/\/.*\n)+/gm) ?? [];
  const comments = blocks.flatMap((block) =>
    block.replace(/```[\s\S]*?```/g, "\n\n").replace(
      /^[ \t]*(?:\/\*\*|\*\/|\*(?!\*)|\/\/)|\*\/$/gm,
      "",
    )
      .split(/\n\s*\n|@(?:param|returns|example|throws)/)
  );
  const helps = [...text.matchAll(/const help = `([\s\S]*?)`/g)].flatMap(([, help = ""]) =>
    help.split(/\n{2,}/)
  );
  return [...comments, ...helps];
}

/** Every sentence of a text that claims a figure. */
export function claimsOf(file: string, text: string): Said[] {
  return proseOf(file, text).flatMap((piece) =>
    piece.replace(/\s+/g, " ").trim().split(/(?<=[.;:])\s+(?=[A-Z`*(])/)
      .filter((sentence) => CLAIMING.some((pattern) => pattern.test(sentence)))
      .map((sentence) => ({ file, sentence }))
  );
}

function* filesBelow(folder: string, ending: RegExp): Generator<string> {
  const entries = [...Deno.readDirSync(join(root, folder))].sort((a, b) =>
    a.name < b.name ? -1 : 1
  );
  for (const { name, isDirectory } of entries) {
    const path = `${folder}/${name}`;
    if (isDirectory) yield* filesBelow(path, ending);
    else if (ending.test(name)) yield path;
  }
}

/** All claims of the kit's prose. */
export function allClaims(): Said[] {
  const files = [
    "README.md",
    "DEVELOPERS.md",
    ...filesBelow("lib", /\.ts$/),
    ...filesBelow("notebooks", /\.ipynb$/),
  ];
  return files.flatMap((file) => claimsOf(file, Deno.readTextFileSync(join(root, file))));
}

/** The rows of claims.csv. */
export function shown(): Claim[] {
  const text = Deno.readTextFileSync(new URL("claims.csv", import.meta.url));
  return text.trim().split("\n").filter((line) => !line.startsWith("#")).slice(1).map((line) => {
    const [file = "", words = "", shownBy = "", printed = "", within = ""] = line.split(" |").map((
      cell,
    ) => cell.trim());
    return { file, words, shownBy, printed, within };
  });
}

/**
 * Whether what was printed shows the first figure of a claim's words.
 *
 * @returns nothing where it does, else a sentence
 */
export function against({ words, printed, within }: Claim, text: string): string | undefined {
  const said = /\d+(?:\.(\d+))?/.exec(words), seen = new RegExp(printed).exec(text)?.[1];
  if (said === null) return `no figure in "${words}"`;
  if (seen === undefined) return `nothing like ${printed} was printed for "${words}"`;
  const figure = Number(said[0]), found = Number(seen), digits = said[1]?.length ?? 0;
  const share = /^(\d+) %$/.exec(within)?.[1];
  const holds = within === "at least" ? found >= figure : Math.abs(found - figure) <=
    (share === undefined ? 0.5000001 * 10 ** -digits : (figure * Number(share)) / 100);
  return holds ? undefined : `"${words}", but ${found} was printed`;
}
