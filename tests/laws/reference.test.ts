import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job } from "../../src/index.js";
import { compareDecisions, readDecision } from "../../src/reference/cross-check.js";
import { crossCheck, decideByReference, type ReferenceDecision } from "../../src/reference/index.js";
import { checkLater } from "../properties.js";
import { anyJob } from "./arbitrary-job.js";
import { FIRST_PACK, SECOND_PACK } from "./invented-procedures.js";

const rulebook = loadRulebook();

describe("the plan and json-rules-engine", () => {
  it("decide alike from the same rules", async () => {
    await checkLater(
      fc.asyncProperty(anyJob, async (job) => {
        expect((await crossCheck(job, { rulebook })).differences).toEqual([]);
      }),
      20,
    );
  }, 120_000);

  it("decide alike with procedures that specify, waive and except", async () => {
    const procedures = [FIRST_PACK, SECOND_PACK];
    await checkLater(
      fc.asyncProperty(anyJob, async (job) => {
        const vehicle = { ...job.vehicle, make: "Norrvik", model: "Fjell", modelYear: 2024 };
        expect((await crossCheck({ ...job, vehicle }, { rulebook, procedures })).differences).toEqual([]);
      }),
      10,
    );
  }, 120_000);
});

describe("the comparison", () => {
  const job: Job = {
    schema: "repair-calibration/job@1",
    reference: "RO-1",
    vehicle: {
      make: "Norrvik",
      model: "Fjell",
      modelYear: 2024,
      equipment: [
        { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
        { sensor: "rain-light-sensor", fitted: "yes" },
      ],
    },
    operations: [{ id: "L1", action: "replace", component: "windshield" }],
    findings: {},
  };
  const procedures = [FIRST_PACK];

  it("has something to compare: what is due, what is implied and what is waived", async () => {
    const decision = await decideByReference(job, { rulebook, procedures });
    const camera = decision.requirements.find(({ id }) => id === "forward-camera/calibration");
    expect(camera).toMatchObject({ standing: "required", couldRiseTo: null });
    expect(decision.implied.length).toBeGreaterThan(0);
    expect(decision.waived).toContainEqual({
      id: "rain-light-sensor/initialisation",
      rule: "norrvik-rain-light-sensor-needs-no-initialisation",
      waives: ["windshield-off-presumes-initialisation-of-rain-light-sensor"],
    });
    expect(decision).toEqual(await decideByReference(job, { rulebook, procedures }));
  });

  it("says each difference in a sentence", () => {
    const decision = readDecision(planCalibrations(job, { rulebook, procedures }));
    const [first] = decision.requirements;
    if (first === undefined) throw new Error("nothing is due");
    const others = decision.requirements.slice(1);
    const differing = (change: Partial<typeof first>): ReferenceDecision => ({
      ...decision,
      requirements: [{ ...first, ...change }, ...others],
    });
    const changed: readonly ReferenceDecision[] = [
      { ...decision, requirements: others },
      differing({ standing: "inspect-first" }),
      differing({ couldRiseTo: "presumed" }),
      differing({ rules: [] }),
      differing({ disturbances: [] }),
      differing({ holds: ["software-not-configured" as never] }),
      differing({ preconditions: [] }),
      differing({ evidence: [] }),
      { ...decision, implied: decision.implied.slice(1) },
      { ...decision, implied: [...decision.implied, ...decision.implied.slice(0, 1)] },
      { ...decision, waived: [] },
    ];
    expect(compareDecisions(decision, decision)).toEqual([]);
    for (const each of changed) {
      expect(compareDecisions(decision, each)).toHaveLength(1);
      expect(compareDecisions(each, decision)).toHaveLength(1);
    }
  });

  it("passes on what both refuse", async () => {
    const wrong = { ...job, reference: "" };
    await expect(crossCheck(wrong, { rulebook })).rejects.toThrow("/reference");
  });
});
