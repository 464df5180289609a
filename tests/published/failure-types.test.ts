import { describe, expect, it } from "vitest";
import { planCalibrations, type Job, type Plan, type Requirement } from "../../src/index.js";
import { NOTHING_FOUND, jobOf, rulebook } from "./plans.js";

// SAE J2012-DA (ISO 15031-6): the last byte of a three-byte fault code says how something failed; the same byte means
// the same in every maker's codes. Mark: published, as two public tables quote it; the standard was not read.
//   54 missing calibration · 55 not configured · 51 not programmed · 57 incompatible software · 76 wrong mounting
//   position · 78 alignment or adjustment incorrect · 95 incorrect assembly · 97 operation obstructed or blocked ·
//   46 calibration memory failure · 4A incorrect component installed · 96 internal failure
// 56 (incompatible configuration) is from memory. The first part of codes such as C1xxx is each maker's own (from
// memory): nothing may be read from it. What each byte asks for is common practice, no source.

type FaultCode = NonNullable<NonNullable<Job["findings"]>["faultCodes"]>[number];
type Equipment = NonNullable<Job["vehicle"]["equipment"]>;

const EQUIPMENT: Equipment = [
  { sensor: "forward-camera", fitted: "yes", mount: "windshield", looksThrough: "windshield" },
  {
    sensor: "front-radar",
    fitted: "yes",
    mount: "front-bumper-reinforcement",
    looksThrough: "front-bumper-cover",
  },
  { sensor: "rear-corner-radar", fitted: "yes", mount: "quarter-panel", looksThrough: "rear-bumper-cover" },
  { sensor: "steering-angle-sensor", fitted: "yes", mount: "clock-spring" },
];

/** A door that needs its handle touches no sensor: what is due comes from the code alone. */
function planWithCode(code: Partial<FaultCode>, operations?: Job["operations"]): Plan {
  const faultCode: FaultCode = { sensor: "forward-camera", read: "post-repair", status: "active", ...code };
  return planCalibrations(
    jobOf(operations ?? [{ id: "L1", action: "replace", component: "door-handle", side: "left" }], {
      vehicle: {
        make: "Norrvik",
        model: "Skare",
        equipment: EQUIPMENT,
        equipmentComplete: true,
        levellingSuspension: "no",
        market: "eu",
      },
      findings: { ...NOTHING_FOUND, faultCodes: [faultCode] },
    }),
    { rulebook },
  );
}

function taskOf(plan: Plan, id: string): Requirement | undefined {
  return plan.requirements.find((each) => each.id === id);
}

const holdsOf = (requirement: Requirement | undefined): readonly string[] | undefined =>
  requirement?.holds.map(({ id }) => id);

/** The sensor of a code, and what is due for it. */
const TARGETS: readonly (readonly [FaultCode["sensor"], FaultCode["position"], string])[] = [
  ["forward-camera", undefined, "forward-camera/calibration"],
  ["front-radar", undefined, "front-radar/calibration"],
  ["rear-corner-radar", "left", "rear-corner-radar:left/calibration"],
  ["steering-angle-sensor", undefined, "steering-angle-sensor/zero-point-reset"],
];

