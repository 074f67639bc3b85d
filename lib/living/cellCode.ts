/**
 * A cell read for running: types taken off, the names it shares with other cells found and rewritten to the notebook's own.
 *
 * What a cell declares at its outermost level belongs to the notebook, as in a kernel. So each mention of such a name becomes
 * a property of one object that all cells share, and the cell becomes a module with one function. Lines stay where they are.
 */
import { type Node, parse, type Program } from "acorn";
import { transform } from "sucrase";
import { CellRefused, refusalOf, refuseCommas } from "./cellErrors.ts";

/** One name that a cell takes from a module. */
export interface Imported {
  readonly module: string;
  /** "*" for the whole module */
  readonly name: string;
  /** the line of the cell, from 1 */
  readonly line: number;
}

/** A cell read, before it is known which names the notebook has. */
export interface CellCode {
  /** names it gives to the notebook, and whether their value may change */
  readonly declares: ReadonlyMap<string, "fixed" | "open">;
  /** the names it takes from modules; they are the notebook's too */
  readonly imports: ReadonlyMap<string, Imported>;
  /** names it mentions and does not give, with the line of the first mention */
  readonly uses: ReadonlyMap<string, number>;
  /** names it does not give and whose value, or the inside of whose object, it can be seen to change */
  readonly writes: ReadonlySet<string>;
  /** the same of its functions: what is changed where the function of that name is used */
  readonly writesLater: ReadonlyMap<string, ReadonlySet<string>>;
  /**
   * The module to run: its default export takes the shared names and the runner's hands.
   *
   * @param names  all names that cells of the notebook give
   */
  readonly module: (names: { has(name: string): boolean }) => string;
}

/** What the runner hands to a cell. */
export interface CellHands {
  /** told before each statement, with its line from 1 */
  at(line: number): void;
  /** told the value of the last statement, where it has one */
  value(value: unknown): void;
  /** a module asked for in the middle of a cell */
  load(module: string): Promise<unknown>;
  /** rounds of loops that are left before `round` is told */
  left: number;
  /** told now and then by loops, with what the variables around one hold */
  round(held: () => readonly (() => unknown)[]): void;
}

/** What a cell's module gives. */
export type CellFunction = (
  names: Record<string, unknown>,
  hands: CellHands,
) => Promise<void>;

// What is looked at of a tree: every node as a plain record.

type Tree = Node & Record<string, unknown>;

const isTree = (value: unknown): value is Tree =>
  typeof value === "object" && value !== null && typeof (value as Node).type === "string";

/** The nodes right below one, in the order of their text. */
function below(node: Tree): Tree[] {
  return Object.values(node).flatMap((value) =>
    isTree(value) ? [value] : Array.isArray(value) ? value.filter(isTree) : []
  ).sort((a, b) => a.start - b.start);
}

/** Names that a pattern binds. */
function bound(pattern: unknown): string[] {
  if (!isTree(pattern)) return [];
  switch (pattern.type) {
    case "Identifier":
      return [String(pattern["name"])];
    case "ObjectPattern":
      return (pattern["properties"] as Tree[]).flatMap((p) => bound(p["value"] ?? p["argument"]));
    case "ArrayPattern":
      return (pattern["elements"] as unknown[]).flatMap(bound);
    case "AssignmentPattern":
      return bound(pattern["left"]);
    case "RestElement":
      return bound(pattern["argument"]);
    default:
      return [];
  }
}

const FUNCTION = /^(?:FunctionDeclaration|FunctionExpression|ArrowFunctionExpression)$/;
const LOOP = /^(?:(?:Do)?While|For(?:In|Of)?)Statement$/;
const SCOPED =
  /^(?:BlockStatement|For(?:In|Of)?Statement|SwitchStatement|CatchClause|StaticBlock)$/;

/** Names that `var` and the functions of blocks bind below a node, not going into functions. */
function hoisted(node: Tree): string[] {
  if (FUNCTION.test(node.type) || node.type.startsWith("Class")) return [];
  const own = node.type === "VariableDeclaration" && node["kind"] === "var"
    ? (node["declarations"] as Tree[]).flatMap(({ id }) => bound(id))
    : [];
  return [...own, ...below(node).flatMap(hoisted)];
}

/** Names that the statements of one block bind in it. */
function lexical(statements: readonly Tree[]): string[] {
  return statements.flatMap((node) => {
    if (node.type === "VariableDeclaration" && node["kind"] !== "var") {
      return (node["declarations"] as Tree[]).flatMap(({ id }) => bound(id));
    }
    const isNamed = node.type === "FunctionDeclaration" || node.type === "ClassDeclaration";
    return isNamed ? bound(node["id"]) : [];
  });
}

