import { describe, expect, it } from "vitest";
import {
  FEATURES,
  SENSORS,
  SENSOR_IDS,
  planCalibrations,
  positionsOf,
  type Job,
  type Plan,
  type PlanStep,
  type Requirement,
  type StageId,
} from "../../src/index.js";
import { NOTHING_FOUND, jobs, jobOf, orderOf, plans, procedures, rulebook } from "./plans.js";

// What bodies of the trade demand of any repair of a vehicle with driver assistance, held against every plan that the
// scenarios bring. Marks: "published" – the demand was read at the body named, on its public pages or in the trade
// press; "second-hand" – in a quotation; the texts of the standards themselves were not read. Wordings are ours.
//
//  UK      UK insurers' requirements for driver assistance (preparation; definitions) – published
//  BS      BS 10125:2022, scope: every system is reinstated whose function damage or repair disturbed – published
//  AGRSS   ANSI/AGSC/AGRSS 005-2022, 8.9, as reported in the trade press – published there
//  ZKF     Zentralverband Karosserie- und Fahrzeugtechnik, German body repairers' association – published

const LOOKS: readonly Requirement["task"][] = ["calibration", "aim"];

/** The steps in which a requirement's task itself is done, without its inspections. */
function doingStepsOf(plan: Plan, requirement: Requirement): readonly PlanStep[] {
  return plan.steps.filter(
    (step) => step.requirement === requirement.id && step.id.startsWith(requirement.id),
  );
}

function stepsAt(plan: Plan, ...stages: readonly StageId[]): readonly PlanStep[] {
  return plan.steps.filter(({ stage }) => stages.includes(stage));
}

const CALIBRATING: readonly StageId[] = [
  "static-calibration",
  "calibration-method-open",
  "dynamic-calibration",
];

describe("the plans looked at", () => {
  it("are many, and of every kind of work", () => {
    expect(jobs.length).toBeGreaterThan(100);
    const all = plans.flatMap(([, plan]) => plan.requirements);
    for (const sensor of SENSOR_IDS) expect(all.map((each) => each.sensor)).toContain(sensor);
    const stages = new Set(plans.flatMap(([, plan]) => plan.steps.map(({ stage }) => stage)));
    for (const stage of [...CALIBRATING, "wheel-alignment"] as const) expect(stages).toContain(stage);
  });
});

describe("UK: no sensor is fitted, so none is demanded, and that is on record", () => {
  it.each(jobs)("%s", (_name, { vehicle, operations, findings = {}, ...job }) => {
    const { features: _features, ...rest } = vehicle;
    const plan = planCalibrations(
      {
        ...job,
        // A line or a finding that names a sensor contradicts such a list, which is another matter.
        operations: operations.filter(({ component }) => component !== "other" && component !== "sensor"),
        vehicle: { ...rest, equipment: [], equipmentComplete: true },
        findings: { ...NOTHING_FOUND, ...findings, faultCodes: [], sensorDamage: [] },
      },
      { rulebook },
    );
    expect(plan.requirements).toEqual([]);
    expect(plan.waived).toEqual([]);
    expect(plan.preconditions).toEqual([]);
    // What is asked about a vehicle without sensors is what the order contradicts itself in.
    if (plan.contradictions.length === 0) expect([plan.outcome, plan.questions]).toEqual(["complete", []]);
    // Each kind of sensor, at each of its places, is on record as not fitted.
    const listed = plan.notIndicated.map(({ sensor, position, reason }) => [sensor, position, reason]);
    const everySensor = SENSOR_IDS.flatMap((sensor) => {
      return positionsOf(sensor).map((position) => [sensor, position, "not-fitted"]);
    });
    expect(listed.sort()).toEqual(everySensor.sort());
    expect(plan.notes).toContain(
      "No driver-assistance sensor is fitted, as stated by the equipment list; this is recorded, and nothing is demanded.",
    );
  });

  it("is not taken for granted: of an incomplete list nothing of the kind is said", () => {
    const job = jobOf([{ id: "L1", action: "replace", component: "windshield" }], {
      vehicle: { make: "Norrvik", model: "Skare", equipment: [] },
    });
    const plan = planCalibrations(job, { rulebook });
    expect(plan.outcome).toBe("needs-answers");
    expect(plan.notes.join()).not.toContain("nothing is demanded");
    expect(plan.notIndicated.filter(({ reason }) => reason === "not-fitted")).toEqual([]);
  });
});

describe("UK and BS: every sensor that can be fitted is accounted for", () => {
  it.each(plans)("%s", (_name, plan) => {
    const accounted = new Set([
      ...plan.requirements.flatMap(({ sensor, position, alsoFor }) => [
        `${sensor}:${position ?? ""}`,
        ...alsoFor,
      ]),
      ...plan.waived.map(({ sensor, position }) => `${sensor}:${position ?? ""}`),
      ...plan.notIndicated.map(({ sensor, position }) => `${sensor}:${position ?? ""}`),
    ]);
    const missing = SENSOR_IDS.flatMap((sensor) =>
      positionsOf(sensor).map((position) => `${sensor}:${position ?? ""}`),
    ).filter((key) => !accounted.has(key));
    expect(missing).toEqual([]);
    // A demand stands on something that was done to the vehicle or found on it, never on habit.
    for (const { because } of plan.requirements) {
      for (const { operation, finding } of because) expect(operation ?? finding).not.toBeNull();
    }
    for (const { considered } of plan.notIndicated) {
      const lines = plan.requirements.flatMap(({ because }) =>
        because.flatMap(({ operation }) => operation ?? []),
      );
      expect(considered).toEqual(expect.arrayContaining([...new Set(lines)]));
    }
  });
});