describe.each(TARGETS)("a code of the %s %s", (sensor, position, id) => {
  const planOf = (code: string, more: Partial<FaultCode> = {}): Plan =>
    planWithCode({ sensor, ...(position === undefined ? {} : { position }), code, ...more });

  it("-54: the task is due, and nothing stands in its way", () => {
    const plan = planOf("C1A67-54");
    expect(taskOf(plan, id)).toMatchObject({ standing: "required", couldRiseTo: null, holds: [] });
    expect(taskOf(plan, id)?.because.map(({ disturbance }) => disturbance)).toEqual(["fault-stored"]);
    expect(taskOf(plan, id)?.because[0]?.finding).toBe("/findings/faultCodes/0");
    // No other sensor is drawn in, not even the same kind on the other side.
    expect(plan.requirements.map((each) => each.id)).toEqual([id]);
  });

  it.each(["C1A67-78", "C1A67-76", "C1A67-95"])("%s: due, but the mount is looked at first", (code) => {
    const requirement = taskOf(planOf(code), id);
    expect(requirement?.standing).toBe("required");
    expect(holdsOf(requirement)).toEqual(["mount-inspection-first"]);
  });

  it.each(["C1A67-55", "C1A67-51", "C1A67-56", "C1A67-57"])("%s: due, but it is configured first", (code) => {
    const requirement = taskOf(planOf(code), id);
    expect(requirement?.standing).toBe("required");
    expect(holdsOf(requirement)).toEqual(["configure-first"]);
  });

  it("-97: it is cleaned, uncovered and read again first", () => {
    const requirement = taskOf(planOf("C1A67-97"), id);
    expect(requirement).toMatchObject({ standing: "inspect-first", couldRiseTo: null, holds: [] });
    expect(requirement?.inspection).not.toBeNull();
  });

  it.each(["C1A67-46", "C1A67-4A", "C1A67-96", "C1A67-98", "C1A67-00"])(
    "%s: nothing is calibrated before the fault is diagnosed",
    (code) => {
      const plan = planOf(code);
      const requirement = taskOf(plan, id);
      // However it sounds, the byte does not say that a calibration is missing.
      expect(requirement?.standing).not.toBe("required");
      expect(requirement?.standing).not.toBe("presumed");
      if (requirement !== undefined) expect(holdsOf(requirement)).toEqual(["unrelated-fault-codes"]);
    },
  );

  it("reads the byte and nothing else: any maker's code that ends alike is the same", () => {
    const due = (code: string): unknown =>
      planOf(code).requirements.map(({ id: each, standing, holds }) => [
        each,
        standing,
        holds.map((hold) => hold.id),
      ]);
    for (const byte of ["54", "55", "78", "97", "96"]) {
      for (const code of [
        `U2233-${byte}`,
        `B1F0E-${byte}`,
        `c1a67-${byte}`,
        `C0051-${byte}`,
        `P0602-${byte}`,
      ]) {
        expect(due(code), code).toEqual(due(`C1A67-${byte}`));
      }
    }
  });

  it("without the byte says nothing about calibration: it is asked, never read as a generic code", () => {
    for (const code of ["C1A67", "C1433", "C1AA8"]) {
      const plan = planOf(code);
      expect(taskOf(plan, id)).toMatchObject({ standing: "undetermined", couldRiseTo: "required" });
      expect(plan.questions.map(({ about }) => about)).toContain("/findings/faultCodes/0/means");
    }
  });
});

describe("a code beside work that disturbs the same sensor", () => {
  const glass: Job["operations"] = [
    {
      id: "L1",
      action: "replace",
      component: "windshield",
      part: { bracketIncluded: "yes", variantConfirmed: "yes" },
    },
  ];

  it.each(["C1A67-46", "C1A67-4A", "C1A67-96"])("%s holds the calibration that the work asks for", (code) => {
    const requirement = taskOf(planWithCode({ code }, glass), "forward-camera/calibration");
    expect(requirement?.standing).toBe("required");
    expect(holdsOf(requirement)).toContain("unrelated-fault-codes");
    expect(requirement?.because.map(({ operation }) => operation)).toContain("L1");
  });

  it("-54 is expected after glass work, and holds nothing", () => {
    const requirement = taskOf(planWithCode({ code: "C1A67-54" }, glass), "forward-camera/calibration");
    expect(requirement?.standing).toBe("required");
    expect(holdsOf(requirement)).toEqual([]);
    expect(requirement?.because.map(({ disturbance }) => disturbance)).toEqual(
      expect.arrayContaining(["optical-path-replaced", "fault-stored"]),
    );
  });

  it("a code read before the repair on a sensor that is replaced holds nothing", () => {
    const replaced: Job["operations"] = [
      {
        id: "L1",
        action: "replace",
        component: "sensor",
        sensor: "front-radar",
        part: { configured: "yes" },
      },
    ];
    const plan = planWithCode({ sensor: "front-radar", code: "C1A67-96", read: "pre-repair" }, replaced);
    const requirement = taskOf(plan, "front-radar/calibration");
    expect(requirement?.standing).toBe("required");
    expect(holdsOf(requirement)).toEqual([]);
  });

  it("a code of another sensor holds that sensor alone", () => {
    const plan = planWithCode({ sensor: "steering-angle-sensor", code: "C1A67-96" }, glass);
    expect(holdsOf(taskOf(plan, "forward-camera/calibration"))).toEqual([]);
  });
});