/** Names that a node binds for what stands in it. */
function bindings(node: Tree): string[] {
  if (FUNCTION.test(node.type)) {
    const own = node.type === "FunctionExpression" ? bound(node["id"]) : [];
    const body = node["body"];
    const inside = isTree(body) && body.type === "BlockStatement" ? hoisted(body) : [];
    const args = node.type === "ArrowFunctionExpression" ? [] : ["arguments"];
    return [...own, ...(node["params"] as Tree[]).flatMap(bound), ...inside, ...args];
  }
  if (node.type === "ClassExpression" || node.type === "ClassDeclaration") return bound(node["id"]);
  if (!SCOPED.test(node.type)) return [];
  if (node.type === "CatchClause") return bound(node["param"]);
  if (node.type === "SwitchStatement") {
    return lexical((node["cases"] as Tree[]).flatMap((one) => one["consequent"] as Tree[]));
  }
  const head = node["init"] ?? node["left"];
  return Array.isArray(node["body"])
    ? lexical(node["body"] as Tree[])
    : isTree(head)
    ? lexical([head])
    : [];
}

/** Whether an identifier stands where a name is mentioned, not where a key or a label is written. */
function isMention(node: Tree, parent: Tree): boolean {
  const isKey = parent["key"] === node && parent["computed"] !== true && parent["value"] !== node;
  const isMember = parent.type === "MemberExpression" && parent["property"] === node &&
    parent["computed"] !== true;
  const isLabel = ["LabeledStatement", "BreakStatement", "ContinueStatement"].includes(parent.type);
  return !isKey && !isMember && !isLabel && parent.type !== "MetaProperty" &&
    !/^(?:Import|Export)\w*Specifier$/.test(parent.type);
}

/** One mention of a name that is not bound inside the cell's blocks and functions. */
interface Mention {
  readonly name: string;
  readonly node: Tree;
  readonly parent: Tree;
  /** the name of the function at the outermost level in which this stands; none for what runs with the cell */
  readonly inside: string | undefined;
  readonly isWritten: boolean;
}

/** Methods that change the object they are called on. */
const CHANGING =
  /^(?:push|pop|shift|unshift|splice|sort|reverse|fill|copyWithin|set|add|delete|clear|append)$/;

/** The name at the root of `a.b[c].d`. */
function rootOf(node: unknown): Tree | undefined {
  let at = node;
  while (isTree(at) && at.type === "MemberExpression") at = at["object"];
  return isTree(at) && at.type === "Identifier" ? at : undefined;
}

/** The identifiers whose value, or the inside of whose object, a node changes. */
function changedBy(node: Tree): (Tree | undefined)[] {
  const isTarget = (target: unknown): (Tree | undefined)[] =>
    isTree(target) && target.type === "MemberExpression" ? [rootOf(target)] : identifiersOf(target);
  if (node.type === "AssignmentExpression") return isTarget(node["left"]);
  if (node.type === "UpdateExpression") return isTarget(node["argument"]);
  if (node.type === "UnaryExpression" && node["operator"] === "delete") {
    return isTarget(node["argument"]);
  }
  if (/^For(?:In|Of)Statement$/.test(node.type)) return isTarget(node["left"]);
  if (node.type !== "CallExpression") return [];
  const callee = node["callee"] as Tree, [first] = node["arguments"] as Tree[];
  if (callee.type !== "MemberExpression" || callee["computed"] === true) return [];
  const method = String((callee["property"] as Tree)["name"]), of = callee["object"] as Tree;
  if (of.type === "Identifier" && /^(?:Object|Reflect)$/.test(String(of["name"]))) {
    return /^(?:assign|define\w+|set\w*|delete\w+)$/.test(method) ? [rootOf(first)] : [];
  }
  return CHANGING.test(method) ? [rootOf(of)] : [];
}

/** The identifiers of a pattern that is assigned to. */
function identifiersOf(pattern: unknown): Tree[] {
  if (!isTree(pattern)) return [];
  if (pattern.type === "Identifier") return [pattern];
  if (pattern.type === "MemberExpression") {
    return [rootOf(pattern)].filter((one) => one !== undefined);
  }
  if (pattern.type === "AssignmentPattern") return identifiersOf(pattern["left"]);
  if (pattern.type === "Property") return identifiersOf(pattern["value"]);
  return /Pattern$|^RestElement$/.test(pattern.type) ? below(pattern).flatMap(identifiersOf) : [];
}

