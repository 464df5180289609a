import type { Plan } from "../plan/index.js";
import { SENSORS, type EvidenceId, type PreconditionId, type StageId } from "../vocabulary/index.js";
import {
  curedAt,
  endOf,
  isKnownEarlier,
  partOf,
  proofsFor,
  proofsOfVehicle,
  standingLines,
  startOf,
  timeOf,
  type Case,
  type Due,
  type Entry,
} from "./case.js";
import {
  aboutLine,
  aboutRequirement,
  chainOf,
  labelsOf,
  listWords,
  makeFinding,
  nameTask,
  type Draft,
} from "./finding.js";

/** Work of which the record has to be there before a task begins, and by what a requirement asks for it. */
const WORK_BEFORE: readonly {
  readonly kind: EvidenceId;
  readonly precondition: PreconditionId;
  /** Stages that come first for every far-looking sensor, whether its own rules ask for the record or not. */
  readonly stages: readonly StageId[];
}[] = [
  {
    kind: "wheel-alignment",
    precondition: "alignment-in-spec",
    stages: ["wheel-alignment", "wheel-alignment-measurement"],
  },
  { kind: "repairs-complete", precondition: "repairs-complete", stages: [] },
  { kind: "adhesive-cure", precondition: "adhesive-cured", stages: [] },
];

/**
 * Tasks done too early, by stated times alone. What counts is the line whose result stands: a repeat puts an early first
 * attempt right. A task is early
 * - if it began before the first record of work that has to be finished before it: alignment, repairs, cure;
 * - if it was over before the first pass of a requirement that the plan's steps put before it;
 * - if its driven part was over before its parked part.
 */
export function findOutOfOrder(audited: Case): readonly Draft[] {
  return audited.dues.flatMap((due) => {
    const lines = standingLines(due);
    if (lines.length === 0) return [];
    const { steps, stages } = whatComesBefore(audited.plan, due.requirement.id);
    return lines.flatMap((entry) => [
      ...findBeforeWork(due, entry, stages),
      ...findBeforeOthers(due, entry, steps, audited),
      ...findDrivenFirst(due, entry),
    ]);
  });
}

function findBeforeWork(due: Due, entry: Entry, before: ReadonlySet<StageId>): readonly Draft[] {
  const { requirement } = due;
  return WORK_BEFORE.flatMap(({ kind, precondition, stages }) => {
    const isAsked =
      requirement.preconditions.includes(precondition) ||
      requirement.evidence.includes(kind) ||
      (SENSORS[requirement.sensor].aimCritical &&
        requirement.task === "calibration" &&
        stages.some((stage) => before.has(stage)));
    if (!isAsked) return [];
    const proofs = proofsFor(due, [kind]);
    const isEarly = (at: number | null): boolean => isKnownEarlier(startOf(entry), at);
    if (proofs.length === 0 || !proofs.every((proof) => isEarly(timeOfWork(kind, proof)))) return [];
    return [
      makeFinding("done-out-of-order", aboutRequirement(requirement, entry), {
        says: `Line ${entry.line.id} began the ${nameTask(requirement)} before the record of what comes first: ${labelsOf([kind], "and")}.`,
        because: [requirement.id, entry.line.id, ...proofs.map(({ name }) => name)],
        resolvedBy: `A record of an earlier time (${labelsOf([kind], "and")}), or the task done again after it.`,
      }),
    ];
  });
}

function timeOfWork(kind: EvidenceId, proof: Parameters<typeof curedAt>[0]): number | null {
  return kind === "adhesive-cure" ? curedAt(proof) : proof.at;
}

function findBeforeOthers(
  due: Due,
  entry: Entry,
  before: ReadonlySet<string>,
  { dues }: Case,
): readonly Draft[] {
  const { requirement } = due;
  const later = dues.filter((other) => {
    if (other === due || other.done.includes(entry)) return false;
    // A check of one system is not spoiled by a calibration of another after it.
    if (requirement.task === "function-check" && other.requirement.sensor !== requirement.sensor)
      return false;
    const passes = other.done.filter(({ outcome }) => outcome === "passed");
    const ends = passes.flatMap((pass) => timesOfParts(pass, other, before));
    return ends.length > 0 && ends.every((end) => isKnownEarlier(endOf(entry), end));
  });
  return later.map((other) =>
    makeFinding("done-out-of-order", aboutRequirement(requirement, entry), {
      says: `Line ${entry.line.id} was over before the ${nameTask(other.requirement)}, which comes before the ${nameTask(requirement)}.`,
      because: [
        requirement.id,
        other.requirement.id,
        entry.line.id,
        ...other.done.map(({ line }) => line.id),
      ],
      resolvedBy: `The ${nameTask(requirement)} done again after it, or records of other times.`,
    }),
  );
}

/**
 * When those parts of a task were over that have to come before another task, as far as one line of it says: empty where
 * it did none of them, null where it does not say. A line over both parts of a task says of one part only that it was not
 * over before the line began.
 */
