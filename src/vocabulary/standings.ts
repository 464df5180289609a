import type { Term } from "./term.js";

/** How firm a requirement is, strongest first. */
export const STANDING_IDS = ["required", "presumed", "inspect-first", "undetermined"] as const;
export type Standing = (typeof STANDING_IDS)[number];

/** The standings with what each one means. */
export const STANDINGS: Readonly<Record<Standing, Term>> = {
  required: {
    label: "required",
    meaning: "Do it: practice across makers asks for it, or the maker's own procedure does.",
  },
  presumed: {
    label: "presumed",
    meaning: "Do it, unless the maker's procedure for this vehicle says otherwise and is cited.",
  },
  "inspect-first": {
    label: "inspect first",
    meaning: "Do the named inspection, and the task too if it fails or if the maker's procedure asks for it.",
  },
  undetermined: {
    label: "undetermined",
    meaning: "Whether anything is due depends on facts that nobody has stated yet.",
  },
};

/** Tells whether standing `a` is strictly stronger than standing `b`. */
export function isStronger(a: Standing, b: Standing): boolean {
  return STANDING_IDS.indexOf(a) < STANDING_IDS.indexOf(b);
}

/** Finds the strongest of some standings; null when there are none. */
export function strongest(standings: readonly Standing[]): Standing | null {
  return STANDING_IDS.find((standing) => standings.includes(standing)) ?? null;
}
