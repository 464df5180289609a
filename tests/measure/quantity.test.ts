import { describe, expect, it } from "vitest";
import {
  degrees,
  formatAngle,
  formatLength,
  inches,
  metres,
  minutesOfArc,
  mm,
  percent,
  sin,
} from "../../src/measure/index.js";

describe("a quantity carries its unit in its type", () => {
  it("so that one cannot be passed for another", () => {
    const calls = [
      // @ts-expect-error a length is no angle
      () => sin(mm(90)),
      // @ts-expect-error a length is no angle
      () => formatAngle(mm(1)),
      // @ts-expect-error an angle is no length
      () => formatLength(degrees(1), "mm", "computed"),
      // @ts-expect-error a plain number has no unit
      () => formatLength(1, "mm", "computed"),
      // @ts-expect-error per cent is no angle
      () => formatAngle(percent(1)),
    ];
    // At run time a quantity is its number: nothing but the types tells them apart.
    expect(calls.map((call) => call())).toEqual([1, "1.00°", "1.0 mm", "1.0 mm", "1.00°"]);
  });

  it("from other units", () => {
    expect(inches(1)).toBe(25.4);
    expect(metres(1.5)).toBe(1500);
    expect(minutesOfArc(12)).toBe(0.2);
  });
});
