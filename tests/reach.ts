/** What of lib the kit's own doors reach: commands, notebooks, the page's script, a class's threads. */
import { dirname, join, normalize } from "node:path";
import ts from "typescript";

/** One top-level name of a file. */
export interface Declaration {
  readonly file: string;
  readonly name: string;
  /** lines it takes, its comment included */
  readonly lines: number;
  readonly isExported: boolean;
}

interface Module {
  readonly declared: Map<string, Declaration & { readonly uses: ReadonlySet<string> }>;
  /** local name to what it stands for; "*" for a whole module */
  readonly imports: Map<string, { readonly from: string; readonly name: string }>;
  readonly exports: Map<string, { readonly from: string; readonly name: string }>;
  readonly everythingOf: readonly string[];
  /** names that the file uses when it is loaded */
  readonly atLoad: ReadonlySet<string>;
}

const isOwn = (path: string): boolean => path.startsWith(".") || path.startsWith("first-mirror/");

/** Names a piece of code mentions, types too; a name that is only shadowed counts as mentioned. */
function namesIn(node: ts.Node): Set<string> {
  const names = new Set<string>();
  const visit = (at: ts.Node): void => {
    if (ts.isIdentifier(at)) names.add(at.text);
    ts.forEachChild(at, visit);
  };
  visit(node);
  return names;
}

function boundNames(name: ts.BindingName): string[] {
  if (ts.isIdentifier(name)) return [name.text];
  return name.elements.flatMap((part) => ts.isBindingElement(part) ? boundNames(part.name) : []);
}

const isExported = (node: ts.Statement): boolean =>
  ts.canHaveModifiers(node) &&
  (ts.getModifiers(node)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) ?? false);

function parse(
  file: string,
  text: string,
  resolve: (from: string, path: string) => string,
): Module {
  const source = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
  const module = {
    declared: new Map(),
    imports: new Map(),
    exports: new Map(),
    everythingOf: [] as string[],
    atLoad: new Set<string>(),
  };
  const dynamic = (node: ts.Node): void => {
    const [path] = ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword
      ? node.arguments
      : [];
    if (path !== undefined && ts.isStringLiteral(path) && isOwn(path.text)) {
      module.everythingOf.push(resolve(file, path.text));
    }
    ts.forEachChild(node, dynamic);
  };
  dynamic(source);
  const lines = (node: ts.Node): number =>
    source.getLineAndCharacterOfPosition(node.end).line -
    source.getLineAndCharacterOfPosition(node.getFullStart()).line;
  for (const node of source.statements) {
    const names = ts.isVariableStatement(node)
      ? node.declarationList.declarations.flatMap(({ name }) => boundNames(name))
      : (ts.isFunctionDeclaration(node) || ts.isClassDeclaration(node) ||
          ts.isInterfaceDeclaration(node) || ts.isTypeAliasDeclaration(node) ||
          ts.isEnumDeclaration(node)) && node.name !== undefined
      ? [node.name.text]
      : [];
    if (names.length > 0) {
      const uses = namesIn(node);
      for (const name of names) {
        module.declared.set(name, {
          file,
          name,
          lines: Math.max(1, Math.round(lines(node) / names.length)),
          isExported: isExported(node),
          uses: new Set([...uses, ...module.declared.get(name)?.uses ?? []]),
        });
      }
    } else if (ts.isImportDeclaration(node) && ts.isStringLiteral(node.moduleSpecifier)) {
      if (!isOwn(node.moduleSpecifier.text)) continue;
      const from = resolve(file, node.moduleSpecifier.text), clause = node.importClause;
      const bindings = clause?.namedBindings;
      if (clause?.name) module.imports.set(clause.name.text, { from, name: "default" });
      if (bindings && ts.isNamespaceImport(bindings)) {
        module.imports.set(bindings.name.text, { from, name: "*" });
      }
      if (bindings && ts.isNamedImports(bindings)) {
        for (const { name, propertyName } of bindings.elements) {
          module.imports.set(name.text, { from, name: (propertyName ?? name).text });
        }
      }
    } else if (ts.isExportDeclaration(node)) {
      const path = node.moduleSpecifier;
      const from = path && ts.isStringLiteral(path) ? resolve(file, path.text) : file;
      if (node.exportClause && ts.isNamedExports(node.exportClause)) {
        for (const { name, propertyName } of node.exportClause.elements) {
          module.exports.set(name.text, { from, name: (propertyName ?? name).text });
        }
      } else module.exports.set(`* ${from}`, { from, name: "*" });
    } else for (const name of namesIn(node)) module.atLoad.add(name);
  }
  return module;
}

/**
 * The declarations of lib that no door leads to.
 *
 * A name is reached when code that is reached mentions it. A `mod.ts` that passes a name on reaches nothing; who imports
 * the name from there does. Tests are no doors, or nothing would ever be dead.
 *
 * @param files  path from the kit's folder, and text: lib, and what the doors hold
 * @param doors  files that are run or read for themselves
 */
export function unreached(
  files: ReadonlyMap<string, string>,
  doors: readonly string[],
  named: Readonly<Record<string, string>>,
): Declaration[] {
  const resolve = (from: string, path: string): string =>
    named[path] ?? normalize(join(dirname(from), path));
  const modules = new Map([...files].map(([file, text]) => [file, parse(file, text, resolve)]));
  const seen = new Set<string>(), loaded = new Set<string>();
  const queue: (readonly [file: string, name: string])[] = [];
  const want = (file: string, name: string): void => {
    if (seen.has(`${file} ${name}`)) return;
    seen.add(`${file} ${name}`);
    queue.push([file, name]);
  };
  const load = (file: string): void => {
    const module = modules.get(file);
    if (module === undefined || loaded.has(file)) return;
    loaded.add(file);
    for (const name of module.atLoad) want(file, name);
    for (const other of module.everythingOf) everything(other);
  };
  const everything = (file: string): void => {
    load(file);
    const module = modules.get(file);
    for (const { name, isExported } of module?.declared.values() ?? []) {
      if (isExported) want(file, name);
    }
    for (const [name, { from }] of module?.exports ?? []) {
      if (name.startsWith("* ")) everything(from);
      else want(file, name);
    }
  };
  for (const door of doors) {
    load(door);
    for (const name of modules.get(door)?.declared.keys() ?? []) want(door, name);
    for (const name of modules.get(door)?.imports.keys() ?? []) want(door, name);
  }
  for (let next = queue.pop(); next !== undefined; next = queue.pop()) {
    const [file, name] = next, module = modules.get(file);
    if (module === undefined) continue;
    load(file);
    const own = module.declared.get(name);
    if (own !== undefined) { for (const used of own.uses) want(file, used); }
    for (const found of [module.imports.get(name), module.exports.get(name)]) {
      if (found?.name === "*") everything(found.from);
      else if (found !== undefined) want(found.from, found.name);
    }
    if (own === undefined) {
      for (const [key, { from }] of module.exports) if (key.startsWith("* ")) want(from, name);
    }
  }
  return [...modules].filter(([file]) => file.startsWith("lib/"))
    .flatMap(([, { declared }]) => [...declared.values()])
    .filter(({ file, name }) => !seen.has(`${file} ${name}`));
}
