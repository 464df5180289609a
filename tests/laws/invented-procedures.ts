import { loadProcedures, type LoadedProcedures } from "../../src/index.js";

const appliesTo = { make: "Norrvik", models: ["Fjell"], modelYears: { from: 2023, to: 2025 } };
const source = { ref: "invented-manual", section: "1", supports: "states-it" };
const sources = {
  "invented-manual": {
    kind: "maker-procedure",
    cite: "Invented workshop manual, for tests only.",
    read: "at-source",
    checkedOn: null,
  },
};
const common = {
  source,
  assumptions: [],
  doesNotSay: ["Anything of real vehicles."],
  status: "settled",
  since: "1.0.0",
};

/** Procedures of an invented maker that specify, waive, and take an exception to common practice. */
export const FIRST_PACK: LoadedProcedures = loadProcedures({
  schema: "repair-calibration/procedures@1",
  id: "norrvik-front",
  version: "1.0.0",
  title: "Invented procedures for what looks ahead",
  invented: true,
  appliesTo,
  issued: "2026-01-15",
  cite: "Invented workshop manual, for tests only.",
  procedures: [
    {
      id: "camera-targets",
      sensor: "forward-camera",
      task: "calibration",
      method: "static-and-dynamic",
      section: "4.1",
      conditions: [{ precondition: "film-thickness-in-range", limit: { high: 200, unit: "um" } }],
      evidence: ["calibration-record"],
    },
    { id: "radar-targets", sensor: "front-radar", task: "calibration", method: "static", section: "4.2" },
  ],
  order: [{ first: "front-radar/calibration", then: "forward-camera/calibration", section: "4" }],
  sources,
  rules: [
    {
      ...common,
      id: "norrvik-rain-light-sensor-needs-no-initialisation",
      title: "The rain and light sensor of this line starts up by itself",
      because: "The sensor takes its dry reading each time it is switched on.",
      stratum: "waivers",
      subject: "disturbance",
      conditions: {
        all: [
          { name: "The glass was replaced.", fact: "action", operator: "equal", value: "replace" },
          { name: "The glass is the windshield.", fact: "component", operator: "equal", value: "windshield" },
        ],
      },
      concludes: { waives: ["windshield-off-presumes-initialisation-of-rain-light-sensor"] },
      examples: {
        fires: [
          { says: "The windshield is replaced.", facts: { action: "replace", component: "windshield" } },
        ],
        staysSilent: [{ says: "The rear glass is.", like: 0, but: { component: "rear-glass" } }],
        cannotTell: [{ says: "The part is not stated.", like: 0, unknown: "component" }],
      },
    },
    {
      ...common,
      id: "norrvik-radar-cover-replaced-asks-for-inspection",
      title: "Behind a new cover the radar of this line is looked at first",
      because: "The radar measures its own beam through the cover and reports what is out of range.",
      stratum: "requirements",
      subject: "disturbance",
      conditions: {
        all: [
          { name: "The cover is new.", fact: "disturbance", operator: "equal", value: "cover-replaced" },
          { name: "The sensor is the front radar.", fact: "sensor", operator: "equal", value: "front-radar" },
        ],
      },
      concludes: { task: "calibration", standing: "inspect-first", inspection: "telltale-and-scan" },
      exceptionTo: ["cover-replaced-presumes-calibration-of-radars"],
      examples: {
        fires: [{ says: "A new cover.", facts: { disturbance: "cover-replaced", sensor: "front-radar" } }],
        staysSilent: [{ says: "A lidar behind it.", like: 0, but: { sensor: "lidar" } }],
        cannotTell: [{ says: "What was done is open.", like: 0, unknown: "disturbance" }],
      },
    },
  ],
  doesNotCover: ["Anything of real vehicles."],
});

/** A second document for the same vehicles, so that two packs can be given in either order. */
export const SECOND_PACK: LoadedProcedures = loadProcedures({
  schema: "repair-calibration/procedures@1",
  id: "norrvik-rear",
  version: "2.1.0",
  title: "Invented procedures for what looks behind",
  invented: true,
  appliesTo,
  issued: "2026-02-01",
  cite: "Invented workshop manual, second volume, for tests only.",
  procedures: [
    {
      id: "rear-radar-targets",
      sensor: "rear-corner-radar",
      task: "calibration",
      method: "static",
      section: "7",
    },
  ],
  order: [
    {
      first: "rear-corner-radar:left/calibration",
      then: "rear-corner-radar:right/calibration",
      section: "7",
    },
  ],
  sources,
  rules: [
    {
      ...common,
      id: "norrvik-rear-cover-off-requires-radar-calibration",
      title: "Taking the rear bumper cover off makes the corner radars of this line due",
      because: "The brackets of the radars hook into the cover.",
      stratum: "requirements",
      subject: "disturbance",
      conditions: {
        all: [
          { name: "The cover was off.", fact: "disturbance", operator: "equal", value: "cover-removed" },
          {
            name: "It is a rear corner radar.",
            fact: "sensor",
            operator: "equal",
            value: "rear-corner-radar",
          },
        ],
      },
      concludes: { task: "calibration", standing: "required" },
      examples: {
        fires: [
          {
            says: "The cover was off.",
            facts: { disturbance: "cover-removed", sensor: "rear-corner-radar" },
          },
        ],
        staysSilent: [{ says: "A rear camera.", like: 0, but: { sensor: "rear-camera" } }],
        cannotTell: [{ says: "What was done is open.", like: 0, unknown: "disturbance" }],
      },
    },
  ],
  doesNotCover: ["Anything of real vehicles."],
});
