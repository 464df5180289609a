import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors.js";
import { checkDigitOf, readVin, type VinContext, type VinReading } from "../../src/job/vin.js";

const car: VinContext = { market: "us", vehicleClass: "passenger-car" };
const unclassified: VinContext = { market: "us", vehicleClass: "unknown" };

const noteIds = (reading: VinReading): readonly string[] => reading.notes.map(({ id }) => id);

// Marks: "published" – the number stands in the source named; "from memory" – recalled, then recomputed by hand from
// the rule of 49 CFR 565.15(c).
const samples = [
  {
    // 8+49+24+5+32+15+18+80+0+45+56+7+6+40+12+12+2
    vin: "1G4AH59H45G118341",
    sum: 411,
    remainder: 4,
    decimal: ".364",
    digit: "4",
    source: "49 CFR 565.15, sample of Table V",
    mark: "published",
  },
  {
    // 8+7+54+45+28+3+2+30+0+9+8+42+24+20+12+12+10 = 314; 314/11 = 28.545
    vin: "1J9RP1A36A1644345",
    sum: 314,
    remainder: 6,
    decimal: ".545",
    digit: "6",
    source: "NHTSA, Outline for New Manufacturer Information, p. 18",
    mark: "published",
  },
  {
    // Every value is 1, so the sum is that of the weights: 8+7+6+5+4+3+2+10+9+8+7+6+5+4+3+2
    vin: "11111111111111111",
    sum: 89,
    remainder: 1,
    decimal: ".091",
    digit: "1",
    source: "documented self-test of an open VIN check (@shaggytools/nhtsa-api-wrapper 3.0.4, isValidVin)",
    mark: "published",
  },
  {
    // 8+28+48+35+16+12+18+10+0+18+56+0+24+10+28+24+16 = 351 = 31 × 11 + 10
    vin: "1M8GDM9AXKP042788",
    sum: 351,
    remainder: 10,
    decimal: ".909",
    digit: "X",
    source: "example of a general encyclopaedia",
    mark: "from memory",
  },
] as const;

describe("check digit", () => {
  it.each(samples)("$vin gives $digit ($source; $mark)", ({ vin, sum, remainder, digit }) => {
    expect(checkDigitOf(vin)).toEqual({ sum, remainder, digit });
    const reading = readVin(vin, unclassified);
    expect(reading).toMatchObject({
      vin,
      form: "valid",
      checkDigit: "matches",
      expectedDigit: digit,
      issues: [],
    });
  });

  it.each(samples)(
    "$vin leaves the decimal remainder $decimal, as Table V tabulates it",
    ({ vin, decimal }) => {
      expect((checkDigitOf(vin).remainder / 11).toFixed(3)).toBe(`0${decimal}`);
    },
  );

  it("ignores what stands in its own place", () => {
    expect(checkDigitOf("1G4AH59H?5G118341")).toEqual({ sum: 411, remainder: 4, digit: "4" });
    expect(checkDigitOf("1J9RP1A3?A1644345")).toEqual({ sum: 314, remainder: 6, digit: "6" });
  });

  it("refuses to compute one for what is no VIN", () => {
    expect(() => checkDigitOf("1G4AH59H?5G11834")).toThrow(InputError);
    expect(() => checkDigitOf("1G4AH59H?5G1183?1")).toThrow('"?" in position 16');
  });

  it.each(["us", "ca"] as const)("differs where another digit stands in position 9 (%s)", (market) => {
    const reading = readVin("1G4AH59H55G118341", { market, vehicleClass: "passenger-car" });
    expect(reading).toMatchObject({ form: "valid", checkDigit: "differs", expectedDigit: "4", notes: [] });
    expect(reading.issues).toEqual([
      {
        code: "vin-check-digit",
        pointer: "",
        message: 'the VIN has "5" in position 9, but its other characters give "4"',
        expected: "the VIN as it stands on the vehicle",
      },
    ]);
  });

  // D stands for 4, but only the digit itself is the check digit.
  it("differs where position 9 holds a letter of the right value", () => {
    expect(readVin("1G4AH59HD5G118341", car)).toMatchObject({ checkDigit: "differs", expectedDigit: "4" });
  });

  // The first sample with K for 5 in position 10: 411 - 45 + 18 = 384 = 34 × 11 + 10.
  it("is X for a remainder of ten, and nothing else", () => {
    expect(readVin("1G4AH59HXKG118341", car).checkDigit).toBe("matches");
    expect(readVin("1G4AH59H0KG118341", car)).toMatchObject({ checkDigit: "differs", expectedDigit: "X" });
    expect(readVin("1G4AH59HX5G118341", car)).toMatchObject({ checkDigit: "differs", expectedDigit: "4" });
  });

  it.each(["uk", "eu", "au", "jp", "other"] as const)("proves nothing in the market %s", (market) => {
    const wrong = readVin("1G4AH59H55G118341", { market, vehicleClass: "passenger-car" });
    expect(wrong).toMatchObject({
      form: "valid",
      checkDigit: "not-used-here",
      expectedDigit: "4",
      issues: [],
    });
    expect(noteIds(wrong)).toContain("check-digit-differs-unbound");
    const right = readVin("1G4AH59H45G118341", { market, vehicleClass: "passenger-car" });
    expect(right.checkDigit).toBe("not-used-here");
    expect(noteIds(right)).not.toContain("check-digit-differs-unbound");
  });

  it("is no fault while the market is unknown", () => {
    const context: VinContext = { market: "unknown", vehicleClass: "passenger-car" };
    expect(readVin("1G4AH59H55G118341", context)).toMatchObject({ checkDigit: "cannot-tell", issues: [] });
    expect(readVin("1G4AH59H45G118341", context).checkDigit).toBe("matches");
  });
});

