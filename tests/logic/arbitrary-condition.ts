import fc from "fast-check";
import {
  known,
  oneOf,
  unbounded,
  type Condition,
  type Datum,
  type FactValue,
  type Leaf,
  type Operator,
  type Reader,
  type Scalar,
} from "../../src/logic/index.js";

/** Facts for conditions that are about nothing: words, numbers and lists, each with all its values. */
const DOMAINS: Readonly<Record<string, readonly Datum[]>> = {
  colour: ["red", "green", "blue"],
  shape: ["round", "square"],
  count: [0, 1, 2, 3],
  weight: [-1, 0.5, 2],
  tags: [[], ["old"], ["new"], ["old", "new"]],
  marks: [["left"], ["right"], ["left", "right"]],
};
const WORDS = ["colour", "shape"];
const NUMBERS = ["count", "weight"];
const LISTS = ["tags", "marks"];
const FACT_NAMES = Object.keys(DOMAINS);

/** What is known of each fact; an open point is the fact's own name. */
export type Facts = Readonly<Record<string, FactValue<string>>>;

/** Reads a fact of a generated subject. */
export function readerOf(fact: string): Reader<Facts, string> {
  return (facts) => {
    const value = facts[fact];
    if (value === undefined) throw new Error(`no fact ${fact}`);
    return value;
  };
}

const name = fc.constant("A sentence.");
// A value that the fact never takes is among them: comparing with it must not confuse anything.
const wordValue = fc.constantFrom<Scalar>("red", "green", "blue", "round", "square", "never");
const numberValue = fc.constantFrom(-1, 0, 0.5, 1, 2, 3, 9);

const leaf: fc.Arbitrary<Leaf> = fc.oneof(
  fc.record({
    name,
    fact: fc.constantFrom(...WORDS, ...NUMBERS),
    operator: fc.constantFrom<Operator>("equal", "notEqual"),
    value: fc.oneof(wordValue, numberValue),
  }),
  fc.record({
    name,
    fact: fc.constantFrom(...WORDS, ...NUMBERS),
    operator: fc.constantFrom<Operator>("in", "notIn"),
    value: fc.array(fc.oneof(wordValue, numberValue), { minLength: 1, maxLength: 3 }),
  }),
  fc.record({
    name,
    fact: fc.constantFrom(...LISTS),
    operator: fc.constantFrom<Operator>("contains", "doesNotContain"),
    value: fc.constantFrom<Scalar>("old", "new", "left", "right", "never"),
  }),
  fc.record({
    name,
    fact: fc.constantFrom(...NUMBERS),
    operator: fc.constantFrom<Operator>(
      "lessThan",
      "lessThanInclusive",
      "greaterThan",
      "greaterThanInclusive",
    ),
    value: numberValue,
  }),
);

/** Condition trees up to four levels above their leaves. */
export const condition: fc.Arbitrary<Condition> = fc.letrec<{ tree: Condition }>((tie) => ({
  tree: fc.oneof(
    { maxDepth: 4, depthIdentifier: "condition" },
    leaf,
    fc.array(tie("tree"), { minLength: 1, maxLength: 3 }).map((all) => ({ all })),
    fc.array(tie("tree"), { minLength: 1, maxLength: 3 }).map((any) => ({ any })),
    tie("tree").map((not) => ({ not })),
  ),
})).tree;

function openValue(fact: string): fc.Arbitrary<FactValue<string>> {
  const domain = DOMAINS[fact] ?? [];
  return fc.oneof(
    fc.constantFrom(...domain).map((value) => known(value)),
    fc
      .subarray([...domain], { minLength: Math.min(2, domain.length) })
      .map((values) => oneOf(values, [fact])),
    fc.constant(unbounded(fact)),
  );
}

const ofEachFact = (arbitraryFor: (fact: string) => fc.Arbitrary<FactValue<string>>): fc.Arbitrary<Facts> =>
  fc.record(Object.fromEntries(FACT_NAMES.map((fact) => [fact, arbitraryFor(fact)])));

/** Facts that are known, open between some values, or wholly open. */
export const openFacts: fc.Arbitrary<Facts> = ofEachFact(openValue);

/** Facts that are all known. */
export const knownFacts: fc.Arbitrary<Facts> = ofEachFact((fact) =>
  fc.constantFrom(...(DOMAINS[fact] ?? [])).map((value) => known(value)),
);

/** The values that a fact may still take. */
export function valuesLeft(facts: Facts, fact: string): readonly Datum[] {
  return facts[fact]?.candidates ?? DOMAINS[fact] ?? [];
}

/** The facts with those named settled, each to the value that `choose` picks among those left. */
export function settle(
  facts: Facts,
  names: readonly string[],
  choose: (values: readonly Datum[], fact: string) => Datum,
): Facts {
  const settled = names.map((fact) => [fact, known(choose(valuesLeft(facts, fact), fact))] as const);
  return { ...facts, ...Object.fromEntries(settled) };
}
