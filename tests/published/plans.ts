import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import {
  loadProcedures,
  loadRulebook,
  planCalibrations,
  type Job,
  type LoadedProcedures,
  type Plan,
  type PlanStep,
} from "../../src/index.js";
import { readScenarios } from "../scenarios/scenario.js";

const folder = (path: string): string => fileURLToPath(new URL(`../../${path}`, import.meta.url));
const readJson = (path: string): unknown => JSON.parse(readFileSync(folder(path), "utf8"));

export const rulebook = loadRulebook();

/** Every work order of the scenarios, by its name. */
export const jobs: readonly (readonly [name: string, job: Job])[] = readScenarios(
  folder("tests/scenarios"),
).map(
  // The library checks the job itself.
  ({ name, scenario }) => [name, scenario.job as Job],
);

/** The invented maker's procedures of the demonstration: with them, calibrations have methods. */
export const procedures: readonly LoadedProcedures[] = ["norrvik-fjell", "norrvik-skare", "norrvik-tind"].map(
  (id) => loadProcedures(readJson(`docs/demo/procedures/${id}.json`)),
);

/** The plan of every work order, once by general rules and once with the invented maker's procedures. */
export const plans: readonly (readonly [name: string, plan: Plan, job: Job])[] = jobs.flatMap(
  ([name, job]) => [
    [name, planCalibrations(job, { rulebook }), job] as const,
    [`${name}, with a maker's procedures`, planCalibrations(job, { rulebook, procedures }), job] as const,
  ],
);

/** Tells whether a step is done before another on every line that the plan's partial order allows. */
export function orderOf(plan: Plan): (earlier: PlanStep, later: PlanStep) => boolean {
  const byId = new Map(plan.steps.map((step) => [step.id, step]));
  const before = new Map<string, ReadonlySet<string>>();
  const allBefore = (id: string): ReadonlySet<string> => {
    const ready = before.get(id);
    if (ready !== undefined) return ready;
    const found = new Set((byId.get(id)?.after ?? []).flatMap((each) => [each, ...allBefore(each)]));
    before.set(id, found);
    return found;
  };
  return (earlier, later) => allBefore(later.id).has(earlier.id);
}

/** A work order on which nothing was stated but what the test gives. */
export function jobOf(operations: Job["operations"], rest: Partial<Job> = {}): Job {
  return {
    schema: "repair-calibration/job@1",
    reference: "RO-1",
    vehicle: { make: "Norrvik", model: "Skare", equipmentComplete: true },
    operations,
    ...rest,
  };
}

/** Findings that were looked for and not made, so that none of them is an open question. */
export const NOTHING_FOUND: NonNullable<Job["findings"]> = {
  impactZones: [],
  impactWheels: [],
  airbagsDeployed: false,
  structuralDamage: false,
  faultCodes: [],
  sensorDamage: [],
  tyreSizesMatch: "yes",
  rideHeightChange: { front: 0, rear: 0 },
};
