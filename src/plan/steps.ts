import { InputError } from "../errors.js";
import { ask } from "../facts/index.js";
import type { Derivation, Program } from "../inference/index.js";
import { FALSE, TRUE } from "../logic/index.js";
import type { StageOrder } from "../rulebook/index.js";
import { findCycle, pairsOfOrder, type LoadedProcedures } from "../procedures/index.js";
import {
  INSPECTIONS,
  STAGES,
  STAGE_IDS,
  TASKS,
  capital,
  nameOfSensor,
  type InspectionId,
  type Method,
  type PreconditionId,
  type StageId,
} from "../vocabulary/index.js";
import type { Draft } from "./draft.js";
import type { PlanStep } from "./shape.js";

/** A step before it is put in order. */
interface LooseStep {
  readonly id: string;
  readonly stage: StageId;
  readonly says: string;
  readonly requirement: string | null;
  readonly onlyIf: string | null;
  readonly setup: string | null;
  /** Inspections whose outcome decides whether the step is done: they come first. */
  readonly decidedBy: readonly string[];
}

/** The stage at which each inspection is done. */
const STAGE_OF_INSPECTION: Readonly<Record<InspectionId, StageId>> = {
  "mount-inspection": "mount-inspection",
  "alignment-measurement": "wheel-alignment-measurement",
  "ride-height-measurement": "ride-height-measurement",
  "film-thickness-measurement": "film-thickness-reading",
  "view-inspection": "view-inspection",
  "image-inspection": "image-inspection",
  "telltale-and-scan": "telltale-check",
  "structural-measurement": "structural-measurement-after",
};

/** Inspections that are made once for the vehicle, not once for each sensor. */
const OF_THE_VEHICLE: ReadonlySet<InspectionId> = new Set([
  "alignment-measurement",
  "ride-height-measurement",
  "telltale-and-scan",
  "structural-measurement",
]);

/** Makes the steps of the whole job and puts them in one valid, stable order. */
export function orderSteps(
  program: Program,
  derivation: Derivation,
  drafts: readonly Draft[],
  procedures: readonly LoadedProcedures[],
): readonly PlanStep[] {
  const order = program.rulebook.stageOrder;
  const all = [...ofTheJob(program, derivation), ...drafts.flatMap(ofRequirement)];
  const steps = all.filter((step) => step.requirement !== null || !isIdle(step, all, drafts));
  const unique = merge(steps);
  const pairs = procedures.flatMap(({ pack }) => pairsOfOrder(pack));
  const before = linkSteps(unique, order, pairs);
  return line(unique, before);
}

/**
 * Whether a step of the job has nothing to do beside what is due: an adaptive lamp that has to be aimed is not aimed
 * twice, and a scan or a look at the tyres that only prepares other work is left out where there is none.
 */
function isIdle(step: LooseStep, all: readonly LooseStep[], drafts: readonly Draft[]): boolean {
  switch (step.stage) {
    case "headlamp-aim":
      return drafts.some(({ task, standing }) => task === "aim" && isDue(standing));
    case "pre-calibration-scan":
    case "customer-notice":
      return drafts.length === 0;
    case "tyres-and-pressures":
      return !(
        all.some(({ stage }) => ON_ITS_TYRES.has(stage)) ||
        drafts.some(({ preconditions }) => preconditions.some(({ id }) => OF_TYRES.has(id)))
      );
    default:
      return false;
  }
}

function isDue(standing: Draft["standing"]): boolean {
  return standing === "required" || standing === "presumed";
}

/** Stages at which the vehicle is measured as it stands on its tyres. */
const ON_ITS_TYRES: ReadonlySet<StageId> = new Set([
  "ride-height-measurement",
  "wheel-alignment-measurement",
  "headlamp-aim",
]);
const OF_TYRES: ReadonlySet<PreconditionId> = new Set(["tyres-correct", "tyre-pressure-set"]);

/** Steps that the causes bring, whichever sensors are fitted; due as soon as one cause makes them so. */
function ofTheJob(program: Program, derivation: Derivation): readonly LooseStep[] {
  const isCertain = new Map<StageId, boolean>();
  for (const node of derivation.causes.values()) {
    const asked = ask(derivation.job, node.cause);
    for (const rule of program.steps.lookUp(node.cause.indexKey)) {
      const { stage } = rule.rule.concludes;
      if (isCertain.get(stage) === true) continue;
      const truth = rule.condition.evaluate(asked);
      if (truth !== FALSE) isCertain.set(stage, node.certain && truth === TRUE);
    }
  }
  return [...isCertain].map(([stage, certain]) => ({
    id: stage,
    stage,
    says: STAGES[stage].meaning,
    requirement: null,
    onlyIf: certain ? (ONLY_IF[stage] ?? null) : "It depends on questions that are still open.",
    setup: null,
    decidedBy: [],
  }));
}