describe("UK: each affected sensor has evidence that can be audited", () => {
  it.each(plans)("%s", (_name, plan) => {
    for (const requirement of plan.requirements) {
      const { id, task, evidence } = requirement;
      // Whatever is due: how the vehicle arrived, and that nothing is left when it leaves.
      expect(evidence, id).toContain("post-repair-scan");
      if (task === "calibration") expect(evidence, id).toContain("calibration-record");
      if (LOOKS.includes(task)) expect(evidence, id).toContain("repairs-complete");
      if (task === "function-check") expect(evidence, id).toContain("function-check");
      if (task === "zero-point-reset" || task === "initialisation" || task === "aim") {
        expect(
          evidence.some((each) => each === "calibration-record" || each === "setup-record"),
          `${id}: ${evidence.join()}`,
        ).toBe(true);
      }
    }
  });

  it.each(jobs)(
    "in the United Kingdom, %s also proves what was looked at, whatever was found",
    (_name, job) => {
      const plan = planCalibrations({ ...job, vehicle: { ...job.vehicle, market: "uk" } }, { rulebook });
      for (const { id, task, evidence } of plan.requirements) {
        if (LOOKS.includes(task) || task === "function-check") expect(evidence, id).toContain("inspection");
      }
    },
  );
});

describe("UK: inspection and realignment are duties of their own beside calibration", () => {
  /** Where each inspection is done; the trade's names for the stages, by hand. */
  const STAGE_OF: Readonly<Record<string, StageId>> = {
    "mount-inspection": "mount-inspection",
    "view-inspection": "view-inspection",
    "image-inspection": "image-inspection",
    "film-thickness-measurement": "film-thickness-reading",
    "alignment-measurement": "wheel-alignment-measurement",
    "ride-height-measurement": "ride-height-measurement",
    "structural-measurement": "structural-measurement-after",
    "telltale-and-scan": "telltale-check",
  };

  it.each(plans)("%s", (_name, plan) => {
    const isBefore = orderOf(plan);
    for (const requirement of plan.requirements) {
      const doing = doingStepsOf(plan, requirement);
      expect(doing.length, requirement.id).toBeGreaterThan(0);
      for (const { id, lookAt, failsWhen } of requirement.inspection ?? []) {
        const stage = STAGE_OF[id];
        const inspecting = plan.steps.filter(
          (step) =>
            step.stage === stage &&
            (step.requirement === null || step.id.startsWith(`${keyOf(requirement)}/`)),
        );
        expect(inspecting.length, `${requirement.id}: ${id}`).toBeGreaterThan(0);
        expect(lookAt).not.toBe(failsWhen);
        for (const inspection of inspecting) {
          expect(["measure", "check"]).toContain(inspection.kind);
          // Where it decides whether the task is due, it is done before it.
          if (requirement.standing === "required" || requirement.standing === "presumed") continue;
          for (const step of doing) {
            expect(isBefore(inspection, step), `${inspection.id} before ${step.id}`).toBe(true);
          }
        }
      }
    }
  });

  it("a plan that waits for an inspection does not do without it", () => {
    const waiting = plans.flatMap(([, plan]) =>
      plan.requirements.filter(({ standing }) => standing === "inspect-first"),
    );
    expect(waiting.length).toBeGreaterThan(50);
    expect(waiting.filter(({ inspection }) => inspection === null)).toEqual([]);
  });
});

function keyOf({ sensor, position }: Requirement): string {
  return position === null ? sensor : `${sensor}:${position}`;
}

describe("ZKF: the driving axis first, since the sensors are referred to it", () => {
  it.each(plans)("%s", (_name, plan) => {
    const isBefore = orderOf(plan);
    const place = new Map(plan.steps.map((step, index) => [step.id, index]));
    for (const aligning of stepsAt(plan, "wheel-alignment-measurement", "wheel-alignment")) {
      for (const step of stepsAt(plan, ...CALIBRATING, "steering-angle-zero-point")) {
        expect(isBefore(aligning, step), `${aligning.id} before ${step.id}`).toBe(true);
        expect(place.get(aligning.id)).toBeLessThan(place.get(step.id) ?? -1);
      }
    }
  });

  it("is set where the work moved it: no calibration of a sensor that looks far goes without it", () => {
    const moved = plans.flatMap(([name, plan]) =>
      plan.requirements
        .filter(
          ({ sensor, task, because }) =>
            SENSORS[sensor].aimCritical &&
            task === "calibration" &&
            because.some(({ disturbance, certain }) => disturbance === "thrust-line-moved" && certain),
        )
        .map((requirement) => [name, plan, requirement] as const),
    );
    expect(moved.length).toBeGreaterThan(10);
    for (const [name, plan, { id, preconditions }] of moved) {
      expect(preconditions, `${name}: ${id}`).toContain("alignment-in-spec");
      expect(stepsAt(plan, "wheel-alignment-measurement").length, name).toBe(1);
    }
  });
});

