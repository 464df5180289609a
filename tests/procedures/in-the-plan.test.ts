import { describe, expect, it } from "vitest";
import type { Job } from "../../src/index.js";
import {
  COVER_OFF_BEFORE_RADAR,
  coverOffJob,
  packWith,
  planWith,
  procedureWith,
  requirementOf,
  ruleWith,
  stepsBefore,
} from "./build.js";

/** Rear toe was set on a vehicle with a camera, a front radar and two rear corner radars. */
function alignmentJob(): Job {
  const job = coverOffJob();
  return {
    ...job,
    vehicle: {
      ...job.vehicle,
      equipment: [
        { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
        {
          sensor: "front-radar",
          fitted: "yes",
          mount: "front-bumper-reinforcement",
          looksThrough: "front-bumper-cover",
        },
        {
          sensor: "rear-corner-radar",
          fitted: "yes",
          mount: "rear-body-panel",
          looksThrough: "rear-bumper-cover",
        },
        { sensor: "steering-angle-sensor", fitted: "yes", mount: "clock-spring" },
      ],
    },
    operations: [{ id: "L1", action: "adjust", component: "wheel-alignment", adjusted: ["rear-toe"] }],
  };
}

const camera = (parts: Readonly<Record<string, unknown>> = {}) =>
  procedureWith({ id: "camera", sensor: "forward-camera", section: "3.1", ...parts });
const radar = (parts: Readonly<Record<string, unknown>> = {}) =>
  procedureWith({ id: "radar", section: "3.2", ...parts });

describe("what a procedure states stands in the plan with its source", () => {
  it("gives the method, which general rules never do", () => {
    const general = requirementOf(planWith(alignmentJob(), []), "forward-camera/calibration");
    expect(general.method).toMatchObject({ value: "unknown", procedure: null, source: null });
    const plan = planWith(alignmentJob(), [packWith({ procedures: [camera({ method: "dynamic" })] })]);
    expect(requirementOf(plan, "forward-camera/calibration").method).toEqual({
      value: "dynamic",
      usual: null,
      procedure: "camera",
      source: {
        kind: "maker-procedure",
        cite: "Norrvik workshop literature NW-2026-099 (invented)",
        section: "3.1",
        supports: "states-it",
        read: "at-source",
      },
    });
    // Of another sensor the same pack says nothing.
    expect(requirementOf(plan, "front-radar/calibration").method.value).toBe("unknown");
  });

  it("makes a parked step before a driven one where the method is both", () => {
    const plan = planWith(alignmentJob(), [
      packWith({ procedures: [camera({ method: "static-and-dynamic" })] }),
    ]);
    const own = plan.steps.filter(({ requirement }) => requirement === "forward-camera/calibration");
    expect(own.filter(({ kind }) => kind === "calibrate").map(({ id, stage }) => [id, stage])).toEqual([
      ["forward-camera/calibration/static", "static-calibration"],
      ["forward-camera/calibration/dynamic", "dynamic-calibration"],
    ]);
    expect(stepsBefore(plan, "forward-camera/calibration/dynamic")).toContain(
      "forward-camera/calibration/static",
    );
  });

  it("lets a procedure for one position go before one for all", () => {
    const plan = planWith(alignmentJob(), [
      packWith({
        procedures: [
          procedureWith({ id: "any", sensor: "rear-corner-radar", method: "dynamic" }),
          procedureWith({ id: "left", sensor: "rear-corner-radar", position: "left", method: "static" }),
        ],
      }),
    ]);
    expect(requirementOf(plan, "rear-corner-radar:left/calibration").method.procedure).toBe("left");
    expect(requirementOf(plan, "rear-corner-radar:right/calibration").method.procedure).toBe("any");
  });

  it("adds its preconditions and its evidence", () => {
    const plan = planWith(alignmentJob(), [
      packWith({
        procedures: [
          camera({ conditions: [{ precondition: "bay-temperature" }], evidence: ["battery-support"] }),
        ],
      }),
    ]);
    const requirement = requirementOf(plan, "forward-camera/calibration");
    expect(requirement.preconditions).toContain("bay-temperature");
    expect(requirement.evidence).toContain("battery-support");
    expect(plan.preconditions.find(({ id }) => id === "bay-temperature")).toMatchObject({
      certain: true,
      limit: null,
      neededBy: ["forward-camera/calibration"],
    });
  });

  it("says of a precondition only a parked way needs that it is certain once the procedure is parked", () => {
    const floorOf = (method: string) =>
      planWith(alignmentJob(), [
        packWith({ procedures: [radar({ method }), camera({ method })] }),
      ]).preconditions.find(({ id }) => id === "floor-level");
    expect(floorOf("static")?.certain).toBe(true);
    expect(floorOf("dynamic")?.neededBy ?? []).not.toContain("front-radar/calibration");
  });
});

describe("limits", () => {
  const limited = (cameraLimit: unknown, radarLimit: unknown, precondition = "thrust-angle-in-range") =>
    planWith(alignmentJob(), [
      packWith({
        procedures: [
          camera({ conditions: [{ precondition, limit: cameraLimit }] }),
          radar({ conditions: [{ precondition, limit: radarLimit }] }),
        ],
      }),
    ]).preconditions.find(({ id }) => id === precondition);

  it("keeps each with its requirement and section, and gives the one that meets all of them", () => {
    const found = limited({ low: -0.15, high: 0.2, unit: "deg" }, { low: -0.2, high: 0.1, unit: "deg" });
    expect(found?.limit).toEqual({ value: 0.1, unit: "deg", sense: "between", low: -0.15, high: 0.1 });
    expect(
      found?.limits.map(({ requirement, limit, source }) => [
        requirement,
        limit.low,
        limit.high,
        source.section,
      ]),
    ).toEqual([
      ["forward-camera/calibration", -0.15, 0.2, "3.1"],
      ["front-radar/calibration", -0.2, 0.1, "3.2"],
    ]);
  });

  it("takes the higher of two floors, and the lower of two ceilings", () => {
    expect(limited({ low: 13, unit: "V" }, { low: 13.4, unit: "V" }, "battery-supported")?.limit).toEqual({
      value: 13.4,
      unit: "V",
      sense: "at-least",
      low: 13.4,
      high: null,
    });
    expect(limited({ high: 3, unit: "mm/m" }, { high: 5, unit: "mm/m" }, "floor-level")?.limit).toEqual({
      value: 3,
      unit: "mm/m",
      sense: "at-most",
      low: null,
      high: 3,
    });
  });

  it("gives no common one for limits in two units, but still each of them", () => {
    const found = limited({ high: 3, unit: "mm/m" }, { high: 0.2, unit: "deg" }, "floor-level");
    expect(found?.limit).toBeNull();
    expect(found?.limits).toHaveLength(2);
  });

  it("holds a measured film against the thickest that the radar's procedure allows", () => {
    const job: Job = {
      ...coverOffJob(),
      operations: [{ id: "L1", action: "refinish", component: "front-bumper-cover" }],
      findings: {
        ...coverOffJob().findings,
        filmThickness: [{ component: "front-bumper-cover", overRadar: true, micrometres: 170 }],
      },
    };
    const film = (limit: number) => ({
      conditions: [{ precondition: "film-thickness-in-range", limit: { high: limit, unit: "um" } }],
    });
    const holdsWith = (...procedures: readonly Readonly<Record<string, unknown>>[]) =>
      requirementOf(planWith(job, [packWith({ procedures })]), "front-radar/calibration").holds.map(
        ({ id }) => id,
      );
    expect(holdsWith(radar(film(160)))).toEqual(["film-too-thick"]);
    expect(holdsWith(radar(film(170)))).toEqual([]);
    // Of several limits the lowest counts: a reading does not say before which radar it was taken.
    const corner = procedureWith({ id: "corner", sensor: "front-corner-radar", ...film(200) });
    expect(holdsWith(radar(film(160)), corner)).toEqual(["film-too-thick"]);
  });
});

describe("rules of a pack", () => {
  const RADAR = "front-radar/calibration";
  const inspection = "cover-removed-asks-view-inspection";

  it("can add a requirement", () => {
    const adds = ruleWith("test-adds", COVER_OFF_BEFORE_RADAR, {
      stratum: "requirements",
      concludes: { task: "own", standing: "required" },
    });
    const general = requirementOf(planWith(coverOffJob(), []), RADAR);
    const requirement = requirementOf(planWith(coverOffJob(), [packWith({ rules: [adds] })]), RADAR);
    expect(general.standing).toBe("inspect-first");
    expect(requirement.standing).toBe("required");
    expect(requirement.because.find(({ rule }) => rule === "test-adds")).toMatchObject({
      operation: "L1",
      certain: true,
      source: { kind: "maker-procedure", section: "9.1" },
    });
    // Nothing was taken away: the general rule is a reason still.
    expect(requirement.because.map(({ rule }) => rule)).toContain(inspection);
  });

  it("can waive, with the citation and with what would have been due", () => {
    const waiver = ruleWith("test-waiver", COVER_OFF_BEFORE_RADAR, {
      stratum: "waivers",
      concludes: { waives: [inspection] },
    });
    const plan = planWith(coverOffJob(), [packWith({ rules: [waiver] })]);
    expect(plan.requirements).toEqual([]);
    expect(plan.waived).toHaveLength(1);
    expect(plan.waived[0]).toMatchObject({
      sensor: "front-radar",
      position: null,
      task: "calibration",
      wouldHaveBeen: "inspect-first",
      waives: [inspection],
      by: {
        rule: "test-waiver",
        says: "The reason of test-waiver, made up for a test.",
        source: {
          kind: "maker-procedure",
          cite: "Norrvik workshop literature NW-2026-099 (invented)",
          section: "9.1",
        },
      },
    });
    expect(plan.waived[0]?.because.map(({ operation, rule }) => [operation, rule])).toEqual([
      ["L1", inspection],
    ]);
    // What is waived is not passed over as if nothing had asked for it.
    expect(plan.notIndicated.map(({ sensor }) => sensor)).not.toContain("front-radar");
  });

  it("waives nothing while its own condition is unknown", () => {
    const waiver = ruleWith(
      "test-waiver",
      [...COVER_OFF_BEFORE_RADAR, { fact: "mount", value: "front-bumper-reinforcement" }],
      { stratum: "waivers", concludes: { waives: [inspection] } },
    );
    const pack = packWith({ rules: [waiver] });
    const open = coverOffJob({
      equipment: [{ sensor: "front-radar", fitted: "yes", looksThrough: "front-bumper-cover" }],
    });
    expect(planWith(coverOffJob(), [pack]).waived).toHaveLength(1);
    const plan = planWith(open, [pack]);
    expect(plan.waived).toEqual([]);
    expect(requirementOf(plan, RADAR).couldRiseTo).toBe("required");
  });

  it("waives nothing that only may have happened", () => {
    // A headlamp comes out with the cover off on some vehicles, and with the cover on on others.
    const waiver = ruleWith("test-waiver", COVER_OFF_BEFORE_RADAR, {
      stratum: "waivers",
      concludes: { waives: [inspection] },
    });
    const lamp: Job = {
      ...coverOffJob(),
      operations: [{ id: "L1", action: "remove-install", component: "headlamp", side: "left" }],
    };
    const plan = planWith(lamp, [packWith({ rules: [waiver] })]);
    expect(requirementOf(plan, RADAR)).toMatchObject({
      standing: "undetermined",
      couldRiseTo: "inspect-first",
    });
    expect(plan.waived).toEqual([]);
  });

  it("leaves the general rule standing while an exception to it is open", () => {
    const specifies = ruleWith(
      "test-specifies",
      [...COVER_OFF_BEFORE_RADAR, { fact: "market", value: "us" }],
      {
        stratum: "requirements",
        concludes: { task: "own", standing: "required" },
        exceptionTo: [inspection],
      },
    );
    const planIn = (market: "us" | "eu" | "unknown") =>
      requirementOf(planWith(coverOffJob({ market }), [packWith({ rules: [specifies] })]), RADAR);
    expect(planIn("us")).toMatchObject({ standing: "required", couldRiseTo: null });
    expect(planIn("eu")).toMatchObject({ standing: "inspect-first", couldRiseTo: null });
    expect(planIn("unknown")).toMatchObject({ standing: "inspect-first", couldRiseTo: "required" });
  });

  it("waives only what its rules ask for, and leaves other reasons standing", () => {
    const waiver = ruleWith("test-waiver", COVER_OFF_BEFORE_RADAR, {
      stratum: "waivers",
      concludes: { waives: [inspection] },
    });
    const job = coverOffJob();
    const hit: Job = { ...job, findings: { ...job.findings, impactZones: ["front"] } };
    const plan = planWith(hit, [packWith({ rules: [waiver] })]);
    expect(plan.waived).toHaveLength(1);
    const requirement = requirementOf(plan, RADAR);
    expect(requirement.standing).toBe("inspect-first");
    expect(requirement.because.map(({ finding }) => finding)).toEqual(["/findings/impactZones/0"]);
  });

  it("can specify less than practice, which is shown like a waiver", () => {
    // Practice: after rear toe the camera is presumed due. This maker wants a measurement first.
    const specifies = ruleWith(
      "test-specifies-less",
      [
        { fact: "disturbance", value: "thrust-line-moved" },
        { fact: "sensor", value: "forward-camera" },
      ],
      {
        stratum: "requirements",
        concludes: { task: "own", standing: "inspect-first", inspection: "alignment-measurement" },
        exceptionTo: ["thrust-line-adjusted-requires-forward-calibration"],
      },
    );
    const general = planWith(alignmentJob(), []);
    const plan = planWith(alignmentJob(), [packWith({ rules: [specifies] })]);
    expect(requirementOf(general, "forward-camera/calibration").standing).toBe("presumed");
    expect(requirementOf(plan, "forward-camera/calibration").standing).toBe("inspect-first");
    // The exception names the camera alone.
    expect(requirementOf(plan, RADAR).standing).toBe("presumed");
    expect(plan.waived).toMatchObject([
      {
        sensor: "forward-camera",
        wouldHaveBeen: "presumed",
        by: { rule: "test-specifies-less", source: { section: "9.1" } },
      },
    ]);
  });

  it("can specify more than practice, which waives nothing", () => {
    const specifies = ruleWith("test-specifies-more", COVER_OFF_BEFORE_RADAR, {
      stratum: "requirements",
      concludes: { task: "own", standing: "required" },
      exceptionTo: [inspection],
    });
    const plan = planWith(coverOffJob(), [packWith({ rules: [specifies] })]);
    expect(requirementOf(plan, RADAR).standing).toBe("required");
    expect(requirementOf(plan, RADAR).inspection).toBeNull();
    expect(plan.waived).toEqual([]);
  });
});

describe("order among sensors", () => {
  const staticAll = [
    camera(),
    radar(),
    procedureWith({ id: "rear", sensor: "rear-corner-radar", method: "static" }),
  ];
  const planOrdered = (...pairs: readonly (readonly [string, string])[]) =>
    planWith(alignmentJob(), [
      packWith({
        procedures: staticAll,
        order: pairs.map(([first, then]) => ({ first, then, section: "1.4" })),
      }),
    ]);
  const CAMERA = "forward-camera/calibration";
  const RADAR = "front-radar/calibration";
  const LEFT = "rear-corner-radar:left/calibration";
  const RIGHT = "rear-corner-radar:right/calibration";

  it("is followed in either direction, in `after` and in the line", () => {
    for (const [first, then] of [
      [CAMERA, RADAR],
      [RADAR, CAMERA],
    ] as const) {
      const plan = planOrdered([first, then]);
      const ids = plan.steps.map(({ id }) => id);
      expect(stepsBefore(plan, then)).toContain(first);
      expect(ids.indexOf(first)).toBeLessThan(ids.indexOf(then));
      expect(requirementOf(plan, then).after).toContain(first);
    }
  });

  it("is left open where the pack says nothing", () => {
    const plan = planOrdered();
    expect(stepsBefore(plan, RADAR)).not.toContain(CAMERA);
    expect(stepsBefore(plan, CAMERA)).not.toContain(RADAR);
  });

  it("stands for every position where a sensor is named without one", () => {
    const plan = planOrdered(["rear-corner-radar/calibration", CAMERA]);
    expect([...stepsBefore(plan, CAMERA)]).toEqual(expect.arrayContaining([LEFT, RIGHT]));
    expect(stepsBefore(plan, LEFT)).not.toContain(CAMERA);
  });

  it("says nothing of a sensor for which nothing is due", () => {
    const plan = planOrdered(["lidar/calibration", CAMERA]);
    expect(plan.steps.map(({ requirement }) => requirement)).not.toContain("lidar/calibration");
  });

  it("puts the parts of two tasks in a row, and no static part after a drive", () => {
    // Both are calibrated in the bay and then on the road; the maker wants the camera before the radar.
    const inTwoParts = [camera(), radar()].map((each) => ({ ...each, method: "static-and-dynamic" }));
    const order = [{ first: CAMERA, then: RADAR, section: "1.4" }];
    const plan = planWith(alignmentJob(), [packWith({ procedures: inTwoParts, order })]);
    expect(stepsBefore(plan, `${RADAR}/static`)).toContain(`${CAMERA}/static`);
    expect(stepsBefore(plan, `${RADAR}/static`)).not.toContain(`${CAMERA}/dynamic`);
    expect(stepsBefore(plan, `${RADAR}/dynamic`)).toContain(`${CAMERA}/dynamic`);
    expect(stepsBefore(plan, `${CAMERA}/dynamic`)).toContain(`${RADAR}/static`);
  });

  it("is refused, with its members, where it runs against the order of all work", () => {
    // A headlamp is aimed, and a camera calibrated, only after the steering angle has its zero.
    expect(() => planOrdered([CAMERA, "steering-angle-sensor/zero-point-reset"])).toThrow(
      /the order of steps runs in a circle: .*forward-camera\/calibration.*steering-angle-sensor\/zero-point-reset|the order of steps runs in a circle: .*steering-angle-sensor\/zero-point-reset.*forward-camera\/calibration/,
    );
  });
});

describe("an invented pack", () => {
  it("is called so in the plan", () => {
    const plan = planWith(coverOffJob(), [packWith()]);
    expect(plan.procedures[0]).toMatchObject({ id: "norrvik-test", invented: true, issued: "2026-01-12" });
    expect(plan.notes.join("\n")).toContain("norrvik-test is invented for demonstration");
  });
});
