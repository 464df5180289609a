import type { Job } from "../job/index.js";
import { planCalibrations, type PlanOptions } from "../plan-calibrations.js";
import { CAUTIONS } from "../vocabulary/index.js";
import { openCase, type Case } from "./case.js";
import {
  findUnanswered,
  findUnsupported,
  isSupported,
  judgeDue,
  keyOfWaived,
  type State,
} from "./coverage.js";
import { numberFindings, type Draft } from "./finding.js";
import { findHolds } from "./holds.js";
import { findDuplicates, findUnnamed, findOverlaps } from "./lines.js";
import { findMissingNotice } from "./notice.js";
import { findEarlyScan, findOutOfOrder, findStale } from "./order.js";
import { findMismatches, findSuperseded } from "./procedure.js";
import {
  findMissingEvidence,
  findMissingScans,
  findUnproven,
  findUnprovenDrives,
  findUnprovenSetups,
} from "./proof.js";
import { readSubmitted } from "./read.js";
import { findFailures, findMissingResults } from "./results.js";
import type { Audit, Finding, FindingKind, Submitted } from "./shape.js";
import { findOtherVehicles } from "./vehicle.js";

/** What is asked of every document, an estimate included. */
const OF_ANY_DOCUMENT: readonly ((audited: Case) => readonly Draft[])[] = [
  findUnanswered,
  findUnsupported,
  findMismatches,
  findSuperseded,
  findDuplicates,
  findMissingScans,
  findHolds,
];

/** What is asked only once the work was done. */
const OF_WORK_DONE: readonly ((audited: Case) => readonly Draft[])[] = [
  findOutOfOrder,
  findStale,
  findEarlyScan,
  findUnproven,
  findMissingEvidence,
  findUnprovenSetups,
  findUnprovenDrives,
  findMissingResults,
  findFailures,
  findOtherVehicles,
  findUnnamed,
  findOverlaps,
  findMissingNotice,
];

/** Said in every audit, before the cautions of every report. */
const SCOPE =
  "A finding says what the documents support and what no record shows. It says nothing of anybody's intent, nor that the work was not done.";

/**
 * Holds an estimate, a work record or an invoice against what the job makes due, and says what it leaves open.
 *
 * `job` is a work order (`repair-calibration/job@1`), `submitted` the document (`repair-calibration/submitted@1`). Throws
 * `InputError` where either is refused. The order of lines and records makes no difference.
 */
export function auditPlan(job: Job, submitted: Submitted, options: PlanOptions): Audit {
  const document = readSubmitted(submitted);
  const plan = planCalibrations(job, options);
  const audited = openCase(job, plan, document);
  const asked = document.document === "estimate" ? OF_ANY_DOCUMENT : [...OF_ANY_DOCUMENT, ...OF_WORK_DONE];
  const findings = numberFindings(asked.flatMap((find) => find(audited)));
  return {
    schema: "repair-calibration/audit@1",
    reference: document.reference ?? null,
    document: document.document,
    outcome: findings.length === 0 ? "nothing-found" : "something-found",
    rulebook: plan.rulebook,
    procedures: plan.procedures.map(({ id, version, digest, applies }) => ({ id, version, digest, applies })),
    findings,
    pairs: writePairs(audited),
    totals: countFindings(findings),
    cautions: [SCOPE, ...warnOfQuestions(audited), ...CAUTIONS.map(({ text }) => text)],
  };
}

/** Open questions of the job can still add what no document could have listed. */
function warnOfQuestions({ plan }: Case): readonly string[] {
  const { length } = plan.questions;
  if (length === 0) return [];
  return [
    `${length === 1 ? "One question" : `${length} questions`} of the plan ${length === 1 ? "is" : "are"} open: until they are answered, more can become due than this audit knows of.`,
  ];
}

/** Every requirement and what waives it beside its lines, then the lines that belong to none. */
function writePairs(audited: Case): Audit["pairs"] {
  const { dues, entries, plan } = audited;
  const required = dues.map((due) => ({
    requirement: due.requirement.id,
    lines: [...due.done, ...due.notDone].map(({ line }) => line.id).sort(),
    standing: due.requirement.standing,
    state: stateOf(judgeDue(due, audited)),
  }));
  const ids = new Set(dues.map(({ requirement }) => requirement.id));
  const waivedKeys = [...new Set(plan.waived.map(keyOfWaived))].filter((key) => !ids.has(key)).sort();
  const waived = waivedKeys.map((key) => ({
    requirement: key,
    lines: entries.filter(({ keys }) => keys.has(key)).map(({ line }) => line.id),
    standing: null,
    state: "waived" as const,
  }));
  const alone = entries
    .filter(({ keys }) => ![...ids, ...waivedKeys].some((key) => keys.has(key)))
    .map((entry) => ({
      requirement: null,
      lines: [entry.line.id],
      standing: null,
      state: stateOfAlone(entry, audited),
    }));
  return [...required, ...waived, ...alone];
}

function stateOf(state: State): Audit["pairs"][number]["state"] {
  switch (state) {
    case "answered":
    case "inspected":
      return "answered";
    case "waived":
      return "waived";
    case "waiver-uncited":
    case "inspection-failed":
    case "not-inspected":
    case "undecided":
    case "missing":
      return "not-answered";
  }
}

/** A line that answers no requirement: one that is not done asks for no support, and a check may prove another's task. */
function stateOfAlone(entry: Case["entries"][number], audited: Case): "waived" | "answered" | "unsupported" {
  if (entry.outcome === "not-done") return "waived";
  return isSupported(entry, audited) ? "answered" : "unsupported";
}

function countFindings(findings: readonly Finding[]): Audit["totals"] {
  const count = (isCounted: (finding: Finding) => boolean): number => findings.filter(isCounted).length;
  const ofKind = (kind: FindingKind) => count((finding) => finding.kind === kind);
  return {
    high: count(({ severity }) => severity === "high"),
    medium: count(({ severity }) => severity === "medium"),
    low: count(({ severity }) => severity === "low"),
    missing: ofKind("missing-requirement"),
    unsupported: ofKind("unsupported-line"),
    undecided: ofKind("undecided-requirement"),
  };
}
