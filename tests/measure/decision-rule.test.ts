import fc from "fast-check";
import { erf } from "mathjs";
import { describe, expect, it } from "vitest";
import { describeDecisionRule, makeDecisionRule } from "../../src/measure/index.js";
import { check } from "../properties.js";

describe("a decision rule is completed", () => {
  it("to the one of ISO 14253-1:2017 where nothing is stated (second-hand)", () => {
    for (const stated of [undefined, { kind: "guarded" }] as const) {
      const rule = makeDecisionRule(stated);
      expect(rule).toMatchObject({ kind: "guarded", guardFactor: 0.83 });
      // Φ(1.66), from a table of the normal distribution.
      expect(rule.kind === "guarded" && rule.conformance).toBeCloseTo(0.9515, 4);
    }
  });

  it("from its guard factor: P = Φ(2r)", () => {
    check(
      fc.property(fc.integer({ min: 1, max: 300 }), (n) => {
        const rule = makeDecisionRule({ kind: "guarded", guardFactor: n / 100 });
        const expected = 0.5 * (1 + erf((2 * n) / 100 / Math.SQRT2));
        expect(rule).toMatchObject({ kind: "guarded", guardFactor: n / 100 });
        expect(rule.kind === "guarded" && rule.conformance).toBeCloseTo(expected, 12);
      }),
    );
  });

  it.each([
    // Quantiles 1.6449, 1.9600, 2.3263, 3.0902, halved.
    [0.95, 0.82243],
    [0.975, 0.97998],
    [0.99, 1.16317],
    [0.999, 1.54512],
  ])("from the probability %f: guard factor %f", (conformance, guardFactor) => {
    const rule = makeDecisionRule({ kind: "guarded", conformance });
    expect(rule).toMatchObject({ kind: "guarded", conformance });
    expect(rule.kind === "guarded" && rule.guardFactor).toBeCloseTo(guardFactor, 5);
  });

  it("simple stays simple", () => {
    expect(makeDecisionRule({ kind: "simple" })).toEqual({ kind: "simple" });
  });

  it.each([
    [0.83, 0.95],
    [1, 0.975],
    [1.5, 0.9987],
  ])("%f and %f are the same rule, and the guard factor counts", (guardFactor, conformance) => {
    const both = makeDecisionRule({ kind: "guarded", guardFactor, conformance });
    expect(both).toEqual(makeDecisionRule({ kind: "guarded", guardFactor }));
  });

  it.each([
    [{ guardFactor: 1, conformance: 0.95 }, "contradicts"],
    [{ guardFactor: 0.83, conformance: 0.99 }, "contradicts"],
    [{ guardFactor: 0 }, "not above 0"],
    [{ guardFactor: -1 }, "not above 0"],
    [{ guardFactor: NaN }, "not above 0"],
    [{ guardFactor: Infinity }, "not above 0"],
    [{ conformance: 0.5 }, "between 0.5 and 1"],
    [{ conformance: 1 }, "between 0.5 and 1"],
    [{ conformance: NaN }, "between 0.5 and 1"],
  ])("%j is a defect of the caller: the reader refuses it", (stated, says) => {
    expect(() => makeDecisionRule({ kind: "guarded", ...stated })).toThrow(RangeError);
    expect(() => makeDecisionRule({ kind: "guarded", ...stated })).toThrow(says);
  });
});

describe("a decision rule in words", () => {
  it("guarded: its probability and its guard band", () => {
    // 95.154 %, cut off so that "at least" holds.
    expect(describeDecisionRule(makeDecisionRule())).toBe(
      "Guarded acceptance and rejection, guard factor 0.83: a value conforms, or does not conform, where the " +
        "probability that it does is at least 95.1 %; near a limit that takes a distance of 0.83 times its expanded " +
        "uncertainty (k = 2). In between it cannot be decided.",
    );
  });

  it.each([
    [1, "97.7 %"],
    [1.5, "99.86 %"],
    [3, "99.9999999 %"],
    // 1 − P = 7.6e-24: more nines than a number holds.
    [5, "99.9999999999 %"],
  ])("guard factor %f is never said to be certain: %s", (guardFactor, says) => {
    const text = describeDecisionRule(makeDecisionRule({ kind: "guarded", guardFactor }));
    expect(text).toContain(says.slice(0, -2));
    expect(text).not.toContain("100");
  });

  it("simple: its name and its risk", () => {
    const text = describeDecisionRule(makeDecisionRule({ kind: "simple" }));
    expect(text).toContain("Simple acceptance");
    expect(text).toContain("50 %");
  });
});
