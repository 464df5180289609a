import { describe, expect, it } from "vitest";
import { readVehicle } from "../../src/facts/index.js";
import { loadRulebook, planCalibrations, type Job, type JobEquipment } from "../../src/index.js";

const rulebook = loadRulebook();

const jobWith = (entry: JobEquipment): Job => ({
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle: { equipment: [entry], equipmentComplete: true },
  operations: [{ id: "L1", action: "replace", component: "windshield" }],
});
const looksOf = (entry: JobEquipment): readonly unknown[] | null =>
  readVehicle(jobWith(entry)).sensors.find(({ sensor }) => sensor === entry.sensor)?.facts.looksThrough
    .candidates ?? null;

describe("what a sensor looks through, where only its mount is stated", () => {
  it.each([
    ["grille", ["nothing", "front-bumper-cover", "grille"]],
    ["roof-header", ["nothing", "front-bumper-cover", "grille", "windshield"]],
    ["windshield", ["windshield"]],
  ] as const)("is what fits a lidar at the %s", (mount, looks) => {
    expect(looksOf({ sensor: "lidar", fitted: "yes", mount })).toEqual(looks);
  });

  it("keeps a new windshield from a lidar in the grille, and not from one at the roof header", () => {
    const idsAt = (mount: "grille" | "roof-header"): readonly string[] =>
      planCalibrations(jobWith({ sensor: "lidar", fitted: "yes", mount }), { rulebook }).requirements.map(
        ({ id }) => id,
      );
    expect(idsAt("grille")).toEqual([]);
    expect(idsAt("roof-header")).toContain("lidar/calibration");
  });
});
