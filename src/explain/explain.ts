import { InputError, nearestOf } from "../errors.js";
import { Relation, ask, type Asked, type Cause, type SensorInstance } from "../facts/index.js";
import { pathsTo } from "../plan/index.js";
import type { CompiledRule, Derivation, Program } from "../inference/index.js";
import { FALSE, nameOfTruth, type FactValue, type Trace } from "../logic/index.js";
import type { Job } from "../job/index.js";
import { deriveJob, planCalibrations, type PlanOptions } from "../plan-calibrations.js";
import type { Plan, PlanQuestion, PlanReason, PlanSource, Requirement } from "../plan/index.js";
import { FACTS, type FactName } from "../rulebook/index.js";
import {
  ACTIONS,
  COMPONENTS,
  DISTURBANCES,
  POSITION_IDS,
  SENSORS,
  SENSOR_IDS,
  TASKS,
  STANDINGS,
  acceptsPosition,
  componentOf,
  nameOfSensor,
  type ComponentId,
  type PositionId,
  type SensorId,
  type Standing,
  type Task,
} from "../vocabulary/index.js";
import { nameOfFinding } from "./findings.js";

/** What an explanation can be deepened with: the job and the rulebook that the plan was made from. */
export interface ExplainContext extends PlanOptions {
  readonly job: Job;
}

/** Why a sensor stands in the plan as it does, or why it does not stand in it. */
export interface Explanation {
  readonly reference: string;
  readonly sensor: SensorId;
  readonly places: readonly PlaceExplanation[];
}

/** What the plan says of one place of the sensor. */
export interface PlaceExplanation {
  /** `front-radar`, `rear-corner-radar:left`. */
  readonly key: string;
  readonly position: PositionId | null;
  readonly name: string;
  readonly indicated: boolean;
  readonly requirements: readonly RequirementExplanation[];
  readonly waived: Plan["waived"];
  /** For a sensor that nothing asks for: why, and what was looked at. */
  readonly notIndicated: NotIndicatedExplanation | null;
}

/** One requirement with every chain behind it. */
export interface RequirementExplanation {
  readonly requirement: Requirement;
  readonly chains: readonly Chain[];
  /** The open questions of which the requirement or one of its chains speaks. */
  readonly questions: readonly PlanQuestion[];
  readonly holds: readonly HoldExplanation[];
}

/** Why a requirement may not be carried out yet, and by what. */
export interface HoldExplanation {
  readonly says: string;
  readonly clearedBy: string;
  readonly rule: string;
  readonly from: string;
}

/** One chain, from the stated line to the requirement. */
export interface Chain {
  readonly standing: Standing;
  readonly certain: boolean;
  readonly questions: readonly string[];
  readonly links: readonly Link[];
  readonly source: PlanSource;
}

/** One link of a chain, in the author's sentences. */
export interface Link {
  readonly kind: "stated" | "implied" | "disturbance" | "requirement";
  readonly says: string;
  readonly rules: readonly LinkRule[];
}

/** A rule behind a link, with the answers that its conditions got; none without a context. */
export interface LinkRule {
  readonly id: string;
  /** Empty without a context. */
  readonly title: string;
  readonly because: string;
  readonly conditions: readonly ConditionLine[];
}

/** One named condition of a rule with the answer it got. */
export interface ConditionLine {
  readonly depth: number;
  readonly says: string;
  readonly truth: "true" | "false" | "unknown";
  readonly found: string;
}

/** Why nothing asks for a sensor, and what would change that. */
export interface NotIndicatedExplanation {
  readonly reason: Plan["notIndicated"][number]["reason"];
  readonly wouldChange: readonly string[];
  /** Empty for a sensor that counts as not fitted: then no line could matter. */
  readonly considered: readonly ConsideredOperation[];
  /** What the same order would make due if the sensor were there; null where it counts as fitted, or without a context. */
  readonly ifFitted: readonly WouldBeDue[] | null;
}

/** A requirement that would stand in the plan under other facts. */
export interface WouldBeDue {
  readonly task: Task;
  readonly standing: Standing;
  readonly couldRiseTo: Standing | null;
}

