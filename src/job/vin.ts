import { InputError, type Issue } from "../errors.js";
import { MARKETS, type Market } from "../vocabulary/zones.js";

/** The class of the vehicle as far as the reading of its VIN depends on it; "light" is up to 4536 kg (10 000 lb). */
export type VehicleClass = "passenger-car" | "light-multipurpose-or-truck" | "other" | "unknown";

/** What is known of the vehicle beside its VIN. */
export interface VinContext {
  readonly market: Market | "unknown";
  readonly vehicleClass: VehicleClass;
}

/** Whether the text has the form of a VIN at all. */
export type VinForm = "valid" | "wrong-length" | "wrong-character";

/**
 * What the check digit says. "not-used-here": the market does not bind it, so it proves nothing either way;
 * "cannot-tell": it differs, but whether the market binds it is not known; "unreadable": the text is not a VIN.
 */
export type CheckDigitStanding = "matches" | "differs" | "not-used-here" | "cannot-tell" | "unreadable";

/** Something a reader of the VIN should know that is no fault. */
export interface VinNote {
  readonly id:
    | "low-volume-maker"
    | "check-digit-differs-unbound"
    | "model-year-cycle-open"
    | "model-year-not-bound-here"
    | "no-model-year";
  readonly says: string;
}

/** What a VIN says by itself. */
export interface VinReading {
  /** Trimmed, and in upper case. */
  readonly vin: string;
  readonly form: VinForm;
  readonly checkDigit: CheckDigitStanding;
  /** The ninth character that follows from the others; null where the text is not a VIN. */
  readonly expectedDigit: string | null;
  /** Ascending: one year is known, two leave it open between them, none says nothing. */
  readonly modelYears: readonly number[];
  readonly notes: readonly VinNote[];
  /** Faults, with the pointer "" for the VIN itself: whoever knows its place in a document puts that in. */
  readonly issues: readonly Issue[];
}

/** The weighted sum of a VIN, its remainder by 11, and the check digit that the remainder stands for. */
export interface CheckDigit {
  readonly sum: number;
  readonly remainder: number;
  readonly digit: string;
}

const LENGTH = 17;

/** 49 CFR 565.15(c): the numbers that stand for the letters; I, O and Q have none, because they never occur. */
const LETTER_VALUES: ReadonlyMap<string, number> = new Map([
  ...valuesOf("ABCDEFGH", 1),
  ...valuesOf("JKLMN", 1),
  ...valuesOf("P", 7),
  ...valuesOf("R", 9),
  ...valuesOf("STUVWXYZ", 2),
  ...valuesOf("0123456789", 0),
]);

/** 49 CFR 565.15(c): the weights of positions 1 to 17; the check digit itself weighs nothing. */
const WEIGHTS: readonly number[] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

const CHECK_DIGITS = "0123456789X";

/** 49 CFR 565.15, table of model years, from memory: 1980 to 2009 in sequence, then the same again from 2010. */
const YEAR_CHARACTERS = "ABCDEFGHJKLMNPRSTVWXY123456789";
const FIRST_YEAR = 1980;
const CYCLE_YEARS = 30;

const NOTES: Readonly<Record<VinNote["id"], string>> = {
  "low-volume-maker":
    "Position 3 is 9: a maker of few vehicles, whose identifier is completed by positions 12 to 14.",
  "check-digit-differs-unbound":
    "Position 9 is not the check digit that the other characters give; outside the United States and Canada that is no proof of a wrong VIN.",
  "model-year-cycle-open":
    "The model-year character comes round every thirty years, and nothing known about this vehicle decides which round it is.",
  "model-year-not-bound-here":
    "Outside the United States and Canada position 10 need not state the model year, and position 7 does not decide its round.",
  "no-model-year": "Position 10 holds a character that stands for no model year.",
};

function valuesOf(characters: string, first: number): readonly (readonly [string, number])[] {
  return [...characters].map((character, index) => [character, first + index] as const);
}

/**
 * Computes the check digit that belongs in position 9.
 * @param vin seventeen characters; position 9 may hold anything, since it weighs nothing
 * @throws InputError (vin-form) where a character other than the ninth cannot stand in a VIN, or the length is wrong
 * @see 49 CFR 565.15(c)
 */
export function checkDigitOf(vin: string): CheckDigit {
  const characters = [...normaliseVin(vin)];
  const fault = findFormFault(characters.map((character, index) => (index === 8 ? "0" : character)));
  if (fault !== null) throw new InputError("input", [fault.issue]);
  return weigh(characters);
}

/**
 * Reads what a VIN says by itself: form, check digit and model year; a faulty VIN is described, never thrown.
 * The check digit binds where the market says so (us and ca). Position 7 decides the model year's round (a digit until 2009, a
 * letter from 2010) only there, and only for passenger cars and light multipurpose vehicles and trucks.
 * @param vin upper or lower case, blanks around it are dropped
 * @see 49 CFR 565.15; 73 FR 23367 for position 7 (read in a quotation); elsewhere ISO 3779, from memory
 */
