import { Relation, ask, type Asked } from "../../src/facts/index.js";
import { factsOfRequirement, type CompiledRule } from "../../src/inference/index.js";
import { FALSE } from "../../src/logic/index.js";
import type { Job } from "../../src/index.js";
import { deriveJob, type PlanOptions } from "../../src/plan-calibrations.js";
import type { Stratum } from "../../src/rulebook/index.js";

/** One thing that rules of a stratum are asked of, with the rules that the index offers for it. */
export interface Question {
  readonly stratum: Stratum;
  readonly asked: Asked;
  /** All rules of the stratum that are for this kind of subject. */
  readonly all: readonly CompiledRule[];
  /** Those that the index does not rule out. */
  readonly offered: readonly CompiledRule[];
}

/**
 * Everything that the rules are asked of in the course of one plan, each once: what any engine has to answer at the
 * least, without the repetition that reaching a fixpoint costs.
 */
export function questionsOf(job: Job, options: PlanOptions): readonly Question[] {
  const { program, derivation, causes: stated } = deriveJob(job, options);
  const { job: facts } = derivation;
  const sensors = derivation.sensors.filter((sensor) => sensor.isFitted !== FALSE);
  const nodes = [...derivation.causes.values()].map(({ cause }) => cause);
  const of = <S extends Stratum>(
    stratum: S,
    asked: Asked,
    all: readonly CompiledRule<S>[],
    offered: readonly CompiledRule<S>[],
  ): Question => ({
    stratum,
    asked,
    all: all as readonly unknown[] as readonly CompiledRule[],
    offered: offered as readonly unknown[] as readonly CompiledRule[],
  });
  return [
    ...nodes.flatMap((cause) => [
      of(
        "implied-operations",
        ask(facts, cause),
        program.impliedByCause.all,
        program.impliedByCause.lookUp(cause.indexKey),
      ),
      of("steps", ask(facts, cause), program.steps.all, program.steps.lookUp(cause.indexKey)),
      ...sensors.flatMap((sensor) => {
        const relation = new Relation(cause, sensor, facts);
        const asked = ask(facts, cause, relation);
        const keys = [cause.indexKey, sensor.sensor, relation.touch] as const;
        return [
          of(
            "implied-operations",
            asked,
            program.impliedBySensor.all,
            program.impliedBySensor.lookUp(...keys),
          ),
          of("disturbances", asked, program.disturbances.all, program.disturbances.lookUp(...keys)),
        ];
      }),
    ]),
    ...[...derivation.disturbances.values()].flatMap(({ kind, cause: key, sensor }) => {
      const node = derivation.causes.get(key);
      if (node === undefined) return [];
      const asked = ask(facts, node.cause, new Relation(node.cause, sensor, facts), kind);
      const { indexKey } = node.cause;
      return [
        of(
          "requirements",
          asked,
          program.requirements.all,
          program.requirements.lookUp(indexKey, sensor.sensor, kind),
        ),
      ];
    }),
    ...[...derivation.requirements.values()].flatMap((node) => {
      const requirement = factsOfRequirement(node, derivation.causes);
      const asked = ask(facts, undefined, undefined, undefined, requirement, node.sensor);
      const keys = [node.task, node.sensor.sensor] as const;
      return [
        of("preconditions", asked, program.preconditions.all, program.preconditions.lookUp(...keys)),
        of("evidence", asked, program.evidence.all, program.evidence.lookUp(...keys)),
        ...stated.map((cause) => {
          const relation = new Relation(cause, node.sensor, facts);
          const about = ask(facts, cause, relation, undefined, requirement);
          return of(
            "holds",
            about,
            program.holds.all,
            program.holds.lookUp(cause.indexKey, node.sensor.sensor, relation.touch),
          );
        }),
      ];
    }),
  ];
}