/** Stages that are part of every job but come to something only if a thing happens on the way. */
const ONLY_IF: Readonly<Partial<Record<StageId, string>>> = {
  "customer-notice": "A requirement stays open, failed or was not carried out.",
};

/** The inspections that the supports of a requirement ask for, each once. */
function inspectionsOf(draft: Draft): readonly InspectionId[] {
  return [
    ...new Set(
      draft.supports.flatMap((support) => (support.inspection === null ? [] : [support.inspection])),
    ),
  ];
}

function idOfInspection(draft: Draft, inspection: InspectionId): string {
  if (OF_THE_VEHICLE.has(inspection)) return STAGE_OF_INSPECTION[inspection];
  return `${draft.sensor.key}/${inspection}`;
}

/** The steps of one requirement: its inspections, and the task itself. */
function ofRequirement(draft: Draft): readonly LooseStep[] {
  const name = nameOfSensor(draft.sensor.sensor, draft.sensor.position);
  const inspecting = inspectionsOf(draft).map((inspection): LooseStep => {
    const certain = draft.supports.some((support) => support.inspection === inspection && support.certain);
    const stage = STAGE_OF_INSPECTION[inspection];
    const isShared = OF_THE_VEHICLE.has(inspection);
    return {
      id: idOfInspection(draft, inspection),
      stage,
      says: isShared
        ? `${capital(INSPECTIONS[inspection].label)}: ${INSPECTIONS[inspection].lookAt}`
        : `${capital(name)}: ${INSPECTIONS[inspection].label}`,
      requirement: isShared ? null : draft.key,
      onlyIf: certain ? null : "It depends on questions that are still open.",
      setup: null,
      decidedBy: [],
    };
  });
  return [
    ...inspecting,
    ...doing(
      draft,
      name,
      inspecting.map(({ id }) => id),
    ),
  ];
}

function doing(draft: Draft, name: string, inspections: readonly string[]): readonly LooseStep[] {
  const method = draft.procedure?.procedure.method ?? null;
  const onlyIf =
    draft.standing === "inspect-first"
      ? "The inspection fails, or the maker's procedure asks for it."
      : draft.standing === "undetermined"
        ? "The open questions are answered so that it is due."
        : null;
  return stagesOf(draft, method).map(({ stage, part }) => ({
    id: part === null ? draft.key : `${draft.key}/${part}`,
    stage,
    says: `${capital(name)}: ${TASKS[draft.task].label}${part === null ? "" : `, ${part} part`}`,
    requirement: draft.key,
    onlyIf,
    setup: stage === "static-calibration" ? setupOf(draft) : null,
    decidedBy: draft.standing === "inspect-first" || draft.standing === "undetermined" ? inspections : [],
  }));
}

/** The stage or stages at which a requirement's task is done. */
function stagesOf(
  draft: Draft,
  method: Method | null,
): readonly { readonly stage: StageId; readonly part: string | null }[] {
  switch (draft.task) {
    case "calibration":
      return calibrationStages(method);
    case "zero-point-reset":
      return [{ stage: zeroPointStage(draft), part: null }];
    case "initialisation":
      return [{ stage: initialisationStage(draft), part: null }];
    case "aim":
      return [{ stage: "headlamp-aim", part: null }];
    case "relearn":
      return [{ stage: "tyre-pressure-task", part: null }];
    case "image-adjustment":
      return [{ stage: "image-adjustment", part: null }];
    case "function-check":
      return [{ stage: "function-check", part: null }];
  }
}

function calibrationStages(
  method: Method | null,
): readonly { readonly stage: StageId; readonly part: string | null }[] {
  switch (method) {
    case "static":
      return [{ stage: "static-calibration", part: null }];
    case "dynamic":
      return [{ stage: "dynamic-calibration", part: null }];
    case "static-and-dynamic":
      return [
        { stage: "static-calibration", part: "static" },
        { stage: "dynamic-calibration", part: "dynamic" },
      ];
    case "static-or-dynamic":
    case "none":
    case "unknown":
    case null:
      return [{ stage: "calibration-method-open", part: null }];
  }
}

function zeroPointStage(draft: Draft): StageId {
  if (draft.sensor.sensor === "steering-angle-sensor") return "steering-angle-zero-point";
  return draft.sensor.sensor === "occupant-classification-sensor"
    ? "occupant-zero-point"
    : "other-zero-points";
}

function initialisationStage(draft: Draft): StageId {
  if (draft.sensor.sensor === "ride-height-sensor") return "ride-height-initialisation";
  return draft.sensor.sensor === "tyre-pressure-sensors" ? "tyre-pressure-task" : "initialisation-other";
}

