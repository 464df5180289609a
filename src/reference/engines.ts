import { Engine, Fact, type TopLevelCondition } from "json-rules-engine";
import { readerOf, type Asked } from "../facts/index.js";
import {
  OPERATORS,
  inNegationNormalForm,
  leavesOf,
  type Condition,
  type Datum,
  type Operator,
  type Scalar,
} from "../logic/index.js";
import {
  rulesOf,
  type LoadedRule,
  type Rule,
  type RuleOf,
  type Rulebook,
  type Stratum,
  type Subject,
} from "../rulebook/index.js";

/** A rule that fires: surely, whatever the open facts turn out to be, or possibly. */
export interface Firing<S extends Stratum> {
  readonly id: string;
  readonly loaded: LoadedRule<RuleOf<S>>;
  readonly certain: boolean;
}

/**
 * How a literal counts whose fact has several values left: "certain" asks whether it holds for every one of them,
 * "possible" whether it holds for some. Of a fact that nothing bounds the first says no and the second yes.
 */
export type Pass = "certain" | "possible";

/** What json-rules-engine gets as the value of a fact: the values that it may still take, `null` where nothing bounds it. */
export interface OpenValue {
  readonly candidates: readonly Datum[] | null;
}

type RuleValue = Scalar | readonly Scalar[];

/** The operators for one value each, written out here so that the second opinion shares none with the first. */
const HOLDS: Readonly<Record<Operator, (actual: Datum, value: RuleValue) => boolean>> = {
  equal: (actual, value) => actual === value,
  notEqual: (actual, value) => actual !== value,
  in: (actual, value) => listOf(value).some((each) => each === actual),
  notIn: (actual, value) => listOf(value).every((each) => each !== actual),
  contains: (actual, value) => Array.isArray(actual) && actual.some((each) => each === value),
  doesNotContain: (actual, value) => Array.isArray(actual) && actual.every((each) => each !== value),
  lessThan: (actual, value) => areNumbers(actual, value) && Number(actual) < Number(value),
  lessThanInclusive: (actual, value) => areNumbers(actual, value) && Number(actual) <= Number(value),
  greaterThan: (actual, value) => areNumbers(actual, value) && Number(actual) > Number(value),
  greaterThanInclusive: (actual, value) => areNumbers(actual, value) && Number(actual) >= Number(value),
};

function listOf(value: RuleValue): readonly Scalar[] {
  return typeof value === "object" ? value : [value];
}

function areNumbers(actual: Datum, value: RuleValue): boolean {
  return typeof actual === "number" && typeof value === "number";
}

/**
 * Builds one of json-rules-engine's engines over conditions, for one pass: with negations pushed into the operators,
 * so that it never has to negate an open answer, and with operators that know several candidates.
 */
export function buildEngine(
  rules: readonly { readonly id: string; readonly conditions: Condition }[],
  pass: Pass,
): Engine {
  const engine = new Engine([], { allowUndefinedFacts: true, pathResolver: readKey });
  addOperators(engine, pass);
  for (const { id, conditions } of rules) {
    engine.addRule({ name: id, conditions: topLevelOf(conditions), event: { type: "fires" } });
  }
  return engine;
}

/** Teaches an engine to judge facts with several candidates, for one pass. */
export function addOperators(engine: Engine, pass: Pass): void {
  for (const operator of OPERATORS) {
    const holds = HOLDS[operator];
    engine.addOperator<OpenValue | undefined, RuleValue>(operator, (open, value) => {
      const candidates = open?.candidates ?? [];
      if (candidates.length === 0) return pass === "possible";
      return pass === "certain"
        ? candidates.every((each) => holds(each, value))
        : candidates.some((each) => holds(each, value));
    });
  }
}

/** Conditions as the engine takes them: negations pushed into the operators, a branch at the top. */
export function topLevelOf(conditions: Condition): TopLevelCondition {
  const normal = inNegationNormalForm(conditions);
  const top = "all" in normal || "any" in normal ? normal : { all: [normal] };
  // The engine declares its lists as mutable, though it copies them.
  return top as unknown as TopLevelCondition;
}

/** No rule has a path; the engine's own resolver would bring an expression evaluator along. */
function readKey(value: object, path: string): unknown {
  return Object.entries(value).find(([key]) => key === path)?.[1];
}

