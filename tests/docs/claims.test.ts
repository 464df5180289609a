import { describe, expect, it } from "vitest";
import { deriveJob } from "../../src/plan-calibrations.js";
import type { Derivation } from "../../src/inference/index.js";
import { findCycle } from "../../src/procedures/index.js";
import {
  ACTION_IDS,
  COMPONENT_IDS,
  SENSOR_IDS,
  loadRulebook,
  planCalibrations,
  type Job,
} from "../../src/index.js";

const rulebook = loadRulebook();

function jobOf(operation: Omit<Job["operations"][number], "id">, vehicle: Job["vehicle"] = {}): Job {
  return {
    schema: "repair-calibration/job@1",
    reference: "RO-1",
    vehicle,
    operations: [{ id: "L1", ...operation }],
  };
}

/** Which operation brought which: through a rule, or through a requirement that a rule draws work from. */
function links(derivation: Derivation): readonly (readonly [string, string])[] {
  return [...derivation.causes.values()].flatMap((node) =>
    node.from.flatMap((way) => {
      const supports = derivation.requirements.get(way.fromRequirement ?? "")?.supports ?? [];
      const from =
        way.fromCause === null ? supports.map(({ disturbance }) => disturbance.cause) : [way.fromCause];
      return from.map((key) => [key, node.key] as const);
    }),
  );
}

describe("what docs/how-it-decides.md claims of the bundled rules", () => {
  it("implied operations run in no circle", { timeout: 120_000 }, () => {
    const circles = new Set<string>();
    let implied = 0;
    for (const component of COMPONENT_IDS) {
      const isNamed = component === "sensor" || component === "sensor-bracket";
      for (const sensor of isNamed ? SENSOR_IDS : [undefined]) {
        for (const action of ACTION_IDS) {
          const text = "a line";
          const job = jobOf({ action, component, text, ...(sensor === undefined ? {} : { sensor }) });
          const found = links(deriveJob(job, { rulebook }).derivation);
          implied += found.length;
          const circle = findCycle(found);
          if (circle !== null) circles.add(circle.map((key) => key.trim()).join(" → "));
        }
      }
    }
    expect(implied).toBeGreaterThan(1000);
    expect([...circles]).toEqual([]);
  });

  it("waive nothing", () => {
    expect(rulebook.rules.filter(({ rule }) => rule.stratum === "waivers")).toEqual([]);
    expect(rulebook.rules.filter(({ rule }) => (rule.exceptionTo ?? []).length > 0)).toEqual([]);
  });

  it("state no method and no limit", () => {
    const plan = planCalibrations(jobOf({ action: "replace", component: "windshield" }), { rulebook });
    const calibrations = plan.requirements.filter(({ task }) => task === "calibration");
    expect(calibrations.length).toBeGreaterThan(0);
    expect(new Set(calibrations.map(({ method }) => method.value))).toEqual(new Set(["unknown"]));
    expect(plan.preconditions.every(({ limit, limits }) => limit === null && limits.length === 0)).toBe(true);
  });
});

describe("what docs/how-it-decides.md claims of unknowns", () => {
  it("all candidates that agree settle a comparison, though the fact is open", () => {
    // Bar, carrier, rail and apron are all of them not the cover, so the cover did not take the radar with it.
    const about = (mount: "front-structure" | "front-bumper-cover") =>
      planCalibrations(
        jobOf(
          { action: "remove-install", component: "front-bumper-cover" },
          {
            equipment: [{ sensor: "front-radar", fitted: "yes", mount, looksThrough: "nothing" }],
            equipmentComplete: true,
          },
        ),
        { rulebook },
      ).requirements.find(({ id }) => id === "front-radar/calibration")?.standing;
    expect(about("front-bumper-cover")).toBe("required");
    expect(about("front-structure")).not.toBe("required");
    expect(about("front-structure")).not.toBe("undetermined");
  });

  it("a feature proves the one sensor that alone can serve it, and of several only that one is there", () => {
    const fitted = (
      features: NonNullable<Job["vehicle"]["features"]>,
      absent: readonly ("lidar" | "front-radar")[],
    ) =>
      planCalibrations(
        jobOf(
          { action: "replace", component: "windshield" },
          { features, equipment: absent.map((sensor) => ({ sensor, fitted: "no" as const })) },
        ),
        { rulebook },
      );
    const camera = (plan: ReturnType<typeof fitted>) =>
      plan.requirements.find(({ id }) => id === "forward-camera/calibration");
    expect(camera(fitted({ "lane-keeping-assistance": "standard" }, []))?.fitted).toBe("yes");
    const several = fitted({ "crash-imminent-braking": "standard" }, []);
    expect(camera(several)?.fitted).toBe("unknown");
    expect(several.atLeastOneOf.map(({ sensors }) => [...sensors].sort())).toEqual([
      ["forward-camera", "front-radar", "lidar"],
    ]);
    expect(camera(fitted({ "crash-imminent-braking": "standard" }, ["front-radar", "lidar"]))?.fitted).toBe(
      "yes",
    );
  });
});
