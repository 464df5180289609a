import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  decide,
  makeDecisionRule,
  normalTail,
  type Decision,
  type DecisionRule,
  type Measurement,
} from "../../src/measure/index.js";
import type { SetupDecision } from "../../src/setup/result.js";
import { check } from "../properties.js";

const usual = makeDecisionRule();
const simple = makeDecisionRule({ kind: "simple" });

function hold(parts: Partial<Measurement>, rule: DecisionRule = usual): Decision {
  return decide(
    { of: "lateral place of the board", value: 0, unit: "mm", low: -5, high: 5, u: 1, ...parts },
    rule,
  );
}

const hundredths = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: min * 100, max: max * 100 }).map((n) => n / 100);
const uncertainty = hundredths(0, 30).map((u) => u + 0.005);
const limits = fc.oneof(
  fc.tuple(hundredths(-20, 0), hundredths(0, 20)).map(([low, high]) => ({ low, high })),
  hundredths(-20, 20).map((low) => ({ low, high: null })),
  hundredths(-20, 20).map((high) => ({ low: null, high })),
);
const guardedRule = fc
  .integer({ min: 20, max: 300 })
  .map((n) => makeDecisionRule({ kind: "guarded", guardFactor: n / 100 }));
const rule = fc.oneof({ weight: 1, arbitrary: fc.constant(simple) }, { weight: 4, arbitrary: guardedRule });
const stated = fc.record({ value: hundredths(-40, 40), limits, u: uncertainty, rule });