/** An operation or a finding that was looked at, and the rules that came nearest to speaking. */
export interface ConsideredOperation {
  readonly operation: string;
  readonly says: string;
  readonly nearest: readonly NearRule[];
}

/** A rule that stayed silent, and the conditions that kept it so. */
export interface NearRule {
  readonly rule: string;
  readonly title: string;
  readonly wouldConclude: string;
  readonly misses: readonly ConditionLine[];
}

/**
 * Explains what a plan says of a sensor: every chain behind each of its requirements, or, where it has none, which
 * operations were looked at, which rules came nearest and what would change the answer.
 *
 * `sensor` is an id, with a position after a colon where only that one is meant. Without `context` the chains are told
 * from the plan alone; with it each rule's conditions and the nearest silent rules are shown too.
 * Throws `InputError` where there is no such sensor.
 */
export function explain(plan: Plan, sensor: string, context?: ExplainContext): Explanation {
  const { id, position } = readSensor(sensor);
  const input = context === undefined ? null : deriveJob(context.job, context);
  const keys = new Map<PositionId | null, string>();
  for (const each of [...plan.requirements, ...plan.waived, ...plan.notIndicated]) {
    if (each.sensor !== id || (position !== undefined && each.position !== position)) continue;
    keys.set(each.position, each.position === null ? id : `${id}:${each.position}`);
  }
  for (const each of plan.requirements.flatMap(({ alsoFor }) => alsoFor)) {
    const [other, at] = each.split(":");
    const place = (at ?? null) as PositionId | null;
    if (other === id && (position === undefined || place === position)) keys.set(place, each);
  }
  if (keys.size === 0) refuse(`the plan says nothing of "${sensor}"`);
  const places = [...keys]
    .sort(([, a], [, b]) => (a < b ? -1 : 1))
    .map(([at, key]) => explainPlace(plan, id, at, key, input, context));
  return { reference: plan.reference, sensor: id, places };
}

type Input = ReturnType<typeof deriveJob>;

function readSensor(word: string): { readonly id: SensorId; readonly position: PositionId | undefined } {
  const [name = "", at] = word.split(":");
  const id = SENSOR_IDS.find((each) => each === name);
  if (id === undefined) {
    const nearest = nearestOf(name, SENSOR_IDS);
    const alike = name === "" ? [] : SENSOR_IDS.filter((each) => each.includes(name));
    const known = alike.length === 0 ? SENSOR_IDS : alike;
    refuse(
      `there is no sensor "${name}"`,
      nearest === undefined ? `one of ${known.join(", ")}` : undefined,
      nearest,
    );
  }
  if (at === undefined) return { id, position: undefined };
  const positions = POSITION_IDS.filter((each) => acceptsPosition(id, each));
  const position = positions.find((each) => each === at);
  if (position === undefined) {
    refuse(
      `the ${SENSORS[id].label} has no position "${at}"`,
      positions.length === 0 ? `${id} alone` : `${id} alone, or with one of ${positions.join(", ")}`,
      nearestOf(at, positions),
    );
  }
  return { id, position };
}

function refuse(message: string, expected?: string, nearest?: string): never {
  throw new InputError("input", [
    {
      code: "unknown-id",
      pointer: "",
      message,
      ...(expected === undefined ? {} : { expected }),
      ...(nearest === undefined ? {} : { nearest }),
    },
  ]);
}

function explainPlace(
  plan: Plan,
  sensor: SensorId,
  position: PositionId | null,
  key: string,
  input: Input | null,
  context: ExplainContext | undefined,
): PlaceExplanation {
  const requirements = plan.requirements.filter(
    (each) => (each.sensor === sensor && each.position === position) || each.alsoFor.includes(key),
  );
  const entry = plan.notIndicated.find((each) => each.sensor === sensor && each.position === position);
  return {
    key,
    position,
    name: nameOfSensor(sensor, position),
    indicated: requirements.length > 0,
    requirements: requirements.map((requirement) => ({
      requirement,
      chains: requirement.because.map((reason) => tellChain(plan, requirement, reason, input)),
      questions: questionsOf(plan, requirement),
      holds: requirement.holds.map(({ says, clearedBy, rule, operation, finding }) => ({
        says,
        clearedBy,
        rule,
        from: tellStated({ operation, finding }, input),
      })),
    })),
    waived: plan.waived.filter((each) => each.sensor === sensor && each.position === position),
    notIndicated:
      entry === undefined
        ? null
        : {
            reason: entry.reason,
            wouldChange: entry.wouldChange,
            considered: entry.reason === "not-fitted" ? [] : tellConsidered(entry.considered, key, input),
            ifFitted:
              entry.reason === "not-fitted" && context !== undefined
                ? tellIfFitted(sensor, position, key, context)
                : null,
          },
  };
}

