import { describe, expect, it } from "vitest";
import { combine, coverageFactor, expanded, rectangular, standardOf } from "../../src/measure/index.js";

// JCGM 100:2008 (GUM). Marks: "read" – the number was read in a page that prints the text; "from memory" – recalled.

describe("calibration of an end gauge, annex H.1 (read)", () => {
  const combined = combine([
    { sensitivity: 1, u: 25, dof: 18 },
    { sensitivity: 1, u: 9.7, dof: 25.6 },
    { sensitivity: 1, u: 2.9, dof: 50 },
    { sensitivity: 1, u: 16.6, dof: 2 },
  ]);

  it("combines 25, 9.7, 2.9 and 16.6 nm to 32 nm", () => {
    // √(625 + 94.09 + 8.41 + 275.56) = √1003.06
    expect(combined.u).toBeCloseTo(31.671, 3);
    expect(combined.u.toFixed(0)).toBe("32");
  });

  it("has 16 effective degrees of freedom", () => {
    // 1003.06²/(390625/18 + 8852.9/25.6 + 70.7/50 + 75933.3/2) = 1006129/60016 = 16.76
    expect(combined.dof).toBe(16);
  });

  it("expands to 93 nm with k = 2.92 for 99 %", () => {
    const k = coverageFactor(0.99, combined.dof);
    expect(k.toFixed(2)).toBe("2.92");
    // The annex multiplies the rounded 32 nm.
    expect(expanded(32, k).toFixed(0)).toBe("93");
  });
});

describe("table G.2 (read)", () => {
  it.each([
    [0.95, 16, "2.12"],
    [0.9545, 16, "2.17"],
    [0.99, 16, "2.92"],
    [0.9545, null, "2.00"],
  ])("share %f, degrees of freedom %j: %s", (share, dof, printed) => {
    expect(coverageFactor(share, dof).toFixed(2)).toBe(printed);
  });

  // Two rows of the same table, from memory.
  it.each([
    [0.95, 1, "12.71"],
    [0.95, 5, "2.57"],
    [0.95, 10, "2.23"],
    [0.99, 5, "4.03"],
    [0.95, null, "1.96"],
    [0.99, null, "2.58"],
  ])("share %f, degrees of freedom %j: %s (from memory)", (share, dof, remembered) => {
    expect(coverageFactor(share, dof).toFixed(2)).toBe(remembered);
  });
});

describe("limits alone, 4.3.7 (from memory)", () => {
  it("gives a/√3", () => {
    // √3 = 1.7320508
    expect(rectangular(1)).toBeCloseTo(0.57735, 5);
    expect(rectangular(0.5)).toBeCloseTo(0.288675, 6);
  });
});

describe("expanded uncertainty, 6.2.1 (from memory)", () => {
  it("is k·u, and back", () => {
    expect(expanded(0.6, 2)).toBeCloseTo(1.2, 12);
    expect(standardOf(1.2, 2)).toBeCloseTo(0.6, 12);
  });
});
