import type { Scalar } from "../logic/index.js";
import {
  ACTION_IDS,
  ADJUSTED_IDS,
  CODE_READ,
  CODE_STATUS,
  COMPONENT_IDS,
  DISTURBANCE_IDS,
  FAULT_MEANING_IDS,
  LOOK_IDS,
  MARKET_IDS,
  MEASUREMENT_KINDS,
  METHOD_IDS,
  MOUNT_IDS,
  PART_ORIGINS,
  POSITION_IDS,
  SENSOR_IDS,
  STAGE_IDS,
  STANDING_IDS,
  TASK_IDS,
  ZONE_IDS,
  partsOfMount,
  type ComponentId,
} from "../vocabulary/index.js";

/** What a rule is asked of. */
export const SUBJECTS = [
  "cause",
  "cause-and-sensor",
  "disturbance",
  "requirement",
  "cause-and-requirement",
  "stage-pair",
] as const;
export type Subject = (typeof SUBJECTS)[number];

type FactGroup = "job" | "cause" | "sensor" | "relation" | "disturbance" | "requirement" | "stages";

/** The groups of facts that each subject brings with it. */
const GROUPS_OF: Readonly<Record<Subject, readonly FactGroup[]>> = {
  cause: ["job", "cause"],
  "cause-and-sensor": ["job", "cause", "sensor", "relation"],
  disturbance: ["job", "cause", "sensor", "relation", "disturbance"],
  requirement: ["job", "sensor", "requirement"],
  "cause-and-requirement": ["job", "cause", "sensor", "relation", "requirement"],
  "stage-pair": ["stages"],
};

/** One fact that rules may read: whose it is, what it means, and which values it can take. */
export interface FactSpec {
  readonly group: FactGroup;
  readonly type: "word" | "list" | "number";
  /** The closed set of values (of members, for a list); `null` for numbers. */
  readonly values: readonly Scalar[] | null;
  readonly meaning: string;
}

const YES_NO = ["yes", "no"] as const;

/** What started a chain: an operation, or one of the findings. */
export const CAUSE_KINDS = [
  "operation",
  "impact-zone",
  "impact-wheel",
  "airbags-deployed",
  "structural-damage",
  "fault-code",
  "ride-height-change",
  "film-thickness",
  "measurement",
  "sensor-damage",
  "tyre-sizes-mixed",
] as const;
export type CauseKind = (typeof CAUSE_KINDS)[number];

export const REACHES = ["sensor", "bracket", "mount", "carrier", "none"] as const;
export const SIGHTS = ["cover", "carrier-of-cover", "none"] as const;

const word = (group: FactGroup, values: readonly Scalar[], meaning: string): FactSpec => ({
  group,
  type: "word",
  values,
  meaning,
});
const list = (group: FactGroup, values: readonly Scalar[], meaning: string): FactSpec => ({
  group,
  type: "list",
  values,
  meaning,
});
/** Mounts as rules see them: single parts, never a group of parts. */
export const MOUNT_PARTS: readonly ComponentId[] = [
  ...new Set(MOUNT_IDS.flatMap((mount) => partsOfMount(mount))),
];
const orNone = (values: readonly string[]): readonly string[] => [...values, "none"];

/**
 * Every fact that a rule may read. Where a fact does not apply (the axle of a windshield, the action of a
 * finding) its value is the word "none": that is known, and not the same as unknown.
 */
