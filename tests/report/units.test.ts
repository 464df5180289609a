import { describe, expect, it } from "vitest";
import { renderText } from "../../src/index.js";
import { tellLength, tellLimit } from "../../src/report/units.js";
import { aPlan } from "./a-plan.js";

const limit = { value: 10, unit: "mm", sense: "at-most", low: null, high: 10 } as const;

describe("lengths of a procedure", () => {
  it("are told as they are stated", () => {
    expect(tellLength(3150, 5, "mm")).toBe("3150 ±5 mm");
    expect(tellLength(0.5, null, "mm")).toBe("0.5 mm");
  });

  it("are told in inches with the stated value beside", () => {
    // 3150 / 25.4 = 124.0157…, 5 / 25.4 = 0.19685…, 25.4 / 25.4 = 1
    expect(tellLength(3150, 5, "in")).toBe("124.02 ±0.197 in (3150 ±5 mm)");
    expect(tellLength(25.4, null, "in")).toBe("1.00 in (25.4 mm)");
  });
});

describe("limits", () => {
  it("are told by their sense and unit", () => {
    expect(tellLimit(limit, "mm")).toBe("at most 10 mm");
    expect(tellLimit({ ...limit, sense: "at-least", unit: "degC" }, "mm")).toBe("at least 10 °C");
    expect(tellLimit({ ...limit, sense: "between", low: -10 }, "mm")).toBe("within ±10 mm");
    expect(tellLimit({ ...limit, sense: "between", low: 4, unit: "deg" }, "mm")).toBe("4 to 10°");
  });

  it("are told in inches where they are lengths, and only there", () => {
    // 10 / 25.4 = 0.3937…, 254 / 25.4 = 10
    expect(tellLimit(limit, "in")).toBe("at most 0.394 in (at most 10 mm)");
    expect(tellLimit({ ...limit, sense: "between", low: 254, high: 508 }, "in")).toBe(
      "10 to 20 in (254 to 508 mm)",
    );
    expect(tellLimit({ ...limit, unit: "mm/m" }, "in")).toBe("at most 10 mm/m");
  });

  it("and targets stand in inches in the text report too", () => {
    const text = renderText(aPlan(), { width: 200, units: "in" });
    // 3000 / 25.4 = 118.110…
    expect(text).toContain("Camera board: 118.11 ±0.197 in (3000 ±5 mm) from the front axle");
    expect(text.split("\n").every((line) => [...line].length <= 200)).toBe(true);
  });
});
