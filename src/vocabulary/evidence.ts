import { idsOf, type Term } from "./term.js";

/** Records that prove that something was done. */
export const EVIDENCE = {
  "pre-repair-scan": {
    label: "pre-repair scan",
    meaning: "All modules' fault codes as the vehicle arrived.",
  },
  "pre-calibration-scan": {
    label: "pre-calibration scan",
    meaning: "All modules' fault codes after the repair and before the first calibration.",
  },
  "post-repair-scan": {
    label: "post-repair scan",
    meaning: "All modules' fault codes after the last calibration and drive.",
  },
  "calibration-record": {
    label: "calibration record",
    meaning: "The result of the calibration with its measured values and the vehicle's identity.",
  },
  "structural-measurement": {
    label: "structural measurement",
    meaning: "The body's measuring points before and after the structural work, against the maker's values.",
  },
  "setup-record": {
    label: "set-up record",
    meaning: "Where targets and vehicle stood, with distances, heights and reference line as measured.",
  },
  "function-check": {
    label: "function check",
    meaning: "A note of what was operated and how the system responded.",
  },
  "battery-support": {
    label: "battery support",
    meaning: "The battery's voltage while modules were awake, and what supplied it.",
  },
  "wheel-alignment": {
    label: "wheel alignment printout",
    meaning: "All wheels' angles before and after, with run-out compensated.",
  },
  "ride-height": {
    label: "ride-height sheet",
    meaning: "The heights of the four corners and the datum used.",
  },
  "tyre-pressure": {
    label: "tyre sheet",
    meaning: "Sizes, tread depths and cold pressures of the four tyres.",
  },
  "film-thickness": {
    label: "film-thickness readings",
    meaning: "The readings in the radar's window, point by point, with the gauge used.",
  },
  "floor-survey": {
    label: "floor survey",
    meaning: "Heights of the floor points under vehicle and targets.",
  },
  "part-identification": {
    label: "part identification",
    meaning: "Number, origin and variant of the part that was fitted.",
  },
  inspection: {
    label: "inspection record",
    meaning: "What was looked at, what was found, and whether it passed.",
  },
  "drive-log": { label: "drive log", meaning: "Speed and time on the road of a dynamic calibration." },
  "road-test": { label: "road-test note", meaning: "Where and how the vehicle was driven, and what it did." },
  "repairs-complete": {
    label: "repairs complete",
    meaning: "A statement that every part is fitted and fastened, with the time.",
  },
  "adhesive-cure": {
    label: "adhesive cure",
    meaning: "The adhesive, the time of bonding and the conditions in which it cured.",
  },
  "customer-notice": {
    label: "customer notice",
    meaning: "The written statement to the customer of what stays open and what may be degraded by it.",
  },
} as const satisfies Record<string, Term>;

export type EvidenceId = keyof typeof EVIDENCE;
export const EVIDENCE_IDS: readonly EvidenceId[] = idsOf(EVIDENCE);