// 49 CFR 565.15(c), letter by letter.
const values: Readonly<Record<string, number>> = {
  ...{ A: 1, B: 2, C: 3, D: 4, E: 5, F: 6, G: 7, H: 8, J: 1, K: 2, L: 3, M: 4, N: 5, P: 7, R: 9 },
  ...{ S: 2, T: 3, U: 4, V: 5, W: 6, X: 7, Y: 8, Z: 9 },
  ...{ 0: 0, 1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6, 7: 7, 8: 8, 9: 9 },
};
const characters = Object.keys(values);
const replaceAt = (vin: string, index: number, character: string): string =>
  vin.slice(0, index) + character + vin.slice(index + 1);

describe("what the check digit detects", () => {
  const vins = fc
    .array(fc.constantFrom(...characters), { minLength: 17, maxLength: 17 })
    .map((drawn) => replaceAt(drawn.join(""), 8, checkDigitOf(drawn.join("")).digit));

  // No weight is a multiple of 11, and neither is a difference of two values from 0 to 9.
  it("any one character changed to one of another value", () => {
    fc.assert(
      fc.property(vins, fc.nat(16), fc.constantFrom(...characters), (vin, index, character) => {
        fc.pre(index !== 8 && values[character] !== values[vin.charAt(index)]);
        expect(readVin(vin, car).checkDigit).toBe("matches");
        expect(readVin(replaceAt(vin, index, character), car).checkDigit).toBe("differs");
      }),
      { numRuns: 500 },
    );
  });

  it("any other character in its own place", () => {
    fc.assert(
      fc.property(vins, fc.constantFrom(...characters), (vin, character) => {
        fc.pre(character !== vin.charAt(8));
        expect(readVin(replaceAt(vin, 8, character), car).checkDigit).toBe("differs");
      }),
    );
  });

  it("not a character changed to one of the same value", () => {
    fc.assert(
      fc.property(vins, fc.nat(16), fc.constantFrom(...characters), (vin, index, character) => {
        fc.pre(index !== 8 && values[character] === values[vin.charAt(index)]);
        expect(readVin(replaceAt(vin, index, character), car).checkDigit).toBe("matches");
      }),
    );
  });

  it.each([
    ["1 read as A", "AG4AH59H45G118341"],
    ["1 read as J", "JG4AH59H45G118341"],
    ["A read as J", "1G4JH59H45G118341"],
    ["A read as 1", "1G41H59H45G118341"],
    ["H read as 8", "1G4A859H45G118341"],
    ["G read as X", "1X4AH59H45G118341"],
  ])("so that %s goes unnoticed", (_, vin) => {
    expect(readVin(vin, car)).toMatchObject({ checkDigit: "matches", expectedDigit: "4", issues: [] });
  });
});

describe("form", () => {
  it("takes lower case and blanks around it", () => {
    expect(readVin("  1m8gdm9axkp042788\n", unclassified)).toMatchObject({
      vin: "1M8GDM9AXKP042788",
      form: "valid",
      checkDigit: "matches",
    });
  });

  it.each([
    ["I", 1, "IG4AH59H45G118341", "1"],
    ["O", 12, "1G4AH59H45GO18341", "0"],
    ["Q", 17, "1G4AH59H45G11834Q", "0"],
    ["I", 2, "1i4AH59H45G118341", "1"],
  ])("refuses %s in position %i and names the digit it is taken for", (letter, position, vin, digit) => {
    expect(readVin(vin, car)).toMatchObject({
      form: "wrong-character",
      checkDigit: "unreadable",
      expectedDigit: null,
      modelYears: [],
      issues: [
        {
          code: "vin-form",
          pointer: "",
          message: `the VIN has "${letter}" in position ${position}, which never stands in a VIN`,
          nearest: digit,
        },
      ],
    });
  });

  it.each([
    ["a hyphen", "1G4AH59H4-G118341", '"-" in position 10'],
    ["a blank inside", "1G4AH59H4 5G11834", '" " in position 10'],
    ["a letter of another script", "1G4AН59H45G118341", '"Н" in position 5'],
    // Folded to upper case by the language, this one would turn into an I.
    ["a dotless i", "1G4Aı59H45G118341", '"ı" in position 5'],
    ["a full-width digit", "１G4AH59H45G118341", '"１" in position 1'],
  ])("refuses %s", (_, vin, where) => {
    const { form, issues } = readVin(vin, car);
    expect(form).toBe("wrong-character");
    expect(issues.map(({ message }) => message)).toEqual([
      `the VIN has ${where}, which never stands in a VIN`,
    ]);
  });

  it.each([
    ["", "the VIN has 0 characters"],
    ["1", "the VIN has 1 character"],
    ["1G4AH59H45G11834", "the VIN has 16 characters"],
    ["1G4AH59H45G1183411", "the VIN has 18 characters"],
    // The sharp s stays one character; as upper case it would be two.
    ["1G4AH59H45G1183ß", "the VIN has 16 characters"],
  ])("refuses %j for its length", (vin, message) => {
    expect(readVin(vin, car)).toMatchObject({
      form: "wrong-length",
      checkDigit: "unreadable",
      modelYears: [],
      issues: [{ code: "vin-form", message }],
    });
  });
});

