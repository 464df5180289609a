import { idsOf, type Term } from "./term.js";

/** What kind of work a stage is. */
export const STAGE_KINDS = [
  "scan",
  "measure",
  "align",
  "reset",
  "calibrate",
  "check",
  "drive",
  "record",
  "repair",
] as const;
export type StageKind = (typeof STAGE_KINDS)[number];

/** A stage of the work, and the kind of step that it holds. */
export interface StageTerm extends Term {
  readonly kind: StageKind;
}

/** The stages of the work in their usual sequence. Common practice, no source. */
export const STAGES = {
  "pre-repair-scan": {
    label: "pre-repair scan",
    meaning: "Read all modules before anything is taken apart.",
    kind: "scan",
  },
  "structural-measurement-before": {
    label: "structural measurement before repair",
    meaning: "Measure the body against its datum before pulling or cutting.",
    kind: "measure",
  },
  "structural-repair": {
    label: "structural repair",
    meaning: "Pull, cut and weld the structure.",
    kind: "repair",
  },
  "structural-measurement-after": {
    label: "structural measurement after repair",
    meaning: "Measure the body again while it can still be corrected.",
    kind: "measure",
  },
  "refinish-and-cure": {
    label: "refinish and cure",
    meaning: "Paint and let the paint cure.",
    kind: "repair",
  },
  "film-thickness-reading": {
    label: "film thickness reading",
    meaning: "Measure the paint in the radar's window once it has cured.",
    kind: "measure",
  },
  fitting: { label: "fitting", meaning: "Fit glass, sensors and trim.", kind: "repair" },
  "adhesive-cure": {
    label: "adhesive cure",
    meaning: "Wait until the adhesive has cured as far as the next step needs.",
    kind: "repair",
  },
  "power-and-configuration": {
    label: "power and configuration",
    meaning: "Restore the supply and configure new modules to the vehicle.",
    kind: "reset",
  },
  "pre-calibration-scan": {
    label: "pre-calibration scan",
    meaning: "Read all modules again, so that only calibration codes remain.",
    kind: "scan",
  },
  "telltale-check": {
    label: "tell-tale check",
    meaning: "Turn lock to lock where power was lost, and see the tell-tales go out.",
    kind: "check",
  },
  "tyres-and-pressures": {
    label: "tyres and pressures",
    meaning: "Check sizes and tread, and set the cold pressures.",
    kind: "check",
  },
  "mount-inspection": {
    label: "mount inspection",
    meaning: "Look at brackets, tabs, fasteners and the sensors' angles.",
    kind: "check",
  },
  "view-inspection": {
    label: "view inspection",
    meaning: "Look at windows, lenses, glass and shrouds.",
    kind: "check",
  },
  "ride-height-measurement": {
    label: "ride height measurement",
    meaning: "Measure the four corners on settled suspension.",
    kind: "measure",
  },
  "ride-height-initialisation": {
    label: "ride height initialisation",
    meaning: "Store the measured heights in the levelling system.",
    kind: "reset",
  },
  "wheel-alignment-measurement": {
    label: "wheel alignment measurement",
    meaning: "Measure all wheels with run-out compensated.",
    kind: "measure",
  },
  "wheel-alignment": {
    label: "wheel alignment",
    meaning: "Bring the wheels' angles into specification.",
    kind: "align",
  },
  "image-inspection": {
    label: "image inspection",
    meaning: "Look at the pictures of surround view and head-up display.",
    kind: "check",
  },
  "steering-angle-zero-point": {
    label: "steering-angle zero point",
    meaning: "Store straight ahead in the steering-angle sensor.",
    kind: "reset",
  },
  "other-zero-points": {
    label: "steering-torque and inertial zero points",
    meaning: "Store zero in the steering-torque and inertial sensors.",
    kind: "reset",
  },
  "tyre-pressure-task": {
    label: "tyre-pressure task",
    meaning: "Relearn or initialise the pressure monitoring after the pressures are set.",
    kind: "reset",
  },
  "occupant-zero-point": {
    label: "occupant-classification zero point",
    meaning: "Store the empty seat once seat and restraint work is complete.",
    kind: "reset",
  },
  "image-adjustment": {
    label: "image adjustment",
    meaning: "Set the head-up picture once the windshield has cured.",
    kind: "reset",
  },
  "initialisation-other": {
    label: "other initialisations",
    meaning: "Initialise what is left, the rain and light sensor for one.",
    kind: "reset",
  },
  "static-calibration": {
    label: "static calibration",
    meaning: "Calibrate, parked, in front of targets.",
    kind: "calibrate",
  },
  "calibration-method-open": {
    label: "calibration, method open",
    meaning: "Calibrate by the way that the maker's procedure states, which is not known here.",
    kind: "calibrate",
  },
  "headlamp-aim": {
    label: "headlamp aim",
    meaning: "Aim the headlamps, a glare-free matrix beam only after the camera.",
    kind: "calibrate",
  },
  "dynamic-calibration": {
    label: "dynamic calibration",
    meaning: "Calibrate on the road, after any static part.",
    kind: "calibrate",
  },
  "function-check": {
    label: "function check",
    meaning: "Operate each disturbed function and watch what it does.",
    kind: "check",
  },
  "road-test": {
    label: "road test",
    meaning: "Drive and see that functions and steering behave.",
    kind: "drive",
  },
  "post-repair-scan": {
    label: "post-repair scan",
    meaning: "Read all modules after the last calibration and drive.",
    kind: "scan",
  },
  "customer-notice": {
    label: "customer notice",
    meaning: "Tell the customer in writing what stays open and what may be degraded.",
    kind: "record",
  },
  "record-and-release": {
    label: "record and release",
    meaning: "File the evidence and hand the vehicle over.",
    kind: "record",
  },
} as const satisfies Record<string, StageTerm>;

export type StageId = keyof typeof STAGES;
export const STAGE_IDS: readonly StageId[] = idsOf(STAGES);
