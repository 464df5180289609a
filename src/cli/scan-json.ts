import {
  createScanner,
  findNodeAtLocation,
  parse,
  parseTree,
  printParseErrorCode,
  type Node,
  type ParseError,
} from "jsonc-parser";
import type { Issue } from "../errors.js";

/** How deep objects and lists may be nested: deeper than any document that there is, and far from any stack's end. */
const DEPTH_LIMIT = 40;
/** Keys twice in an object come from programs gone wrong, thousands at a time; this many tell enough. */
const MOST_ISSUES = 100;

const FORBIDDEN: ReadonlySet<string> = new Set(["__proto__", "constructor", "prototype"]);

/** Reading JSON either gives its value, or says what is wrong with it and where. */
export type Reading =
  { readonly ok: true; readonly value: unknown } | { readonly ok: false; readonly issues: readonly Issue[] };

/**
 * Reads JSON text strictly: besides what JSON itself forbids, nesting without end, keys that stand twice in one
 * object, and keys that the language reserves are refused, since `JSON.parse` is silent about all three.
 */
export function readJsonText(text: string): Reading {
  const found = scanStructure(text);
  // Before anything that calls itself for each level.
  if (found.tooDeep !== null) return { ok: false, issues: [found.tooDeep] };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { ok: false, issues: [locateSyntaxError(text)] };
  }
  return found.issues.length > 0 ? { ok: false, issues: found.issues } : { ok: true, value };
}

/** An object or a list that is open at the place of the scanner. */
interface Frame {
  /** The keys met so far with their offsets; `null` for a list. */
  readonly keys: Map<string, number> | null;
  at: string | number;
  expectsKey: boolean;
}

/** Walks the tokens once, without calling itself, whatever the text is. */
function scanStructure(text: string): { readonly tooDeep: Issue | null; readonly issues: readonly Issue[] } {
  const scanner = createScanner(text, true);
  const lineOf = lineFinder(text);
  const open: Frame[] = [];
  const issues: Issue[] = [];
  for (scanner.scan(); scanner.getTokenLength() > 0; scanner.scan()) {
    const offset = scanner.getTokenOffset();
    const frame = open.at(-1);
    switch (text.charAt(offset)) {
      case "{":
      case "[":
        if (open.length >= DEPTH_LIMIT) return { tooDeep: tooDeep(open), issues: [] };
        open.push(
          text.charAt(offset) === "{"
            ? { keys: new Map(), at: "", expectsKey: true }
            : { keys: null, at: 0, expectsKey: false },
        );
        break;
      case "}":
      case "]":
        open.pop();
        break;
      case ",":
        if (frame === undefined) break;
        if (typeof frame.at === "number") frame.at += 1;
        else frame.expectsKey = true;
        break;
      case '"': {
        if (frame === undefined || frame.keys === null || !frame.expectsKey) break;
        const key = scanner.getTokenValue();
        frame.at = key;
        frame.expectsKey = false;
        if (issues.length < MOST_ISSUES) issues.push(...checkKey(key, offset, frame.keys, open, lineOf));
        frame.keys.set(key, offset);
        break;
      }
      default:
        break;
    }
  }
  return { tooDeep: null, issues };
}

function tooDeep(open: readonly Frame[]): Issue {
  return {
    code: "too-deep",
    pointer: pointerOf(open.slice(0, 3)),
    message: `objects and lists are nested more than ${DEPTH_LIMIT} levels deep below this`,
  };
}

function checkKey(
  key: string,
  offset: number,
  keys: ReadonlyMap<string, number>,
  open: readonly Frame[],
  lineOf: (offset: number) => number,
): readonly Issue[] {
  const pointer = pointerOf(open);
  if (FORBIDDEN.has(key)) {
    return [
      {
        code: "forbidden-key",
        pointer,
        message: `the key ${JSON.stringify(key)} is reserved and never read from input`,
      },
    ];
  }
  const before = keys.get(key);
  if (before === undefined) return [];
  const [first, second] = [lineOf(before), lineOf(offset)];
  const where = first === second ? `twice on line ${first}` : `on line ${first} and again on line ${second}`;
  return [{ code: "duplicate-key", pointer, message: `the key ${JSON.stringify(key)} stands ${where}` }];
}

