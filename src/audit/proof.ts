import type { EvidenceId, PreconditionId } from "../vocabulary/index.js";
import { EVIDENCE, PRECONDITIONS } from "../vocabulary/index.js";
import { isDriven, isParked, proofsFor, proofsOfVehicle, type Case, type Due } from "./case.js";
import { aboutRequirement, labelsOf, makeFinding, nameTask, type Draft } from "./finding.js";

/** A precondition that records prove. */
interface Provable {
  /** Any of these proves it. */
  readonly kinds: readonly EvidenceId[];
  /** Whether it is nothing without its record; otherwise the record is asked for only where the plan lists it. */
  readonly isMeasured: boolean;
  /** Whether it concerns a calibration only as far as that is done parked. */
  readonly whileParked?: boolean;
}

/**
 * The preconditions that records prove. A precondition that is not here is seen to on the spot and leaves no record.
 * Where nothing touched the axles, a thrust angle is also proved by how the vehicle runs, or by the line of the set-up.
 */
const PROVED_BY: Readonly<Partial<Record<PreconditionId, Provable>>> = {
  "alignment-in-spec": { kinds: ["wheel-alignment"], isMeasured: true },
  "thrust-angle-in-range": {
    kinds: ["wheel-alignment", "setup-record", "road-test"],
    isMeasured: true,
    whileParked: true,
  },
  "ride-height-in-range": { kinds: ["ride-height"], isMeasured: true },
  "tyre-pressure-set": { kinds: ["tyre-pressure"], isMeasured: true },
  "tyres-correct": { kinds: ["tyre-pressure"], isMeasured: true },
  "film-thickness-in-range": { kinds: ["film-thickness"], isMeasured: true },
  "floor-level": { kinds: ["floor-survey"], isMeasured: true, whileParked: true },
  "adhesive-cured": { kinds: ["adhesive-cure"], isMeasured: false },
  "repairs-complete": { kinds: ["repairs-complete"], isMeasured: false },
  "battery-supported": { kinds: ["battery-support"], isMeasured: false },
};

/** The scans of the job as a whole, which are asked for once. */
const SCANS = ["pre-repair-scan", "post-repair-scan"] as const satisfies readonly EvidenceId[];

/** Records that other findings ask for, each in its own way. */
const ASKED_ELSEWHERE: ReadonlySet<EvidenceId> = new Set([
  ...SCANS,
  "customer-notice",
  "drive-log",
  "setup-record",
]);

/** Whether a requirement was carried out so far that its records are to be expected: what failed is to be repeated first. */
function isToBeProved({ done }: Due): boolean {
  return done.some(({ outcome }) => outcome === "passed" || outcome === "unknown");
}

/** Preconditions of tasks carried out that no record proves: one finding for each requirement. */
export function findUnproven({ dues }: Case): readonly Draft[] {
  return dues.filter(isToBeProved).flatMap((due) => {
    const { requirement, done } = due;
    const unproven = provablePreconditions(due).filter(({ kinds }) => proofsFor(due, kinds).length === 0);
    if (unproven.length === 0) return [];
    const labels = unproven.map(({ id }) => PRECONDITIONS[id].label);
    const kinds = [...new Set(unproven.flatMap(({ kinds: [first] }) => first ?? []))];
    return [
      makeFinding("precondition-unproven", aboutRequirement(requirement, done[0]), {
        says: `No record shows what has to be true before the ${nameTask(requirement)}: ${labels.join(", ")}.`,
        because: [requirement.id, ...done.map(({ line }) => line.id), ...unproven.map(({ id }) => id)],
        resolvedBy: `The records: ${labelsOf(kinds, "and")}.`,
      }),
    ];
  });
}

function provablePreconditions(
  due: Due,
): readonly { readonly id: PreconditionId; readonly kinds: readonly EvidenceId[] }[] {
  const { task, preconditions, evidence } = due.requirement;
  return preconditions.flatMap((id) => {
    const provable = PROVED_BY[id];
    if (provable === undefined) return [];
    const { kinds, isMeasured, whileParked = false } = provable;
    if (whileParked && task === "calibration" && !isParked(due)) return [];
    // Where the plan asks for the measurement itself, nothing stands in for it.
    const asked = kinds.filter((kind) => evidence.includes(kind));
    const [measurement] = kinds;
    const isAsked = measurement !== undefined && asked.includes(measurement);
    return isMeasured || asked.length > 0 ? [{ id, kinds: isAsked ? [measurement] : kinds }] : [];
  });
}

