import { idsOf, type Term } from "./term.js";

/** How a task is done. */
export const METHODS = {
  static: { label: "static", meaning: "Parked in the bay, in front of targets or an aiming device." },
  dynamic: { label: "dynamic", meaning: "Driven on the road until the sensor has learned enough." },
  "static-and-dynamic": { label: "static and dynamic", meaning: "Parked with targets first, then driven." },
  "static-or-dynamic": {
    label: "static or dynamic",
    meaning: "Either parked with targets or driven, as the maker's procedure lets one choose.",
  },
  none: { label: "none", meaning: "The task is not divided into a parked and a driven way." },
  unknown: { label: "unknown", meaning: "Nobody has stated it: only the maker's procedure can." },
} as const satisfies Record<string, Term>;

export type Method = keyof typeof METHODS;
export const METHOD_IDS: readonly Method[] = idsOf(METHODS);
