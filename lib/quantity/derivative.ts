/** Propagation of uncertainty through a formula in text, with the derivatives shown: for notebooks. */
import type { MathNode } from "mathjs";
import { mathjs } from "./mathjs.ts";
import type { Measured } from "./measured.ts";
import { type BudgetLine, combineTerms, type Correlation } from "./propagate.ts";

/** A line of the budget with the derivative that it stands on. */
export interface FormulaLine extends BudgetLine {
  /** the derivative by this input, as text and as TeX */
  readonly partial: string;
  /** the same as TeX */
  readonly partialTex: string;
}

/** A formula's result, with its budget. */
export interface FormulaResult extends Measured {
  /** as it was given */
  readonly formula: string;
  /** the same as TeX */
  readonly formulaTex: string;
  /** a line for each input */
  readonly budget: readonly FormulaLine[];
}

/**
 * Carries uncertainties through a formula, its derivatives found symbolically by mathjs.
 *
 * @param formula       in mathjs's notation: `^` for powers, `sqrt(x)`, `log(x)` for the natural logarithm
 * @param inputs        measured values by the names the formula uses
 * @param options       correlations between inputs; unit of the result, default ""
 * @throws {RangeError} for a formula that cannot be read, a name without a value, or a result that is not finite
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const radius = propagateFormula("(r^2 + s^2) / (2 s)", {
 *   r: { value: 75, u: 0.25, dof: Infinity, unit: "mm" },
 *   s: { value: 1.17, u: 0.01, dof: Infinity, unit: "mm" },
 * }, { unit: "mm" });
 * assert.equal(radius.u.toFixed(4), "26.0527");
 * assert.equal(radius.budget[0]?.partial, "r / s");
 * ```
 */
export function propagateFormula(
  formula: string,
  inputs: Readonly<Record<string, Measured>>,
  options: { readonly correlations?: readonly Correlation[]; readonly unit?: string } = {},
): FormulaResult {
  const tree = parseFormula(formula, Object.keys(inputs));
  const names = Object.keys(inputs);
  const scope = new Map(names.map((name) => [name, inputs[name]?.value ?? NaN]));
  const partials = new Map(names.map((name) => [name, mathjs().derivative(tree, name)]));
  const terms = names.map((source) => {
    const { value = NaN, u = 0, dof = Infinity } = inputs[source] ?? {};
    const sensitivity = evaluate(partials.get(source) ?? tree, scope, formula);
    return { source, value, u, dof, sensitivity };
  });
  const value = evaluate(tree, scope, formula);
  const result = combineTerms(value, terms, options.correlations, options.unit);
  return {
    ...result,
    formula,
    formulaTex: tree.toTex(),
    budget: result.budget.map((line) => {
      const node = partials.get(line.source) ?? tree;
      return { ...line, partial: node.toString(), partialTex: node.toTex() };
    }),
  };
}

/** Reads a formula and lets through only arithmetic, functions of numbers and the names given. */
function parseFormula(formula: string, names: readonly string[]): MathNode {
  let tree: MathNode;
  try {
    tree = mathjs().parse(formula);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new RangeError(
      `propagateFormula requires a formula it can read, got "${formula}": ${reason}`,
    );
  }
  tree.traverse((node, path) => refuseNode(node, path, formula, names));
  return tree;
}

const ALLOWED = ["OperatorNode", "ParenthesisNode", "ConstantNode", "SymbolNode", "FunctionNode"];

function refuseNode(node: MathNode, path: string, formula: string, names: readonly string[]): void {
  if (!ALLOWED.includes(node.type)) {
    throw new RangeError(
      `propagateFormula requires plain arithmetic, got "${node}" in "${formula}"`,
    );
  }
  if (node.type !== "SymbolNode" || path === "fn") return;
  const name = (node as MathNode & { readonly name: string }).name;
  if (names.includes(name) || name === "pi") return;
  throw new RangeError(
    `propagateFormula requires a value for each name, got none for "${name}" in "${formula}"; known: ${
      names.join(", ")
    }`,
  );
}

function evaluate(node: MathNode, scope: Map<string, number>, formula: string): number {
  const value: unknown = node.compile().evaluate(scope);
  if (typeof value === "number" && Number.isFinite(value)) return value;
  throw new RangeError(`propagateFormula requires a finite number from "${formula}", got ${value}`);
}