describe("guarded, with the usual rule: 0.83 · U", () => {
  it.each([
    // U = 1.2 asks for a room of 0.996; 3.1 has 1.9.
    [
      3.1,
      0.6,
      "conforms",
      "3.1 mm lies within ±5 mm with room for its uncertainty of 1.2 mm (k = 2): conforms.",
    ],
    // U = 2.5 asks for 2.075; 1.9/0.83 = 2.289.
    [
      3.1,
      1.25,
      "cannot-be-decided",
      "3.1 mm lies within ±5 mm, but too close to a limit for its uncertainty of 2.5 mm (k = 2): cannot be decided " +
        "with this instrument; an uncertainty of at most 2.2 mm (k = 2) would decide it.",
    ],
    // 0.9/0.83 = 1.084
    [
      5.9,
      0.6,
      "cannot-be-decided",
      "5.9 mm lies outside ±5 mm, but too close to a limit for its uncertainty of 1.2 mm (k = 2): cannot be decided " +
        "with this instrument; an uncertainty of at most 1.0 mm (k = 2) would decide it.",
    ],
    [
      -6,
      0.6,
      "does-not-conform",
      "-6.0 mm lies outside ±5 mm by more than its uncertainty of 1.2 mm (k = 2) explains: does not conform.",
    ],
    [
      5,
      0.6,
      "cannot-be-decided",
      "5.0 mm lies on the edge of ±5 mm: cannot be decided, since no instrument is good enough for a value on a limit.",
    ],
  ])("%f with u = %f: %s", (value, u, verdict, says) => {
    expect(hold({ value, u })).toMatchObject({ verdict, says });
  });

  it("gives the room that is asked for and the uncertainty that would do", () => {
    // One limit: 0.83 · 2.5, and 2 · 1.9/1.66. The other limit, 8.1 away, takes no part.
    const { guardBand, largestU, probability } = hold({ value: 3.1, u: 1.25 });
    expect(guardBand).toBeCloseTo(2.075, 6);
    expect(largestU).toBeCloseTo(2.28916, 5);
    // Φ(1.52) − Φ(−6.48)
    expect(probability).toBeCloseTo(0.9357, 4);
  });

  it("does not take a small probability for proof: a huge uncertainty has one too", () => {
    const found = hold({ value: 6, u: 100 });
    expect(found.probability).toBeLessThan(0.05);
    expect(found).toMatchObject({ verdict: "cannot-be-decided", guardBand: null });
  });

  it("accepts no value where the uncertainty is large against the tolerance", () => {
    // In the middle of ±5 the risk is 2 · (1 − Φ(5/u)) = 0.04846 for Φ(5/u) = 0.97577, 5/u = 1.9733, U = 5.0676.
    expect(hold({ u: 2.533 })).toMatchObject({ verdict: "conforms" });
    const coarse = hold({ u: 2.535 });
    expect(coarse).toMatchObject({ verdict: "cannot-be-decided", guardBand: null });
    expect(coarse.largestU).toBeCloseTo(5.0676, 3);
    expect(coarse.says).toContain("the whole tolerance is too narrow for its uncertainty of 5.1 mm");
  });

  it("writes enough decimals that a value beside a limit is not written as the limit", () => {
    expect(hold({ value: 5.004, u: null }).says).toMatch(/^5\.004 mm lies outside ±5 mm/);
    expect(hold({ value: 4.97, u: 0.5 }).says).toMatch(/^4\.97 mm lies within ±5 mm/);
  });

  it.each([
    // Rounded to a tenth, 4.97 would stand beyond the limit that it keeps, and 5.06 within the one that it fails.
    [4.97, null, 4.98, "4.97 mm lies within the limit of at most 4.98 mm"],
    [5.06, 5.07, null, "5.06 mm lies outside the limit of at least 5.07 mm"],
    [5.05, null, 5.05, "5.05 mm lies on the edge of the limit of at most 5.05 mm"],
    // A limit that was worked out, a third of 4040: it gets the decimals that the value needs.
    [1346.665, null, 4040 / 3, "1346.665 mm lies within the limit of at most 1346.667 mm"],
    [1346.664, null, 4040 / 3, "1346.66 mm lies within the limit of at most 1346.67 mm"],
    [4040 / 3, 4040 / 3, null, "1346.67 mm lies on the edge of the limit of at least 1346.67 mm"],
  ])("writes %f on the side of its limits where it lies", (value, low, high, says) => {
    expect(hold({ value, low, high, u: null }).says).toMatch(
      new RegExp(`^${says.replaceAll(".", "\\.")}[:,]`),
    );
  });

  it("writes no value on another side of a limit than where it lies", () => {
    const near = fc.tuple(fc.double({ min: -9, max: 9, noNaN: true }), fc.integer({ min: 1, max: 4000 }));
    check(
      fc.property(near, fc.boolean(), fc.boolean(), fc.boolean(), ([edge, by], isStated, isLow, isOver) => {
        const limit = isStated ? Math.round(edge * 100) / 100 : edge;
        const value = limit + ((isOver ? 1 : -1) * by) / 10_000;
        const { says } = hold({ value, low: isLow ? limit : null, high: isLow ? null : limit, u: null });
        const [written = NaN, bound = NaN] = (says.match(/-?\d+(\.\d+)?(?= mm)/g) ?? []).map(Number);
        expect(Math.sign(written - bound)).toBe(isOver ? 1 : -1);
        expect(Math.abs(written - value)).toBeLessThanOrEqual(0.05);
        expect(says).toContain(isOver === isLow ? "lies within" : "lies outside");
      }),
      2000,
    );
  });

  it.each([
    ["deg", -0.5, 0.5, 0.123, 0.05, "0.12° lies within ±0.5° with room for its uncertainty of 0.10° (k = 2)"],
    ["%", 0.5, 2.5, 1.2, 0.1, "1.20 % lies within 0.5 % to 2.5 % with room"],
    ["mm/m", null, 3, 1, 0.1, "1.00 mm/m lies within the limit of at most 3 mm/m with room"],
    ["mm", 1490, null, 1500, 1, "1500.0 mm lies within the limit of at least 1490 mm with room"],
  ] as const)("says it in %s", (unit, low, high, value, u, says) => {
    expect(hold({ unit, low, high, value, u }).says).toContain(says);
  });
});

