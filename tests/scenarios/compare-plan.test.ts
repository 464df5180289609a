import { describe, expect, it } from "vitest";
import { findDifferences, type ComparedPlan } from "./compare-plan.js";

const PLAN: ComparedPlan = {
  requirements: [
    {
      id: "forward-camera/calibration",
      sensor: "forward-camera",
      position: null,
      standing: "required",
      couldRiseTo: null,
      because: [{ operation: "L1", disturbance: "optical-path-replaced" }],
      holds: [],
      preconditions: ["adhesive-cured"],
    },
    {
      id: "surround-camera:left/calibration",
      sensor: "surround-camera",
      position: "left",
      standing: "undetermined",
      couldRiseTo: "presumed",
      because: [{ operation: null, disturbance: "impact-load" }],
      holds: [{ id: "view-obstructed" }],
      preconditions: [],
    },
  ],
  questions: [{ about: "/operations/1/side", settles: ["surround-camera:left/calibration"] }],
  impliedOperations: [
    { action: "remove-install", component: "door-mirror", certain: false },
    { action: "remove-install", component: "interior-mirror", certain: true },
  ],
  steps: [
    { id: "scan", stage: "pre-repair-scan", requirement: null, after: [] },
    {
      id: "look",
      stage: "mount-inspection",
      requirement: "forward-camera/calibration",
      after: ["scan"],
    },
    { id: "align", stage: "wheel-alignment", requirement: null, after: ["look"] },
    {
      id: "aim",
      stage: "static-calibration",
      requirement: "forward-camera/calibration",
      after: ["align"],
    },
    {
      id: "seam",
      stage: "static-calibration",
      requirement: "surround-camera:left/calibration",
      after: ["scan"],
    },
  ],
  contradictions: [],
  unread: [{ operation: "L3" }],
  claimed: [{ operation: "L4" }],
};

const MATCHING = {
  requirements: {
    "forward-camera/calibration": {
      standing: "required",
      couldRiseTo: null,
      disturbances: ["optical-path-replaced"],
      operations: ["L1"],
      noHolds: true,
      preconditions: ["adhesive-cured"],
    },
    "surround-camera:left/calibration": {
      standing: "undetermined",
      couldRiseTo: "presumed",
      holds: ["view-obstructed"],
    },
  },
  notDue: ["front-radar", "surround-camera:right"],
  only: true,
  questionsAbout: ["/operations/1/side"],
  implied: [
    { action: "remove-install", component: "door-mirror", certain: false },
    { action: "remove-install", component: "interior-mirror", certain: true },
  ],
  order: [
    ["wheel-alignment", "forward-camera/calibration"],
    ["pre-repair-scan", "forward-camera/calibration"],
  ],
  contradictions: 0,
  unread: ["L3"],
  claimed: ["L4"],
} as const satisfies ReadonlyExpectation;

type ReadonlyExpectation = DeepReadonly<Parameters<typeof findDifferences>[1]>;
type DeepReadonly<T> = T extends object ? { readonly [K in keyof T]: DeepReadonly<T[K]> } : T;

function differencesWith(change: Partial<ReadonlyExpectation>): readonly string[] {
  return findDifferences(
    PLAN,
    structuredClone({ ...MATCHING, ...change }) as Parameters<typeof findDifferences>[1],
  );
}

