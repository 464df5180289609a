import { keyOfPlace, EVIDENCE, type EvidenceId } from "../vocabulary/index.js";
import {
  endOf,
  isKnownEarlier,
  isMadeGood,
  nameOfRecord,
  proofsFor,
  timeOf,
  type Case,
  type Due,
  type Entry,
} from "./case.js";
import { aboutLine, aboutRequirement, makeFinding, nameTask, type Draft } from "./finding.js";
import type { SubmittedRecord } from "./shape.js";

/** Lines whose result nothing states, and calibration records that name no vehicle. */
export function findMissingResults({ entries, dues }: Case): readonly Draft[] {
  const unstated = entries
    .filter(({ outcome }) => outcome === "unknown")
    .map((entry) =>
      makeFinding("result-missing", aboutLine(entry, dues), {
        says: `Line ${entry.line.id}, ${nameTask(entry.line)}, does not say what came of it.`,
        because: [entry.line.id],
        resolvedBy: "The result: passed, failed, aborted or not done.",
      }),
    );
  return [...unstated, ...dues.flatMap(findUnidentified)];
}

/** A calibration record belongs to a vehicle only if it names it; one of several that does is enough. */
function findUnidentified(due: Due): readonly Draft[] {
  const records = proofsFor(due, ["calibration-record"]);
  const [entry] = due.done;
  if (entry === undefined || records.length === 0 || records.some(({ vin }) => vin !== null)) return [];
  return [
    makeFinding("result-missing", aboutRequirement(due.requirement, entry), {
      says: `The calibration record for the ${nameTask(due.requirement)} does not name the vehicle.`,
      because: [due.requirement.id, entry.line.id, ...records.map(({ name }) => name)],
      resolvedBy: "A calibration record with the vehicle's VIN.",
    }),
  ];
}

/** Records that may fail without leaving anything open: the state on arrival, and what decides that a task is due. */
const MAY_FAIL: ReadonlySet<EvidenceId> = new Set(["pre-repair-scan", "inspection", "customer-notice"]);

/** Lines and records that say failed or aborted, unless a pass that is not known to be earlier makes them good. */
export function findFailures(audited: Case): readonly Draft[] {
  const lines = audited.entries
    .filter((entry) => hasFailed(entry) && !isMadeGood(entry, audited))
    .map((entry) =>
      makeFinding("result-failed", aboutLine(entry, audited.dues), {
        says: `Line ${entry.line.id}, ${nameTask(entry.line)}, ${entry.outcome === "aborted" ? "was aborted" : "failed"}, and no later pass is recorded.`,
        because: [entry.line.id],
        resolvedBy: "A repeat that passed, with its record.",
      }),
    );
  return [...lines, ...findFailedRecords(audited)];
}

export function hasFailed({ outcome }: Entry): boolean {
  return outcome === "failed" || outcome === "aborted";
}

function findFailedRecords(audited: Case): readonly Draft[] {
  return audited.records
    .filter((record) => isFailedRecord(record) && !isRecordMadeGood(record, audited))
    .map((record) =>
      makeFinding(
        "result-failed",
        { sensor: record.sensor ?? null, position: record.position ?? null },
        {
          says: `A record (${EVIDENCE[record.kind].label}) says ${record.result ?? ""}, and no later one says passed.`,
          because: [nameOfRecord(record)],
          resolvedBy: `A later record of the same kind that passed: ${EVIDENCE[record.kind].label}.`,
        },
      ),
    );
}

function isFailedRecord({ kind, result }: SubmittedRecord): boolean {
  return !MAY_FAIL.has(kind) && (result === "failed" || result === "aborted");
}

/** By a record of the same kind and place; a failed calibration record also by a line of its sensor that passed. */
function isRecordMadeGood(failed: SubmittedRecord, { records, entries }: Case): boolean {
  const onLines = entries.flatMap(({ line }): readonly SubmittedRecord[] =>
    (line.evidence ?? []).map((each) => ({
      ...each,
      ...(failed.sensor === undefined || failed.sensor === null
        ? {}
        : { sensor: line.sensor, position: line.position ?? null }),
    })),
  );
  const isLater = (at: number | null): boolean => !isKnownEarlier(at, timeOf(failed.at));
  const byRecord = [...records, ...onLines].some(
    (each) =>
      each.kind === failed.kind &&
      each.result === "passed" &&
      nameOfPlace(each) === nameOfPlace(failed) &&
      isLater(timeOf(each.at)),
  );
  const byLine =
    failed.kind === "calibration-record" &&
    entries.some(
      (entry) =>
        entry.outcome === "passed" &&
        nameOfPlace(entry.line) === nameOfPlace(failed) &&
        isLater(endOf(entry)),
    );
  return byRecord || byLine;
}

function nameOfPlace({
  sensor = null,
  position = null,
}: Pick<SubmittedRecord, "sensor" | "position">): string {
  return sensor === null ? "" : keyOfPlace(sensor, position);
}
