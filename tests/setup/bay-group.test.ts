import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { groupSteps } from "../../src/setup/bay/group.js";
import { check } from "../properties.js";

const none = (count: number): number[][] => Array.from({ length: count }, () => []);

describe("grouping of steps", () => {
  it("leaves together what can be together", () => {
    expect(groupSteps(none(3), () => true)).toEqual({ groups: [[0, 1, 2]], isLeast: true });
  });

  it("gives each step its own group where none goes with another", () => {
    expect(groupSteps(none(3), (members) => members.length === 1).groups).toEqual([[0], [1], [2]]);
  });

  // 0 and 1 cannot share, 1 and 2 cannot: 0 with 2, then 1. Taken in their order one by one it would be the same two.
  it("puts the first step into the first group", () => {
    const apart = (members: readonly number[]): boolean => !(members.includes(1) && members.length > 1);
    expect(groupSteps(none(3), apart).groups).toEqual([[0, 2], [1]]);
  });

  // 0 waits for 2, and 2 cannot share with 1. Filling the first group from the left gives {1}, {2, 0}; so does {2, 0}, {1}.
  it("does not put a step before one that it waits for", () => {
    const accepts = (members: readonly number[]): boolean => !(members.includes(1) && members.includes(2));
    const { groups } = groupSteps([[2], [], []], accepts);
    expect(groups).toHaveLength(2);
    const at = (step: number): number => groups.findIndex((group) => group.includes(step));
    expect(at(0)).toBeGreaterThanOrEqual(at(2));
  });

  // Filled greedily from the left, {0, 1} comes first, and then 2 and 3 are left, which cannot share: three groups.
  // {0, 2} and {1, 3} are two.
  it("finds the pairing that a greedy filling misses", () => {
    const shares = new Set(["0,1", "0,2", "1,3"]);
    const accepts = (members: readonly number[]): boolean =>
      members.length === 1 || (members.length === 2 && shares.has(members.join(",")));
    expect(groupSteps(none(4), accepts)).toEqual({
      groups: [
        [0, 2],
        [1, 3],
      ],
      isLeast: true,
    });
  });

  it("gives up looking for fewer groups after a while, and says so", () => {
    // Twenty-four steps of which three at most can share: too many ways to look at all of them.
    const { groups, isLeast } = groupSteps(none(24), (members) => members.length <= 3);
    expect(isLeast).toBe(false);
    expect(groups.flat().sort((a, b) => a - b)).toEqual(Array.from({ length: 24 }, (_, step) => step));
    expect(groups.every((group) => group.length <= 3)).toBe(true);
  });

  it("finds as few groups as trying every division does", () => {
    const conflicts = fc.array(fc.uniqueArray(fc.nat(5), { minLength: 2, maxLength: 3 }), { maxLength: 8 });
    const before = fc.array(fc.array(fc.nat(4), { maxLength: 2 }), { minLength: 6, maxLength: 6 });
    check(
      fc.property(fc.integer({ min: 1, max: 6 }), conflicts, before, (count, apart, early) => {
        const waitsFor = Array.from({ length: count }, (_, step) =>
          early[step]!.filter((each) => each < step),
        );
        const accepts = (members: readonly number[]): boolean =>
          !apart.some((conflict) => conflict.every((each) => members.includes(each)));
        const { groups, isLeast } = groupSteps(waitsFor, accepts);
        expect(isLeast).toBe(true);
        expect(groups.every(accepts)).toBe(true);
        expect(isOrdered(groups, waitsFor)).toBe(true);
        expect(groups).toHaveLength(leastByTrial(count, waitsFor, accepts));
      }),
    );
  });
});

function isOrdered(
  groups: readonly (readonly number[])[],
  waitsFor: readonly (readonly number[])[],
): boolean {
  const at = (step: number): number => groups.findIndex((group) => group.includes(step));
  return waitsFor.every((before, step) => before.every((each) => at(each) <= at(step)));
}

/** Numbers every step with a group, all ways, and takes the least count that holds. */
function leastByTrial(
  count: number,
  waitsFor: readonly (readonly number[])[],
  accepts: (members: readonly number[]) => boolean,
): number {
  for (let size = 1; size <= count; size += 1) {
    for (let code = 0; code < size ** count; code += 1) {
      const groups: number[][] = Array.from({ length: size }, () => []);
      for (let step = 0; step < count; step += 1) {
        groups[Math.floor(code / size ** step) % size]!.push(step);
      }
      const filled = groups.filter((group) => group.length > 0);
      if (filled.every(accepts) && isOrdered(filled, waitsFor)) return size;
    }
  }
  return Infinity;
}
