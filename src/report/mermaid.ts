import { nameOfFinding, type StatedFindings } from "../explain/index.js";
import type { Plan, PlanReason } from "../plan/index.js";
import { DISTURBANCES, STANDINGS, TASKS, nameOfSensor } from "../vocabulary/index.js";
import { escapeText } from "./layout.js";
import type { OrderLine } from "./text.js";
import { nameOfWork } from "./words.js";

/** What may be said beside the plan in a flowchart. */
export interface MermaidOptions {
  /** The operations of the job, so that the nodes of lines say what the line does. */
  readonly operations?: readonly OrderLine[] | undefined;
  /** The findings of the job, so that the nodes of findings say what was found. */
  readonly findings?: StatedFindings | undefined;
}

type Group = "line" | "implied" | "disturbance" | "requirement";

/** Nodes and edges as they are met, each once. */
interface Chart {
  readonly nodes: Map<string, { readonly name: string; readonly group: Group; readonly label: string }>;
  /** From and to → whether the way is certain. */
  readonly edges: Map<string, { readonly from: string; readonly to: string; readonly certain: boolean }>;
}

const PREFIX: Readonly<Record<Group, string>> = {
  line: "line",
  implied: "work",
  disturbance: "effect",
  requirement: "due",
};

/**
 * Draws the chains of a plan as a Mermaid flowchart: lines and findings, the work that they imply, what it does to a
 * sensor, and what is due. A dotted arrow depends on a question.
 *
 * Nodes have names of their own, and of any text only letters and digits, spaces and a few harmless marks stand as
 * they are, so that no input can end a label or begin a directive.
 */
export function renderMermaid(plan: Plan, options: MermaidOptions = {}): string {
  const lines = new Map((options.operations ?? []).map((line) => [line.id, line]));
  const chart: Chart = { nodes: new Map(), edges: new Map() };
  for (const requirement of plan.requirements) {
    const name = nameOfSensor(requirement.sensor, requirement.position);
    const goal = addNode(
      chart,
      "requirement",
      requirement.id,
      `${name}, ${TASKS[requirement.task].label} (${STANDINGS[requirement.standing].label})`,
    );
    for (const reason of requirement.because)
      addChain(chart, plan, { lines, findings: options.findings }, reason, name, goal);
  }
  return [
    "flowchart LR",
    ...[...chart.nodes.values()].map(
      ({ name, group, label }) => `  ${name}${shapeOf(group, escapeLabel(label))}`,
    ),
    ...[...chart.edges.values()].map(
      ({ from, to, certain }) => `  ${from} ${certain ? "-->" : "-.->"} ${to}`,
    ),
    "",
  ].join("\n");
}

/** What the job states, as far as the chart says it. */
interface Stated {
  readonly lines: ReadonlyMap<string, OrderLine>;
  readonly findings: StatedFindings | undefined;
}

function addChain(
  chart: Chart,
  plan: Plan,
  { lines, findings }: Stated,
  reason: PlanReason,
  sensorName: string,
  goal: string,
): void {
  const operation = reason.operation ?? "";
  const line = lines.get(operation);
  const start =
    reason.operation === null
      ? addNode(
          chart,
          "line",
          `finding ${reason.finding ?? ""}`,
          `Finding: ${nameOfFinding(reason.finding ?? "", findings)}`,
        )
      : addNode(
          chart,
          "line",
          `line ${operation}`,
          line === undefined ? `Line ${operation}` : `Line ${operation}, ${nameOfWork(line)}`,
        );
  const implied = reason.implied.map((id) => {
    const work = plan.impliedOperations.find((each) => each.id === id);
    return addNode(
      chart,
      "implied",
      id,
      work === undefined ? `Implied ${id}` : `Implied ${id}, ${nameOfWork(work)}`,
    );
  });
  const last = reason.implied.at(-1) ?? `${operation}${reason.finding ?? ""}`;
  const effect = addNode(
    chart,
    "disturbance",
    `${last} ${reason.disturbance} ${sensorName}`,
    `${sensorName}, ${DISTURBANCES[reason.disturbance].label}`,
  );
  const chain = [start, ...implied, effect, goal];
  chain.slice(1).forEach((to, index) => {
    addEdge(chart, chain[index] ?? start, to, reason.certain);
  });
}

function addNode(chart: Chart, group: Group, key: string, label: string): string {
  const known = chart.nodes.get(`${group} ${key}`);
  if (known !== undefined) return known.name;
  const number = [...chart.nodes.values()].filter((node) => node.group === group).length + 1;
  const name = `${PREFIX[group]}${number}`;
  chart.nodes.set(`${group} ${key}`, { name, group, label });
  return name;
}

/** A way that one chain shows to be certain is certain, whatever another chain makes of it. */
function addEdge(chart: Chart, from: string, to: string, certain: boolean): void {
  const key = `${from} ${to}`;
  const before = chart.edges.get(key);
  chart.edges.set(key, { from, to, certain: certain || before?.certain === true });
}

function shapeOf(group: Group, label: string): string {
  switch (group) {
    case "line":
      return `["${label}"]`;
    case "implied":
      return `("${label}")`;
    case "disturbance":
      return `{{"${label}"}}`;
    case "requirement":
      return `(["${label}"])`;
  }
}

/** The longest label: a chart with longer ones cannot be read. */
const LONGEST = 120;

/**
 * Writes every character that could mean something to a reader of Mermaid, or to one of Markdown or HTML behind it, as
 * a numeric entity. A colon counts among them: with one on the line, some releases cut the last entity short.
 */
export function escapeLabel(text: string): string {
  const characters = [...escapeText(text)];
  const short =
    characters.length > LONGEST ? [...characters.slice(0, LONGEST - 3), "..."].join("") : characters.join("");
  return short.replace(/[^\p{L}\p{M}\p{N} ,()'.-]/gu, (character) => `#${character.codePointAt(0) ?? 0};`);
}
