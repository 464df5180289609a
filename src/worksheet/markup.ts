/** Text that is markup already: made here, never from input. */
export interface Markup {
  readonly markup: string;
}

/** What may stand between the braces. */
export type Piece = string | number | Markup | readonly Piece[] | null | false;

/**
 * Writes markup for HTML and SVG. What stands between the braces is escaped, whether it ends up in text or in a quoted
 * attribute; lists are joined, null and false leave nothing.
 */
export function markup(strings: TemplateStringsArray, ...pieces: readonly Piece[]): Markup {
  return {
    markup: strings.map((text, index) => text + (index < pieces.length ? write(pieces[index]) : "")).join(""),
  };
}

function write(piece: Piece | undefined): string {
  if (piece === undefined || piece === null || piece === false) return "";
  if (typeof piece === "number") return String(piece);
  if (typeof piece === "string") return escapeMarkup(piece);
  if ("markup" in piece) return piece.markup;
  return piece.map(write).join("");
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** Control characters that no document may hold become visible; bidirectional controls are kept out of the layout. */
const INVISIBLE =
  /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ufffe\uffff\ud800-\udfff]/gu;

export function escapeMarkup(text: string): string {
  return text
    .replace(INVISIBLE, (character) => `\\u${(character.codePointAt(0) ?? 0).toString(16).padStart(4, "0")}`)
    .replace(/[&<>"']/g, (character) => ENTITIES[character] ?? character);
}

/** Text from the input inside a sentence of ours: it keeps its own direction and has no bearing on ours. */
export function quoted(text: string): Markup {
  return markup`<bdi>${text}</bdi>`;
}