function timesOfParts(pass: Entry, other: Due, before: ReadonlySet<string>): readonly (number | null)[] {
  const { id } = other.requirement;
  const isBefore = (part: string): boolean => before.has(`${id}/${part}`);
  if (before.has(id) || (isBefore("static") && isBefore("dynamic"))) return [endOf(pass)];
  const part = partOf(pass, other);
  if (part === "whole") return isBefore("static") || isBefore("dynamic") ? [pass.from] : [];
  return isBefore(part) ? [endOf(pass)] : [];
}

function findDrivenFirst(due: Due, entry: Entry): readonly Draft[] {
  if (partOf(entry, due) !== "dynamic") return [];
  const parked = due.done.filter((each) => partOf(each, due) === "static");
  const isFirst = parked.every((each) => isKnownEarlier(endOf(entry), endOf(each)));
  if (parked.length === 0 || !isFirst) return [];
  return [
    makeFinding("done-out-of-order", aboutRequirement(due.requirement, entry), {
      says: `Line ${entry.line.id} drove the ${nameTask(due.requirement)} before its parked part was done.`,
      because: [due.requirement.id, entry.line.id, ...parked.map(({ line }) => line.id)],
      resolvedBy: "The driven part done again after the parked one, or records of other times.",
    }),
  ];
}

/** Whether a step does the task of its requirement, or a part of it, and is no inspection for it. */
function isTask(step: string, requirement: string): boolean {
  return step === requirement || step.startsWith(`${requirement}/`);
}

/** The steps that the plan puts before the task of a requirement or a part of it, and their stages. */
function whatComesBefore(
  plan: Plan,
  requirement: string,
): { readonly steps: ReadonlySet<string>; readonly stages: ReadonlySet<StageId> } {
  const own = plan.steps.filter(({ id }) => isTask(id, requirement)).map(({ id }) => id);
  const steps = new Set(own.flatMap((id) => [...stepsBefore(plan, id)]));
  const stages = plan.steps.filter(({ id }) => steps.has(id)).map(({ stage }) => stage);
  return { steps, stages: new Set(stages) };
}

/** The steps before one, directly or by way of others: steps stand in a valid order, so one walk backwards finds all. */
function stepsBefore({ steps }: Plan, id: string): ReadonlySet<string> {
  const before = new Set(steps.find((step) => step.id === id)?.after);
  for (const step of [...steps].reverse()) {
    if (before.has(step.id)) for (const earlier of step.after) before.add(earlier);
  }
  return before;
}

/**
 * Passes that no longer hold: an operation that surely disturbed the sensor was completed after the last pass. Operations
 * and lines without a time prove nothing.
 */
export function findStale({ dues, job }: Case): readonly Draft[] {
  const completed = new Map(job.operations.map(({ id, completedAt }) => [id, timeOf(completedAt)]));
  return dues.flatMap((due) => {
    const { requirement } = due;
    const operations = disturbingOperations(due);
    return standingLines(due)
      .filter(({ outcome }) => outcome === "passed")
      .flatMap((entry) => {
        const later = operations.filter((id) => isKnownEarlier(endOf(entry), completed.get(id) ?? null));
        if (later.length === 0) return [];
        return [
          makeFinding("stale-result", aboutRequirement(requirement, entry), {
            says: `The ${nameTask(requirement)} passed with line ${entry.line.id}; ${listWords(later, "and")}, which disturbed the sensor, was completed after that.`,
            because: [...chainOf(requirement), entry.line.id],
            resolvedBy: `The ${nameTask(requirement)} done again after ${listWords(later, "and")}, or records of other times.`,
          }),
        ];
      });
  });
}

/** The stated operations that surely disturbed a requirement's sensor, sorted. */
export function disturbingOperations({ requirement }: Due): readonly string[] {
  const certain = requirement.because.filter((reason) => reason.certain);
  return [...new Set(certain.flatMap(({ operation }) => operation ?? []))].sort();
}

/**
 * A post-repair scan that is followed by a calibration or a drive: of several scans the last counts. A function check
 * stores nothing, and may follow.
 */
export function findEarlyScan(audited: Case): readonly Draft[] {
  const scans = proofsOfVehicle("post-repair-scan", audited);
  if (scans.length === 0) return [];
  const isAfterAll = (at: number | null): boolean => scans.every((scan) => isKnownEarlier(scan.at, at));
  const lines = audited.entries.filter((entry) => entry.outcome !== "not-done" && isAfterAll(endOf(entry)));
  const drives = (["drive-log", "road-test"] as const)
    .flatMap((kind) => proofsOfVehicle(kind, audited))
    .filter(({ at }) => isAfterAll(at));
  if (lines.length + drives.length === 0) return [];
  const [only, second] = lines;
  const about = only !== undefined && second === undefined ? aboutLine(only, audited.dues) : {};
  const names = [
    ...lines.map(({ line }) => `line ${line.id}`),
    ...new Set(drives.map(({ kind }) => labelsOf([kind], "and"))),
  ];
  return [
    makeFinding("scan-out-of-order", about, {
      says: `The post-repair scan was taken before what it has to follow: ${listWords(names, "and")}.`,
      because: [
        ...scans.map(({ name }) => name),
        ...lines.map(({ line }) => line.id),
        ...drives.map(({ name }) => name),
      ],
      resolvedBy: "A scan of all modules after the last calibration and drive.",
    }),
  ];
}
