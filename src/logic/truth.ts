/** The three truth values of Kleene's strong logic, ordered so that `and` is the minimum and `or` the maximum. */
export type Truth = 0 | 1 | 2;

export const FALSE: Truth = 0;
export const UNKNOWN: Truth = 1;
export const TRUE: Truth = 2;

/** Conjunction: false wins over unknown, unknown wins over true. */
export function and(a: Truth, b: Truth): Truth {
  return a < b ? a : b;
}

/** Disjunction: true wins over unknown, unknown wins over false. */
export function or(a: Truth, b: Truth): Truth {
  return a > b ? a : b;
}

/** Negation: unknown stays unknown. */
export function not(a: Truth): Truth {
  return (2 - a) as Truth;
}

/** The word for a truth value, as reports and traces print it. */
export function nameOfTruth(truth: Truth): "false" | "unknown" | "true" {
  switch (truth) {
    case 0:
      return "false";
    case 1:
      return "unknown";
    case 2:
      return "true";
  }
}
