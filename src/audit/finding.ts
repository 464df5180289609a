import type { Requirement } from "../plan/index.js";
import {
  EVIDENCE,
  TASKS,
  nameOfSensor,
  type EvidenceId,
  type PositionId,
  type SensorId,
  type Task,
} from "../vocabulary/index.js";
import type { Due, Entry } from "./case.js";
import { FINDING_KINDS, type Finding, type FindingKind } from "./shape.js";

/** A finding before it has its number. */
export type Draft = Omit<Finding, "id">;

/** What a finding is about; what is left out is null. */
export interface About {
  readonly sensor?: SensorId | null;
  readonly position?: PositionId | null;
  readonly line?: string | null;
  readonly requirement?: string | null;
}

/** What a finding says, what it rests on, and what would resolve it. */
export interface Words {
  readonly says: string;
  readonly because: readonly string[];
  readonly resolvedBy: string;
}

export function makeFinding(kind: FindingKind, about: About, words: Words): Draft {
  return {
    kind,
    severity: FINDING_KINDS[kind],
    sensor: about.sensor ?? null,
    position: about.position ?? null,
    line: about.line ?? null,
    requirement: about.requirement ?? null,
    says: words.says,
    because: [...new Set(words.because)].sort(),
    resolvedBy: words.resolvedBy,
  };
}

/** Names a finding's subject by a requirement, and by one of its lines where there is one. */
export function aboutRequirement({ id, sensor, position }: Requirement, entry?: Entry): About {
  return { sensor, position, requirement: id, line: entry?.line.id ?? null };
}

/** Names a finding's subject by a line, and by the requirement where it answers exactly one. */
export function aboutLine(entry: Entry, dues: readonly Due[]): About {
  const { line } = entry;
  const [only, second] = dues.filter(({ requirement }) => entry.keys.has(requirement.id));
  if (only !== undefined && second === undefined) return aboutRequirement(only.requirement, entry);
  return { sensor: line.sensor, position: line.position ?? null, line: line.id };
}

/** "calibration of the left rear corner radar" */
export function nameTask(each: {
  readonly sensor: SensorId;
  readonly position?: PositionId | null | undefined;
  readonly task: Task;
}): string {
  return `${TASKS[each.task].label} of the ${nameOfSensor(each.sensor, each.position ?? null)}`;
}

/** The ids behind a requirement: its own, and the operations, findings and rules of its chains. */
export function chainOf({ id, because }: Requirement): readonly string[] {
  return [
    id,
    ...because.flatMap(({ operation, finding, rule, disturbanceRules }) => [
      ...(operation === null ? [] : [operation]),
      ...(finding === null ? [] : [finding]),
      rule,
      ...disturbanceRules,
    ]),
  ];
}

/** The labels of kinds of records, joined for a sentence. */
export function labelsOf(kinds: readonly EvidenceId[], joint: "and" | "or"): string {
  return listWords(
    kinds.map((kind) => EVIDENCE[kind].label),
    joint,
  );
}

export function listWords(words: readonly string[], joint: "and" | "or"): string {
  if (words.length <= 1) return words.join("");
  return `${words.slice(0, -1).join(", ")} ${joint} ${words.at(-1) ?? ""}`;
}

/** Puts findings in their order and numbers them: by severity, kind, sensor, position and line. Each is said once. */
export function numberFindings(drafts: readonly Draft[]): Finding[] {
  const keyed = new Map(drafts.map((draft) => [keyOf(draft), draft]));
  const ordered = [...keyed].sort(([a], [b]) => (a < b ? -1 : 1));
  return ordered.map(([, draft], index) => ({ id: `F${index + 1}`, ...draft }));
}

const SEVERITIES = ["high", "medium", "low"] as const;

/** The separator sorts before every character of an id, so that parts are compared one by one. */
function keyOf(draft: Draft): string {
  return [
    SEVERITIES.indexOf(draft.severity),
    draft.kind,
    draft.sensor ?? "",
    draft.position ?? "",
    draft.line ?? "",
    draft.requirement ?? "",
    draft.says,
    draft.because.join("\u0001"),
  ].join("\u0000");
}
