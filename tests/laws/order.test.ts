import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  COMMON_PRACTICE,
  loadRulebook,
  planCalibrations,
  type CheckedPack,
  type Job,
  type Plan,
} from "../../src/index.js";
import { check } from "../properties.js";
import { anyJob, freezeDeep } from "./arbitrary-job.js";
import { FIRST_PACK, SECOND_PACK } from "./invented-procedures.js";
import { permute } from "./permute.js";

const rulebook = loadRulebook();
const write = (plan: Plan): string => JSON.stringify(plan, null, 1);

/** What is said twice is quoted from where it stands first, so its pointer does depend on the order. */
function saysNothingTwice(job: Job): boolean {
  const sensors = (job.vehicle.equipment ?? []).map(
    ({ sensor, position }) => `${sensor} ${position ?? "any"}`,
  );
  const open = (job.vehicle.equipment ?? []).filter(({ position }) => (position ?? null) === null);
  const isTwice = open.some(
    ({ sensor }) => (job.vehicle.equipment ?? []).filter((each) => each.sensor === sensor).length > 1,
  );
  const findings = Object.values(job.findings ?? {}).flatMap((list) =>
    Array.isArray(list) ? list.map((each) => JSON.stringify(each)) : [],
  );
  const said = [...sensors, ...findings];
  return !isTwice && new Set(said).size === said.length;
}

/** Entries that contradict one another are named in the order in which they stand. */
function sortPointers(text: string): string {
  const plan = JSON.parse(text) as Plan;
  for (const { about } of plan.contradictions) about.sort();
  return write(plan);
}

describe("the order in which things are stated", () => {
  it("of operations, equipment and findings never changes the plan", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        fc.pre(saysNothingTwice(job));
        const permuted = permute(job, draw);
        const plan = permuted.restore(write(planCalibrations(permuted.job, { rulebook })));
        expect(sortPointers(plan)).toBe(sortPointers(write(planCalibrations(job, { rulebook }))));
      }),
      200,
    );
  });

  it("of rules within a pack never changes the plan", () => {
    const half = Math.floor(COMMON_PRACTICE.rules.length / 2);
    const { rules } = COMMON_PRACTICE;
    const others = [[...rules].reverse(), [...rules.slice(half), ...rules.slice(0, half)]].map((order) => {
      const pack: CheckedPack = { ...COMMON_PRACTICE, rules: order };
      return loadRulebook([pack]);
    });
    check(
      fc.property(anyJob, fc.constantFrom(...others), (job, other) => {
        expect(write(planCalibrations(job, { rulebook: other }))).toBe(
          write(planCalibrations(job, { rulebook })),
        );
      }),
    );
  });

  it("of procedure packs never changes the plan", () => {
    check(
      fc.property(anyJob, (job) => {
        const one = planCalibrations(job, { rulebook, procedures: [FIRST_PACK, SECOND_PACK] });
        const other = planCalibrations(job, { rulebook, procedures: [SECOND_PACK, FIRST_PACK] });
        expect(write(other)).toBe(write(one));
      }),
    );
  });

  it("of rule packs never changes the plan", () => {
    const added = [FIRST_PACK.rules, SECOND_PACK.rules].flatMap((pack) => pack ?? []);
    expect(added).toHaveLength(2);
    const one = loadRulebook([COMMON_PRACTICE, ...added]);
    const other = loadRulebook([...added].reverse().concat(COMMON_PRACTICE));
    check(
      fc.property(anyJob, (job) => {
        expect(write(planCalibrations(job, { rulebook: other }))).toBe(
          write(planCalibrations(job, { rulebook: one })),
        );
      }),
    );
  });
});

describe("the same job", () => {
  it("gives the same bytes each time, whatever was planned in between, and stays as it was", () => {
    check(
      fc.property(anyJob, anyJob, (job, between) => {
        const frozen = freezeDeep(structuredClone(job));
        const first = write(planCalibrations(frozen, { rulebook }));
        planCalibrations(between, { rulebook });
        expect(write(planCalibrations(structuredClone(job), { rulebook }))).toBe(first);
        expect(frozen).toEqual(job);
      }),
    );
  });

  it("gives the same bytes whatever the order of its keys", () => {
    check(
      fc.property(anyJob, (job) => {
        expect(write(planCalibrations(reverseKeys(job), { rulebook }))).toBe(
          write(planCalibrations(job, { rulebook })),
        );
      }),
    );
  });
});

function reverseKeys<T>(value: T): T {
  if (Array.isArray(value)) return value.map((each: unknown) => reverseKeys(each)) as T;
  if (typeof value !== "object" || value === null) return value;
  const entries = Object.entries(value).map(([key, each]) => [key, reverseKeys(each as unknown)] as const);
  return Object.fromEntries(entries.reverse()) as T;
}
