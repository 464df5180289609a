import type { SetUpView } from "./set-ups.js";

/** A name from the input among our own words, which may run in another direction of writing. */
export interface Name {
  readonly name: string;
}

/** Words of a report, free of the form in which they are printed. */
export type Words = string | readonly (string | Name)[];

/**
 * A cell of a table: words, words that stand out, a box to tick with what is ticked, or a place to write a reading on,
 * with what is to be written there.
 */
export type Cell = Words | { readonly strong: Words } | { readonly tick: Words } | { readonly field: string };

/** A column of a table; a wide one holds sentences, a narrow one a short word. */
interface Column {
  readonly head: string;
  readonly isNumber?: boolean;
  readonly width?: "wide" | "third" | "quarter" | "fifth" | "sixth" | "slim";
}

/** What a report of a set-up consists of; the text report and the sheet print the same. */
export type Block =
  | { readonly kind: "heading"; readonly text: Words }
  | { readonly kind: "says"; readonly text: Words; readonly role?: "strong" | "alert" | "faint" }
  | { readonly kind: "facts"; readonly facts: readonly (readonly [label: string, text: Words])[] }
  | { readonly kind: "list"; readonly items: readonly Words[]; readonly role?: "alert" }
  | { readonly kind: "ticks"; readonly items: readonly Words[] }
  | {
      readonly kind: "table";
      readonly caption: Words;
      readonly columns: readonly Column[];
      readonly rows: readonly (readonly Cell[])[];
      /** Long and seldom read: in small type. */
      readonly isFine?: boolean;
    }
  | { readonly kind: "drawing"; readonly from: "above" | "the side"; readonly view: SetUpView };

export interface SetupSection {
  /** For links; unique in a report. */
  readonly id: string;
  readonly title: string;
  /** Begins a page of its own on paper. */
  readonly isOnNewPage?: boolean;
  readonly blocks: readonly Block[];
}

export function isField(cell: Cell): cell is { readonly field: string } {
  return typeof cell === "object" && "field" in cell;
}

export function isTick(cell: Cell): cell is { readonly tick: Words } {
  return typeof cell === "object" && "tick" in cell;
}

export function isStrong(cell: Cell): cell is { readonly strong: Words } {
  return typeof cell === "object" && "strong" in cell;
}

export type Fact = readonly [label: string, text: Words];

export function factsOf(facts: readonly Fact[]): Block {
  return { kind: "facts", facts };
}

/** A standard uncertainty as part of a sentence. */
export function tellU(u: number | null, write: (value: number) => string): string {
  return u === null ? ", uncertainty not known" : `, standard uncertainty ${write(u)}`;
}

/** The words as one text. */
export function joinWords(words: Words): string {
  if (typeof words === "string") return words;
  return words.map((part) => (typeof part === "string" ? part : part.name)).join("");
}
