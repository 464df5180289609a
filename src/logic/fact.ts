/** A value that a fact can take in a rule: one word or number, or a list of them. */
export type Scalar = string | number | boolean;
export type Datum = Scalar | readonly Scalar[];

/**
 * What is known of one fact: the values it may still take, and the open points that keep them apart.
 *
 * One candidate means known. Several mean "one of these". `null` means that nothing bounds the value.
 * `unknowns` is empty exactly where the value is known; `U` is the caller's own type for an open point.
 */
export interface FactValue<U> {
  readonly candidates: readonly Datum[] | null;
  readonly unknowns: readonly U[];
}

const NONE: readonly never[] = Object.freeze([]);

/** A fact whose value is stated. */
export function known(value: Datum): FactValue<never> {
  return { candidates: [value], unknowns: NONE };
}

/** A fact of which nothing is stated but that `unknown` would settle it. */
export function unbounded<U>(...unknowns: readonly U[]): FactValue<U> {
  return { candidates: null, unknowns };
}

/**
 * A fact that takes one of `candidates`; with a single candidate it is known, and `open` is not asked what would
 * settle it: most facts are known, and questions are costly to word.
 */
export function choose<U>(candidates: readonly Datum[], open: () => U): FactValue<U> {
  return candidates.length === 1 ? { candidates, unknowns: NONE } : { candidates, unknowns: [open()] };
}

/** A fact that takes one of `candidates`; with a single candidate it is known, whatever else is open. */
export function oneOf<U>(candidates: readonly Datum[], unknowns: readonly U[]): FactValue<U> {
  return candidates.length === 1 ? { candidates, unknowns: NONE } : { candidates, unknowns };
}

/** Whether exactly one value is left. */
export function isKnown<U>(value: FactValue<U>): boolean {
  return value.candidates !== null && value.candidates.length === 1;
}

const interned = new Map<string, FactValue<never>>();

/** A known word, the same object each time: most facts are words of closed lists, read over and over. */
export function knownWord(word: string): FactValue<never> {
  const found = interned.get(word);
  if (found !== undefined) return found;
  const made = known(word);
  interned.set(word, made);
  return made;
}
