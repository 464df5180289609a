import { loadRulebook, type Job, type Plan, type PlanQuestion } from "../../src/index.js";
import type { SensorInstance, Unknown } from "../../src/facts/index.js";
import { TRUE } from "../../src/logic/index.js";
import { deriveJob } from "../../src/plan-calibrations.js";
import {
  CARRIED_BY,
  SENSOR_IDS,
  positionsOf,
  zonesOf,
  type ComponentId,
  type PositionId,
  type SensorId,
} from "../../src/vocabulary/index.js";
import type { Equipment, Findings, Operation } from "./arbitrary-job.js";

/** A job with one open question answered. */
export interface Answered {
  readonly question: PlanQuestion;
  readonly answer: string;
  /** It answers for some of the sensors that the question asks for. */
  readonly isPartial: boolean;
  readonly job: Job;
}

/** Every way in which one of the plan's questions can be answered in the words of the job. */
export function answersTo(job: Job, plan: Plan): readonly Answered[] {
  return plan.questions.flatMap((question) =>
    jobsAnswering(job, question).map(([answer, answered]) => ({
      question,
      answer,
      isPartial: answer.includes(PARTLY),
      job: answered,
    })),
  );
}

const PARTLY = " alone: ";

type Answer = readonly [answer: string, job: Job];

function jobsAnswering(job: Job, question: PlanQuestion): readonly Answer[] {
  const [, root = "", ...path] = question.about.split("/");
  switch (root) {
    case "operations":
      return path.length === 0 ? stateOperation(job, question) : answerOperation(job, question, path);
    case "vehicle":
      return answerVehicle(job, question, path);
    case "findings":
      return answerFinding(job, question, path);
    default:
      throw new Error(`a question about ${question.about}`);
  }
}

function withOperation(job: Job, index: number, fields: Partial<Operation>): Job {
  const operations = job.operations.map((each, at) => (at === index ? { ...each, ...fields } : each));
  return { ...job, operations };
}

function answerOperation(job: Job, question: PlanQuestion, path: readonly string[]): readonly Answer[] {
  const [at = "", field = "", part] = path;
  const index = Number(at);
  const operation = job.operations[index];
  if (operation === undefined) throw new Error(`no operation at ${question.about}`);
  const set = (answer: string, fields: object): Answer => [answer, withOperation(job, index, fields)];
  switch (field) {
    case "dependentWork":
      return workAsked(job, question).flatMap((work) =>
        (["yes", "no"] as const).map((done) =>
          set(`${work.action} ${work.component}: ${done}`, {
            dependentWork: [
              { ...work, done },
              ...(operation.dependentWork ?? []).filter((each) => !isSameWork(each, work)),
            ],
          }),
        ),
      );
    case "position":
      return positionsNamed(operation.sensor).map((position) => set(String(position), { position }));
    case "serves":
      return [set("none", { serves: [] }), ...sensorsIn(question).map((key) => set(key, { serves: [key] }))];
    case "adjusted": {
      const certain = (operation.adjusted ?? []).filter(
        (each) => each !== "unknown" && each !== "camber" && each !== "nothing",
      );
      const isCamber =
        operation.adjusted?.includes("camber") === true && !operation.adjusted.includes("unknown");
      const answers = isCamber ? ["front-camber", "rear-camber"] : question.answers;
      return answers.map((answer) => set(answer, { adjusted: [...certain, answer] }));
    }
    case "component":
      return [set("hood", { component: "hood" })];
    case "part":
      return question.answers.map((answer) =>
        set(answer, { part: { ...operation.part, [part ?? ""]: answer } }),
      );
    default:
      return question.answers.map((answer) => set(answer, { [field]: answer }));
  }
}

interface OpenPoints {
  readonly sensors: readonly SensorInstance[];
  /** What the implied operations hang on. */
  readonly work: readonly Unknown[];
}

const kept = new WeakMap<Job, OpenPoints>();

/** The open points of a job before they are put as questions, worked out once for all of its questions. */
function openPointsOf(job: Job): OpenPoints {
  const ready = kept.get(job);
  if (ready !== undefined) return ready;
  const { vehicle, derivation } = deriveJob(job, { rulebook: loadRulebook() });
  const work = [...derivation.causes.values()].flatMap(({ unknowns }) => unknowns);
  const points: OpenPoints = { sensors: vehicle.sensors, work };
  kept.set(job, points);
  return points;
}

