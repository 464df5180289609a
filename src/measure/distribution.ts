import jstat from "jstat";

/** Above this the package's 1 − Φ(z) has lost digits to cancellation. */
const TAIL_FROM = 2;
/** Terms of the fraction: the further out, the fewer it takes. */
const LEAST_TERMS = 12;
const MORE_TERMS = 320;

/** The probability that a standard normal variable lies below z. */
export function normalCdf(z: number): number {
  return z < 0 ? normalTail(-z) : 1 - normalTail(z);
}

/**
 * The probability that a standard normal variable lies above z, with all its digits however small it is.
 * Source of the continued fraction: Laplace's, from memory; checked against the package and known values.
 */
export function normalTail(z: number): number {
  if (z < TAIL_FROM) return 1 - jstat.normal.cdf(z, 0, 1);
  let fraction = z;
  for (let term = Math.ceil(LEAST_TERMS + MORE_TERMS / (z * z)); term > 0; term -= 1)
    fraction = z + term / fraction;
  return Math.exp(-(z * z) / 2) / Math.sqrt(2 * Math.PI) / fraction;
}

/** The z below which a standard normal variable lies with the given probability, 0 < p < 1. */
export function normalQuantile(probability: number): number {
  return jstat.normal.inv(openProbability(probability), 0, 1);
}

/** The value below which chi squared lies with the given probability, 0 < p < 1. */
export function chiSquaredQuantile(probability: number, degreesOfFreedom: number): number {
  return jstat.chisquare.inv(openProbability(probability), positive(degreesOfFreedom));
}

/** The value below which Student's t lies with the given probability, 0 < p < 1. */
export function studentQuantile(probability: number, degreesOfFreedom: number): number {
  return jstat.studentt.inv(openProbability(probability), positive(degreesOfFreedom));
}

function openProbability(probability: number): number {
  if (probability > 0 && probability < 1) return probability;
  throw new RangeError(`${probability} is no probability between 0 and 1`);
}

function positive(degreesOfFreedom: number): number {
  if (degreesOfFreedom > 0) return degreesOfFreedom;
  throw new RangeError(`${degreesOfFreedom} are no degrees of freedom`);
}
