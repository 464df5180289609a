import { STROKED } from "./spellings.js";

/** A piece of a line: a word or number, or a sign, with its offsets. */
export interface Token {
  readonly kind: "word" | "number" | "sign";
  /** In small letters, without apostrophes; for a sign, the sign that counts. */
  readonly text: string;
  readonly start: number;
  readonly end: number;
}

/** Signs that change nothing: of currency, of emphasis, of columns. */
const SIGNS_WITHOUT_BEARING: ReadonlySet<string> = new Set([..."*#$£€%!\"@_|`'’"]);
const DASHES: ReadonlySet<string> = new Set(["-", "–", "—"]);
const BLANKS: ReadonlySet<string> = new Set([" ", "\t", "\u00a0", "\r", "\n"]);
/** A number with one of these says how much or how often. */
const UNITS: ReadonlySet<string> = new Set(["h", "hr", "hrs", "hour", "hours", "x", "ea", "pc", "pcs", "u"]);
/** Numbers with fewer digits are amounts or belong to a word, as in "4-whl". */
const DIGITS_OF_PART_NUMBER = 4;
/** A letter group of a part number is no longer. */
const LETTERS_OF_PART_NUMBER = 3;

/**
 * Cuts a line into words, numbers and signs, in one pass from left to right.
 * Part numbers and amounts with a unit are left out, unless a known word is in them.
 */
export function scanLine(line: string, isKnown: (word: string) => boolean): readonly Token[] {
  const tokens: Token[] = [];
  let at = 0;
  while (at < line.length) {
    const character = line.charAt(at);
    if (isAlphanumeric(character)) {
      const end = endOfRun(line, at);
      readRun(line, at, end, isKnown, tokens);
      at = end;
      continue;
    }
    const sign = signAt(line, at, tokens.at(-1));
    if (sign !== null) tokens.push({ kind: "sign", text: sign, start: at, end: at + 1 });
    at += 1;
  }
  return joinStroked(tokens);
}

/** Makes one word of a word shortened with a stroke: "W/S". */
function joinStroked(tokens: readonly Token[]): readonly Token[] {
  const joined: Token[] = [];
  for (const token of tokens) {
    const stroke = joined.at(-1);
    const first = joined.at(-2);
    const word =
      stroke?.text === "/" && first !== undefined ? STROKED.get(`${first.text}/${token.text}`) : undefined;
    if (word === undefined || first === undefined) joined.push(token);
    else joined.splice(-2, 2, { kind: "word", text: word, start: first.start, end: token.end });
  }
  return joined;
}

function isDigit(character: string): boolean {
  return character >= "0" && character <= "9" && character.length === 1;
}

/** Letters of any script: what the lexicon does not know must not fall through as a sign. */
function isLetter(character: string): boolean {
  return (
    character.toLowerCase() !== character.toUpperCase() || (character > "\u00ff" && !isTypographic(character))
  );
}

function isTypographic(character: string): boolean {
  return character >= "\u2000" && character <= "\u206f";
}

function isAlphanumeric(character: string): boolean {
  return isDigit(character) || isLetter(character);
}

/** The end of a run of letters and digits, held together by hyphens, apostrophes and decimal points. */
function endOfRun(line: string, start: number): number {
  let at = start;
  while (at < line.length) {
    const character = line.charAt(at);
    const next = line.charAt(at + 1);
    const joins =
      character === "-" || character === "'" || character === "’"
        ? isAlphanumeric(next)
        : (character === "." || character === ",") && isDigit(line.charAt(at - 1)) && isDigit(next);
    if (!isAlphanumeric(character) && !(joins && at > start)) return at;
    at += 1;
  }
  return at;
}

function readRun(
  line: string,
  start: number,
  end: number,
  isKnown: (word: string) => boolean,
  tokens: Token[],
): void {
  let digits = 0;
  for (let at = start; at < end; at += 1) if (isDigit(line.charAt(at))) digits += 1;
  const isPartNumber = digits >= DIGITS_OF_PART_NUMBER;
  let from = start;
  for (let at = start; at <= end; at += 1) {
    if (at < end && line.charAt(at) !== "-") continue;
    const token = readPiece(line, from, at, isPartNumber, isKnown);
    if (token !== null) tokens.push(token);
    from = at + 1;
  }
}

function readPiece(
  line: string,
  start: number,
  end: number,
  isPartNumber: boolean,
  isKnown: (word: string) => boolean,
): Token | null {
  const text = line.slice(start, end).toLowerCase().replaceAll("'", "").replaceAll("’", "");
  const letters = [...text].filter(isLetter).length;
  if (letters === 0) return { kind: "number", text, start, end };
  const word: Token = { kind: "word", text, start, end };
  if (letters === text.length) {
    if (!isPartNumber || letters > LETTERS_OF_PART_NUMBER) return word;
    return letters > 1 && isKnown(text) ? word : null;
  }
  if (isKnown(text)) return word;
  return isPartNumber || isAmount(text) ? null : word;
}

/** "1.5h", "2x" or "x2". */
function isAmount(text: string): boolean {
  let at = 0;
  while (at < text.length && !isLetter(text.charAt(at))) at += 1;
  return (
    (at > 0 && UNITS.has(text.slice(at))) || (text.startsWith("x") && ![...text.slice(1)].some(isLetter))
  );
}

/** The sign that counts at a place, or null where there is none. */
function signAt(line: string, at: number, before: Token | undefined): string | null {
  const character = line.charAt(at);
  if (BLANKS.has(character) || SIGNS_WITHOUT_BEARING.has(character)) return null;
  const next = line.charAt(at + 1);
  if (character === ".") return isFullStop(at, next, before) ? ";" : null;
  if (!DASHES.has(character)) return character;
  const amount = next === "$" || next === "£" || next === "€" ? line.charAt(at + 2) : next;
  return isDigit(amount) || amount === "." ? "−" : "-";
}

/** A full stop after a long word ends a sentence; after a short one it marks a word cut short. */
function isFullStop(at: number, next: string, before: Token | undefined): boolean {
  const ends = before?.kind === "word" && before.end === at && before.text.length > 4;
  return ends && BLANKS.has(next);
}
