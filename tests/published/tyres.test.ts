import { describe, expect, it } from "vitest";
import {
  isTyreSize,
  readTyreSize,
  revolutionsPerKilometre,
  sectionHeight,
  tyreChange,
  tyreCircumference,
  tyreDiameter,
  type TyreSize,
} from "../../src/setup/attitude/tyre.js";

// Diameter of a tyre: rim code times 25.4 mm plus twice the height of the section, which is width times aspect ratio.
// UN R30, 6.1.2.1, and ISO 4000-1: from memory, the paragraphs were not read; the same formula was read on
// tools.gera.services, 2ndhandtyresales.com.au and bytetricks.com. Tables of sizes round the section to a whole mm, so
// that they can differ by 1 mm.

function read(text: string): TyreSize {
  const size = readTyreSize(text);
  if (!isTyreSize(size)) throw new Error(size.problem);
  return size;
}

function section(text: string): number {
  const size = read(text);
  return size.kind === "metric" ? sectionHeight(size) : NaN;
}

describe("values as published", () => {
  // Read at bytetricks.com: 631.9 and 112.75; 112.75 also at oponeo.co.uk; 632 at abracalc.com.
  it("205/55R16 is 631.9 mm with a section of 112.75 mm", () => {
    expect(tyreDiameter(read("205/55R16"))).toBeCloseTo(631.9, 9);
    expect(section("205/55R16")).toBeCloseTo(112.75, 9);
    expect(Math.round(tyreDiameter(read("205/55R16")))).toBe(632);
  });

  // Read at tools.gera.services: 711.3 mm, circumference 2234 mm, 447.6 turns in a kilometre. The turns there are those
  // of the rounded circumference (1 000 000/2234 = 447.63); of the exact one, 2234.62 mm, they are 447.50.
  it("215/65R17 is 711.3 mm, 2234 mm around, 447.6 turns in a kilometre", () => {
    const diameter = tyreDiameter(read("215/65R17"));
    expect(diameter).toBeCloseTo(711.3, 9);
    expect(Math.floor(tyreCircumference({ diameter }))).toBe(2234);
    expect(Math.abs(revolutionsPerKilometre({ diameter }) - 447.6)).toBeLessThan(0.15);
    expect(revolutionsPerKilometre({ diameter })).toBeCloseTo(447.5, 1);
  });

  // Read at tools.gera.services: 701.8 mm, circumference 2204, 1.3 % less than 215/65R17.
  it("225/60R17 is 701.8 mm, 2204 mm around, 1.3 % less than 215/65R17", () => {
    const [diameter, specified] = [tyreDiameter(read("225/60R17")), tyreDiameter(read("215/65R17"))];
    expect(diameter).toBeCloseTo(701.8, 9);
    expect(Math.floor(tyreCircumference({ diameter }))).toBe(2204);
    expect(diameter - specified).toBeCloseTo(-9.5, 9);
    expect(tyreChange({ diameter, specified })).toBeCloseTo(-1.3, 1);
  });

  // Read at 2ndhandtyresales.com.au, which drops fractions of a mm: section 133 and diameter 647; diameter 749.
  it("205/65R15 is 647 mm and 245/70R16 is 749 mm, fractions dropped", () => {
    expect(Math.floor(tyreDiameter(read("205/65R15")))).toBe(647);
    expect(Math.floor(section("205/65R15"))).toBe(133);
    expect(Math.floor(tyreDiameter(read("245/70R16")))).toBe(749);
  });
});

describe("values from memory, not published", () => {
  // ETRTO tables as remembered; the tables were not read. They round the section, so that 1 mm is allowed.
  it.each([
    ["195/65R15", 635],
    ["225/45R17", 634],
    ["225/40R18", 637],
    ["175/70R13", 576],
    ["255/35R19", 661],
    ["265/70R16", 777],
  ])("%s is %i mm within 1 mm", (text, diameter) => {
    expect(Math.abs(tyreDiameter(read(text)) - diameter)).toBeLessThanOrEqual(1);
  });
});

describe("values that follow from the formula", () => {
  it.each([
    ["205/65R15", 647.5],
    ["245/70R16", 749.4],
    ["195/65R15", 634.5],
    ["225/45R17", 634.3],
    ["225/40R18", 637.2],
    ["175/70R13", 575.2],
    ["255/35R19", 661.1],
    ["265/70R16", 777.4],
  ])("%s is %d mm", (text, diameter) => {
    expect(tyreDiameter(read(text))).toBeCloseTo(diameter, 9);
  });
});