function questionsOf(plan: Plan, { questions, because }: Requirement): readonly PlanQuestion[] {
  const ids = new Set([...questions, ...because.flatMap((reason) => reason.questions)]);
  return plan.questions.filter(({ id }) => ids.has(id));
}

/** Plans the same order for a vehicle that has the sensor. */
function tellIfFitted(
  sensor: SensorId,
  position: PositionId | null,
  key: string,
  { job, ...options }: ExplainContext,
): readonly WouldBeDue[] {
  const others = (job.vehicle.equipment ?? []).filter((each) => each.sensor !== sensor);
  const entry = { sensor, ...(position === null ? {} : { position }), fitted: "yes" as const };
  const plan = planCalibrations(
    { ...job, vehicle: { ...job.vehicle, equipment: [...others, entry] } },
    options,
  );
  return plan.requirements
    .filter((each) => (each.sensor === sensor && each.position === position) || each.alsoFor.includes(key))
    .map(({ task, standing, couldRiseTo }) => ({ task, standing, couldRiseTo }));
}

function tellChain(plan: Plan, requirement: Requirement, reason: PlanReason, input: Input | null): Chain {
  const stated: Link = { kind: "stated", says: tellStated(reason, input), rules: [] };
  const implied = reason.implied.map((id): Link => {
    const operation = plan.impliedOperations.find((each) => each.id === id);
    const part = operation === undefined ? id : partOf(operation.sensor, operation.component);
    const place = [operation?.side, operation?.axle, operation?.position].filter(
      (each) => each !== null && each !== undefined,
    );
    return {
      kind: "implied",
      says: `${id}: ${operation === undefined ? "" : ACTIONS[operation.action].label} ${[...place, part].join(" ")}${operation?.certain === false ? " (on some vehicles)" : ""}`,
      rules: (operation?.rules ?? []).map((rule) => tellRule(rule, [], input)),
    };
  });
  const traced = input === null ? null : findSupport(requirement, reason, input);
  return {
    standing: reason.standing,
    certain: reason.certain,
    questions: reason.questions,
    source: reason.source,
    links: [
      stated,
      ...implied,
      {
        kind: "disturbance",
        says: `${DISTURBANCES[reason.disturbance].label}: ${DISTURBANCES[reason.disturbance].meaning}`,
        rules: reason.disturbanceRules.map((id) => tellRule(id, traced?.disturbance.get(id) ?? [], input)),
      },
      {
        kind: "requirement",
        says: `${TASKS[requirement.task].label}: ${STANDINGS[reason.standing].label}`,
        rules: [tellRule(reason.rule, traced?.requirement ?? [], input)],
      },
    ],
  };
}

function tellStated(reason: Pick<PlanReason, "operation" | "finding">, input: Input | null): string {
  if (reason.operation === null) return tellFinding(reason.finding ?? "", input);
  const operation = input?.read.job.operations.find(({ id }) => id === reason.operation);
  if (operation === undefined) return reason.operation;
  return `${operation.id}: ${tellOperation(operation)}`;
}

function tellOperation(operation: Job["operations"][number]): string {
  const place = [operation.side, operation.axle, operation.position].filter(
    (each) => each !== null && each !== undefined,
  );
  const part = partOf(operation.sensor, componentOf(operation.component));
  const text = operation.text === undefined ? "" : ` ("${operation.text}")`;
  return `${ACTIONS[operation.action].label} ${[...place, part].join(" ")}${text}`;
}

function partOf(sensor: SensorId | null | undefined, component: ComponentId): string {
  return sensor === null || sensor === undefined ? COMPONENTS[component].label : SENSORS[sensor].label;
}

