import { InputError, type Issue } from "../../errors.js";
import { CLAIM_ACTIONS, MARKETS, type Market } from "../../vocabulary/index.js";
import { chooseCuts, cutIntoClauses, type Cut } from "./clauses.js";
import { takeOutDescriptions, type DescribedLine, type Outcome } from "./descriptions.js";
import { readHints } from "./hints.js";
import { lookUpItems } from "./items.js";
import { isKnownWord, lexiconFor, type Lexicon } from "./lexicon.js";
import { distinct, draftOperations, type Draft } from "./operations.js";
import { attachPlaces, type Atom } from "./places.js";
import { scanLine, type Token } from "./scan.js";
import type { EquipmentHint, LineOperation, ReadLine, Reading } from "./shape.js";
import { addSynonyms, type Synonym } from "./synonyms.js";
import type { DriveSide } from "./targets.js";
import { wordsOneEditAway } from "./typos.js";

/** What a reader of estimate lines may be told beside them. */
export interface ReadLinesOptions {
  /** Where the driver sits; without it, driver, passenger, near and off side leave the side open. */
  readonly driveSide?: DriveSide;
  /** Where the estimate was written: outside the United States and Canada, a tailgate may be a liftgate. */
  readonly market?: Market;
  /** Words of the caller's own, as further entries of the lexicon. */
  readonly synonyms?: readonly Synonym[];
}

/** Characters of a line and lines of an estimate beyond which nothing is read. */
export const LINE_LENGTH_LIMIT = 2000;
export const LINE_COUNT_LIMIT = 10_000;

/**
 * Reads the lines of an estimate or invoice into operations, with the words that each was read from.
 * A line that holds a word that is not known, or that can be read in two ways, is not read: it is `unread` or
 * `ambiguous`, with the reason and the readings. Each line of a list has its answer; of one text, blank lines have none.
 *
 * Throws `InputError` of kind "input" for what is no text, too many lines, or synonyms that contradict the lexicon.
 */
export function readEstimateLines(
  lines: string | readonly string[],
  options: ReadLinesOptions = {},
): Reading {
  const texts = checkLines(lines);
  const { driveSide = null, market = null, synonyms = [] } = checkOptions(options);
  const lexicon = addSynonyms(lexiconFor(market), synonyms);
  const isText = typeof lines === "string";
  return {
    schema: "repair-calibration/reading@1",
    lines: texts.flatMap((text, index) =>
      isText && text.trim() === "" ? [] : [{ line: index + 1, text, ...readLine(text, lexicon, driveSide) }],
    ),
  };
}

function checkLines(lines: unknown): readonly string[] {
  const list: unknown = typeof lines === "string" ? lines.split(/\r\n|\n|\r/) : lines;
  if (!Array.isArray(list))
    refuse([{ code: "wrong-type", pointer: "", message: "lines are a text or a list of texts" }]);
  const texts = list as readonly unknown[];
  if (texts.length > LINE_COUNT_LIMIT) {
    const message = `there are ${texts.length} lines, and no estimate has more than ${LINE_COUNT_LIMIT}`;
    refuse([{ code: "too-many", pointer: "", message }]);
  }
  const wrong = texts.flatMap((text, index) =>
    typeof text === "string"
      ? []
      : [{ code: "wrong-type" as const, pointer: `/${index}`, message: "a line is a text" }],
  );
  if (wrong.length > 0) refuse(wrong);
  return texts as readonly string[];
}

function checkOptions(options: ReadLinesOptions): ReadLinesOptions {
  const { driveSide, market } = options;
  const issues: Issue[] = [];
  if (driveSide !== undefined && !["left", "right"].includes(driveSide)) {
    const message = `"${driveSide as string}" is no side on which a driver sits`;
    issues.push({ code: "unknown-id", pointer: "/driveSide", message, expected: '"left" or "right"' });
  }
  if (market !== undefined && !Object.hasOwn(MARKETS, market)) {
    const message = `"${market as string}" is no market`;
    const expected = `one of ${Object.keys(MARKETS).join(", ")}`;
    issues.push({ code: "unknown-id", pointer: "/market", message, expected });
  }
  if (issues.length > 0) refuse(issues);
  return options;
}

function refuse(issues: readonly Issue[]): never {
  throw new InputError("input", issues);
}

/** Of a word that is not known, no more is shown; characters. */
const SHOWN = 60;

type LineResult = Omit<ReadLine, "line" | "text">;

const notRead = (why: string): LineResult => ({
  status: "unread",
  operations: [],
  alternatives: [],
  why,
  equipmentHints: [],
});

const ambiguous = (drafts: readonly Draft[], why: string): LineResult => ({
  ...notRead(why),
  status: "ambiguous",
  alternatives: drafts.map(operationsOf),
});

function operationsOf({ operations }: Draft): LineOperation[] {
  return operations.map(({ operation }) => operation);
}

