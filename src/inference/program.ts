import { SEPARATOR, TOUCH, readerOf, wordsOfTouch, type Asked, type Unknown } from "../facts/index.js";
import {
  FALSE,
  TRUE,
  compileCondition,
  leavesOf,
  valuesNeeded,
  type CompiledCondition,
} from "../logic/index.js";
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

/**
 * Rules that are asked over and over of things that look alike to them: what they answered is kept by the values of
 * the facts that they read, so that the same values are judged once.
 */
export interface RuleMemory<S extends Stratum> {
  readonly all: readonly CompiledRule<S>[];
  /** The rules that a task and a sensor do not already rule out. */
  readonly lookUp: (task: string, sensor: string) => readonly CompiledRule<S>[];
  /** The rules that fire, or may fire; in the order of their ids. */
  readonly ask: (asked: Asked) => readonly RuleAnswer<S>[];
}

export interface RuleAnswer<S extends Stratum> {
  readonly rule: CompiledRule<S>;
  readonly certain: boolean;
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
  readonly preconditions: RuleMemory<"preconditions">;
  readonly evidence: RuleMemory<"evidence">;
  readonly steps: RuleIndex<"steps">;
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
    preconditions: remember(compileRules(rulebook, "preconditions")),
    evidence: remember(compileRules(rulebook, "evidence")),
    steps: indexRules(compileRules(rulebook, "steps"), BY_CAUSE),
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
  /** The values that a key stands for, one list a fact; a key left out (or empty) rules nothing out. */
  const valuesOf = (key: Key, at: number): readonly (readonly string[] | undefined)[] => {
    const of = keys[at];
    if (of === undefined) return [];
    const read = of === "touch" ? TOUCH.map(([fact]) => fact) : of;
    if (key === "") return read.map(() => undefined);
    if (typeof key === "string") return key.split(SEPARATOR).map((word) => [word]);
    return TOUCH.map(([fact]) => wordsOfTouch(key, fact));
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

/** Answers kept before a memory starts anew; a few hundred kinds of requirements make up the daily work. */
const KEPT = 10_000;

function remember<S extends Stratum>(rules: readonly CompiledRule<S>[]): RuleMemory<S> {
  const index = indexRules(rules, BY_REQUIREMENT);
  const read = [
    ...new Set(rules.flatMap(({ rule }) => leavesOf((rule as Rule).conditions).map(({ fact }) => fact))),
  ];
  const readers = read.sort().map(readerOf);
  const kept = new Map<string, readonly RuleAnswer<S>[]>();
  return {
    all: rules,
    lookUp: index.lookUp,
    ask: (asked) => {
      const key = readers.map((readFact) => readFact(asked).candidates?.join("|") ?? "?").join(";");
      const ready = kept.get(key);
      if (ready !== undefined) return ready;
      const [task, sensor] = [asked.requirement?.task, asked.sensor?.sensor];
      const word = task?.candidates?.[0];
      const offered = index.lookUp(typeof word === "string" ? word : "", sensor ?? "");
      const answers = offered.flatMap((rule): readonly RuleAnswer<S>[] => {
        const truth = rule.condition.evaluate(asked);
        return truth === FALSE ? [] : [{ rule, certain: truth === TRUE }];
      });
      if (kept.size >= KEPT) kept.clear();
      kept.set(key, answers);
      return answers;
    },
  };
}