/** A loop, and the names bound around it in the cell's blocks and functions. */
interface Loop {
  readonly body: Tree;
  readonly names: readonly string[];
}

/** All mentions in a cell of names that the cell's own blocks and functions do not bind; and its loops. */
function mentionsIn(program: Program): { mentions: Mention[]; loops: Loop[] } {
  const found: Mention[] = [], loops: Loop[] = [];
  const changed = new Set<Tree>();
  const visit = (
    node: Tree,
    parent: Tree,
    scopes: readonly ReadonlySet<string>[],
    inside: string | undefined,
  ): void => {
    for (const one of changedBy(node)) if (one !== undefined) changed.add(one);
    if (node.type === "Identifier") {
      const name = String(node["name"]);
      if (!isMention(node, parent) || scopes.some((scope) => scope.has(name))) return;
      found.push({ name, node, parent, inside, isWritten: changed.has(node) });
      return;
    }
    const own = bindings(node);
    const deeper = own.length === 0 ? scopes : [...scopes, new Set(own)];
    if (LOOP.test(node.type)) {
      const names = new Set(deeper.flatMap((scope) => [...scope]));
      names.delete("arguments");
      loops.push({ body: node["body"] as Tree, names: [...names] });
    }
    for (const child of below(node)) {
      // the name of a function or class at the outermost level is the notebook's
      const isName = child === node["id"] && /Declaration$/.test(node.type);
      visit(child, node, isName ? scopes : deeper, inside);
    }
  };
  for (const statement of program.body as unknown as Tree[]) {
    for (const part of namedParts(statement)) {
      visit(part.node, part.parent, [], part.name);
    }
  }
  return { mentions: found, loops };
}

/** The parts of a statement, with the name under which what a part holds runs later, where it only defines something. */
function namedParts(statement: Tree): { node: Tree; parent: Tree; name?: string }[] {
  const plain = statement.type.startsWith("Export") && isTree(statement["declaration"])
    ? statement["declaration"]
    : statement;
  const named = (
    node: Tree,
    parent: Tree,
    id: unknown,
  ): { node: Tree; parent: Tree; name?: string } => {
    const [name] = bound(id);
    return { node, parent, ...(name !== undefined && { name }) };
  };
  if (plain.type === "FunctionDeclaration" || plain.type === "ClassDeclaration") {
    return [named(plain, statement, plain["id"])];
  }
  if (plain.type !== "VariableDeclaration") return [{ node: statement, parent: statement }];
  return (plain["declarations"] as Tree[]).map((one) => {
    const init = one["init"];
    return isTree(init) && FUNCTION.test(init.type)
      ? named(one, plain, one["id"])
      : { node: one, parent: plain };
  });
}

// The cell as a module.

/** One change of the text. */
interface Edit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** The text with all changes made; those at one place in the order they were told. */
function edited(text: string, edits: readonly Edit[]): string {
  let out = "", from = 0;
  for (const { start, end, text: put } of edits.toSorted((a, b) => a.start - b.start)) {
    out += text.slice(from, start) + put;
    from = Math.max(from, end);
  }
  return out + text.slice(from);
}

const lineOf = (text: string, at: number): number => text.slice(0, at).split("\n").length;
const put = (at: number, text: string): Edit => ({ start: at, end: at, text });
const emptied = (text: string, { start, end }: Node): Edit => ({
  start,
  end,
  text: text.slice(start, end).replace(/[^\n]/g, ""),
});

/** A word that the text does not have, beginning with `$`. */
function freeWord(text: string, wanted: string): string {
  let word = wanted;
  while (text.includes(word)) word += "_";
  return word;
}

/** `const a = 1, b = 2` as `void (a = 1), (b = 2)`: the word keeps what stands before it from going on. */
function declarationEdits(node: Tree, parent: Tree): Edit[] {
  const word = String(node["kind"]).length;
  const isHead = /^For(?:In|Of)Statement$/.test(parent.type);
  const declarators = node["declarations"] as Tree[];
  if (isHead) return [{ start: node.start, end: node.start + word, text: "" }];
  return [
    { start: node.start, end: node.start + word, text: "void" },
    ...declarators.flatMap((one) => {
      const id = one["id"] as Tree;
      return [
        put(one.start, "("),
        ...(isTree(one["init"]) ? [] : [put(id.end, " = undefined")]),
        put(one.end, ")"),
      ];
    }),
  ];
}

/** The declarations by `var` below a node that belong to the notebook, not to a function, with what holds them. */
function outerVars(node: Tree, parent: Tree): [Tree, Tree][] {
  if (FUNCTION.test(node.type) || node.type.startsWith("Class")) return [];
  const own: [Tree, Tree][] = node.type === "VariableDeclaration" && node["kind"] === "var"
    ? [[node, parent]]
    : [];
  return [...own, ...below(node).flatMap((child) => outerVars(child, node))];
}

