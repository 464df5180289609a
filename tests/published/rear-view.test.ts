import { describe, expect, it } from "vitest";
import { planCalibrations, type Job, type Plan, type Requirement } from "../../src/index.js";
import { NOTHING_FOUND, jobOf, rulebook } from "./plans.js";

// 49 CFR 571.111, rear visibility: light vehicles sold in the US show the driver a picture of a zone of 10 by 20 feet
// behind the vehicle, at its proper size, soon after reverse is engaged (full compliance since 1 May 2018). Mark:
// published, as reported in the trade press (NTEA); the paragraphs were not read, and no geometry of the test objects
// is used here. That work on the camera or what carries it calls for a look at that picture follows from it: derived.

type Operation = Job["operations"][number];
type Equipment = NonNullable<Job["vehicle"]["equipment"]>[number];
type Mount = NonNullable<Equipment["mount"]>;

const CHECK = "rear-camera/function-check";

function plan(
  equipment: readonly Equipment[],
  operation: Omit<Operation, "id">,
  vehicle: Partial<Job["vehicle"]> = {},
) {
  return planCalibrations(
    jobOf([{ id: "L1", ...operation }], {
      vehicle: {
        make: "Norrvik",
        model: "Skare",
        market: "us",
        vehicleClass: "light-multipurpose-or-truck",
        equipmentComplete: true,
        equipment: [...equipment],
        ...vehicle,
      },
      findings: NOTHING_FOUND,
    }),
    { rulebook },
  );
}

function rearCamera(mount: Mount): Equipment {
  return { sensor: "rear-camera", fitted: "yes", mount, looksThrough: "nothing", serves: [] };
}

function find(plan: Plan, id: string): Requirement | undefined {
  return plan.requirements.find((each) => each.id === id);
}

const onCamera = (action: Operation["action"]): Omit<Operation, "id"> => ({
  action,
  component: "sensor",
  sensor: "rear-camera",
});

/** The place of the camera, what was done, and why that reaches it. */
const WORK: readonly (readonly [Mount, Omit<Operation, "id">, string])[] = [
  ["liftgate", onCamera("replace"), "the camera itself"],
  ["liftgate", onCamera("remove-install"), "the camera itself"],
  ["liftgate", onCamera("adjust"), "the camera itself"],
  ["tailgate", { action: "replace", component: "sensor-bracket", sensor: "rear-camera" }, "its bracket"],
  ["liftgate", { action: "replace", component: "liftgate" }, "its mount"],
  ["liftgate", { action: "remove-install", component: "liftgate" }, "its mount"],
  ["trunk-lid", { action: "replace", component: "trunk-lid" }, "its mount"],
  ["trunk-lid", { action: "adjust", component: "trunk-lid" }, "the hinges of its mount"],
  ["tailgate", { action: "remove-install", component: "tailgate" }, "its mount"],
  ["tailgate", { action: "overhaul", component: "tailgate" }, "its mount"],
  ["liftgate", { action: "repair", component: "liftgate", atMounting: "yes" }, "its mount, at the mounting"],
  ["rear-bumper-cover", { action: "remove-install", component: "rear-bumper-cover" }, "its mount"],
  [
    "rear-bumper-cover",
    { action: "replace", component: "rear-bumper-assembly" },
    "its mount, as a part of the whole",
  ],
  [
    "rear-bumper-cover",
    { action: "replace", component: "rear-bumper-reinforcement" },
    "its mount, which comes off for it",
  ],
  ["spoiler", { action: "replace", component: "spoiler" }, "its mount"],
  ["spoiler", { action: "remove-install", component: "liftgate" }, "what carries its mount"],
];

describe("after work that reaches the rear camera its picture is checked (49 CFR 571.111, trade press)", () => {
  it.each(WORK)("camera on the %s, %j: %s", (mount, operation) => {
    const found = find(plan([rearCamera(mount)], operation), CHECK);
    expect(found).toMatchObject({ task: "function-check", standing: "required" });
    expect(found?.because.every((each) => each.operation === "L1")).toBe(true);
    expect(found?.evidence).toContain("function-check");
    // The rule's own document is among the reasons, and says how closely it supports.
    const regulation = found?.because.find(({ source }) => source.kind === "regulation");
    expect(regulation?.source).toMatchObject({ supports: "implies-it", read: "second-hand" });
    expect(regulation?.source.cite).toContain("49 CFR 571.111");
  });

  it.each(WORK)(
    "also where it is one device with the rear camera of surround view: %s, %j",
    (mount, operation) => {
      const equipment: readonly Equipment[] = [
        { ...rearCamera(mount), sameDeviceAs: "surround-camera:rear" },
        { sensor: "surround-camera", position: "rear", fitted: "yes", mount, looksThrough: "nothing" },
      ];
      const found = plan(equipment, operation);
      expect(find(found, CHECK)?.standing).toBe("required");
      // The check is not instead of the calibration that surround view asks for, whichever of the two ids names it.
      const calibration = found.requirements.filter(({ task }) => task === "calibration");
      expect(calibration.map((each) => [each.sensor, ...each.alsoFor].join()).join()).toMatch(
        /surround-camera/,
      );
    },
  );

  it.each(["eu", "uk", "jp", "au"] as const)(
    "in %s as good practice, without the US rule as its reason",
    (market) => {
      const found = find(
        plan([rearCamera("liftgate")], { action: "replace", component: "liftgate" }, { market }),
        CHECK,
      );
      expect(found?.standing).toBe("required");
      expect(found?.because.map(({ source }) => source.kind)).not.toContain("regulation");
    },
  );

  it("without the US rule for a vehicle heavier than the rule covers", () => {
    const found = find(
      plan([rearCamera("liftgate")], { action: "replace", component: "liftgate" }, { vehicleClass: "other" }),
      CHECK,
    );
    expect(found?.standing).toBe("required");
    expect(found?.because.map(({ source }) => source.kind)).not.toContain("regulation");
  });
});

