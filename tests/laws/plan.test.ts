import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job, type Plan } from "../../src/index.js";
import { planShape } from "../../src/plan/shape.js";
import { check } from "../properties.js";
import { anyJob } from "./arbitrary-job.js";
import { isAtLeast } from "./dues.js";
import { FIRST_PACK, SECOND_PACK } from "./invented-procedures.js";

const rulebook = loadRulebook();
const made = new Map<string, Plan>();

/** Each law here draws the same jobs, so each is planned once. */
function plan(job: Job): Plan {
  const key = JSON.stringify(job);
  const ready = made.get(key) ?? planCalibrations(job, { rulebook, procedures: [FIRST_PACK, SECOND_PACK] });
  made.set(key, ready);
  return ready;
}

describe("any plan", () => {
  it("has the shape that is published", () => {
    check(
      fc.property(anyJob, (job) => {
        expect(planShape.safeParse(plan(job)).error?.issues ?? []).toEqual([]);
      }),
    );
  });

  it("lists its steps in an order that holds, each after those that it names", () => {
    check(
      fc.property(anyJob, (job) => {
        const done = new Set<string>();
        for (const step of plan(job).steps) {
          expect(done.has(step.id), `${step.id} comes twice`).toBe(false);
          for (const id of step.after) expect(done.has(id), `${step.id} before ${id}`).toBe(true);
          done.add(step.id);
        }
      }),
    );
  });

  it("has a step for each requirement", () => {
    check(
      fc.property(anyJob, (job) => {
        const { requirements, steps } = plan(job);
        for (const { id } of requirements) {
          expect(
            steps.some(({ requirement }) => requirement === id),
            id,
          ).toBe(true);
        }
      }),
    );
  });

  it("gives each requirement a reason that is as firm as its standing", () => {
    check(
      fc.property(anyJob, (job) => {
        const { requirements } = plan(job);
        expect(new Set(requirements.map(({ id }) => id)).size).toBe(requirements.length);
        for (const { id, standing, couldRiseTo, because } of requirements) {
          expect(because.length, id).toBeGreaterThan(0);
          const certain = because.filter((each) => each.certain).map((each) => each.standing);
          if (standing === "undetermined") expect(certain, id).toEqual([]);
          else expect(certain, id).toContain(standing);
          expect(
            certain.every((each) => isAtLeast(standing, each)),
            id,
          ).toBe(true);
          if (couldRiseTo === null) continue;
          expect(
            because.some((each) => !each.certain && each.standing === couldRiseTo),
            id,
          ).toBe(true);
        }
      }),
    );
  });

  it("asks wherever a standing could still rise, and only there", () => {
    check(
      fc.property(anyJob, (job) => {
        const { requirements, questions } = plan(job);
        const ids = new Set(questions.map(({ id }) => id));
        for (const each of requirements) {
          expect(each.questions.length > 0, each.id).toBe(each.couldRiseTo !== null);
          expect(
            each.questions.every((id) => ids.has(id)),
            each.id,
          ).toBe(true);
          if (each.standing === "undetermined") expect(each.couldRiseTo, each.id).not.toBe(null);
          if (each.couldRiseTo === null) continue;
          expect(isAtLeast(each.standing, each.couldRiseTo), each.id).toBe(false);
        }
        for (const { id, settles } of questions) {
          const hanging = requirements.filter((each) => each.questions.includes(id)).map((each) => each.id);
          expect([...hanging].sort()).toEqual([...settles]);
        }
      }),
      200,
    );
  });

  it("needs answers exactly while a question is open", () => {
    check(
      fc.property(anyJob, (job) => {
        const { outcome, questions } = plan(job);
        expect(outcome).toBe(questions.length === 0 ? "complete" : "needs-answers");
      }),
    );
  });

  it("says of every sensor place either what is due or why nothing is", () => {
    check(
      fc.property(anyJob, (job) => {
        const { requirements, notIndicated, waived } = plan(job);
        const keyOf = (each: { sensor: string; position: string | null }): string =>
          each.position === null ? each.sensor : `${each.sensor}:${each.position}`;
        const due = [...requirements.flatMap((each) => [keyOf(each), ...each.alsoFor]), ...waived.map(keyOf)];
        const silent = notIndicated.map(keyOf);
        expect(silent.filter((key) => due.includes(key))).toEqual([]);
        for (const entry of job.vehicle.equipment ?? []) {
          if (entry.position === undefined || entry.position === null) continue;
          expect([...due, ...silent]).toContain(keyOf({ sensor: entry.sensor, position: entry.position }));
        }
      }),
    );
  });

  it("asks nothing of a sensor that is known not to be fitted", () => {
    check(
      fc.property(anyJob, (job) => {
        const { requirements, notIndicated } = plan(job);
        const absent = notIndicated.filter(({ reason }) => reason === "not-fitted");
        for (const { sensor, position } of absent) {
          expect(requirements.some((each) => each.sensor === sensor && each.position === position)).toBe(
            false,
          );
        }
      }),
    );
  });
});
