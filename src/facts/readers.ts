import { known, type FactValue, type Reader } from "../logic/index.js";
import type { FactName } from "../rulebook/index.js";
import type { DisturbanceId, StageId } from "../vocabulary/index.js";
import type { Cause, CauseFacts } from "./causes.js";
import type { JobFacts } from "./job-facts.js";
import type { Relation } from "./relations.js";
import type { Unknown } from "./unknowns.js";
import type { SensorFacts, SensorInstance } from "./vehicle.js";

/** What rules can read of a requirement. */
export interface RequirementFacts {
  readonly task: FactValue<Unknown>;
  readonly standing: FactValue<Unknown>;
  readonly method: FactValue<Unknown>;
  readonly disturbances: FactValue<Unknown>;
  readonly causeComponents: FactValue<Unknown>;
  readonly causeActions: FactValue<Unknown>;
  readonly causes: FactValue<Unknown>;
}

/** What a rule is asked of: as much of it as the rule's subject brings. */
export interface Asked {
  readonly job?: JobFacts;
  readonly cause?: Cause;
  readonly sensor?: SensorInstance;
  readonly relation?: Relation;
  readonly disturbance?: DisturbanceId;
  readonly requirement?: RequirementFacts;
  readonly earlier?: StageId;
  readonly later?: StageId;
}

type FactReader = Reader<Asked, Unknown>;

// The loader lets no rule read a fact that its subject does not bring, so this value is never seen by one.
const ABSENT: FactValue<never> = known("none");

const interned = new Map<string, FactValue<never>>();
/** A known word, the same object each time. */
export function knownWord(word: string): FactValue<never> {
  const found = interned.get(word);
  if (found !== undefined) return found;
  const made = known(word);
  interned.set(word, made);
  return made;
}

const ofJob =
  (name: keyof JobFacts & FactName): FactReader =>
  (asked) =>
    asked.job?.[name] ?? ABSENT;
const ofCause =
  (name: keyof CauseFacts): FactReader =>
  (asked) =>
    asked.cause?.facts[name] ?? ABSENT;
const ofSensor =
  (name: keyof SensorFacts): FactReader =>
  (asked) =>
    asked.sensor?.facts[name] ?? ABSENT;
const ofRelation =
  (name: keyof Relation & FactName): FactReader =>
  (asked) =>
    (asked.relation?.[name] as FactValue<Unknown> | undefined) ?? ABSENT;
const ofRequirement =
  (name: keyof RequirementFacts): FactReader =>
  (asked) =>
    asked.requirement?.[name] ?? ABSENT;
const ofWord =
  (name: "disturbance" | "earlier" | "later"): FactReader =>
  (asked) => {
    const word = asked[name];
    return word === undefined ? ABSENT : knownWord(word);
  };

/** How each fact of the catalogue is read. */
export const READERS: Readonly<Record<FactName, FactReader>> = {
  market: ofJob("market"),
  vehicleClass: ofJob("vehicleClass"),
  levellingSuspension: ofJob("levellingSuspension"),
  alignmentOutcomeStated: ofJob("alignmentOutcomeStated"),
  structuralRepairOutstanding: ofJob("structuralRepairOutstanding"),
  impactFrontOrSide: ofJob("impactFrontOrSide"),
  workStated: ofJob("workStated"),

  cause: ofCause("cause"),
  action: ofCause("action"),
  component: ofCause("component"),
  side: ofCause("side"),
  axle: ofCause("axle"),
  aboutSensor: ofCause("aboutSensor"),
  componentStructural: ofCause("componentStructural"),
  attachment: ofCause("attachment"),
  structural: ofCause("structural"),
  partOrigin: ofCause("partOrigin"),
  variantConfirmed: ofCause("variantConfirmed"),
  bracketIncluded: ofCause("bracketIncluded"),
  partConfigured: ofCause("partConfigured"),
  adhesiveCured: ofCause("adhesiveCured"),
  inSensorView: ofCause("inSensorView"),
  atMounting: ofCause("atMounting"),
  storesCalibration: ofCause("storesCalibration"),
  adjusted: ofCause("adjusted"),
  sizeChanged: ofCause("sizeChanged"),
  sizeApproved: ofCause("sizeApproved"),
  impactZone: ofCause("impactZone"),
  codeMeans: ofCause("codeMeans"),
  codeRead: ofCause("codeRead"),
  codeStatus: ofCause("codeStatus"),
  measurement: ofCause("measurement"),
  verdict: ofCause("verdict"),
  measuredWhen: ofCause("measuredWhen"),
  overRadar: ofCause("overRadar"),

  sensor: ofSensor("sensor"),
  position: ofSensor("position"),
  mount: ofSensor("mount"),
  looksThrough: ofSensor("looksThrough"),
  variant: ofSensor("variant"),
  aimCritical: ofSensor("aimCritical"),
  servesFurther: ofSensor("servesFurther"),

  reach: ofRelation("reach"),
  sight: ofRelation("sight"),
  served: ofRelation("served"),
  sameSide: ofRelation("sameSide"),
  sameEnd: ofRelation("sameEnd"),
  sameAxle: ofRelation("sameAxle"),
  inZone: ofRelation("inZone"),
  codeIsOwn: ofRelation("codeIsOwn"),
  sensorReplaced: ofRelation("sensorReplaced"),

  disturbance: ofWord("disturbance"),

  task: ofRequirement("task"),
  standing: ofRequirement("standing"),
  method: ofRequirement("method"),
  disturbances: ofRequirement("disturbances"),
  causeComponents: ofRequirement("causeComponents"),
  causeActions: ofRequirement("causeActions"),
  causes: ofRequirement("causes"),

  earlier: ofWord("earlier"),
  later: ofWord("later"),
};

/** The reader of a fact by name; throws for a name outside the catalogue. */
export function readerOf(fact: string): FactReader {
  const reader = (READERS as Readonly<Record<string, FactReader | undefined>>)[fact];
  if (reader === undefined) throw new Error(`no fact "${fact}" in the catalogue`);
  return reader;
}
