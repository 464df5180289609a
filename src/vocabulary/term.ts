/** A word of the vocabulary: the label that a reader sees, and one sentence that says what it means. */
export interface Term {
  readonly label: string;
  readonly meaning: string;
}

/** Lists the identifiers of a closed set in the order in which the set is written. */
export function idsOf<Id extends string>(set: Readonly<Record<Id, unknown>>): readonly Id[] {
  return Object.keys(set) as Id[];
}
