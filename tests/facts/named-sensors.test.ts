import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";

const rulebook = loadRulebook();

function plan(vehicle: Job["vehicle"], operations: Job["operations"], findings: Job["findings"] = {}) {
  const job: Job = { schema: "repair-calibration/job@1", reference: "RO-1", vehicle, operations, findings };
  return planCalibrations(job, { rulebook });
}

const standings = (made: ReturnType<typeof plan>): Readonly<Record<string, string>> =>
  Object.fromEntries(made.requirements.map(({ id, standing }) => [id, standing]));

describe("a sensor that the order itself names", () => {
  const replaced = {
    id: "L1",
    action: "replace",
    component: "sensor",
    sensor: "rear-corner-radar",
    position: "left",
  } as const;

  it("is on the vehicle, though no equipment is listed", () => {
    const made = plan({}, [replaced]);
    expect(standings(made)).toEqual({ "rear-corner-radar:left/calibration": "required" });
    expect(made.contradictions).toEqual([]);
  });

  it("is not passed over where a complete list lacks it: the two contradict one another", () => {
    const made = plan({ equipment: [], equipmentComplete: true }, [replaced]);
    expect(standings(made)).toEqual({ "rear-corner-radar:left/calibration": "undetermined" });
    expect(made.contradictions).toEqual([
      {
        about: ["/operations/0/sensor", "/vehicle/equipmentComplete"],
        says: "The left rear corner radar is stated not to be fitted, and is named by L1; its fitment counts as unknown.",
      },
    ]);
  });

  it("stays open however often it is named, and whatever names it first", () => {
    const code = { sensor: "rear-corner-radar", position: "left", means: "other" } as const;
    const again = { ...replaced, id: "L2", action: "program" } as const;
    const made = plan({ equipment: [], equipmentComplete: true }, [again, replaced], { faultCodes: [code] });
    expect(made.contradictions.map(({ says }) => says)).toEqual([
      "The left rear corner radar is stated not to be fitted, and is named by L1, L2, a fault code; its fitment counts as unknown.",
    ]);
    expect(standings(made)["rear-corner-radar:left/calibration"]).toBe("undetermined");
  });

  it("is on the vehicle where a fault code names it", () => {
    const code = {
      sensor: "front-radar",
      means: "not-calibrated",
      read: "post-repair",
      status: "active",
    } as const;
    expect(standings(plan({}, [], { faultCodes: [code] }))).toEqual({
      "front-radar/calibration": "required",
    });
  });

  it("stays open where the line does not say which of several it is", () => {
    const { position: _position, ...somewhere } = replaced;
    expect(standings(plan({}, [somewhere]))).toMatchObject({
      "rear-corner-radar:left/calibration": "undetermined",
      "rear-corner-radar:right/calibration": "undetermined",
    });
  });

  it("follows from no claim: a calibration that is billed proves no sensor", () => {
    const claimed = { id: "L1", action: "calibrate", component: "sensor", sensor: "front-radar" } as const;
    expect(plan({ equipment: [], equipmentComplete: true }, [claimed]).contradictions).toEqual([]);
  });
});
