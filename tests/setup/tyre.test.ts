import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isTyreSize, readTyreSize, tyreDiameter } from "../../src/setup/attitude/tyre.js";
import { check } from "../properties.js";

describe("reading a tyre size", () => {
  it.each([
    ["225/60R17", 225, 60, 17],
    ["225/60 R 17 99V", 225, 60, 17],
    ["225/60ZR17 (99Y)", 225, 60, 17],
    [" p225/60r17 ", 225, 60, 17],
    ["LT265/70R16 121/118S", 265, 70, 16],
    ["245/45R18 100W XL", 245, 45, 18],
    ["235/65R16C 115/113R", 235, 65, 16],
    ["T125/70D16", 125, 70, 16],
    ["225/70R19.5", 225, 70, 19.5],
  ])("reads %s", (text, width, aspect, rim) => {
    expect(readTyreSize(text)).toEqual({ kind: "metric", width, aspect, rim });
  });

  it.each([
    ["31x10.50R15LT", 31, 10.5, 15],
    ["LT31x10.50R15 109Q", 31, 10.5, 15],
    ["33×12.50R17", 33, 12.5, 17],
    ["19x4.00R15", 19, 4, 15],
    ["60x20.00R20", 60, 20, 20],
  ])("reads %s, whose diameter is in inches", (text, diameter, width, rim) => {
    expect(readTyreSize(text)).toEqual({ kind: "flotation", diameter, width, rim });
  });

  it.each([
    ["", "the tyre size is empty"],
    ["winter tyres", "this is no tyre size"],
    ["225/60", "this is no tyre size"],
    ["2225/60R17", "this is no tyre size"],
    ["225/60R17 and spare", "this is no tyre size"],
    ["185R14", "the tyre size has no aspect ratio, from which its diameter would follow"],
    ["220/55R390", "the rim's diameter is not in inches"],
    ["31x10,50R15", "the tyre size has a comma where its decimal point should stand"],
  ])("refuses %j: %s", (text, problem) => {
    const read = readTyreSize(text);
    expect(read).toMatchObject({ problem });
    expect("expected" in read && read.expected).toContain("225/60R17");
  });

  it.each([
    ["225/60R71", "a rim of 8 to 30 inches"],
    ["925/60R17", "a width of 100 to 500 mm"],
    ["225/10R17", "20 to 100 per cent"],
    ["18x10.50R15", "an outer diameter 4 inches or more above the rim's"],
    ["61x12.50R20", "of 60 at most"],
    ["31x3.00R15", "a width of 4 to 20 inches"],
    ["31x21.00R15", "a width of 4 to 20 inches"],
  ])("refuses %s, which no tyre has", (text, expected) => {
    expect(readTyreSize(text)).toMatchObject({ expected: expect.stringContaining(expected) as unknown });
  });

  it("never throws, and reads back every size that it could have been given", () => {
    check(
      fc.property(fc.string({ maxLength: 40 }), (text) => {
        const read = readTyreSize(text);
        expect(isTyreSize(read) || read.problem.length > 0).toBe(true);
      }),
    );
    check(
      fc.property(
        fc.integer({ min: 105, max: 395 }),
        fc.integer({ min: 25, max: 90 }),
        fc.integer({ min: 10, max: 24 }),
        (width, aspect, rim) => {
          expect(readTyreSize(`${width}/${aspect} R${rim}`)).toEqual({ kind: "metric", width, aspect, rim });
        },
      ),
    );
  });
});

describe("the diameter of a tyre", () => {
  it("is the one named where the size names it in inches", () => {
    const size = readTyreSize("31x10.50R15LT");
    // 31 · 25.4
    expect(isTyreSize(size) ? tyreDiameter(size) : null).toBeCloseTo(787.4, 9);
  });
});
