import { SEPARATOR, TOUCH, readerOf, wordsOfTouch, type Asked, type Unknown } from "../facts/index.js";
import { compileCondition, valuesNeeded, type CompiledCondition } from "../logic/index.js";
import {
  rulesOf,
  type FactName,
  type LoadedRule,
  type Rule,
  type RuleOf,
  type Rulebook,
  type Stratum,
  type Subject,
} from "../rulebook/index.js";

/** A rule ready to be asked. */
export interface CompiledRule<S extends Stratum = Stratum> {
  readonly id: string;
  readonly loaded: LoadedRule<RuleOf<S>>;
  readonly rule: RuleOf<S>;
  readonly condition: CompiledCondition<Asked, Unknown>;
}

/**
 * Rules that can be looked up by the values of a few facts: only rules that those values do not already rule
 * out are returned, in the order of their ids. Each look-up is worked out once and kept.
 */
export interface RuleIndex<S extends Stratum> {
  readonly all: readonly CompiledRule<S>[];
  readonly lookUp: (first: string, second?: string, third?: string | number) => readonly CompiledRule<S>[];
}

/** A rulebook compiled for asking. */
export interface Program {
  readonly rulebook: Rulebook;
  readonly impliedByCause: RuleIndex<"implied-operations">;
  readonly impliedBySensor: RuleIndex<"implied-operations">;
  readonly impliedByRequirement: RuleIndex<"implied-operations">;
  readonly disturbances: RuleIndex<"disturbances">;
  readonly requirements: RuleIndex<"requirements">;
  readonly waivers: readonly CompiledRule<"waivers">[];
  /** Whether any rule takes an exception to another. */
  readonly hasExceptions: boolean;
  readonly holds: RuleIndex<"holds">;
  readonly preconditions: RuleIndex<"preconditions">;
  readonly evidence: RuleIndex<"evidence">;
  readonly steps: RuleIndex<"steps">;
  readonly order: readonly CompiledRule<"order">[];
}

/** The facts that each index goes by, key by key; a cause's key holds three facts (`Cause.indexKey`). */
type Keys = readonly (readonly FactName[] | "touch")[];
const CAUSE = ["cause", "action", "component"] as const;
const BY_CAUSE: Keys = [CAUSE];
/** The third key is a touch: what reach, sight and served can be. */
const BY_CAUSE_AND_SENSOR: Keys = [CAUSE, ["sensor"], "touch"];
const BY_DISTURBANCE: Keys = [CAUSE, ["sensor"], ["disturbance"]];
const BY_REQUIREMENT: Keys = [["task"], ["sensor"]];

const programs = new WeakMap<Rulebook, Program>();

/** Compiles a rulebook; the same rulebook gives the same program. */
export function compileRulebook(rulebook: Rulebook): Program {
  const ready = programs.get(rulebook);
  if (ready !== undefined) return ready;
  const implied = (subject: Subject) =>
    compileRules(rulebook, "implied-operations").filter(({ rule }) => rule.subject === subject);
  const program: Program = {
    rulebook,
    impliedByCause: indexRules(implied("cause"), BY_CAUSE),
    impliedBySensor: indexRules(implied("cause-and-sensor"), BY_CAUSE_AND_SENSOR),
    impliedByRequirement: indexRules(implied("requirement"), BY_REQUIREMENT),
    disturbances: indexRules(compileRules(rulebook, "disturbances"), BY_CAUSE_AND_SENSOR),
    requirements: indexRules(compileRules(rulebook, "requirements"), BY_DISTURBANCE),
    waivers: compileRules(rulebook, "waivers"),
    hasExceptions: rulebook.rules.some(
      ({ rule }) => rule.stratum === "waivers" || (rule.exceptionTo ?? []).length > 0,
    ),
    holds: indexRules(compileRules(rulebook, "holds"), BY_CAUSE_AND_SENSOR),
    preconditions: indexRules(compileRules(rulebook, "preconditions"), BY_REQUIREMENT),
    evidence: indexRules(compileRules(rulebook, "evidence"), BY_REQUIREMENT),
    steps: indexRules(compileRules(rulebook, "steps"), BY_CAUSE),
    order: compileRules(rulebook, "order"),
  };
  programs.set(rulebook, program);
  return program;
}

function compileRules<S extends Stratum>(rulebook: Rulebook, stratum: S): readonly CompiledRule<S>[] {
  return rulesOf(rulebook, stratum).map((loaded) => compileRule<S>(loaded));
}

function compileRule<S extends Stratum>(loaded: LoadedRule<RuleOf<S>>): CompiledRule<S> {
  const rule: Rule = loaded.rule;
  let condition: CompiledCondition<Asked, Unknown> | undefined;
  return {
    id: rule.id,
    loaded,
    rule: loaded.rule,
    // Most rules are never asked in one run of the command line, so each is compiled when it first is.
    get condition() {
      return (condition ??= compileCondition(rule.conditions, readerOf));
    },
  };
}

function indexRules<S extends Stratum>(rules: readonly CompiledRule<S>[], keys: Keys): RuleIndex<S> {
  const facts = keys.flatMap((key) => (key === "touch" ? TOUCH.map(([fact]) => fact) : key));
  const needs = rules.map((each) => {
    const rule: Rule = each.rule;
    return { each, needed: facts.map((fact) => valuesNeeded(rule.conditions, fact)) };
  });
  const valuesOf = (key: Key, at: number): readonly (readonly string[])[] => {
    if (typeof key === "string")
      return keys[at] === undefined ? [] : key.split(SEPARATOR).map((word) => [word]);
    return keys[at] === "touch" ? TOUCH.map(([fact]) => wordsOfTouch(key, fact)) : [];
  };
  const find = (...given: readonly Key[]): readonly CompiledRule<S>[] => {
    const values = given.flatMap(valuesOf);
    return needs
      .filter(({ needed }) =>
        needed.every(
          (set, i) => set === null || values[i] === undefined || values[i].some((word) => set.has(word)),
        ),
      )
      .map(({ each }) => each);
  };
  // Nested maps, not one map with joined keys: a look-up is the hottest thing there is, and joining allocates.
  const kept = new Map<string, Map<string, Map<Key, readonly CompiledRule<S>[]>>>();
  return {
    all: rules,
    lookUp: (first, second = "", third = "") => {
      const byFirst = kept.get(first) ?? new Map<string, Map<Key, readonly CompiledRule<S>[]>>();
      if (byFirst.size === 0) kept.set(first, byFirst);
      const bySecond = byFirst.get(second) ?? new Map<Key, readonly CompiledRule<S>[]>();
      if (bySecond.size === 0) byFirst.set(second, bySecond);
      const ready = bySecond.get(third);
      if (ready !== undefined) return ready;
      const found = find(first, second, third);
      bySecond.set(third, found);
      return found;
    },
  };
}

/** A key of a look-up: words of an id, or a touch. */
type Key = string | number;