describe("what is not known", () => {
  it("a value that was not measured", () => {
    expect(hold({ value: null })).toMatchObject({
      ...{ verdict: "cannot-be-decided", probability: null, largestU: null },
      says: "lateral place of the board was not measured: cannot be decided.",
    });
    expect(hold({ value: null }, simple).verdict).toBe("cannot-be-decided");
  });

  it("an uncertainty", () => {
    expect(hold({ value: 3, u: null })).toMatchObject({
      ...{ verdict: "cannot-be-decided", probability: null, guardBand: null },
      // 2/0.83 = 2.4096
      says:
        "3.0 mm lies within ±5 mm, but its uncertainty is not known and is needed: cannot be decided; " +
        "an uncertainty of at most 2.4 mm (k = 2) would decide it.",
    });
    // However far outside.
    expect(hold({ value: 3000, u: null }).verdict).toBe("cannot-be-decided");
  });

  it("a limit", () => {
    expect(hold({ low: null, high: null })).toMatchObject({
      ...{ verdict: "cannot-be-decided", probability: null, guardBand: null, largestU: null },
      says: "lateral place of the board has no limit to be held against: cannot be decided.",
    });
  });
});

describe("an exact value", () => {
  it.each([
    [5, "conforms", 1],
    [-5, "conforms", 1],
    [0, "conforms", 1],
    [5.001, "does-not-conform", 0],
  ])("%f: %s", (value, verdict, probability) => {
    expect(hold({ value, u: 0 })).toMatchObject({ verdict, probability, guardBand: 0 });
  });

  // 0.30000000000000004 in binary arithmetic.
  it("is not put outside by the rounding of arithmetic", () => {
    const sum = 0.1 + 0.2;
    expect(sum).toBeGreaterThan(0.3);
    for (const by of [usual, simple]) {
      expect(hold({ value: sum, low: -0.3, high: 0.3, u: 0 }, by).verdict).toBe("conforms");
      expect(hold({ value: 0.3001, low: -0.3, high: 0.3, u: 0 }, by).verdict).toBe("does-not-conform");
    }
  });

  it("lies within limits that leave a single value", () => {
    expect(hold({ low: 2, high: 2, value: 2, u: 0 }).verdict).toBe("conforms");
    expect(hold({ low: 2, high: 2, value: 2, u: 0.1 }).verdict).toBe("cannot-be-decided");
    expect(hold({ low: 2, high: 2, value: 3, u: 0.1 }).verdict).toBe("does-not-conform");
  });
});

describe("simple acceptance", () => {
  it.each([
    [4.999, 3, "conforms"],
    [5, 3, "conforms"],
    [5.001, 3, "does-not-conform"],
    [4.999, null, "conforms"],
    [-5.001, null, "does-not-conform"],
  ] as const)("%f with u = %j: %s", (value, u, verdict) => {
    const found = hold({ value, u }, simple);
    expect(found).toMatchObject({ verdict, guardBand: null, largestU: null });
    expect(found.says).toContain("under simple acceptance its uncertainty does not count");
    expect(found.probability === null).toBe(u === null);
  });
});

describe("what cannot be asked", () => {
  it("is a defect of the caller", () => {
    expect(() => hold({ u: -1 })).toThrow(RangeError);
    expect(() => hold({ u: NaN })).toThrow(RangeError);
    expect(() => hold({ low: 5, high: -5 })).toThrow(RangeError);
  });
});

