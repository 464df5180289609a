import { readTime } from "../drive/index.js";
import type { Job } from "../job/index.js";
import type { Plan, Requirement } from "../plan/index.js";
import {
  keyOfPlace,
  positionsOf,
  type EvidenceId,
  type Method,
  type PositionId,
  type SensorId,
} from "../vocabulary/index.js";
import { timeShape, type Result, type Submitted, type SubmittedLine, type SubmittedRecord } from "./shape.js";

/** A submitted line with what follows from it alone. */
export interface Entry {
  readonly line: SubmittedLine;
  /** The requirements that it would answer, by their ids, whether the plan has them or not. */
  readonly keys: ReadonlySet<string>;
  /** What became of it; "unknown" where nothing says, as on every line that is still to be done. */
  readonly outcome: Result;
  /** When it began and ended, in seconds; null where it is not stated. */
  readonly from: number | null;
  readonly to: number | null;
}

/** A requirement of the plan with the lines that answer it. */
export interface Due {
  readonly requirement: Requirement;
  /** The places of the device: "forward-camera", "surround-camera:rear". */
  readonly places: ReadonlySet<string>;
  /** Lines of its task that were carried out, or on an estimate are to be, by id. */
  readonly done: readonly Entry[];
  /** Lines that say that it is not done, by id. */
  readonly notDone: readonly Entry[];
  /** The records that bear on it. */
  readonly proofs: readonly Proof[];
}

/** A document beside the plan of its job. */
export interface Case {
  readonly job: Job;
  readonly plan: Plan;
  readonly submitted: Submitted;
  /** By id. */
  readonly entries: readonly Entry[];
  readonly records: readonly SubmittedRecord[];
  readonly dues: readonly Due[];
}

/**
 * Sets a document beside the plan of its job. A line answers a requirement where sensor, position and task agree: one
 * without position answers all positions of its sensor, and one for another name of the same device answers too.
 */
export function openCase(job: Job, plan: Plan, submitted: Submitted): Case {
  const entries = submitted.lines
    .map((line) => readLine(line, plan))
    .sort((a, b) => (a.line.id < b.line.id ? -1 : 1));
  const records = (submitted.records ?? []).map((record) => ({
    record,
    places: placesOfRecord(record, plan),
  }));
  const dues = plan.requirements.map((requirement): Due => {
    const answering = entries.filter(({ keys }) => keys.has(requirement.id));
    const places = new Set([keyOfPlace(requirement.sensor, requirement.position), ...requirement.alsoFor]);
    const done = answering.filter(({ outcome }) => outcome !== "not-done");
    const separate = records.filter((each) => bearsOn(each, places)).map(({ record }) => record);
    return {
      requirement,
      places,
      done,
      notDone: answering.filter(({ outcome }) => outcome === "not-done"),
      proofs: [...evidenceOnLines(done, entries), ...separate].map(readRecord),
    };
  });
  return { job, plan, submitted, entries, records: submitted.records ?? [], dues };
}

function readLine(line: SubmittedLine, plan: Plan): Entry {
  const from = timeOf(line.started);
  const to = timeOf(line.finished);
  const keys = placesOf(line.sensor, line.position ?? null, plan).map((place) => {
    const sameDevice = plan.requirements.find(
      ({ task, alsoFor }) => task === line.task && alsoFor.includes(place),
    );
    return sameDevice?.id ?? `${place}/${line.task}`;
  });
  return { line, keys: new Set(keys), outcome: outcomeOf(line), from, to };
}

/**
 * What became of a line: its own word and those of the calibration records that stand on it. Failed or aborted in either
 * outweighs passed. A waiver on a line of which nothing else is said means that it is not done.
 */
function outcomeOf({ result = "unknown", waiver, started, finished, evidence = [] }: SubmittedLine): Result {
  if (result === "not-done") return "not-done";
  const records = evidence.flatMap((each) =>
    each.kind === "calibration-record" && each.result !== undefined ? [each.result] : [],
  );
  const said = new Set([result, ...records]);
  if (said.has("failed")) return "failed";
  if (said.has("aborted")) return "aborted";
  if (said.has("passed")) return "passed";
  const isWaived = waiver !== undefined && waiver !== null;
  return isWaived && started === undefined && finished === undefined ? "not-done" : "unknown";
}

