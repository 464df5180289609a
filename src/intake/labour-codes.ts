import type { ActionId } from "../vocabulary/index.js";

/**
 * What a labour operation code says: `work` all the actions listed, `one-of` at least one of them, `text` that only the
 * words of the line say it, `no-work` that nothing is done to the part because of it.
 */
export type LabourStanding = "work" | "one-of" | "text" | "no-work";

/** What is known of a labour operation code. */
export interface LabourOperation {
  readonly meaning: string;
  readonly standing: LabourStanding;
  /** What is done, in the order of the meaning; with `one-of`, what reaches furthest comes first. */
  readonly actions: readonly ActionId[];
  /** Whether a second public source reads the code the same way. */
  readonly support: "one-source" | "two-sources";
}

/**
 * The labour operation codes of the estimate exchange standard (CIECA EMS and BMS). The document of the standard was not
 * read. That these are the codes is second-hand: classes that an open project generated from the BMS schema in 2018
 * (pstephenmurphy/cieca, LaborOperationEnum); the meanings are its developer's names, and in part those of an open parser
 * that was tried on a real export. Which of our actions a meaning is, is a judgement.
 */
export const LABOUR_OPERATIONS = {
  OP0: text("blank, or entered by hand", "two-sources"),
  OP1: oneOf("refinish or repair", ["repair", "refinish"]),
  OP2: work("remove and install", ["remove-install"], "two-sources"),
  OP3: text("additional repair"),
  OP4: work("alignment", ["adjust"], "two-sources"),
  OP5: work("overhaul", ["overhaul"]),
  OP6: work("refinish", ["refinish"]),
  OP7: work("inspect", ["inspect"]),
  OP8: oneOf("check or adjust", ["adjust", "inspect"]),
  OP9: work("repair", ["repair"], "two-sources"),
  OP10: work("partial repair", ["repair"]),
  OP11: work("remove and replace", ["replace"], "two-sources"),
  OP12: oneOf("partial removal and replacement", ["replace", "section"]),
  OP13: text("additional costs"),
  OP14: text("additional operations"),
  OP15: work("blend", ["blend"], "two-sources"),
  OP16: text("sublet: bought from another shop, whatever it is", "two-sources"),
  OP17: noWork("related prior damage"),
  OP18: noWork("appearance allowance: paid instead of repaired"),
  OP19: noWork("unrelated prior damage"),
  OP20: work("remove and reinstall", ["remove-install"]),
  OP21: work("remove and repair", ["remove-install", "repair"]),
  OP22: oneOf("repair first, and replace if that fails", ["replace", "repair"]),
  OP23: text("redo"),
  OP24: text("chip guard"),
  OP25: work("two-tone paint", ["refinish"]),
  OP26: work("paintless dent repair", ["paintless-repair"]),
} as const satisfies Readonly<Record<string, LabourOperation>>;

/** A labour operation code of the list. */
export type LabourCode = keyof typeof LABOUR_OPERATIONS;

/** What the exchange standard's codes for kinds of labour and of parts mean, as far as that is certain enough to use. */
export interface ExchangeCode {
  /** Null where it is not known, or where sources contradict one another. */
  readonly meaning: string | null;
  /** Why the meaning is open; null where it is not. */
  readonly why: string | null;
}

const NOT_FOUND: ExchangeCode = {
  meaning: null,
  why: "The code is listed, but nothing that was read explains it.",
};

/** Kinds of labour. List: as for the operations; meanings of the bare three-letter codes second-hand, the others open. */
export const LABOUR_TYPES: ReadonlyMap<string, ExchangeCode> = new Map([
  ...["LA1", "LA2", "LA3", "LA4", "LA2S", "LA2U", "LA3S", "LA3U"].map(open),
  ...["LABA", "LABR", "LABS", "LACG", "LADT", "LAE2", "LAE3", "LAET", "LAFA", "LAFS"].map(open),
  ...["LAGA", "LAGS", "LAI", "LAMA", "LAMS", "LAP", "LARA", "LARN", "LARS"].map(open),
  ...["LASA", "LASS", "LASU", "LATT", "LATU", "LAUT"].map(open),
  known("LAB", "body"),
  known("LAD", "diagnostic"),
  known("LAE", "electrical"),
  known("LAF", "frame"),
  known("LAG", "glass"),
  known("LAM", "mechanical"),
  known("LAR", "refinish"),
  known("LAS", "structural"),
  known("LAU", "defined by the user"),
]);

/** Kinds of parts. The sources read PAN, PAA, PAL and PAO alike; three others they do not, and those decide nothing here. */
export const PART_TYPES: ReadonlyMap<string, ExchangeCode> = new Map([
  known("PAN", "new"),
  known("PAA", "aftermarket"),
  known("PAL", "like kind and quality: recycled"),
  known("PAO", "other"),
  disputed("PAC", "rechromed", "certified"),
  disputed("PAR", "recored", "remanufactured"),
  [
    "PAM",
    { meaning: null, why: "Remembered as remanufactured, which another source gives as the meaning of PAR." },
  ],
  ...["PAD", "PAE", "PAG", "PAGN", "PAND", "PAP", "PAS"].map(open),
]);

/** What a labour code in an estimate says; `code` is its spelling in the list. */
export interface LabourReading extends LabourOperation {
  readonly code: LabourCode;
}

/**
 * Reads a labour operation code: capital or small letters, blanks around it or before the number ("op 11").
 * A number by itself is no code, since a quantity or a line number looks the same; nor is one with a zero before it.
 * @returns what the code says, or null where it is none of the list
 */
export function actionOfLabourCode(code: string): LabourReading | null {
  // Codes are short; a text of any length is not worth folding. Only ASCII letters fold.
  if (code.length > 40) return null;
  const capitals = code.trim().replace(/[a-z]/g, (letter) => letter.toUpperCase());
  const written = capitals.replace(/^OP +/, "OP");
  return isLabourCode(written) ? { code: written, ...LABOUR_OPERATIONS[written] } : null;
}

function isLabourCode(code: string): code is LabourCode {
  return Object.hasOwn(LABOUR_OPERATIONS, code);
}

type Support = LabourOperation["support"];

function work(
  meaning: string,
  actions: readonly ActionId[],
  support: Support = "one-source",
): LabourOperation {
  return { meaning, standing: "work", actions, support };
}

function oneOf(meaning: string, actions: readonly ActionId[]): LabourOperation {
  return { meaning, standing: "one-of", actions, support: "one-source" };
}

function text(meaning: string, support: Support = "one-source"): LabourOperation {
  return { meaning, standing: "text", actions: [], support };
}

function noWork(meaning: string): LabourOperation {
  return { meaning, standing: "no-work", actions: [], support: "one-source" };
}

function known(code: string, meaning: string): readonly [string, ExchangeCode] {
  return [code, { meaning, why: null }];
}

function open(code: string): readonly [string, ExchangeCode] {
  return [code, NOT_FOUND];
}

function disputed(code: string, one: string, other: string): readonly [string, ExchangeCode] {
  const why = `Remembered as ${one}; an open parser reads it as ${other}.`;
  return [code, { meaning: null, why }];
}
