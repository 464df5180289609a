import {
  isFitSettled,
  openFindings,
  supposeFinding,
  type Cause,
  type Unknown,
  type VehicleFacts,
} from "../facts/index.js";
import {
  drawConclusions,
  type CauseNode,
  type Derivation,
  type Program,
  type Support,
} from "../inference/index.js";
import { FALSE } from "../logic/index.js";
import type { JobOperation, ReadJob } from "../job/index.js";
import { appliesTo, type Limit, type LoadedProcedures } from "../procedures/index.js";
import {
  CAUTIONS,
  CLAIM_ACTIONS,
  COMPONENTS,
  FEATURES,
  HOLDS,
  INSPECTIONS,
  PRECONDITIONS,
  SENSORS,
  STANDING_IDS,
  componentOf,
  featuresServedBy,
  nameOfSensor,
  type FeatureId,
  type FeatureTerm,
  type InspectionId,
  type PreconditionId,
  type SensorTerm,
} from "../vocabulary/index.js";
import { draftRequirements, type Draft, type DraftPrecondition, type Waiver } from "./draft.js";
import { askQuestions, type JobQuestion, type Questions } from "./questions.js";
import type { Plan, PlanLimit, PlanReason, PlanSource, PlanStep, Requirement } from "./shape.js";
import { sourceOfProcedure, sourceOfRule } from "./sources.js";
import { orderSteps } from "./steps.js";

/** Everything that a plan is read off. */
export interface PlanInput {
  readonly read: ReadJob;
  readonly vehicle: VehicleFacts;
  readonly program: Program;
  readonly derivation: Derivation;
  /** All procedure packs given, and those of them that apply. */
  readonly procedures: readonly LoadedProcedures[];
  readonly applicable: readonly LoadedProcedures[];
  /** Stated operations and findings, without claims and unread lines. */
  readonly causes: readonly Cause[];
}

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

/** A claim disturbs nothing, so it needs no part to be judged by. */
function isUnread({ action, component }: JobOperation): boolean {
  return componentOf(component) === "other" && !CLAIM_ACTIONS.some((claim) => claim === action);
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

/** Every chain that supports a requirement, one for each rule, cause and stated line that it began with. */
function writeReasons(
  supports: readonly Support[],
  derivation: Derivation,
  questions: Questions,
  names: ReadonlyMap<string, string>,
): PlanReason[] {
  const reasons = supports.flatMap((support) => {
    const node = derivation.causes.get(support.disturbance.cause);
    if (node === undefined) return [];
    const paths = pathsTo(node, derivation);
    const open = sortIds(support.unknowns.flatMap((unknown) => questions.idOf(unknown) ?? []));
    return node.roots.map((root) => {
      const isLine = root.operation !== null;
      const reason: PlanReason = {
        operation: isLine ? root.key : null,
        finding: isLine ? null : root.pointer,
        implied: (paths.get(root.key) ?? []).flatMap((key) => names.get(key) ?? []),
        disturbance: support.disturbance.kind,
        disturbanceRules: support.disturbance.rules.map(({ rule }) => rule.id),
        rule: support.rule.id,
        standing: support.standing,
        certain: support.certain,
        questions: [...open],
        says: [...support.disturbance.rules.map(({ rule }) => rule.rule.because), support.rule.rule.because],
        source: sourceOfRule(support.rule.loaded),
      };
      return { root, reason };
    });
  });
  return sortByKey(reasons, ({ root, reason }) => keyOfReason(root, reason)).map(({ reason }) => reason);
}

/** Sorts by a text worked out once for each, by code unit. */
function sortByKey<T>(values: readonly T[], keyOf: (value: T) => string): T[] {
  const keyed = values.map((value) => ({ value, key: keyOf(value) }));
  return keyed.sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0)).map(({ value }) => value);
}

function keyOfReason(root: Cause, reason: PlanReason): string {
  const rank = reason.certain ? 0 : 1;
  return `${rank} ${STANDING_IDS.indexOf(reason.standing)} ${rankOf(root)} ${reason.implied.join()} ${reason.disturbance} ${reason.rule}`;
}

