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
} from "./build.js";

const pack = packWith({
  appliesTo: { make: "Norrvik", models: ["Fjell", "Fjell Lang"], modelYears: { from: 2023, to: 2026 } },
  procedures: [procedureWith({ id: "radar-static" })],
});

const planFor = (vehicle: Partial<Job["vehicle"]>) => planWith(coverOffJob(vehicle), [pack]);
const appliedTo = (vehicle: Partial<Job["vehicle"]>) => planFor(vehicle).procedures[0]?.applies;
const methodFor = (vehicle: Partial<Job["vehicle"]>) =>
  requirementOf(planFor(vehicle), "front-radar/calibration").method.value;

/** A vehicle of which one of the three is not stated. */
const without = (field: "make" | "model" | "modelYear"): Job => {
  const job = coverOffJob();
  const { [field]: _left, ...vehicle } = job.vehicle;
  return { ...job, vehicle };
};

describe("which vehicles a pack is for", () => {
  it.each([
    ["the names as the pack writes them", { make: "Norrvik", model: "Fjell" }],
    ["other letter case and blanks", { make: " NORRVIK ", model: "fjell  lang" }],
    ["its first model year", { modelYear: 2023 }],
    ["its last model year", { modelYear: 2026 }],
  ])("applies to %s", (_what, vehicle) => {
    expect(appliedTo(vehicle)).toBe("yes");
    expect(methodFor(vehicle)).toBe("static");
  });

  it.each([
    ["another make", { make: "Alcora", model: "Tresk" }],
    ["another model", { model: "Skare" }],
    ["a model whose name only begins alike", { model: "Fjell L" }],
    ["the year before", { modelYear: 2022 }],
    ["the year after", { modelYear: 2027 }],
  ])("does not apply to %s, and asks nothing", (_what, vehicle) => {
    const plan = planFor(vehicle);
    expect(plan.procedures[0]?.applies).toBe("no");
    expect(methodFor(vehicle)).toBe("unknown");
    expect(plan.questions).toEqual([]);
  });

  it.each(["make", "model", "modelYear"] as const)(
    "is not applied while the %s is unknown; that is asked",
    (field) => {
      const plan = planWith(without(field), [pack]);
      expect(plan.procedures[0]?.applies).toBe("unknown");
      expect(requirementOf(plan, "front-radar/calibration").method).toMatchObject({
        value: "unknown",
        procedure: null,
      });
      expect(plan.outcome).toBe("needs-answers");
      expect(plan.questions.map(({ about }) => about)).toEqual(["/vehicle"]);
      expect(plan.questions[0]?.ask).toContain(
        "Is the vehicle a Norrvik Fjell or Fjell Lang of 2023 to 2026?",
      );
    },
  );

  it("asks nothing where another stated fact already rules it out", () => {
    const job = without("modelYear");
    const plan = planWith({ ...job, vehicle: { ...job.vehicle, make: "Alcora" } }, [pack]);
    expect(plan.procedures[0]?.applies).toBe("no");
    expect(plan.questions).toEqual([]);
  });

  it("stays open where the VIN leaves two model years and only one of them is inside", () => {
    // In Europe the tenth character comes round every thirty years: P is 1993 or 2023.
    const job = without("modelYear");
    const plan = planWith({ ...job, vehicle: { ...job.vehicle, vin: "0NKFJ2L30PH118204" } }, [pack]);
    expect(plan.vehicle.modelYears).toEqual([1993, 2023]);
    expect(plan.procedures[0]?.applies).toBe("unknown");
  });

  it("keeps the rules of a pack that does not apply out of the rulebook", () => {
    const waiving = packWith({
      rules: [
        ruleWith("test-waiver", COVER_OFF_BEFORE_RADAR, {
          stratum: "waivers",
          concludes: { waives: ["cover-removed-asks-view-inspection"] },
        }),
      ],
    });
    const own = planWith(coverOffJob(), [waiving]);
    const other = planWith(coverOffJob({ model: "Skare" }), [waiving]);
    expect(own.requirements).toEqual([]);
    expect(own.rulebook.packs.map(({ id }) => id)).toEqual(["common-practice", "norrvik-test"]);
    expect(other.rulebook.packs.map(({ id }) => id)).toEqual(["common-practice"]);
    expect(other.waived).toEqual([]);
    expect(requirementOf(other, "front-radar/calibration").standing).toBe("inspect-first");
  });
});
