import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { loadRulebook, planCalibrations, type Job, type Plan, type PlanQuestion } from "../../src/index.js";
import { check } from "../properties.js";
import { answersTo } from "./answers.js";
import { anyJob } from "./arbitrary-job.js";
import { duesOf, findNoLongerPossible, findWeakened } from "./dues.js";
import { factsForgotten } from "./unknowns.js";

const rulebook = loadRulebook();
const plan = (job: Job): Plan => planCalibrations(job, { rulebook });

/** Picks by a number drawn before the list is known. */
function pick<T>(list: readonly T[], draw: number): T | undefined {
  return list[draw % Math.max(1, list.length)];
}

describe("answering an open question", () => {
  it("never takes back or weakens what was certain", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const before = plan(job);
        const answered = pick(answersTo(job, before), draw);
        fc.pre(answered !== undefined);
        const after = plan(answered.job);
        // An answer that contradicts what is stated is no answer: the fact then counts as unknown.
        fc.pre(after.contradictions.length === before.contradictions.length);
        expect(findWeakened(before, after), `${answered.question.ask} ${answered.answer}`).toEqual([]);
      }),
      250,
    );
  });

  it("makes what was undetermined due or not, and never loses it without a word", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const before = plan(job);
        const answered = pick(answersTo(job, before), draw);
        fc.pre(answered !== undefined);
        const after = plan(answered.job);
        const told = new Set([
          ...after.requirements.flatMap((each) => [
            each.sensor,
            ...each.alsoFor.map((key) => key.split(":")[0]),
          ]),
          ...after.notIndicated.map(({ sensor }) => sensor),
          ...after.waived.map(({ sensor }) => sensor),
        ]);
        const lost = before.requirements.filter((each) => !told.has(each.sensor));
        expect(lost.map(({ id }) => id)).toEqual([]);
      }),
    );
  });

  it("settles it: the same thing is not asked again", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const before = plan(job);
        const answered = pick(answersTo(job, before), draw);
        fc.pre(answered !== undefined && !answered.isPartial);
        const after = plan(answered.job);
        // What contradicts itself stays open until one of the statements is taken back.
        fc.pre(before.contradictions.length + after.contradictions.length === 0);
        // A word for several parts narrows the question to them.
        const keyOf = ({ ask, about, answers }: PlanQuestion): string => [ask, about, ...answers].join();
        const again = after.questions.filter((each) => keyOf(each) === keyOf(answered.question));
        expect(again, answered.answer).toEqual([]);
      }),
      200,
    );
  });

  it("over and over comes to an end, with nothing undetermined left", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        let current = job;
        for (let count = 0; count < 150; count += 1) {
          const now = plan(current);
          fc.pre(now.contradictions.length === 0);
          const answered = pick(answersTo(current, now), draw + count);
          if (answered === undefined) {
            expect(now.requirements.filter(({ standing }) => standing === "undetermined")).toEqual([]);
            return;
          }
          current = answered.job;
        }
        expect.unreachable("the questions come to no end");
      }),
      15,
    );
  });
});

describe("making a known fact unknown", () => {
  it("never removes or caps a requirement in silence", () => {
    check(
      fc.property(anyJob, fc.nat(), (job, draw) => {
        const before = plan(job);
        const forgotten = pick(factsForgotten(job), draw);
        fc.pre(forgotten !== undefined);
        const after = plan(forgotten.job);
        // Where statements contradict one another, taking one back settles something.
        fc.pre(before.contradictions.length === after.contradictions.length);
        const field = forgotten.fact.split("/")[2] ?? "";
        const isFindingGone = forgotten.fact === `/findings/${field}`;
        if (!isFindingGone) {
          expect(findNoLongerPossible(before, after), forgotten.fact).toEqual([]);
          return;
        }
        // Of a finding that is not stated one question is left, which names the sensors that it could concern.
        const asked = after.questions.find(({ about }) => about === forgotten.fact)?.couldAdd ?? [];
        const lost = [...duesOf(before).values()].filter(
          (due) => !after.requirements.some(({ sensor }) => sensor === due.sensor),
        );
        for (const due of lost) {
          const key = due.position === null ? due.sensor : `${due.sensor}:${due.position}`;
          expect([...asked], `${forgotten.fact}: ${due.id}`).toContain(key);
        }
      }),
      250,
    );
  });
});

describe("a finding of which nothing is said", () => {
  it("names the sensors that it could reach by the work that it implies", () => {
    const { questions } = plan({
      schema: "repair-calibration/job@1",
      reference: "RO-1",
      vehicle: {
        equipment: [{ sensor: "rain-light-sensor", fitted: "yes" }],
        equipmentComplete: true,
      },
      operations: [],
    });
    // A deployed airbag can mean a new clock spring, that a battery off, and that a sensor whose starting values are gone.
    const airbags = questions.find(({ about }) => about === "/findings/airbagsDeployed");
    expect(airbags?.couldAdd).toEqual(["rain-light-sensor"]);
  });
});
