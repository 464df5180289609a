import { idsOf, type Term } from "./term.js";

/** An inspection: what it is for, what to look at, and what counts as failing. */
export interface InspectionTerm extends Term {
  readonly lookAt: string;
  readonly failsWhen: string;
}

/** The inspections that can stand before a calibration. Common practice, no source. */
export const INSPECTIONS = {
  "mount-inspection": {
    label: "mount inspection",
    meaning: "Finds out whether the sensor still sits as it was built in.",
    lookAt: "Bracket and its bond, tabs and fasteners, and the sensor's angle read with an inclinometer.",
    failsWhen:
      "Anything is bent, cracked, loose, shimmed, drilled anew or glued, or the angle lies outside the procedure.",
  },
  "alignment-measurement": {
    label: "wheel alignment measurement",
    meaning: "Finds out whether axles and thrust line are where the maker wants them.",
    lookAt: "A printout of all four wheels, taken with run-out compensated.",
    failsWhen: "Any angle is out of specification, or the steering wheel is off centre.",
  },
  "ride-height-measurement": {
    label: "ride height measurement",
    meaning: "Finds out whether the body stands at its height and level.",
    lookAt: "All four corners from one stated datum: hub to arch, or ground to body.",
    failsWhen: "A corner, or the difference between two sides, is outside the maker's limits.",
  },
  "film-thickness-measurement": {
    label: "film thickness measurement",
    meaning: "Finds out whether the paint in front of a radar lets its beam through.",
    lookAt:
      "At least five points in the radar's window with an ultrasonic gauge for plastic, on which magnetic and eddy-current gauges read nothing.",
    failsWhen:
      "A reading is over the limit, or filler or weld is found; without a known limit it stays undecided.",
  },
  "view-inspection": {
    label: "view inspection",
    meaning: "Finds out whether the sensor has a clear view in the state in which the vehicle is used.",
    lookAt: "Window, lens, glass and shroud, with accessories, plates and stickers as in use.",
    failsWhen:
      "Anything stands in the view, the glass distorts or is hazy, or a shield or shroud is missing.",
  },
  "image-inspection": {
    label: "image inspection",
    meaning: "Finds out whether a displayed picture still fits the world.",
    lookAt:
      "Seams and guide lines of the surround picture over straight lines on the floor, or the head-up picture.",
    failsWhen: "Lines break at a seam, guide lines leave the path, or the picture is tilted or doubled.",
  },
  "telltale-and-scan": {
    label: "tell-tales and scan",
    meaning:
      "Finds out whether the vehicle reports a fault, which says nothing of a small error of aim after mount, structure, impact or attitude was disturbed.",
    lookAt: "Tell-tales with the engine running, fault codes, and the calibration status in the live data.",
    failsWhen: "A tell-tale stays on, a code is stored, or the status says not calibrated.",
  },
  "structural-measurement": {
    label: "structural measurement",
    meaning: "Finds out whether the body is back at its dimensions.",
    lookAt: "The measuring points of the body against its datum.",
    failsWhen: "Any point is outside the maker's tolerance.",
  },
} as const satisfies Record<string, InspectionTerm>;

export type InspectionId = keyof typeof INSPECTIONS;
export const INSPECTION_IDS: readonly InspectionId[] = idsOf(INSPECTIONS);