/** Records that the plan asks for and that stand neither on the lines nor beside them: one finding for each requirement. */
export function findMissingEvidence({ dues }: Case): readonly Draft[] {
  return dues.filter(isToBeProved).flatMap((due) => {
    const { requirement, done } = due;
    // A record that proves a precondition is asked for there.
    const asked = new Set(provablePreconditions(due).flatMap(({ kinds: [first] }) => first ?? []));
    const missing = requirement.evidence.filter(
      (kind) =>
        !ASKED_ELSEWHERE.has(kind) &&
        !asked.has(kind) &&
        !(kind === "floor-survey" && requirement.task === "calibration") &&
        proofsFor(due, [kind]).length === 0,
    );
    if (missing.length === 0) return [];
    return [
      makeFinding("evidence-missing", aboutRequirement(requirement, done[0]), {
        says: `No record proves the ${nameTask(requirement)} in this respect: ${labelsOf(missing, "and")}.`,
        because: [requirement.id, ...done.map(({ line }) => line.id), ...missing],
        resolvedBy: missing.map((kind) => `${EVIDENCE[kind].label}: ${EVIDENCE[kind].meaning}`).join(" "),
      }),
    ];
  });
}

/**
 * Parked calibrations without a record of where targets and vehicle stood, or of the floor where that is no precondition
 * of theirs. The plan says whether there are targets; where it knows no method, the line's word that it was parked does,
 * if the sensor is one with targets.
 */
export function findUnprovenSetups({ dues }: Case): readonly Draft[] {
  return dues.filter(isToBeProved).flatMap((due) => {
    const { requirement, done } = due;
    if (requirement.task !== "calibration" || !isParked(due)) return [];
    const isOpen = requirement.method.procedure === null;
    const { preconditions, evidence } = requirement;
    const asked = [
      ...(evidence.includes("setup-record") || (isOpen && preconditions.includes("targets-verified"))
        ? (["setup-record"] as const)
        : []),
      ...(evidence.includes("floor-survey") && !preconditions.includes("floor-level")
        ? (["floor-survey"] as const)
        : []),
    ];
    const missing = asked.filter((kind) => proofsFor(due, [kind]).length === 0);
    if (missing.length === 0) return [];
    return [
      makeFinding("setup-unproven", aboutRequirement(requirement, done[0]), {
        says: `The ${nameTask(requirement)} was parked work, and no record shows how it was set up: ${labelsOf(missing, "and")}.`,
        because: [requirement.id, ...done.map(({ line }) => line.id), ...missing],
        resolvedBy: missing.map((kind) => EVIDENCE[kind].meaning).join(" "),
      }),
    ];
  });
}

/** Driven calibrations without a log, or with logs that state fewer minutes together than the procedure's window. */
export function findUnprovenDrives({ dues }: Case): readonly Draft[] {
  return dues.filter(isToBeProved).flatMap((due) => {
    const { requirement, done } = due;
    if (requirement.task !== "calibration" || !isDriven(due)) return [];
    const logs = proofsFor(due, ["drive-log"]);
    const needed = requirement.procedure?.driveWindow?.minutes ?? 0;
    const stated = logs.flatMap(({ values }) => {
      const minutes = values?.["minutes"];
      return typeof minutes === "number" ? [minutes] : [];
    });
    const driven = stated.reduce((sum, minutes) => sum + minutes, 0);
    const isShort = stated.length > 0 && stated.length === logs.length && driven < needed;
    if (logs.length > 0 && !isShort) return [];
    return [
      makeFinding("drive-not-proven", aboutRequirement(requirement, done[0]), {
        says: isShort
          ? `The drive logs for the ${nameTask(requirement)} state ${driven} minutes; the procedure asks for ${needed}.`
          : `The ${nameTask(requirement)} was done on the road, and no drive log shows it.`,
        because: [requirement.id, ...done.map(({ line }) => line.id), ...logs.map(({ name }) => name)],
        resolvedBy: "A drive log with as much time in the procedure's window as it asks for.",
      }),
    ];
  });
}

/**
 * Scans of the job as a whole that are not on record, or on an estimate not listed: those that the plan surely has as a
 * step, or that prove a task which was done.
 */
export function findMissingScans(audited: Case): readonly Draft[] {
  const verb = audited.submitted.document === "estimate" ? "lists" : "shows";
  return SCANS.filter(
    (kind) =>
      (audited.plan.steps.some(({ stage, onlyIf }) => stage === kind && onlyIf === null) ||
        audited.dues.some(
          ({ requirement, done }) => done.length > 0 && requirement.evidence.includes(kind),
        )) &&
      proofsOfVehicle(kind, audited).length === 0,
  ).map((kind) =>
    makeFinding(
      "scan-missing",
      {},
      {
        says: `No record ${verb} a ${EVIDENCE[kind].label}.`,
        because: [kind],
        resolvedBy: `A ${EVIDENCE[kind].label}: ${EVIDENCE[kind].meaning}`,
      },
    ),
  );
}
