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
import { KEY_OF_FEATURE, VALUE_OF_FEATURE, VPIC_KEYS } from "../../src/intake/vpic-words.js";
import { vehicleFromVpic } from "../../src/intake/vpic.js";
import { FEATURE_VALUES, type FeatureValue } from "../../src/vocabulary/index.js";
import { DECODER_KEYS, NEWER_KEYS } from "./decoder-keys.js";
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

describe("the keys that the reader of answers looks for", () => {
  it("are, for the features, those of the crosswalk, and null where there is none", () => {
    const expected = Object.fromEntries(FEATURE_IDS.map((feature) => [feature, KEY_OF[feature] ?? null]));
    expect(KEY_OF_FEATURE).toEqual(expected);
  });

  it("are all among the keys of an open client, spelt alike, each once", () => {
    expect(DECODER_KEYS).toHaveLength(150);
    expect(VPIC_KEYS.filter((key) => !DECODER_KEYS.includes(key))).toEqual([]);
    expect(new Set(VPIC_KEYS).size).toBe(VPIC_KEYS.length);
  });

  it("stand for what the crosswalk says of their values", () => {
    expect(Object.fromEntries(VALUE_OF_FEATURE)).toEqual(MEANING_OF);
  });
});

describe("the printed answer of 2026, with every key that it has", () => {
  // Identity and VIN are invented: nobody's vehicle.
  const feature = (id: FeatureId, value: string) => [KEY_OF[id] ?? "", value] as const;
  const answer = {
    Count: 1,
    Message: "Results returned successfully.",
    SearchCriteria: "VIN(s): 1ZZSK2AF3NA000007",
    Results: [
      {
        ...Object.fromEntries([...DECODER_KEYS, ...NEWER_KEYS].map((key) => [key, ""])),
        ...Object.fromEntries(
          ["BusType", "BusFloorConfigType", "CustomMotorcycleType", "TrailerType", "TrailerBodyType"].map(
            (key) => [key, "Not Applicable"],
          ),
        ),
        ...Object.fromEntries(PRINTED_STANDARD.map((id) => feature(id, "Standard"))),
        ...Object.fromEntries([feature("semiautomatic-beam-switching", "Standard")]),
        TPMS: "Indirect",
        ErrorCode: "0",
        ErrorText: "0 - VIN decoded clean. Check Digit (9th position) is correct",
        GVWR: "Class 1D: 5,001 - 6,000 lb (2,268 - 2,722 kg)",
        VehicleType: "MULTIPURPOSE PASSENGER VEHICLE (MPV)",
        BodyClass: "Sport Utility Vehicle [SUV]/Multipurpose Vehicle [MPV]",
        Make: "NORRVIK",
        Model: "Skare",
        ModelYear: "2022",
        VIN: "1ZZSK2AF3NA000007",
        VehicleDescriptor: "1ZZSK2AF*NA",
      },
    ],
  };
  const { vehicle, clean, warnings } = vehicleFromVpic(answer);

  it("is clean, and leaves nothing to mind", () => {
    expect(clean).toBe(true);
    expect(warnings).toEqual([]);
  });

  it("has braking by itself as standard, and leaves braking for pedestrians unknown", () => {
    expect(vehicle.features?.["crash-imminent-braking"]).toBe("standard");
    expect(vehicle.features?.["pedestrian-automatic-emergency-braking"]).toBe("unknown");
  });

  it("states each feature that it has a key for, and none else", () => {
    const standard = [...PRINTED_STANDARD, "semiautomatic-beam-switching", "tyre-pressure-monitoring"];
    expect(vehicle.features).toEqual(
      Object.fromEntries(
        FEATURE_IDS.filter((id) => !WITHOUT_A_KEY.includes(id)).map((id) => [
          id,
          standard.includes(id) ? "standard" : "unknown",
        ]),
      ),
    );
  });

  it("gives a vehicle that can be planned for: nothing about it contradicts itself", () => {
    const plan = planOf(vehicle.features ?? {}, WINDSHIELD, vehicle);
    expect(plan.contradictions).toEqual([]);
    const relearn = planOf(
      vehicle.features ?? {},
      [{ id: "L1", action: "rotate", component: "wheel" }],
      vehicle,
    ).requirements.find(({ sensor }) => sensor === "tyre-pressure-sensors");
    // Indirect systems learn the tyres anew when they change places; they know no wheel sensors.
    expect(relearn).toMatchObject({ fitted: "yes", task: "initialisation" });
  });
});

describe("an answer that is not clean", () => {
  // Printed combinations: an over-long VIN, and one with a missing character.
  it.each([
    ["0", true, []],
    ["1", false, ["1"]],
    ["1,7,400", false, ["1", "7", "400"]],
    ["5,6,14", false, ["5", "6", "14"]],
    ["6,11,14", false, ["6", "11", "14"]],
  ])("%s", (ErrorCode, expected, codes) => {
    const { vehicle, clean, warnings } = vehicleFromVpic({ ErrorCode, Make: "NORRVIK", Model: "Skare" });
    expect(clean).toBe(expected);
    expect(warnings.map(({ says }) => /^Error code ([0-9]+)\./.exec(says)?.[1])).toEqual(codes);
    // The decoder gives the data all the same, and they are kept.
    expect(vehicle).toMatchObject({ make: "NORRVIK", model: "Skare" });
  });

  it("with a suggested VIN in its printed form never passes it on", () => {
    // ! for a wrong character, * for a missing one, blanks behind.
    const { vehicle, warnings } = vehicleFromVpic({
      ErrorCode: "5,6,14",
      VIN: "1M8GDM9AXKP04278",
      SuggestedVIN: "1M8GD!9A*KP04278*  ",
    });
    expect(vehicle.vin).toBeUndefined();
    expect(JSON.stringify(warnings)).not.toContain("1M8GD!9A");
  });
});

describe("the wheelbase", () => {
  it("is in inches: the printed 106.30 of a car whose wheelbase is 2700 mm (the latter from memory)", () => {
    expect(vehicleFromVpic({ ErrorCode: "0", WheelBaseShort: "106.30" }).vehicle.dimensions).toEqual({
      wheelbase: 2700,
    });
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