function readLine(text: string, lexicon: Lexicon, driveSide: DriveSide | null): LineResult {
  if (text.trim() === "") return notRead("the line is blank");
  if (text.length > LINE_LENGTH_LIMIT)
    return notRead(`the line has more than ${LINE_LENGTH_LIMIT} characters`);
  const tokens = scanLine(text, (word) => isKnownWord(lexicon, word));
  const { unknown } = lookUpItems(tokens, lexicon);
  const [first] = unknown;
  if (first === undefined) return readTokens(tokens, lexicon, driveSide);
  const word = tokens[first];
  const written = word === undefined ? "" : text.slice(word.start, Math.min(word.end, word.start + SHOWN));
  const why = `the word "${written}" is not known`;
  if (unknown.length > 1 || word === undefined) return notRead(why);
  const meant = readAsMeant(tokens, first, lexicon, driveSide);
  return meant.length === 0 ? notRead(why) : ambiguous(meant, `${why}; it may be misspelt`);
}

/** The readings of a line with a misspelt word, for each word that it may have been meant to be. */
function readAsMeant(
  tokens: readonly Token[],
  at: number,
  lexicon: Lexicon,
  driveSide: DriveSide | null,
): readonly Draft[] {
  const word = tokens[at];
  if (word === undefined) return [];
  const drafts = wordsOneEditAway(word.text, lexicon).flatMap((candidate) => {
    const corrected = tokens.map((token, index) => (index === at ? { ...token, text: candidate } : token));
    const read = draftLine(corrected, lexicon, driveSide);
    return "is" in read ? read.is.map(({ draft }) => draft) : [];
  });
  return distinct(drafts);
}

interface LineDraft {
  readonly draft: Draft;
  readonly hints: readonly EquipmentHint[];
}

function readTokens(tokens: readonly Token[], lexicon: Lexicon, driveSide: DriveSide | null): LineResult {
  const read = draftLine(tokens, lexicon, driveSide);
  if ("why" in read) return notRead(read.why);
  const [only] = read.is;
  if (only === undefined || read.is.length > 1 || only.draft.doubtful) {
    const why =
      read.is.length > 1 ? "the words allow more than one reading" : "the part has no such side or end";
    return ambiguous(
      read.is.map(({ draft }) => draft),
      why,
    );
  }
  const operations = operationsOf(only.draft);
  const isClaim = operations.every(({ action }) => CLAIM_ACTIONS.some((claim) => claim === action));
  return {
    status: isClaim ? "claimed" : "read",
    operations,
    alternatives: [],
    why: null,
    equipmentHints: [...only.hints],
  };
}

/** More readings than anybody chooses from. */
const READING_LIMIT = 8;

function draftLine(
  tokens: readonly Token[],
  lexicon: Lexicon,
  driveSide: DriveSide | null,
): Outcome<readonly LineDraft[]> {
  const { items, unknown, stop } = lookUpItems(tokens, lexicon);
  if (stop !== null) return { why: `the line holds ${stop}` };
  if (unknown.length > 0) return { why: "a word is not known" };
  const described = takeOutDescriptions(items);
  if ("why" in described) return described;
  const drafts: LineDraft[] = [];
  for (const each of described.is) {
    const read = draftDescribed(each, driveSide);
    if ("why" in read) return read;
    drafts.push(...read.is);
  }
  const kept = new Set(distinct(drafts.map(({ draft }) => draft)));
  const readings = drafts.filter(({ draft }) => kept.has(draft));
  return readings.length > READING_LIMIT ? { why: TOO_MANY } : { is: readings };
}

const TOO_MANY = "the words allow more readings than can be listed";

function draftDescribed(
  { core, described }: DescribedLine,
  driveSide: DriveSide | null,
): Outcome<readonly LineDraft[]> {
  const atoms = attachPlaces(core);
  if ("why" in atoms) return atoms;
  const cuts = cutIntoClauses(atoms.is);
  if (cuts === null) return { why: "the line holds more works and parts than one line can" };
  const drafted: { readonly cut: Cut; readonly drafts: readonly Draft[] }[] = [];
  for (const cut of cuts) {
    const drafts = draftOperations(cut.clauses, driveSide);
    if (drafts === null) return { why: TOO_MANY };
    if (drafts.length > 0) drafted.push({ cut, drafts });
  }
  const drafts = chooseCuts(drafted).flatMap((each) => each.drafts);
  if (drafts.length === 0) return { why: reasonForNone(atoms.is) };
  const readings: LineDraft[] = [];
  for (const draft of distinct(drafts)) {
    const hints = readHints(described, draft.operations);
    if (hints === null) return { why: "what is said of a part's equipment is not clear" };
    readings.push({ draft, hints });
  }
  return { is: readings };
}

function reasonForNone(atoms: readonly Atom[]): string {
  if (atoms.length === 0) return "no part and no work is named";
  if (!atoms.some(({ kind }) => kind === "action")) return "nothing says what is done";
  if (!atoms.some(({ kind }) => kind === "part")) return "no part is named that the work is done to";
  return "works, parts and places do not go together";
}
