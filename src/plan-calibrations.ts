import { causeOfOperation, causesOfFindings, readJobFacts, readVehicle } from "./facts/index.js";
import { compileRulebook, drawConclusions } from "./inference/index.js";
import { readJob, type Job } from "./job/index.js";
import { buildPlan, type Plan, type PlanInput } from "./plan/index.js";
import { appliesTo, filmLimitOf, layerProcedures, type LoadedProcedures } from "./procedures/index.js";
import type { Rulebook } from "./rulebook/index.js";
import { CLAIM_ACTIONS, componentOf } from "./vocabulary/index.js";

/** What a plan is made with. */
export interface PlanOptions {
  readonly rulebook: Rulebook;
  /** Maker procedures; those that do not apply to the vehicle are listed and left aside. */
  readonly procedures?: readonly LoadedProcedures[] | undefined;
}

/**
 * Works out which calibrations, resets, aims and checks a repair makes due, and why.
 *
 * `job` is a work order of the form `repair-calibration/job@1`. Throws `InputError` where the job is refused
 * (kind "input") or where packs contradict one another (kind "rule-pack" or "procedure-pack").
 */
export function planCalibrations(job: Job, options: PlanOptions): Plan {
  return buildPlan(deriveJob(job, options));
}

/** Everything up to the plan: the job read, the facts drawn, the conclusions derived. */
export function deriveJob(input: Job, options: PlanOptions): PlanInput {
  const read = readJob(input);
  const { job } = read;
  const procedures = [...(options.procedures ?? [])].sort((a, b) => compareText(a.pack.id, b.pack.id));
  const applicable = procedures.filter(({ pack }) => appliesTo(pack, job.vehicle, read.modelYears) === "yes");
  const program = compileRulebook(layerProcedures(options.rulebook, applicable));
  const vehicle = readVehicle(job);
  const causes = [
    ...job.operations.flatMap((operation, index) =>
      isClaim(operation.action) || componentOf(operation.component) === "other"
        ? []
        : [causeOfOperation(operation, `/operations/${index}`)],
    ),
    ...causesOfFindings(job.findings ?? {}, filmLimitOf(applicable)),
  ];
  const facts = readJobFacts(job, vehicle, causes);
  const derivation = drawConclusions(program, {
    job: facts,
    sensors: vehicle.sensors,
    causes,
    findings: job.findings ?? {},
  });
  return { read, vehicle, program, derivation, procedures, applicable, causes };
}

function isClaim(action: string): boolean {
  return (CLAIM_ACTIONS as readonly string[]).includes(action);
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
