import { describe, expect, it } from "vitest";
import {
  FEATURES,
  FEATURE_IDS,
  planCalibrations,
  type FeatureId,
  type FeatureTerm,
  type Job,
  type Plan,
} from "../../src/index.js";
import { FEATURE_VALUES, type FeatureValue } from "../../src/vocabulary/index.js";
import { NOTHING_FOUND, jobOf, rulebook } from "./plans.js";

// The decoder of vehicle identification numbers that the US government runs (NHTSA vPIC, DecodeVinValues) answers with
// one text for each key; its own message says that an empty text means "no data", not "not fitted". Marks: keys and the
// values "Standard" and "" – published (the type file of an open client and a printed answer of 2026); "Optional" and
// "Not Available" – from memory. Which key means which of our features – derived, from the crosswalk of common names
// that AAA, Consumer Reports, J.D. Power, NSC, PAVE and SAE published in 2022 (published; members from memory).

/** Each feature that the decoder has a key for. */
const KEY_OF: Readonly<Partial<Record<FeatureId, string>>> = {
  "adaptive-cruise-control": "AdaptiveCruiseControl",
  "forward-collision-warning": "ForwardCollisionWarning",
  "crash-imminent-braking": "CIB",
  "dynamic-brake-support": "DynamicBrakeSupport",
  "pedestrian-automatic-emergency-braking": "PedestrianAutomaticEmergencyBraking",
  "lane-departure-warning": "LaneDepartureWarning",
  "lane-keeping-assistance": "LaneKeepSystem",
  "lane-centering-assistance": "LaneCenteringAssistance",
  "blind-spot-warning": "BlindSpotMon",
  "blind-spot-intervention": "BlindSpotIntervention",
  "rear-cross-traffic-alert": "RearCrossTrafficAlert",
  "rear-automatic-emergency-braking": "RearAutomaticEmergencyBraking",
  "backup-camera": "RearVisibilitySystem",
  "parking-assist": "ParkAssist",
  "adaptive-headlights": "AdaptiveHeadlights",
  "adaptive-driving-beam": "AdaptiveDrivingBeam",
  "semiautomatic-beam-switching": "SemiautomaticHeadlampBeamSwitching",
  "electronic-stability-control": "ESC",
  "tyre-pressure-monitoring": "TPMS",
};

/** Features that it has no key for: it never says anything about them, so they stay unknown. */
const WITHOUT_A_KEY: readonly FeatureId[] = [
  "surround-view",
  "traffic-sign-recognition",
  "night-vision",
  "driver-monitoring",
  "occupant-classification",
];

/** What its values say about a feature. */
const MEANING_OF: Readonly<Record<string, FeatureValue>> = {
  Standard: "standard",
  Optional: "optional",
  "Not Available": "not-available",
  "": "unknown",
};

/** The printed answer for a multi-purpose vehicle of model year 2022, error code "0": these were "Standard", the rest "". */
const PRINTED_STANDARD: readonly FeatureId[] = [
  "adaptive-cruise-control",
  "adaptive-driving-beam",
  "blind-spot-warning",
  "crash-imminent-braking",
  "dynamic-brake-support",
  "forward-collision-warning",
  "lane-departure-warning",
  "lane-keeping-assistance",
  "rear-automatic-emergency-braking",
  "rear-cross-traffic-alert",
  "backup-camera",
  "electronic-stability-control",
];
const PRINTED_EMPTY: readonly FeatureId[] = [
  "blind-spot-intervention",
  "lane-centering-assistance",
  "parking-assist",
  "pedestrian-automatic-emergency-braking",
];

type Features = NonNullable<Job["vehicle"]["features"]>;

/** The features as an answer of the decoder would state them. */
function readAnswer(values: Readonly<Partial<Record<FeatureId, string>>>): Features {
  return Object.fromEntries(
    Object.entries(values).map(([feature, value]) => [feature, MEANING_OF[value] ?? "unknown"]),
  );
}

function planOf(
  features: Features,
  operations: Job["operations"],
  vehicle: Partial<Job["vehicle"]> = {},
): Plan {
  return planCalibrations(
    jobOf(operations, {
      vehicle: { make: "Norrvik", model: "Skare", market: "us", features, ...vehicle },
      findings: NOTHING_FOUND,
    }),
    { rulebook },
  );
}

const WINDSHIELD: Job["operations"] = [{ id: "L1", action: "replace", component: "windshield" }];

describe("features of the vocabulary beside the decoder's keys", () => {
  it("are all either keyed or known to have no key", () => {
    expect([...Object.keys(KEY_OF), ...WITHOUT_A_KEY].sort()).toEqual([...FEATURE_IDS].sort());
    expect(new Set(Object.values(KEY_OF)).size).toBe(Object.keys(KEY_OF).length);
  });

  it("take exactly the values that an answer can have", () => {
    expect(new Set(Object.values(MEANING_OF))).toEqual(new Set(FEATURE_VALUES));
  });

  it("never name a sensor: of hardware the decoder says nothing", () => {
    for (const feature of FEATURE_IDS) {
      const { servedBy, proves }: FeatureTerm = FEATURES[feature];
      expect(proves).toBe(servedBy.length > 0);
    }
  });
});

