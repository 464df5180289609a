import { type Cause, type OperationSpec, type Topic, type Unknown } from "../facts/index.js";
import type { JobFindings } from "../job/index.js";
import type { FactValue } from "../logic/index.js";
import {
  COMPONENTS,
  componentOf,
  type ActionId,
  type ComponentId,
  type ComponentTerm,
} from "../vocabulary/index.js";

/** What the job states about work that some vehicles need and others do not. */
export type WorkAnswer = "yes" | "no" | "unknown" | undefined;

/**
 * Whether possible work was done, as stated at the line or finding that it follows from, or else at another line that
 * could bring the same work: a mirror that came off for one of two lines is off, whichever of them says so.
 */
export function answerOf(
  root: Cause,
  findings: JobFindings,
  spec: OperationSpec,
  lines: readonly Cause[],
): WorkAnswer {
  if (root.operation === null) return statedIn(findings.dependentWork, spec);
  const own = statedIn(root.stated?.dependentWork, spec);
  if (own !== undefined) return own;
  const others = lines
    .filter((line) => concernsSamePlace(line, root, spec))
    .map((line) => statedIn(line.stated?.dependentWork, spec));
  return others.find((each) => each === "yes") ?? others.find((each) => each === "no");
}

function statedIn(stated: JobFindings["dependentWork"], spec: OperationSpec): WorkAnswer {
  return stated?.find((each) => each.action === spec.action && componentOf(each.component) === spec.component)
    ?.done;
}

/** Sensors are taken off one part at one side; of any other work the part that it is done to tells the place. */
function concernsSamePlace(line: Cause, root: Cause, spec: OperationSpec): boolean {
  if (spec.sensor !== null) {
    return (
      line.operation?.component === root.operation?.component &&
      keyOfValue(line.facts.side) === keyOfValue(root.facts.side)
    );
  }
  return agrees(line.facts.side, spec.side) && agrees(line.facts.axle, spec.axle);
}

function agrees(line: FactValue<Unknown>, wanted: FactValue<Unknown>): boolean {
  const places = [keyOfValue(line), keyOfValue(wanted)];
  return places.includes("none") || places[0] === places[1];
}

/** Values and open points of a fact as one text, equal for facts that say the same. */
export function keyOfValue(value: FactValue<Unknown>): string {
  return `${(value.candidates ?? []).join("+")}${value.unknowns.map((unknown) => `?${unknown.key}`).join("")}`;
}

/** Asks whether possible work is part of the repair; `why` is the title of the rule that raises it. */
export function askAboutWork(root: Cause | undefined, spec: OperationSpec, why: string): Unknown {
  const from = root?.operation ?? null;
  const place = spec.sensor === null ? keyOfValue(spec.side) : placeOfSensors(root);
  return {
    key: `${keyOfWork(spec)}${place}:${keyOfValue(spec.axle)}${from === null ? ":finding" : ""}`,
    topic: topicOfWork(spec),
    about: `${from === null ? "/findings" : (root?.pointer ?? "/findings")}/dependentWork`,
    ask: `Does the repair include ${DOING[spec.action]} ${nameOfWorkedOn(root, spec)}? (${why}.)`,
    answers: ["yes", "no"],
  };
}

const WORK_TOPICS: readonly Topic[] = ["work", "workOnSensors", "alignment"];

function topicOfWork(spec: OperationSpec): Topic {
  if (spec.component === "sensor") return "workOnSensors";
  return spec.action === "adjust" && spec.component === "wheel-alignment" ? "alignment" : "work";
}

function keyOfWork(spec: OperationSpec): string {
  return `dependentWork/${spec.action}:${spec.component}:`;
}

/** Whether an open point is about possible work, or about this work. */
export function isAboutWork({ topic, key }: Unknown, spec?: OperationSpec): boolean {
  return WORK_TOPICS.includes(topic) && (spec === undefined || key.startsWith(keyOfWork(spec)));
}

function placeOfSensors(root: Cause | undefined): string {
  if (root === undefined || root.operation === null) return "";
  return `${root.operation.component}:${keyOfValue(root.facts.side)}`;
}

function nameOfWorkedOn(root: Cause | undefined, spec: OperationSpec): string {
  if (spec.sensor === null) return `the ${nameOfPart(spec.component, spec.side, spec.axle)}`;
  const from = root?.operation ?? null;
  return from === null
    ? "its sensors"
    : `the sensors at the ${nameOfPart(from.component, from.side, from.axle)}`;
}

/** A part with its place as far as that is known: "left door mirror". */
function nameOfPart(component: ComponentId, ...places: readonly FactValue<Unknown>[]): string {
  const term: ComponentTerm = COMPONENTS[component];
  const known = places.flatMap(({ candidates }) => {
    const [place, other] = candidates ?? [];
    return typeof place === "string" && place !== "none" && other === undefined ? [place] : [];
  });
  return [...known, term.label].join(" ");
}

const DOING: Readonly<Record<ActionId, string>> = {
  replace: "replacing",
  "remove-install": "removing and installing",
  overhaul: "overhauling",
  repair: "repairing",
  "paintless-repair": "paintless repair of",
  refinish: "refinishing",
  blend: "blending",
  section: "sectioning",
  straighten: "straightening",
  adjust: "adjusting",
  rotate: "rotating",
  disconnect: "disconnecting",
  program: "programming",
  install: "installing",
  modify: "modifying",
  inspect: "measuring or inspecting",
  calibrate: "calibrating",
  scan: "scanning",
};
