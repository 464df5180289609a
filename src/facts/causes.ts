import type { JobOperation } from "../job/index.js";
import { known, knownWord, oneOf, type FactValue } from "../logic/index.js";
import type { CauseKind } from "../rulebook/index.js";
import {
  COMPONENTS,
  type ActionId,
  type ComponentId,
  type ComponentTerm,
  type PositionId,
  type SensorId,
} from "../vocabulary/index.js";
import type { Unknown } from "./unknowns.js";

/** What rules can read of a cause; the names are those of the fact catalogue. */
export interface CauseFacts {
  readonly cause: FactValue<Unknown>;
  readonly action: FactValue<Unknown>;
  readonly component: FactValue<Unknown>;
  readonly side: FactValue<Unknown>;
  readonly axle: FactValue<Unknown>;
  readonly aboutSensor: FactValue<Unknown>;
  readonly componentStructural: FactValue<Unknown>;
  readonly attachment: FactValue<Unknown>;
  readonly structural: FactValue<Unknown>;
  readonly partOrigin: FactValue<Unknown>;
  readonly variantConfirmed: FactValue<Unknown>;
  readonly bracketIncluded: FactValue<Unknown>;
  readonly partConfigured: FactValue<Unknown>;
  readonly adhesiveCured: FactValue<Unknown>;
  readonly inSensorView: FactValue<Unknown>;
  readonly atMounting: FactValue<Unknown>;
  readonly storesCalibration: FactValue<Unknown>;
  readonly adjusted: FactValue<Unknown>;
  readonly sizeChanged: FactValue<Unknown>;
  readonly sizeApproved: FactValue<Unknown>;
  readonly impactZone: FactValue<Unknown>;
  readonly codeMeans: FactValue<Unknown>;
  readonly codeRead: FactValue<Unknown>;
  readonly codeStatus: FactValue<Unknown>;
  readonly measurement: FactValue<Unknown>;
  readonly verdict: FactValue<Unknown>;
  readonly measuredWhen: FactValue<Unknown>;
  readonly overRadar: FactValue<Unknown>;
}

/** An operation as the work order states it or as a rule implies it, or a finding. */
export interface Cause {
  /** Unique within a job: the operation's key, or the pointer of the finding. */
  readonly key: string;
  /** Kind, action and component in one word, for the index over rules. */
  readonly indexKey: string;
  readonly kind: CauseKind;
  /** JSON pointer of the statement; for an implied operation, of the one that it comes from. */
  readonly pointer: string;
  readonly facts: CauseFacts;
  /** The operation behind it; `null` for a finding. */
  readonly operation: OperationSpec | null;
  /** The operation as stated in the job; `null` where a rule implies it, and for findings. */
  readonly stated: JobOperation | null;
  /** A finding that nobody stated, supposed in order to see what it could add. */
  readonly isSupposed: boolean;
  /** For fault codes: the sensor named, and its position where one is stated. */
  readonly names: { readonly sensor: SensorId; readonly position: PositionId | null } | null;
}

/** What identifies an operation, stated or implied. */
export interface OperationSpec {
  readonly action: ActionId;
  readonly component: ComponentId;
  readonly side: FactValue<Unknown>;
  readonly axle: FactValue<Unknown>;
  readonly sensor: SensorId | null;
  readonly position: PositionId | null;
}

/** Stands between the words of an index key; no id holds it. */
export const SEPARATOR = "|";

export function indexKeyOf(kind: CauseKind, action: string, component: string): string {
  return [kind, action, component].join(SEPARATOR);
}

export const YES = knownWord("yes");

export const NO = knownWord("no");

export const NONE = knownWord("none");

export const NOTHING = known([]);

/** Facts of a cause of which nothing applies. A class, since an object spread over so many fields is slow. */
export class BlankFacts implements CauseFacts {
  cause: FactValue<Unknown> = NONE;
  action: FactValue<Unknown> = NONE;
  component: FactValue<Unknown> = NONE;
  side: FactValue<Unknown> = NONE;
  axle: FactValue<Unknown> = NONE;
  aboutSensor: FactValue<Unknown> = NONE;
  componentStructural: FactValue<Unknown> = NONE;
  attachment: FactValue<Unknown> = NONE;
  structural: FactValue<Unknown> = NONE;
  partOrigin: FactValue<Unknown> = NONE;
  variantConfirmed: FactValue<Unknown> = NONE;
  bracketIncluded: FactValue<Unknown> = NONE;
  partConfigured: FactValue<Unknown> = NONE;
  adhesiveCured: FactValue<Unknown> = NONE;
  inSensorView: FactValue<Unknown> = NONE;
  atMounting: FactValue<Unknown> = NONE;
  storesCalibration: FactValue<Unknown> = NONE;
  adjusted: FactValue<Unknown> = NOTHING;
  sizeChanged: FactValue<Unknown> = NONE;
  sizeApproved: FactValue<Unknown> = NONE;
  impactZone: FactValue<Unknown> = NONE;
  codeMeans: FactValue<Unknown> = NONE;
  codeRead: FactValue<Unknown> = NONE;
  codeStatus: FactValue<Unknown> = NONE;
  measurement: FactValue<Unknown> = NONE;
  verdict: FactValue<Unknown> = NONE;
  measuredWhen: FactValue<Unknown> = NONE;
  overRadar: FactValue<Unknown> = NONE;
}

export function termOf(component: ComponentId): ComponentTerm {
  return COMPONENTS[component];
}

export function readPlace(
  applies: boolean,
  stated: string | undefined,
  places: readonly string[],
  ask: () => Unknown,
): FactValue<Unknown> {
  if (!applies) return NONE;
  return readWord(stated, places, ask);
}

export function readWord(
  stated: string | undefined,
  values: readonly string[],
  ask: () => Unknown,
): FactValue<Unknown> {
  return stated === undefined || stated === "unknown" ? oneOf(values, [ask()]) : knownWord(stated);
}
