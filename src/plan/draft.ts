import { InputError } from "../errors.js";
import {
  Relation,
  ask,
  touchBetween,
  type Asked,
  type Cause,
  type SensorInstance,
  type Unknown,
} from "../facts/index.js";
import {
  factsOfRequirement,
  standingOf,
  type CompiledRule,
  type Derivation,
  type Program,
  type RequirementNode,
  type Support,
} from "../inference/index.js";
import { TRUE, type FactValue, knownWord } from "../logic/index.js";
import {
  procedureFor,
  type LoadedProcedures,
  type Procedure,
  type ProcedurePack,
} from "../procedures/index.js";
import {
  isStronger,
  type EvidenceId,
  type HoldId,
  type PreconditionId,
  type Standing,
  type Task,
} from "../vocabulary/index.js";
import { keepFirst } from "./first-things-first.js";

/** A requirement while the plan is being made: what supports it, and what other rules attach to it. */
export interface Draft {
  readonly key: string;
  readonly sensor: SensorInstance;
  /** Keys of sensors that are the same device. */
  readonly alsoFor: readonly string[];
  readonly task: Task;
  readonly supports: readonly Support[];
  readonly standing: Standing;
  readonly couldRiseTo: Exclude<Standing, "undetermined"> | null;
  readonly procedure: { readonly procedure: Procedure; readonly pack: ProcedurePack } | null;
  readonly holds: readonly DraftHold[];
  readonly preconditions: readonly DraftPrecondition[];
  readonly evidence: readonly EvidenceId[];
  /** The open points that could still raise its standing. */
  readonly unknowns: readonly Unknown[];
}

export interface DraftHold {
  readonly hold: HoldId;
  readonly rule: CompiledRule<"holds">;
  readonly cause: Cause;
}

export interface DraftPrecondition {
  readonly id: PreconditionId;
  readonly certain: boolean;
  /** `null` where only the maker's procedure asks for it. */
  readonly rule: CompiledRule<"preconditions"> | null;
}

/** Support that a maker's procedure takes away, with the rule that does. */
export interface Waiver {
  readonly sensor: SensorInstance;
  readonly task: Task;
  readonly by: CompiledRule<"waivers"> | CompiledRule<"requirements">;
  readonly waived: readonly Support[];
}

/** Turns the derived requirements into drafts, and lists what was waived. */
export function draftRequirements(
  program: Program,
  derivation: Derivation,
  procedures: readonly LoadedProcedures[],
  stated: readonly Cause[],
): { readonly drafts: readonly Draft[]; readonly waivers: readonly Waiver[] } {
  const waivers: Waiver[] = [];
  const kept = [...derivation.requirements.values()].flatMap((node) => {
    const { supports, waived } = withoutExceptions(node, program, derivation);
    waivers.push(...waived);
    return supports.length === 0 ? [] : [{ ...node, supports }];
  });
  const drafts = joinDevices(kept).map((node) => draftOf(node, program, derivation, procedures, stated));
  return { drafts, waivers };
}

/**
 * Takes away the supports to which an exception applies: a waiver, or a rule that states it is an exception to the
 * one that supports. Only what is certain takes anything away. Two exceptions to one rule that both apply and do not
 * agree are an error that names both.
 */
function withoutExceptions(
  node: RequirementNode,
  program: Program,
  derivation: Derivation,
): { readonly supports: readonly Support[]; readonly waived: readonly Waiver[] } {
  if (!program.hasExceptions) return { supports: node.supports, waived: [] };
  const waivedBy = new Map<Support, CompiledRule<"waivers"> | CompiledRule<"requirements">>();
  for (const support of node.supports) {
    const waiver = waiverOf(support, program, derivation);
    const exceptions = node.supports.filter(
      (other) =>
        other.certain &&
        other.disturbance.key === support.disturbance.key &&
        other.rule.rule.exceptionTo?.includes(support.rule.id) === true,
    );
    const [exception, second] = exceptions;
    if (exception !== undefined && second !== undefined && exception.standing !== second.standing) {
      refuseConflict(exception.rule.id, second.rule.id, support.rule.id);
    }
    if (waiver !== null && exception !== undefined)
      refuseConflict(waiver.id, exception.rule.id, support.rule.id);
    const by = waiver ?? exception?.rule;
    if (by !== undefined) waivedBy.set(support, by);
  }
  if (waivedBy.size === 0) return { supports: node.supports, waived: [] };
  const supports = node.supports.filter((support) => !waivedBy.has(support));
  const byRule = new Map<string, Waiver>();
  for (const [support, by] of waivedBy) {
    // A maker who asks for more replaces the rule but waives nothing: the firmer requirement stands in the plan.
    if (by.rule.stratum === "requirements" && isStronger(by.rule.concludes.standing, support.standing))
      continue;
    const before = byRule.get(by.id);
    byRule.set(by.id, {
      sensor: node.sensor,
      task: node.task,
      by,
      waived: [...(before?.waived ?? []), support],
    });
  }
  return { supports, waived: [...byRule.values()] };
}

function refuseConflict(first: string, second: string, about: string): never {
  throw new InputError("procedure-pack", [
    {
      code: "rule-conflict",
      pointer: "/rules",
      message: `the rules "${first}" and "${second}" both take an exception to "${about}" here and do not agree`,
    },
  ]);
}