describe("ZKF: adjusting, calibrating, and a functional road test, in this order", () => {
  it.each(plans)("%s", (_name, plan, job) => {
    const isBefore = orderOf(plan);
    const calibrating = stepsAt(plan, ...CALIBRATING);
    const driving = stepsAt(plan, "road-test");
    if (worksOf(job).length > 0) expect(driving).toHaveLength(1);
    for (const step of calibrating) {
      for (const test of driving) expect(isBefore(step, test), step.id).toBe(true);
      for (const check of stepsAt(plan, "function-check")) expect(isBefore(step, check), step.id).toBe(true);
    }
    for (const scan of stepsAt(plan, "post-repair-scan")) {
      for (const test of driving) expect(isBefore(test, scan)).toBe(true);
    }
  });
});

function worksOf({ operations }: Job): Job["operations"] {
  return operations.filter(
    ({ action, component }) => action !== "calibrate" && action !== "scan" && component !== "other",
  );
}

describe("AGRSS: a calibration that is not completed is told to the customer", () => {
  it.each(plans)("%s", (_name, plan) => {
    const cautions = plan.cautions.filter((text) => text.includes("told in writing"));
    expect(cautions).toHaveLength(1);
    const lost = new Set(plan.requirements.flatMap(({ features }) => features));
    const note = plan.notes.find((text) => text.includes("told in writing"));
    expect(note !== undefined).toBe(lost.size > 0);
    for (const feature of lost) expect(note).toContain(FEATURES[feature].label);
  });

  it("names the functions that the camera serves, and no others", () => {
    const job = jobOf([{ id: "L1", action: "replace", component: "windshield" }], {
      vehicle: {
        make: "Norrvik",
        model: "Skare",
        equipment: [{ sensor: "forward-camera", fitted: "yes", mount: "windshield" }],
        equipmentComplete: true,
        features: {
          "lane-keeping-assistance": "standard",
          "traffic-sign-recognition": "standard",
          "rear-cross-traffic-alert": "not-available",
          "night-vision": "not-available",
        },
      },
      findings: NOTHING_FOUND,
    });
    const [note] = planCalibrations(job, { rulebook }).notes.filter((text) => text.includes("in writing"));
    expect(note).toMatch(/: lane keeping assistance, traffic sign recognition\.$/);
  });
});

function chainOf({ operation, finding, implied, disturbance, rule }: Requirement["because"][number]): string {
  return [operation ?? finding, ...implied, disturbance, rule].join(" → ");
}

describe("UK: what was not done stays in view", () => {
  it("a waiver is listed with the maker's document, and its sensor is not called untouched", () => {
    const waiving = plans.filter(([, plan]) => plan.waived.length > 0);
    expect(waiving.length).toBeGreaterThan(0);
    for (const [name, plan] of waiving) {
      for (const { sensor, position, task, by, waives, because } of plan.waived) {
        expect(by.source.kind, name).toBe("maker-procedure");
        expect(by.source.section, name).not.toBeNull();
        expect(waives.length, name).toBeGreaterThan(0);
        expect(because.length, name).toBeGreaterThan(0);
        const same = (each: { sensor: string; position: string | null }) =>
          each.sensor === sensor && each.position === position;
        expect(plan.notIndicated.filter(same), name).toEqual([]);
        // The task can be due all the same, by chains that the maker did not waive.
        const remaining = plan.requirements.filter((each) => same(each) && each.task === task);
        const chains = remaining.flatMap((each) => each.because.map(chainOf));
        expect(
          because.map(chainOf).filter((chain) => chains.includes(chain)),
          name,
        ).toEqual([]);
      }
    }
  });

  it("a hold hides nothing: what may not be done yet is still listed as due", () => {
    const held = plans.flatMap(([, plan]) => plan.requirements.filter(({ holds }) => holds.length > 0));
    expect(held.length).toBeGreaterThan(20);
    for (const { id, holds, because } of held) {
      for (const { says, clearedBy } of holds) expect([says, clearedBy], id).not.toContain("");
      expect(because.length, id).toBeGreaterThan(0);
    }
  });

  it("lines that already claim a calibration or a scan do not make it due, and are kept", () => {
    const line = { id: "C1", action: "calibrate", component: "sensor", sensor: "front-radar" } as const;
    for (const [name, job] of jobs.slice(0, 40)) {
      const claimed = { ...job, operations: [...job.operations, line] };
      const plan = planCalibrations(claimed, { rulebook, procedures });
      const without = planCalibrations(job, { rulebook, procedures });
      expect(
        plan.claimed.map(({ operation }) => operation),
        name,
      ).toContain("C1");
      expect(plan.requirements, name).toEqual(without.requirements);
    }
  });
});
