import type { Datum, FactValue, Scalar } from "./fact.js";
import { OPPOSITE, testOf, type Operator } from "./operators.js";
import { FALSE, TRUE, UNKNOWN, type Truth } from "./truth.js";

/** One comparison of a fact; `name` is the rule author's sentence for it. */
export interface Leaf {
  readonly name: string;
  readonly fact: string;
  readonly operator: Operator;
  readonly value: Scalar | readonly Scalar[];
}

/** A condition tree in json-rules-engine's public format, without its priorities, paths and references. */
export type Condition =
  | Leaf
  | { readonly all: readonly Condition[] }
  | { readonly any: readonly Condition[] }
  | { readonly not: Condition };

/** Reads one fact of a subject. */
export type Reader<S, U> = (subject: S) => FactValue<U>;

/** A condition compiled once, to be asked of many subjects. */
export interface CompiledCondition<S, U> {
  /** The three-valued answer. */
  readonly evaluate: (subject: S) => Truth;
  /** Where the answer is unknown: the open points that stand between, each once. Otherwise empty. */
  readonly unknowns: (subject: S) => readonly U[];
  /** The whole tree with the answer and the value found at each node. */
  readonly trace: (subject: S) => Trace<U>;
}

/** A condition's answer for one subject, node by node. */
export type Trace<U> =
  | { readonly kind: "leaf"; readonly truth: Truth; readonly leaf: Leaf; readonly found: FactValue<U> }
  | { readonly kind: "all" | "any" | "not"; readonly truth: Truth; readonly parts: readonly Trace<U>[] };

/**
 * Compiles a condition tree to closures.
 *
 * `readerOf` gives the reader of a fact by its name and throws where there is none, so that a compiled
 * condition can't meet an unknown fact name later.
 */
export function compileCondition<S, U>(
  condition: Condition,
  readerOf: (fact: string) => Reader<S, U>,
): CompiledCondition<S, U> {
  if ("all" in condition) return compileAll(condition.all.map((part) => compileCondition(part, readerOf)));
  if ("any" in condition) return compileAny(condition.any.map((part) => compileCondition(part, readerOf)));
  if ("not" in condition) return compileNot(compileCondition(condition.not, readerOf));
  return compileLeaf(condition, readerOf(condition.fact));
}

function compileLeaf<S, U>(leaf: Leaf, read: Reader<S, U>): CompiledCondition<S, U> {
  const test = testOf(leaf.operator, leaf.value);
  const judge = (found: FactValue<U>): Truth => {
    const candidates = found.candidates;
    if (candidates === null) return UNKNOWN;
    const first = candidates[0];
    if (first === undefined) return UNKNOWN;
    const holds = test(first);
    for (let i = 1; i < candidates.length; i += 1) {
      if (test(candidates[i] as Scalar) !== holds) return UNKNOWN;
    }
    return holds ? TRUE : FALSE;
  };
  return {
    evaluate: (subject) => {
      const found = read(subject);
      const candidates = found.candidates;
      // Nearly every fact is known, and this is asked more often than anything else.
      if (candidates?.length === 1) return test(candidates[0] as Datum) ? TRUE : FALSE;
      return judge(found);
    },
    unknowns: (subject) => {
      const found = read(subject);
      return judge(found) === UNKNOWN ? found.unknowns : [];
    },
    trace: (subject) => {
      const found = read(subject);
      return { kind: "leaf", truth: judge(found), leaf, found };
    },
  };
}

function compileAll<S, U>(parts: readonly CompiledCondition<S, U>[]): CompiledCondition<S, U> {
  const evaluators = parts.map((part) => part.evaluate);
  const evaluate = (subject: S): Truth => {
    let truth: Truth = TRUE;
    for (const each of evaluators) {
      const one = each(subject);
      if (one === FALSE) return FALSE;
      if (one < truth) truth = one;
    }
    return truth;
  };
  return branch("all", evaluate, parts);
}

function compileAny<S, U>(parts: readonly CompiledCondition<S, U>[]): CompiledCondition<S, U> {
  const evaluators = parts.map((part) => part.evaluate);
  const evaluate = (subject: S): Truth => {
    let truth: Truth = FALSE;
    for (const each of evaluators) {
      const one = each(subject);
      if (one === TRUE) return TRUE;
      if (one > truth) truth = one;
    }
    return truth;
  };
  return branch("any", evaluate, parts);
}

function compileNot<S, U>(part: CompiledCondition<S, U>): CompiledCondition<S, U> {
  return branch("not", (subject) => (2 - part.evaluate(subject)) as Truth, [part]);
}

function branch<S, U>(
  kind: "all" | "any" | "not",
  evaluate: (subject: S) => Truth,
  parts: readonly CompiledCondition<S, U>[],
): CompiledCondition<S, U> {
  return {
    evaluate,
    // Where a branch is unknown, exactly its unknown parts keep it so: a false part would have settled an `all`, a true one an `any`.
    unknowns: (subject) => {
      if (evaluate(subject) !== UNKNOWN) return [];
      return [...new Set(parts.flatMap((part) => part.unknowns(subject)))];
    },
    trace: (subject) => ({ kind, truth: evaluate(subject), parts: parts.map((part) => part.trace(subject)) }),
  };
}

/** Every leaf of a condition, in the order written. */
export function leavesOf(condition: Condition): readonly Leaf[] {
  if ("all" in condition) return condition.all.flatMap(leavesOf);
  if ("any" in condition) return condition.any.flatMap(leavesOf);
  if ("not" in condition) return leavesOf(condition.not);
  return [condition];
}

/** The same condition with every negation pushed into the operators of the leaves. */
export function inNegationNormalForm(condition: Condition, negated = false): Condition {
  if ("not" in condition) return inNegationNormalForm(condition.not, !negated);
  if ("all" in condition) {
    const parts = condition.all.map((part) => inNegationNormalForm(part, negated));
    return negated ? { any: parts } : { all: parts };
  }
  if ("any" in condition) {
    const parts = condition.any.map((part) => inNegationNormalForm(part, negated));
    return negated ? { all: parts } : { any: parts };
  }
  return negated ? { ...condition, operator: OPPOSITE[condition.operator] } : condition;
}

function intersect(a: ReadonlySet<Scalar>, b: ReadonlySet<Scalar>): ReadonlySet<Scalar> {
  return new Set([...a].filter((value) => b.has(value)));
}

/**
 * The values that a fact must take for the condition to be anything but false, or `null` where it is not bounded.
 *
 * Reads only `equal` and `in` leaves that every way of meeting the condition goes through; the index over
 * rules stands on it, so a value left out here would silently drop a rule.
 */
export function valuesNeeded(condition: Condition, fact: string): ReadonlySet<Scalar> | null {
  if ("all" in condition) {
    const bounds = condition.all.flatMap((part) => valuesNeeded(part, fact) ?? []);
    return bounds.length === 0 ? null : bounds.reduce(intersect);
  }
  if ("any" in condition) {
    const needed = new Set<Scalar>();
    for (const part of condition.any) {
      const one = valuesNeeded(part, fact);
      if (one === null) return null;
      for (const value of one) needed.add(value);
    }
    return needed;
  }
  if ("not" in condition) return null;
  if (condition.fact !== fact) return null;
  if (condition.operator === "equal") return new Set([condition.value as Scalar]);
  if (condition.operator === "in") return new Set(condition.value as readonly Scalar[]);
  return null;
}
