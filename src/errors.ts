/** What a code says, and what the person who meets it can do. */
interface ErrorText {
  readonly says: string;
  readonly hint: string;
}

/** Every code an issue can carry, with its meaning and its remedy; the list is closed and codes are never reused. */
export const ERROR_CODES = {
  "not-a-file": {
    says: "The path does not lead to a file that can be read.",
    hint: "Check the spelling of the path, or give - to read standard input.",
  },
  "unreadable-file": {
    says: "The file is there but could not be read.",
    hint: "Check who may read it.",
  },
  "unwritable-file": {
    says: "The result could not be written where it was asked for.",
    hint: "Check that the folder exists and may be written to.",
  },
  "empty-file": {
    says: "The input holds nothing.",
    hint: "Give a file with content; an empty job is still an object.",
  },
  "not-utf8": {
    says: "The bytes are not UTF-8 text.",
    hint: "Save the file as UTF-8.",
  },
  "not-json": {
    says: "The text is not JSON.",
    hint: "Look at the place named: often a comma too many, a comment or a missing quotation mark.",
  },
  "too-large": {
    says: "The input is longer than the limit.",
    hint: "Split it into several documents.",
  },
  "too-deep": {
    says: "Objects and lists are nested deeper than any valid document.",
    hint: "Compare the document with its schema.",
  },
  "too-many": {
    says: "A list holds more entries than the limit.",
    hint: "Split the document.",
  },
  "forbidden-key": {
    says: "The key is reserved by the language and is never read from input.",
    hint: "Rename the key.",
  },
  "duplicate-key": {
    says: "An object names the same key twice, and only one of the two could count.",
    hint: "Keep one of them.",
  },
  "unknown-schema": {
    says: "The document does not name a schema and version that this release reads.",
    hint: "Write the schema name with its version, as in repair-calibration/job@1.",
  },
  "wrong-type": {
    says: "The value is of another type than the one asked for.",
    hint: "Numbers, true and false stand without quotation marks; a list stands in square brackets.",
  },
  "unknown-key": {
    says: "The key has no meaning at this place.",
    hint: "Correct its spelling, or move it under extensions.",
  },
  "missing-key": {
    says: "A key that this place cannot do without is missing.",
    hint: "Add it; where the fact is not known, look whether the schema has a word for unknown.",
  },
  "unknown-id": {
    says: "The word is not in the closed list for this place.",
    hint: "Choose a word from the list; docs/generated/words.md in the package has the words of the trade.",
  },
  "unknown-reference": {
    says: "The value refers to an entry that the document does not hold.",
    hint: "Correct the reference, or add the entry.",
  },
  "duplicate-id": {
    says: "Two entries carry the same id, so that a reference to it would be open.",
    hint: "Give one of them another id.",
  },
  "invalid-value": {
    says: "The value has the right type but cannot be true.",
    hint: "Read the message: it says what is allowed.",
  },
  "out-of-range": {
    says: "The number lies outside what is physically or formally possible.",
    hint: "Check the unit: lengths are millimetres, angles degrees, speeds km/h, pressures kPa.",
  },
  "invalid-position": {
    says: "The sensor has no such position.",
    hint: "Use one of its positions, or leave the position out to speak of all of them.",
  },
  "vin-form": {
    says: "A VIN has seventeen characters: digits, and letters other than I, O and Q.",
    hint: "Read the VIN again from the vehicle; I and O are usually 1 and 0.",
  },
  "vin-check-digit": {
    says: "The ninth character of the VIN does not follow from the other sixteen, as it must in this market.",
    hint: "Read the VIN again from the vehicle; if it is right, check the market.",
  },
  "pack-unreadable": {
    says: "A rule pack or procedure pack could not be read as one.",
    hint: "A pack is a folder with pack.json, or one JSON document that names its schema.",
  },
  "pack-conflict": {
    says: "Two packs carry the same id.",
    hint: "Load one of them, or rename one.",
  },
  "rule-shape": {
    says: "The rule does not have the form of a rule.",
    hint: "Compare it with the schema of a rule.",
  },
  "rule-unknown-fact": {
    says: "A condition asks for a fact that no job and no rule states.",
    hint: "Correct the name of the fact.",
  },
  "rule-unknown-operator": {
    says: "A condition uses an operator outside the closed list.",
    hint: "Choose an operator from the list.",
  },
  "rule-wrong-value": {
    says: "A condition compares a fact with a value that the fact can never have.",
    hint: "Choose a value from the list of the fact's values.",
  },
  "rule-without-examples": {
    says: "The rule lacks one of its three lists of examples.",
    hint: "Add facts under which it fires, stays silent and cannot tell.",
  },
  "rule-example-broken": {
    says: "The rule does not do what one of its examples says.",
    hint: "Correct the rule or the example, whichever is wrong.",
  },
  "rule-duplicate-id": {
    says: "Two rules carry the same id.",
    hint: "Give one of them another id; the id of a withdrawn rule is not free again.",
  },
  "rule-unknown-reference": {
    says: "The rule refers to a rule or a source that no loaded pack holds.",
    hint: "Correct the reference, or load the pack that holds it.",
  },
  "rule-conflict": {
    says: "Two rules conclude what cannot both be true, and neither is an exception to the other.",
    hint: "Make one an exception to the other, or narrow one of them.",
  },
  "rule-cycle": {
    says: "A rule rests on its own conclusion by way of a negation or an exception.",
    hint: "Cut the circle at one of the rules named.",
  },
  "order-cycle": {
    says: "The order asked for has no beginning: each of the steps named waits for another of them.",
    hint: "Take one of the order statements out.",
  },
  "procedure-conflict": {
    says: "Two procedures for the same sensor and task cannot both be followed.",
    hint: "Load the one that applies to this vehicle.",
  },
  "waiver-without-citation": {
    says: "A waiver does not name the document that permits it or the rules that it waives.",
    hint: "Cite the document and section, and name the rules.",
  },
  "missing-measurement": {
    says: "A value that the question asked needs was not given.",
    hint: "Measure it and add it.",
  },
  usage: {
    says: "The command cannot be carried out as written.",
    hint: "See --help for the command.",
  },
} as const satisfies Readonly<Record<string, ErrorText>>;