describe("an empty value", () => {
  it("says what a feature left out says, and what an unknown one says", () => {
    const left = planOf(readAnswer({ "crash-imminent-braking": "Standard" }), WINDSHIELD);
    const empty = planOf(
      readAnswer({ "crash-imminent-braking": "Standard", "pedestrian-automatic-emergency-braking": "" }),
      WINDSHIELD,
    );
    expect(empty).toEqual(left);
  });

  it("is not the same as a feature that is not available", () => {
    const camera = (plan: Plan) => plan.requirements.find(({ sensor }) => sensor === "forward-camera");
    const empty = planOf(readAnswer({ "lane-keeping-assistance": "" }), WINDSHIELD);
    const absent = planOf(readAnswer({ "lane-keeping-assistance": "Not Available" }), WINDSHIELD);
    expect(camera(empty)?.possibleFeatures).toContain("lane-keeping-assistance");
    expect(camera(absent)?.possibleFeatures).not.toContain("lane-keeping-assistance");
    // A car without lane keeping may have the camera all the same, for braking or for signs.
    expect(camera(absent)?.fitted).toBe("unknown");
  });

  it("leaves the function out of what is known to be lost, and in what may be", () => {
    const printed = {
      ...Object.fromEntries(PRINTED_STANDARD.map((feature) => [feature, "Standard"])),
      ...Object.fromEntries(PRINTED_EMPTY.map((feature) => [feature, ""])),
    };
    const camera = planOf(readAnswer(printed), WINDSHIELD).requirements.find(
      ({ sensor }) => sensor === "forward-camera",
    );
    expect(camera?.features).toContain("crash-imminent-braking");
    expect(camera?.features).not.toContain("pedestrian-automatic-emergency-braking");
    expect(camera?.possibleFeatures).toContain("pedestrian-automatic-emergency-braking");
  });
});

describe("braking by itself as standard equipment, and nothing else known", () => {
  const features = readAnswer({
    "crash-imminent-braking": "Standard",
    "pedestrian-automatic-emergency-braking": "",
  });

  it("proves a front radar, a forward camera or a lidar, and does not choose", () => {
    const plan = planOf(features, WINDSHIELD);
    expect(plan.atLeastOneOf).toHaveLength(1);
    expect(plan.atLeastOneOf[0]?.because).toEqual(["crash-imminent-braking"]);
    expect([...(plan.atLeastOneOf[0]?.sensors ?? [])].sort()).toEqual([
      "forward-camera",
      "front-radar",
      "lidar",
    ]);
    expect(plan.atLeastOneOf[0]?.question).not.toBeNull();
  });

  it("leaves the camera behind new glass undetermined, and asks", () => {
    const plan = planOf(features, WINDSHIELD);
    const camera = plan.requirements.find(({ id }) => id === "forward-camera/calibration");
    expect(camera).toMatchObject({ standing: "undetermined", couldRiseTo: "required", fitted: "unknown" });
    expect(camera?.questions.length).toBeGreaterThan(0);
    expect(plan.outcome).toBe("needs-answers");
  });

  it.each([
    ["forward-camera", ["front-radar", "lidar"]],
    ["front-radar", ["forward-camera", "lidar"]],
    ["lidar", ["forward-camera", "front-radar"]],
  ] as const)("comes down to the %s where the other two are not fitted", (left, others) => {
    const plan = planOf(features, WINDSHIELD, {
      equipment: others.map((sensor) => ({ sensor, fitted: "no" as const })),
    });
    expect(plan.atLeastOneOf).toEqual([]);
    const found = [...plan.requirements, ...plan.notIndicated].find(({ sensor }) => sensor === left);
    // Behind the glass or not, it is on the vehicle: nobody is asked for that any more.
    expect(found).toBeDefined();
    expect(found && "fitted" in found ? found.fitted : "yes").toBe("yes");
    expect(found && "reason" in found ? found.reason : "no-rule-asks-for-it").toBe("no-rule-asks-for-it");
  });

  it("stays a disjunction of two where one of the three is not fitted", () => {
    const plan = planOf(features, WINDSHIELD, { equipment: [{ sensor: "lidar", fitted: "no" }] });
    expect(plan.atLeastOneOf.map(({ sensors }) => [...sensors].sort())).toEqual([
      ["forward-camera", "front-radar"],
    ]);
  });

  it("is satisfied, and says nothing more, where one of the three is fitted", () => {
    const plan = planOf(features, WINDSHIELD, { equipment: [{ sensor: "front-radar", fitted: "yes" }] });
    expect(plan.atLeastOneOf).toEqual([]);
    const camera = plan.requirements.find(({ id }) => id === "forward-camera/calibration");
    expect(camera).toMatchObject({ standing: "undetermined", fitted: "unknown" });
  });
});

describe("beam switching as standard equipment proves no camera", () => {
  it("since a plain light sensor in the mirror can do it", () => {
    const plan = planOf(readAnswer({ "semiautomatic-beam-switching": "Standard" }), WINDSHIELD);
    expect(plan.atLeastOneOf).toEqual([]);
    expect(plan.requirements.find(({ sensor }) => sensor === "forward-camera")).toMatchObject({
      standing: "undetermined",
      fitted: "unknown",
      features: ["semiautomatic-beam-switching"],
    });
  });
});

describe("stability control as standard equipment", () => {
  it("proves both a steering-angle sensor and an inertial sensor", () => {
    const plan = planOf(readAnswer({ "electronic-stability-control": "Standard" }), [
      { id: "L1", action: "adjust", component: "wheel-alignment", adjusted: ["front-toe"] },
    ]);
    const angle = plan.requirements.find(({ sensor }) => sensor === "steering-angle-sensor");
    expect(angle).toMatchObject({ standing: "required", fitted: "yes" });
    const inertial = [...plan.requirements, ...plan.notIndicated].find(
      ({ sensor }) => sensor === "inertial-sensor",
    );
    expect(inertial).toMatchObject({ reason: "no-rule-asks-for-it" });
  });
});
