import { normalCdf, normalQuantile, normalTail } from "./distribution.js";
import { formatNumberDown, formatTrimmed } from "./format.js";

/** How a measured value and its uncertainty are held against a tolerance. */
export type DecisionRule =
  | {
      readonly kind: "guarded";
      /** The probability of conformity, or of non-conformity, that a verdict takes. */
      readonly conformance: number;
      /** The guard band as a share of the expanded uncertainty for k = 2; Φ(2 · guardFactor) = conformance. */
      readonly guardFactor: number;
    }
  | { readonly kind: "simple" };

/** A decision rule as a document states it: the guard factor or the probability, the other follows. */
export type StatedDecisionRule =
  | {
      readonly kind: "guarded";
      readonly guardFactor?: number | undefined;
      readonly conformance?: number | undefined;
    }
  | { readonly kind: "simple" };

/** The guard factor of ISO 14253-1:2017 where nothing else is agreed: a probability of 95 %; known second-hand. */
const DEFAULT_GUARD_FACTOR = 0.83;

/** Two guard factors closer than this are the same rule stated with rounded numbers (1 and 97.5 %, 0.83 and 95 %). */
const SAME_RULE = 0.025;

/**
 * Completes a decision rule: of guard factor r and conformance P either follows from the other, P = Φ(2r), since the
 * guard band is r·U and U = 2u. Nothing stated: guarded with r = 0.83. Where both are stated and agree, r counts.
 * Both stated and contradictory, or either out of its range (r > 0, 0.5 < P < 1), is for the reader of the document to
 * refuse; here it is a RangeError. Source: ISO 14253-1:2017, ILAC-G8:09/2019, both known second-hand.
 */
export function makeDecisionRule(stated?: StatedDecisionRule): DecisionRule {
  if (stated?.kind === "simple") return { kind: "simple" };
  const { guardFactor, conformance } = stated ?? {};
  if (conformance !== undefined && !(conformance > 0.5 && conformance < 1)) {
    throw new RangeError(`a conformance of ${conformance} does not lie between 0.5 and 1`);
  }
  if (guardFactor !== undefined && !(guardFactor > 0 && Number.isFinite(guardFactor))) {
    throw new RangeError(`a guard factor of ${guardFactor} is not above 0`);
  }
  if (conformance === undefined) {
    const factor = guardFactor ?? DEFAULT_GUARD_FACTOR;
    return { kind: "guarded", conformance: normalCdf(2 * factor), guardFactor: factor };
  }
  const implied = normalQuantile(conformance) / 2;
  if (guardFactor === undefined) return { kind: "guarded", conformance, guardFactor: implied };
  if (Math.abs(guardFactor - implied) > SAME_RULE) {
    throw new RangeError(`a guard factor of ${guardFactor} contradicts a conformance of ${conformance}`);
  }
  return { kind: "guarded", conformance: normalCdf(2 * guardFactor), guardFactor };
}

/** The nearest to 100 that is written: beyond it a number has no digits left for the risk. */
const BELOW_100 = 99.9999999999;

/** Says a decision rule in plain words, with the risk that it leaves. */
export function describeDecisionRule(rule: DecisionRule): string {
  switch (rule.kind) {
    case "guarded": {
      const factor = formatTrimmed(rule.guardFactor, 3);
      return (
        `Guarded acceptance and rejection, guard factor ${factor}: a value conforms, or does not conform, where the ` +
        `probability that it does is at least ${percentOf(rule.guardFactor)} %; near a limit that takes a distance of ` +
        `${factor} times its expanded uncertainty (k = 2). In between it cannot be decided.`
      );
    }
    case "simple":
      return (
        "Simple acceptance: a value conforms where it lies within its limits, and its uncertainty does not count. " +
        "Near a limit the risk of a wrong decision reaches 50 %."
      );
  }
}

/** The probability in per cent with the figures that tell it from 100, never more than it is. */
function percentOf(guardFactor: number): string {
  const risk = 100 * normalTail(2 * guardFactor);
  const digits = Math.max(1, 1 - Math.floor(Math.log10(risk)));
  return formatNumberDown(Math.min(100 - risk, BELOW_100), Math.min(digits, 10));
}
