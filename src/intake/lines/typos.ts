import { knownAs, type Lexicon } from "./lexicon.js";

/** A word shorter than this is one edit away from too many others. */
const LETTERS_OF_LONG_WORD = 6;
/** More candidates than anybody would choose from. */
const CANDIDATE_LIMIT = 4;

/** Words of the lexicon that a long word becomes by one letter left out, added, changed or swapped with its neighbour. */
export function wordsOneEditAway(word: string, lexicon: Lexicon): readonly string[] {
  if (word.length < LETTERS_OF_LONG_WORD) return [];
  const found = new Map<string, string>();
  for (const candidate of lexicon.words) {
    if (candidate.length < LETTERS_OF_LONG_WORD - 1 || !isOneEdit(word, candidate)) continue;
    const known = knownAs(candidate).join(" ");
    if (!found.has(known)) found.set(known, candidate);
  }
  const candidates = [...found.values()];
  return candidates.length > CANDIDATE_LIMIT ? [] : candidates;
}

function isOneEdit(word: string, other: string): boolean {
  const difference = word.length - other.length;
  if (Math.abs(difference) > 1) return false;
  let same = 0;
  while (same < word.length && same < other.length && word[same] === other[same]) same += 1;
  const rest = word.slice(same);
  const otherRest = other.slice(same);
  if (difference === 1) return rest.slice(1) === otherRest;
  if (difference === -1) return rest === otherRest.slice(1);
  if (rest.slice(1) === otherRest.slice(1)) return rest !== otherRest;
  const isSwapped = rest[0] === otherRest[1] && rest[1] === otherRest[0];
  return isSwapped && rest.slice(2) === otherRest.slice(2);
}
