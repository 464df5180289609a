import type { Job } from "../job/index.js";
import { known, oneOf, unbounded, type FactValue, knownWord } from "../logic/index.js";
import { MARKET_IDS, componentOf, type StatedCarriers } from "../vocabulary/index.js";
import type { Cause } from "./causes.js";
import type { Unknown } from "./unknowns.js";
import { matchName } from "./sensor.js";
import type { VehicleFacts } from "./vehicle.js";

/** What rules can read of the job as a whole, and what relations between causes and sensors rest on. */
export interface JobFacts {
  readonly market: FactValue<Unknown>;
  readonly vehicleClass: FactValue<Unknown>;
  readonly levellingSuspension: FactValue<Unknown>;
  readonly alignmentOutcomeStated: FactValue<Unknown>;
  readonly structuralRepairOutstanding: FactValue<Unknown>;
  readonly impactFrontOrSide: FactValue<Unknown>;
  readonly workStated: FactValue<Unknown>;
  readonly glassOrHeaderHit: FactValue<Unknown>;
  /** The zones hit, as one list. */
  readonly impactZones: FactValue<Unknown>;
  /** By sensor key: whether this job replaces it. */
  readonly replacedSensors: ReadonlyMap<string, FactValue<Unknown>>;
  readonly carriedBy: StatedCarriers;
}

const YES = knownWord("yes");
const NO = knownWord("no");

/** Reads the facts of the whole job. */
export function readJobFacts(job: Job, vehicle: VehicleFacts, causes: readonly Cause[]): JobFacts {
  const { operations, findings = {} } = job;
  const word = (
    field: string,
    value: string | undefined,
    answers: readonly string[],
    ask: string,
  ): FactValue<Unknown> =>
    value === undefined || value === "unknown"
      ? oneOf(answers, [
          { key: `vehicle/${field}`, topic: "ofVehicle", about: `/vehicle/${field}`, ask, answers },
        ])
      : knownWord(value);
  const zonesAsked: Unknown = {
    key: "findings/impactZones",
    topic: "finding",
    about: "/findings/impactZones",
    ask: "Which zones of the vehicle were hit, if any?",
    answers: ["none", "front", "rear", "left", "right", "roof", "underside"],
  };
  const zones = findings.impactZones;
  const isListed = causes.some(
    (cause) =>
      cause.facts.structural.candidates?.[0] === "yes" && cause.facts.structural.unknowns.length === 0,
  );
  return {
    market: word("market", job.vehicle.market, MARKET_IDS, "For which market was the vehicle built?"),
    vehicleClass: word(
      "vehicleClass",
      job.vehicle.vehicleClass,
      ["passenger-car", "light-multipurpose-or-truck", "other"],
      "Of which class is the vehicle?",
    ),
    levellingSuspension: word(
      "levellingSuspension",
      job.vehicle.levellingSuspension,
      ["yes", "no"],
      "Does the suspension level the body by its ride height sensors?",
    ),
    alignmentOutcomeStated:
      operations.some(
        (operation) =>
          operation.component === "wheel-alignment" &&
          (operation.adjusted ?? []).length > 0 &&
          operation.adjusted?.includes("unknown") === false,
      ) ||
      operations.some(
        (operation) => operation.component === "wheel-alignment" && operation.action === "adjust",
      )
        ? YES
        : NO,
    structuralRepairOutstanding: isListed
      ? NO
      : oneOf(
          ["yes", "no"],
          [
            {
              key: "findings/structuralDamage/repair",
              topic: "finding",
              about: "/operations",
              ask: "Structural damage was found, but no structural repair is listed: which parts are repaired, and how?",
              answers: [],
            },
          ],
        ),
    impactFrontOrSide:
      zones === undefined
        ? oneOf(["yes", "no"], [zonesAsked])
        : zones.some((zone) => zone === "front" || zone === "left" || zone === "right")
          ? YES
          : NO,
    workStated: operations.some(({ action }) => action !== "calibrate" && action !== "scan") ? YES : NO,
    glassOrHeaderHit:
      findings.glassOrHeaderHit === undefined || findings.glassOrHeaderHit === "unknown"
        ? oneOf(
            ["yes", "no"],
            [
              {
                key: "findings/glassOrHeaderHit",
                topic: "glassOrHeaderHit",
                about: "/findings/glassOrHeaderHit",
                ask: "Did the impact reach the windshield or the roof header?",
                answers: ["yes", "no"],
              },
            ],
          )
        : knownWord(findings.glassOrHeaderHit),
    impactZones: zones === undefined ? unbounded(zonesAsked) : known(zones),
    replacedSensors: findReplaced(job, vehicle),
    carriedBy: vehicle.carriedBy,
  };
}

function findReplaced(job: Job, vehicle: VehicleFacts): ReadonlyMap<string, FactValue<Unknown>> {
  const replaced = new Map<string, FactValue<Unknown>>();
  job.operations.forEach((operation, index) => {
    if (operation.action !== "replace" || componentOf(operation.component) !== "sensor") return;
    for (const sensor of vehicle.sensors) {
      if (operation.sensor === undefined) continue;
      const named = { sensor: operation.sensor, position: operation.position ?? null };
      const match = matchName(named, sensor);
      if (match === "is") replaced.set(sensor.key, YES);
      else if (match === "may-be" && replaced.get(sensor.key) !== YES) {
        replaced.set(
          sensor.key,
          oneOf(
            ["yes", "no"],
            [
              {
                key: `line/${operation.id}/position`,
                topic: "place",
                about: `/operations/${index}/position`,
                ask: `${operation.id}: Which position of the ${operation.sensor} is it?`,
                answers: [],
              },
            ],
          ),
        );
      }
    }
  });
  return replaced;
}
