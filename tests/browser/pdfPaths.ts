/** Paths of a PDF as they lie on paper, in mm: enough of the format to measure what Chromium prints. */

/** A stroke or outline, its ends in mm from the page's lower left corner. */
export interface PaperPath {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
  readonly points: readonly (readonly [x: number, y: number])[];
}

/** A page: its size, and every path on it. */
export interface PaperPage {
  readonly width: number;
  readonly height: number;
  readonly paths: readonly PaperPath[];
}

/** READ: ISO 32000, 8.3.2.3: the default unit is 1/72 inch. */
const mmPerUnit = 25.4 / 72;

type Matrix = readonly [number, number, number, number, number, number];

const unit: Matrix = [1, 0, 0, 1, 0, 0];

function times(m: Matrix, n: Matrix): Matrix {
  return [
    m[0] * n[0] + m[1] * n[2],
    m[0] * n[1] + m[1] * n[3],
    m[2] * n[0] + m[3] * n[2],
    m[2] * n[1] + m[3] * n[3],
    m[4] * n[0] + m[5] * n[2] + n[4],
    m[4] * n[1] + m[5] * n[3] + n[5],
  ];
}

async function inflated(bytes: Uint8Array): Promise<string> {
  const stream = new Blob([Uint8Array.from(bytes)]).stream()
    .pipeThrough(new DecompressionStream("deflate"));
  return await new Response(stream).text();
}

/** The objects of a file by their number: dictionary and stream. */
async function objectsOf(
  bytes: Uint8Array,
): Promise<Map<number, { readonly dictionary: string; readonly stream: string }>> {
  const text = new TextDecoder("latin1").decode(bytes);
  const objects = new Map<number, { dictionary: string; stream: string }>();
  for (const found of text.matchAll(/(\d+) 0 obj\r?\n?([\s\S]*?)endobj/g)) {
    const body = found[2] ?? "", at = body.search(/stream\r?\n/);
    const dictionary = at < 0 ? body : body.slice(0, at);
    let stream = "";
    if (
      at >= 0 && /\/Filter\s*\/FlateDecode/.test(dictionary) &&
      !/\/Subtype\s*\/Image/.test(dictionary)
    ) {
      const begin = found.index + found[0].indexOf(body) + at +
        (/stream\r?\n/.exec(body.slice(at))?.[0].length ?? 0);
      const length = Number(/\/Length (\d+)/.exec(dictionary)?.[1] ?? 0);
      stream = await inflated(bytes.subarray(begin, begin + length)).catch(() => "");
    }
    objects.set(Number(found[1]), { dictionary, stream });
  }
  return objects;
}

function boundsOf(points: readonly (readonly [number, number])[]): PaperPath {
  const xs = points.map(([x]) => x), ys = points.map(([, y]) => y);
  return {
    left: Math.min(...xs),
    right: Math.max(...xs),
    bottom: Math.min(...ys),
    top: Math.max(...ys),
    points,
  };
}

/** Follows the operators of a content stream that place and draw paths. */
function pathsOf(content: string): PaperPath[] {
  const paths: PaperPath[] = [], stack: Matrix[] = [];
  let matrix = unit, numbers: number[] = [];
  let subpaths: [number, number][][] = [];
  const add = (x: number, y: number, fresh = false): void => {
    const at: [number, number] = [
      (matrix[0] * x + matrix[2] * y + matrix[4]) * mmPerUnit,
      (matrix[1] * x + matrix[3] * y + matrix[5]) * mmPerUnit,
    ];
    if (fresh || subpaths.length === 0) subpaths.push([at]);
    else subpaths.at(-1)?.push(at);
  };
  for (const [token] of content.matchAll(/\((?:\\.|[^()\\])*\)|<[0-9a-fA-F]*>|[^\s<>()[\]]+/g)) {
    if (/^[-+.\d]/.test(token)) {
      numbers.push(Number(token));
      continue;
    }
    const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0] = numbers;
    if (token === "q") stack.push(matrix);
    else if (token === "Q") matrix = stack.pop() ?? unit;
    else if (token === "cm") matrix = times([a, b, c, d, e, f], matrix);
    else if (token === "m") add(a, b, true);
    else if (token === "l") add(a, b);
    else if (token === "c") add(e, f);
    else if (token === "v" || token === "y") add(c, d);
    else if (token === "re") {
      add(a, b, true);
      add(a + c, b);
      add(a + c, b + d);
      add(a, b + d);
    } else if (["S", "s", "f", "F", "f*", "B", "B*", "b", "b*"].includes(token)) {
      paths.push(...subpaths.filter(({ length }) => length > 1).map(boundsOf));
      subpaths = [];
    } else if (token === "n") subpaths = [];
    numbers = [];
  }
  return paths;
}

/** Reads a PDF that Chromium wrote. */
export async function readPdf(bytes: Uint8Array): Promise<PaperPage[]> {
  const objects = await objectsOf(bytes);
  const pages = [...objects.values()].filter(({ dictionary }) =>
    /\/Type\s*\/Page\b(?!s)/.test(dictionary)
  );
  return pages.map(({ dictionary }) => {
    const [, width, height] = /\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)/.exec(dictionary) ?? [];
    const content = Number(/\/Contents (\d+) 0 R/.exec(dictionary)?.[1] ?? 0);
    return {
      width: Number(width) * mmPerUnit,
      height: Number(height) * mmPerUnit,
      paths: pathsOf(objects.get(content)?.stream ?? ""),
    };
  });
}
