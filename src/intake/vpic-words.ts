import type { JobVehicle } from "../job/index.js";
import type { FeatureId, FeatureValue, Market } from "../vocabulary/index.js";

/**
 * Under which key the decoder states each feature; null where it has none, so that it never says anything about it.
 * Keys: the type file of an open client (npm @shaggytools/nhtsa-api-wrapper 3.0.4, DecodeVinValuesResults). Which key
 * means which feature is derived from the common names that AAA, Consumer Reports, J.D. Power, NSC, PAVE and SAE
 * published in 2022.
 */
export const KEY_OF_FEATURE = {
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
  "surround-view": null,
  "parking-assist": "ParkAssist",
  "adaptive-headlights": "AdaptiveHeadlights",
  "adaptive-driving-beam": "AdaptiveDrivingBeam",
  "semiautomatic-beam-switching": "SemiautomaticHeadlampBeamSwitching",
  "traffic-sign-recognition": null,
  "night-vision": null,
  "driver-monitoring": null,
  "electronic-stability-control": "ESC",
  "occupant-classification": null,
  "tyre-pressure-monitoring": "TPMS",
} as const satisfies Readonly<Record<FeatureId, string | null>>;

type FeatureKey = NonNullable<(typeof KEY_OF_FEATURE)[FeatureId]>;

const OTHER_KEYS = [
  "ErrorCode",
  "VIN",
  "SuggestedVIN",
  "AdditionalErrorText",
  "Make",
  "Model",
  "ModelYear",
  "VehicleType",
  "GVWR",
  "GVWR_to",
  "SteeringLocation",
  "DestinationMarket",
  "WheelBaseShort",
  "WheelBaseLong",
  "TrackWidth",
  "ActiveSafetySysNote",
] as const;

/** A key of the decoder's answer that is read here. */
export type VpicKey = FeatureKey | (typeof OTHER_KEYS)[number];

/** Every key that is read; the decoder has many more, and gains some. */
export const VPIC_KEYS: readonly VpicKey[] = [
  ...OTHER_KEYS,
  ...Object.values(KEY_OF_FEATURE).filter((key) => key !== null),
];

/** What a value says of a feature. "Standard" and "" stand in printed answers; the other two are from memory. */
export const VALUE_OF_FEATURE: ReadonlyMap<string, FeatureValue> = new Map([
  ["", "unknown"],
  ["Standard", "standard"],
  ["Optional", "optional"],
  ["Not Available", "not-available"],
]);

/** The kinds of tyre-pressure monitoring, both as printed in answers: to state the kind is to state that it is there. */
export const TYRE_PRESSURE_KINDS: ReadonlyMap<string, "direct" | "indirect"> = new Map([
  ["Direct", "direct"],
  ["Indirect", "indirect"],
]);

/** Two spellings of left-hand drive stand in printed answers; right-hand drive is formed after them, from memory. */
export const DRIVE_SIDES: ReadonlyMap<string, "left" | "right"> = new Map([
  ["Left-Hand Drive (LHD)", "left"],
  ["Left Hand Drive (LHD)", "left"],
  ["Right-Hand Drive (RHD)", "right"],
  ["Right Hand Drive (RHD)", "right"],
]);

/** The one destination met in a printed answer; where the others are sold is left to whoever knows the vehicle. */
export const DESTINATIONS: ReadonlyMap<string, Market> = new Map([["California", "us"]]);

/**
 * What the type of a vehicle says of its class; "by-weight" where the weight decides. Types: a list in an open client;
 * cars, multipurpose vehicles and motorcycles stand in printed answers too. Incomplete, low-speed and off-road vehicles
 * are left open, since 49 CFR 565.15 does not place them.
 */
export const CLASS_OF_TYPE: ReadonlyMap<string, NonNullable<JobVehicle["vehicleClass"]> | "by-weight"> =
  new Map([
    ["PASSENGER CAR", "passenger-car"],
    ["MULTIPURPOSE PASSENGER VEHICLE (MPV)", "by-weight"],
    ["TRUCK", "by-weight"],
    ["MOTORCYCLE", "other"],
    ["BUS", "other"],
    ["TRAILER", "other"],
  ]);

/**
 * What the decoder's error codes say, in words of our own. 0, 1, 5, 6, 7, 14 and 400: printed answers. 2, 3, 4, 8 and
 * 11: comments and tests of open clients, second-hand. Others exist, and nothing was found about them.
 */
export const ERROR_MEANINGS: ReadonlyMap<string, string> = new Map([
  [
    "1",
    "The check digit does not follow from the other characters of the VIN: one of them may be wrong, and the data those of another vehicle.",
  ],
  [
    "2",
    "The decoder changed one position of the VIN before it decoded it: compare the data with the vehicle.",
  ],
  [
    "3",
    "The decoder changed one position of the VIN, taking the check digit for right: compare the data with the vehicle.",
  ],
  [
    "4",
    "One position of the VIN is wrong and several characters would fit: compare the data with the vehicle.",
  ],
  ["5", "Several positions of the VIN are wrong: the data may be those of another vehicle."],
  ["6", "The VIN is incomplete: what the missing characters would have said is open."],
  [
    "7",
    "The maker is not registered for sale in the United States: the decoder knows little of its vehicles.",
  ],
  ["8", "The decoder has no detailed data for this VIN."],
  ["11", "The model year does not fit the VIN: other data may be wrong as well."],
  ["14", "The decoder could not read all characters of the VIN: what they stand for is open."],
  ["400", "The VIN holds characters that never stand in one."],
]);

/** Codes with which the model year is a reading of position 10 alone, or one that the decoder itself objects to. */
export const ERRORS_OF_YEAR: readonly string[] = ["8", "11"];