export const FACTS = {
  market: word("job", MARKET_IDS, "The market whose law the vehicle stands under."),
  vehicleClass: word(
    "job",
    ["passenger-car", "light-multipurpose-or-truck", "other"],
    "The class of vehicle that laws distinguish.",
  ),
  levellingSuspension: word(
    "job",
    YES_NO,
    "Whether the suspension levels the body by its ride height sensors.",
  ),
  alignmentOutcomeStated: word(
    "job",
    YES_NO,
    "Whether the work order says what a wheel alignment of this job adjusted, or that it adjusted nothing.",
  ),
  structuralRepairOutstanding: word(
    "job",
    YES_NO,
    "Whether structural damage was found of which no structural repair is listed.",
  ),
  impactFrontOrSide: word("job", YES_NO, "Whether the impact was to the front or to a side."),
  workStated: word("job", YES_NO, "Whether the work order lists any operation but claims."),

  cause: word("cause", CAUSE_KINDS, "What started the chain: an operation or a kind of finding."),
  action: word("cause", orNone(ACTION_IDS), "What the operation does."),
  component: word("cause", orNone(COMPONENT_IDS), "The part that the operation or the finding is about."),
  side: word("cause", orNone(["left", "right"]), "The side of the part or of the wheel hit."),
  axle: word("cause", orNone(["front", "rear"]), "The axle of the part or of the wheel hit."),
  aboutSensor: word("cause", orNone(SENSOR_IDS), "The sensor that the operation or the fault code names."),
  componentStructural: word("cause", [...YES_NO, "none"], "Whether the part belongs to the body structure."),
  attachment: word(
    "cause",
    ["bolted", "welded", "bonded", "none"],
    "How the part is fastened: by default for its kind, or as the operation states.",
  ),
  structural: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the work heats, pulls, measures or welds structure; replacing, sectioning or straightening a structural part that is not bolted does.",
  ),
  partOrigin: word("cause", orNone(PART_ORIGINS), "Where the new part comes from."),
  variantConfirmed: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the new part was confirmed as the variant for the vehicle's options.",
  ),
  bracketIncluded: word("cause", [...YES_NO, "none"], "Whether the new part comes with its sensor bracket."),
  partConfigured: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the new sensor or module was cleared of its former vehicle and configured to this one.",
  ),
  adhesiveCured: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the adhesive of bonded glass has reached the cure that its maker asks for.",
  ),
  inSensorView: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the damage, film or accessory lies in a sensor's view.",
  ),
  atMounting: word("cause", [...YES_NO, "none"], "Whether the repair lies at the sensor's mounting."),
  storesCalibration: word(
    "cause",
    [...YES_NO, "none"],
    "Whether the module that was programmed stores the calibration.",
  ),
  adjusted: list("cause", ADJUSTED_IDS, "What a wheel alignment adjusted; empty for any other operation."),
  sizeChanged: word("cause", [...YES_NO, "none"], "Whether the tyres differ in size from those before."),
  sizeApproved: word("cause", [...YES_NO, "none"], "Whether the vehicle maker approves the new tyre size."),
  impactZone: word("cause", orNone(ZONE_IDS), "The zone of the impact."),
  codeMeans: word("cause", orNone(FAULT_MEANING_IDS), "What the fault code means."),
  codeRead: word("cause", orNone(CODE_READ), "When the fault code was read."),
  codeStatus: word("cause", orNone(CODE_STATUS), "Whether the fault code is active or only stored."),
  measurement: word("cause", orNone(MEASUREMENT_KINDS), "What was measured."),
  verdict: word(
    "cause",
    ["in", "out", "undecided", "none"],
    "Whether the value measured is inside its limits.",
  ),
  measuredWhen: word(
    "cause",
    ["before", "after", "none"],
    "Whether it was measured before or after the repair.",
  ),
  overRadar: word("cause", [...YES_NO, "none"], "Whether the film was measured over a radar's window."),

  sensor: word("sensor", SENSOR_IDS, "The kind of sensor."),
  position: word("sensor", orNone(POSITION_IDS), "Its position, where the vehicle has several of the kind."),
  mount: word("sensor", MOUNT_PARTS, "The part that the sensor is mounted on."),
  looksThrough: word("sensor", LOOK_IDS, "What the sensor looks through."),
  variant: word("sensor", ["direct", "indirect", "none"], "How a tyre pressure system measures."),
  aimCritical: word("sensor", YES_NO, "Whether the sensor's pointing error grows with range."),
  servesFurther: word(
    "sensor",
    YES_NO,
    "Whether a rear camera also serves surround view, parking assist or rear braking; no for any other sensor.",
  ),

  reach: word(
    "relation",
    REACHES,
    "How the operation reaches the sensor: at the sensor, its bracket, its mount, or a carrier of the mount.",
  ),
  sight: word(
    "relation",
    SIGHTS,
    "Whether the part is what the sensor looks through or sits in, or carries that part.",
  ),
  served: word("relation", YES_NO, "Whether the module or harness of the operation serves the sensor."),
  sameSide: word(
    "relation",
    [...YES_NO, "none"],
    "Whether part and sensor lie on one side; none where either has no side.",
  ),
  sameEnd: word("relation", YES_NO, "Whether part and sensor both lie at the front, or both at the rear."),
  sameAxle: word(
    "relation",
    [...YES_NO, "none"],
    "Whether part and sensor belong to one axle; none where either has no axle.",
  ),
  inZone: word("relation", YES_NO, "Whether the impact was in the sensor's zone."),
  codeIsOwn: word("relation", YES_NO, "Whether the fault code, or the damage found, is the sensor's own."),
  sensorReplaced: word("relation", YES_NO, "Whether this job replaces the sensor."),

  disturbance: word("disturbance", DISTURBANCE_IDS, "What the cause does to the sensor."),

  task: word("requirement", TASK_IDS, "What is due."),
  standing: word("requirement", STANDING_IDS, "How firm the requirement is."),
  method: word(
    "requirement",
    METHOD_IDS.filter((method) => method !== "unknown"),
    "The method that the maker's procedure states.",
  ),
  disturbances: list("requirement", DISTURBANCE_IDS, "The disturbances that the requirement stands on."),
  causeComponents: list("requirement", COMPONENT_IDS, "The parts of the operations that it stands on."),
  causeActions: list("requirement", ACTION_IDS, "The actions of the operations that it stands on."),
  causes: list("requirement", CAUSE_KINDS, "The kinds of causes that it stands on."),

  earlier: word("stages", STAGE_IDS, "The stage that would come first."),
  later: word("stages", STAGE_IDS, "The stage that would come after it."),
} as const satisfies Readonly<Record<string, FactSpec>>;

export type FactName = keyof typeof FACTS;
export const FACT_NAMES = Object.keys(FACTS) as readonly FactName[];

/** Whether `name` is a fact of the catalogue. */
export function isFactName(name: string): name is FactName {
  return Object.hasOwn(FACTS, name);
}

/** The names of the facts that a subject brings, in the order of the catalogue. */
export function factsOf(subject: Subject): readonly FactName[] {
  const groups = GROUPS_OF[subject];
  return FACT_NAMES.filter((name) => groups.includes(FACTS[name].group));
}
