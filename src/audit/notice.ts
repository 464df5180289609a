import { isMadeGood, isKnownEarlier, proofsOfVehicle, timeOf, type Case, type Due } from "./case.js";
import { judgeDue } from "./coverage.js";
import { aboutRequirement, listWords, makeFinding, nameTask, type Draft } from "./finding.js";
import { hasFailed } from "./results.js";

/**
 * A vehicle that was released with a requirement open or failed and without a written notice before that. Open is what is
 * due and was neither done nor waived by a document, and an inspection that is missing or failed; what stays undecided is
 * not known to be due. One notice answers for all, so there is one finding.
 */
export function findMissingNotice(audited: Case): readonly Draft[] {
  const { released } = audited.submitted;
  if (released === undefined) return [];
  const isInTime = (at: number | null): boolean => !isKnownEarlier(timeOf(released), at);
  if (proofsOfVehicle("customer-notice", audited).some(({ at }) => isInTime(at))) return [];
  const open = audited.dues.filter((due) => isOpen(due, audited));
  const [only, second] = open;
  if (only === undefined) return [];
  const tasks = open.map(({ requirement }) => nameTask(requirement));
  return [
    makeFinding("customer-notice-missing", second === undefined ? aboutRequirement(only.requirement) : {}, {
      says: `The vehicle was released at ${released} with this open or failed: ${listWords(tasks, "and")}. No record shows a written notice to the customer before that.`,
      because: open.map(({ requirement }) => requirement.id),
      resolvedBy:
        "The written notice of what stays open and which functions may be degraded, or the tasks with their results.",
    }),
  ];
}

function isOpen(due: Due, audited: Case): boolean {
  switch (judgeDue(due, audited)) {
    case "missing":
    case "waiver-uncited":
    case "inspection-failed":
    case "not-inspected":
      return true;
    case "answered":
      return due.done.some((entry) => hasFailed(entry) && !isMadeGood(entry, { ...audited, dues: [due] }));
    case "inspected":
    case "waived":
    case "undecided":
      return false;
  }
}
