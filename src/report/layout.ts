/** What a line is, so that whoever prints it may mark it; text never depends on it. */
export type Role = "title" | "heading" | "strong" | "alert" | "faint" | "plain";

/** One line of a report, not yet styled, no wider than the page. */
export interface Line {
  readonly text: string;
  readonly role: Role;
}

/** Marks a finished line for a terminal. It must add nothing that takes up room. */
export type Styler = (role: Role, text: string) => string;

/** How wide a report is if nobody says. */
const DEFAULT_WIDTH = 80;
/** Narrower than this no label and text fit beside each other. */
const LEAST_WIDTH = 40;

/** The page's width in columns, from what was asked for. */
export function pageWidth(width: number | undefined): number {
  return Math.max(LEAST_WIDTH, Math.floor(width ?? DEFAULT_WIDTH));
}

// The joiners U+200C and U+200D belong to scripts and emoji; everything else without a glyph of its own is shown.
const INVISIBLE = /[\p{Cc}\p{Zl}\p{Zp}\p{Cs}]|(?![\u200c\u200d])\p{Cf}/gu;

/** Writes characters that could move the cursor, reorder or hide text as visible escapes. */
export function escapeText(text: string): string {
  return text.replace(INVISIBLE, (character) => {
    const code = character.codePointAt(0) ?? 0;
    return code > 0xffff ? `\\u{${code.toString(16)}}` : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}

/** Ranges of code points that take two columns: East Asian wide and full-width forms, and pictographs. */
const WIDE: readonly (readonly [number, number])[] = [
  [0x1100, 0x115f],
  [0x231a, 0x231b],
  [0x2329, 0x232a],
  [0x23e9, 0x23f3],
  [0x25fd, 0x25fe],
  [0x2614, 0x2615],
  [0x2630, 0x2637],
  [0x2648, 0x2653],
  [0x267f, 0x27bf],
  [0x2b1b, 0x2b55],
  [0x2e80, 0x303e],
  [0x3041, 0x4dbf],
  [0x4e00, 0xa4cf],
  [0xa960, 0xa97f],
  [0xac00, 0xd7a3],
  [0xf900, 0xfaff],
  [0xfe10, 0xfe19],
  [0xfe30, 0xfe6f],
  [0xff00, 0xff60],
  [0xffe0, 0xffe6],
  [0x16fe0, 0x18dff],
  [0x1aff0, 0x1b2ff],
  [0x1d300, 0x1d37f],
  [0x1f000, 0x1fbff],
  [0x20000, 0x3fffd],
];
const WITHOUT_WIDTH = /^[\p{Mn}\p{Me}\p{Cf}]$/u;

function widthOfCharacter(character: string): number {
  const code = character.codePointAt(0) ?? 0;
  if (code < 0x300) return 1;
  if (WITHOUT_WIDTH.test(character)) return 0;
  return WIDE.some(([first, last]) => code >= first && code <= last) ? 2 : 1;
}

/** Columns that a text takes up on a terminal; never too few, at most a few too many for joined pictographs. */
function widthOf(text: string): number {
  let width = 0;
  for (const character of text) width += widthOfCharacter(character);
  return width;
}

/** Cuts a word that is wider than a line into pieces that are not, behind a mark that joins its parts if one is near. */
function breakWord(word: string, width: number): readonly string[] {
  const pieces: string[] = [];
  let piece = "";
  for (const character of word) {
    if (piece !== "" && widthOf(piece) + widthOfCharacter(character) > width) {
      const cut = findCut(piece);
      pieces.push(piece.slice(0, cut));
      piece = piece.slice(cut);
    }
    piece += character;
  }
  return [...pieces, piece];
}

/** Where to cut a full line: behind its last joining mark, unless more than half of the line would stay empty. */
function findCut(piece: string): number {
  const mark = Math.max(...["-", "/", "_", ".", ",", "&", "?", "="].map((each) => piece.lastIndexOf(each)));
  return mark + 1 > piece.length / 2 ? mark + 1 : piece.length;
}

/** Breaks escaped text into lines of at most `width` columns: at spaces, and inside a word only if it has to be. */
function wrap(text: string, width: number): readonly string[] {
  const lines: string[] = [];
  let line = "";
  let used = 0;
  for (const word of escapeText(text)
    .split(/\s+/)
    .filter((each) => each !== "")) {
    const room = widthOf(word);
    if (line !== "" && used + 1 + room <= width) {
      line += ` ${word}`;
      used += 1 + room;
      continue;
    }
    if (line !== "") lines.push(line);
    const pieces = breakWord(word, width);
    lines.push(...pieces.slice(0, -1));
    line = pieces.at(-1) ?? "";
    used = widthOf(line);
  }
  return line === "" && lines.length > 0 ? lines : [...lines, line];
}

/** How a paragraph stands on the page. */
export interface Placing {
  readonly width: number;
  /** Columns left free before every line. */
  readonly indent?: number;
  /** Stands before the first line; the others are indented by its width. Our own words, never input. */
  readonly lead?: string;
  readonly role?: Role;
}

/** Sets a paragraph, indented and wrapped, behind its lead. */
export function paragraph(text: string, placing: Placing): readonly Line[] {
  const { width, indent = 0, lead = "", role = "plain" } = placing;
  const room = Math.max(8, width - indent - widthOf(lead));
  const hanging = " ".repeat(indent + widthOf(lead));
  return wrap(text, room).map((line, index) => ({
    text: (index === 0 ? `${" ".repeat(indent)}${lead}${line}` : `${hanging}${line}`).trimEnd(),
    role,
  }));
}

export const EMPTY_LINE: Line = { text: "", role: "plain" };

/** Joins lines into the text of a report, which ends with a line break. */
export function joinLines(lines: readonly Line[], styler?: Styler): string {
  return lines
    .map(({ role, text }) => `${styler === undefined || text === "" ? text : styler(role, text)}\n`)
    .join("");
}
