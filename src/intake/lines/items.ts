import { knownAs, type Lexicon } from "./lexicon.js";
import type { EitherPlace, End, Entry, EquipmentWord, Meaning, SideWord } from "./meanings.js";
import type { Token } from "./scan.js";

export type Span = readonly [start: number, end: number];

type Of<Kind extends Meaning["kind"]> = Extract<Meaning, { readonly kind: Kind }>;

export interface ActionItem {
  readonly kind: "action";
  readonly means: Of<"action">;
  readonly span: Span;
}
export interface PartItem {
  readonly kind: "part";
  readonly means: Of<"part">;
  readonly span: Span;
}
export interface PlaceItem {
  readonly kind: "place";
  readonly side: SideWord | null;
  readonly end: End | null;
  /** A word that stands for either of two places. */
  readonly either: EitherPlace | null;
  readonly span: Span;
}

/** How strongly a sign parts what stands on its two sides. */
export const PARTING = { bracket: 0, and: 1, comma: 2, colon: 3, semicolon: 4 } as const;

export interface GapItem {
  readonly kind: "gap";
  readonly strength: number;
}
export interface EquipmentItem {
  readonly kind: "equipment";
  readonly equipment: EquipmentWord | null;
  readonly span: Span;
}
export interface GrammarItem {
  readonly kind: "including" | "for" | "purpose";
  readonly span: Span;
}
export interface WithItem {
  readonly kind: "with";
  readonly fitted: "yes" | "no";
  readonly span: Span;
}

/** A line after its phrases were looked up; what changes nothing is gone. */
export type Item = ActionItem | PartItem | PlaceItem | GapItem | EquipmentItem | GrammarItem | WithItem;

export interface Items {
  readonly items: readonly Item[];
  /** Words that no phrase begins with, by their place among the tokens. */
  readonly unknown: readonly number[];
  /** The first reason not to read the line at all. */
  readonly stop: string | null;
}

const GAPS: Readonly<Record<string, number>> = {
  "(": PARTING.bracket,
  ")": PARTING.bracket,
  "[": PARTING.bracket,
  "]": PARTING.bracket,
  "/": PARTING.and,
  "&": PARTING.and,
  "+": PARTING.and,
  ",": PARTING.comma,
  ":": PARTING.colon,
  "-": PARTING.colon,
  ";": PARTING.semicolon,
};

/** Looks up the phrases of a line from left to right, the longest first. */
export function lookUpItems(tokens: readonly Token[], lexicon: Lexicon): Items {
  const items: Item[] = [];
  const unknown: number[] = [];
  let stop: string | null = null;
  let at = 0;
  while (at < tokens.length) {
    const found = phraseAt(tokens, at, lexicon);
    const token = tokens[at];
    if (token === undefined) break;
    if (found !== null) {
      const span: Span = [token.start, tokens[at + found.length - 1]?.end ?? token.end];
      if (found.entry.means.kind === "stop") stop ??= `${found.entry.means.why} ("${found.entry.words}")`;
      else items.push(...itemsOf(found.entry.means, span));
      at += found.length;
      continue;
    }
    if (token.kind === "word") unknown.push(at);
    else if (token.kind === "sign") {
      const strength = GAPS[token.text];
      if (strength !== undefined) items.push({ kind: "gap", strength });
      else stop ??= STOPPING_SIGNS[token.text] ?? `the sign "${token.text}"`;
    }
    at += 1;
  }
  return { items, unknown, stop };
}

const STOPPING_SIGNS: Readonly<Record<string, string>> = {
  "?": "a question",
  "−": "an amount below zero, which may take back what the line names",
};

interface Found {
  readonly entry: Entry;
  readonly length: number;
}

/** The longest phrase, unless its first word is a place and what is named at that place reaches further. */
function phraseAt(tokens: readonly Token[], at: number, lexicon: Lexicon): Found | null {
  const longest = longestPhrase(tokens, at, lexicon);
  if (longest === null || longest.length === 1) return longest;
  const first = longestPhrase(tokens.slice(at, at + 1), 0, lexicon);
  const isEnd = first?.entry.means.kind === "place" && first.entry.means.side === undefined;
  if (!isEnd) return longest;
  const next = longestPhrase(tokens, at + 1, lexicon);
  return next !== null && next.length >= longest.length ? first : longest;
}

function longestPhrase(
  tokens: readonly Token[],
  from: number,
  { phrases, beginnings }: Lexicon,
): Found | null {
  let phrase = "";
  let best: Found | null = null;
  for (let at = from; at < tokens.length; at += 1) {
    const token = tokens[at];
    if (token === undefined) break;
    for (const word of wordsOf(token)) phrase = phrase === "" ? word : `${phrase} ${word}`;
    if (!beginnings.has(phrase)) break;
    const entry = phrases.get(phrase);
    if (entry !== undefined) best = { entry, length: at - from + 1 };
  }
  return best;
}

function wordsOf(token: Token): readonly string[] {
  if (token.kind === "sign" && token.text === "+") return ["and"];
  return knownAs(token.text);
}

function itemsOf(means: Exclude<Meaning, { readonly kind: "stop" }>, span: Span): readonly Item[] {
  switch (means.kind) {
    case "action":
      return [{ kind: "action", means, span }];
    case "part":
      return [{ kind: "part", means, span }];
    case "place":
      return [{ kind: "place", side: means.side ?? null, end: means.end ?? null, either: null, span }];
    case "either-place":
      return [{ kind: "place", side: null, end: null, either: means.either, span }];
    case "equipment":
      return [{ kind: "equipment", equipment: means.equipment, span }];
    case "and":
      return [{ kind: "gap", strength: PARTING.and }];
    case "with":
      return [{ kind: "with", fitted: means.fitted, span }];
    case "including":
    case "for":
    case "purpose":
      return [{ kind: means.kind, span }];
    case "nothing":
      return [];
  }
}
