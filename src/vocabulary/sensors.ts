import { idsOf, type Term } from "./term.js";
import type { Zone } from "./zones.js";

/** What a sensor can need after a repair. */
export const TASKS = {
  calibration: {
    label: "calibration",
    meaning: "The sensor learns, from targets or on the road, where it points relative to the vehicle.",
  },
  "zero-point-reset": {
    label: "zero-point reset",
    meaning: "The sensor's present reading is stored as zero while the vehicle is in a known state.",
  },
  initialisation: {
    label: "initialisation",
    meaning: "The system stores its reference values or end positions afresh.",
  },
  aim: {
    label: "aim",
    meaning: "The beam is set to its prescribed direction with an aiming device or on a wall.",
  },
  relearn: { label: "relearn", meaning: "The vehicle learns which sensor sits at which place." },
  "image-adjustment": {
    label: "image adjustment",
    meaning:
      "The displayed picture is moved, turned and straightened until it sits where the driver should see it.",
  },
  "function-check": {
    label: "function check",
    meaning:
      "The system is used as a driver would use it, and what it does is compared with what it should do.",
  },
} as const satisfies Record<string, Term>;

export type Task = keyof typeof TASKS;
export const TASK_IDS: readonly Task[] = idsOf(TASKS);

/** Places that tell apart several sensors of one kind. */
export const POSITIONS = {
  front: { label: "front", meaning: "At the front end, or on the front axle." },
  rear: { label: "rear", meaning: "At the rear end, or on the rear axle." },
  left: { label: "left", meaning: "On the left of a person who sits facing forward." },
  right: { label: "right", meaning: "On the right of a person who sits facing forward." },
  "front-left": { label: "front left", meaning: "On the left side, towards the front." },
  "front-right": { label: "front right", meaning: "On the right side, towards the front." },
  "rear-left": { label: "rear left", meaning: "On the left side, towards the rear." },
  "rear-right": { label: "rear right", meaning: "On the right side, towards the rear." },
  passenger: { label: "front passenger", meaning: "At the front passenger's seat." },
  driver: { label: "driver", meaning: "At the driver's seat." },
} as const satisfies Record<string, Term>;

export type PositionId = keyof typeof POSITIONS;
export const POSITION_IDS: readonly PositionId[] = idsOf(POSITIONS);

/** What a sensor can be fastened to: a component, or one of `MOUNT_PLACES`. */
export const MOUNT_IDS = [
  "windshield",
  "roof-header",
  "interior-mirror",
  "front-structure",
  "front-bumper-reinforcement",
  "front-bumper-cover",
  "grille",
  "fender",
  "rear-structure",
  "quarter-panel",
  "rear-bumper-cover",
  "rear-lamp",
  "door-mirror",
  "liftgate",
  "trunk-lid",
  "tailgate",
  "spoiler",
  "b-pillar",
  "rear-glass",
  "steering-column",
  "instrument-panel",
  "clock-spring",
  "steering-gear",
  "floor-pan",
  "restraint-module",
  "stability-control-module",
  "electronic-module",
  "control-arm",
  "rear-axle",
  "subframe",
  "headlamp",
  "seat",
  "wheel",
] as const;

export type MountId = (typeof MOUNT_IDS)[number];

/** Mounts that name a region with several components in it, not one component. */
export const MOUNT_PLACES = [
  "front-structure",
  "rear-structure",
  "seat",
] as const satisfies readonly MountId[];

/** Places accepted on input that do not say what the sensor is fastened to: the mount is then unknown. */
export const MOUNT_PLACES_WITHOUT_MEANING = ["centre-console"] as const;

/** What a sensor can look through; "nothing" means that it is exposed. */
export const LOOK_IDS = [
  "windshield",
  "grille-emblem",
  "grille",
  "front-bumper-cover",
  "rear-bumper-cover",
  "rear-lamp",
  "rear-glass",
  "door-glass",
  "nothing",
] as const;

export type LookId = (typeof LOOK_IDS)[number];

/** The usual way of doing a task: a hint only, since the vehicle maker's procedure alone states the method. */
export type UsualMethod = "static" | "dynamic" | "static-or-dynamic" | "static-and-dynamic" | "none";

/** Pressure monitoring with a sensor in each wheel (direct) or worked out from wheel speeds (indirect). */
export const TYRE_PRESSURE_VARIANTS = ["direct", "indirect"] as const;
export type TyrePressureVariant = (typeof TYRE_PRESSURE_VARIANTS)[number];