const tails = new WeakMap<Engine, Promise<unknown>>();

/**
 * Runs an engine over the values of facts and gives the names of the rules that fire, in the order of the rules.
 *
 * Runs of one engine wait for one another: it keeps its state in itself, so that a run which ends makes another
 * one that is under way skip its rules without a word.
 */
export function runEngine(
  engine: Engine,
  values: Readonly<Record<string, OpenValue>>,
): Promise<readonly string[]> {
  const facts = Object.fromEntries(
    // Values are constant, so that the engine's cache would only cost a hash of each.
    Object.entries(values).map(([name, value]) => [name, new Fact(name, value, { cache: false })]),
  );
  const before = tails.get(engine) ?? Promise.resolve();
  const run = before.then(async () => {
    const { results } = await engine.run(facts);
    return results.map(({ name }) => name);
  });
  tails.set(
    engine,
    run.catch(() => undefined),
  );
  return run;
}

/** The engines for the rules of one stratum that are asked of one kind of subject. */
interface Bench {
  readonly rules: ReadonlyMap<string, LoadedRule>;
  readonly facts: readonly string[];
  readonly certain: Engine;
  readonly possible: Engine;
  readonly answered: Map<string, Promise<readonly { readonly id: string; readonly certain: boolean }[]>>;
}

const benches = new WeakMap<Rulebook, Map<string, Bench>>();

/** Answers kept for each bench, after which it starts anew. */
const KEPT = 20_000;

/** Asks every rule of a stratum that is for such a subject, and gives those that fire, sorted by id. */
export async function fireRules<S extends Stratum>(
  rulebook: Rulebook,
  stratum: S,
  subject: Subject,
  asked: Asked,
): Promise<readonly Firing<S>[]> {
  const bench = benchFor(rulebook, stratum, subject);
  if (bench.rules.size === 0) return [];
  const values: Record<string, OpenValue> = {};
  for (const name of bench.facts) values[name] = { candidates: readerOf(name)(asked).candidates };
  const key = JSON.stringify(bench.facts.map((name) => values[name]?.candidates));
  let answer = bench.answered.get(key);
  if (answer === undefined) {
    if (bench.answered.size >= KEPT) bench.answered.clear();
    answer = askBench(bench, values);
    bench.answered.set(key, answer);
  }
  return (await answer).flatMap(({ id, certain }) => {
    const loaded = bench.rules.get(id) as LoadedRule<RuleOf<S>> | undefined;
    return loaded === undefined ? [] : [{ id, loaded, certain }];
  });
}

async function askBench(
  bench: Bench,
  values: Readonly<Record<string, OpenValue>>,
): Promise<readonly { readonly id: string; readonly certain: boolean }[]> {
  const possible = await runEngine(bench.possible, values);
  // What is not even possible is not certain either.
  const certain = possible.length === 0 ? [] : await runEngine(bench.certain, values);
  const surely = new Set(certain);
  for (const id of certain) {
    if (!possible.includes(id)) throw new Error(`the rule ${id} fires surely, yet not possibly`);
  }
  return [...possible].sort().map((id) => ({ id, certain: surely.has(id) }));
}

function benchFor(rulebook: Rulebook, stratum: Stratum, subject: Subject): Bench {
  const kept = benches.get(rulebook) ?? new Map<string, Bench>();
  benches.set(rulebook, kept);
  const key = `${stratum}|${subject}`;
  const ready = kept.get(key);
  if (ready !== undefined) return ready;
  const rules: readonly { readonly rule: Rule; readonly loaded: LoadedRule }[] = rulesOf(rulebook, stratum)
    .map((loaded: LoadedRule) => ({ rule: loaded.rule, loaded }))
    .filter(({ rule }) => rule.subject === subject);
  const asked = rules.map(({ rule }) => ({ id: rule.id, conditions: rule.conditions }));
  const bench: Bench = {
    rules: new Map(rules.map(({ rule, loaded }) => [rule.id, loaded])),
    facts: [...new Set(asked.flatMap((rule) => leavesOf(rule.conditions).map((leaf) => leaf.fact)))].sort(),
    certain: buildEngine(asked, "certain"),
    possible: buildEngine(asked, "possible"),
    answered: new Map(),
  };
  kept.set(key, bench);
  return bench;
}