export function readVin(vin: string, context: VinContext): VinReading {
  const normalised = normaliseVin(vin);
  const characters = [...normalised];
  const fault = findFormFault(characters);
  if (fault !== null) {
    return {
      vin: normalised,
      form: fault.form,
      checkDigit: "unreadable",
      expectedDigit: null,
      modelYears: [],
      notes: [],
      issues: [fault.issue],
    };
  }
  const { digit } = weigh(characters);
  const checkDigit = judgeCheckDigit(characters[8] === digit, context.market);
  const { years, note } = readModelYears(characters, context);
  const noteIds: readonly VinNote["id"][] = [
    ...(characters[2] === "9" ? (["low-volume-maker"] as const) : []),
    ...(characters[8] !== digit && checkDigit !== "differs"
      ? (["check-digit-differs-unbound"] as const)
      : []),
    ...(note === null ? [] : [note]),
  ];
  return {
    vin: normalised,
    form: "valid",
    checkDigit,
    expectedDigit: digit,
    modelYears: years,
    notes: noteIds.map((id) => ({ id, says: NOTES[id] })),
    issues: checkDigit === "differs" ? [describeDifference(characters[8] ?? "", digit)] : [],
  };
}

/** Letters outside ASCII stay as they are: folding them could make an I of a letter that is none, or two of one. */
function normaliseVin(vin: string): string {
  return vin.trim().replace(/[a-z]/g, (letter) => letter.toUpperCase());
}

function findFormFault(
  characters: readonly string[],
): { readonly form: Exclude<VinForm, "valid">; readonly issue: Issue } | null {
  const expected = "seventeen characters: digits, and letters other than I, O and Q";
  const index = characters.findIndex((character) => !LETTER_VALUES.has(character));
  const character = characters[index];
  // The length comes first: in a text that is no VIN at all, a single character says little.
  if (characters.length !== LENGTH) {
    return {
      form: "wrong-length",
      issue: {
        code: "vin-form",
        pointer: "",
        message: `the VIN has ${characters.length} character${characters.length === 1 ? "" : "s"}`,
        expected,
      },
    };
  }
  if (character === undefined) return null;
  const lookalike = LOOKALIKES.get(character);
  return {
    form: "wrong-character",
    issue: {
      code: "vin-form",
      pointer: "",
      message: `the VIN has "${character}" in position ${index + 1}, which never stands in a VIN`,
      expected,
      ...(lookalike === undefined ? {} : { nearest: lookalike }),
    },
  };
}

/** The three letters were left out because they are taken for these digits. */
const LOOKALIKES: ReadonlyMap<string, string> = new Map([
  ["I", "1"],
  ["O", "0"],
  ["Q", "0"],
]);

function weigh(characters: readonly string[]): CheckDigit {
  let sum = 0;
  for (const [index, weight] of WEIGHTS.entries()) {
    sum += weight * (LETTER_VALUES.get(characters[index] ?? "") ?? 0);
  }
  const remainder = sum % CHECK_DIGITS.length;
  return { sum, remainder, digit: CHECK_DIGITS.charAt(remainder) };
}

function bindsVin(market: VinContext["market"]): boolean {
  return market !== "unknown" && MARKETS[market].checkDigitBinding;
}

function judgeCheckDigit(same: boolean, market: VinContext["market"]): CheckDigitStanding {
  if (bindsVin(market)) return same ? "matches" : "differs";
  if (market !== "unknown") return "not-used-here";
  return same ? "matches" : "cannot-tell";
}

function describeDifference(found: string, digit: string): Issue {
  return {
    code: "vin-check-digit",
    pointer: "",
    message: `the VIN has "${found}" in position 9, but its other characters give "${digit}"`,
    expected: "the VIN as it stands on the vehicle",
  };
}

function readModelYears(
  characters: readonly string[],
  { market, vehicleClass }: VinContext,
): { readonly years: readonly number[]; readonly note: VinNote["id"] | null } {
  const index = YEAR_CHARACTERS.indexOf(characters[9] ?? "?");
  if (index < 0) return { years: [], note: "no-model-year" };
  const early = FIRST_YEAR + index;
  const late = early + CYCLE_YEARS;
  if (market !== "unknown" && !bindsVin(market))
    return { years: [early, late], note: "model-year-not-bound-here" };
  const decides = vehicleClass === "passenger-car" || vehicleClass === "light-multipurpose-or-truck";
  if (market === "unknown" || !decides) return { years: [early, late], note: "model-year-cycle-open" };
  return { years: [/[0-9]/.test(characters[6] ?? "") ? early : late], note: null };
}
