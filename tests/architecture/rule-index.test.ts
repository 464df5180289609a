import { describe, expect, it } from "vitest";
import { Relation, ask, touchBetween, type Asked } from "../../src/facts/index.js";
import { compileRulebook, type CauseNode } from "../../src/inference/index.js";
import { FALSE } from "../../src/logic/index.js";
import { deriveJob } from "../../src/plan-calibrations.js";
import { DISTURBANCE_IDS } from "../../src/vocabulary/index.js";
import { jobs, rulebook } from "../published/plans.js";

interface Askable {
  readonly id: string;
  readonly condition: { readonly evaluate: (asked: Asked) => number };
}

const program = compileRulebook(rulebook);
const derived = jobs.map(([name, job]) => [name, deriveJob(job, { rulebook })] as const);

/** The rules that an index left out although they could fire; each would be a conclusion silently lost. */
function lostBy(all: readonly Askable[], offered: readonly Askable[], asked: Asked): readonly string[] {
  const found = new Set(offered.map(({ id }) => id));
  return all
    .filter(({ id, condition }) => !found.has(id) && condition.evaluate(asked) !== FALSE)
    .map(({ id }) => id);
}

// An index saves asking rules that cannot fire. It goes by what conditions need in words; that every way of reaching a
// sensor is among those words is what is held here, on every cause and sensor of the scenarios.
describe("a rule that an index leaves out could not have fired", () => {
  it("has work orders to be held against", () => {
    const causes = derived.reduce((sum, [, { derivation }]) => sum + derivation.causes.size, 0);
    expect(causes).toBeGreaterThan(500);
  });

  it("by what was done", () => {
    let narrowed = 0;
    for (const [name, { derivation }] of derived) {
      for (const { cause } of derivation.causes.values()) {
        const asked = ask(derivation.job, cause);
        for (const index of [program.impliedByCause, program.steps]) {
          const offered = index.lookUp(cause.indexKey);
          if (offered.length < index.all.length) narrowed += 1;
          expect(lostBy(index.all, offered, asked), `${name}: ${cause.key}`).toEqual([]);
        }
      }
    }
    expect(narrowed).toBeGreaterThan(500);
  });

  it("by what was done, the sensor, and how the one touches the other", () => {
    for (const [name, { derivation }] of derived) {
      for (const { cause } of derivation.causes.values()) {
        for (const sensor of derivation.sensors) {
          const asked = ask(derivation.job, cause, new Relation(cause, sensor, derivation.job));
          const touch = touchBetween(cause, sensor, derivation.job);
          for (const index of [program.disturbances, program.impliedBySensor]) {
            const offered = index.lookUp(cause.indexKey, sensor.sensor, touch);
            expect(lostBy(index.all, offered, asked), `${name}: ${cause.key}, ${sensor.key}`).toEqual([]);
          }
        }
      }
    }
  });

  it("by what was done, the sensor, and what it did to it", () => {
    // What is left out depends on these words alone, so each combination of them is asked once.
    const seen = new Set<string>();
    let compared = 0;
    const hold = (
      name: string,
      { cause }: CauseNode,
      derivation: (typeof derived)[number][1]["derivation"],
    ): void => {
      for (const sensor of derivation.sensors) {
        const key = `${cause.indexKey} ${sensor.key}`;
        if (seen.has(key)) continue;
        seen.add(key);
        const relation = new Relation(cause, sensor, derivation.job);
        // All disturbances would take long; a cause and a sensor draw which of them are asked.
        const every = 4;
        DISTURBANCE_IDS.filter((_, place) => (place + seen.size) % every === 0).forEach((disturbance) => {
          const asked = ask(derivation.job, cause, relation, disturbance);
          const offered = program.requirements.lookUp(cause.indexKey, sensor.sensor, disturbance);
          expect(lostBy(program.requirements.all, offered, asked), `${name}: ${key}, ${disturbance}`).toEqual(
            [],
          );
          compared += 1;
        });
      }
    };
    for (const [name, { derivation }] of derived) {
      for (const node of derivation.causes.values()) hold(name, node, derivation);
    }
    expect(compared).toBeGreaterThan(5_000);
  });

  it("by what is due and the sensor, where answers are kept for what looks alike", () => {
    for (const [name, { derivation }] of derived) {
      for (const { task, sensor } of derivation.requirements.values()) {
        for (const memory of [program.preconditions, program.evidence]) {
          const offered = new Set(memory.lookUp(task, sensor.sensor).map(({ id }) => id));
          const others = memory.all.filter(({ id }) => !offered.has(id));
          const asked: Asked = { ...ask(derivation.job, undefined, undefined, undefined, undefined, sensor) };
          for (const { id, condition } of others) {
            // Nothing but task and sensor is stated: a rule that they leave open should have been offered.
            const open = { candidates: null, unknowns: [] };
            const requirement = {
              task: { candidates: [task], unknowns: [] },
              standing: open,
              method: open,
              disturbances: open,
              causeComponents: open,
              causeActions: open,
              causes: open,
            };
            expect(condition.evaluate({ ...asked, requirement }), `${name}: ${id}`).toBe(FALSE);
          }
        }
      }
    }
  });
});
