import { describe, expect, it } from "vitest";
import { distanceUnitOf, writeDistance, writeDuration } from "../../src/drive/index.js";

describe("durations in words", () => {
  it.each([
    [0, "down", "0 s"],
    [59.9, "down", "59 s"],
    [59.9, "up", "1 min 0 s"],
    [60, "down", "1 min 0 s"],
    [3599, "up", "59 min 59 s"],
    [3600, "up", "1 h 0 min 0 s"],
    [7325.5, "down", "2 h 2 min 5 s"],
    // 4.35 × 100 is 434.99999999999994, and 0.1 × 3 is 0.30000000000000004: neither is a second more or less.
    [4.35 * 100, "down", "7 min 15 s"],
    [0.1 * 30 + 4e-16, "up", "3 s"],
    [3.0000000000000004, "up", "3 s"],
  ] as const)("%d s, rounded %s: %s", (seconds, rounding, words) => {
    expect(writeDuration(seconds, rounding)).toBe(words);
  });
});

describe("distances in words", () => {
  it.each([
    [16.239, "km", "down", "16.23 km"],
    [16.231, "km", "up", "16.24 km"],
    [1.609344, "mi", "down", "1 mi"],
    [16.09344, "mi", "up", "10 mi"],
    // 4.35 × 100 is 434.99999999999994.
    [4.35, "km", "down", "4.35 km"],
    // 1.1 × 100 is 110.00000000000001.
    [1.1, "km", "up", "1.1 km"],
  ] as const)("%d km in %s, rounded %s: %s", (km, unit, rounding, words) => {
    expect(writeDistance(km, unit, rounding)).toBe(words);
  });

  it("are in the unit of the distance asked for, or else of the speed", () => {
    const kmh = { low: 1, high: 2, unit: "km/h" } as const;
    const mph = { low: 1, high: 2, unit: "mph" } as const;
    expect(distanceUnitOf({ speed: kmh })).toBe("km");
    expect(distanceUnitOf({ speed: mph })).toBe("mi");
    expect(distanceUnitOf({ speed: mph, distance: { value: 1, unit: "km" } })).toBe("km");
  });
});
