import { describe, expect, it, vi } from "vitest";
import fc from "fast-check";
import { readVehicle } from "../../src/facts/index.js";
import { loadRulebook, planCalibrations, type Job, type Plan } from "../../src/index.js";
import { anyJob } from "../laws/arbitrary-job.js";
import { check } from "../properties.js";

const rulebook = loadRulebook();
type Vehicle = Job["vehicle"];
type Entry = NonNullable<Vehicle["equipment"]>[number];

const jobFor = (vehicle: Vehicle, operation: Omit<Job["operations"][number], "id">): Job => ({
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle,
  operations: [{ id: "L1", ...operation }],
});
const asksOf = (plan: Plan, word: string): readonly string[] =>
  plan.questions.map(({ ask }) => ask).filter((ask) => ask.includes(word));

describe("vehicles that are planned one after the other", () => {
  it("do not take over whether the rear camera serves surround view", () => {
    const rear: Entry = { sensor: "rear-camera", fitted: "yes" };
    const surround: Entry = { sensor: "surround-camera", position: "rear", fitted: "yes" };
    const servesFurther = (entry: Entry): readonly unknown[] | null => {
      const job = jobFor({ equipment: [rear, entry] }, { action: "replace", component: "liftgate" });
      const { sensors } = readVehicle(job);
      return sensors.find(({ key }) => key === "rear-camera")?.facts.servesFurther.candidates ?? null;
    };
    expect(servesFurther(surround)).toEqual(["yes", "no"]);
    expect(servesFurther({ ...surround, sameDeviceAs: "rear-camera" })).toEqual(["yes"]);
    expect(servesFurther(surround)).toEqual(["yes", "no"]);
  });

  it("are asked about the feature that is standard on each", () => {
    const planWith = (features: Vehicle["features"]): Plan =>
      planCalibrations(jobFor({ features }, { action: "remove-install", component: "front-bumper-cover" }), {
        rulebook,
      });
    const cruise = asksOf(planWith({ "adaptive-cruise-control": "standard" }), "at least one is");
    const warning = asksOf(planWith({ "forward-collision-warning": "standard" }), "at least one is");
    expect(cruise).toEqual([expect.stringContaining("since adaptive cruise control is standard")]);
    expect(warning).toEqual([expect.stringContaining("since forward collision warning is standard")]);
  });

  it("get the plan that each would get alone, whichever comes first", async () => {
    const jobs: Job[] = [];
    check(
      fc.property(anyJob, (job) => {
        jobs.push(job);
      }),
      400,
    );
    const forward = jobs.map((job) => JSON.stringify(planCalibrations(job, { rulebook })));
    // Nothing that was kept along the way is left in the copy of the library that plans them backwards.
    vi.resetModules();
    const copy = await import("../../src/index.js");
    expect(copy.planCalibrations).not.toBe(planCalibrations);
    const anew = copy.loadRulebook();
    const backward = [...jobs]
      .reverse()
      .map((job) => JSON.stringify(copy.planCalibrations(job, { rulebook: anew })));
    backward.reverse();
    expect(jobs.filter((_, index) => backward[index] !== forward[index])).toEqual([]);
  });
});
