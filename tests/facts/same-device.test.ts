import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job, type Plan } from "../../src/index.js";
import { crossCheck } from "../../src/reference/index.js";

const rulebook = loadRulebook();
type Entry = NonNullable<Job["vehicle"]["equipment"]>[number];

const rearCamera: Entry = {
  sensor: "rear-camera",
  fitted: "yes",
  mount: "liftgate",
  looksThrough: "nothing",
  serves: ["surround-view"],
};
const surroundRear: Entry = {
  sensor: "surround-camera",
  position: "rear",
  fitted: "yes",
  mount: "liftgate",
  looksThrough: "nothing",
};

const jobWith = (...equipment: Entry[]): Job => ({
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle: { make: "Norrvik", model: "Skare", equipment, equipmentComplete: true },
  operations: [{ id: "L1", action: "replace", component: "liftgate" }],
});
const calibrationsOf = (plan: Plan): readonly (readonly string[])[] =>
  plan.requirements
    .filter(({ task }) => task === "calibration")
    .map(({ id, standing, alsoFor }) => [id, standing, ...alsoFor]);

describe("one device that is listed under two sensors", () => {
  const calibratedOnce = [["surround-camera:rear/calibration", "required", "rear-camera"]];

  it("is calibrated once, under the name that its entry points to", () => {
    const job = jobWith({ ...rearCamera, sameDeviceAs: "surround-camera:rear" }, surroundRear);
    expect(calibrationsOf(planCalibrations(job, { rulebook }))).toEqual(calibratedOnce);
  });

  it("is calibrated once, and not lost, where each entry points to the other", async () => {
    const job = jobWith(
      { ...rearCamera, sameDeviceAs: "surround-camera:rear" },
      { ...surroundRear, sameDeviceAs: "rear-camera" },
    );
    expect(calibrationsOf(planCalibrations(job, { rulebook }))).toEqual(calibratedOnce);
    expect(await crossCheck(job, { rulebook })).toEqual({ agrees: true, differences: [] });
  });

  it("stays unknown under both names if it is listed as unknown, though the list is complete", () => {
    const job = jobWith({ ...rearCamera, fitted: "unknown", sameDeviceAs: "surround-camera:rear" });
    const { requirements, notIndicated } = planCalibrations(job, { rulebook });
    expect(requirements.find(({ sensor }) => sensor === "rear-camera")).toMatchObject({
      standing: "undetermined",
      couldRiseTo: "required",
      fitted: "unknown",
    });
    const absent = notIndicated.filter(({ reason }) => reason === "not-fitted").map(({ sensor }) => sensor);
    expect(absent).not.toContain("rear-camera");
  });

  it("is fitted under both names if it is listed as fitted under one", () => {
    const job = jobWith({ ...rearCamera, sameDeviceAs: "surround-camera:rear" });
    const { requirements, contradictions } = planCalibrations(job, { rulebook });
    expect(contradictions).toEqual([]);
    expect(requirements.find(({ sensor }) => sensor === "surround-camera")).toMatchObject({ fitted: "yes" });
  });
});
