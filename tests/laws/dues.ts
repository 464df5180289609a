import type { Plan, Requirement } from "../../src/index.js";
import { STANDING_IDS, type Standing } from "../../src/vocabulary/index.js";

/** The requirements of a plan by their ids, one entry for each sensor that a device is listed under. */
export function duesOf(plan: Plan): ReadonlyMap<string, Requirement> {
  return new Map(plan.requirements.flatMap((due) => namesOf(due).map((name) => [name, due] as const)));
}

function namesOf({ id, task, alsoFor }: Requirement): readonly string[] {
  return [id, ...alsoFor.map((sensor) => `${sensor}/${task}`)];
}

/** Whether standing `a` is at least as strong as standing `b`. */
export function isAtLeast(a: Standing | null, b: Standing): boolean {
  return a !== null && STANDING_IDS.indexOf(a) <= STANDING_IDS.indexOf(b);
}

/** The strongest that a requirement is or could become. */
function reachOf(due: Requirement): Standing {
  return due.couldRiseTo ?? due.standing;
}

/** What is certain in the first plan and missing from the second, or weaker there; a sentence each. */
export function findWeakened(before: Plan, after: Plan): readonly string[] {
  return compareDues(before, after, (was, now) =>
    was.standing === "undetermined" || isAtLeast(now?.standing ?? null, was.standing)
      ? null
      : `${was.id} was ${was.standing} and is ${now?.standing ?? "gone"}`,
  );
}

/** What was in the first plan, surely or possibly, and is not even possible to the same strength in the second. */
export function findNoLongerPossible(before: Plan, after: Plan): readonly string[] {
  return compareDues(before, after, (was, now) => {
    if (now === undefined) return `${was.id} was ${was.standing} and is gone`;
    if (!isAtLeast(reachOf(now), reachOf(was))) {
      return `${was.id} could be ${reachOf(was)} and can be no more than ${reachOf(now)}`;
    }
    const isOpen = !isAtLeast(now.standing, was.standing);
    return isOpen && now.questions.length === 0 ? `${was.id} is open, but nothing is asked` : null;
  });
}

/** Compares each requirement of one plan with the strongest of those that it became in the other. */
function compareDues(
  before: Plan,
  after: Plan,
  judge: (was: Requirement, now: Requirement | undefined) => string | null,
): readonly string[] {
  const later = duesOf(after);
  return before.requirements.flatMap((was) => {
    const became = namesOf(was).flatMap((name) => later.get(name) ?? []);
    const verdicts = became.length === 0 ? [judge(was, undefined)] : became.map((now) => judge(was, now));
    const isKept = verdicts.includes(null);
    return isKept ? [] : verdicts.flatMap((verdict) => verdict ?? []).slice(0, 1);
  });
}
