import type { Job, Plan, PlanQuestion } from "../../src/index.js";
import { nameOfSensor } from "../../src/facts/index.js";
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
  readonly job: Job;
}

/** Every way in which one of the plan's questions can be answered in the words of the job. */
export function answersTo(job: Job, plan: Plan): readonly Answered[] {
  return plan.questions.flatMap((question) =>
    jobsAnswering(job, plan, question).map(([answer, answered]) => ({ question, answer, job: answered })),
  );
}

type Answer = readonly [answer: string, job: Job];

function jobsAnswering(job: Job, plan: Plan, question: PlanQuestion): readonly Answer[] {
  const [, root = "", ...path] = question.about.split("/");
  switch (root) {
    case "operations":
      return path.length === 0 ? stateOperation(job, question) : answerOperation(job, plan, question, path);
    case "vehicle":
      return answerVehicle(job, plan, question, path);
    case "findings":
      return answerFinding(job, plan, question, path);
    default:
      throw new Error(`a question about ${question.about}`);
  }
}

function withOperation(job: Job, index: number, fields: Partial<Operation>): Job {
  const operations = job.operations.map((each, at) => (at === index ? { ...each, ...fields } : each));
  return { ...job, operations };
}

function answerOperation(
  job: Job,
  plan: Plan,
  question: PlanQuestion,
  path: readonly string[],
): readonly Answer[] {
  const [at = "", field = "", part] = path;
  const index = Number(at);
  const operation = job.operations[index];
  if (operation === undefined) throw new Error(`no operation at ${question.about}`);
  const set = (answer: string, fields: object): Answer => [answer, withOperation(job, index, fields)];
  switch (field) {
    case "dependentWork":
      return workAsked(plan, question).flatMap((work) =>
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

/** The work that a question asks for, as the plan's implied operations name it. */
function workAsked(
  plan: Plan,
  question: PlanQuestion,
): readonly { action: Operation["action"]; component: ComponentId }[] {
  return plan.impliedOperations
    .filter(({ questions, action }) => {
      const asks = question.ask.includes(`: ${action.replaceAll("-", " ")}, `);
      return questions.includes(question.id) && asks;
    })
    .map(({ action, component }) => ({ action, component }));
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

function answerVehicle(
  job: Job,
  plan: Plan,
  question: PlanQuestion,
  path: readonly string[],
): readonly Answer[] {
  const [field = "", at, topic = ""] = path;
  const set = (answer: string, fields: object): Answer => [
    answer,
    { ...job, vehicle: { ...job.vehicle, ...fields } },
  ];
  if (field === "carriedBy" && at !== undefined) {
    const { parts = [] } = CARRIED_BY[at as ComponentId] ?? {};
    return parts.map((carrier) => set(carrier, { carriedBy: { ...job.vehicle.carriedBy, [at]: carrier } }));
  }
  if (field !== "equipment") return question.answers.map((answer) => set(answer, { [field]: answer }));
  const equipment = job.vehicle.equipment ?? [];
  if (at === undefined) {
    return [
      ...sensorsOpen(question).flatMap((key) =>
        (["yes", "no"] as const).map((fitted) =>
          set(`${key}: ${fitted}`, { equipment: stateFitted(equipment, key, fitted) }),
        ),
      ),
      ...sensorsDescribed(plan, question).map((entry) =>
        set(JSON.stringify(entry), { equipment: [...equipment, entry] }),
      ),
    ];
  }
  const change = (answer: string, fields: Partial<Equipment>): Answer =>
    set(answer, {
      equipment: equipment.map((each, index) => (index === Number(at) ? { ...each, ...fields } : each)),
    });
  if (topic === "serves")
    return [change("none", { serves: [] }), change("more", { serves: ["surround-view"] })];
  return question.answers.map((answer) => change(answer, { [topic]: answer }));
}

/** Sensors without an entry of their own whose fitment a question asks for. */
function sensorsOpen(question: PlanQuestion): readonly string[] {
  if (question.ask.startsWith("Which of these sensors")) return question.answers;
  return SENSOR_IDS.flatMap((sensor) =>
    positionsOf(sensor)
      .filter((position) => question.ask === `Is the ${nameOfSensor(sensor, position)} fitted?`)
      .map((position) => (position === null ? sensor : `${sensor}:${position}`)),
  );
}

/** An entry for a sensor without one, that says what it is mounted on, looks through or serves. */
function sensorsDescribed(plan: Plan, question: PlanQuestion): readonly Equipment[] {
  return plan.requirements.flatMap(({ sensor, position, fitted, questions }): readonly Equipment[] => {
    if (!questions.includes(question.id)) return [];
    const name = nameOfSensor(sensor, position);
    const stated = { sensor, position, fitted };
    const answers = question.answers as readonly string[] as readonly never[];
    if (question.ask === `What is the ${name} mounted on?`) {
      return answers.map((mount) => ({ ...stated, mount }));
    }
    if (question.ask === `What does the ${name} look through?`) {
      return answers.map((looksThrough) => ({ ...stated, looksThrough }));
    }
    if (question.ask.startsWith("Does the tyre pressure system")) {
      return sensor === "tyre-pressure-sensors" ? answers.map((variant) => ({ ...stated, variant })) : [];
    }
    if (question.ask.startsWith("Does the rear camera") && sensor === "rear-camera") {
      return [
        { ...stated, serves: [] },
        { ...stated, serves: ["surround-view"] },
      ];
    }
    return [];
  });
}

/** States whether a sensor is fitted, in the entry that left it open or in one of its own. */
function stateFitted(
  equipment: readonly Equipment[],
  key: string,
  fitted: "yes" | "no",
): readonly Equipment[] {
  const [sensor = "", place] = key.split(":");
  const position = (place ?? null) as PositionId | null;
  const isOpen = (each: Equipment): boolean =>
    each.sensor === sensor && (each.position ?? null) === position && each.fitted === "unknown";
  if (equipment.some(isOpen)) return equipment.map((each) => (isOpen(each) ? { ...each, fitted } : each));
  return [...equipment, { sensor: sensor as SensorId, position, fitted }];
}

function answerFinding(
  job: Job,
  plan: Plan,
  question: PlanQuestion,
  path: readonly string[],
): readonly Answer[] {
  const findings: Findings = job.findings ?? {};
  const set = (answer: string, fields: object): Answer => [
    answer,
    { ...job, findings: { ...findings, ...fields } },
  ];
  const [field = "", at, topic = ""] = path;
  if (field === "dependentWork") {
    return workAsked(plan, question).flatMap((work) =>
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