/** A code of the closed list. */
export type ErrorCode = keyof typeof ERROR_CODES;

/** One thing that is wrong with an input, at one place. */
export interface Issue {
  readonly code: ErrorCode;
  /** JSON pointer into the document; "" is the whole document. */
  readonly pointer: string;
  /** What is wrong, as a sentence without its full stop. */
  readonly message: string;
  readonly expected?: string;
  /** The known word that the one given was probably meant to be. */
  readonly nearest?: string;
  readonly file?: string;
  /** The line of the file, counted from 1, where whoever read the file knows it. */
  readonly line?: number;
}

/** What was refused: a document of the user's, a rule pack or a procedure pack. */
export type InputKind = "input" | "rule-pack" | "procedure-pack";

const REFUSED: Readonly<Record<InputKind, string>> = {
  input: "the input was refused",
  "rule-pack": "the rule pack was refused",
  "procedure-pack": "the procedure pack was refused",
};

/** An input that was refused, with every issue found; the message is the first issue and the number of the others. */
export class InputError extends Error {
  override readonly name = "InputError";
  readonly kind: InputKind;
  readonly issues: readonly Issue[];

  constructor(kind: InputKind, issues: readonly Issue[]) {
    super(summarise(kind, issues));
    this.kind = kind;
    this.issues = Object.freeze([...issues]);
  }
}

function summarise(kind: InputKind, issues: readonly Issue[]): string {
  const first = issues[0];
  if (first === undefined) return REFUSED[kind];
  if (issues.length === 1) return formatIssue(first);
  return `${formatIssue(first)} (and ${issues.length - 1} more)`;
}

/**
 * Writes an issue as one line: `FILE:LINE: /pointer: message; expected …; did you mean "…"?`, without the parts it lacks.
 * Line breaks and other control characters that came in with the input are written as escapes.
 */
export function formatIssue(issue: Issue): string {
  const file =
    issue.file === undefined || issue.line === undefined ? issue.file : `${issue.file}:${issue.line}`;
  const place = [file, issue.pointer].filter((part) => part !== undefined && part !== "");
  const hints = [
    issue.message,
    ...(issue.expected === undefined ? [] : [`expected ${issue.expected}`]),
    ...(issue.nearest === undefined ? [] : [`did you mean "${issue.nearest}"?`]),
  ];
  return escapeControls([...place, hints.join("; ")].join(": "));
}

/** Input ends up on terminals and in line-based logs, where a control character could forge a line or a colour. */
function escapeControls(text: string): string {
  return text.replace(
    /[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/**
 * Finds the word of a list that a misspelt word was probably meant to be.
 * Distance counts letters inserted, left out, replaced, or swapped with their neighbour (no letter edited twice); at
 * most a third of the word's length, and always one, may differ; capitals count as small letters. Of equally near words
 * the first by code unit wins. Where none is near, it is the only one that goes on where the word ends, if there is one.
 */
export function nearestOf(word: string, among: readonly string[]): string | undefined {
  const small = word.toLowerCase();
  const limit = Math.max(1, Math.floor(word.length / 3));
  let nearest: string | undefined;
  let least = limit + 1;
  for (const candidate of among) {
    // The distance is never less than the difference in length: this also bounds the work for a very long word.
    if (Math.abs(candidate.length - small.length) > limit) continue;
    const distance = measureDistance(small, candidate.toLowerCase());
    if (distance > least || distance > limit) continue;
    if (distance === least && nearest !== undefined && nearest <= candidate) continue;
    nearest = candidate;
    least = distance;
  }
  return nearest ?? onlyOneThatBeginsWith(small, among);
}

function onlyOneThatBeginsWith(word: string, among: readonly string[]): string | undefined {
  if (word.length < 3) return undefined;
  const longer = among.filter((each) => each.toLowerCase().startsWith(word));
  return longer.length === 1 ? longer[0] : undefined;
}

/** Damerau-Levenshtein distance in its restricted form, row by row. */
function measureDistance(from: string, to: string): number {
  let beforePrevious: readonly number[] = [];
  let previous: readonly number[] = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= to.length; column += 1) {
      const replaced = at(previous, column - 1) + (from[row - 1] === to[column - 1] ? 0 : 1);
      const swaps =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      current.push(
        Math.min(
          at(previous, column) + 1,
          at(current, column - 1) + 1,
          replaced,
          swaps ? at(beforePrevious, column - 2) + 1 : Infinity,
        ),
      );
    }
    beforePrevious = previous;
    previous = current;
  }
  return at(previous, to.length);
}

function at(row: readonly number[], column: number): number {
  return row[column] ?? Infinity;
}