/** What a statement of the outermost level becomes, but for the names in it. */
function statementEdits(text: string, statement: Tree, hands: string, names: string): Edit[] {
  if (statement.type === "ImportDeclaration") return [emptied(text, statement)];
  const edits: Edit[] = [];
  let plain = statement;
  if (statement.type === "ExportNamedDeclaration" && isTree(statement["declaration"])) {
    plain = statement["declaration"];
    edits.push({ start: statement.start, end: plain.start, text: "" });
  }
  if (plain.type === "FunctionDeclaration") return edits;
  edits.push(put(plain.start, `${hands}.at(${lineOf(text, statement.start)});`));
  if (plain.type === "ClassDeclaration") {
    const [name] = bound(plain["id"]);
    return [...edits, put(plain.start, `${names}.${name} = `), put(plain.end, ";")];
  }
  if (plain.type === "VariableDeclaration" && plain["kind"] !== "var") {
    return [...edits, ...declarationEdits(plain, statement)];
  }
  return [
    ...edits,
    ...outerVars(plain, statement).flatMap(([node, parent]) => declarationEdits(node, parent)),
  ];
}

/** Modules asked for in the middle of a cell come by the runner's hand. */
function loadEdits(node: Tree, hands: string): Edit[] {
  const own = node.type === "ImportExpression"
    ? [{ start: node.start, end: node.start + "import".length, text: `${hands}.load` }]
    : [];
  return [...own, ...below(node).flatMap((child) => loadEdits(child, hands))];
}

/** Where `{ x }` stands for `{ x: x }`. */
function shorthands(node: Tree): Set<number> {
  const own = node.type === "Property" && node["shorthand"] === true ? [node.start] : [];
  return new Set([...own, ...below(node).flatMap((child) => [...shorthands(child)])]);
}

/** Each round of a loop is counted, so that one that eats memory without end can be ended before the browser is. */
function loopEdits({ body, names }: Loop, hands: string): [begin: Edit, end: Edit] {
  const held = names.map((name) => `()=>${name}`).join();
  const count = `if(--${hands}.left<0)${hands}.round(()=>[${held}]);`;
  if (body.type === "BlockStatement") return [put(body.start + 1, count), put(body.end, "")];
  return [put(body.start, `{${count}`), put(body.end, "}")];
}

/** Statements that have no value of their own: that of the statement before them stays the cell's. */
const VALUELESS = /Declaration$|^EmptyStatement$/;

/** The value of a list of statements is told: that of the last which has one, whichever way it goes. */
function valueEdits(statements: readonly Tree[], hands: string): Edit[] {
  const last = statements.findLast(({ type }) => !VALUELESS.test(type));
  return last === undefined ? [] : valuesOf(last, hands);
}

function valuesOf(node: Tree, hands: string): Edit[] {
  if (node.type === "ExpressionStatement") {
    const { start, end } = node["expression"] as Tree;
    return [put(start, `${hands}.value((`), put(end, "))")];
  }
  if (node.type === "BlockStatement") return valueEdits(node["body"] as Tree[], hands);
  if (node.type === "SwitchStatement") {
    return (node["cases"] as Tree[]).flatMap((one) =>
      valueEdits(one["consequent"] as Tree[], hands)
    );
  }
  const parts = ["consequent", "alternate", "body", "block", "handler"].map((name) => node[name]);
  return parts.filter(isTree).flatMap((part) => valuesOf(part, hands));
}

function moduleOf(
  text: string,
  program: Program,
  { mentions, loops }: { readonly mentions: readonly Mention[]; readonly loops: readonly Loop[] },
  isShared: (name: string) => boolean,
): string {
  const names = freeWord(text, "$names"), hands = freeWord(text, "$hands");
  const statements = program.body as unknown as Tree[],
    short = shorthands(program as unknown as Tree);
  const own = statements.flatMap((one) => statementEdits(text, one, hands, names));
  own.push(...valueEdits(statements, hands));
  const shared = mentions.filter(({ name, node, parent }) =>
    isShared(name) &&
    !(parent["id"] === node && /^(?:Function|Class)Declaration$/.test(parent.type))
  ).map(({ name, node }) => {
    const whole = `${names}.${name}`;
    return {
      start: node.start,
      end: node.end,
      text: short.has(node.start) ? `${name}: ${whole}` : whole,
    };
  });
  const functions = statements.flatMap((one) => {
    const plain = isTree(one["declaration"]) ? one["declaration"] : one;
    return plain.type === "FunctionDeclaration" ? bound(plain["id"]) : [];
  });
  const first = functions.map((name) => `${names}.${name} = ${name};`).join("");
  const rounds = loops.map((loop) => loopEdits(loop, hands));
  // at one place a loop's bracket opens first and closes last
  const body = edited(text, [
    ...rounds.map(([begin]) => begin),
    ...own,
    ...loadEdits(program as unknown as Tree, hands),
    ...shared,
    ...rounds.map(([, end]) => end).toReversed(),
  ]);
  return `export default async (${names}, ${hands}) => {${first}${body}\n}`;
}

