import { endOf, startOf, timeOf, type Case, type Due, type Entry } from "./case.js";
import { aboutLine, makeFinding, nameTask, type Draft } from "./finding.js";
import { disturbingOperations } from "./order.js";
import { hasFailed } from "./results.js";

/**
 * Lines of a task that another line has already: the same places, or some of them. No duplicate is
 * - a repeat after a line that failed or was aborted, and that line itself;
 * - a repeat after an operation that disturbed the sensor and was completed between the two;
 * - the parked and the driven part of one task on two lines.
 */
export function findDuplicates(audited: Case): readonly Draft[] {
  const lines = audited.entries.filter((entry) => entry.outcome !== "not-done" && !hasFailed(entry));
  const inTime = [...lines].sort((a, b) => compare(endOf(a), endOf(b)) || (a.line.id < b.line.id ? -1 : 1));
  return inTime.flatMap((entry, index) => {
    const first = inTime.slice(0, index).find((each) => isSameTask(each, entry, audited));
    if (first === undefined) return [];
    return [
      makeFinding("duplicate-line", aboutLine(entry, audited.dues), {
        says: `Lines ${first.line.id} and ${entry.line.id} both list the ${nameTask(entry.line)}, and nothing on record calls for a repeat.`,
        because: [first.line.id, entry.line.id],
        resolvedBy: "A record of why it was done twice, or one line for it.",
      }),
    ];
  });
}

/** Lines without a time come last. */
function compare(a: number | null, b: number | null): number {
  if (a === null || b === null) return Number(a === null) - Number(b === null);
  return a - b;
}

function isSameTask(first: Entry, second: Entry, { dues, job }: Case): boolean {
  const isWithin = (inner: Entry, outer: Entry): boolean =>
    [...inner.keys].every((key) => outer.keys.has(key));
  if (first.line.task !== second.line.task) return false;
  if (!isWithin(first, second) && !isWithin(second, first)) return false;
  if (isOtherPart(first, second)) return false;
  const shared = dues.filter(
    ({ requirement }) => first.keys.has(requirement.id) && second.keys.has(requirement.id),
  );
  return !shared.some((due) => isBetween(first, second, due, job));
}

/** One line parked and one driven are not the same work, whether the procedure asks for both or not. */
function isOtherPart({ line: first }: Entry, { line: second }: Entry): boolean {
  const methods = new Set([first.method, second.method]);
  return methods.has("static") && methods.has("dynamic");
}

function isBetween(first: Entry, second: Entry, due: Due, job: Case["job"]): boolean {
  const [from, to] = [endOf(first), endOf(second)];
  if (from === null) return false;
  const operations = new Set(disturbingOperations(due));
  return job.operations.some(({ id, completedAt }) => {
    const at = timeOf(completedAt);
    return operations.has(id) && at !== null && at > from && (to === null || at <= to);
  });
}

/** Lines that name neither a person nor a firm: equipment alone answers for nothing. */
export function findUnnamed({ entries, dues }: Case): readonly Draft[] {
  return entries
    .filter((entry) => entry.outcome !== "not-done" && !isNamed(entry))
    .map((entry) =>
      makeFinding("performer-missing", aboutLine(entry, dues), {
        says: `Line ${entry.line.id}, ${nameTask(entry.line)}, names neither a person nor a firm that did it.`,
        because: [entry.line.id],
        resolvedBy: "Who did it: the person, or the firm to which it was sublet, with the equipment used.",
      }),
    );
}

function isNamed({ line: { performedBy } }: Entry): boolean {
  return [performedBy?.person, performedBy?.firm].some((name) => (name ?? "").trim() !== "");
}

/**
 * Two parked tasks at one time: a vehicle stands before one set of targets at a time, unless both lines name the same
 * stand. Lines in which a drive is included don't say when the vehicle stood.
 */
export function findOverlaps({ entries, dues }: Case): readonly Draft[] {
  const parked = entries.filter((entry) => entry.outcome !== "not-done" && entry.line.method === "static");
  const inTime = parked
    .flatMap((entry) => (entry.from === null || entry.to === null ? [] : [entry]))
    .sort((a, b) => compare(startOf(a), startOf(b)) || (a.line.id < b.line.id ? -1 : 1));
  return inTime.flatMap((second, index) =>
    inTime
      .slice(0, index)
      .filter((first) => isAtOneTime(first, second) && !isOneStand(first, second))
      .map((first) =>
        makeFinding("overlapping-lines", aboutLine(second, dues), {
          says: `Lines ${first.line.id} and ${second.line.id} are both parked work at one time, and name no shared set-up.`,
          because: [first.line.id, second.line.id],
          resolvedBy: "The set-up that both were done from, or records of other times.",
        }),
      ),
  );
}

function isAtOneTime(first: Entry, second: Entry): boolean {
  return (startOf(second) ?? 0) < (endOf(first) ?? 0) && (startOf(first) ?? 0) < (endOf(second) ?? 0);
}

function isOneStand({ line: first }: Entry, { line: second }: Entry): boolean {
  return first.setUp !== undefined && first.setUp === second.setUp;
}