describe("model year", () => {
  // Table of model years, 49 CFR 565.15, from memory.
  const years = [
    ...[..."ABCDEFGH"].map((character, index) => [character, 1980 + index] as const),
    ...[..."JKLMN"].map((character, index) => [character, 1988 + index] as const),
    ["P", 1993] as const,
    ["R", 1994] as const,
    ["S", 1995] as const,
    ["T", 1996] as const,
    ["V", 1997] as const,
    ["W", 1998] as const,
    ["X", 1999] as const,
    ["Y", 2000] as const,
    ...[..."123456789"].map((character, index) => [character, 2001 + index] as const),
  ];
  const withYear = (character: string, seventh: string): string => `1G4AH5${seventh}H0${character}G118341`;

  it("has a character for each of thirty years", () => {
    expect(years.map(([, year]) => year)).toEqual(Array.from({ length: 30 }, (_, index) => 1980 + index));
  });

  it.each(years)(
    "%s is %i after a digit in position 7, and thirty years later after a letter",
    (character, year) => {
      expect(readVin(withYear(character, "9"), car).modelYears).toEqual([year]);
      expect(readVin(withYear(character, "R"), car).modelYears).toEqual([year + 30]);
    },
  );

  // 73 FR 23367, read in a quotation.
  it.each([
    ["1G4AH59H45G118341", "passenger-car", [2005]],
    ["1G4AH59H45G118341", "light-multipurpose-or-truck", [2005]],
    ["1G4AH59H45G118341", "other", [2005, 2035]],
    ["1G4AH59H45G118341", "unknown", [2005, 2035]],
    ["1J9RP1A36A1644345", "passenger-car", [2010]],
    ["1J9RP1A36A1644345", "light-multipurpose-or-truck", [2010]],
    ["1J9RP1A36A1644345", "other", [1980, 2010]],
    ["1J9RP1A36A1644345", "unknown", [1980, 2010]],
    ["11111111111111111", "passenger-car", [2001]],
    ["1M8GDM9AXKP042788", "other", [1989, 2019]],
  ] as const)("%s of class %s: %j", (vin, vehicleClass, expected) => {
    const reading = readVin(vin, { market: "us", vehicleClass });
    expect(reading.modelYears).toEqual(expected);
    expect(noteIds(reading).includes("model-year-cycle-open")).toBe(expected.length === 2);
  });

  it("stays open where the rule of position 7 does not bind", () => {
    const reading = readVin("1G4AH59H45G118341", { market: "eu", vehicleClass: "passenger-car" });
    expect(reading.modelYears).toEqual([2005, 2035]);
    expect(noteIds(reading)).toEqual(["model-year-not-bound-here"]);
  });

  it("stays open while the market is unknown", () => {
    const reading = readVin("1G4AH59H45G118341", { market: "unknown", vehicleClass: "passenger-car" });
    expect(reading.modelYears).toEqual([2005, 2035]);
    expect(noteIds(reading)).toEqual(["model-year-cycle-open"]);
  });

  it.each(["0", "U", "Z"])("says nothing where position 10 is %s", (character) => {
    const reading = readVin(withYear(character, "9"), car);
    expect(reading.form).toBe("valid");
    expect(reading.modelYears).toEqual([]);
    expect(noteIds(reading)).toEqual(["no-model-year"]);
  });

  it("is still read where the check digit differs", () => {
    expect(readVin("1G4AH59H55G118341", car)).toMatchObject({ checkDigit: "differs", modelYears: [2005] });
  });
});

describe("maker of few vehicles", () => {
  it("is noted where position 3 is 9", () => {
    const reading = readVin("1J9RP1A36A1644345", car);
    expect(noteIds(reading)).toEqual(["low-volume-maker"]);
    expect(reading.notes[0]?.says).toContain("positions 12 to 14");
  });

  it("is not noted where a 9 stands elsewhere", () => {
    expect(noteIds(readVin("1G4AH59H45G118341", car))).toEqual([]);
  });
});
