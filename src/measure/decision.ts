/** What a comparison with a tolerance can come to. */
export type Verdict = "conforms" | "does-not-conform" | "cannot-be-decided";
/** Units of what can be held against a tolerance. */
export type DecidedUnit = "mm" | "deg" | "%" | "mm/m";

/** A measured value and its tolerance, in one unit. */
export interface Measurement {
  /** What was measured, in words. */
  readonly of: string;
  /** Null: not measured. */
  readonly value: number | null;
  readonly unit: DecidedUnit;
  /** The limits of the tolerance, which belong to it; null: none on that side. */
  readonly low: number | null;
  readonly high: number | null;
  /** Standard uncertainty; 0: exact; null: not known. */
  readonly u: number | null;
}

/** Whether a measured value lies within a tolerance, as far as its uncertainty lets one say. */
export interface Decision extends Measurement {
  readonly verdict: Verdict;
  /** That the true value lies within the tolerance; null without a value or an uncertainty. */
  readonly probability: number | null;
  /** How far inside a limit a value has to lie; null under simple acceptance, and where none would do. */
  readonly guardBand: number | null;
  /** The largest expanded uncertainty (k = 2) that would decide this value; null where none would, or all do. */
  readonly largestU: number | null;
  /** The verdict with its reason, in one sentence. */
  readonly says: string;
}

/** How far a value lies inside each limit; negative: outside; Infinity: no limit. */
export interface Room {
  readonly low: number;
  readonly high: number;
}
