import { nameOfFinding, type StatedFindings } from "../explain/index.js";
import type { Plan } from "../plan/index.js";
import { FEATURES, TASKS, TASK_IDS, type FeatureId } from "../vocabulary/index.js";
import { paragraph, type Line, type Role } from "./layout.js";
import type { LengthUnits } from "./units.js";
import { nameOfWork, nameRequirements, type Work } from "./words.js";

/** A line of the work order as the report needs it; an operation of a job fits. */
export interface OrderLine extends Work {
  readonly id: string;
  readonly text?: string | undefined;
}

/** What a plan is told from, whatever it is printed on. */
export interface Material {
  readonly plan: Plan;
  readonly lines: ReadonlyMap<string, OrderLine>;
  readonly findings: StatedFindings | undefined;
  /** Step ids → their number in the list of steps. */
  readonly steps: ReadonlyMap<string, number>;
  readonly units: LengthUnits;
}

/** What the parts of the text report share. */
export interface Page extends Material {
  readonly width: number;
}

/** What may be at hand beside a plan, for whoever writes it down. */
export interface MaterialOptions {
  /** The operations of the job, so that it can be said what stands on the lines that the plan only numbers. */
  readonly operations?: readonly OrderLine[] | undefined;
  /** The findings of the job, so that it can be said what was found where the plan only points at it. */
  readonly findings?: StatedFindings | undefined;
  /** Of lengths; as the documents state them, in mm, if left out. Inches stand beside the stated value. */
  readonly units?: LengthUnits | undefined;
}

/** Puts a plan together with what the job says of its lines and findings, where that is at hand. */
export function gatherMaterial(plan: Plan, options: MaterialOptions): Material {
  const { operations = [], findings, units = "mm" } = options;
  return {
    plan,
    findings,
    units,
    lines: new Map(operations.map((line) => [line.id, line])),
    steps: new Map(plan.steps.map(({ id }, index) => [id, index + 1])),
  };
}

/** Columns of the labels beside a requirement's facts. */
export const LABEL = 11;

export function section(
  page: Page,
  title: string,
  about: string | null,
  body: readonly Line[],
): readonly Line[] {
  const head = paragraph(title.toUpperCase(), { width: page.width, role: "heading" });
  const intro = about === null ? [] : paragraph(about, { width: page.width, indent: 2, role: "faint" });
  return [...head, ...intro, ...body];
}

/** A label and its text beside it. */
export function row(
  page: Page,
  label: string,
  text: string,
  role: Role = "plain",
  indent = 4,
): readonly Line[] {
  return paragraph(text, { width: page.width, indent, lead: label.padEnd(LABEL), role });
}

/** Text that goes on under the one beside a label. */
export function under(
  page: Page,
  text: string,
  lead = "",
  role: Role = "plain",
  indent = 4,
): readonly Line[] {
  return paragraph(text, { width: page.width, indent: indent + LABEL, lead, role });
}

export function bullet(page: Page, text: string, role: Role = "plain"): readonly Line[] {
  return paragraph(text, { width: page.width, indent: 2, lead: "- ", role });
}

/** The line or finding that brought something, in words. */
export function causeOf(
  page: Material,
  cause: { readonly operation: string | null; readonly finding: string | null },
): string {
  if (cause.operation !== null) return `line ${nameOfLine(page, cause.operation)}`;
  return `finding: ${nameOfFinding(cause.finding ?? "", page.findings)}`;
}

/** "L1, remove and replace windshield": as much as is known of a line of the order. */
function nameOfLine(page: Material, id: string): string {
  const line = page.lines.get(id);
  return line === undefined ? id : `${id}, ${nameOfWork(line)}`;
}

/** Requirements in as few words as say which they are: by what is left out, or by whole tasks, where that is shorter. */
export function nameNeeders(page: Material, ids: readonly string[]): string {
  const { requirements } = page.plan;
  const others = requirements.filter(({ id }) => !ids.includes(id)).map(({ id }) => id);
  if (requirements.length > 1 && others.length === 0) return "everything in this plan";
  if (ids.length > 3 && others.length < 3) return `everything but ${nameRequirements(others)}`;
  const whole = TASK_IDS.filter((task) => {
    const members = requirements.filter((each) => each.task === task);
    return members.length > 1 && members.every(({ id }) => ids.includes(id));
  });
  const isInWhole = (id: string): boolean => whole.some((task) => id.endsWith(`/${task}`));
  const rest = ids.filter((id) => !isInWhole(id));
  return [
    ...(whole.length === 0 ? [] : [`every ${whole.map((task) => TASKS[task].label).join(" and ")}`]),
    ...(rest.length === 0 ? [] : [nameRequirements(rest)]),
  ].join("; ");
}

export function labelOfFeature(id: FeatureId): string {
  return FEATURES[id].label;
}

/** Ids of questions as part of a sentence. */
export function joinIds(ids: readonly string[]): string {
  return ids.length === 0 ? "open points" : ids.join(" and ");
}
