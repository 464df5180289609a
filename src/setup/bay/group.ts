/** Steps put together, each step by its index; the groups follow each other. */
export interface Grouping {
  readonly groups: readonly (readonly number[])[];
  /** False where the search was cut short, so that fewer groups may be possible. */
  readonly isLeast: boolean;
}

/** How many states the search looks at before it is content with what it has; ten steps have no more. */
const STATES = 1024;

/**
 * Puts steps together in as few groups as there can be, the first steps first where nothing else decides.
 *
 * `waitsFor` has for each step those that must be in the same group or in an earlier one; they form no circle. `accepts`
 * says whether steps can form a group: each step alone can, and what can form a group can without some of its members.
 */
export function groupSteps(
  waitsFor: readonly (readonly number[])[],
  accepts: (members: readonly number[]) => boolean,
): Grouping {
  const count = waitsFor.length;
  const dependants = waitsFor.map((_, step) => setOf(dependantsOf(step, waitsFor)));
  const accepted = new Map<bigint, boolean>();
  const conflicts: bigint[] = [];
  const best = new Map<bigint, readonly bigint[]>();
  let isLeast = true;

  const isAccepted = (set: bigint): boolean => {
    const known = accepted.get(set);
    if (known !== undefined) return known;
    const answer =
      !conflicts.some((conflict) => (conflict & set) === conflict) && accepts(membersOf(set, count));
    accepted.set(set, answer);
    return answer;
  };

  /** Some of the set that cannot form a group together while all but any one of them can; rather the first. */
  const findConflict = (set: bigint): bigint => {
    const known = conflicts.find((each) => (each & set) === each);
    if (known !== undefined) return known;
    let conflict = set;
    for (const step of membersOf(set, count).reverse()) {
      const without = conflict & ~bit(step);
      if (without !== 0n && !isAccepted(without)) conflict = without;
    }
    conflicts.push(conflict);
    return conflict;
  };

  /**
   * Every group that can come next and to which nothing can be added (and some others). Whatever can come next lacks
   * some member of each conflict, and all that wait for that member.
   */
  function* listFirst(set: bigint, seen: Set<bigint>): Generator<bigint> {
    if (set === 0n || seen.has(set)) return;
    seen.add(set);
    if (isAccepted(set)) {
      yield set;
      return;
    }
    // The last are left out first, so that the first group has the first steps.
    for (const step of membersOf(findConflict(set), count).reverse()) {
      yield* listFirst(set & ~(dependants[step] ?? 0n), seen);
    }
  }

  const divide = (rest: bigint): readonly bigint[] => {
    if (rest === 0n) return [];
    const known = best.get(rest);
    if (known !== undefined) return known;
    const least = isAccepted(rest) ? 1 : 2;
    let found: readonly bigint[] | null = null;
    for (const first of listFirst(rest, new Set())) {
      const groups = [first, ...divide(rest & ~first)];
      if (found === null || groups.length < found.length) found = groups;
      if (found.length <= least) break;
      if (best.size >= STATES) {
        isLeast = false;
        break;
      }
    }
    if (found === null) throw new RangeError("the steps wait for each other in a circle");
    best.set(rest, found);
    return found;
  };

  const all = waitsFor.reduce((set, _, step) => set | bit(step), 0n);
  const groups = divide(all).map((set) => membersOf(set, count));
  return { groups: inOrder(groups, waitsFor), isLeast };
}

/** The same groups, each time the one with the first step of those that can come next. */
function inOrder(
  groups: readonly (readonly number[])[],
  waitsFor: readonly (readonly number[])[],
): readonly (readonly number[])[] {
  const done = new Set<number>();
  const left = [...groups].sort(([one = 0], [other = 0]) => one - other);
  return groups.map((group) => {
    const index = left.findIndex((each) =>
      each.every((step) => waitsFor[step]?.every((before) => done.has(before) || each.includes(before))),
    );
    const [next = group] = left.splice(Math.max(0, index), 1);
    for (const step of next) done.add(step);
    return next;
  });
}

/** A step with all that have to wait for it. */
function dependantsOf(step: number, waitsFor: readonly (readonly number[])[]): ReadonlySet<number> {
  const found = new Set([step]);
  for (const each of found) {
    waitsFor.forEach((before, waiting) => {
      if (before.includes(each)) found.add(waiting);
    });
  }
  return found;
}

function bit(step: number): bigint {
  return 1n << BigInt(step);
}

function setOf(steps: Iterable<number>): bigint {
  let set = 0n;
  for (const step of steps) set |= bit(step);
  return set;
}

function membersOf(set: bigint, count: number): number[] {
  return Array.from({ length: count }, (_, step) => step).filter((step) => (set & bit(step)) !== 0n);
}
