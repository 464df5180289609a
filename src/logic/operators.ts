import type { Datum, Scalar } from "./fact.js";

/** The closed list of operators; each means what json-rules-engine's operator of the same name means. */
export const OPERATORS = [
  "equal",
  "notEqual",
  "in",
  "notIn",
  "contains",
  "doesNotContain",
  "lessThan",
  "lessThanInclusive",
  "greaterThan",
  "greaterThanInclusive",
] as const;
export type Operator = (typeof OPERATORS)[number];

/** The operator that holds exactly where the given one does not, for any known value. */
export const OPPOSITE: Readonly<Record<Operator, Operator>> = {
  equal: "notEqual",
  notEqual: "equal",
  in: "notIn",
  notIn: "in",
  contains: "doesNotContain",
  doesNotContain: "contains",
  lessThan: "greaterThanInclusive",
  greaterThanInclusive: "lessThan",
  greaterThan: "lessThanInclusive",
  lessThanInclusive: "greaterThan",
};

/** What an operator compares: one fact value with one value, one with a list, a list with one, or two numbers. */
export type OperatorShape = "one-with-one" | "one-with-list" | "list-with-one" | "numbers";

/** The shape of operands that an operator takes; the rule loader refuses any other. */
export function shapeOf(operator: Operator): OperatorShape {
  switch (operator) {
    case "equal":
    case "notEqual":
      return "one-with-one";
    case "in":
    case "notIn":
      return "one-with-list";
    case "contains":
    case "doesNotContain":
      return "list-with-one";
    case "lessThan":
    case "lessThanInclusive":
    case "greaterThan":
    case "greaterThanInclusive":
      return "numbers";
  }
}

/** A test of one known value; operands of the wrong shape never hold, in either direction. */
export function testOf(operator: Operator, value: Scalar | readonly Scalar[]): (actual: Datum) => boolean {
  switch (operator) {
    case "equal":
      return (actual) => actual === value;
    case "notEqual":
      return (actual) => actual !== value;
    case "in": {
      const members = new Set(listOf(value));
      return (actual) => members.has(actual as Scalar);
    }
    case "notIn": {
      const members = new Set(listOf(value));
      return (actual) => !members.has(actual as Scalar);
    }
    case "contains":
      return (actual) => Array.isArray(actual) && actual.includes(value);
    case "doesNotContain":
      return (actual) => Array.isArray(actual) && !actual.includes(value);
    case "lessThan":
      return numeric(value, (actual, limit) => actual < limit);
    case "lessThanInclusive":
      return numeric(value, (actual, limit) => actual <= limit);
    case "greaterThan":
      return numeric(value, (actual, limit) => actual > limit);
    case "greaterThanInclusive":
      return numeric(value, (actual, limit) => actual >= limit);
  }
}

function listOf(value: Scalar | readonly Scalar[]): readonly Scalar[] {
  return Array.isArray(value) ? (value as readonly Scalar[]) : [value as Scalar];
}

function numeric(
  limit: Scalar | readonly Scalar[],
  holds: (actual: number, limit: number) => boolean,
): (actual: Datum) => boolean {
  return (actual) => typeof actual === "number" && typeof limit === "number" && holds(actual, limit);
}