/** Names that statements of the outermost level give, and whether their value is fixed. */
function declaredIn(statements: readonly Tree[]): Map<string, "fixed" | "open"> {
  const plain = statements.map((one) => isTree(one["declaration"]) ? one["declaration"] : one);
  const isFixed = (node: Tree): boolean =>
    node.type === "VariableDeclaration" && node["kind"] === "const";
  return new Map([
    ...plain.flatMap(hoisted).map((name) => [name, "open"] as const),
    ...plain.flatMap((node) =>
      lexical([node]).map((name) => [name, isFixed(node) ? "fixed" : "open"] as const)
    ),
  ]);
}

/** What an import statement takes, by the name it has here. */
function importedBy(text: string, node: Tree): [string, Imported][] {
  const module = String((node["source"] as Tree)["value"]), line = lineOf(text, node.start);
  return (node["specifiers"] as Tree[]).map((one) => {
    const imported = one["imported"] as Tree | undefined;
    const name = one.type === "ImportNamespaceSpecifier"
      ? "*"
      : imported === undefined
      ? "default"
      : String(imported["name"] ?? imported["value"]);
    return [String((one["local"] as Tree)["name"]), { module, name, line }];
  });
}

/** A cell without its types, line for line, and the tree of that. */
export interface ParsedCell {
  readonly text: string;
  readonly program: Program;
}

/** Takes the types off a cell and parses it. @throws {CellRefused} where that cannot be done */
export function parseCell(source: string): ParsedCell {
  let text = source;
  try {
    text = transform(source, {
      transforms: ["typescript"],
      disableESTransforms: true,
      keepUnusedImports: true,
    }).code;
    return { text, program: parse(text, { ecmaVersion: "latest", sourceType: "module" }) };
  } catch (fault) {
    throw refusalOf(text, fault);
  }
}

/**
 * Reads a cell.
 *
 * @param source  TypeScript, as the reader wrote it
 * @throws {CellRefused} one sentence with the line, where it cannot be read
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const code = readCell("const depth: number = 1.17;\nshow(depth / leaf);");
 * assert.deepEqual([...code.declares.keys()], ["depth"]);
 * assert.deepEqual([...code.uses.keys()], ["show", "leaf"]);
 * ```
 */
export function readCell(source: string): CellCode {
  const { text, program } = parseCell(source);
  const statements = program.body as unknown as Tree[];
  for (const one of statements) {
    const isNamed = one.type === "ExportNamedDeclaration" && isTree(one["declaration"]);
    if (one.type.startsWith("Export") && !isNamed) {
      throw new CellRefused(
        "export has no place in a cell; its names are the page's already.",
        lineOf(text, one.start),
      );
    }
  }
  refuseCommas(text, program as unknown as Tree);
  const imports = new Map(
    statements.filter(({ type }) => type === "ImportDeclaration")
      .flatMap((node) => importedBy(text, node)),
  );
  const declares = declaredIn(statements);
  const found = mentionsIn(program), { mentions } = found;
  const isOwn = (name: string): boolean => declares.has(name) || imports.has(name);
  const uses = new Map<string, number>(), writesLater = new Map<string, Set<string>>();
  for (const { name, node } of mentions) {
    if (!isOwn(name) && !uses.has(name)) uses.set(name, lineOf(text, node.start));
  }
  for (const { name, inside, isWritten } of mentions) {
    if (inside === undefined || !isWritten || name === inside) continue;
    writesLater.set(inside, (writesLater.get(inside) ?? new Set()).add(name));
  }
  const written = mentions.filter(({ inside, isWritten }) => isWritten && inside === undefined);
  return {
    declares,
    imports,
    uses,
    writes: new Set(written.map(({ name }) => name).filter((name) => !isOwn(name))),
    writesLater,
    module: (names) => moduleOf(text, program, found, (name) => isOwn(name) || names.has(name)),
  };
}