describe("the comparison of a plan with a scenario", () => {
  it("finds nothing where the plan is as expected", () => {
    expect(differencesWith({})).toEqual([]);
  });

  it("names a requirement that the plan lacks", () => {
    expect(
      differencesWith({
        requirements: { ...MATCHING.requirements, "lidar/calibration": { standing: "required" } },
      }),
    ).toEqual(["lidar/calibration: expected required, but the plan does not ask for it"]);
  });

  it("names a standing, a rise and a hold that differ", () => {
    const requirements = {
      ...MATCHING.requirements,
      "surround-camera:left/calibration": { standing: "presumed", couldRiseTo: null, noHolds: true },
    } as const;
    expect(differencesWith({ requirements })).toEqual([
      "surround-camera:left/calibration: expected presumed, the plan says undetermined",
      "surround-camera:left/calibration: expected that it could not rise, the plan says that it could rise to presumed",
      "surround-camera:left/calibration: expected no hold, the plan holds it for view-obstructed",
    ]);
  });

  it("names each disturbance, operation, hold and precondition that is missing", () => {
    const requirements = {
      ...MATCHING.requirements,
      "forward-camera/calibration": {
        standing: "required",
        disturbances: ["sensor-removed"],
        operations: ["L2"],
        holds: ["unapproved-part"],
        preconditions: ["correct-part"],
      },
    } as const;
    expect(differencesWith({ requirements })).toEqual([
      "forward-camera/calibration: disturbance sensor-removed is missing; the plan has optical-path-replaced",
      "forward-camera/calibration: operation L2 is missing; the plan has L1",
      "forward-camera/calibration: hold unapproved-part is missing; the plan has none",
      "forward-camera/calibration: precondition correct-part is missing; the plan has adhesive-cured",
    ]);
  });

  it("finds what should not be due, by position and over all positions", () => {
    expect(differencesWith({ notDue: ["surround-camera:left"] })).toEqual([
      "surround-camera:left/calibration: expected nothing for surround-camera:left, the plan says undetermined",
    ]);
    expect(differencesWith({ notDue: ["surround-camera"] })).toEqual([
      "surround-camera:left/calibration: expected nothing for surround-camera, the plan says undetermined",
    ]);
  });

  it("finds what stands beside the listed requirements, only where asked to", () => {
    const requirements = { "forward-camera/calibration": { standing: "required" } } as const;
    expect(differencesWith({ requirements })).toEqual([
      "surround-camera:left/calibration: expected nothing beside what is listed, the plan says undetermined",
    ]);
    expect(differencesWith({ requirements, only: false })).toEqual([]);
  });

  it("finds a question that is not open", () => {
    expect(differencesWith({ questionsAtMost: 1 })).toEqual([]);
    expect(differencesWith({ questionsAtMost: 0 })).toEqual([
      "expected at most 0 questions, the plan asks 1",
    ]);
    expect(differencesWith({ questionsAbout: ["/operations/0/structural"] })).toEqual([
      "open question about /operations/0/structural is missing; the plan has /operations/1/side",
    ]);
  });

  it("tells a possible implied operation from a certain one and from none", () => {
    const implied = [
      { action: "remove-install", component: "door-mirror", certain: true },
      { action: "remove-install", component: "interior-mirror", certain: false },
      { action: "disconnect", component: "battery-12v", certain: true },
    ];
    expect(differencesWith({ implied })).toEqual([
      "remove-install door-mirror: expected as implied, certain, the plan says possible",
      "remove-install interior-mirror: expected as implied, possible, the plan says certain",
      "disconnect battery-12v: expected as implied, certain, the plan does not imply it",
    ]);
  });

  it("takes an order from what follows what, not from the place in the list", () => {
    expect(
      differencesWith({
        order: [
          ["wheel-alignment", "surround-camera:left/calibration"],
          ["forward-camera/calibration", "wheel-alignment"],
          ["headlamp-aim", "wheel-alignment"],
          ["wheel-alignment", "lidar/calibration"],
        ],
      }),
    ).toEqual([
      "order: expected wheel-alignment (align) before surround-camera:left/calibration (seam), the plan leaves it open",
      "order: expected forward-camera/calibration (aim) before wheel-alignment (align), the plan leaves it open",
      "order: the plan has no step for headlamp-aim",
      "order: the plan has no step for lidar/calibration",
    ]);
  });

  it("counts contradictions and finds lines that were not kept", () => {
    expect(differencesWith({ contradictions: 1, unread: ["L9"], claimed: ["L8"] })).toEqual([
      "contradictions: expected 1, the plan lists 0",
      "unread line L9 is missing; the plan has L3",
      "claimed line L8 is missing; the plan has L4",
    ]);
  });
});
