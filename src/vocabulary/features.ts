import type { PositionId, SensorId } from "./sensors.js";
import { idsOf, type Term } from "./term.js";

/** A sensor that can serve a feature, from any one of the positions named, or from any at all when none is. */
export interface ServingMember {
  readonly sensor: SensorId;
  readonly positions?: readonly PositionId[];
}

/** Sensors of which at least one is fitted when the feature is. */
export type ServingGroup = readonly ServingMember[];

/** A driver-assistance feature, and what its presence says about the sensors fitted. */
export interface FeatureTerm extends Term {
  /** Each group holds at least one fitted member; no group at all where the feature proves nothing. */
  readonly servedBy: readonly ServingGroup[];
  /** Sensors that can serve the feature although its presence does not prove them. */
  readonly canBeServedBy?: readonly ServingMember[];
  /** Whether the feature as standard equipment proves that every group has a fitted member. */
  readonly proves: boolean;
}

const RANGING_AHEAD = [
  { sensor: "front-radar" },
  { sensor: "forward-camera" },
  { sensor: "lidar" },
] as const satisfies ServingGroup;
const FORWARD_CAMERA = [{ sensor: "forward-camera" }] as const satisfies ServingGroup;
const BLIND_SPOT_LEFT = [
  { sensor: "rear-corner-radar", positions: ["left"] },
  { sensor: "side-camera", positions: ["front-left", "rear-left"] },
] as const satisfies ServingGroup;
const BLIND_SPOT_RIGHT = [
  { sensor: "rear-corner-radar", positions: ["right"] },
  { sensor: "side-camera", positions: ["front-right", "rear-right"] },
] as const satisfies ServingGroup;
const HEADLAMP_LEFT = [{ sensor: "adaptive-headlamp", positions: ["left"] }] as const satisfies ServingGroup;
const HEADLAMP_RIGHT = [
  { sensor: "adaptive-headlamp", positions: ["right"] },
] as const satisfies ServingGroup;

