import { describe, expect, it } from "vitest";
import { InputError, loadRulebook, planCalibrations, readJob, type Job } from "../../src/index.js";

const rulebook = loadRulebook();

const orderOf = (count: number, operation: Omit<Job["operations"][number], "id">): Job => ({
  schema: "repair-calibration/job@1",
  reference: "RO-1",
  vehicle: {},
  operations: Array.from({ length: count }, (_, index) => ({ id: `L${index + 1}`, ...operation })),
});

function issuesOf(input: unknown): readonly string[] {
  try {
    readJob(input);
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.issues.map(({ code, pointer }) => `${code} ${pointer}`);
  }
}

describe("an order far longer than any", () => {
  // Each line leaves the same points open, so whatever compares them line by line takes minutes here.
  it("is planned while one waits, each line a reason of its own", { timeout: 25_000 }, () => {
    const { requirements } = planCalibrations(orderOf(800, { action: "repair", component: "front-rail" }), {
      rulebook,
    });
    const lines = new Set(requirements.flatMap(({ because }) => because.map(({ operation }) => operation)));
    expect(lines.size).toBe(800);
  });

  it("is refused beyond the limit, whose last line is still taken", () => {
    const atLimit = orderOf(2000, { action: "refinish", component: "hood" });
    expect(issuesOf(atLimit)).toEqual([]);
    const [first] = atLimit.operations;
    expect(issuesOf({ ...atLimit, operations: [...atLimit.operations, { ...first, id: "L2001" }] })).toEqual([
      "too-many /operations",
    ]);
    const entry = { sensor: "front-radar", fitted: "yes" };
    const listing = (count: number) => ({
      ...orderOf(0, { action: "repair", component: "hood" }),
      vehicle: { equipment: Array.from({ length: count }, () => entry) },
    });
    expect(issuesOf(listing(500))).toEqual([]);
    expect(issuesOf(listing(501))).toEqual(["too-many /vehicle/equipment"]);
  });

  it("is refused with every key that it should not have, in the order in which they stand", () => {
    const keys = Array.from({ length: 20_000 }, (_, index) => `k${index}`);
    const job = { ...orderOf(0, { action: "repair", component: "hood" }) };
    const issues = issuesOf({ ...job, vehicle: Object.fromEntries(keys.map((key) => [key, 1])) });
    expect(issues).toEqual(keys.map((key) => `unknown-key /vehicle/${key}`));
  });
});

describe("a line whose id reads like the name of something else", () => {
  it.each([
    'impact-zone:"front"',
    'impact-zone\\n"front"',
    "I1",
    "Q1",
    "/findings/impactZones/0",
    "__proto__",
  ])("is a line like any other: %s", (id) => {
    const order = orderOf(1, { action: "replace", component: "windshield" });
    const planned = (name: string) =>
      planCalibrations(
        {
          ...order,
          operations: [{ ...order.operations[0], id: name } as Job["operations"][number]],
          findings: { impactZones: ["front"] },
        },
        { rulebook },
      ).requirements.map((each) => [
        each.id,
        each.standing,
        each.because.map(({ operation, finding }) => (operation === name ? "the line" : finding)).sort(),
      ]);
    expect(planned(id)).toEqual(planned("L1"));
  });
});
