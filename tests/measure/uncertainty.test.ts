import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { combine, expanded, rectangular, standardOf } from "../../src/measure/index.js";
import { check } from "../properties.js";

const contribution = fc.record({
  sensitivity: fc.integer({ min: -50, max: 50 }),
  u: fc.integer({ min: 1, max: 1000 }).map((n) => n / 100),
  dof: fc.option<number>(fc.integer({ min: 1, max: 200 })),
});

describe("combine", () => {
  it("adds squares, each multiplied with its sensitivity", () => {
    // √((2 · 3)² + (−1 · 8)²) = √(36 + 64)
    expect(
      combine([
        { sensitivity: 2, u: 3 },
        { sensitivity: -1, u: 8 },
      ]),
    ).toEqual({ u: 10, dof: null });
  });

  it("works out the centre line from two marks", () => {
    // L 4000, d 1800, marks 1.0, line 1.0, tape 0.5: 1.45² + 0.45² + 1 + 0.25 = 2.1025 + 0.2025 + 1.25 = 3.555
    const { u } = combine([
      { sensitivity: 1.45, u: 1 },
      { sensitivity: -0.45, u: 1 },
      { sensitivity: 1, u: 1 },
      { sensitivity: 1, u: 0.5 },
    ]);
    expect(u).toBeCloseTo(1.8855, 4);
  });

  it("keeps the degrees of freedom of a single contribution, whatever its size", () => {
    check(
      fc.property(fc.integer({ min: 1, max: 500 }), fc.integer({ min: -100, max: 2 }), (dof, power) => {
        expect(combine([{ sensitivity: 3, u: 10 ** power, dof }]).dof).toBe(dof);
      }),
    );
  });

  it("never has more degrees of freedom than the sum, nor fewer than the least", () => {
    check(
      fc.property(fc.array(contribution, { minLength: 1, maxLength: 6 }), (parts) => {
        const counted = parts.filter(({ sensitivity }) => sensitivity !== 0);
        const known = counted.flatMap(({ dof }) => dof ?? []);
        const { dof } = combine(parts);
        if (known.length === 0) {
          expect(dof).toBeNull();
          return;
        }
        expect(dof).toBeGreaterThanOrEqual(Math.min(...known));
        if (known.length === counted.length) {
          expect(dof).toBeLessThanOrEqual(known.reduce((sum, each) => sum + each, 0));
        }
      }),
    );
  });

  it("never gets smaller by a further contribution", () => {
    check(
      fc.property(fc.array(contribution, { maxLength: 6 }), contribution, (parts, further) => {
        expect(combine([...parts, further]).u).toBeGreaterThanOrEqual(combine(parts).u);
      }),
    );
  });

  it("is nothing where nothing contributes", () => {
    expect(combine([])).toEqual({ u: 0, dof: null });
    expect(combine([{ sensitivity: 0, u: 5, dof: 3 }])).toEqual({ u: 0, dof: null });
  });
});

describe("what is no uncertainty", () => {
  it.each([-1, NaN])("%f is a defect of the caller", (u) => {
    expect(() => combine([{ sensitivity: 1, u }])).toThrow(RangeError);
    expect(() => expanded(u, 2)).toThrow(RangeError);
    expect(() => standardOf(u, 2)).toThrow(RangeError);
    expect(() => rectangular(u)).toThrow(RangeError);
  });
});
