import { openFindings, supposeFinding, type Cause, type Unknown } from "../facts/index.js";
import { drawConclusions, type Derivation, type Program } from "../inference/index.js";
import type { JobOperation } from "../job/index.js";
import { appliesTo } from "../procedures/index.js";
import { CLAIM_ACTIONS, componentOf } from "../vocabulary/index.js";
import type { PlanInput } from "./input.js";
import type { JobQuestion } from "./questions.js";

/** A claim disturbs nothing, so it needs no part to be judged by. */
export function isUnread({ action, component }: JobOperation): boolean {
  return componentOf(component) === "other" && !CLAIM_ACTIONS.some((claim) => claim === action);
}

/** Questions about the whole job: findings of which nothing is stated, lines that nobody could read, and packs that may apply. */
export function questionsOfJob(input: PlanInput): readonly JobQuestion[] {
  const { read, program, derivation } = input;
  const findings = openFindings(read.job).map(({ kind, unknown }) => ({
    unknown,
    couldAdd: sensorsThatCouldCome(supposeFinding(kind, unknown), program, derivation),
  }));
  const unread = read.job.operations.flatMap((operation, index) =>
    isUnread(operation)
      ? [
          {
            unknown: {
              key: `line/${operation.id}/component`,
              topic: "line" as const,
              about: `/operations/${index}/component`,
              ask: `${operation.id}: Which part is "${operation.text ?? ""}", and what was done to it?`,
              answers: [],
            },
            couldAdd: [],
          },
        ]
      : [],
  );
  const packs = input.procedures.flatMap(({ pack }) =>
    appliesTo(pack, read.job.vehicle, read.modelYears) === "unknown"
      ? [
          {
            unknown: {
              key: `procedures/${pack.id}`,
              topic: "procedure",
              about: "/vehicle",
              ask: `Is the vehicle a ${pack.appliesTo.make} ${pack.appliesTo.models.join(" or ")} of ${pack.appliesTo.modelYears.from} to ${pack.appliesTo.modelYears.to}? (State make, model and model year; the procedures of ${pack.id} are not applied until then.)`,
              answers: ["make, model and model year"],
            } satisfies Unknown,
            couldAdd: [],
          },
        ]
      : [],
  );
  return [...findings, ...unread, ...packs];
}

/** The sensors for which a finding, if it were stated, could bring a requirement: by itself or by the work that it implies. */
function sensorsThatCouldCome(cause: Cause, program: Program, derivation: Derivation): readonly string[] {
  const { job, sensors } = derivation;
  const { requirements } = drawConclusions(program, { job, sensors, causes: [cause], findings: {} });
  const found = new Set([...requirements.values()].map(({ sensor }) => sensor.key));
  return sensors.flatMap(({ key }) => (found.has(key) ? [key] : []));
}