/** Static steps that refer to one line and one end of the vehicle share a set-up: the vehicle is centred once. */
function setupOf(draft: Draft): string {
  const target = draft.procedure?.procedure.targets?.[0];
  if (target === undefined) return "set-up/line-as-the-procedure-says";
  return `set-up/${target.referenceLine}`;
}

/** One step for each id; it is due if any of those that were merged is. */
function merge(steps: readonly LooseStep[]): readonly LooseStep[] {
  const byId = new Map<string, LooseStep>();
  for (const step of steps) {
    const before = byId.get(step.id);
    if (before === undefined || (before.onlyIf !== null && step.onlyIf === null)) byId.set(step.id, step);
  }
  return [...byId.values()].sort((a, b) => (a.id < b.id ? -1 : 1));
}

interface Pair {
  readonly first: string;
  readonly then: string;
}

/** For each step, the steps that come directly before it. */
function linkSteps(
  steps: readonly LooseStep[],
  order: StageOrder,
  pairs: readonly Pair[],
): ReadonlyMap<string, readonly string[]> {
  const present = [...new Set(steps.map(({ stage }) => stage))];
  const directlyBefore = order.directlyBefore(present);
  const idsAt = new Map(
    present.map(
      (stage) => [stage, steps.filter((step) => step.stage === stage).map(({ id }) => id)] as const,
    ),
  );
  const before = new Map<string, readonly string[]>();
  for (const step of steps) {
    const byStage = (directlyBefore.get(step.stage) ?? []).flatMap((stage) => idsAt.get(stage) ?? []);
    before.set(step.id, [...new Set([...byStage, ...step.decidedBy])].sort());
  }
  for (const { first, then } of pairs) {
    const earlier = steps.filter((step) => step.requirement === first && isDoing(step));
    const later = steps.filter((step) => step.requirement === then && isDoing(step));
    for (const step of later) {
      const all = new Set([...(before.get(step.id) ?? []), ...earlierParts(earlier, later, step, order)]);
      before.set(step.id, [...all].sort());
    }
  }
  return before;
}

/**
 * The steps of `earlier` that a maker's order puts before one step of `later`. Of tasks in several parts it orders
 * those parts that the stages leave open: of two with a static and a dynamic part, static before static and dynamic
 * before dynamic. Where the stages leave none open, every part is ordered, and the circle shows.
 */
function earlierParts(
  earlier: readonly LooseStep[],
  later: readonly LooseStep[],
  step: LooseStep,
  order: StageOrder,
): readonly string[] {
  const isOpen = (one: LooseStep, other: LooseStep): boolean => !order.isBefore(other.stage, one.stage);
  const leavesSome = earlier.some((one) => later.some((other) => isOpen(one, other)));
  return earlier
    .filter((each) => each.id !== step.id && (!leavesSome || isOpen(each, step)))
    .map(({ id }) => id);
}

function isDoing(step: LooseStep): boolean {
  return step.requirement !== null && step.id.startsWith(step.requirement);
}

/** A stable line through the partial order: by stage, then set-up, then id, as far as the order allows. */
function line(
  steps: readonly LooseStep[],
  before: ReadonlyMap<string, readonly string[]>,
): readonly PlanStep[] {
  const rank = (step: LooseStep): string =>
    `${String(STAGE_IDS.indexOf(step.stage)).padStart(3, "0")} ${step.setup ?? ""} ${step.id}`;
  const ranked = steps.map((step) => ({ step, rank: rank(step) }));
  const waiting = ranked.sort((a, b) => (a.rank < b.rank ? -1 : 1)).map(({ step }) => step);
  const done = new Set<string>();
  const lined: PlanStep[] = [];
  while (waiting.length > 0) {
    const index = waiting.findIndex((step) => (before.get(step.id) ?? []).every((id) => done.has(id)));
    if (index < 0) refuseCycle(waiting, before);
    for (const step of waiting.splice(index, 1)) {
      done.add(step.id);
      lined.push({
        id: step.id,
        stage: step.stage,
        kind: STAGES[step.stage].kind,
        says: step.says,
        requirement: step.requirement,
        onlyIf: step.onlyIf,
        after: [...(before.get(step.id) ?? [])],
        setup: step.setup,
      });
    }
  }
  return lined;
}

function refuseCycle(waiting: readonly LooseStep[], before: ReadonlyMap<string, readonly string[]>): never {
  const pairs = waiting.flatMap((step) => (before.get(step.id) ?? []).map((id) => [id, step.id] as const));
  const cycle = findCycle(pairs) ?? waiting.map(({ id }) => id);
  throw new InputError("procedure-pack", [
    {
      code: "order-cycle",
      pointer: "/order",
      message: `the order of steps runs in a circle: ${cycle.join(" → ")}`,
    },
  ]);
}
