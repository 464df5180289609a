import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";

const rulebook = loadRulebook();

describe("work on sensors that a rule would imply", () => {
  const radars = (["left", "right"] as const).map((position) => ({
    sensor: "rear-corner-radar" as const,
    position,
    fitted: "yes" as const,
    mount: "rear-bumper-cover" as const,
    looksThrough: "rear-bumper-cover" as const,
  }));
  const impliedBeside = (...stated: Job["operations"]): readonly (string | null)[] =>
    planCalibrations(
      {
        schema: "repair-calibration/job@1",
        reference: "RO-1",
        vehicle: { equipment: radars, equipmentComplete: true },
        operations: [{ id: "L1", action: "replace", component: "rear-bumper-cover" }, ...stated],
      },
      { rulebook },
    )
      .impliedOperations.filter(({ sensor }) => sensor === "rear-corner-radar")
      .map(({ position }) => position)
      .sort();

  it("is told for each position that no line states, and for no other", () => {
    const left = {
      id: "L2",
      action: "remove-install",
      component: "sensor",
      sensor: "rear-corner-radar",
      position: "left",
    } as const;
    expect(impliedBeside()).toEqual(["left", "right"]);
    expect(impliedBeside(left)).toEqual(["right"]);
    expect(impliedBeside(left, { ...left, id: "L3", position: "right" })).toEqual([]);
  });
});
