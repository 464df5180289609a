/** A procedure pack that is sound, for the vehicle of the windshield job. */
export const PROCEDURES = {
  schema: "repair-calibration/procedures@1",
  id: "norrvik-fjell-2024",
  version: "1.0.0",
  title: "Norrvik Fjell, driver assistance",
  invented: true,
  appliesTo: { make: "Norrvik", models: ["Fjell"], modelYears: { from: 2023, to: 2025 } },
  issued: "2026-01-10",
  cite: "Norrvik workshop manual 7, invented",
  procedures: [
    {
      id: "forward-camera-static",
      sensor: "forward-camera",
      task: "calibration",
      method: "static",
      section: "7.2",
      conditions: [{ precondition: "floor-level", limit: { high: 3, unit: "mm/m" } }],
    },
  ],
  doesNotCover: ["Anything but the forward camera."],
};

/** The head of a pack of rules of one's own. */
export const PACK_HEAD = {
  schema: "repair-calibration/pack@1",
  id: "house-rules",
  version: "0.2.0",
  title: "Rules of one shop",
  scope: "What one shop asks for beyond common practice.",
  doesNotCover: ["Everything that common practice already asks for."],
};

export const PACK_SOURCES = {
  house: {
    kind: "common-practice",
    cite: "Agreed in the shop; no published source.",
    read: "not-applicable",
    checkedOn: null,
  },
};

/** A rule that asks for a function check of a rear camera wherever its liftgate was painted. */
export const HOUSE_RULE = {
  id: "liftgate-painted-disturbs-rear-camera",
  title: "Painting the liftgate may coat the rear camera",
  because: "Overspray settles on a lens that was masked in a hurry.",
  stratum: "disturbances",
  subject: "cause-and-sensor",
  conditions: {
    all: [
      { name: "The part is painted.", fact: "action", operator: "in", value: ["refinish", "blend"] },
      { name: "The part is the liftgate.", fact: "component", operator: "equal", value: "liftgate" },
      { name: "The sensor is the rear camera.", fact: "sensor", operator: "equal", value: "rear-camera" },
    ],
  },
  concludes: { disturbance: "view-obstructed" },
  assumptions: [],
  doesNotSay: ["Whether the lens was really coated."],
  source: { ref: "house", section: null, supports: "our-judgement" },
  status: "settled",
  since: "0.1.0",
  examples: {
    fires: [
      {
        says: "The liftgate with the rear camera was painted.",
        facts: { action: "refinish", component: "liftgate", sensor: "rear-camera" },
      },
    ],
    staysSilent: [
      { says: "The liftgate was only inspected.", like: 0, but: { action: "inspect" } },
      { says: "The trunk lid was painted.", like: 0, but: { component: "trunk-lid" } },
      { says: "The sensor is another.", like: 0, but: { sensor: "front-radar" } },
    ],
    cannotTell: [{ says: "Nobody has said what was painted.", like: 0, unknown: "component" }],
  },
};
