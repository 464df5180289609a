/** Why something stated could not be used, and what was expected instead; both without a full stop. */
export interface ReadingProblem {
  readonly problem: string;
  readonly expected: string;
}
