import type { Requirement } from "../plan/index.js";
import type { EvidenceId, InspectionId } from "../vocabulary/index.js";
import {
  citesWaiver,
  isKnownEarlier,
  proofsFor,
  type Case,
  type Due,
  type Entry,
  type Proof,
} from "./case.js";
import {
  aboutLine,
  aboutRequirement,
  chainOf,
  listWords,
  makeFinding,
  nameTask,
  type Draft,
} from "./finding.js";
import { keyOfPlace } from "../vocabulary/index.js";

/** How far a document answers a requirement. */
export type State =
  | "answered"
  | "inspected"
  | "waived"
  | "waiver-uncited"
  | "inspection-failed"
  | "not-inspected"
  | "undecided"
  | "missing";

/** The records in which the outcome of an inspection can stand; one of the kind "inspection" always does. */
const RECORDS_OF_INSPECTIONS: Readonly<Record<InspectionId, readonly EvidenceId[]>> = {
  "mount-inspection": [],
  "alignment-measurement": ["wheel-alignment"],
  "ride-height-measurement": ["ride-height"],
  "film-thickness-measurement": ["film-thickness"],
  "view-inspection": [],
  "image-inspection": [],
  "telltale-and-scan": [],
  "structural-measurement": ["structural-measurement"],
};

/**
 * Judges a requirement by its lines and, where it asks for an inspection first, by the records of that:
 * - a line that was carried out answers it, whatever came out: its result is judged with the line;
 * - otherwise a line that says "not done" and cites a document waives it; without a citation it does so neither for a
 *   required nor for a presumed task, and leaves the others as if it were not there;
 * - inspect-first is also answered by an inspection that passed; one that failed makes the task itself due;
 * - undetermined without a line stays undecided.
 */
export function judgeDue(due: Due, audited: Case): State {
  if (due.done.length > 0) return "answered";
  if (due.notDone.some(citesWaiver)) return "waived";
  switch (due.requirement.standing) {
    case "required":
    case "presumed":
      return due.notDone.length > 0 ? "waiver-uncited" : "missing";
    case "inspect-first":
      return judgeInspections(due, audited);
    case "undetermined":
      return "undecided";
  }
}

/** On an estimate it is enough that an inspection is listed; afterwards it has to say what it found. */
function judgeInspections(due: Due, { submitted }: Case): State {
  const general = proofsFor(due, ["inspection"]);
  const asked = (due.requirement.inspection ?? []).filter(({ certain }) => certain);
  const perInspection = asked.map(({ id }) => [...general, ...proofsFor(due, RECORDS_OF_INSPECTIONS[id])]);
  const found = perInspection.length > 0 ? perInspection : [general];
  if (submitted.document === "estimate") {
    return found.every((proofs) => proofs.length > 0) ? "inspected" : "not-inspected";
  }
  const results = found.map(lastResult);
  if (results.includes("failed")) return "inspection-failed";
  return results.every((result) => result === "passed") ? "inspected" : "not-inspected";
}

/** The outcome of the last inspection: a failed one stands unless one passed that is not known to be earlier. */
function lastResult(proofs: readonly Proof[]): "passed" | "failed" | null {
  const passed = proofs.filter(({ result }) => result === "passed");
  const failed = proofs.filter(({ result }) => result === "failed");
  if (failed.some((each) => !passed.some((pass) => !isKnownEarlier(pass.at, each.at)))) return "failed";
  return passed.length > 0 ? "passed" : null;
}

/** Requirements that no line answers: missing-requirement, undecided-requirement, missing-inspection, waiver-uncited. */
export function findUnanswered(audited: Case): readonly Draft[] {
  return audited.dues.flatMap((due): readonly Draft[] => {
    const { requirement } = due;
    const task = nameTask(requirement);
    switch (judgeDue(due, audited)) {
      case "answered":
      case "inspected":
      case "waived":
        return [];
      case "missing":
        return [
          makeFinding("missing-requirement", aboutRequirement(requirement), {
            says: `The ${task} is ${requirement.standing} by ${reasonOf(requirement)}, and no line lists it.`,
            because: chainOf(requirement),
            resolvedBy: `A line for the ${task}, or a line that says that it is not done and cites the maker's document.`,
          }),
        ];
      case "inspection-failed":
        return [
          makeFinding("missing-requirement", aboutRequirement(requirement), {
            says: `The inspection before the ${task} failed, which makes the task due, and no line lists it.`,
            because: [...chainOf(requirement), ...inspectionNames(due)],
            resolvedBy: `A line for the ${task}, or a later record of the inspection that passed.`,
          }),
        ];
      case "not-inspected":
        return [
          makeFinding("missing-inspection", aboutRequirement(requirement), {
            says: `The ${task} hangs on an inspection first, and no record shows what that found.`,
            because: chainOf(requirement),
            resolvedBy: `A record of the inspection with its result: ${lookAt(requirement)}`,
          }),
        ];
      case "undecided":
        return [makeUndecided(requirement, audited)];
      case "waiver-uncited":
        return due.notDone.map((entry) => makeUncited(due, entry));
    }
  });
}

