import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  FALSE,
  UNKNOWN,
  compileCondition,
  inNegationNormalForm,
  isKnown,
  leavesOf,
  valuesNeeded,
  type Condition,
  type Scalar,
} from "../../src/logic/index.js";
import { check } from "../properties.js";
import {
  condition,
  knownFacts,
  openFacts,
  readerOf,
  settle,
  valuesLeft,
  type Facts,
} from "./arbitrary-condition.js";

const RUNS = 2000;
const compile = (tree: Condition) => compileCondition<Facts, string>(tree, readerOf);
/** Picks among the values left by a number drawn before they are known. */
const pick =
  (draw: number) =>
  <T>(values: readonly T[]): T => {
    const value = values[draw % values.length];
    if (value === undefined) throw new Error("nothing to pick from");
    return value;
  };

function hasNot(tree: Condition): boolean {
  if ("not" in tree) return true;
  if ("all" in tree) return tree.all.some(hasNot);
  return "any" in tree && tree.any.some(hasNot);
}

describe("negation normal form", () => {
  it("has no negation left and keeps the answer, whatever is open", () => {
    check(
      fc.property(condition, openFacts, (tree, facts) => {
        const normal = inNegationNormalForm(tree);
        expect(hasNot(normal)).toBe(false);
        expect(compile(normal).evaluate(facts)).toBe(compile(tree).evaluate(facts));
      }),
      RUNS,
    );
  });

  it("of the negation is the opposite answer", () => {
    check(
      fc.property(condition, openFacts, (tree, facts) => {
        const truth = compile(tree).evaluate(facts);
        expect(compile(inNegationNormalForm(tree, true)).evaluate(facts)).toBe(2 - truth);
      }),
      RUNS,
    );
  });

  it("keeps the authors' sentences, each in its place", () => {
    check(
      fc.property(condition, (tree) => {
        const sentences = (each: Condition) => leavesOf(each).map(({ name, fact }) => `${name} ${fact}`);
        expect(sentences(inNegationNormalForm(tree))).toEqual(sentences(tree));
      }),
    );
  });
});

describe("conditions on open facts", () => {
  it("are never unknown where every fact is known", () => {
    check(
      fc.property(condition, knownFacts, (tree, facts) => {
        expect(compile(tree).evaluate(facts)).not.toBe(UNKNOWN);
      }),
      RUNS,
    );
  });

  it("become known once the open points that they report are settled, however they are", () => {
    check(
      fc.property(condition, openFacts, fc.nat(), (tree, facts, draw) => {
        const asks = compile(tree);
        const open = asks.unknowns(facts);
        expect(open.length > 0).toBe(asks.evaluate(facts) === UNKNOWN);
        const settled = settle(facts, open, (values, fact) => pick(draw + fact.length)(values));
        expect(asks.evaluate(settled)).not.toBe(UNKNOWN);
      }),
      RUNS,
    );
  });

  it("report no open point twice, and none of a fact that is known", () => {
    check(
      fc.property(condition, openFacts, (tree, facts) => {
        const open = compile(tree).unknowns(facts);
        expect(new Set(open).size).toBe(open.length);
        for (const fact of open) expect(facts[fact] !== undefined && isKnown(facts[fact])).toBe(false);
      }),
      RUNS,
    );
  });

  it("never turn from true to false, or back, when a fact becomes known", () => {
    check(
      fc.property(
        condition,
        openFacts,
        fc.constantFrom("colour", "count", "tags"),
        fc.nat(),
        (tree, facts, fact, draw) => {
          const before = compile(tree).evaluate(facts);
          const after = compile(tree).evaluate(settle(facts, [fact], pick(draw)));
          if (before !== UNKNOWN) expect(after).toBe(before);
        },
      ),
      RUNS,
    );
  });

  it("that are known stay as they are in every world that the facts leave open", () => {
    check(
      fc.property(condition, openFacts, fc.nat(), (tree, facts, draw) => {
        const before = compile(tree).evaluate(facts);
        const world = settle(facts, Object.keys(facts), (values, fact) => pick(draw + fact.length)(values));
        const after = compile(tree).evaluate(world);
        if (before === UNKNOWN) return;
        expect(after).toBe(before);
      }),
      RUNS,
    );
  });

  it("are traced with the answer that they give", () => {
    check(
      fc.property(condition, openFacts, (tree, facts) => {
        const asks = compile(tree);
        expect(asks.trace(facts).truth).toBe(asks.evaluate(facts));
      }),
    );
  });
});

describe("the values that a condition needs", () => {
  it("leave nothing out: with any other value it is false", () => {
    const fact = fc.constantFrom("colour", "shape", "count", "weight");
    check(
      fc.property(condition, openFacts, fact, fc.nat(), (tree, facts, name, draw) => {
        const needed = valuesNeeded(tree, name);
        const value = pick(draw)(valuesLeft(facts, name)) as Scalar;
        const asked = settle(facts, [name], () => value);
        if (needed !== null && !needed.has(value)) expect(compile(tree).evaluate(asked)).toBe(FALSE);
      }),
      RUNS,
    );
  });

  it("are those of the leaves that cannot be gone round", () => {
    const is = (fact: string, value: Scalar): Condition => ({
      name: "It is.",
      fact,
      operator: "equal",
      value,
    });
    const both: Condition = { all: [is("colour", "red"), is("shape", "round")] };
    expect(valuesNeeded(both, "colour")).toEqual(new Set(["red"]));
    expect(valuesNeeded({ any: [both, is("colour", "blue")] }, "colour")).toEqual(new Set(["red", "blue"]));
    expect(valuesNeeded({ any: [both, is("count", 1)] }, "colour")).toBe(null);
    expect(valuesNeeded({ not: both }, "colour")).toBe(null);
  });
});
