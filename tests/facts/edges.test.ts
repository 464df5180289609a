import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job, type JobFindings } from "../../src/index.js";

const rulebook = loadRulebook();

const jobWith = (findings: JobFindings, operations: Job["operations"] = []): Job => ({
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle: { equipment: [{ sensor: "forward-camera", fitted: "yes" }], equipmentComplete: true },
  operations,
  findings,
});
const dueAfter = (job: Job): readonly string[] =>
  planCalibrations(job, { rulebook }).requirements.map(({ id, standing }) => `${standing} ${id}`);

describe("a ride height that changed", () => {
  it("tilts the camera's view whether the body went up or down", () => {
    const changed = dueAfter(jobWith({ rideHeightChange: { front: 30, rear: 0 } }));
    expect(changed.some((each) => each.endsWith("forward-camera/calibration"))).toBe(true);
    expect(dueAfter(jobWith({ rideHeightChange: { front: -30, rear: 0 } }))).toEqual(changed);
    expect(dueAfter(jobWith({ rideHeightChange: { front: 0, rear: 0 } }))).toEqual([]);
  });

  it("fits the amount of a modification up to 10 mm of difference, and not beyond", () => {
    const contradictionsAt = (front: number): number =>
      planCalibrations(
        jobWith({ rideHeightChange: { front, rear: -30 } }, [
          { id: "L1", action: "modify", component: "ride-height", amount: { front: -30, rear: -30 } },
        ]),
        { rulebook },
      ).contradictions.length;
    expect([-30, -40, -20].map(contradictionsAt)).toEqual([0, 0, 0]);
    expect([-41, -19].map(contradictionsAt)).toEqual([1, 1]);
  });
});

describe("a measurement with limits", () => {
  const after = (value: number): readonly string[] =>
    dueAfter(
      jobWith({
        measurements: [{ kind: "thrust-angle", value, unit: "deg", low: -0.15, high: 0.15, when: "after" }],
      }),
    );

  it("is inside them at either end, as a limit is meant", () => {
    const inside = after(0);
    expect(after(0.15)).toEqual(inside);
    expect(after(-0.15)).toEqual(inside);
    expect(after(0.16)).not.toEqual(inside);
    expect(after(-0.16)).not.toEqual(inside);
  });
});
