import { isFitSettled } from "../facts/index.js";
import type { Derivation } from "../inference/index.js";
import { FALSE } from "../logic/index.js";
import { appliesTo } from "../procedures/index.js";
import {
  CAUTIONS,
  FEATURES,
  HOLDS,
  INSPECTIONS,
  SENSORS,
  STANDING_IDS,
  featuresServedBy,
  type FeatureId,
  type FeatureTerm,
  type InspectionId,
  type SensorTerm,
} from "../vocabulary/index.js";
import { draftRequirements, type Draft, type Waiver } from "./draft.js";
import type { PlanInput } from "./input.js";
import { isUnread, questionsOfJob } from "./job-questions.js";
import { writeNotIndicated } from "./not-indicated.js";
import { writePreconditions } from "./preconditions.js";
import { askQuestions, type Questions } from "./questions.js";
import { rankOf, sortByKey, sortIds, writeReasons } from "./reasons.js";
import type { Plan, PlanStep, Requirement } from "./shape.js";
import { sourceOfProcedure, sourceOfRule } from "./sources.js";
import { orderSteps } from "./steps.js";

/** Reads the plan off a derivation. */
export function buildPlan(input: PlanInput): Plan {
  const { read, program, derivation } = input;
  const { drafts, waivers } = draftRequirements(program, derivation, input.applicable, input.causes);
  const questions = askQuestions(drafts, questionsOfJob(input));
  const names = nameImplied(derivation);
  const steps = orderSteps(program, derivation, drafts, input.applicable);
  const requirements = drafts
    .map((draft) => writeRequirement(draft, input, questions, names, steps))
    .sort(byStanding);
  return {
    schema: "repair-calibration/plan@1",
    reference: read.job.reference,
    outcome: questions.list.length === 0 ? "complete" : "needs-answers",
    vehicle: {
      make: read.job.vehicle.make ?? null,
      model: read.job.vehicle.model ?? null,
      modelYears: [...read.modelYears],
      vin: read.vin?.vin ?? null,
    },
    rulebook: { packs: program.rulebook.packs.map((pack) => ({ ...pack })) },
    procedures: input.procedures.map(({ pack, digest }) => ({
      id: pack.id,
      version: pack.version,
      digest,
      cite: pack.cite,
      issued: pack.issued,
      invented: pack.invented,
      applies: appliesTo(pack, read.job.vehicle, read.modelYears),
    })),
    requirements,
    waived: waivers.map((waiver) => writeWaiver(waiver, derivation, questions, names)),
    notIndicated: writeNotIndicated(input, drafts, waivers),
    impliedOperations: writeImplied(derivation, questions, names),
    preconditions: writePreconditions(drafts),
    steps: [...steps],
    questions: [...questions.list],
    atLeastOneOf: input.vehicle.disjunctions.map(({ sensors, because, unknown }) => ({
      sensors: [...sensors],
      because: [...because],
      question: questions.idOf(unknown) ?? null,
    })),
    claimed: read.job.operations
      .flatMap(({ id, action, text }) =>
        action === "calibrate" || action === "scan" ? [{ operation: id, action, text: text ?? null }] : [],
      )
      .sort(byOperation),
    unread: read.job.operations
      .flatMap((operation) =>
        isUnread(operation)
          ? [
              {
                operation: operation.id,
                text: operation.text ?? null,
                why: "The vocabulary has no such part, so nobody has judged what this work disturbs.",
              },
            ]
          : [],
      )
      .sort(byOperation),
    contradictions: [...read.contradictions, ...input.vehicle.contradictions].map(({ about, says }) => ({
      about: [...about],
      says,
    })),
    warnings: sortByKey(read.warnings, ({ says }) => says).map((warning) => ({ ...warning })),
    notes: writeNotes(input, requirements),
    cautions: CAUTIONS.map(({ text }) => text),
  };
}

function byOperation(a: { readonly operation: string }, b: { readonly operation: string }): number {
  return a.operation < b.operation ? -1 : 1;
}

