import type { Unknown } from "../facts/index.js";

/** Open points as their keys tell them apart, and the points that it is idle to ask while one of them is open. */
const BEFORE: readonly { readonly first: RegExp; readonly idle: RegExp }[] = [
  // What a module serves names the sensors that are there, and no others matter.
  { first: /\/serves$/, idle: /^(fitted|mount|looksThrough|variant|serves|carriedBy):/ },
  // One answer about the glass clears everything behind it, fitted or not.
  { first: /^findings\/glassOrHeaderHit$/, idle: /^(fitted|mount|looksThrough|variant|serves|carriedBy):/ },
  // Nobody can say where a sensor sits, or whether it came off, that may not be there.
  {
    first: /^(fitted:|features\/)/,
    idle: /^((mount|looksThrough|variant|serves|carriedBy):|dependentWork\/[a-z-]+:sensor:|vehicle\/(vehicleClass|market)$)|\/part\/bracketIncluded$/,
  },
  { first: /^(mount|looksThrough):/, idle: /^carriedBy:/ },
  // An alignment is measured where the work that asks for it was done; what it adjusted says also that it was.
  { first: /^dependentWork\/(?!adjust:wheel-alignment:)/, idle: /^\n.*\/adjusted$/ },
  { first: /\/adjusted$/, idle: /^dependentWork\/adjust:wheel-alignment:/ },
  { first: /\/sizeChanged$/, idle: /\/sizeApproved$/ },
];

/**
 * Leaves out of the open points of one chain those that only matter, or can only be answered, once another one of them
 * is. They come up in the next plan if they still matter then, so nothing is lost but a question that may prove idle.
 */
export function keepFirst(unknowns: readonly Unknown[]): readonly Unknown[] {
  return BEFORE.reduce<readonly Unknown[]>((left, { first, idle }) => {
    const isOpen = left.some(({ key }) => first.test(key));
    return isOpen ? left.filter(({ key }) => first.test(key) || !idle.test(key)) : left;
  }, unknowns);
}
