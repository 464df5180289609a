import { knownWord, type FactValue, type Reader } from "../logic/index.js";
import type { FactName } from "../rulebook/index.js";
import type { DisturbanceId, StageId } from "../vocabulary/index.js";
import type { Cause } from "./causes.js";
import type { JobFacts } from "./job-facts.js";
import type { Relation } from "./relations.js";
import type { Unknown } from "./unknowns.js";
import type { SensorInstance } from "./sensor.js";

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

/**
 * What a rule is asked of: as much of it as the rule's subject brings.
 * `ask` always sets every field, in one order: readers run millions of times, and stay fast only on one shape.
 */
export interface Asked {
  readonly job?: JobFacts | undefined;
  readonly cause?: Cause | undefined;
  readonly sensor?: SensorInstance | undefined;
  readonly relation?: Relation | undefined;
  readonly disturbance?: DisturbanceId | undefined;
  readonly requirement?: RequirementFacts | undefined;
  readonly earlier?: StageId | undefined;
  readonly later?: StageId | undefined;
}

/** Puts together what a rule is asked of. */
export function ask(
  job: JobFacts,
  cause?: Cause,
  relation?: Relation,
  disturbance?: DisturbanceId,
  requirement?: RequirementFacts,
  sensor?: SensorInstance,
): Asked {
  return {
    job,
    cause,
    sensor: sensor ?? relation?.sensor,
    relation,
    disturbance,
    requirement,
    earlier: undefined,
    later: undefined,
  };
}

type FactReader = Reader<Asked, Unknown>;

// The loader lets no rule read a fact that its subject does not bring, so this value is never seen by one.
const ABSENT: FactValue<never> = knownWord("none");

const wordOf = (word: string | undefined): FactValue<Unknown> =>
  word === undefined ? ABSENT : knownWord(word);

/** How each fact of the catalogue is read. Written out, since a shared reader with the name as a parameter is slow. */
export const READERS: Readonly<Record<FactName, FactReader>> = {
  market: (asked) => asked.job?.market ?? ABSENT,
  vehicleClass: (asked) => asked.job?.vehicleClass ?? ABSENT,
  levellingSuspension: (asked) => asked.job?.levellingSuspension ?? ABSENT,
  alignmentOutcomeStated: (asked) => asked.job?.alignmentOutcomeStated ?? ABSENT,
  structuralRepairOutstanding: (asked) => asked.job?.structuralRepairOutstanding ?? ABSENT,
  impactFrontOrSide: (asked) => asked.job?.impactFrontOrSide ?? ABSENT,
  workStated: (asked) => asked.job?.workStated ?? ABSENT,

  cause: (asked) => asked.cause?.facts.cause ?? ABSENT,
  action: (asked) => asked.cause?.facts.action ?? ABSENT,
  component: (asked) => asked.cause?.facts.component ?? ABSENT,
  side: (asked) => asked.cause?.facts.side ?? ABSENT,
  axle: (asked) => asked.cause?.facts.axle ?? ABSENT,
  aboutSensor: (asked) => asked.cause?.facts.aboutSensor ?? ABSENT,
  componentStructural: (asked) => asked.cause?.facts.componentStructural ?? ABSENT,
  attachment: (asked) => asked.cause?.facts.attachment ?? ABSENT,
  structural: (asked) => asked.cause?.facts.structural ?? ABSENT,
  partOrigin: (asked) => asked.cause?.facts.partOrigin ?? ABSENT,
  variantConfirmed: (asked) => asked.cause?.facts.variantConfirmed ?? ABSENT,
  bracketIncluded: (asked) => asked.cause?.facts.bracketIncluded ?? ABSENT,
  partConfigured: (asked) => asked.cause?.facts.partConfigured ?? ABSENT,
  adhesiveCured: (asked) => asked.cause?.facts.adhesiveCured ?? ABSENT,
  inSensorView: (asked) => asked.cause?.facts.inSensorView ?? ABSENT,
  atMounting: (asked) => asked.cause?.facts.atMounting ?? ABSENT,
  storesCalibration: (asked) => asked.cause?.facts.storesCalibration ?? ABSENT,
  adjusted: (asked) => asked.cause?.facts.adjusted ?? ABSENT,
  sizeChanged: (asked) => asked.cause?.facts.sizeChanged ?? ABSENT,
  sizeApproved: (asked) => asked.cause?.facts.sizeApproved ?? ABSENT,
  impactZone: (asked) => asked.cause?.facts.impactZone ?? ABSENT,
  codeMeans: (asked) => asked.cause?.facts.codeMeans ?? ABSENT,
  codeRead: (asked) => asked.cause?.facts.codeRead ?? ABSENT,
  codeStatus: (asked) => asked.cause?.facts.codeStatus ?? ABSENT,
  measurement: (asked) => asked.cause?.facts.measurement ?? ABSENT,
  verdict: (asked) => asked.cause?.facts.verdict ?? ABSENT,
  measuredWhen: (asked) => asked.cause?.facts.measuredWhen ?? ABSENT,
  overRadar: (asked) => asked.cause?.facts.overRadar ?? ABSENT,

  sensor: (asked) => asked.sensor?.facts.sensor ?? ABSENT,
  position: (asked) => asked.sensor?.facts.position ?? ABSENT,
  mount: (asked) => asked.sensor?.facts.mount ?? ABSENT,
  looksThrough: (asked) => asked.sensor?.facts.looksThrough ?? ABSENT,
  variant: (asked) => asked.sensor?.facts.variant ?? ABSENT,
  aimCritical: (asked) => asked.sensor?.facts.aimCritical ?? ABSENT,
  servesFurther: (asked) => asked.sensor?.facts.servesFurther ?? ABSENT,

  reach: (asked) => asked.relation?.reach ?? ABSENT,
  sight: (asked) => asked.relation?.sight ?? ABSENT,
  served: (asked) => asked.relation?.served ?? ABSENT,
  sameSide: (asked) => asked.relation?.sameSide ?? ABSENT,
  sameEnd: (asked) => asked.relation?.sameEnd ?? ABSENT,
  sameAxle: (asked) => asked.relation?.sameAxle ?? ABSENT,
  inZone: (asked) => asked.relation?.inZone ?? ABSENT,
  codeIsOwn: (asked) => asked.relation?.codeIsOwn ?? ABSENT,
  sensorReplaced: (asked) => asked.relation?.sensorReplaced ?? ABSENT,

  disturbance: (asked) => wordOf(asked.disturbance),

  task: (asked) => asked.requirement?.task ?? ABSENT,
  standing: (asked) => asked.requirement?.standing ?? ABSENT,
  method: (asked) => asked.requirement?.method ?? ABSENT,
  disturbances: (asked) => asked.requirement?.disturbances ?? ABSENT,
  causeComponents: (asked) => asked.requirement?.causeComponents ?? ABSENT,
  causeActions: (asked) => asked.requirement?.causeActions ?? ABSENT,
  causes: (asked) => asked.requirement?.causes ?? ABSENT,

  earlier: (asked) => wordOf(asked.earlier),
  later: (asked) => wordOf(asked.later),
};

/** The reader of a fact by name; throws for a name outside the catalogue. */
export function readerOf(fact: string): FactReader {
  const reader = (READERS as Readonly<Record<string, FactReader | undefined>>)[fact];
  if (reader === undefined) throw new Error(`no fact "${fact}" in the catalogue`);
  return reader;
}