function byStanding(a: Requirement, b: Requirement): number {
  const standing = STANDING_IDS.indexOf(a.standing) - STANDING_IDS.indexOf(b.standing);
  return standing !== 0 ? standing : a.id < b.id ? -1 : 1;
}

/** Implied operations numbered in the order of what they are, so that the numbers don't depend on the order of lines. */
function nameImplied(derivation: Derivation): ReadonlyMap<string, string> {
  const implied = [...derivation.causes.values()]
    .filter((node) => node.from.length > 0)
    .map(({ key }) => key);
  return new Map(implied.sort().map((key, index) => [key, `I${index + 1}`]));
}

function writeRequirement(
  draft: Draft,
  input: PlanInput,
  questions: Questions,
  names: ReadonlyMap<string, string>,
  steps: readonly PlanStep[],
): Requirement {
  const { sensor } = draft;
  const own = steps.filter((step) => step.requirement === draft.key);
  return {
    id: draft.key,
    sensor: sensor.sensor,
    position: sensor.position,
    alsoFor: [...draft.alsoFor],
    task: draft.task,
    standing: draft.standing,
    couldRiseTo: draft.couldRiseTo,
    fitted: isFitSettled(sensor) ? "yes" : "unknown",
    method: writeMethod(draft),
    procedure: writeProcedure(draft),
    inspection: writeInspections(draft),
    because: writeReasons(draft.supports, input.derivation, questions, names),
    holds: sortByKey(draft.holds, ({ hold, rule, cause }) => `${hold} ${rankOf(cause)} ${rule.id}`).map(
      ({ hold, rule, cause }) => ({
        id: hold,
        says: rule.rule.because,
        clearedBy: HOLDS[hold].clearedBy,
        rule: rule.id,
        operation: cause.operation === null ? null : cause.key,
        finding: cause.operation === null ? cause.pointer : null,
      }),
    ),
    preconditions: draft.preconditions.map(({ id }) => id),
    after: [...new Set(own.flatMap((step) => step.after))]
      .filter((id) => !own.some((step) => step.id === id))
      .sort(),
    evidence: [...draft.evidence],
    ...writeFeatures(draft, input),
    questions: sortIds(draft.unknowns.flatMap((unknown) => questions.idOf(unknown) ?? [])),
  };
}

function writeMethod(draft: Draft): Requirement["method"] {
  if (draft.task !== "calibration") return { value: "none", usual: null, procedure: null, source: null };
  if (draft.procedure === null) {
    const term: SensorTerm = SENSORS[draft.sensor.sensor];
    return { value: "unknown", usual: term.usualMethod, procedure: null, source: null };
  }
  const { procedure, pack } = draft.procedure;
  return {
    value: procedure.method,
    usual: null,
    procedure: procedure.id,
    source: sourceOfProcedure(pack, procedure),
  };
}

function writeProcedure(draft: Draft): Requirement["procedure"] {
  if (draft.procedure === null) return null;
  const { procedure, pack } = draft.procedure;
  return {
    id: procedure.id,
    pack: pack.id,
    section: procedure.section,
    targets: procedure.targets ?? [],
    clearArea: procedure.clearArea ?? null,
    driveWindow: procedure.driveWindow ?? null,
    afterwards: procedure.afterwards ?? [],
  };
}

function writeInspections(draft: Draft): Requirement["inspection"] {
  const certain = new Map<InspectionId, boolean>();
  for (const { inspection, certain: isCertain } of draft.supports) {
    if (inspection !== null) certain.set(inspection, certain.get(inspection) === true || isCertain);
  }
  if (certain.size === 0) return null;
  return [...certain]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([id, isCertain]) => ({
      id,
      lookAt: INSPECTIONS[id].lookAt,
      failsWhen: INSPECTIONS[id].failsWhen,
      certain: isCertain,
    }));
}