function waiverOf(
  support: Support,
  program: Program,
  derivation: Derivation,
): CompiledRule<"waivers"> | null {
  const naming = program.waivers.filter(({ rule }) => rule.concludes.waives.includes(support.rule.id));
  if (naming.length === 0) return null;
  const node = derivation.causes.get(support.disturbance.cause);
  if (node === undefined || !node.certain) return null;
  const { sensor } = support.disturbance;
  const relation = new Relation(node.cause, sensor, derivation.job);
  const asked = ask(derivation.job, node.cause, relation, support.disturbance.kind);
  return naming.find((waiver) => waiver.condition.evaluate(asked) === TRUE) ?? null;
}

/** Merges requirements for one task of one device that is listed under several sensors. */
function joinDevices(
  nodes: readonly RequirementNode[],
): readonly (RequirementNode & { readonly alsoFor: readonly string[] })[] {
  if (nodes.every(({ sensor }) => sensor.sameDeviceAs === null)) {
    return nodes.map((node) => ({ ...node, alsoFor: [] }));
  }
  const heads = new Map(nodes.map((node) => [node, headOf(node, nodes)]));
  return nodes
    .filter((node) => heads.get(node) === node)
    .map((node) => {
      const others = nodes.filter((other) => other !== node && heads.get(other) === node);
      return {
        ...node,
        supports: [...node.supports, ...others.flatMap(({ supports }) => supports)],
        alsoFor: others.map((other) => other.sensor.key),
      };
    });
}

/**
 * The requirement under which a device's task is listed: the one that its "same device" statements lead to. Statements
 * that name one another lead round in a circle; then the last of the circle by key stands for all of it.
 */
function headOf(node: RequirementNode, nodes: readonly RequirementNode[]): RequirementNode {
  const path: RequirementNode[] = [];
  let next: RequirementNode | undefined = node;
  while (next !== undefined && !path.includes(next)) {
    const { task, sensor }: RequirementNode = next;
    path.push(next);
    next = nodes.find((each) => each.task === task && each.sensor.key === sensor.sameDeviceAs);
  }
  const circle = next === undefined ? path.slice(-1) : path.slice(path.indexOf(next));
  return circle.reduce((a, b) => (a.key < b.key ? b : a));
}

function draftOf(
  node: RequirementNode & { readonly alsoFor: readonly string[] },
  program: Program,
  derivation: Derivation,
  procedures: readonly LoadedProcedures[],
  stated: readonly Cause[],
): Draft {
  const { standing, couldRiseTo } = standingOf(node.supports);
  const procedure = procedureFor(procedures, node.sensor.sensor, node.sensor.position, node.task);
  const method: FactValue<Unknown> | undefined =
    procedure === null ? undefined : knownWord(procedure.procedure.method);
  const requirement = factsOfRequirement(node, derivation.causes, method);
  const asked = ask(derivation.job, undefined, undefined, undefined, requirement, node.sensor);
  const evidence = program.evidence
    .ask(asked)
    .flatMap(({ rule, certain }) => (certain ? [rule.rule.concludes.evidence] : []));
  return {
    key: node.key,
    sensor: node.sensor,
    alsoFor: node.alsoFor,
    task: node.task,
    supports: node.supports,
    standing,
    couldRiseTo,
    procedure,
    holds: findHolds(asked, node.sensor, program, derivation, stated),
    preconditions: findPreconditions(asked, program, procedure?.procedure ?? null),
    evidence: [...new Set([...evidence, ...(procedure?.procedure.evidence ?? [])])].sort(),
    unknowns: couldRiseTo === null ? [] : openPoints(node.supports, standing),
  };
}

/** The open points of the chains that would raise the standing; what hangs on a weaker chain asks nothing. */
function openPoints(supports: readonly Support[], standing: Standing): readonly Unknown[] {
  const byKey = new Map<string, Unknown>();
  for (const support of supports) {
    if (support.certain || !isStronger(support.standing, standing)) continue;
    for (const unknown of keepFirst(support.unknowns)) byKey.set(unknown.key, unknown);
  }
  return [...byKey.values()].sort((a, b) => (a.key < b.key ? -1 : 1));
}

function findHolds(
  asked: Asked,
  sensor: SensorInstance,
  program: Program,
  derivation: Derivation,
  stated: readonly Cause[],
): readonly DraftHold[] {
  return stated.flatMap((cause) => {
    if (program.holds.lookUp(cause.indexKey).length === 0) return [];
    const touch = touchBetween(cause, sensor, derivation.job);
    const rules = program.holds.lookUp(cause.indexKey, sensor.sensor, touch);
    if (rules.length === 0) return [];
    const relation = new Relation(cause, sensor, derivation.job);
    const about = ask(derivation.job, cause, relation, undefined, asked.requirement);
    // A hold stops work, so only a stated fact brings one: what is open is a precondition instead.
    return rules
      .filter((rule) => rule.condition.evaluate(about) === TRUE)
      .map((rule) => ({ hold: rule.rule.concludes.hold, rule, cause }));
  });
}

function findPreconditions(
  asked: Asked,
  program: Program,
  procedure: Procedure | null,
): readonly DraftPrecondition[] {
  const found = new Map<PreconditionId, DraftPrecondition>();
  for (const { rule, certain } of program.preconditions.ask(asked)) {
    const id = rule.rule.concludes.precondition;
    const before = found.get(id);
    if (before === undefined || (certain && !before.certain)) found.set(id, { id, certain, rule });
  }
  for (const condition of procedure?.conditions ?? []) {
    const before = found.get(condition.precondition);
    found.set(condition.precondition, {
      id: condition.precondition,
      certain: true,
      rule: before?.rule ?? null,
    });
  }
  return [...found.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}
