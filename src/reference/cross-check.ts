import { InputError } from "../errors.js";
import type { Job } from "../job/index.js";
import type { Plan } from "../plan/index.js";
import { planCalibrations, type PlanOptions } from "../plan-calibrations.js";
import {
  decideByReference,
  type ReferenceDecision,
  type ReferenceOperation,
  type ReferenceRequirement,
} from "./decide.js";
import { keyOfPlace } from "../vocabulary/index.js";

/** Whether two ways of deciding on one job agree; where not, each difference as a sentence. */
export interface CrossCheck {
  readonly agrees: boolean;
  readonly differences: readonly string[];
}

/**
 * Plans a job, decides on it again by json-rules-engine, and compares the two.
 *
 * Throws `InputError` where both refuse the job or its packs.
 */
export async function crossCheck(job: Job, options: PlanOptions): Promise<CrossCheck> {
  const plan = attempt(() => planCalibrations(job, options));
  const reference = await decideByReference(job, options).catch(refusalOf);
  if (plan instanceof InputError && reference instanceof InputError) throw plan;
  const differences = describeDifferences(plan, reference);
  return { agrees: differences.length === 0, differences };
}

function attempt<T>(make: () => T): T | InputError {
  try {
    return make();
  } catch (error) {
    return refusalOf(error);
  }
}

function refusalOf(error: unknown): InputError {
  if (error instanceof InputError) return error;
  throw error;
}

function describeDifferences(
  plan: Plan | InputError,
  reference: ReferenceDecision | InputError,
): readonly string[] {
  if (plan instanceof InputError) return [`The plan refuses what the reference decides on: ${plan.message}`];
  if (reference instanceof InputError) return [`The reference refuses what is planned: ${reference.message}`];
  return compareDecisions(readDecision(plan), reference);
}

/** What a plan decides, in the shape of the second opinion. */
export function readDecision(plan: Plan): ReferenceDecision {
  return {
    requirements: plan.requirements
      .map((each): ReferenceRequirement => {
        const rules = new Map<string, boolean>();
        for (const { rule, certain } of each.because) {
          rules.set(rule, certain || rules.get(rule) === true);
        }
        return {
          id: each.id,
          standing: each.standing,
          couldRiseTo: each.couldRiseTo,
          rules: [...rules].map(([id, certain]) => ({ id, certain })).sort((a, b) => (a.id < b.id ? -1 : 1)),
          disturbances: uniqueWords(each.because.map(({ disturbance }) => disturbance)),
          holds: uniqueWords(each.holds.map(({ id }) => id)),
          preconditions: uniqueWords(each.preconditions),
          evidence: uniqueWords(each.evidence),
        };
      })
      .sort((a, b) => (a.id < b.id ? -1 : 1)),
    implied: plan.impliedOperations.map(
      ({ action, component, side, axle, sensor, position, certain }): ReferenceOperation => ({
        action,
        component,
        side,
        axle,
        sensor,
        position,
        certain,
      }),
    ),
    waived: plan.waived.map(({ sensor, position, task, by, waives }) => ({
      id: `${keyOfPlace(sensor, position)}/${task}`,
      rule: by.rule,
      waives: uniqueWords(waives),
    })),
  };
}

function uniqueWords<T extends string>(words: readonly T[]): readonly T[] {
  return [...new Set(words)].sort();
}

/** Compares two decisions on one job; each difference is a sentence, in a stable order. */
export function compareDecisions(plan: ReferenceDecision, reference: ReferenceDecision): readonly string[] {
  const planned = new Map(plan.requirements.map((each) => [each.id, each]));
  const referred = new Map(reference.requirements.map((each) => [each.id, each]));
  const ids = uniqueWords([...planned.keys(), ...referred.keys()]);
  return [
    ...ids.flatMap((id) => compareRequirement(id, planned.get(id), referred.get(id))),
    ...compareLists(
      "implied operation",
      plan.implied.map((each) => describeOperation(each)),
      reference.implied.map((each) => describeOperation(each)),
    ),
    ...compareLists(
      "exception",
      plan.waived.map(({ id, rule, waives }) => `${rule} for ${id}, of ${waives.join(", ")}`),
      reference.waived.map(({ id, rule, waives }) => `${rule} for ${id}, of ${waives.join(", ")}`),
    ),
  ];
}

function compareRequirement(
  id: string,
  plan: ReferenceRequirement | undefined,
  reference: ReferenceRequirement | undefined,
): readonly string[] {
  if (plan === undefined)
    return [`${id}: the reference asks for it (${describe(reference)}), the plan does not.`];
  if (reference === undefined)
    return [`${id}: the plan asks for it (${describe(plan)}), the reference does not.`];
  const aspects: readonly (readonly [string, (each: ReferenceRequirement) => string])[] = [
    ["standing", (each) => each.standing],
    ["standing that it could rise to", (each) => each.couldRiseTo ?? "none"],
    [
      "rules",
      (each) => each.rules.map((rule) => `${rule.id}${rule.certain ? "" : " (possibly)"}`).join(", "),
    ],
    ["disturbances", (each) => each.disturbances.join(", ")],
    ["holds", (each) => each.holds.join(", ")],
    ["preconditions", (each) => each.preconditions.join(", ")],
    ["evidence", (each) => each.evidence.join(", ")],
  ];
  return aspects.flatMap(([name, read]) => {
    const [ours, theirs] = [read(plan), read(reference)];
    if (ours === theirs) return [];
    return [`${id}: the ${name}: the plan says "${ours}", the reference "${theirs}".`];
  });
}

function describe(requirement: ReferenceRequirement | undefined): string {
  return requirement === undefined
    ? ""
    : `${requirement.standing}, by ${requirement.rules.map(({ id }) => id).join(", ")}`;
}

function describeOperation(operation: ReferenceOperation): string {
  const { action, component, side, axle, sensor, position, certain } = operation;
  const words = [certain ? "surely" : "possibly", action, component, side, axle, sensor, position];
  return words.filter((word) => word !== null).join(" ");
}

/** Compares two lists in which the same entry may stand more than once. */
function compareLists(
  name: string,
  plan: readonly string[],
  reference: readonly string[],
): readonly string[] {
  const count = (list: readonly string[], entry: string): number =>
    list.filter((each) => each === entry).length;
  return uniqueWords([...plan, ...reference]).flatMap((entry) => {
    const [ours, theirs] = [count(plan, entry), count(reference, entry)];
    if (ours === theirs) return [];
    return [`The ${name} "${entry}" stands ${ours} times in the plan, ${theirs} times in the reference.`];
  });
}