/** Findings first, by what they say: a pointer would depend on the order in which they are stated. */
function rankOf(cause: Cause): string {
  return cause.operation === null ? `/${cause.key}` : cause.key;
}

/**
 * For each stated cause that a cause follows from, by its key: the implied operations on the shortest way, the cause's
 * own included.
 */
export function pathsTo(node: CauseNode, derivation: Derivation): ReadonlyMap<string, readonly string[]> {
  const paths = new Map<string, readonly string[]>();
  const open: { readonly node: CauseNode; readonly path: readonly string[] }[] = [{ node, path: [] }];
  const seen = new Set([node.key]);
  // The list grows while it is walked: nearest causes first.
  for (const next of open) {
    if (next.node.from.length === 0) paths.set(next.node.key, next.path);
    const path = [next.node.key, ...next.path];
    for (const way of next.node.from) {
      const supports = derivation.requirements.get(way.fromRequirement ?? "")?.supports ?? [];
      const causes =
        way.fromCause !== null ? [way.fromCause] : supports.map(({ disturbance }) => disturbance.cause);
      for (const key of causes) {
        const above = derivation.causes.get(key);
        if (above === undefined || seen.has(key)) continue;
        seen.add(key);
        open.push({ node: above, path });
      }
    }
  }
  return paths;
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

function writeNotIndicated(
  input: PlanInput,
  drafts: readonly Draft[],
  waivers: readonly Waiver[],
): Plan["notIndicated"] {
  const asked = new Set([
    ...drafts.flatMap((draft) => [draft.sensor.key, ...draft.alsoFor]),
    ...waivers.map((waiver) => waiver.sensor.key),
  ]);
  const considered = input.causes.flatMap((cause) => (cause.operation === null ? [] : [cause.key])).sort();
  return input.vehicle.sensors
    .filter((sensor) => !asked.has(sensor.key))
    .map((sensor) => {
      const name = nameOfSensor(sensor.sensor, sensor.position);
      const touching = `Work on the ${name} itself, on what it is mounted on (${sensor.mountParts.map(labelOf).join(", ")}) or on what carries that.`;
      const looks = (sensor.facts.looksThrough.candidates ?? []).filter((look) => look !== "nothing");
      const covering =
        looks.length > 0
          ? [`Work on what it looks through (${looks.map((look) => labelOf(String(look))).join(", ")}).`]
          : [];
      const fit =
        sensor.isFitted === FALSE
          ? [`It counts as not fitted; if it is fitted after all, the order has to be read again.`]
          : [];
      return {
        sensor: sensor.sensor,
        position: sensor.position,
        reason:
          sensor.isFitted === FALSE
            ? ("not-fitted" as const)
            : isFitSettled(sensor)
              ? ("no-rule-asks-for-it" as const)
              : ("fitment-unknown-but-no-rule-asks-for-it" as const),
        considered,
        wouldChange: sensor.isFitted === FALSE ? fit : [touching, ...covering],
      };
    });
}

function labelOf(component: string): string {
  return (COMPONENTS as Readonly<Record<string, { readonly label: string }>>)[component]?.label ?? component;
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

function writePreconditions(drafts: readonly Draft[]): Plan["preconditions"] {
  const needing = new Map<PreconditionId, { readonly draft: Draft; readonly each: DraftPrecondition }[]>();
  for (const draft of drafts) {
    for (const each of draft.preconditions) {
      const list = needing.get(each.id);
      if (list === undefined) needing.set(each.id, [{ draft, each }]);
      else list.push({ draft, each });
    }
  }
  const listed = sortByKey([...needing], ([id]) => id);
  return listed.map(([id, needs]) => {
    const limits = needs.flatMap(({ draft }) => {
      const { procedure } = draft;
      const condition = procedure?.procedure.conditions?.find((each) => each.precondition === id);
      if (procedure === null || condition?.limit === undefined) return [];
      return [
        {
          requirement: draft.key,
          limit: writeLimit(condition.limit),
          note: condition.note ?? null,
          source: sourceOfProcedure(procedure.pack, procedure.procedure),
        },
      ];
    });
    const notes = needs.flatMap(({ draft }) => {
      const condition = draft.procedure?.procedure.conditions?.find((each) => each.precondition === id);
      // A note beside a limit stands with the limit.
      return condition?.note === undefined || condition.limit !== undefined
        ? []
        : [{ requirement: draft.key, note: condition.note }];
    });
    const rule = needs.find(({ each }) => each.rule !== null)?.each.rule ?? null;
    return {
      id,
      statement: PRECONDITIONS[id].meaning,
      certain: needs.some(({ each }) => each.certain),
      limit: tightest(limits.map((each) => each.limit)),
      limits,
      notes,
      source: limits[0]?.source ?? (rule === null ? noSource() : sourceOfRule(rule.loaded)),
      neededBy: needs.map(({ draft }) => draft.key).sort(),
    };
  });
}

function noSource(): PlanSource {
  return {
    kind: "maker-procedure",
    cite: "The maker's procedure of the requirement.",
    section: null,
    supports: "states-it",
    read: "at-source",
  };
}

function writeLimit(limit: Limit): PlanLimit {
  const { low = null, high = null, unit } = limit;
  const sense = low === null ? "at-most" : high === null ? "at-least" : "between";
  return { value: high ?? low ?? 0, unit, sense, low, high };
}

/** The limit that meets all of them, where they are in one unit; otherwise none stands for all. */
function tightest(limits: readonly PlanLimit[]): PlanLimit | null {
  const [first] = limits;
  if (first === undefined || limits.some((limit) => limit.unit !== first.unit)) return null;
  const lows = limits.flatMap(({ low }) => low ?? []);
  const highs = limits.flatMap(({ high }) => high ?? []);
  const low = lows.length > 0 ? Math.max(...lows) : undefined;
  const high = highs.length > 0 ? Math.min(...highs) : undefined;
  return writeLimit({
    unit: first.unit,
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
  });
}

/** Questions about the whole job: findings of which nothing is stated, lines that nobody could read, and packs that may apply. */
function questionsOfJob(input: PlanInput): readonly JobQuestion[] {
  const { read, program, derivation } = input;
  const findings = openFindings(read.job).map(({ kind, unknown }) => ({
    unknown,
    couldAdd: sensorsThatCouldCome(supposeFinding(kind, unknown), program, derivation),
  }));
  const unread = read.job.operations.flatMap((operation, index) =>
    isUnread(operation)
      ? [
          {
            unknown: {
              key: `line/${operation.id}/component`,
              topic: "line" as const,
              about: `/operations/${index}/component`,
              ask: `${operation.id}: Which part is "${operation.text ?? ""}", and what was done to it?`,
              answers: [],
            },
            couldAdd: [],
          },
        ]
      : [],
  );
  const packs = input.procedures.flatMap(({ pack }) =>
    appliesTo(pack, read.job.vehicle, read.modelYears) === "unknown"
      ? [
          {
            unknown: {
              key: `procedures/${pack.id}`,
              topic: "procedure",
              about: "/vehicle",
              ask: `Is the vehicle a ${pack.appliesTo.make} ${pack.appliesTo.models.join(" or ")} of ${pack.appliesTo.modelYears.from} to ${pack.appliesTo.modelYears.to}? (State make, model and model year; the procedures of ${pack.id} are not applied until then.)`,
              answers: ["make, model and model year"],
            } satisfies Unknown,
            couldAdd: [],
          },
        ]
      : [],
  );
  return [...findings, ...unread, ...packs];
}

/** The sensors for which a finding, if it were stated, could bring a requirement: by itself or by the work that it implies. */
function sensorsThatCouldCome(cause: Cause, program: Program, derivation: Derivation): readonly string[] {
  const { job, sensors } = derivation;
  const { requirements } = drawConclusions(program, { job, sensors, causes: [cause], findings: {} });
  const found = new Set([...requirements.values()].map(({ sensor }) => sensor.key));
  return sensors.flatMap(({ key }) => (found.has(key) ? [key] : []));
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

function sortIds(ids: readonly string[]): string[] {
  return [...new Set(ids)].sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)));
}
