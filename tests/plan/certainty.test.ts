import { describe, expect, it } from "vitest";
import {
  COMMON_PRACTICE,
  loadRulebook,
  planCalibrations,
  renderMermaid,
  type Job,
  type Plan,
} from "../../src/index.js";

const rulebook = loadRulebook();
/** The bundled rules, but for those that put stages in an order. */
const unordered = loadRulebook([
  { ...COMMON_PRACTICE, rules: COMMON_PRACTICE.rules.filter(({ stratum }) => stratum !== "order") },
]);
const NOTHING_FOUND = {
  impactZones: [],
  impactWheels: [],
  faultCodes: [],
  airbagsDeployed: false,
  structuralDamage: false,
  rideHeightChange: { front: 0, rear: 0 },
} satisfies Job["findings"];

function plan(
  equipment: Job["vehicle"]["equipment"],
  operations: Job["operations"],
  findings: Job["findings"] = {},
  rules = rulebook,
): Plan {
  return planCalibrations(
    {
      schema: "repair-calibration/job@1",
      reference: "RO-1",
      vehicle: { equipment, equipmentComplete: true },
      operations,
      findings: { ...NOTHING_FOUND, ...findings },
    },
    { rulebook: rules },
  );
}

describe("what is certain beside what only may be", () => {
  it("keeps a precondition certain that every method needs, and no other, while the method is open", () => {
    const { preconditions } = plan(
      [{ sensor: "forward-camera", fitted: "yes", mount: "windshield" }],
      [{ id: "L1", action: "replace", component: "windshield" }],
    );
    const certainty = Object.fromEntries(preconditions.map(({ id, certain }) => [id, certain]));
    // Parked or driven, the load is prescribed and the glass has cured; a level floor and a route serve one of the two.
    expect(certainty).toMatchObject({
      "load-defined": true,
      "adhesive-cured": true,
      "floor-level": false,
      "drive-route-suitable": false,
    });
  });

  it("puts the inspection first on which an undetermined calibration turns, even if no rule orders stages", () => {
    const { steps } = plan(
      [
        {
          sensor: "front-radar",
          fitted: "unknown",
          mount: "front-bumper-reinforcement",
          looksThrough: "front-bumper-cover",
        },
      ],
      [{ id: "L1", action: "remove-install", component: "front-bumper-cover" }],
      {},
      unordered,
    );
    const calibration = steps.find(({ id }) => id === "front-radar/calibration");
    expect(calibration?.onlyIf).toBe("The open questions are answered so that it is due.");
    expect(calibration?.after).toEqual(["front-radar/view-inspection"]);
  });

  it("makes an inspection of the whole vehicle certain if one of the sensors surely needs it", () => {
    const { requirements, steps } = plan(
      [
        { sensor: "forward-camera", fitted: "yes", mount: "windshield" },
        { sensor: "front-radar", fitted: "yes", mount: "front-bumper-reinforcement" },
      ],
      [],
      {
        faultCodes: [
          { sensor: "forward-camera", means: "other", read: "post-repair" },
          { sensor: "front-radar", means: "other", read: "post-repair", status: "active" },
        ],
      },
    );
    expect(requirements.map(({ id, standing }) => `${standing} ${id}`)).toEqual([
      "inspect-first front-radar/calibration",
      "undetermined forward-camera/calibration",
    ]);
    expect(steps.filter(({ stage }) => stage === "telltale-check").map(({ onlyIf }) => onlyIf)).toEqual([
      null,
    ]);
  });

  it("draws the way to work certain that one chain shows to be, whatever a later chain leaves open", () => {
    const inCover = { mount: "front-bumper-cover", looksThrough: "front-bumper-cover" } as const;
    const chart = renderMermaid(
      plan(
        [
          { sensor: "front-radar", fitted: "yes", ...inCover },
          { sensor: "front-corner-radar", position: "left", fitted: "unknown", ...inCover },
        ],
        [{ id: "L1", action: "replace", component: "front-bumper-reinforcement" }],
      ),
    );
    expect(chart).toMatch(/work1\("Implied I\d, remove and install front bumper cover"\)/);
    expect(chart).toContain("  line1 --> work1\n");
    expect(chart).toContain("  work1 -.-> ");
  });
});
