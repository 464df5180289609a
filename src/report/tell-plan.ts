import type { Plan } from "../plan/index.js";
import {
  EVIDENCE_IDS,
  INSPECTION_IDS,
  STANDING_IDS,
  type EvidenceId,
  type InspectionId,
  type Standing,
} from "../vocabulary/index.js";
import { count } from "./words.js";

/** Whether a question is open, and what that means. */
export function outcomeOf(plan: Plan): string {
  switch (plan.outcome) {
    case "complete":
      return "Complete as far as rules and stated facts go: no question is open.";
    case "needs-answers":
      return `Needs answers: ${count(plan.questions.length, "question")} open. Until then the list below can still grow or firm up.`;
  }
}

/** How much is due, by standing. */
export function dueOf(plan: Plan): string {
  const parts = STANDING_IDS.flatMap((standing) => {
    const number = plan.requirements.filter((each) => each.standing === standing).length;
    return number === 0 ? [] : [`${number} ${SHORT[standing]}`];
  });
  if (parts.length > 0) return `${parts.join(", ")}.`;
  return plan.outcome === "complete"
    ? "Nothing, as far as rules and stated facts go."
    : "Nothing so far, and the open questions can change that.";
}

const SHORT: Readonly<Record<Standing, string>> = {
  required: "required",
  presumed: "presumed",
  "inspect-first": "to be inspected first",
  undetermined: "not decided",
};

/** Something that several requirements need, with their ids. */
export interface Needed<Id> {
  readonly id: Id;
  readonly requirements: readonly string[];
}

/** The inspections of a plan, each once. */
export function inspectionsOf({ requirements }: Plan): readonly Needed<InspectionId>[] {
  return gatherNeeded(
    INSPECTION_IDS,
    requirements.map(({ id, inspection }) => [id, (inspection ?? []).map((each) => each.id)]),
  );
}

/** The records to keep, each once. */
export function recordsOf({ requirements }: Plan): readonly Needed<EvidenceId>[] {
  return gatherNeeded(
    EVIDENCE_IDS,
    requirements.map(({ id, evidence }) => [id, evidence]),
  );
}

function gatherNeeded<Id>(
  ids: readonly Id[],
  needs: readonly (readonly [requirement: string, needed: readonly Id[]])[],
): readonly Needed<Id>[] {
  return ids.flatMap((id) => {
    const requirements = needs
      .filter(([, needed]) => needed.includes(id))
      .map(([requirement]) => requirement);
    return requirements.length === 0 ? [] : [{ id, requirements }];
  });
}

/** Step numbers, runs of three and more drawn together: "3, 5 to 8". */
export function joinNumbers(numbers: readonly number[]): string {
  const runs: { readonly first: number; last: number }[] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run.last === number - 1) run.last = number;
    else runs.push({ first: number, last: number });
  }
  return runs
    .map(({ first, last }) =>
      first === last ? String(first) : last === first + 1 ? `${first}, ${last}` : `${first} to ${last}`,
    )
    .join(", ");
}

/** Why nothing is asked of a sensor, in the order in which that is worth reading. */
export const NOT_INDICATED: readonly (readonly [Plan["notIndicated"][number]["reason"], string])[] = [
  ["no-rule-asks-for-it", "Fitted, and no rule asks for it"],
  ["fitment-unknown-but-no-rule-asks-for-it", "Not known whether fitted, and no rule would ask for it"],
  ["not-fitted", "Not fitted"],
];

/** Whether a procedure pack bore on the plan. */
export const APPLIES = {
  yes: "applied",
  no: "not for this vehicle, left aside",
  unknown: "not known whether it is for this vehicle, left aside",
} as const;