/** A kind of sensor, with everything about it that does not depend on the vehicle. */
export interface SensorTerm extends Term {
  /** Positions that a vehicle has by default; empty when there is only one place. */
  readonly positions: readonly PositionId[];
  /** Positions that are rare: accepted when stated, never listed unasked. */
  readonly acceptedPositions?: readonly PositionId[];
  /** The task that is due unless something else is known. */
  readonly task: Task;
  /** Where the task depends on the system's variant, the task for each. */
  readonly taskByVariant?: Readonly<Record<TyrePressureVariant, Task>>;
  /** Usual mounts, by position, or under "any" where position makes no difference. */
  readonly mounts: Readonly<Record<string, readonly MountId[]>>;
  readonly looksThrough: readonly LookId[];
  /** Whether an error of direction grows with range until the function misjudges. */
  readonly aimCritical: boolean;
  /** Zones of which any one, when hit, concerns the sensor; by position or "any". */
  readonly zones: Readonly<Record<string, readonly Zone[]>>;
  /** Zones that concern the sensor only if the glass or the roof header was itself hit, which has to be asked. */
  readonly zonesToAskAbout?: readonly Zone[];
  readonly usualMethod: UsualMethod;
}

/**
 * The sensors that the rules know. Mounts, zones and usual methods are common practice, no source.
 */