function pointerOf(frames: readonly Frame[]): string {
  return frames.map(({ at }) => `/${String(at).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");
}

/** Finds the line of an offset; offsets come in rising order, or not far apart, so that each line is counted once. */
function lineFinder(text: string): (offset: number) => number {
  const starts = [0];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (offset) => {
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle;
    }
    return low + 1;
  };
}

/**
 * Finds the line, counted from 1, on which each of some JSON pointers leads into a text that `readJsonText` has read.
 * For what the text lacks it is the line on which the object or list begins that should hold it.
 */
export function findLines(text: string, pointers: readonly string[]): readonly (number | undefined)[] {
  const root = parseTree(text);
  const lineOf = lineFinder(text);
  return pointers.map((pointer) => {
    const node = root === undefined ? undefined : findNode(root, pointer);
    return node === undefined ? undefined : lineOf(node.offset);
  });
}

/** The entry that a pointer leads to, key included, or the nearest one around it that is there. */
function findNode(root: Node, pointer: string): Node {
  let node = root;
  for (const part of pointer.split("/").slice(1)) {
    const key = part.replaceAll("~1", "/").replaceAll("~0", "~");
    const next = findNodeAtLocation(node, [node.type === "array" ? Number(key) : key]);
    if (next === undefined) break;
    node = next;
  }
  return node.parent?.type === "property" ? node.parent : node;
}

const SYNTAX: Readonly<Record<string, string>> = {
  InvalidSymbol: "only true, false and null stand without quotation marks",
  InvalidNumberFormat: "the number is not written as JSON writes numbers",
  PropertyNameExpected: "a key in double quotation marks is expected",
  ValueExpected: "a value is expected",
  ColonExpected: "a colon is missing between key and value",
  CommaExpected: "a comma is missing between two entries",
  CloseBraceExpected: "the object is not closed by }",
  CloseBracketExpected: "the list is not closed by ]",
  EndOfFileExpected: "something follows after the end of the document",
  InvalidCommentToken: "JSON has no comments",
  UnexpectedEndOfComment: "JSON has no comments",
  UnexpectedEndOfString: "the text is not closed by a quotation mark on its line",
  UnexpectedEndOfNumber: "the number ends too early",
  InvalidUnicode: "four hexadecimal digits are expected after \\u",
  InvalidEscapeCharacter: "JSON has no such escape",
  InvalidCharacter: "a control character stands inside a text; write it as an escape",
};

/** The first thing that is wrong with the syntax, with its line and column. */
function locateSyntaxError(text: string): Issue {
  const errors: ParseError[] = [];
  parse(text, errors, { disallowComments: true, allowTrailingComma: false, allowEmptyContent: false });
  const first = errors.reduce<ParseError | undefined>(
    (least, each) => (least === undefined || each.offset < least.offset ? each : least),
    undefined,
  );
  if (first === undefined) return { code: "not-json", pointer: "", message: "this is not JSON" };
  const before = text.slice(0, first.offset);
  const line = before.split("\n").length;
  // Columns count characters as an editor shows them, not the halves of which some consist in memory.
  const column = [...before.slice(before.lastIndexOf("\n") + 1)].length + 1;
  return {
    code: "not-json",
    pointer: "",
    line,
    message: `column ${column}: ${describeSyntaxError(first, text)}`,
  };
}

function isDigit(character: string): boolean {
  return /^\d$/.test(character);
}

function describeSyntaxError(error: ParseError, text: string): string {
  const isClosing = /^[}\]]/.test(text.slice(error.offset, error.offset + 1));
  if (isClosing && /,\s*$/.test(text.slice(Math.max(0, error.offset - 1000), error.offset))) {
    return "a comma stands before this bracket, and nothing follows it";
  }
  if (
    /\d,$/.test(text.slice(Math.max(0, error.offset - 2), error.offset)) &&
    isDigit(text.charAt(error.offset))
  ) {
    return "a comma stands inside a number; JSON writes a decimal point, as in 0.5";
  }
  const kind = printParseErrorCode(error.error);
  if (kind === "InvalidSymbol" && text.slice(0, error.offset).trim() === "") {
    return "the text does not begin as JSON does, with a brace";
  }
  if (/[\u2018-\u201f\u00ab\u00bb]/.test(text.charAt(error.offset))) {
    return "this quotation mark is typographic; JSON has the straight one alone";
  }
  if (text.charAt(error.offset) === "'") return "texts and keys stand in double quotation marks";
  if (kind === "EndOfFileExpected" && text.charAt(error.offset) === "{") {
    return "a second document begins here, and one file holds one";
  }
  return SYNTAX[kind] ?? "this is not JSON";
}
