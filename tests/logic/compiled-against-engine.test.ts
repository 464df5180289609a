import fc from "fast-check";
import { Engine, type TopLevelCondition } from "json-rules-engine";
import { describe, expect, it } from "vitest";
import { FALSE, TRUE, compileCondition, type Condition } from "../../src/logic/index.js";
import { buildEngine, runEngine } from "../../src/reference/engines.js";
import { checkLater } from "../properties.js";
import { condition, knownFacts, openFacts, readerOf, type Facts } from "./arbitrary-condition.js";

const compile = (tree: Condition) => compileCondition<Facts, string>(tree, readerOf);
const rulesOf = (trees: readonly Condition[]) =>
  trees.map((conditions, index) => ({ id: `rule-${index}`, conditions }));
const several = fc.array(condition, { minLength: 1, maxLength: 12 });

describe("compiled conditions and json-rules-engine", () => {
  it("agree on what is certain and on what is possible, whatever is open", async () => {
    await checkLater(
      fc.asyncProperty(several, openFacts, async (trees, facts) => {
        const certain = await runEngine(buildEngine(rulesOf(trees), "certain"), facts);
        const possible = await runEngine(buildEngine(rulesOf(trees), "possible"), facts);
        trees.forEach((tree, index) => {
          const truth = compile(tree).evaluate(facts);
          expect(certain.includes(`rule-${index}`), JSON.stringify(tree)).toBe(truth === TRUE);
          expect(possible.includes(`rule-${index}`), JSON.stringify(tree)).toBe(truth !== FALSE);
        });
      }),
      400,
    );
  });

  it("agree where all is known, with the engine's own operators and negations", async () => {
    await checkLater(
      fc.asyncProperty(several, knownFacts, async (trees, facts) => {
        const engine = new Engine([], { pathResolver: () => undefined });
        for (const { id, conditions } of rulesOf(trees)) {
          const top = { all: [conditions] } as unknown as TopLevelCondition;
          engine.addRule({ name: id, conditions: top, event: { type: "fires" } });
        }
        const plain = Object.entries(facts).map(([name, value]) => [name, value.candidates?.[0]]);
        const { results } = await engine.run(Object.fromEntries(plain) as Record<string, unknown>);
        const fired = results.map(({ name }) => name);
        trees.forEach((tree, index) => {
          const truth = compile(tree).evaluate(facts);
          expect(fired.includes(`rule-${index}`), JSON.stringify(tree)).toBe(truth === TRUE);
        });
      }),
      400,
    );
  });

  it("read a fact that is missing as open, where the engine alone would read it as a no", async () => {
    const isRed: Condition = { name: "It is red.", fact: "colour", operator: "equal", value: "red" };
    const isNotRed: Condition = { not: isRed };
    const rules = rulesOf([isRed, isNotRed]);
    expect(await runEngine(buildEngine(rules, "certain"), {})).toEqual([]);
    expect(await runEngine(buildEngine(rules, "possible"), {})).toEqual(["rule-0", "rule-1"]);
  });

  it("keep runs of one engine apart that overlap", async () => {
    const isRed: Condition = { name: "It is red.", fact: "colour", operator: "equal", value: "red" };
    const engine = buildEngine(rulesOf([isRed]), "certain");
    const runs: Promise<readonly string[]>[] = [];
    for (let count = 0; count < 100; count += 1) {
      runs.push(runEngine(engine, { colour: { candidates: ["red"] } }));
      // A little later each time, so that some run starts just when another one ends.
      await Promise.resolve();
    }
    const fired = (await Promise.all(runs)).map((names) => names.length);
    expect(fired).toEqual(runs.map(() => 1));
  });
});