/** The places that a statement about a sensor covers: without a position all of them, those that the plan adds included. */
function placesOf(sensor: SensorId, position: PositionId | null, plan: Plan): readonly string[] {
  if (position !== null) return [keyOfPlace(sensor, position)];
  const planned = [...plan.requirements, ...plan.waived].flatMap((each) =>
    each.sensor === sensor ? [each.position] : [],
  );
  return [...new Set([...positionsOf(sensor), ...planned])].map((each) => keyOfPlace(sensor, each));
}

/** Records of one sensor's own result: without its name they prove nothing of it. */
const NAME_THEIR_SENSOR: ReadonlySet<EvidenceId> = new Set([
  "calibration-record",
  "function-check",
  "inspection",
]);

/** Records of one sensor or of the part before it: on a line they belong to that line. The others are of the vehicle. */
const OF_ITS_LINE: ReadonlySet<EvidenceId> = new Set([
  ...NAME_THEIR_SENSOR,
  "setup-record",
  "film-thickness",
  "part-identification",
  "drive-log",
]);

/** A record that bears on a requirement, wherever it stands. */
export interface Proof {
  readonly kind: EvidenceId;
  readonly at: number | null;
  readonly result: Result;
  readonly vin: string | null;
  readonly values: SubmittedRecord["values"];
  readonly name: string;
}

/**
 * What stands on lines and bears on a requirement that some of them answer: all that is on those, and of the others the
 * records of the vehicle, and the set-up where the stand is shared.
 */
function evidenceOnLines(done: readonly Entry[], entries: readonly Entry[]): readonly SubmittedRecord[] {
  const setUps = new Set(done.flatMap(({ line }) => line.setUp ?? []));
  return entries.flatMap((entry) => {
    const isShared = entry.line.setUp !== undefined && setUps.has(entry.line.setUp);
    return (entry.line.evidence ?? []).filter(
      ({ kind }) => done.includes(entry) || !OF_ITS_LINE.has(kind) || (isShared && kind === "setup-record"),
    );
  });
}

/** The places of which a separate record speaks; null where it names no sensor, and so speaks of the vehicle. */
function placesOfRecord(
  { sensor = null, position = null }: SubmittedRecord,
  plan: Plan,
): readonly string[] | null {
  return sensor === null ? null : placesOf(sensor, position, plan);
}

/** A separate record that names a sensor speaks for it alone. */
function bearsOn(
  { record, places }: { readonly record: SubmittedRecord; readonly places: readonly string[] | null },
  dues: ReadonlySet<string>,
): boolean {
  return places === null ? !NAME_THEIR_SENSOR.has(record.kind) : places.some((place) => dues.has(place));
}

/** The records of some kinds that bear on a requirement. */
export function proofsFor(due: Due, kinds: readonly EvidenceId[]): readonly Proof[] {
  return due.proofs.filter(({ kind }) => kinds.includes(kind));
}

/** The records of one kind for the vehicle as a whole, separate or on any line. */
export function proofsOfVehicle(kind: EvidenceId, { entries, records }: Case): readonly Proof[] {
  const onLines = entries.flatMap(({ line }): readonly SubmittedRecord[] => line.evidence ?? []);
  return [...onLines, ...records].filter((each) => each.kind === kind).map(readRecord);
}

export function readRecord(record: SubmittedRecord): Proof {
  return {
    kind: record.kind,
    at: timeOf(record.at),
    result: record.result ?? "unknown",
    vin: record.vin ?? null,
    values: record.values,
    name: nameOfRecord(record),
  };
}

/** Names a record by what it says of itself, since its place in the document depends on the order of records. */
export function nameOfRecord({
  kind,
  sensor = null,
  position = null,
  at,
  reference,
}: SubmittedRecord): string {
  const parts = [
    ...(sensor === null ? [] : [`of ${keyOfPlace(sensor, position)}`]),
    ...(at === undefined ? [] : [`at ${at}`]),
    ...(reference === undefined ? [] : [JSON.stringify(reference)]),
  ];
  return [kind, ...parts].join(" ");
}

