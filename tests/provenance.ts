/** Expected numbers of the tests, and whether a comment above each says where it comes from. */
import ts from "typescript";

/** Where an expected number may come from; DEVELOPERS.md says what each word means. */
export const PROVENANCE = /\b(?:READ|DERIVED|CROSS-CHECK|COMMON PRACTICE|RECORDED|INVENTED)\b/;

/** Fewer digits than this are a count, a round number or a setting, and speak for themselves. */
const DIGITS = 4;

/** An expected number without provenance. */
export interface Golden {
  /** from 1 */
  readonly line: number;
  /** as it is written */
  readonly text: string;
}

/** How many digits of a written number carry something: leading zeros, and the trailing ones of a whole number, do not. */
export function significantDigits(text: string): number {
  const [, whole = "", part = ""] = /^[+-]?(\d[\d_ ]*)(?:\.(\d+))?(?:e[+-]?\d+)?$/i.exec(text) ??
    [];
  const digits = `${whole}${part}`.replace(/[_ ]/g, "").replace(/^0+/, "");
  return (part === "" ? digits.replace(/0+$/, "") : digits).length;
}

const isAssert = (call: ts.CallExpression): boolean =>
  /^(?:assert(?:\.\w+)?|close|near|within|holds)$/.test(call.expression.getText());

/**
 * Whether a literal is what a test expects: an argument of an assertion after its first, a number that a result is
 * compared with, or a cell of a table. What another function is called with is an input.
 */
function isExpected(literal: ts.Node): boolean {
  for (let at = literal, up = at.parent; up !== undefined; at = up, up = up.parent) {
    if (ts.isCallExpression(up) && up.expression.getText().startsWith("Math.")) continue;
    if (ts.isCallExpression(up) || ts.isNewExpression(up)) {
      return ts.isCallExpression(up) && isAssert(up) && at !== up.expression &&
        (up.arguments[0] !== at || ts.isBinaryExpression(at) || ts.isCallExpression(at));
    }
    if (ts.isArrayLiteralExpression(up) && ts.isArrayLiteralExpression(up.parent)) return true;
    if (ts.isFunctionLike(up) || ts.isStatement(up)) return false;
  }
  return false;
}

/**
 * Expected numbers of four significant digits and more with no word of provenance above them: in a comment within the
 * same test, or in the one before it.
 *
 * @param text  of a test file
 */
export function withoutProvenance(text: string): Golden[] {
  const file = ts.createSourceFile("a.ts", text, ts.ScriptTarget.Latest, true);
  const found: Golden[] = [];
  for (const statement of file.statements) {
    const start = statement.getFullStart();
    const visit = (node: ts.Node): void => {
      if (
        (ts.isNumericLiteral(node) || ts.isStringLiteral(node)) &&
        significantDigits(
            node.text === "" ? "" : ts.isStringLiteral(node) ? node.text : node.getText(),
          ) >= DIGITS &&
        isExpected(node)
      ) {
        const line = file.getLineAndCharacterOfPosition(node.getStart()).line;
        const end = text.indexOf("\n", node.end);
        const above = commentsIn(text.slice(start, end === -1 ? undefined : end));
        if (!PROVENANCE.test(above)) found.push({ line: line + 1, text: node.getText() });
      }
      ts.forEachChild(node, visit);
    };
    visit(statement);
  }
  return found;
}

/** All comments of a piece of source, one after another; what a string holds is none. */
function commentsIn(source: string): string {
  const scanner = ts.createScanner(
    ts.ScriptTarget.Latest,
    false,
    ts.LanguageVariant.Standard,
    source,
  );
  const comments: string[] = [];
  for (let kind = scanner.scan(); kind !== ts.SyntaxKind.EndOfFileToken; kind = scanner.scan()) {
    if (
      kind === ts.SyntaxKind.SingleLineCommentTrivia ||
      kind === ts.SyntaxKind.MultiLineCommentTrivia
    ) comments.push(scanner.getTokenText());
  }
  return comments.join("\n");
}
