import { describe, expect, it } from "vitest";
import { FALSE, TRUE, UNKNOWN, and, nameOfTruth, not, or, type Truth } from "../../src/logic/index.js";

const VALUES: readonly Truth[] = [FALSE, UNKNOWN, TRUE];

/** The tables of Kleene's strong logic, written row by row for false, unknown and true. */
const AND: readonly (readonly Truth[])[] = [
  [FALSE, FALSE, FALSE],
  [FALSE, UNKNOWN, UNKNOWN],
  [FALSE, UNKNOWN, TRUE],
];
const OR: readonly (readonly Truth[])[] = [
  [FALSE, UNKNOWN, TRUE],
  [UNKNOWN, UNKNOWN, TRUE],
  [TRUE, TRUE, TRUE],
];
const NOT: readonly Truth[] = [TRUE, UNKNOWN, FALSE];

const cells = VALUES.flatMap((a, row) =>
  VALUES.map((b, column) => ({ a, b, row, column, name: `${nameOfTruth(a)}, ${nameOfTruth(b)}` })),
);

describe("three-valued logic, cell by cell", () => {
  it.each(cells)("and of $name", ({ a, b, row, column }) => {
    expect(and(a, b)).toBe(AND[row]?.[column]);
  });
  it.each(cells)("or of $name", ({ a, b, row, column }) => {
    expect(or(a, b)).toBe(OR[row]?.[column]);
  });
  it.each(VALUES.map((value, row) => ({ value, row, name: nameOfTruth(value) })))(
    "not of $name",
    ({ value, row }) => {
      expect(not(value)).toBe(NOT[row]);
    },
  );
  it("names each value", () => {
    expect(VALUES.map(nameOfTruth)).toEqual(["false", "unknown", "true"]);
  });
});
