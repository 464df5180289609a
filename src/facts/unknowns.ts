/**
 * What open points are about. Points are put in an order, and some left for later, by their topic: a key only tells
 * one point from another.
 */
export const TOPICS = [
  "fitted",
  "feature",
  "mount",
  "looksThrough",
  "variant",
  "servesFurther",
  "carriedBy",
  "driveSide",
  "ofVehicle",
  "sensorNamed",
  "place",
  "serves",
  "part",
  "bracketIncluded",
  "nature",
  "adjusted",
  "sizeChanged",
  "sizeApproved",
  "work",
  "workOnSensors",
  "alignment",
  "alignmentOutcome",
  "glassOrHeaderHit",
  "finding",
  "line",
  "procedure",
] as const;
export type Topic = (typeof TOPICS)[number];

/** An open point: something that nobody has stated, and that a person could find out. */
export interface Unknown {
  /** Stable and unique within a job. */
  readonly key: string;
  readonly topic: Topic;
  /** JSON pointer to the place in the job where the answer belongs. */
  readonly about: string;
  /** The question, as a person would ask it at the vehicle. */
  readonly ask: string;
  /** The answers that settle it, in words of the job. */
  readonly answers: readonly string[];
}

/** The union of two lists of open points, each once, in order of first mention. */
export function joinUnknowns(a: readonly Unknown[], b: readonly Unknown[]): readonly Unknown[] {
  if (b.length === 0) return a;
  if (a.length === 0) return b;
  const seen = new Set(a.map((each) => each.key));
  const added = b.filter((each) => !seen.has(each.key));
  return added.length === 0 ? a : [...a, ...added];
}
