import type { Submitted, SubmittedLine, SubmittedRecord } from "../../src/audit/index.js";
import type { Plan, Requirement } from "../../src/index.js";
import {
  type EvidenceId,
  type HoldId,
  type Method,
  type PreconditionId,
} from "../../src/vocabulary/index.js";

/** Has the check digit of 49 CFR 565.15 (all ones: 89 ones weighed, remainder 1); no vehicle of any maker. */
export const VIN = "11111111111111111";

/** Hours from the beginning of the job, as a time. */
export function hour(count: number): string {
  const day = 1 + Math.floor(count / 24);
  const two = (value: number): string => String(value).padStart(2, "0");
  return `2026-03-${two(day)}T${two(count % 24)}:00:00Z`;
}

/** Records about one sensor's own result, which name the sensor. */
const OF_ONE_SENSOR: readonly EvidenceId[] = [
  "calibration-record",
  "setup-record",
  "function-check",
  "film-thickness",
  "part-identification",
  "inspection",
  "drive-log",
];

/** What the audit's table asks to be on record of each precondition, whatever else the plan lists. */
const MEASURED: readonly (readonly [PreconditionId, EvidenceId])[] = [
  ["alignment-in-spec", "wheel-alignment"],
  ["ride-height-in-range", "ride-height"],
  ["tyre-pressure-set", "tyre-pressure"],
  ["tyres-correct", "tyre-pressure"],
  ["film-thickness-in-range", "film-thickness"],
  ["floor-level", "floor-survey"],
];

/** One record that shows each hold cleared. */
const CLEARED: Readonly<Record<HoldId, EvidenceId>> = {
  "filler-in-radar-window": "part-identification",
  "reconditioned-cover-over-radar": "part-identification",
  "unapproved-part": "part-identification",
  "recycled-sensor-not-configured": "part-identification",
  "camera-bracket-rebonded": "part-identification",
  "film-too-thick": "film-thickness",
  "ride-height-out": "ride-height",
  "wheel-alignment-out": "wheel-alignment",
  "structural-measurement-out": "structural-measurement",
  "unrelated-fault-codes": "pre-calibration-scan",
  "sensor-bracket-bent": "part-identification",
  "tyres-mixed": "tyre-pressure",
  "battery-voltage-low": "battery-support",
  "sensor-damaged": "part-identification",
  "adhesive-not-cured": "adhesive-cure",
  "windshield-damage-in-view": "part-identification",
  "mount-inspection-first": "inspection",
  "configure-first": "pre-calibration-scan",
  "ride-height-modified": "ride-height",
  "tyre-size-not-approved": "tyre-pressure",
  "view-obstructed": "inspection",
};

/** A work record of a job that was done as planned: every task, in order, with every record, and none to spare. */
export function submittedFromPlan(plan: Plan): Submitted {
  const slots = new Map(plan.steps.map(({ id }, index) => [id, 2 + 2 * index]));
  const end = 2 + 2 * plan.steps.length;
  const lines = plan.requirements.map((requirement) => lineOf(requirement, plan, slots));
  const before = hour(0);
  const records = new Map<string, SubmittedRecord>();
  const add = (kind: EvidenceId, at: string, { sensor, position }: Partial<Requirement> = {}): void => {
    const isOwn = OF_ONE_SENSOR.includes(kind) && sensor !== undefined;
    const place = isOwn ? { sensor, position: position ?? null } : {};
    const key = JSON.stringify([kind, place]);
    const vin = kind === "calibration-record" ? { vin: VIN } : {};
    records.set(key, { kind, at, result: "passed", ...place, ...vin });
  };
  for (const requirement of plan.requirements) {
    for (const kind of kindsFor(requirement)) add(kind, before, requirement);
  }
  for (const { stage, onlyIf } of plan.steps) {
    if ((stage === "pre-repair-scan" || stage === "post-repair-scan") && onlyIf === null) add(stage, before);
  }
  return {
    schema: "repair-calibration/submitted@1",
    document: "work-record",
    reference: plan.reference,
    vin: VIN,
    released: hour(end + 6),
    lines,
    records: [...records.values()].map((record) => ({ ...record, at: timeOf(record.kind, end) })),
  };
}

function timeOf(kind: EvidenceId, end: number): string {
  if (kind === "road-test" || kind === "drive-log") return hour(end + 1);
  return hour(kind === "post-repair-scan" ? end + 2 : 0);
}

function lineOf(requirement: Requirement, plan: Plan, slots: ReadonlyMap<string, number>): SubmittedLine {
  const own = plan.steps
    .filter(({ id }) => id === requirement.id || id.startsWith(`${requirement.id}/`))
    .map(({ id }) => slots.get(id) ?? 0);
  const { id, sensor, position, task } = requirement;
  const pack = plan.procedures.find((each) => each.id === requirement.procedure?.pack);
  return {
    id: `S-${id}`,
    sensor,
    position,
    task,
    ...(task === "calibration" ? { method: methodOf(requirement) } : {}),
    started: hour(Math.min(...own)),
    finished: hour(Math.max(...own) + 1),
    result: "passed",
    ...(pack === undefined ? {} : { procedure: { cite: pack.cite, issued: pack.issued } }),
    performedBy: { person: "Ada Lind", equipment: "frame 3" },
  };
}

/** Where the procedure leaves the choice, or is not known, the vehicle stood. */
function methodOf({ method: { value } }: Requirement): Method {
  return value === "dynamic" || value === "static-and-dynamic" ? value : "static";
}

/** The records that a task asks for once it was done as its line says. */
function kindsFor(requirement: Requirement): ReadonlySet<EvidenceId> {
  const { task, preconditions, evidence, holds } = requirement;
  const method = methodOf(requirement);
  const isCalibration = task === "calibration";
  const stood = !isCalibration || method !== "dynamic";
  const drove = isCalibration && method !== "static";
  const kinds = new Set<EvidenceId>(holds.map(({ id }) => CLEARED[id]));
  for (const kind of evidence) {
    if (kind === "customer-notice" || kind === "drive-log") continue;
    if (!stood && (kind === "setup-record" || kind === "floor-survey")) continue;
    kinds.add(kind);
  }
  for (const [precondition, kind] of MEASURED) {
    if (preconditions.includes(precondition) && (stood || kind !== "floor-survey")) kinds.add(kind);
  }
  const isOpen = requirement.method.procedure === null;
  if (isCalibration && stood && isOpen && preconditions.includes("targets-verified"))
    kinds.add("setup-record");
  if (drove) kinds.add("drive-log");
  const provesThrust = (["wheel-alignment", "setup-record", "road-test"] as const).some((kind) =>
    kinds.has(kind),
  );
  if (preconditions.includes("thrust-angle-in-range") && stood && !provesThrust) kinds.add("wheel-alignment");
  return kinds;
}
