import {
  FALSE,
  OPPOSITE,
  TRUE,
  UNKNOWN,
  compileCondition,
  known,
  unbounded,
  type Condition,
  type Datum,
  type Leaf,
  type Scalar,
  type Truth,
} from "../../src/logic/index.js";
import type { Rule } from "../../src/rulebook/index.js";

/** A condition changed in one place, and what was changed. */
export interface Mutant {
  readonly says: string;
  readonly condition: Condition;
}

/**
 * Every way to change a condition in one place: a comparison turned round, a part left out of its list, a member
 * left out of the values compared with, a list of parts joined the other way.
 */
export function mutantsOf(condition: Condition): readonly Mutant[] {
  return mutate(condition, "");
}

function mutate(condition: Condition, at: string): readonly Mutant[] {
  if ("all" in condition) {
    return [
      ...mutateParts(condition.all, `${at}/all`, (all) => ({ all })),
      ...joined(condition.all, at, "any", (any) => ({ any })),
    ];
  }
  if ("any" in condition) {
    return [
      ...mutateParts(condition.any, `${at}/any`, (any) => ({ any })),
      ...joined(condition.any, at, "all", (all) => ({ all })),
    ];
  }
  if ("not" in condition) {
    const inner = mutate(condition.not, `${at}/not`).map(({ says, condition: not }) => ({
      says,
      condition: { not },
    }));
    return [{ says: `${at}: its "not" left out`, condition: condition.not }, ...inner];
  }
  return mutateLeaf(condition, at);
}

function mutateParts(
  parts: readonly Condition[],
  at: string,
  join: (parts: readonly Condition[]) => Condition,
): readonly Mutant[] {
  return parts.flatMap((part, index) => [
    { says: `${at}/${index}: left out${named(part)}`, condition: join(without(parts, index)) },
    ...mutate(part, `${at}/${index}`).map(({ says, condition }) => ({
      says,
      condition: join(parts.map((each, place) => (place === index ? condition : each))),
    })),
  ]);
}

function joined(
  parts: readonly Condition[],
  at: string,
  other: string,
  join: (parts: readonly Condition[]) => Condition,
): readonly Mutant[] {
  // With a single part, all and any are the same.
  return parts.length < 2 ? [] : [{ says: `${at}: joined by "${other}"`, condition: join(parts) }];
}

function named(part: Condition): string {
  return "fact" in part ? ` ("${part.name}")` : "";
}

function mutateLeaf(leaf: Leaf, at: string): readonly Mutant[] {
  const turned = {
    says: `${at}: ${leaf.operator} turned into ${OPPOSITE[leaf.operator]} ("${leaf.name}")`,
    condition: { ...leaf, operator: OPPOSITE[leaf.operator] },
  };
  const { value } = leaf;
  if (!isList(value) || value.length < 2) return [turned];
  const shortened = value.map((member, index) => ({
    says: `${at}: ${JSON.stringify(member)} left out of the values of ${leaf.fact}`,
    condition: { ...leaf, value: without(value, index) },
  }));
  return [turned, ...shortened];
}

function without<T>(list: readonly T[], index: number): readonly T[] {
  return list.filter((_, place) => place !== index);
}

function isList(value: Scalar | readonly Scalar[]): value is readonly Scalar[] {
  return Array.isArray(value);
}

type Facts = Readonly<Record<string, Datum | undefined>>;

/** The examples of a rule as facts with the answer that each asks for. */
function casesOf(rule: Rule): readonly { readonly facts: Facts; readonly truth: Truth }[] {
  const { fires, staysSilent, cannotTell } = rule.examples;
  return [
    ...fires.map(({ facts }) => ({ facts, truth: TRUE })),
    ...staysSilent.map(({ like, but }) => ({ facts: { ...fires[like]?.facts, ...but }, truth: FALSE })),
    ...cannotTell.map(({ like, unknown }) => ({
      facts: { ...fires[like]?.facts, [unknown]: undefined },
      truth: UNKNOWN,
    })),
  ];
}

/** The changes to a rule's condition that none of its examples notices. */
export function survivorsOf(rule: Rule): readonly string[] {
  const cases = casesOf(rule);
  return mutantsOf(rule.conditions).flatMap(({ says, condition }) => {
    const asks = compileCondition<Facts, string>(condition, (fact) => (facts) => {
      const value = facts[fact];
      return value === undefined ? unbounded(fact) : known(value);
    });
    const noticed = cases.some(({ facts, truth }) => asks.evaluate(facts) !== truth);
    return noticed ? [] : [says];
  });
}