/** The work that a question asks for: what was done, to which part. */
function workAsked(
  job: Job,
  question: PlanQuestion,
): readonly { action: Operation["action"]; component: ComponentId }[] {
  const { work } = openPointsOf(job);
  const asked = work.find(({ ask, about }) => ask === question.ask && about === question.about);
  const [, action, part] = /dependentWork\/([a-z-]+):([a-z0-9-]+)/.exec(asked?.key ?? "") ?? [];
  if (action === undefined || part === undefined) return [];
  const isSensor = (SENSOR_IDS as readonly string[]).includes(part);
  return [{ action: action as Operation["action"], component: (isSensor ? "sensor" : part) as ComponentId }];
}

function isSameWork(
  a: { action: string; component: string },
  b: { action: string; component: string },
): boolean {
  return a.action === b.action && a.component === b.component;
}

function positionsNamed(sensor: SensorId | undefined): readonly (PositionId | null)[] {
  return sensor === undefined ? [] : positionsOf(sensor);
}

/** The sensors of the requirements that a question settles. */
function sensorsIn(question: PlanQuestion): readonly string[] {
  return [...new Set(question.settles.map((id) => id.split("/")[0] ?? ""))];
}

/** What is asked of the order as a whole is answered by another line on it. */
function stateOperation(job: Job, question: PlanQuestion): readonly Answer[] {
  const add = (answer: string, operation: Omit<Operation, "id">): Answer => [
    answer,
    { ...job, operations: [...job.operations, { ...operation, id: `A${job.operations.length}` }] },
  ];
  if (question.ask.startsWith("Structural damage was found")) {
    return [add("a rail", { action: "section", component: "front-rail", side: "left" })];
  }
  return [
    add("nothing", { action: "inspect", component: "wheel-alignment", adjusted: ["nothing"] }),
    add("rear toe", { action: "adjust", component: "wheel-alignment", adjusted: ["rear-toe"] }),
  ];
}

function answerVehicle(job: Job, question: PlanQuestion, path: readonly string[]): readonly Answer[] {
  const [field = "", at = ""] = path;
  const { vehicle } = job;
  const set = (answer: string, fields: object): Answer => [
    answer,
    { ...job, vehicle: { ...vehicle, ...fields } },
  ];
  switch (field) {
    case "carriedBy": {
      const { parts = [] } = CARRIED_BY[at as ComponentId] ?? {};
      return parts.map((carrier) => set(carrier, { carriedBy: { ...vehicle.carriedBy, [at]: carrier } }));
    }
    case "features":
      return question.answers.map((answer) =>
        set(answer, { features: { ...vehicle.features, [at]: answer } }),
      );
    case "equipment":
      return answerEquipment(job, question);
    default:
      return question.answers.map((answer) => set(answer, { [field]: answer }));
  }
}

const SENSOR_TOPICS = ["mount", "looksThrough", "variant", "servesFurther"] as const;

/** What a question about the equipment asks, of which sensors. */
function asksOf(
  job: Job,
  question: PlanQuestion,
): readonly { readonly sensor: SensorInstance; readonly topic: string }[] {
  const isAsked = (unknowns: readonly Unknown[]): boolean =>
    unknowns.some(({ ask, about }) => ask === question.ask && about === question.about);
  return openPointsOf(job).sensors.flatMap((sensor) => [
    ...(isAsked(sensor.fitted.unknowns) ? [{ sensor, topic: "fitted" }] : []),
    ...SENSOR_TOPICS.filter((topic) => isAsked(sensor.facts[topic].unknowns)).map((topic) => ({
      sensor,
      topic,
    })),
  ]);
}

