import { METHODS, type Method } from "../vocabulary/index.js";
import { methodsOf, type Case, type Due, type Entry } from "./case.js";
import { aboutRequirement, chainOf, makeFinding, nameTask, type Draft } from "./finding.js";

/**
 * Lines done in another way than the procedure says. Only a method that a procedure states and one that a line states
 * are compared. A task with a parked and a driven part may be split over lines; where parked or driven may be chosen,
 * both suit, together too.
 */
export function findMismatches({ dues }: Case): readonly Draft[] {
  return dues.flatMap((due) => {
    const asked = due.requirement.method;
    if (asked.procedure === null) return [];
    const together = methodsOf(due);
    // A line that does not say how it was done may have been the other part.
    const isTold = due.done.every(({ line }) => isWay(line.method));
    return due.done
      .filter(({ line }) => isWay(line.method) && !suits(line.method, asked.value, isTold ? together : null))
      .map((entry) => makeMismatch(due, entry));
  });
}

function isWay(method: Method | undefined): method is Method {
  return method !== undefined && method !== "unknown" && method !== "none";
}

/** Whether a line's method suits the one asked for; `together` is null where other lines leave it open. */
function suits(method: Method, asked: Method, together: ReadonlySet<Method> | null): boolean {
  switch (asked) {
    case "static":
    case "dynamic":
      return method === asked;
    case "static-and-dynamic":
      if (method === asked) return true;
      if (method === "static-or-dynamic") return false;
      return together === null || together.has(asked) || (together.has("static") && together.has("dynamic"));
    case "static-or-dynamic":
    case "none":
    case "unknown":
      return true;
  }
}

function makeMismatch({ requirement }: Due, entry: Entry): Draft {
  const { method } = requirement;
  const asked = METHODS[method.value].label;
  const source = [method.source?.cite, method.source?.section].flatMap((each) => each ?? []).join(", ");
  return makeFinding("method-mismatch", aboutRequirement(requirement, entry), {
    says: `Line ${entry.line.id} states ${METHODS[entry.line.method ?? "unknown"].label} for the ${nameTask(requirement)}; the procedure ${method.procedure ?? ""} (${source}) says ${asked}.`,
    because: [
      ...chainOf(requirement),
      entry.line.id,
      ...(method.procedure === null ? [] : [method.procedure]),
    ],
    resolvedBy: `A record that it was done as ${asked}, or the maker's document that allows the method stated.`,
  });
}

/** Lines that cite a procedure of an earlier date than the pack's in use. */
export function findSuperseded({ dues, plan }: Case): readonly Draft[] {
  return dues.flatMap(({ requirement, done }) => {
    const pack = plan.procedures.find(({ id }) => id === requirement.procedure?.pack);
    if (pack === undefined) return [];
    return done.flatMap((entry) => {
      const { procedure } = entry.line;
      // Dates of this form compare as text.
      if (procedure?.issued === undefined || procedure.issued >= pack.issued) return [];
      return [
        makeFinding("procedure-superseded", aboutRequirement(requirement, entry), {
          says: `Line ${entry.line.id} cites a procedure of ${procedure.issued} for the ${nameTask(requirement)}; the one at hand, ${pack.cite}, is of ${pack.issued}.`,
          because: [requirement.id, entry.line.id, pack.id],
          resolvedBy: "A statement that the step is the same in both issues, or the task by the current one.",
        }),
      ];
    });
  });
}