function tellFinding(pointer: string, input: Input | null): string {
  return `Finding: ${nameOfFinding(pointer, input?.read.job.findings)}`;
}

function tellRule(id: string, conditions: readonly ConditionLine[], input: Input | null): LinkRule {
  const loaded = input?.program.rulebook.byId.get(id);
  return { id, title: loaded?.rule.title ?? "", because: loaded?.rule.because ?? "", conditions };
}

/** The traces of the rules behind one reason, asked again of the same subject. */
function findSupport(
  requirement: Requirement,
  reason: PlanReason,
  input: Input,
): {
  readonly disturbance: ReadonlyMap<string, readonly ConditionLine[]>;
  readonly requirement: readonly ConditionLine[];
} | null {
  const { derivation, program } = input;
  const keys = [requirement.id, ...requirement.alsoFor.map((key) => `${key}/${requirement.task}`)];
  for (const key of keys) {
    for (const support of derivation.requirements.get(key)?.supports ?? []) {
      const node = derivation.causes.get(support.disturbance.cause);
      if (
        node === undefined ||
        support.rule.id !== reason.rule ||
        support.disturbance.kind !== reason.disturbance
      )
        continue;
      const root = node.roots.find((each) =>
        each.operation === null ? each.pointer === reason.finding : each.key === reason.operation,
      );
      if (root === undefined || pathsTo(node, derivation).get(root.key)?.length !== reason.implied.length)
        continue;
      const asked = askedOf(node.cause, support.disturbance.sensor, derivation);
      const rules = program.disturbances.all.filter(({ id }) => reason.disturbanceRules.includes(id));
      return {
        disturbance: new Map(rules.map((rule) => [rule.id, linesOf(rule.condition.trace(asked))])),
        requirement: linesOf(
          support.rule.condition.trace({ ...asked, disturbance: support.disturbance.kind }),
        ),
      };
    }
  }
  return null;
}

function askedOf(cause: Cause, sensor: SensorInstance, derivation: Derivation): Asked {
  return ask(derivation.job, cause, new Relation(cause, sensor, derivation.job));
}

/** How many silent rules are shown for each operation. */
const NEAREST = 3;
/** How much further off than the nearest rule the others may be. */
const WITHIN = 1;

function tellConsidered(
  considered: readonly string[],
  key: string,
  input: Input | null,
): readonly ConsideredOperation[] {
  const sensor = input?.vehicle.sensors.find((each) => each.key === key);
  const causes =
    input === null
      ? []
      : [...input.derivation.causes.values()].filter(
          ({ cause, roots }) =>
            considered.includes(cause.key) || (cause.operation === null && roots.length > 0),
        );
  if (input === null || sensor === undefined) {
    return considered.map((operation) => ({ operation, says: operation, nearest: [] }));
  }
  return causes
    .map(({ cause }) => ({
      operation: cause.operation === null ? cause.pointer : cause.key,
      says: cause.stated === null ? tellFinding(cause.pointer, input) : tellOperation(cause.stated),
      nearest: nearestRules(cause, sensor, input.program, input.derivation),
    }))
    .sort((a, b) => (a.operation < b.operation ? -1 : 1));
}

/** The rules that would speak of this cause and sensor with the fewest facts changed. */
function nearestRules(
  cause: Cause,
  sensor: SensorInstance,
  program: Program,
  derivation: Derivation,
): readonly NearRule[] {
  const asked = askedOf(cause, sensor, derivation);
  const near = program.disturbances.all.flatMap((rule): readonly Near[] => {
    const { disturbance } = rule.rule.concludes;
    // A disturbance that nothing would ask for, whatever the facts, explains nothing.
    const asking = program.requirements.lookUp(cause.indexKey, sensor.sensor, disturbance);
    if (asking.length === 0) return [];
    const trace = rule.condition.trace(asked);
    if (trace.truth !== FALSE) return silentRequirements(asking, { ...asked, disturbance });
    const misses = missesOf(trace, true);
    return [{ rule, misses, wouldConclude: DISTURBANCES[disturbance].label }];
  });
  const reachable = near
    .map((each) => ({ ...each, distance: distanceOf(each.misses) }))
    .filter(({ distance }) => distance < Infinity);
  const least = Math.min(...reachable.map(({ distance }) => distance));
  return reachable
    .filter(({ distance }) => distance <= least + WITHIN)
    .sort((a, b) => a.distance - b.distance || (a.rule.id < b.rule.id ? -1 : 1))
    .slice(0, NEAREST)
    .map(({ rule, misses, wouldConclude }) => ({
      rule: rule.id,
      title: rule.rule.title,
      wouldConclude,
      misses: misses.map((trace) => lineOf(trace, 0)),
    }));
}

