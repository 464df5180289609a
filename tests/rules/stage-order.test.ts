import { describe, expect, it } from "vitest";
import { COMMON_PRACTICE, InputError } from "../../src/index.js";
import { orderStages, type RuleOf } from "../../src/rulebook/index.js";
import type { StageId } from "../../src/vocabulary/index.js";

function ruleFor(id: string, earlier: readonly StageId[], later: readonly StageId[]): RuleOf<"order"> {
  const like = COMMON_PRACTICE.rules.find((rule) => rule.stratum === "order");
  if (like === undefined) throw new Error("the bundled rules order nothing");
  const leaf = (fact: string, value: readonly StageId[]) =>
    ({ name: "It is one of these.", fact, operator: "in", value }) as const;
  return { ...like, id, conditions: { all: [leaf("earlier", earlier), leaf("later", later)] } };
}

describe("the order of stages", () => {
  it("puts no stage before itself where a rule names it on both sides", () => {
    const order = orderStages([
      ruleFor("one", ["pre-repair-scan", "fitting"], ["fitting", "post-repair-scan"]),
    ]);
    expect(order.isBefore("pre-repair-scan", "fitting")).toBe(true);
    expect(order.isBefore("fitting", "post-repair-scan")).toBe(true);
    expect(order.isBefore("fitting", "fitting")).toBe(false);
    expect(order.directlyBefore(["pre-repair-scan", "fitting", "post-repair-scan"])).toEqual(
      new Map([
        ["pre-repair-scan", []],
        ["fitting", ["pre-repair-scan"]],
        ["post-repair-scan", ["fitting"]],
      ]),
    );
  });

  it("is refused where two rules put two stages before one another, both named", () => {
    const rules = [ruleFor("one", ["fitting"], ["road-test"]), ruleFor("two", ["road-test"], ["fitting"])];
    expect(() => orderStages(rules)).toThrow(InputError);
    expect(() => orderStages(rules)).toThrow(/"one".*"two"|"two".*"one"/);
  });
});