function answerEquipment(job: Job, question: PlanQuestion): readonly Answer[] {
  const asked = asksOf(job, question);
  const kinds = new Set(asked.map(({ sensor }) => sensor.sensor));
  const answer = (says: string, which: typeof asked, fields: Partial<Equipment>): Answer => {
    const equipment = which.reduce<readonly Equipment[]>(
      (entries, { sensor }) => describe(entries, sensor, fields),
      job.vehicle.equipment ?? [],
    );
    return [says, { ...job, vehicle: { ...job.vehicle, equipment: [...equipment] } }];
  };
  const one = asked.slice(0, 1);
  const [first] = one;
  if (first === undefined) return [];
  switch (first.topic) {
    case "fitted": {
      // Of several kinds, or of some places only, each is answered by itself.
      const apart = (["yes", "no"] as const).flatMap((fitted) =>
        asked.map((each) => answer(`${each.sensor.key}${PARTLY}${fitted}`, [each], { fitted })),
      );
      const together = (["yes", "no"] as const).map((fitted) => answer(fitted, asked, { fitted }));
      return kinds.size > 1 ? apart : [...together, ...apart];
    }
    case "servesFurther":
      return [answer("none", asked, { serves: [] }), answer("more", asked, { serves: ["surround-view"] })];
    default:
      return question.answers.map((word) => answer(word, asked, { [first.topic]: word }));
  }
}

/** The equipment with something said of one sensor: in its own entry, in one made from that for all places, or in a new one. */
function describe(
  equipment: readonly Equipment[],
  { sensor, position, isFitted }: SensorInstance,
  fields: Partial<Equipment>,
): readonly Equipment[] {
  const isFor = (each: Equipment, place: PositionId | null): boolean =>
    each.sensor === sensor && (each.position ?? null) === place;
  if (equipment.some((each) => isFor(each, position))) {
    return equipment.map((each) => (isFor(each, position) ? { ...each, ...fields } : each));
  }
  const ofAll = equipment.find((each) => isFor(each, null));
  if (ofAll !== undefined) {
    const places = positionsOf(sensor).map((place) => ({ ...ofAll, position: place }));
    const others = equipment.filter((each) => each !== ofAll);
    return describe([...others, ...places], { sensor, position, isFitted } as SensorInstance, fields);
  }
  const fitted = isFitted === TRUE ? "yes" : "unknown";
  return [...equipment, { sensor, position, fitted, ...fields }];
}

function answerFinding(job: Job, question: PlanQuestion, path: readonly string[]): readonly Answer[] {
  const findings: Findings = job.findings ?? {};
  const set = (answer: string, fields: object): Answer => [
    answer,
    { ...job, findings: { ...findings, ...fields } },
  ];
  const [field = "", at, topic = ""] = path;
  if (field === "dependentWork") {
    return workAsked(job, question).flatMap((work) =>
      (["yes", "no"] as const).map((done) =>
        set(`${work.action} ${work.component}: ${done}`, {
          dependentWork: [
            { ...work, done },
            ...(findings.dependentWork ?? []).filter((each) => !isSameWork(each, work)),
          ],
        }),
      ),
    );
  }
  if (at !== undefined) {
    const list = (findings[field as "faultCodes"] ?? []) as readonly object[];
    const answers: readonly unknown[] =
      topic === "means"
        ? ["misaligned", "other"]
        : topic === "position"
          ? positionsNamed((list[Number(at)] as { sensor?: SensorId }).sensor)
          : topic === "overRadar"
            ? [true, false]
            : question.answers;
    return answers.map((answer) =>
      set(String(answer), {
        [field]: list.map((each, index) => (index === Number(at) ? { ...each, [topic]: answer } : each)),
      }),
    );
  }
  switch (field) {
    case "impactZones":
      return [set("none", { impactZones: [] }), set("front", { impactZones: [...zonesOf("lidar", null)] })];
    case "impactWheels":
      return [
        set("none", { impactWheels: [] }),
        set("one", { impactWheels: [{ axle: "front", side: "left" }] }),
      ];
    case "faultCodes":
      return [set("none", { faultCodes: [] })];
    case "rideHeightChange":
      return [set("none", { rideHeightChange: { front: 0, rear: 0 } })];
    case "glassOrHeaderHit":
      return question.answers.map((answer) => set(answer, { glassOrHeaderHit: answer }));
    case "airbagsDeployed":
    case "structuralDamage":
      return [set("yes", { [field]: true }), set("no", { [field]: false })];
    default:
      throw new Error(`a question about ${question.about}`);
  }
}
