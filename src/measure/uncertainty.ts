import { normalQuantile, studentQuantile } from "./distribution.js";

/** What one input contributes to the uncertainty of a result. */
export interface Contribution {
  /** By how much the result changes for one unit of the input. */
  readonly sensitivity: number;
  /** The input's standard uncertainty, in its own unit. */
  readonly u: number;
  /** Degrees of freedom of `u`; left out or null: known without limit. */
  readonly dof?: number | null;
}

/** A combined standard uncertainty with its effective degrees of freedom; null where they are without end. */
export interface CombinedUncertainty {
  /** Standard uncertainty of the result, in its unit. */
  readonly u: number;
  /** Effective degrees of freedom, cut off to a whole number; null where they are without limit. */
  readonly dof: number | null;
}

/** A quotient that should be a whole number may lie this far below it. */
const ROUNDING = 1e-9;

/**
 * Combines the contributions of uncorrelated inputs to the standard uncertainty of a result.
 * Source: JCGM 100:2008, 5.1.2 (law of propagation), G.4.1 (Welch–Satterthwaite, cut off to the next lower integer);
 * known second-hand.
 */
export function combine(contributions: readonly Contribution[]): CombinedUncertainty {
  const parts = contributions.map(({ sensitivity, u }) => (sensitivity * notNegative(u)) ** 2);
  const variance = parts.reduce((sum, part) => sum + part, 0);
  // The share of each part first: fourth powers of small uncertainties would be lost.
  const perDegree = contributions.reduce((sum, { dof }, index) => {
    const part = parts[index] ?? 0;
    return dof === undefined || dof === null || part === 0 ? sum : sum + (part / variance) ** 2 / dof;
  }, 0);
  const dof = perDegree === 0 ? null : Math.floor((1 / perDegree) * (1 + ROUNDING));
  return { u: Math.sqrt(variance), dof };
}

/** The expanded uncertainty U = k·u. */
export function expanded(u: number, k: number): number {
  return notNegative(u) * k;
}

/** The standard uncertainty of an expanded one: u = U/k. */
export function standardOf(expandedUncertainty: number, k: number): number {
  return notNegative(expandedUncertainty) / k;
}

/** The standard uncertainty of a value of which only limits are known: a/√3 for ±a (JCGM 100:2008, 4.3.7; from memory). */
export function rectangular(halfWidth: number): number {
  return notNegative(halfWidth) / Math.sqrt(3);
}

/**
 * The factor k with which ±k·u covers the given share of values, 0 < p < 1: Student's t, or the normal distribution
 * where the degrees of freedom are null. Source: JCGM 100:2008, G.3 and Table G.2.
 */
export function coverageFactor(probability: number, dof: number | null): number {
  const below = (1 + probability) / 2;
  return dof === null ? normalQuantile(below) : studentQuantile(below, dof);
}

function notNegative(uncertainty: number): number {
  if (uncertainty >= 0) return uncertainty;
  throw new RangeError(`${uncertainty} is no uncertainty`);
}
