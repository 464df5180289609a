import { describe, expect, it } from "vitest";
import {
  FALSE,
  OPERATORS,
  OPPOSITE,
  TRUE,
  UNKNOWN,
  compileCondition,
  known,
  oneOf,
  shapeOf,
  testOf,
  unbounded,
  type Datum,
  type FactValue,
  type Operator,
  type Scalar,
  type Truth,
} from "../../src/logic/index.js";

type Value = Scalar | readonly Scalar[];

function ask(operator: Operator, value: Value, found: FactValue<string>): Truth {
  const leaf = { name: "The fact is so.", fact: "fact", operator, value };
  return compileCondition<FactValue<string>, string>(leaf, () => (fact) => fact).evaluate(found);
}

/** For each operator: values that meet it, and values that do not. */
const CASES: readonly {
  readonly operator: Operator;
  readonly value: Value;
  readonly meets: readonly Datum[];
  readonly fails: readonly Datum[];
}[] = [
  { operator: "equal", value: "hood", meets: ["hood"], fails: ["Hood", "hood ", "fender", 0, false] },
  { operator: "equal", value: 12, meets: [12], fails: ["12", 12.1, true] },
  { operator: "notEqual", value: "hood", meets: ["fender", ""], fails: ["hood"] },
  { operator: "in", value: ["hood", "fender"], meets: ["hood", "fender"], fails: ["hoodfender", "ho", ""] },
  { operator: "notIn", value: ["hood", "fender"], meets: ["ho", "grille"], fails: ["hood", "fender"] },
  {
    operator: "contains",
    value: "rear-toe",
    meets: [["rear-toe"], ["caster", "rear-toe"]],
    fails: [[], ["rear"]],
  },
  { operator: "doesNotContain", value: "rear-toe", meets: [[], ["rear"]], fails: [["rear-toe"]] },
  { operator: "lessThan", value: 3, meets: [2.9, -1], fails: [3, 4] },
  { operator: "lessThanInclusive", value: 3, meets: [3, -1], fails: [3.1, 4] },
  { operator: "greaterThan", value: 3, meets: [3.1], fails: [3, 2] },
  { operator: "greaterThanInclusive", value: 3, meets: [3, 4], fails: [2.9] },
];

describe("operators", () => {
  it("are all tried here", () => {
    expect(new Set(CASES.map(({ operator }) => operator))).toEqual(new Set(OPERATORS));
  });

  it.each(CASES)("$operator of a known value: $value", ({ operator, value, meets, fails }) => {
    for (const each of meets) expect(ask(operator, value, known(each)), JSON.stringify(each)).toBe(TRUE);
    for (const each of fails) expect(ask(operator, value, known(each)), JSON.stringify(each)).toBe(FALSE);
  });

  it.each(CASES)("$operator of one of several values: $value", ({ operator, value, meets, fails }) => {
    const [met = "", failed = ""] = [meets[0], fails[0]];
    expect(ask(operator, value, oneOf([met, failed], ["fact"]))).toBe(UNKNOWN);
    expect(ask(operator, value, oneOf([failed, met], ["fact"]))).toBe(UNKNOWN);
    expect(ask(operator, value, oneOf([...meets, failed], ["fact"]))).toBe(UNKNOWN);
    // Where every value left gives one answer, the answer is known although the value is not.
    expect(ask(operator, value, oneOf([met, ...meets], ["fact"]))).toBe(TRUE);
    expect(ask(operator, value, oneOf([failed, ...fails], ["fact"]))).toBe(FALSE);
  });

  it.each(CASES)("$operator of a value that nothing bounds: $value", ({ operator, value }) => {
    expect(ask(operator, value, unbounded("fact"))).toBe(UNKNOWN);
  });

  it.each(CASES)("$operator has an opposite that holds exactly where it does not: $value", (each) => {
    const opposite = OPPOSITE[each.operator];
    expect(OPPOSITE[opposite]).toBe(each.operator);
    expect(shapeOf(opposite)).toBe(shapeOf(each.operator));
    const holds = testOf(each.operator, each.value);
    const doesNot = testOf(opposite, each.value);
    const fitting = [...each.meets, ...each.fails].filter(
      (value) => shapeOf(each.operator) !== "numbers" || typeof value === "number",
    );
    for (const value of fitting) expect(doesNot(value), JSON.stringify(value)).toBe(!holds(value));
  });

  it("never hold of a number against a text that looks like one, nor of a list's letters", () => {
    expect(testOf("lessThan", 20)("12")).toBe(false);
    expect(testOf("greaterThanInclusive", 5)("12")).toBe(false);
    expect(testOf("contains", "a")("abc")).toBe(false);
    expect(testOf("doesNotContain", "z")("abc")).toBe(false);
  });

  it("report the open points of a fact only where they keep the answer open", () => {
    const leaf = { name: "It is round.", fact: "shape", operator: "equal" as const, value: "round" };
    const asks = compileCondition<FactValue<string>, string>(leaf, () => (fact) => fact);
    expect(asks.unknowns(oneOf(["round", "square"], ["shape"]))).toEqual(["shape"]);
    expect(asks.unknowns(oneOf(["oval", "square"], ["shape"]))).toEqual([]);
    expect(asks.unknowns(unbounded("shape"))).toEqual(["shape"]);
    expect(asks.unknowns(known("round"))).toEqual([]);
  });
});
