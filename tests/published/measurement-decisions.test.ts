import { describe, expect, it } from "vitest";
import {
  decide,
  makeDecisionRule,
  type DecidedUnit,
  type Decision,
  type DecisionRule,
  type Measurement,
} from "../../src/measure/index.js";

// Marks: "read" – read in the document named, or in a page that prints it; "second-hand" – read in a quotation;
// "from memory" – recalled, never read. What is worked out from the inputs by hand is called that.

const guarded = (guardFactor: number): DecisionRule => makeDecisionRule({ kind: "guarded", guardFactor });
const measured = (
  value: number,
  limits: Pick<Measurement, "low" | "high">,
  u: number,
  rule: DecisionRule,
  unit: DecidedUnit = "mm",
): Decision => decide({ of: "the example", value, unit, ...limits, u }, rule);

describe("probability of conformity, JCGM 106:2012", () => {
  it.each([
    {
      // Φ(2.7/1.8) − Φ(−1.1/1.8) = Φ(1.5) − Φ(−0.6111) = 0.9332 − 0.2706
      says: "7.4, two limits; inputs read in UKAS LAB 48, example 12; the 0.66 printed is from memory",
      value: 13.6,
      low: 12.5,
      high: 16.3,
      u: 1.8,
      workedOut: 0.6626,
      printed: "0.66",
    },
    {
      // Φ(0.07/0.05) = Φ(1.4)
      says: "7.3.3, an upper limit; all from memory",
      value: -5.47,
      low: null,
      high: -5.4,
      u: 0.05,
      workedOut: 0.9192,
      printed: "0.92",
    },
    {
      // Φ(19.7/8.6) = Φ(2.2907)
      says: "7.3.3, a lower limit; all from memory",
      value: 509.7,
      low: 490,
      high: null,
      u: 8.6,
      workedOut: 0.989,
      printed: "0.99",
    },
  ])("$says", ({ value, low, high, u, workedOut, printed }) => {
    const { probability } = measured(value, { low, high }, u, makeDecisionRule());
    expect(probability).toBeCloseTo(workedOut, 4);
    expect(probability?.toFixed(2)).toBe(printed);
  });
});

describe("guarded rejection, JCGM 106:2012, 8.3.3.3 (from memory)", () => {
  // Limit 100, relative standard uncertainty 2 %, 99.9 %: y − 100 ≥ 3.0902 · 0.02 · y, y ≥ 100/(1 − 0.061804) = 106.587.
  const rule = makeDecisionRule({ kind: "guarded", conformance: 0.999 });
  it.each([
    [106.5, "cannot-be-decided"],
    [106.6, "does-not-conform"],
    [107, "does-not-conform"],
  ] as const)("%f is proven to lie above 100: %s", (value, verdict) => {
    expect(measured(value, { low: null, high: 100 }, 0.02 * value, rule).verdict).toBe(verdict);
  });
});

describe("guard bands w = r·U with U = 2u", () => {
  // Rules and the risks printed: ILAC-G8:09/2019, table 1, read in two pages that print it. The risks to the right are
  // worked out from it, 1 − Φ(2r), with a table of the normal distribution.
  it.each([
    { rule: "ISO 14253-1:2017, default", r: 0.83, printedBelow: 0.05, workedOut: 0.0485, within: 5e-5 },
    { rule: "ILAC-G8", r: 1, printedBelow: 0.025, workedOut: 0.02275, within: 5e-6 },
    { rule: "three sigma", r: 1.5, printedBelow: 0.0016, workedOut: 0.00135, within: 5e-6 },
    { rule: "six sigma", r: 3, printedBelow: 1e-6, workedOut: 9.9e-10, within: 5e-12 },
  ])("$rule: guard factor $r leaves a risk below $printedBelow", ({ r, printedBelow, workedOut, within }) => {
    const u = 0.5;
    const onTheBand = measured(10 - r * 2 * u, { low: null, high: 10 }, u, guarded(r));
    expect(onTheBand.verdict).toBe("conforms");
    expect(onTheBand.guardBand).toBeCloseTo(r, 12);
    const risk = 1 - (onTheBand.probability ?? 0);
    expect(risk).toBeLessThan(printedBelow);
    expect(Math.abs(risk - workedOut)).toBeLessThan(within);
    expect(measured(10 - r * 2 * u + 1e-6, { low: null, high: 10 }, u, guarded(r)).verdict).toBe(
      "cannot-be-decided",
    );
  });

  it("simple acceptance, guard factor 0, leaves one of 50 % (ILAC-G8:09/2019, table 1, read)", () => {
    const onTheLimit = measured(10, { low: null, high: 10 }, 0.5, makeDecisionRule({ kind: "simple" }));
    expect(onTheLimit).toMatchObject({ verdict: "conforms", guardBand: null });
    expect(onTheLimit.probability).toBeCloseTo(0.5, 12);
  });

  it("0.8224 gives exactly 5 % (from the quantile 1.6449 by hand)", () => {
    const rule = makeDecisionRule({ kind: "guarded", conformance: 0.95 });
    expect(rule.kind === "guarded" && rule.guardFactor).toBeCloseTo(0.8224, 4);
  });
});

describe("10 ± 1 with U = 0.2", () => {
  // The interval for r = 1 was read; that for 0.83 is worked out: 0.83 · 0.2 = 0.166.
  it.each([
    [1, 9.2, 10.8],
    [0.83, 9.166, 10.834],
  ])("guard factor %f accepts %f to %f", (r, from, to) => {
    const verdict = (value: number): string => measured(value, { low: 9, high: 11 }, 0.1, guarded(r)).verdict;
    expect([from, 10, to].map(verdict)).toEqual(["conforms", "conforms", "conforms"]);
    expect([from - 1e-6, to + 1e-6].map(verdict)).toEqual(["cannot-be-decided", "cannot-be-decided"]);
  });

  it("a guard band of 20 % on ±0.5 accepts ±0.4 (read)", () => {
    // 20 % of the half-width, 0.1, is the guard band of r = 1 where U = 0.1.
    const verdict = (value: number): string =>
      measured(value, { low: -0.5, high: 0.5 }, 0.05, guarded(1)).verdict;
    expect([-0.4, 0.4, 0.4001].map(verdict)).toEqual(["conforms", "conforms", "cannot-be-decided"]);
  });
});

describe("maximum permissible error ±0.003 with U = 0.001, guard band U (first two read, the rest by the same rule)", () => {
  it.each([
    [0.0017, "conforms"],
    [0.0025, "cannot-be-decided"],
    [0.0035, "cannot-be-decided"],
    [0.0041, "does-not-conform"],
    [-0.0017, "conforms"],
    [-0.0041, "does-not-conform"],
  ] as const)("an error of %f: %s", (value, verdict) => {
    expect(measured(value, { low: -0.003, high: 0.003 }, 0.0005, guarded(1)).verdict).toBe(verdict);
  });
});