export const SENSORS = {
  "forward-camera": {
    label: "forward camera",
    meaning: "A camera behind the windshield that sees lanes, vehicles, people and signs ahead.",
    positions: [],
    task: "calibration",
    mounts: { any: ["windshield", "roof-header", "interior-mirror"] },
    looksThrough: ["windshield"],
    aimCritical: true,
    zones: { any: ["roof"] },
    zonesToAskAbout: ["front"],
    usualMethod: "static-or-dynamic",
  },
  "front-radar": {
    label: "front radar",
    meaning: "A radar that measures distance and closing speed of what is ahead.",
    positions: [],
    task: "calibration",
    mounts: {
      any: [
        "front-structure",
        "front-bumper-reinforcement",
        "front-bumper-cover",
        "grille",
        "windshield",
        "interior-mirror",
      ],
    },
    looksThrough: ["grille-emblem", "grille", "front-bumper-cover", "windshield", "nothing"],
    aimCritical: true,
    zones: { any: ["front"] },
    usualMethod: "static-or-dynamic",
  },
  "front-corner-radar": {
    label: "front corner radar",
    meaning: "A radar at a front corner that watches crossing and adjacent traffic.",
    positions: ["left", "right"],
    task: "calibration",
    mounts: { any: ["front-structure", "front-bumper-cover", "fender"] },
    looksThrough: ["front-bumper-cover", "nothing"],
    aimCritical: true,
    zones: { left: ["front", "left"], right: ["front", "right"] },
    usualMethod: "static-or-dynamic",
  },
  "rear-corner-radar": {
    label: "rear corner radar",
    meaning: "A radar at a rear corner that watches the blind spot and traffic crossing behind.",
    positions: ["left", "right"],
    task: "calibration",
    mounts: { any: ["rear-structure", "quarter-panel", "rear-bumper-cover", "rear-lamp"] },
    looksThrough: ["rear-bumper-cover", "rear-lamp", "nothing"],
    aimCritical: true,
    zones: { left: ["rear", "left"], right: ["rear", "right"] },
    usualMethod: "static-or-dynamic",
  },
  lidar: {
    label: "lidar",
    meaning: "A scanning laser sensor that measures the shape of the scene ahead.",
    positions: [],
    task: "calibration",
    mounts: { any: ["front-structure", "front-bumper-cover", "grille", "roof-header"] },
    looksThrough: ["nothing", "front-bumper-cover", "grille", "windshield"],
    aimCritical: true,
    zones: { any: ["front"] },
    usualMethod: "static-or-dynamic",
  },
  "night-vision-camera": {
    label: "night-vision camera",
    meaning: "An infrared camera that shows people and animals ahead in the dark.",
    positions: [],
    task: "calibration",
    mounts: { any: ["grille", "front-bumper-cover", "front-structure"] },
    looksThrough: ["nothing", "grille"],
    aimCritical: true,
    zones: { any: ["front"] },
    usualMethod: "static",
  },
  "surround-camera": {
    label: "surround-view camera",
    meaning: "One of four wide-angle cameras whose pictures are joined into a view from above.",
    positions: ["front", "left", "right", "rear"],
    task: "calibration",
    mounts: {
      front: ["grille", "front-bumper-cover"],
      left: ["door-mirror"],
      right: ["door-mirror"],
      rear: ["liftgate", "trunk-lid", "tailgate", "rear-bumper-cover"],
    },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { front: ["front"], left: ["left"], right: ["right"], rear: ["rear"] },
    usualMethod: "static",
  },
  "rear-camera": {
    label: "rear camera",
    meaning: "The camera whose picture the driver sees when reversing.",
    positions: [],
    // A calibration instead, where the camera also serves surround view, parking assist or rear braking.
    task: "function-check",
    mounts: { any: ["liftgate", "trunk-lid", "tailgate", "rear-bumper-cover", "spoiler"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: ["rear"] },
    usualMethod: "static",
  },
  "side-camera": {
    label: "side camera",
    meaning: "A camera on the side of the body that watches adjacent lanes for a driving function.",
    positions: ["front-left", "front-right", "rear-left", "rear-right"],
    task: "calibration",
    mounts: { any: ["fender", "b-pillar", "door-mirror"] },
    looksThrough: ["nothing", "door-glass"],
    aimCritical: false,
    zones: {
      "front-left": ["left"],
      "front-right": ["right"],
      "rear-left": ["left"],
      "rear-right": ["right"],
    },
    usualMethod: "static-or-dynamic",
  },
  "rear-window-camera": {
    label: "rear-window camera",
    meaning: "A camera at the rear glass whose picture replaces the view in the interior mirror.",
    positions: [],
    task: "function-check",
    mounts: { any: ["rear-glass", "spoiler"] },
    looksThrough: ["rear-glass", "nothing"],
    aimCritical: false,
    zones: { any: ["rear"] },
    usualMethod: "none",
  },
  "mirror-replacement-camera": {
    label: "camera-monitor-system camera",
    meaning: "A camera that stands in for a door mirror and feeds a screen inside.",
    positions: ["left", "right"],
    task: "calibration",
    mounts: { any: ["door-mirror"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { left: ["left"], right: ["right"] },
    usualMethod: "static",
  },
  "driver-monitoring-camera": {
    label: "driver-monitoring camera",
    meaning: "A camera in the cabin that watches the driver's head and eyes.",
    positions: [],
    task: "calibration",
    mounts: { any: ["steering-column", "instrument-panel", "interior-mirror"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: [] },
    usualMethod: "static",
  },
  "parking-sensors": {
    label: "parking sensors",
    meaning: "A row of ultrasonic sensors in a bumper cover that measures short distances.",
    positions: ["front", "rear"],
    task: "function-check",
    mounts: { front: ["front-bumper-cover"], rear: ["rear-bumper-cover"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { front: ["front"], rear: ["rear"] },
    usualMethod: "none",
  },
  "steering-angle-sensor": {
    label: "steering-angle sensor",
    meaning: "A sensor that reports how far the steering is turned from straight ahead.",
    positions: [],
    task: "zero-point-reset",
    mounts: { any: ["steering-column", "clock-spring", "steering-gear"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: [] },
    usualMethod: "none",
  },
  "inertial-sensor": {
    label: "yaw-rate and acceleration sensor",
    meaning: "A sensor in or on the body that reports turning rate and acceleration.",
    positions: [],
    task: "zero-point-reset",
    mounts: { any: ["floor-pan", "restraint-module", "stability-control-module", "electronic-module"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: [] },
    usualMethod: "none",
  },
  "steering-torque-sensor": {
    label: "steering-torque sensor",
    meaning: "A sensor that reports how hard the driver turns the steering wheel.",
    positions: [],
    task: "zero-point-reset",
    mounts: { any: ["steering-gear", "steering-column"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: [] },
    usualMethod: "none",
  },
  "ride-height-sensor": {
    label: "ride-height sensor",
    meaning: "A lever sensor between suspension and body that reports how high that axle stands.",
    positions: ["front", "rear"],
    task: "initialisation",
    mounts: { front: ["control-arm", "subframe"], rear: ["control-arm", "rear-axle", "subframe"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: ["underside"] },
    usualMethod: "none",
  },
  "adaptive-headlamp": {
    label: "adaptive headlamp",
    meaning: "A headlamp whose beam is moved or masked by a control unit.",
    positions: ["left", "right"],
    task: "aim",
    mounts: { any: ["headlamp"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: ["front"] },
    usualMethod: "none",
  },
  "occupant-classification-sensor": {
    label: "occupant-classification sensor",
    meaning:
      "A sensor in a front seat that weighs up who or what is on it, so that the airbag can be switched off.",
    positions: ["passenger"],
    acceptedPositions: ["driver"],
    task: "zero-point-reset",
    mounts: { any: ["seat"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    zones: { any: [] },
    usualMethod: "none",
  },
  "head-up-display": {
    label: "head-up display",
    meaning: "A projector that mirrors driving information off the windshield into the driver's view.",
    positions: [],
    task: "image-adjustment",
    mounts: { any: ["instrument-panel"] },
    looksThrough: ["windshield"],
    aimCritical: false,
    zones: { any: ["roof"] },
    zonesToAskAbout: ["front"],
    usualMethod: "none",
  },
  "rain-light-sensor": {
    label: "rain and light sensor",
    meaning: "An optical sensor coupled to the windshield that works wipers and lamps.",
    positions: [],
    task: "initialisation",
    mounts: { any: ["windshield"] },
    looksThrough: ["windshield"],
    aimCritical: false,
    zones: { any: ["roof"] },
    zonesToAskAbout: ["front"],
    usualMethod: "none",
  },
  "tyre-pressure-sensors": {
    label: "tyre-pressure monitoring",
    meaning:
      "The means by which the vehicle notices a soft tyre: a sensor in each wheel, or the wheel speeds.",
    positions: [],
    task: "relearn",
    taskByVariant: { direct: "relearn", indirect: "initialisation" },
    mounts: { any: ["wheel"] },
    looksThrough: ["nothing"],
    aimCritical: false,
    // No zone: what concerns it is the wheel that was hit.
    zones: { any: [] },
    usualMethod: "none",
  },
} as const satisfies Record<string, SensorTerm>;

export type SensorId = keyof typeof SENSORS;
export const SENSOR_IDS: readonly SensorId[] = idsOf(SENSORS);

function termOf(sensor: SensorId): SensorTerm {
  return SENSORS[sensor];
}

function pickForPosition<T>(
  byPosition: Readonly<Record<string, readonly T[]>>,
  position: PositionId | null,
): readonly T[] {
  const entries = Object.entries(byPosition);
  if (position === null) return [...new Set(entries.flatMap(([, values]) => values))];
  return entries.filter(([key]) => key === position || key === "any").flatMap(([, values]) => values);
}

/** What a table says for each sensor and position, looked up once: the tables never change. */
function keep<T>(read: (sensor: SensorId, position: PositionId | null) => T): typeof read {
  const kept = new Map<SensorId, Map<PositionId | null, T>>();
  return (sensor, position) => {
    const ofSensor = kept.get(sensor) ?? new Map<PositionId | null, T>();
    kept.set(sensor, ofSensor);
    const ready = ofSensor.get(position);
    if (ready !== undefined) return ready;
    const found = read(sensor, position);
    ofSensor.set(position, found);
    return found;
  };
}

/** Lists the usual mounts of a sensor at a position; null asks for those of all its positions together. */
export const mountsOf = keep<readonly MountId[]>((sensor, position) =>
  pickForPosition(termOf(sensor).mounts, position),
);

/** Lists the zones of which any one, when hit, concerns a sensor at a position; null asks for all its positions. */
export const zonesOf = keep<readonly Zone[]>((sensor, position) =>
  pickForPosition(termOf(sensor).zones, position),
);

/** Lists the zones that concern a sensor only if the glass or the roof header was itself hit. */
export function zonesToAskAbout(sensor: SensorId): readonly Zone[] {
  return termOf(sensor).zonesToAskAbout ?? [];
}

/** Lists the positions that a sensor has by default; `[null]` for a sensor with a single place. */
export function positionsOf(sensor: SensorId): readonly (PositionId | null)[] {
  const { positions } = termOf(sensor);
  return positions.length === 0 ? [null] : positions;
}

/** Tells whether a sensor may be stated at a position, the rare ones included; null always may. */
export function acceptsPosition(sensor: SensorId, position: PositionId | null): boolean {
  if (position === null) return true;
  const { positions, acceptedPositions } = termOf(sensor);
  return positions.includes(position) || (acceptedPositions ?? []).includes(position);
}