function makeUndecided(requirement: Requirement, { plan }: Case): Draft {
  const open = plan.questions.filter(({ id }) => requirement.questions.includes(id));
  return makeFinding("undecided-requirement", aboutRequirement(requirement), {
    says: `Whether the ${nameTask(requirement)} is due stays open: ${open.map(({ ask }) => ask).join(" ")}`,
    because: [...chainOf(requirement), ...open.map(({ about }) => about)],
    resolvedBy: `An answer in the job at ${listWords(
      open.map(({ about }) => about),
      "and",
    )}, or a line for the task.`,
  });
}

function makeUncited({ requirement }: Due, entry: Entry): Draft {
  return makeFinding("waiver-uncited", aboutRequirement(requirement, entry), {
    says: `Line ${entry.line.id} says that the ${nameTask(requirement)} is not done and cites no document, while it is ${requirement.standing} by ${reasonOf(requirement)}.`,
    because: [...chainOf(requirement), entry.line.id],
    resolvedBy: "The maker's document that lets it be left out, with its section, or the task itself.",
  });
}

function inspectionNames(due: Due): readonly string[] {
  const kinds = (due.requirement.inspection ?? []).flatMap(({ id }) => RECORDS_OF_INSPECTIONS[id]);
  return proofsFor(due, ["inspection", ...kinds]).map(({ name }) => name);
}

function lookAt({ inspection }: Requirement): string {
  return (inspection ?? []).map((each) => each.lookAt).join(" ");
}

/** "L1 and /findings/impactZones": what began the chains. */
function reasonOf({ because }: Requirement): string {
  const roots = because
    .filter(({ certain }) => certain)
    .flatMap(({ operation, finding }) => operation ?? finding ?? []);
  return listWords([...new Set(roots)].sort(), "and");
}

/**
 * Lines that nothing supports. What supports a line is a requirement of the plan, of any standing; a requirement that a
 * maker's document waives, since the work did ask for it; and, for a function check, a requirement of the same sensor
 * that such a check proves. That the order itself bills a calibration is no support. A line that says "not done" claims
 * nothing.
 */
export function findUnsupported(audited: Case): readonly Draft[] {
  return audited.entries
    .filter((entry) => entry.outcome !== "not-done" && !isSupported(entry, audited))
    .map((entry) => {
      const { line } = entry;
      return makeFinding("unsupported-line", aboutLine(entry, []), {
        says: `Line ${line.id}, ${nameTask(line)}, is not supported by any operation or finding of the job or by a procedure.`,
        because: [line.id, ...claimsOf(audited)],
        resolvedBy: wouldSupport(entry, audited),
      });
    });
}

export function isSupported({ line, keys }: Entry, { dues, plan }: Case): boolean {
  const isWaived = plan.waived.some((each) => keys.has(keyOfWaived(each)));
  const isProof =
    line.task === "function-check" &&
    dues.some(
      ({ requirement, places }) =>
        requirement.evidence.includes("function-check") &&
        [...places].some((place) => keys.has(`${place}/function-check`)),
    );
  return isWaived || isProof || dues.some(({ requirement }) => keys.has(requirement.id));
}

/** The id that a waived requirement would have had. */
export function keyOfWaived({ sensor, position, task }: Case["plan"]["waived"][number]): string {
  return `${keyOfPlace(sensor, position)}/${task}`;
}

/** The lines of the order that claim calibrations: they were weighed, and are no reason. */
function claimsOf({ plan }: Case): readonly string[] {
  return plan.claimed.filter(({ action }) => action === "calibrate").map(({ operation }) => operation);
}

function wouldSupport({ line, keys }: Entry, { plan, dues }: Case): string {
  const others = dues.filter(
    ({ requirement, places }) =>
      requirement.sensor === line.sensor || [...places].some((place) => keys.has(`${place}/${line.task}`)),
  );
  const changes = plan.notIndicated
    .filter(({ sensor, position }) => keys.has(`${keyOfPlace(sensor, position)}/${line.task}`))
    .flatMap(({ wouldChange }) => wouldChange);
  const due = others.map(({ requirement }) => nameTask(requirement));
  const advice = [
    ...(due.length > 0 ? [`What is due there is the ${listWords(due, "and")}.`] : []),
    ...new Set(changes),
  ];
  if (advice.length > 0) return advice.join(" ");
  return "An operation or finding that disturbs the sensor, or the maker's procedure that asks for the task.";
}
