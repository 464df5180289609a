import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type CheckedPack, type Job, type Rule } from "../../src/index.js";

/** An invented rule by which work on one part brings work on another, on some vehicles only where a fact decides. */
function bring(from: string, to: string, on?: { readonly fact: string; readonly value: string }): Rule {
  const leaf = (fact: string, value: string) => ({
    name: `It is ${value}.`,
    fact,
    operator: "equal" as const,
    value,
  });
  return {
    ...COMMON,
    id: `${from}-brings-${to}`,
    stratum: "implied-operations",
    subject: "cause",
    strength: "certain",
    conditions: { all: [leaf("component", from), ...(on === undefined ? [] : [leaf(on.fact, on.value)])] },
    concludes: { operation: { action: "remove-install", component: to } },
  } as Rule;
}

const COMMON = {
  title: "An invented rule",
  because: "It is invented.",
  assumptions: [],
  doesNotSay: [],
  source: { ref: "invented", section: null, supports: "our-judgement" },
  status: "settled",
  since: "1.0.0",
  examples: { fires: [], staysSilent: [], cannotTell: [] },
};

function bookOf(rules: readonly Rule[]) {
  const pack: CheckedPack = {
    head: {
      schema: "repair-calibration/pack@1",
      id: "invented",
      version: "1.0.0",
      title: "Invented rules",
      scope: "Nothing that exists.",
      doesNotCover: ["Everything else."],
    },
    digest: "sha256:invented",
    sources: {
      invented: {
        kind: "common-practice",
        cite: "Invented for a test.",
        read: "not-applicable",
        checkedOn: null,
      },
    },
    rules,
  };
  return loadRulebook([pack]);
}

const DISTURBS: Rule = {
  ...COMMON,
  id: "sunroof-off-disturbs-the-radar",
  stratum: "disturbances",
  subject: "cause-and-sensor",
  conditions: {
    all: [
      { name: "It is the sunroof.", fact: "component", operator: "equal", value: "sunroof" },
      { name: "It is the radar.", fact: "sensor", operator: "equal", value: "front-radar" },
    ],
  },
  concludes: { disturbance: "mount-removed" },
} as unknown as Rule;

const REQUIRES: Rule = {
  ...COMMON,
  id: "mount-off-requires-calibration",
  stratum: "requirements",
  subject: "disturbance",
  conditions: { name: "It is.", fact: "disturbance", operator: "equal", value: "mount-removed" },
  concludes: { task: "own", standing: "required" },
} as unknown as Rule;

describe("the open points of a conclusion", () => {
  // The hood comes off possibly at first and surely later; by then what hangs on it hangs on something else as well.
  const rulebook = bookOf([
    bring("wiper", "hood", { fact: "vehicleClass", value: "passenger-car" }),
    bring("wiper", "wheel"),
    bring("wheel", "brake"),
    bring("brake", "hood"),
    bring("wiper", "door-trim"),
    bring("door-trim", "door-handle"),
    bring("door-handle", "rear-seat"),
    bring("hood", "grille", { fact: "levellingSuspension", value: "yes" }),
    bring("rear-seat", "grille", { fact: "market", value: "us" }),
    bring("grille", "grille-emblem"),
    bring("grille-emblem", "sunroof"),
    DISTURBS,
    REQUIRES,
  ]);
  const asked = (operations: Job["operations"]): readonly string[] =>
    planCalibrations(
      {
        schema: "repair-calibration/job@1",
        reference: "RO-1",
        vehicle: { equipment: [{ sensor: "front-radar", fitted: "yes" }], equipmentComplete: true },
        operations,
      },
      { rulebook },
    )
      .questions.filter(({ settles }) => settles.length > 0)
      .map(({ about }) => about);

  it("are those that it hangs on in the end, not those that it hung on while it was drawn", () => {
    const points = asked([{ id: "L1", action: "remove-install", component: "wiper" }]);
    expect([...points].sort()).toEqual(["/vehicle/levellingSuspension", "/vehicle/market"]);
  });
});