describe("laws", () => {
  it("more uncertainty never proves anything that less did not", () => {
    check(
      fc.property(stated, uncertainty, ({ value, limits: tolerance, u, rule: by }, more) => {
        const before = hold({ value, ...tolerance, u }, by).verdict;
        const after = hold({ value, ...tolerance, u: u + more }, by).verdict;
        if (before !== after) {
          expect(before).not.toBe("cannot-be-decided");
          expect(after).toBe("cannot-be-decided");
        }
      }),
      2000,
    );
  });

  it("a verdict agrees with the side on which the value lies", () => {
    check(
      fc.property(stated, ({ value, limits: { low, high }, u, rule: by }) => {
        const inside = (low === null || value >= low) && (high === null || value <= high);
        const { verdict } = hold({ value, low, high, u }, by);
        expect(verdict).not.toBe(inside ? "does-not-conform" : "conforms");
      }),
      2000,
    );
  });

  it("mirroring value and limits mirrors nothing but the text", () => {
    const mirror = (limit: number | null): number | null => (limit === null ? null : -limit);
    check(
      fc.property(stated, ({ value, limits: { low, high }, u, rule: by }) => {
        const { verdict, probability, guardBand, largestU } = hold({ value, low, high, u }, by);
        const mirrored = hold({ value: -value, low: mirror(high), high: mirror(low), u }, by);
        expect(mirrored).toMatchObject({ verdict, guardBand, largestU });
        expect(mirrored.probability).toBeCloseTo(probability ?? NaN, 12);
      }),
      1000,
    );
  });

  it("another unit of length changes nothing but the numbers", () => {
    check(
      fc.property(
        stated,
        fc.constantFrom(1e-6, 0.001, 1 / 25.4, 25.4, 304.8, 1e6),
        ({ value, limits: { low, high }, u, rule: by }, factor) => {
          const convert = (limit: number | null): number | null => (limit === null ? null : limit * factor);
          const before = hold({ value, low, high, u }, by);
          const after = hold(
            { value: value * factor, low: convert(low), high: convert(high), u: u * factor },
            by,
          );
          expect(after.verdict).toBe(before.verdict);
          expect(after.probability).toBeCloseTo(before.probability ?? NaN, 9);
          for (const key of ["guardBand", "largestU"] as const) {
            const [one, other] = [before[key], after[key]];
            expect(other === null).toBe(one === null);
            if (one !== null && other !== null) {
              expect(Math.abs(other - one * factor)).toBeLessThanOrEqual(1e-6 * one * factor);
            }
          }
        },
      ),
      1000,
    );
  });

  it("just below the largest uncertainty the value is decided, just above it is not", () => {
    let seen = 0;
    check(
      fc.property(stated, guardedRule, ({ value, limits: tolerance, u }, by) => {
        const { largestU } = hold({ value, ...tolerance, u }, by);
        if (largestU === null) {
          expect([tolerance.low, tolerance.high]).toContain(value);
          return;
        }
        seen += 1;
        const at = (share: number): string =>
          hold({ value, ...tolerance, u: (largestU / 2) * share }, by).verdict;
        expect(at(1 - 1e-6)).not.toBe("cannot-be-decided");
        expect(at(1)).not.toBe("cannot-be-decided");
        expect(at(1 + 1e-6)).toBe("cannot-be-decided");
      }),
      1000,
    );
    expect(seen).toBeGreaterThan(800);
  });

  it("just inside the guard band a value conforms, just outside it cannot be decided", () => {
    let seen = 0;
    check(
      fc.property(stated, guardedRule, ({ limits: { low, high }, u }, by) => {
        const { guardBand } = hold({ low, high, u }, by);
        const width = low === null || high === null ? Infinity : high - low;
        if (guardBand === null) {
          expect(hold({ low, high, u, value: ((low ?? 0) + (high ?? 0)) / 2 }, by).verdict).toBe(
            "cannot-be-decided",
          );
          return;
        }
        seen += 1;
        expect(2 * guardBand).toBeLessThanOrEqual(width);
        const atRoom = (room: number): string =>
          hold({ low, high, u, value: high === null ? low + room : high - room }, by).verdict;
        expect(atRoom(guardBand)).toBe("conforms");
        expect(atRoom(Math.min(guardBand * (1 + 1e-5), width / 2))).toBe("conforms");
        expect(atRoom(guardBand * (1 - 1e-5))).toBe("cannot-be-decided");
      }),
      1000,
    );
    expect(seen).toBeGreaterThan(300);
  });

  it("what conforms has the probability that the rule asks for", () => {
    check(
      fc.property(stated, guardedRule, ({ value, limits: tolerance, u }, by) => {
        const { verdict, probability } = hold({ value, ...tolerance, u }, by);
        const factor = by.kind === "guarded" ? by.guardFactor : NaN;
        const risk = 1 - (probability ?? NaN);
        if (verdict === "conforms") expect(risk).toBeLessThanOrEqual(normalTail(2 * factor) + 1e-9);
        else expect(risk).toBeGreaterThan(normalTail(2 * factor) - 1e-9);
      }),
      1000,
    );
  });
});

describe("types", () => {
  it("a decision goes into the result document as it is", () => {
    const decision: SetupDecision = hold({});
    expect(Object.keys(decision).sort()).toEqual([
      "guardBand",
      "high",
      "largestU",
      "low",
      "of",
      "probability",
      "says",
      "u",
      "unit",
      "value",
      "verdict",
    ]);
  });
});