/** The features that a customer can lose. Which sensors serve them is common practice, no source. */
export const FEATURES = {
  "adaptive-cruise-control": {
    label: "adaptive cruise control",
    meaning: "Holds a set speed and slows down for the vehicle ahead.",
    servedBy: [RANGING_AHEAD],
    proves: true,
  },
  "forward-collision-warning": {
    label: "forward collision warning",
    meaning: "Warns the driver of an imminent collision with what is ahead.",
    servedBy: [RANGING_AHEAD],
    proves: true,
  },
  "crash-imminent-braking": {
    label: "crash-imminent braking",
    meaning: "Brakes by itself when a collision ahead is about to happen.",
    servedBy: [RANGING_AHEAD],
    proves: true,
  },
  "dynamic-brake-support": {
    label: "dynamic brake support",
    meaning: "Adds braking force when the driver brakes too weakly for the danger ahead.",
    servedBy: [RANGING_AHEAD],
    proves: true,
  },
  "pedestrian-automatic-emergency-braking": {
    label: "pedestrian automatic emergency braking",
    meaning: "Brakes by itself for a person in the vehicle's path.",
    servedBy: [[{ sensor: "forward-camera" }, { sensor: "front-radar" }]],
    proves: true,
  },
  "lane-departure-warning": {
    label: "lane departure warning",
    meaning: "Warns the driver when the vehicle drifts over a lane marking.",
    servedBy: [FORWARD_CAMERA],
    proves: true,
  },
  "lane-keeping-assistance": {
    label: "lane keeping assistance",
    meaning: "Steers or brakes briefly to keep the vehicle from leaving its lane.",
    servedBy: [FORWARD_CAMERA],
    proves: true,
  },
  "lane-centering-assistance": {
    label: "lane centering assistance",
    meaning: "Steers continuously to keep the vehicle in the middle of its lane.",
    servedBy: [FORWARD_CAMERA],
    proves: true,
  },
  "blind-spot-warning": {
    label: "blind spot warning",
    meaning: "Warns of a vehicle beside or closing from behind in the next lane.",
    servedBy: [BLIND_SPOT_LEFT, BLIND_SPOT_RIGHT],
    proves: true,
  },
  "blind-spot-intervention": {
    label: "blind spot intervention",
    meaning: "Steers or brakes against a lane change into a vehicle in the blind spot.",
    servedBy: [BLIND_SPOT_LEFT, BLIND_SPOT_RIGHT],
    proves: true,
  },
  "rear-cross-traffic-alert": {
    label: "rear cross traffic alert",
    meaning: "Warns of traffic that crosses behind while the vehicle reverses.",
    servedBy: [
      [{ sensor: "rear-corner-radar", positions: ["left"] }],
      [{ sensor: "rear-corner-radar", positions: ["right"] }],
    ],
    proves: true,
  },
  "rear-automatic-emergency-braking": {
    label: "rear automatic emergency braking",
    meaning: "Brakes by itself for an obstacle behind while the vehicle reverses.",
    servedBy: [
      [
        { sensor: "parking-sensors", positions: ["rear"] },
        { sensor: "rear-corner-radar" },
        { sensor: "rear-camera" },
      ],
    ],
    proves: true,
  },
  "backup-camera": {
    label: "backup camera",
    meaning: "Shows the driver the area behind the vehicle when reverse is selected.",
    servedBy: [[{ sensor: "rear-camera" }, { sensor: "surround-camera", positions: ["rear"] }]],
    proves: true,
  },
  "surround-view": {
    label: "surround view",
    meaning: "Shows the vehicle and its surroundings as if from above.",
    servedBy: [
      [{ sensor: "surround-camera", positions: ["front"] }],
      [{ sensor: "surround-camera", positions: ["left"] }],
      [{ sensor: "surround-camera", positions: ["right"] }],
      [{ sensor: "surround-camera", positions: ["rear"] }],
    ],
    proves: true,
  },
  "parking-assist": {
    label: "parking assist",
    meaning: "Finds a parking space and steers the vehicle into it.",
    servedBy: [[{ sensor: "parking-sensors" }, { sensor: "surround-camera" }]],
    proves: true,
  },
  "adaptive-headlights": {
    label: "adaptive headlights",
    meaning: "Turns and levels the headlamp beams with the road and the load.",
    servedBy: [
      HEADLAMP_LEFT,
      HEADLAMP_RIGHT,
      [{ sensor: "ride-height-sensor" }],
      [{ sensor: "steering-angle-sensor" }],
    ],
    proves: true,
  },
  "adaptive-driving-beam": {
    label: "adaptive driving beam",
    meaning: "Keeps the upper beam on and masks it where it would dazzle others.",
    servedBy: [FORWARD_CAMERA, HEADLAMP_LEFT, HEADLAMP_RIGHT],
    proves: true,
  },
  "semiautomatic-beam-switching": {
    label: "semiautomatic beam switching",
    meaning: "Changes between upper and lower beam by itself.",
    // A plain light sensor in the interior mirror can do this as well, so no camera follows from it.
    servedBy: [],
    canBeServedBy: [{ sensor: "forward-camera" }],
    proves: false,
  },
  "traffic-sign-recognition": {
    label: "traffic sign recognition",
    meaning: "Reads traffic signs and shows them to the driver.",
    servedBy: [FORWARD_CAMERA],
    proves: true,
  },
  "night-vision": {
    label: "night vision",
    meaning: "Shows people and animals beyond the reach of the lower beam.",
    servedBy: [[{ sensor: "night-vision-camera" }]],
    proves: true,
  },
  "driver-monitoring": {
    label: "driver monitoring",
    meaning: "Notices when the driver is tired or looks away.",
    servedBy: [[{ sensor: "driver-monitoring-camera" }]],
    proves: true,
  },
  "electronic-stability-control": {
    label: "electronic stability control",
    meaning: "Brakes single wheels to keep the vehicle on the path that the driver steers.",
    servedBy: [[{ sensor: "steering-angle-sensor" }], [{ sensor: "inertial-sensor" }]],
    proves: true,
  },
  "occupant-classification": {
    label: "occupant classification",
    meaning: "Switches the passenger's airbag off for a child or an empty seat.",
    servedBy: [[{ sensor: "occupant-classification-sensor", positions: ["passenger"] }]],
    proves: true,
  },
  "tyre-pressure-monitoring": {
    label: "tyre-pressure monitoring",
    meaning: "Warns the driver of a tyre that has lost pressure.",
    servedBy: [[{ sensor: "tyre-pressure-sensors" }]],
    proves: true,
  },
} as const satisfies Record<string, FeatureTerm>;

export type FeatureId = keyof typeof FEATURES;
export const FEATURE_IDS: readonly FeatureId[] = idsOf(FEATURES);

/** What can be stated about a feature of a vehicle. */
export const FEATURE_VALUES = ["standard", "optional", "not-available", "unknown"] as const;
export type FeatureValue = (typeof FEATURE_VALUES)[number];

/** Lists the features that a sensor can serve from a position, those included that do not prove it; null asks for any position. */
export function featuresServedBy(sensor: SensorId, position: PositionId | null): readonly FeatureId[] {
  const key = `${sensor}:${position ?? ""}`;
  const ready = served.get(key);
  if (ready !== undefined) return ready;
  const found = findServed(sensor, position);
  served.set(key, found);
  return found;
}

/** The table never changes, so each answer is worked out once. */
const served = new Map<string, readonly FeatureId[]>();

function findServed(sensor: SensorId, position: PositionId | null): readonly FeatureId[] {
  return FEATURE_IDS.filter((id) => {
    const feature: FeatureTerm = FEATURES[id];
    const members = [...feature.servedBy.flat(), ...(feature.canBeServedBy ?? [])];
    return members.some((member) => matches(member, sensor, position));
  });
}

function matches(member: ServingMember, sensor: SensorId, position: PositionId | null): boolean {
  if (member.sensor !== sensor) return false;
  if (position === null || member.positions === undefined) return true;
  return member.positions.includes(position);
}
