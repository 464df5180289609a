import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";
import { check } from "../properties.js";
import { addedOperation, anyJob, type Operation } from "./arbitrary-job.js";
import { findNoLongerPossible, findWeakened } from "./dues.js";

const rulebook = loadRulebook();

/** Whether an operation answers what the job leaves open, rather than adding work. */
function isAnswer(job: Job, operation: Operation): boolean {
  const { action, component, structural } = operation;
  // Codes that a sensor set before it was replaced say nothing of the new one, so which one it was has to be stated.
  if (component === "sensor" && action === "replace" && (operation.position ?? null) === null) return true;
  if (action === "inspect" || component === "wheel-alignment") return true;
  // Damage to the structure asks for its repair until one is listed.
  const isOfStructure = structural === "yes" || REWORKING.includes(action);
  return job.findings?.structuralDamage === true && isOfStructure;
}

const REWORKING: readonly string[] = ["replace", "section", "straighten"];

describe("adding an operation", () => {
  it("never removes or weakens a requirement", () => {
    check(
      fc.property(anyJob, addedOperation, (job, added) => {
        fc.pre(!isAnswer(job, added));
        const before = planCalibrations(job, { rulebook });
        const more: Job = { ...job, operations: [...job.operations, added] };
        const after = planCalibrations(more, { rulebook });
        expect(findWeakened(before, after), JSON.stringify(added)).toEqual([]);
        expect(findNoLongerPossible(before, after), JSON.stringify(added)).toEqual([]);
      }),
      300,
    );
  });
});