function writeFeatures(
  draft: Draft,
  input: PlanInput,
): { readonly features: FeatureId[]; readonly possibleFeatures: FeatureId[] } {
  const stated = input.read.job.vehicle.features ?? {};
  const served = featuresServedBy(draft.sensor.sensor, draft.sensor.position);
  const valueOf = (feature: FeatureId): string => stated[feature] ?? "unknown";
  return {
    features: served.filter((feature) => valueOf(feature) === "standard"),
    possibleFeatures: served.filter(
      (feature) => valueOf(feature) === "optional" || valueOf(feature) === "unknown",
    ),
  };
}

function writeWaiver(
  waiver: Waiver,
  derivation: Derivation,
  questions: Questions,
  names: ReadonlyMap<string, string>,
): Plan["waived"][number] {
  const ranked = waiver.waived.map(({ standing }) => STANDING_IDS.indexOf(standing));
  const strongest = STANDING_IDS[Math.min(...ranked)] ?? "presumed";
  return {
    sensor: waiver.sensor.sensor,
    position: waiver.sensor.position,
    task: waiver.task,
    by: { rule: waiver.by.id, says: waiver.by.rule.because, source: sourceOfRule(waiver.by.loaded) },
    waives: [...new Set(waiver.waived.map(({ rule }) => rule.id))].sort(),
    wouldHaveBeen: strongest === "undetermined" ? "inspect-first" : strongest,
    because: writeReasons(waiver.waived, derivation, questions, names),
  };
}

function writeImplied(
  derivation: Derivation,
  questions: Questions,
  names: ReadonlyMap<string, string>,
): Plan["impliedOperations"] {
  return [...names].flatMap(([key, id]) => {
    const node = derivation.causes.get(key);
    const spec = node?.cause.operation;
    const way = node?.from[0];
    if (node === undefined || spec === undefined || spec === null || way === undefined) return [];
    const roots = node.roots.map((root) => (root.operation === null ? root.pointer : root.key));
    return [
      {
        id,
        action: spec.action,
        component: spec.component,
        side: placeOf(spec.side.candidates) as "left" | "right" | "unknown" | null,
        axle: placeOf(spec.axle.candidates) as "front" | "rear" | "unknown" | null,
        sensor: spec.sensor,
        position: spec.position,
        from: roots[0] ?? "",
        fromAll: roots,
        fromRequirement: node.from.find((each) => each.fromRequirement !== null)?.fromRequirement ?? null,
        rule: way.rule.id,
        rules: [...new Set(node.from.map((each) => each.rule.id))].sort(),
        certain: node.certain,
        questions: sortIds(node.unknowns.flatMap((unknown) => questions.idOf(unknown) ?? [])),
      },
    ];
  });
}

function placeOf(candidates: readonly unknown[] | null): string | null {
  const [first] = candidates ?? [];
  if (candidates?.length !== 1) return "unknown";
  return first === "none" ? null : String(first);
}

function writeNotes(input: PlanInput, requirements: readonly Requirement[]): string[] {
  const notes: string[] = [];
  const { operations } = input.read.job;
  if (operations.length === 0)
    notes.push("The order lists no operation, so nothing on it disturbs a sensor.");
  if (input.vehicle.sensors.every((sensor) => sensor.isFitted === FALSE)) {
    notes.push(
      "No driver-assistance sensor is fitted, as stated by the equipment list; this is recorded, and nothing is demanded.",
    );
  }
  if (requirements.length === 0 && operations.length > 0) {
    notes.push("No rule asks for anything after this work, as far as it is stated.");
  }
  if (requirements.some((each) => each.task === "calibration" && each.method.value === "unknown")) {
    notes.push(
      "General rules do not choose a calibration method: look up the maker's procedure for this vehicle.",
    );
  }
  const lost = [...new Set(requirements.flatMap(({ features }) => features))].sort();
  if (lost.length > 0) {
    notes.push(
      `Until the requirements are met these functions may be degraded, and the customer is to be told in writing if the vehicle leaves before: ${lost.map((id) => (FEATURES[id] satisfies FeatureTerm).label).join(", ")}.`,
    );
  }
  for (const { pack } of input.applicable) {
    if (pack.invented)
      notes.push(
        `The procedure pack ${pack.id} is invented for demonstration: follow no real vehicle by it.`,
      );
  }
  return notes;
}
