import fc from "fast-check";
import { erf } from "mathjs";
import { describe, expect, it } from "vitest";
import {
  chiSquaredQuantile,
  normalCdf,
  normalQuantile,
  normalTail,
  studentQuantile,
} from "../../src/measure/index.js";
import { check } from "../properties.js";

const share = fc.integer({ min: 1, max: 999 }).map((n) => n / 1000);

describe("normal distribution", () => {
  it("agrees with the error function of another library", () => {
    check(
      fc.property(fc.double({ min: -5, max: 5, noNaN: true }), (z) => {
        expect(normalCdf(z)).toBeCloseTo(0.5 * (1 + erf(z / Math.SQRT2)), 14);
      }),
    );
  });

  // Sampford's and Birnbaum's bounds for the ratio of tail and density: within 0.1 % of each other from z = 5.
  it("keeps the digits of a far tail", () => {
    check(
      fc.property(fc.double({ min: 2, max: 37, noNaN: true }), (z) => {
        const density = Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI);
        const ratio = normalTail(z) / density;
        expect(ratio).toBeGreaterThan(2 / (z + Math.sqrt(z * z + 4)));
        expect(ratio).toBeLessThan(4 / (3 * z + Math.sqrt(z * z + 8)));
      }),
    );
  });

  it("goes over into the far tail without a step", () => {
    const density = Math.exp(-2) / Math.sqrt(2 * Math.PI);
    const step = 1e-7;
    expect((normalTail(2 - step) - normalTail(2)) / step / density).toBeCloseTo(1, 5);
  });

  it("ends at 0 and 1", () => {
    expect([normalCdf(-Infinity), normalCdf(0), normalCdf(Infinity)]).toEqual([0, 0.5, 1]);
    expect([normalTail(-Infinity), normalTail(Infinity)]).toEqual([1, 0]);
  });

  it("has quantiles that lead back", () => {
    check(
      fc.property(share, (probability) => {
        expect(normalCdf(normalQuantile(probability))).toBeCloseTo(probability, 12);
      }),
    );
  });
});

describe("quantiles with a closed form", () => {
  it("Student's t with one degree of freedom is tan(π(p − ½))", () => {
    check(
      fc.property(share, (p) => {
        const exact = Math.tan(Math.PI * (p - 0.5));
        expect(Math.abs(studentQuantile(p, 1) - exact)).toBeLessThan(1e-7 * Math.max(1, Math.abs(exact)));
      }),
    );
  });

  it("Student's t with two degrees of freedom is (2p − 1)/√(2p(1 − p))", () => {
    check(
      fc.property(share, (p) => {
        const exact = (2 * p - 1) / Math.sqrt(2 * p * (1 - p));
        expect(Math.abs(studentQuantile(p, 2) - exact)).toBeLessThan(1e-7 * Math.max(1, Math.abs(exact)));
      }),
    );
  });

  it("chi squared with two degrees of freedom is −2 ln(1 − p)", () => {
    check(
      fc.property(share, (p) => {
        expect(chiSquaredQuantile(p, 2)).toBeCloseTo(-2 * Math.log(1 - p), 7);
      }),
    );
  });

  it("chi squared with one degree of freedom is the square of a normal quantile", () => {
    check(
      fc.property(share, (p) => {
        expect(chiSquaredQuantile(p, 1)).toBeCloseTo(normalQuantile((1 + p) / 2) ** 2, 6);
      }),
    );
  });
});

describe("chi squared at 95 %, as every table has it (from memory)", () => {
  it.each([
    [1, "3.841"],
    [2, "5.991"],
    [3, "7.815"],
    [4, "9.488"],
    [5, "11.070"],
    [10, "18.307"],
  ])("%i degrees of freedom: %s", (dof, remembered) => {
    expect(chiSquaredQuantile(0.95, dof).toFixed(3)).toBe(remembered);
  });
});

describe("what is no probability, or no degrees of freedom", () => {
  it.each([0, 1, -0.1, 1.1, NaN])("%f", (probability) => {
    expect(() => normalQuantile(probability)).toThrow(RangeError);
    expect(() => chiSquaredQuantile(probability, 3)).toThrow(RangeError);
    expect(() => studentQuantile(probability, 3)).toThrow(RangeError);
  });
  it.each([0, -1, NaN])("%f degrees of freedom", (dof) => {
    expect(() => chiSquaredQuantile(0.5, dof)).toThrow(RangeError);
    expect(() => studentQuantile(0.5, dof)).toThrow(RangeError);
  });
});
