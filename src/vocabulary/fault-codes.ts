import { idsOf, type Term } from "./term.js";

/** What a fault code says about a sensor, as far as calibration is concerned. */
export const FAULT_MEANINGS = {
  misaligned: {
    label: "misaligned",
    meaning: "The sensor finds its own direction outside the range that it can correct.",
  },
  "not-calibrated": {
    label: "not calibrated",
    meaning: "The sensor holds no valid calibration or zero point.",
  },
  "not-configured": {
    label: "not configured",
    meaning: "The module lacks valid software or has not been told which vehicle it is in.",
  },
  "wrong-mounting-position": {
    label: "wrong mounting position",
    meaning: "The sensor sits, or is assembled, other than the vehicle expects.",
  },
  blocked: { label: "blocked", meaning: "Dirt, ice or an object keeps the sensor from seeing." },
  other: {
    label: "another fault",
    meaning: "The fault is of another kind and has to be diagnosed before calibrating.",
  },
} as const satisfies Record<string, Term>;

export type FaultMeaning = keyof typeof FAULT_MEANINGS;
export const FAULT_MEANING_IDS: readonly FaultMeaning[] = idsOf(FAULT_MEANINGS);

/** A failure-type byte that matters to calibration. */
export interface FailureType {
  readonly byte: number;
  readonly says: string;
  readonly meaning: FaultMeaning;
  /** Whether the byte was read in public tables of SAE J2012-DA or is given from memory. */
  readonly support: "public-tables" | "from-memory";
}

/**
 * The failure-type bytes that matter to calibration, after SAE J2012-DA (ISO 15031-6). The text of the standard was not
 * read: most entries agree between public tables that quote it, and 0x56 is from memory. Grouping them under a meaning
 * is our judgement. 0x46, 0x4A and 0x96 are listed because they sound like calibration, yet call for diagnosis.
 */
export const FAILURE_TYPES: readonly FailureType[] = [
  { byte: 0x46, says: "calibration or parameter memory failure", meaning: "other", support: "public-tables" },
  { byte: 0x4a, says: "incorrect component installed", meaning: "other", support: "public-tables" },
  { byte: 0x51, says: "not programmed", meaning: "not-configured", support: "public-tables" },
  { byte: 0x54, says: "missing calibration", meaning: "not-calibrated", support: "public-tables" },
  { byte: 0x55, says: "not configured", meaning: "not-configured", support: "public-tables" },
  {
    byte: 0x56,
    says: "invalid or incompatible configuration",
    meaning: "not-configured",
    support: "from-memory",
  },
  {
    byte: 0x57,
    says: "invalid or incompatible software",
    meaning: "not-configured",
    support: "public-tables",
  },
  {
    byte: 0x76,
    says: "wrong mounting position",
    meaning: "wrong-mounting-position",
    support: "public-tables",
  },
  { byte: 0x78, says: "alignment or adjustment incorrect", meaning: "misaligned", support: "public-tables" },
  { byte: 0x95, says: "incorrect assembly", meaning: "wrong-mounting-position", support: "public-tables" },
  { byte: 0x96, says: "internal failure", meaning: "other", support: "public-tables" },
  { byte: 0x97, says: "operation obstructed or blocked", meaning: "blocked", support: "public-tables" },
];

/**
 * Reads what a failure-type byte (0 to 255) means for calibration; a byte without an entry of its own is "other".
 * Source: SAE J2012-DA as quoted in public tables, 0x56 from memory; see `FAILURE_TYPES`.
 */
export function meaningOfFailureType(byte: number): FaultMeaning {
  return FAILURE_TYPES.find((type) => type.byte === byte)?.meaning ?? "other";
}

const CODE_WITH_FAILURE_TYPE = /^[PCBU][0-3][0-9A-F]{3}-([0-9A-F]{2})$/i;

/**
 * Reads the failure-type byte at the end of a fault code such as "C1A67-54" (0x54); null where the code carries none.
 * The code in front of it is not interpreted, since most chassis and body codes are each maker's own.
 */
export function failureTypeOf(code: string): number | null {
  const digits = CODE_WITH_FAILURE_TYPE.exec(code.trim())?.[1];
  return digits === undefined ? null : Number.parseInt(digits, 16);
}