const REAR: Equipment = rearCamera("liftgate");
const SURROUND: Equipment = {
  sensor: "surround-camera",
  position: "rear",
  fitted: "yes",
  mount: "liftgate",
  looksThrough: "nothing",
};

describe.each([
  ["the rear camera", [{ ...REAR, sameDeviceAs: "surround-camera:rear" }, SURROUND]],
  ["the surround camera", [REAR, { ...SURROUND, sameDeviceAs: "rear-camera" }]],
] as const)("one device under two names is reached under either, where %s says so", (_which, equipment) => {
  it("replaced as the camera of surround view, its rear picture is checked too", () => {
    const found = plan(equipment, {
      action: "replace",
      component: "sensor",
      sensor: "surround-camera",
      position: "rear",
    });
    expect(find(found, CHECK)?.standing).toBe("required");
    expect(found.requirements.map(({ id, alsoFor }) => [id, ...alsoFor].join())).toContainEqual(
      expect.stringMatching(
        /^(surround-camera:rear|rear-camera)\/calibration,(rear-camera|surround-camera:rear)$/,
      ),
    );
  });

  it("replaced as the rear camera, surround view is not called untouched", () => {
    const found = plan(equipment, onCamera("replace"));
    const untouched = found.notIndicated.filter(({ reason }) => reason === "no-rule-asks-for-it");
    expect(untouched.map(({ sensor, position }) => `${sensor}:${position ?? ""}`)).not.toContain(
      "surround-camera:rear",
    );
  });
});

describe("work that does not reach the rear camera leaves it alone", () => {
  it.each<readonly [Mount, Omit<Operation, "id">]>([
    ["liftgate", { action: "remove-install", component: "rear-bumper-cover" }],
    ["trunk-lid", { action: "replace", component: "front-bumper-cover" }],
    ["rear-bumper-cover", { action: "remove-install", component: "liftgate" }],
    ["tailgate", { action: "replace", component: "windshield" }],
    ["liftgate", { action: "paintless-repair", component: "hood" }],
  ])("camera on the %s, %j", (mount, operation) => {
    const found = plan([rearCamera(mount)], operation);
    expect(found.requirements.filter(({ sensor }) => sensor === "rear-camera")).toEqual([]);
    expect(found.notIndicated).toContainEqual(
      expect.objectContaining({ sensor: "rear-camera", reason: "no-rule-asks-for-it" }),
    );
  });
});

describe("a picture that may be disturbed is not passed over", () => {
  it("a lid refinished, with the camera perhaps taken off for it, is asked about", () => {
    const found = plan([rearCamera("liftgate")], { action: "refinish", component: "liftgate" });
    const check = find(found, CHECK);
    expect([check?.standing, check?.couldRiseTo]).not.toContainEqual(undefined);
    expect(check?.standing === "required" || check?.couldRiseTo === "required").toBe(true);
  });

  it("a camera whose place nobody stated is asked about after a lid was off", () => {
    const found = plan([{ sensor: "rear-camera", fitted: "yes", serves: [] }], {
      action: "remove-install",
      component: "trunk-lid",
    });
    expect(find(found, CHECK)).toMatchObject({ standing: "undetermined", couldRiseTo: "required" });
    expect(found.questions.map(({ about }) => about)).toContain("/vehicle/equipment/0/mount");
  });

  it("a camera of which nobody stated whether it is fitted is asked about", () => {
    const found = plan(
      [],
      { action: "remove-install", component: "trunk-lid" },
      { equipmentComplete: false },
    );
    expect(find(found, CHECK)).toMatchObject({
      standing: "undetermined",
      fitted: "unknown",
      couldRiseTo: "required",
    });
  });
});
