import type { Market } from "../../vocabulary/index.js";
import type { Entry, Meaning } from "./meanings.js";
import { builtInEntries } from "./entries.js";
import { SPELLINGS } from "./spellings.js";

/** All phrases, by their words as the lexicon knows them. */
export interface Lexicon {
  readonly phrases: ReadonlyMap<string, Entry>;
  /** Every beginning of a phrase, to know when looking further is in vain. */
  readonly beginnings: ReadonlySet<string>;
  /** Every single word of a phrase, and every other spelling of one. */
  readonly words: ReadonlySet<string>;
}

/** Two entries that give one phrase different meanings. */
export interface LexiconConflict {
  readonly entry: Entry;
  readonly index: number;
  readonly before: Entry;
}

/** The words by which the lexicon knows a word of a line: spelt out, and in the singular. */
export function knownAs(word: string): readonly string[] {
  const spelt = SPELLINGS.get(word);
  if (spelt !== undefined) return spelt;
  const single = singular(word);
  return SPELLINGS.get(single) ?? [single];
}

/** Takes a plural's s away; the same for phrases and lines, so that a word wrongly cut is still itself. */
function singular(word: string): string {
  if (word.length < 4 || !word.endsWith("s")) return word;
  const before = word.at(-2) ?? "";
  return "sui".includes(before) ? word : word.slice(0, -1);
}

/** A phrase as the lexicon keeps it: "Frt Bumper-Covers" is "front bumper cover". */
export function phraseOf(words: string): string {
  return words
    .toLowerCase()
    .split(/[\s-]/)
    .filter((word) => word !== "")
    .flatMap(knownAs)
    .join(" ");
}

/** Lays entries into a lexicon; the conflicts are those entries that were left out. */
export function layLexicon(
  entries: readonly Entry[],
  over?: Lexicon,
): { readonly lexicon: Lexicon; readonly conflicts: readonly LexiconConflict[] } {
  const phrases = new Map(over?.phrases);
  const beginnings = new Set(over?.beginnings);
  const words = new Set(over?.words ?? SPELLINGS.keys());
  const conflicts: LexiconConflict[] = [];
  for (const [index, entry] of entries.entries()) {
    const phrase = phraseOf(entry.words);
    const before = phrases.get(phrase);
    if (before !== undefined) {
      if (JSON.stringify(before.means) !== JSON.stringify(entry.means))
        conflicts.push({ entry, index, before });
      continue;
    }
    phrases.set(phrase, entry);
    let beginning = "";
    for (const word of phrase.split(" ")) {
      beginning = beginning === "" ? word : `${beginning} ${word}`;
      beginnings.add(beginning);
      words.add(word);
    }
  }
  return { lexicon: { phrases, beginnings, words }, conflicts };
}

/** Whether a single word, in any spelling, occurs in a phrase of the lexicon. */
export function isKnownWord(lexicon: Lexicon, word: string): boolean {
  return lexicon.words.has(word) || knownAs(word).every((each) => lexicon.words.has(each));
}

const READY = new Map<boolean, Lexicon>();

/** The built-in lexicon as a market uses its words. */
export function lexiconFor(market: Market | null): Lexicon {
  const hatchIsTailgate = market !== null && market !== "us" && market !== "ca";
  const ready = READY.get(hatchIsTailgate);
  if (ready !== undefined) return ready;
  const { lexicon, conflicts } = layLexicon(builtInEntries(hatchIsTailgate));
  const [conflict] = conflicts;
  if (conflict !== undefined) throw new Error(describeConflict(conflict));
  READY.set(hatchIsTailgate, lexicon);
  return lexicon;
}

/** Says which two entries give one phrase different meanings. */
export function describeConflict({ entry, before }: LexiconConflict): string {
  return `the lexicon reads "${entry.words}" as ${describeMeaning(entry.means)}, and "${before.words}", which is the same phrase, as ${describeMeaning(before.means)}`;
}

/** A meaning in a few words. */
export function describeMeaning(means: Meaning): string {
  switch (means.kind) {
    case "action":
      return `the action ${means.actions.join(" or ")}`;
    case "part":
      return `the part ${means.choices.map(({ component, sensor }) => sensor ?? component).join(" or ")}`;
    case "place":
      return `the place ${[means.end, means.side].filter((each) => each !== undefined).join(" ")}`;
    case "either-place":
      return `the place ${means.either}`;
    case "equipment":
      return `equipment (${means.equipment ?? "of no sensor"})`;
    case "with":
      return means.fitted === "yes" ? 'the word "with"' : 'the word "without"';
    case "stop":
      return means.why;
    case "purpose":
    case "and":
    case "including":
    case "for":
      return `a word of grammar (${means.kind})`;
    case "nothing":
      return "a word that changes nothing";
  }
}
