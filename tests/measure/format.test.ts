import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  degrees,
  formatAngle,
  formatAngleMinutes,
  formatLength,
  formatNumber,
  formatNumberDown,
  formatSlope,
  formatTrimmed,
  inches,
  millimetresPerMetre,
  minutesOfArc,
  mm,
} from "../../src/measure/index.js";
import { check } from "../properties.js";

describe("numbers", () => {
  it.each([
    [1.005, 2, "1.01"],
    [-1.005, 2, "-1.01"],
    [2.675, 2, "2.68"],
    [0.5, 0, "1"],
    [-0.5, 0, "-1"],
    [2.5, 0, "3"],
    [2.4999, 0, "2"],
    [9.995, 2, "10.00"],
    [0.05, 1, "0.1"],
    [0.04, 1, "0.0"],
    [-0.04, 1, "0.0"],
    [-0, 1, "0.0"],
    [0, 0, "0"],
    [1e-9, 3, "0.000"],
    [1.5e-7, 7, "0.0000002"],
    [1e21, 1, "1000000000000000000000.0"],
    [1234567.89, 1, "1234567.9"],
    [12, 3, "12.000"],
  ])("%f to %i decimals is %s", (value, digits, expected) => {
    expect(formatNumber(value, digits)).toBe(expected);
  });

  it("are off by no more than half of the last decimal, and have as many as asked for", () => {
    check(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), fc.nat(6), (value, digits) => {
        const text = formatNumber(value, digits);
        expect(text).toMatch(digits === 0 ? /^-?\d+$/ : new RegExp(String.raw`^-?\d+\.\d{${digits}}$`));
        expect(text).not.toMatch(/^-[0.]+$/);
        expect(Math.abs(Number(text) - value)).toBeLessThanOrEqual(0.5 * 10 ** -digits + 1e-9);
      }),
    );
  });

  it("mirror with their sign", () => {
    check(
      fc.property(fc.double({ min: 1, max: 1e6, noNaN: true }), fc.nat(6), (value, digits) => {
        expect(formatNumber(-value, digits)).toBe(`-${formatNumber(value, digits)}`);
      }),
    );
  });

  it.each([
    [2.2891, 1, "2.2"],
    [2.3, 1, "2.3"],
    [-2.39, 1, "-2.3"],
    [0.0199, 2, "0.01"],
    [-0.09, 1, "0.0"],
    [9.99, 0, "9"],
  ])("%f cut off after %i decimals is %s", (value, digits, expected) => {
    expect(formatNumberDown(value, digits)).toBe(expected);
  });

  it.each([
    [5, 3, "5"],
    [100, 0, "100"],
    [100, 2, "100"],
    [0.5, 3, "0.5"],
    [0.12345, 3, "0.123"],
    [-0.0001, 3, "0"],
    [10.1, 6, "10.1"],
  ])("%f with at most %i decimals is %s", (value, digits, expected) => {
    expect(formatTrimmed(value, digits)).toBe(expected);
  });

  it.each([NaN, Infinity, -Infinity])("%f is a defect of the caller", (value) => {
    expect(() => formatNumber(value, 1)).toThrow(RangeError);
  });
});

describe("lengths", () => {
  it.each([
    [1234.56, "mm", "computed", "1234.6 mm"],
    [1234.56, "mm", "tape", "1235 mm"],
    [-0.04, "mm", "computed", "0.0 mm"],
    [-0.4, "mm", "tape", "0 mm"],
    // 85/25.4 = 3.3465; · 16 = 53.54, so 54/16 = 3 3/8
    [85, "in", "computed", "3.35 in"],
    [85, "in", "tape", "3 3/8 in"],
    [-85, "in", "tape", "-3 3/8 in"],
    [25.4, "in", "tape", "1 in"],
    [12.7, "in", "tape", "1/2 in"],
    [6.35, "in", "tape", "1/4 in"],
    // 1 and 15/16: 1.9375 · 25.4
    [49.2125, "in", "tape", "1 15/16 in"],
    // 47.99 sixteenths are three inches.
    [76.19, "in", "tape", "3 in"],
    [0, "in", "tape", "0 in"],
    [0.5, "in", "tape", "0 in"],
    [-0.5, "in", "tape", "0 in"],
    [-0.01, "in", "computed", "0.00 in"],
    // 2 in = 50.8; 1/16 in = 1.5875
    [52.3875, "in", "tape", "2 1/16 in"],
    [2540, "in", "computed", "100.00 in"],
  ] as const)("%f mm in %s, %s: %s", (value, units, reading, expected) => {
    expect(formatLength(mm(value), units, reading)).toBe(expected);
  });

  it("as fractions are off by no more than 1/32 in, in lowest terms", () => {
    check(
      fc.property(fc.double({ min: -20_000, max: 20_000, noNaN: true }), (value) => {
        const text = formatLength(mm(value), "in", "tape");
        const [, sign, whole = "0", over = "0", under = "1"] =
          /^(-)?(?:(\d+)(?= ))? ?(?:(\d+)\/(\d+))? ?in$/.exec(text) ?? [];
        expect(["1", "2", "4", "8", "16"]).toContain(under);
        if (under !== "1") {
          expect(Number(over) % 2).toBe(1);
          expect(Number(over)).toBeLessThan(Number(under));
        }
        const size = Number(whole) + Number(over) / Number(under);
        const read = inches(sign === undefined ? size : -size);
        expect(Math.abs(read - value)).toBeLessThanOrEqual(25.4 / 32 + 1e-9);
      }),
      1000,
    );
  });
});

describe("angles", () => {
  it.each([
    [0.2122, 2, "0.21°"],
    [-0.004, 2, "0.00°"],
    [0.4244, 1, "0.4°"],
    [-0.25, 2, "-0.25°"],
    [12, 0, "12°"],
  ])("%f with %i decimals: %s", (value, digits, expected) => {
    expect(formatAngle(degrees(value), digits)).toBe(expected);
  });

  it("have two decimals where nothing is said", () => {
    expect(formatAngle(degrees(0.2))).toBe("0.20°");
  });

  it.each([
    // 0.21 · 60 = 12.6
    [0.21, "0°13′"],
    [-0.21, "-0°13′"],
    [0.2, "0°12′"],
    [0.1, "0°06′"],
    [1.5, "1°30′"],
    // 59.7 minutes are the next degree.
    [0.995, "1°00′"],
    [-0.001, "0°00′"],
    [0, "0°00′"],
  ])("%f in minutes: %s", (value, expected) => {
    expect(formatAngleMinutes(degrees(value))).toBe(expected);
  });

  it("in whole minutes are written as they are", () => {
    check(
      fc.property(fc.integer({ min: -21_600, max: 21_600 }), (minutes) => {
        const [, sign, whole, rest] =
          /^(-)?(\d+)°(\d\d)′$/.exec(formatAngleMinutes(minutesOfArc(minutes))) ?? [];
        const size = Number(whole) * 60 + Number(rest);
        expect(sign === undefined ? size : -size).toBe(minutes);
      }),
    );
  });
});

describe("slopes", () => {
  it("are written in mm on a metre, or in per cent", () => {
    const slope = millimetresPerMetre(2.54);
    expect(formatSlope(slope)).toBe("2.5 mm/m");
    expect(formatSlope(slope, "%")).toBe("0.25 %");
    expect(formatSlope(millimetresPerMetre(-15), "%")).toBe("-1.50 %");
  });
});
