import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { formatAngle, readAngle, type Degrees } from "../../src/measure/index.js";
import { check } from "../properties.js";

function read(given: number | string, unit?: "deg" | "min"): number {
  const angle = readAngle(given, unit);
  if (typeof angle === "object") throw new Error(angle.problem);
  return angle;
}

function refuse(given: number | string, unit?: "deg" | "min"): { problem: string; expected: string } {
  const angle = readAngle(given, unit);
  if (typeof angle === "number") throw new Error(`${given} was read as ${angle}`);
  return angle;
}

describe("a text names its own unit", () => {
  it.each([
    ["0.20°", 0.2],
    [".12°", 0.12],
    ["-0.25°", -0.25],
    ["−0.25°", -0.25],
    ["+1°", 1],
    ["0.20 deg", 0.2],
    ["0.20deg", 0.2],
    ["  0.20º ", 0.2],
    // 12 minutes are a fifth of a degree.
    ["0°12′", 0.2],
    ["0°12'", 0.2],
    ["0°12’", 0.2],
    ["0 deg 12 min", 0.2],
    ["0° 12.5′", 12.5 / 60],
    // The sign counts for the whole, also before a zero.
    ["-0°06'", -0.1],
    ["-1°30′", -1.5],
    ["- 1° 30′", -1.5],
    // 12.5 minutes
    ["0°12'30\"", 12.5 / 60],
    ["0°12'30''", 12.5 / 60],
    ["0°12′30.0″", 12.5 / 60],
    ["12′30″", 12.5 / 60],
    ["12′", 0.2],
    ["-12'", -0.2],
    ["36″", 0.01],
    ["36''", 0.01],
    ["0°", 0],
    // Without degrees before it, 75 minutes can be nothing else.
    ["75′", 1.25],
  ])("%s is %f°", (given, expected) => {
    expect(read(given)).toBeCloseTo(expected, 12);
    // The unit beside it is that of numbers.
    expect(read(given, "min")).toBeCloseTo(expected, 12);
    expect(read(given, "deg")).toBeCloseTo(expected, 12);
  });

  it("has no negative zero", () => {
    for (const given of ["-0°", "-0°00′", "0°"]) expect(read(given)).toBe(0);
    expect(read(-0, "deg")).toBe(0);
    expect(read(-0, "min")).toBe(0);
  });
});

describe("a number needs its unit", () => {
  it("in degrees or minutes", () => {
    expect(read(0.2, "deg")).toBe(0.2);
    expect(read(-12, "min")).toBeCloseTo(-0.2, 12);
    expect(read(75, "min")).toBe(1.25);
  });
  it("is refused without", () => {
    expect(refuse(0.12)).toMatchObject({
      problem: "the angle 0.12 has no unit",
      expected: expect.stringContaining('"deg" or "min"') as string,
    });
  });
  it.each([NaN, Infinity, -Infinity])("is refused where it is %f", (given) => {
    expect(refuse(given, "deg").problem).toContain("finite");
  });
});

describe("refused", () => {
  it.each([
    // Decimal degrees, or 0°12′ badly copied?
    ["0.12", "no unit"],
    ["-0.12", "no unit"],
    ["12", "no unit"],
    ["0,20°", "decimal comma"],
    ["0°12,5′", "decimal comma"],
    ["0,12", "decimal comma"],
    ["0°60′", "60 or more"],
    ["0°72'", "60 or more"],
    ["1°59′60″", "60 or more"],
    ["12′60″", "60 or more"],
    ["0.5°12′", "decimals before a smaller unit"],
    ["0°12.5′30″", "decimals before a smaller unit"],
    ["", "not an angle"],
    ["-", "not an angle"],
    ["°", "not an angle"],
    ["0°-12′", "not an angle"],
    ["--1°", "not an angle"],
    ["12′1°", "not an angle"],
    ["0°12", "not an angle"],
    ["1e3°", "not an angle"],
    ["0.2 mm", "not an angle"],
    ["0.2 rad", "not an angle"],
    ["1.2.3°", "not an angle"],
    ["1 2°", "not an angle"],
    ["０.2°", "not an angle"],
  ])("%j: %s", (given, why) => {
    for (const unit of ["deg", "min", undefined] as const) {
      const { problem, expected } = refuse(given, unit);
      expect(problem).toContain(why);
      expect(expected).not.toBe("");
    }
  });

  it("nothing throws, whatever the text", () => {
    check(
      fc.property(
        fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom(..."0123456789.,°′'\"-+ degmin") })),
        (text) => {
          const angle = readAngle(text, undefined);
          if (typeof angle === "number") expect(Number.isFinite(angle)).toBe(true);
          else expect(angle.problem).not.toBe("");
        },
      ),
      2000,
    );
  });
});

describe("a hostile text", () => {
  it.each([
    "1".repeat(50_000),
    " ".repeat(50_000),
    `1°${" ".repeat(50_000)}`,
    `-${" ".repeat(50_000)}1′`,
    "1.".repeat(50_000),
  ])("is refused at once", (given) => {
    expect(refuse(`${given}x`).problem).toContain("not an angle");
  });
});

describe("degrees, minutes and seconds", () => {
  it("add up in sixtieths, under one sign", () => {
    const below60 = fc.nat(59);
    check(
      fc.property(fc.boolean(), fc.nat(359), below60, below60, (negative, whole, minutes, seconds) => {
        const given = `${negative ? "-" : ""}${whole}°${minutes}′${seconds}″`;
        const inSeconds = (whole * 60 + minutes) * 60 + seconds;
        expect(read(given) * 3600).toBeCloseTo(negative ? -inSeconds : inSeconds, 6);
      }),
    );
  });

  it("read what is written", () => {
    check(
      fc.property(fc.integer({ min: -36000, max: 36000 }), (hundredths) => {
        expect(read(formatAngle((hundredths / 100) as Degrees))).toBeCloseTo(hundredths / 100, 12);
      }),
    );
  });
});
