import type { Topic, Unknown } from "../facts/index.js";

/** What a person can tell of a sensor only once they know that it is there. */
const OF_THE_SENSOR = ["mount", "looksThrough", "variant", "servesFurther", "carriedBy"] as const;

/** Topics, and those that it is idle to ask about while a point of one of them is open. */
const BEFORE: readonly { readonly first: readonly Topic[]; readonly idle: readonly Topic[] }[] = [
  // What a module serves names the sensors that are there, and no others matter; one answer about the glass clears
  // everything behind it, fitted or not.
  { first: ["serves", "glassOrHeaderHit"], idle: ["fitted", ...OF_THE_SENSOR] },
  // Nobody can say where a sensor sits, or whether it came off, that may not be there.
  { first: ["fitted", "feature"], idle: [...OF_THE_SENSOR, "workOnSensors", "ofVehicle", "bracketIncluded"] },
  { first: ["mount", "looksThrough"], idle: ["carriedBy"] },
  // An alignment is measured where the work that asks for it was done; what it adjusted says also that it was.
  { first: ["work", "workOnSensors"], idle: ["alignmentOutcome"] },
  { first: ["adjusted", "alignmentOutcome"], idle: ["alignment"] },
  { first: ["sizeChanged"], idle: ["sizeApproved"] },
];

/**
 * Leaves out of the open points of one chain those that only matter, or can only be answered, once another one of them
 * is. They come up in the next plan if they still matter then, so nothing is lost but a question that may prove idle.
 */
export function keepFirst(unknowns: readonly Unknown[]): readonly Unknown[] {
  return BEFORE.reduce<readonly Unknown[]>((left, { first, idle }) => {
    const isOpen = left.some(({ topic }) => first.includes(topic));
    return isOpen ? left.filter(({ topic }) => !idle.includes(topic)) : left;
  }, unknowns);
}
