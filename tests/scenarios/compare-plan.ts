import type { ScenarioExpectation } from "./scenario.js";

/** The part of a plan that scenarios speak about. */
export interface ComparedPlan {
  readonly requirements: readonly ComparedRequirement[];
  readonly questions: readonly { readonly about: string; readonly settles?: readonly string[] }[];
  readonly impliedOperations: readonly {
    readonly action: string;
    readonly component: string;
    readonly certain: boolean;
  }[];
  readonly steps: readonly ComparedStep[];
  readonly contradictions: readonly unknown[];
  readonly unread: readonly { readonly operation: string }[];
  readonly claimed: readonly { readonly operation: string }[];
}

interface ComparedRequirement {
  readonly id: string;
  readonly sensor: string;
  readonly position: string | null;
  readonly standing: string;
  readonly couldRiseTo: string | null;
  readonly because: readonly {
    readonly operation?: string | null | undefined;
    readonly disturbance: string;
  }[];
  readonly holds: readonly { readonly id: string }[];
  readonly preconditions: readonly string[];
}

interface ComparedStep {
  readonly id: string;
  readonly stage: string;
  readonly requirement?: string | null | undefined;
  readonly after: readonly string[];
}

/** Says in one sentence each where a plan differs from what a scenario expects; empty where it does not. */
export function findDifferences(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  return [
    ...compareRequirements(plan, expected),
    ...compareNotDue(plan, expected),
    ...compareOnly(plan, expected),
    ...compareQuestions(plan, expected),
    ...compareImplied(plan, expected),
    ...(expected.order ?? []).flatMap(([first, second]) => compareOrder(plan.steps, first, second)),
    ...compareContradictions(plan, expected),
    ...missing("unread line", expected.unread, operationsOf(plan.unread)),
    ...missing("claimed line", expected.claimed, operationsOf(plan.claimed)),
  ];
}

function compareRequirements(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  return Object.entries(expected.requirements).flatMap(([id, wanted]) => {
    const found = plan.requirements.find((each) => each.id === id);
    if (found === undefined) return [`${id}: expected ${wanted.standing}, but the plan does not ask for it`];
    const differences: string[] = [];
    if (found.standing !== wanted.standing) {
      differences.push(`${id}: expected ${wanted.standing}, the plan says ${found.standing}`);
    }
    if (wanted.couldRiseTo !== undefined && found.couldRiseTo !== wanted.couldRiseTo) {
      differences.push(
        `${id}: expected that it ${riseOf(wanted.couldRiseTo)}, the plan says that it ${riseOf(found.couldRiseTo)}`,
      );
    }
    const holds = found.holds.map((each) => each.id);
    if (wanted.noHolds === true && holds.length > 0) {
      differences.push(`${id}: expected no hold, the plan holds it for ${holds.join(", ")}`);
    }
    const disturbances = found.because.map((each) => each.disturbance);
    return [
      ...differences,
      ...missing(`${id}: disturbance`, wanted.disturbances, disturbances),
      ...missing(`${id}: operation`, wanted.operations, operationsOf(found.because)),
      ...missing(`${id}: hold`, wanted.holds, holds),
      ...missing(`${id}: precondition`, wanted.preconditions, found.preconditions),
    ];
  });
}

function riseOf(standing: string | null): string {
  return standing === null ? "could not rise" : `could rise to ${standing}`;
}

function compareNotDue(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  return (expected.notDue ?? []).flatMap((name) => {
    const [sensor, position] = name.split(":");
    return plan.requirements
      .filter((each) => each.sensor === sensor && (position === undefined || each.position === position))
      .map((each) => `${each.id}: expected nothing for ${name}, the plan says ${each.standing}`);
  });
}

function compareOnly(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  if (expected.only !== true) return [];
  return plan.requirements
    .filter((each) => !Object.hasOwn(expected.requirements, each.id))
    .map((each) => `${each.id}: expected nothing beside what is listed, the plan says ${each.standing}`);
}

function compareQuestions(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  const deciding = plan.questions.filter(({ settles = [] }) => settles.length > 0);
  const most = expected.questionsAtMost ?? Infinity;
  return [
    ...missing(
      "open question about",
      expected.questionsAbout,
      plan.questions.map((each) => each.about),
    ),
    ...(deciding.length > most
      ? [`expected at most ${most} questions, the plan asks ${deciding.length}`]
      : []),
  ];
}

function compareImplied(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  return (expected.implied ?? []).flatMap((wanted) => {
    const found = plan.impliedOperations.filter(
      (each) => each.action === wanted.action && each.component === wanted.component,
    );
    const certainty = wanted.certain ? "certain" : "possible";
    // One part may be implied twice, once for certain: then it is certain.
    const isCertain = found.some((each) => each.certain);
    if (found.length > 0 && isCertain === wanted.certain) return [];
    const says = found.length === 0 ? "does not imply it" : `says ${isCertain ? "certain" : "possible"}`;
    return [`${wanted.action} ${wanted.component}: expected as implied, ${certainty}, the plan ${says}`];
  });
}

/**
 * A requirement may have an inspection early and its calibration late, so what counts is the last step of each.
 * The plan's order is partial: coming earlier in the list proves nothing, only `after` does.
 */
function compareOrder(steps: readonly ComparedStep[], first: string, second: string): readonly string[] {
  const before = lastStepOf(steps, first);
  const after = lastStepOf(steps, second);
  if (before === undefined) return [`order: the plan has no step for ${first}`];
  if (after === undefined) return [`order: the plan has no step for ${second}`];
  if (stepsBefore(steps, after).has(before.id)) return [];
  return [`order: expected ${first} (${before.id}) before ${second} (${after.id}), the plan leaves it open`];
}

function lastStepOf(steps: readonly ComparedStep[], name: string): ComparedStep | undefined {
  return steps
    .filter((each) => (name.includes("/") ? each.requirement === name : each.stage === name))
    .at(-1);
}

function stepsBefore(steps: readonly ComparedStep[], last: ComparedStep): ReadonlySet<string> {
  const byId = new Map(steps.map((each) => [each.id, each]));
  const seen = new Set<string>();
  const open = [...last.after];
  for (let id = open.pop(); id !== undefined; id = open.pop()) {
    if (seen.has(id)) continue;
    seen.add(id);
    open.push(...(byId.get(id)?.after ?? []));
  }
  return seen;
}

function compareContradictions(plan: ComparedPlan, expected: ScenarioExpectation): readonly string[] {
  const found = plan.contradictions.length;
  if (expected.contradictions === undefined || expected.contradictions === found) return [];
  return [`contradictions: expected ${expected.contradictions}, the plan lists ${found}`];
}

function operationsOf(
  entries: readonly { readonly operation?: string | null | undefined }[],
): readonly string[] {
  return entries.flatMap((each) => (typeof each.operation === "string" ? [each.operation] : []));
}

function missing(
  what: string,
  wanted: readonly string[] | undefined,
  found: readonly string[],
): readonly string[] {
  return (wanted ?? [])
    .filter((each) => !found.includes(each))
    .map(
      (each) =>
        `${what} ${each} is missing; the plan has ${found.length > 0 ? [...new Set(found)].join(", ") : "none"}`,
    );
}
