import type { PlanSource } from "../plan/index.js";
import {
  ACTIONS,
  COMPONENTS,
  POSITIONS,
  POSITION_IDS,
  SENSOR_IDS,
  TASKS,
  TASK_IDS,
  nameOfSensor,
  type ActionId,
  type PositionId,
  type SensorId,
} from "../vocabulary/index.js";

/** The sensor of a key such as "rear-corner-radar:left", in words; the key itself where it is none. */
function nameOfPlace(key: string): string {
  const [sensor, position] = key.split(":");
  const knownSensor = SENSOR_IDS.find((each) => each === sensor);
  const knownPosition = POSITION_IDS.find((each) => each === position);
  if (knownSensor === undefined) return key;
  return nameOfSensor(knownSensor, knownPosition ?? null);
}

/** Sensors in words, the positions of one kind drawn together: "rear corner radar (left, right)". */
export function namePlaces(keys: readonly string[]): string {
  const positions = new Map<string, string[]>();
  for (const key of keys) {
    const [sensor = "", position] = key.split(":");
    positions.set(sensor, [...(positions.get(sensor) ?? []), ...(position === undefined ? [] : [position])]);
  }
  return [...positions]
    .map(([sensor, at]) =>
      at.length < 2
        ? nameOfPlace([sensor, ...at].join(":"))
        : `${nameOfPlace(sensor)} (${at.map(nameOfPosition).join(", ")})`,
    )
    .join(", ");
}

function nameOfPosition(position: string): string {
  const known = POSITION_IDS.find((each) => each === position);
  return known === undefined ? position : POSITIONS[known].label;
}

/** Requirements in words, drawn together by task: "calibration of forward camera, front radar; aim of …". */
export function nameRequirements(ids: readonly string[]): string {
  const byTask = new Map<string, string[]>();
  for (const id of ids) {
    const [place = "", task = ""] = id.split("/");
    byTask.set(task, [...(byTask.get(task) ?? []), place]);
  }
  return [...byTask]
    .map(([task, places]) => {
      const known = TASK_IDS.find((each) => each === task);
      return `${known === undefined ? task : TASKS[known].label} of ${namePlaces(places)}`;
    })
    .join("; ");
}

/** The requirement of an id such as "forward-camera/calibration", in words. */
export function nameOfRequirement(id: string): string {
  const [place = "", task] = id.split("/");
  const known = TASK_IDS.find((each) => each === task);
  return known === undefined ? nameOfPlace(place) : `${nameOfPlace(place)}: ${TASKS[known].label}`;
}

/** What an operation does, to which part. */
export interface Work {
  readonly action: ActionId;
  readonly component: string;
  readonly side?: string | null | undefined;
  readonly axle?: string | null | undefined;
  readonly sensor?: SensorId | null | undefined;
  readonly position?: PositionId | null | undefined;
}

/** An operation in words: "remove and install left door mirror". */
export function nameOfWork(work: Work): string {
  // The trade's abbreviations in the labels would stand in the middle of the phrase.
  const action = ACTIONS[work.action].label.replace(/ \(.*\)$/, "");
  const isSensor = work.component === "sensor" || work.component === "sensor-bracket";
  const part =
    isSensor && work.sensor !== null && work.sensor !== undefined
      ? `${nameOfSensor(work.sensor, work.position ?? null)}${work.component === "sensor" ? "" : ", its bracket"}`
      : labelOfComponent(work.component);
  const places = [work.axle, work.side].filter(
    (place) => place === "left" || place === "right" || place === "front" || place === "rear",
  );
  return [action, ...places.filter((place) => !part.startsWith(`${place} `)), part].join(" ");
}

/** The label of a component; the word itself where the vocabulary knows it by another. */
function labelOfComponent(component: string): string {
  const terms: Readonly<Record<string, { readonly label: string }>> = COMPONENTS;
  return Object.hasOwn(terms, component) ? (terms[component]?.label ?? component) : component;
}

/** What a source is worth, in words: its citation, or that there is none. */
export function nameOfSource(source: PlanSource): string {
  if (source.kind === "common-practice") return "common practice, no source";
  const cite = source.cite.replace(/[.;]$/, "");
  const place = source.section === null ? cite : `${cite}, ${source.section}`;
  return [place, READ[source.read], source.supports === null ? "" : SUPPORTS[source.supports]]
    .filter((part) => part !== "")
    .join("; ");
}

const READ: Readonly<Record<PlanSource["read"], string>> = {
  "at-source": "",
  "second-hand": "known at second hand",
  "from-memory": "from memory",
  "not-applicable": "",
};

const SUPPORTS: Readonly<Record<NonNullable<PlanSource["supports"]>, string>> = {
  "states-it": "",
  "implies-it": "it implies this and does not state it",
  "our-judgement": "our judgement from it",
};

/** "1 question", "2 questions". */
export function count(number: number, one: string, many = `${one}s`): string {
  return `${number} ${number === 1 ? one : many}`;
}

/** A text with exactly one full stop, question mark or exclamation mark at its end. */
export function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}