/** A stated time in seconds; null where none is. */
export function timeOf(text: string | undefined): number | null {
  return text === undefined ? null : readTime(text);
}

/** When an adhesive had cured: the time that its record gives as the end, otherwise the record's own. */
export function curedAt({ at, values }: Proof): number | null {
  const until = timeShape.safeParse(values?.["until"]);
  return until.success ? readTime(until.data) : at;
}

/** When a line was over, or when it began where no more is stated. */
export function endOf({ from, to }: Entry): number | null {
  return to ?? from;
}

/** When a line began, or when it was over where no more is stated. */
export function startOf({ from, to }: Entry): number | null {
  return from ?? to;
}

/** A part of a task that is done for itself. */
export type Part = "static" | "dynamic" | "whole";

/** Which part of its task a line did: only a procedure that asks for both divides a task. */
export function partOf({ line }: Entry, due: Due | undefined): Part {
  if (due?.requirement.method.value !== "static-and-dynamic") return "whole";
  return line.method === "static" || line.method === "dynamic" ? line.method : "whole";
}

/**
 * Whether later passes make good a line that failed: each place that is due, or where none is due each that the line
 * speaks of, has one that covers the same part and is not known to be earlier. `dues`: those of which it is asked.
 */
export function isMadeGood(failed: Entry, { entries, dues }: Pick<Case, "entries" | "dues">): boolean {
  const due = dues.filter(({ requirement }) => failed.keys.has(requirement.id));
  const keys = due.length > 0 ? due.map(({ requirement }) => requirement.id) : [...failed.keys];
  return keys.every((key) => {
    const of = due.find(({ requirement }) => requirement.id === key);
    const part = partOf(failed, of);
    return entries.some((pass) => {
      const covered = partOf(pass, of);
      return (
        pass.outcome === "passed" &&
        pass.keys.has(key) &&
        (covered === "whole" || covered === part) &&
        !isKnownEarlier(endOf(pass), endOf(failed))
      );
    });
  });
}

/** Whether both times are known and the first lies before the second. */
export function isKnownEarlier(first: number | null, second: number | null): boolean {
  return first !== null && second !== null && first < second;
}

/**
 * For each part of a requirement's task, the line whose result stands: the last pass, or without one the last attempt.
 * A part with a line of unknown time is left out, since nobody can tell which was the last.
 */
export function standingLines(due: Due): readonly Entry[] {
  const parts: readonly Part[] = ["static", "dynamic", "whole"];
  return parts.flatMap((part) => {
    const lines = due.done.filter((entry) => partOf(entry, due) === part);
    const passes = lines.filter(({ outcome }) => outcome === "passed");
    const candidates = passes.length > 0 ? passes : lines;
    if (candidates.some((entry) => endOf(entry) === null)) return [];
    return [...candidates].sort((a, b) => (endOf(b) ?? 0) - (endOf(a) ?? 0)).slice(0, 1);
  });
}

/** How a requirement's task was done as far as that is stated: by its lines, otherwise by the procedure. */
export function methodsOf({ requirement, done }: Due): ReadonlySet<Method> {
  const stated = done.flatMap(({ line }) => (line.method === undefined ? [] : [line.method]));
  const told = stated.filter((method) => method !== "unknown" && method !== "none");
  return new Set(told.length > 0 ? told : [requirement.method.value]);
}

export function isParked(due: Due): boolean {
  const methods = methodsOf(due);
  return methods.has("static") || methods.has("static-and-dynamic");
}

export function isDriven(due: Due): boolean {
  const methods = methodsOf(due);
  return methods.has("dynamic") || methods.has("static-and-dynamic");
}

/** Whether a line names the document that lets its task be left out. */
export function citesWaiver({ line }: Entry): boolean {
  return line.waiver !== undefined && line.waiver !== null && line.waiver.cite.trim() !== "";
}
