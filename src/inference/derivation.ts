import type { Cause, JobFacts, SensorInstance, Unknown } from "../facts/index.js";
import type { DisturbanceId, InspectionId, Standing, Task } from "../vocabulary/index.js";
import type { CompiledRule } from "./program.js";

/** An operation or finding in the derivation, with how surely it happened. */
export interface CauseNode {
  readonly key: string;
  readonly cause: Cause;
  /** The stated causes on which the chains to this one began, sorted by key; itself for stated ones. */
  readonly roots: readonly Cause[];
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
  /** What it follows from; empty for stated causes. */
  readonly from: readonly Implication[];
}

/** One way in which an operation follows: by a rule, from another cause or from a requirement. */
export interface Implication {
  readonly rule: CompiledRule<"implied-operations">;
  readonly fromCause: string | null;
  readonly fromRequirement: string | null;
  /** The sensor that the rule was asked of, where it was asked of one. */
  readonly sensor: SensorInstance | null;
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
}

/** One rule by which a cause disturbs a sensor. */
export interface DisturbanceSupport {
  readonly rule: CompiledRule<"disturbances">;
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
}

/** What a cause does to a sensor. */
export interface DisturbanceNode {
  readonly key: string;
  readonly kind: DisturbanceId;
  readonly cause: string;
  readonly sensor: SensorInstance;
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
  readonly rules: readonly DisturbanceSupport[];
}

/** One rule's support for a requirement. */
export interface Support {
  readonly rule: CompiledRule<"requirements">;
  readonly standing: Exclude<Standing, "undetermined">;
  readonly inspection: InspectionId | null;
  readonly disturbance: DisturbanceNode;
  readonly certain: boolean;
  readonly unknowns: readonly Unknown[];
}

/** A requirement with everything that supports it. */
export interface RequirementNode {
  readonly key: string;
  readonly sensor: SensorInstance;
  readonly task: Task;
  readonly supports: readonly Support[];
}

/** Everything that follows from a job: the graph that plan and explanations are read off. */
export interface Derivation {
  readonly job: JobFacts;
  readonly sensors: readonly SensorInstance[];
  readonly causes: ReadonlyMap<string, CauseNode>;
  readonly disturbances: ReadonlyMap<string, DisturbanceNode>;
  readonly requirements: ReadonlyMap<string, RequirementNode>;
}

/** The firmest standing that certain supports give, and what possible ones could raise it to. */
export function standingOf(supports: readonly Support[]): {
  readonly standing: Standing;
  readonly couldRiseTo: Exclude<Standing, "undetermined"> | null;
} {
  let certain = RANK.undetermined;
  let possible = RANK.undetermined;
  for (const support of supports) {
    const rank = RANK[support.standing];
    if (support.certain) certain = Math.min(certain, rank);
    else possible = Math.min(possible, rank);
  }
  const raised = possible < certain ? BY_RANK[possible] : undefined;
  return {
    standing: BY_RANK[certain] ?? "undetermined",
    couldRiseTo: raised === undefined || raised === "undetermined" ? null : raised,
  };
}

const BY_RANK = ["required", "presumed", "inspect-first", "undetermined"] as const;
const RANK: Readonly<Record<Standing, number>> = {
  required: 0,
  presumed: 1,
  "inspect-first": 2,
  undetermined: 3,
};