/**
 * How far a rule was from speaking. Where the work lies to the sensor, and how it was done, could easily be otherwise;
 * another action or another part would be another line; and a finding that is no operation, or a sensor of another kind,
 * cannot be changed at all.
 */
function distanceOf(misses: readonly LeafTrace[]): number {
  return misses.reduce((sum, { leaf, found }) => {
    const fact = leaf.fact as FactName;
    const hasNone = found.candidates?.length === 1 && found.candidates[0] === "none";
    const isRelation = FACTS[fact].group === "relation";
    if (fact === "cause" || fact === "sensor" || fact === "position" || fact === "disturbance")
      return Infinity;
    if (hasNone && !isRelation) return Infinity;
    return sum + (fact === "component" || fact === "aboutSensor" ? 3 : fact === "action" ? 2 : 1);
  }, 0);
}

interface Near {
  readonly rule: { readonly id: string; readonly rule: { readonly title: string } };
  readonly misses: readonly LeafTrace[];
  readonly wouldConclude: string;
}

function silentRequirements(rules: readonly CompiledRule<"requirements">[], asked: Asked): readonly Near[] {
  return rules.flatMap((rule) => {
    const trace = rule.condition.trace(asked);
    if (trace.truth !== FALSE) return [];
    const { task, standing } = rule.rule.concludes;
    return [
      {
        rule,
        misses: missesOf(trace, true),
        wouldConclude: `${task === "own" ? "its own task" : TASKS[task].label}: ${STANDINGS[standing].label}`,
      },
    ];
  });
}

type LeafTrace = Extract<Trace<unknown>, { readonly kind: "leaf" }>;

/** The smallest set of leaves that would have to come out otherwise for the tree to come out as wanted. */
function missesOf(trace: Trace<unknown>, wanted: boolean): readonly LeafTrace[] {
  if (trace.kind === "leaf") {
    const isMet = wanted ? trace.truth !== 0 : trace.truth !== 2;
    return isMet ? [] : [trace];
  }
  if (trace.kind === "not") return trace.parts.flatMap((part) => missesOf(part, !wanted));
  const each = trace.parts.map((part) => missesOf(part, wanted));
  const needsAll = (trace.kind === "all") === wanted;
  if (needsAll) return each.flat();
  return each.reduce((least, one) => (one.length < least.length ? one : least), each[0] ?? []);
}

function linesOf(trace: Trace<unknown>, depth = 0): readonly ConditionLine[] {
  if (trace.kind === "leaf") return [lineOf(trace, depth)];
  const own = {
    all: "All of these hold:",
    any: "At least one of these holds:",
    not: "This does not hold:",
  } as const;
  const truth = nameOfTruth(trace.truth);
  const parts = trace.parts.flatMap((part) => linesOf(part, depth + 1));
  return depth === 0 && trace.kind === "all"
    ? trace.parts.flatMap((part) => linesOf(part, 0))
    : [{ depth, says: own[trace.kind], truth, found: "" }, ...parts];
}

function lineOf(trace: LeafTrace, depth: number): ConditionLine {
  return {
    depth,
    says: trace.leaf.name,
    truth: nameOfTruth(trace.truth),
    found: tellFound(trace.leaf.fact, trace.found),
  };
}

function tellFound(fact: string, found: FactValue<unknown>): string {
  const { candidates } = found;
  if (candidates === null) return `${fact}: not stated`;
  const words = candidates.map((each) =>
    Array.isArray(each) ? (each.length === 0 ? "nothing" : each.join("+")) : String(each),
  );
  return words.length === 1 ? `${fact}: ${words[0] ?? ""}` : `${fact}: one of ${words.join(", ")}`;
}
