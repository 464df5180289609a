import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations } from "../../src/index.js";
import { findDifferences } from "./compare-plan.js";
import { readScenarios } from "./scenario.js";

const files = readScenarios(fileURLToPath(new URL(".", import.meta.url)));
const rulebook = loadRulebook();
const byName = files.map((file) => [file.name, file.scenario] as const);

describe("what the trade holds to be due after a work order", () => {
  it.each(byName)("%s", (_name, scenario) => {
    // The library checks the job itself, and refuses one that does not have its shape.
    const plan = planCalibrations(scenario.job as Parameters<typeof planCalibrations>[0], { rulebook });
    expect(findDifferences(plan, scenario.expect), `${scenario.title}\n${scenario.reasoning}`).toEqual([]);
  });
});

describe("the scenarios themselves", () => {
  it("have a title and a reference of their own", () => {
    const titles = files.map((file) => file.scenario.title);
    const references = files.map((file) => file.scenario.job["reference"]);
    expect(new Set(titles).size).toBe(files.length);
    expect(new Set(references).size).toBe(files.length);
  });

  it.each(byName)("%s speaks of its own lines", (_name, scenario) => {
    const ids = scenario.job.operations.map((operation) => operation.id);
    const named = [
      ...Object.values(scenario.expect.requirements).flatMap((wanted) => wanted.operations ?? []),
      ...(scenario.expect.unread ?? []),
      ...(scenario.expect.claimed ?? []),
    ];
    expect(new Set(ids).size).toBe(ids.length);
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });
});
