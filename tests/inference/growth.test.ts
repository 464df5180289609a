import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { InputError, checkPack, formatIssue } from "../../src/index.js";

const FOLDER = fileURLToPath(new URL("../../rules/common-practice", import.meta.url));
const read = (path: string): Readonly<Record<string, unknown>> =>
  JSON.parse(readFileSync(`${FOLDER}/${path}`, "utf8")) as Readonly<Record<string, unknown>>;

/** The refusals of a rule that draws work from a requirement under this condition. */
function refusalsOf(condition: object, facts: object, but: object, unknown: string): readonly string[] {
  const id = "ride-height-initialisation-implies-adjustment-of-the-sensor";
  const rule = {
    ...read(`implied-operations/${id}.json`),
    conditions: condition,
    examples: {
      fires: [{ says: "It is so here.", facts }],
      staysSilent: [{ says: "It is not so here.", like: 0, but }],
      cannotTell: [{ says: "Nobody has said.", like: 0, unknown }],
    },
  };
  try {
    checkPack({
      head: read("pack.json"),
      sources: read("sources.json"),
      rules: [{ file: `${id}.json`, content: rule }],
    });
    return [];
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return error.issues.map(formatIssue);
  }
}

const leaf = (fact: string, operator: string, value: unknown) => ({
  name: "It is so.",
  fact,
  operator,
  value,
});

describe("a rule that draws work from a requirement", () => {
  it("may ask what the requirement holds", () => {
    const condition = leaf("disturbances", "contains", "mount-removed");
    expect(
      refusalsOf(condition, { disturbances: ["mount-removed"] }, { disturbances: [] }, "disturbances"),
    ).toEqual([]);
  });

  it("may not ask what it does not hold yet", () => {
    const condition = leaf("disturbances", "doesNotContain", "mount-removed");
    expect(
      refusalsOf(condition, { disturbances: [] }, { disturbances: ["mount-removed"] }, "disturbances"),
    ).toEqual([
      'ride-height-initialisation-implies-adjustment-of-the-sensor.json: /conditions: the rule draws work from a requirement and asks what its "disturbances" does not hold; expected a condition on what it does hold, since more can come while conclusions are drawn',
    ]);
  });

  it("may not ask it in a roundabout way either", () => {
    const condition = { not: leaf("standing", "in", ["required", "presumed"]) };
    expect(
      refusalsOf(condition, { standing: "inspect-first" }, { standing: "required" }, "standing"),
    ).toHaveLength(1);
  });
});
