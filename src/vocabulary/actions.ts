import { idsOf, type Term } from "./term.js";

/** What an operation does to its component. */
export const ACTIONS = {
  replace: { label: "remove and replace (R&R)", meaning: "The part comes off and a different one goes on." },
  "remove-install": {
    label: "remove and install (R&I)",
    meaning: "The part comes off so that others can be reached, and the same one goes back.",
  },
  overhaul: {
    label: "overhaul",
    meaning: "The assembly comes off, is taken apart, rebuilt with some new parts perhaps, and goes back.",
  },
  repair: {
    label: "repair",
    meaning: "Damage is reshaped, filled or plastic-welded on a part that stays in use.",
  },
  "paintless-repair": {
    label: "paintless dent repair (PDR)",
    meaning: "A dent is worked out from behind or by pulling, without heat, filler or paint.",
  },
  refinish: { label: "refinish", meaning: "The whole part is painted." },
  blend: { label: "blend", meaning: "Colour is faded into part of a panel and all of it is cleared." },
  section: {
    label: "section",
    meaning: "A portion of a welded part is cut out and a new portion is joined in.",
  },
  straighten: { label: "straighten", meaning: "A bent part is pulled or pressed back to its dimensions." },
  adjust: { label: "adjust", meaning: "The part's position or setting is changed while it stays fitted." },
  rotate: { label: "rotate", meaning: "Wheels change places on the same vehicle." },
  disconnect: { label: "disconnect", meaning: "The electrical connection is opened for a time." },
  program: { label: "program", meaning: "Software or configuration is written to a module." },
  install: { label: "install", meaning: "An accessory that was not there is added." },
  modify: { label: "modify", meaning: "The vehicle is changed away from how it was built." },
  inspect: {
    label: "inspect",
    meaning: "The part is looked at or measured, and nothing about it is changed.",
  },
  calibrate: {
    label: "calibrate",
    meaning: "The document claims a calibration, reset or aim, which is weighed and never a cause.",
  },
  scan: {
    label: "scan",
    meaning: "The document claims a reading of fault codes, which is weighed and never a cause.",
  },
} as const satisfies Record<string, Term>;

export type ActionId = keyof typeof ACTIONS;
export const ACTION_IDS: readonly ActionId[] = idsOf(ACTIONS);

/** Actions by which a document claims work that the plan itself decides about. */
export const CLAIM_ACTIONS = ["calibrate", "scan"] as const satisfies readonly ActionId[];
