import type { Plan, PlanReason, Requirement } from "../plan/index.js";
import {
  DISTURBANCES,
  EVIDENCE,
  EVIDENCE_IDS,
  FEATURES,
  INSPECTIONS,
  INSPECTION_IDS,
  METHODS,
  PRECONDITIONS,
  STANDINGS,
  STANDING_IDS,
  TASKS,
  TASK_IDS,
  type EvidenceId,
  type FeatureId,
  type InspectionId,
  type Standing,
} from "../vocabulary/index.js";
import {
  EMPTY_LINE,
  joinLines,
  pageWidth,
  paragraph,
  type Line,
  type Placing,
  type Role,
  type Styler,
} from "./layout.js";
import {
  capital,
  count,
  nameOfFinding,
  nameOfRequirement,
  nameOfSensor,
  nameOfSource,
  nameOfWork,
  namePlaces,
  nameRequirements,
  sentence,
  type Work,
} from "./words.js";

/** A line of the work order as the report needs it; an operation of a job fits. */
export interface OrderLine extends Work {
  readonly id: string;
  readonly text?: string | undefined;
}

/** How a report on a terminal or in a text file is to look. */
export interface TextOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  /** Marks finished lines, with colour for one; left out, the text is plain. */
  readonly styler?: Styler | undefined;
  /** The operations of the job, so that the report can say what stands on the lines that the plan only numbers. */
  readonly operations?: readonly OrderLine[] | undefined;
}

/** What the parts of the report share. */
interface Page {
  readonly plan: Plan;
  readonly width: number;
  readonly lines: ReadonlyMap<string, OrderLine>;
  /** Step ids → their number in the list of steps. */
  readonly steps: ReadonlyMap<string, number>;
}

/** Columns of the labels beside a requirement's facts. */
const LABEL = 11;

/**
 * Writes a plan as text for a terminal or for paper: what is still to be answered first, then what is due and why,
 * what has to be true before, the steps in order, and everything that was left aside.
 *
 * No line is wider than `width` columns, and characters of the input that could steer a terminal are written out.
 */
export function renderText(plan: Plan, options: TextOptions = {}): string {
  const page: Page = {
    plan,
    width: pageWidth(options.width),
    lines: new Map((options.operations ?? []).map((line) => [line.id, line])),
    steps: new Map(plan.steps.map(({ id }, index) => [id, index + 1])),
  };
  const sections = [
    writeHead(page),
    writeContradictions(page),
    writeQuestions(page),
    ...STANDING_IDS.map((standing) => writeRequirements(page, standing)),
    writeInspections(page),
    writePreconditions(page),
    writeSteps(page),
    writeRecords(page),
    writeImplied(page),
    writeWaived(page),
    writeNotIndicated(page),
    writeClaimed(page),
    writeUnread(page),
    writeRemarks(page),
    writeCautions(page),
    writeBasis(page),
    writeSignatures(page),
  ].filter((section) => section.length > 0);
  return joinLines(
    sections.flatMap((section, index) => (index === 0 ? section : [EMPTY_LINE, ...section])),
    options.styler,
  );
}

function section(page: Page, title: string, about: string | null, body: readonly Line[]): readonly Line[] {
  const head = paragraph(title.toUpperCase(), { width: page.width, role: "heading" });
  const intro = about === null ? [] : paragraph(about, { width: page.width, indent: 2, role: "faint" });
  return [...head, ...intro, ...body];
}

/** A label and its text beside it. */
function row(page: Page, label: string, text: string, role: Role = "plain", indent = 4): readonly Line[] {
  return paragraph(text, { width: page.width, indent, lead: label.padEnd(LABEL), role });
}

/** Text that goes on under the one beside a label. */
function under(page: Page, text: string, lead = "", role: Role = "plain", indent = 4): readonly Line[] {
  return paragraph(text, { width: page.width, indent: indent + LABEL, lead, role });
}

function bullet(page: Page, text: string, role: Role = "plain"): readonly Line[] {
  return paragraph(text, { width: page.width, indent: 2, lead: "- ", role });
}

function writeHead(page: Page): readonly Line[] {
  const { plan, width } = page;
  const { make, model, modelYears, vin } = plan.vehicle;
  const name = [make, model].filter((part) => part !== null).join(" ");
  const year = modelYears.length === 0 ? "model year not known" : `model year ${modelYears.join(" or ")}`;
  const vehicle = [name === "" ? "make and model not stated" : name, year, `VIN ${vin ?? "not stated"}`];
  return [
    ...paragraph("Calibration plan", { width, role: "title" }),
    ...row(page, "Order", plan.reference, "plain", 0),
    ...row(page, "Vehicle", vehicle.join(", "), "plain", 0),
    ...row(page, "Outcome", outcomeOf(plan), plan.outcome === "complete" ? "strong" : "alert", 0),
    ...row(page, "Due", dueOf(plan), "plain", 0),
    ...(heldOf(plan).length === 0
      ? []
      : row(
          page,
          "On hold",
          `${heldOf(plan).join("; ")}. What clears each hold stands with it.`,
          "alert",
          0,
        )),
  ];
}

function outcomeOf(plan: Plan): string {
  switch (plan.outcome) {
    case "complete":
      return "Complete as far as rules and stated facts go: no question is open.";
    case "needs-answers":
      return `Needs answers: ${count(plan.questions.length, "question")} open. Until then the list below can still grow or firm up.`;
  }
}

function dueOf(plan: Plan): string {
  const parts = STANDING_IDS.flatMap((standing) => {
    const number = plan.requirements.filter((each) => each.standing === standing).length;
    return number === 0 ? [] : [`${number} ${SHORT[standing]}`];
  });
  if (parts.length > 0) return `${parts.join(", ")}.`;
  return plan.outcome === "complete"
    ? "Nothing, as far as rules and stated facts go."
    : "Nothing so far, and the open questions can change that.";
}

const SHORT: Readonly<Record<Standing, string>> = {
  required: "required",
  presumed: "presumed",
  "inspect-first": "to be inspected first",
  undetermined: "not decided",
};

function heldOf(plan: Plan): readonly string[] {
  return plan.requirements.filter(({ holds }) => holds.length > 0).map(({ id }) => nameOfRequirement(id));
}

function writeContradictions(page: Page): readonly Line[] {
  const { contradictions } = page.plan;
  if (contradictions.length === 0) return [];
  return section(
    page,
    `Statements that contradict each other (${contradictions.length})`,
    "None of them was believed: the fact counts as unknown.",
    contradictions.flatMap(({ says, about }) => [
      ...bullet(page, sentence(says), "alert"),
      ...paragraph(`At ${about.join(" and ")}`, { width: page.width, indent: 4, role: "faint" }),
    ]),
  );
}

function writeQuestions(page: Page): readonly Line[] {
  const { questions, atLeastOneOf } = page.plan;
  if (questions.length === 0 && atLeastOneOf.length === 0) return [];
  const asked = questions.flatMap((question): readonly Line[] => {
    const about = { width: page.width, indent: 7, role: "faint" } satisfies Placing;
    return [
      ...paragraph(question.ask, {
        width: page.width,
        indent: 2,
        lead: question.id.padEnd(5),
        role: "strong",
      }),
      ...(question.answers.length === 0
        ? []
        : paragraph(`Answer: ${question.answers.join(" / ")}`, { width: page.width, indent: 7 })),
      ...(question.settles.length === 0
        ? []
        : paragraph(`Settles: ${nameRequirements(question.settles)}`, {
            width: page.width,
            indent: 7,
          })),
      ...(question.couldAdd.length === 0
        ? []
        : paragraph(`Could add work on: ${namePlaces(question.couldAdd)}`, {
            width: page.width,
            indent: 7,
          })),
      ...paragraph(`Belongs at ${question.about}`, about),
    ];
  });
  const proven = atLeastOneOf.flatMap(({ sensors, because, question }) =>
    bullet(
      page,
      `At least one of these is fitted: ${namePlaces(sensors)}. That follows from ${because.map(labelOfFeature).join(", ")}${question === null ? "" : ` (${question})`}.`,
    ),
  );
  return section(
    page,
    `Open questions (${questions.length})`,
    questions.length === 0 ? null : "The one that settles most comes first.",
    [...asked, ...proven],
  );
}

function labelOfFeature(id: FeatureId): string {
  return FEATURES[id].label;
}

/** The heading of a standing; "calibrate" only where nothing but calibrations stands under it. */
function headingOf(standing: Standing, requirements: readonly Requirement[]): string {
  const areCalibrations = requirements.every(({ task }) => task === "calibration");
  const doIt = areCalibrations ? "Calibrate" : "Carry out";
  switch (standing) {
    case "required":
      return `${doIt}: required`;
    case "presumed":
      return `${doIt} unless the maker's procedure says otherwise: presumed`;
    case "inspect-first":
      return `Inspect first, ${doIt.toLowerCase()} if it fails`;
    case "undetermined":
      return "Not decided: it hangs on open questions";
  }
}

function writeRequirements(page: Page, standing: Standing): readonly Line[] {
  const requirements = page.plan.requirements.filter((each) => each.standing === standing);
  if (requirements.length === 0) return [];
  return section(
    page,
    `${headingOf(standing, requirements)} (${requirements.length})`,
    STANDINGS[standing].meaning,
    requirements.flatMap((requirement) => [EMPTY_LINE, ...writeRequirement(page, requirement)]),
  );
}

function writeRequirement(page: Page, requirement: Requirement): readonly Line[] {
  const { couldRiseTo, questions, alsoFor } = requirement;
  const also = alsoFor.length === 0 ? "" : ` (the same device: ${namePlaces(alsoFor)})`;
  const name = `${capital(nameOfSensor(requirement.sensor, requirement.position))}: ${TASKS[requirement.task].label}`;
  return [
    ...paragraph(`${name}${also}`, { width: page.width, indent: 2, role: "strong" }),
    ...requirement.holds.flatMap((hold) => [
      ...row(page, "HOLD", `${sentence(hold.says)} (${causeOf(page, hold)}; ${hold.rule})`, "alert"),
      ...under(page, `Cleared by: ${hold.clearedBy}`, "", "alert"),
    ]),
    ...(requirement.fitted === "yes"
      ? []
      : row(page, "Fitted", `Not known; it counts only if the sensor is there.`)),
    ...(couldRiseTo === null
      ? []
      : row(page, "Could rise", `to ${STANDINGS[couldRiseTo].label}, by ${questions.join(", ")}`)),
    ...writeMethod(page, requirement),
    ...writeProcedure(page, requirement),
    ...writeInspectionRow(page, requirement),
    ...writeWhy(page, requirement),
    ...writeFeatures(page, requirement),
    ...writeOwnSteps(page, requirement),
  ];
}

function writeInspectionRow(page: Page, { inspection }: Requirement): readonly Line[] {
  if (inspection === null) return [];
  const names = inspection.map(
    ({ id, certain }) => `${INSPECTIONS[id].label}${certain ? "" : " (depends on a question)"}`,
  );
  return row(page, "Inspect", names.join(", "));
}

/** What each inspection looks at and when it fails, once for all that need it. */
function writeInspections(page: Page): readonly Line[] {
  const needed = new Map<InspectionId, string[]>();
  for (const { id, inspection } of page.plan.requirements) {
    for (const each of inspection ?? []) needed.set(each.id, [...(needed.get(each.id) ?? []), id]);
  }
  const ids = INSPECTION_IDS.filter((id) => needed.has(id));
  if (ids.length === 0) return [];
  return section(
    page,
    `Inspections (${ids.length})`,
    "Each with what counts as failing.",
    ids.flatMap((id) => [
      EMPTY_LINE,
      ...paragraph(`${capital(INSPECTIONS[id].label)}, for ${nameNeeders(page, needed.get(id) ?? [])}`, {
        width: page.width,
        indent: 2,
        role: "strong",
      }),
      ...row(page, "Look at", INSPECTIONS[id].lookAt),
      ...row(page, "Fails when", INSPECTIONS[id].failsWhen),
    ]),
  );
}

/** The records to keep, each once with what it is the record of. */
function writeRecords(page: Page): readonly Line[] {
  const needed = new Map<EvidenceId, string[]>();
  for (const { id, evidence } of page.plan.requirements) {
    for (const each of evidence) needed.set(each, [...(needed.get(each) ?? []), id]);
  }
  const ids = EVIDENCE_IDS.filter((id) => needed.has(id));
  if (ids.length === 0) return [];
  return section(
    page,
    `Records to keep (${ids.length})`,
    null,
    ids.flatMap((id) => [
      ...paragraph(`${capital(EVIDENCE[id].label)}: ${EVIDENCE[id].meaning}`, {
        width: page.width,
        indent: 2,
        lead: "[ ] ",
      }),
      ...paragraph(`For ${nameNeeders(page, needed.get(id) ?? [])}`, {
        width: page.width,
        indent: 6,
        role: "faint",
      }),
    ]),
  );
}

function causeOf(
  page: Page,
  cause: { readonly operation: string | null; readonly finding: string | null },
): string {
  if (cause.operation !== null) return `line ${nameOfLine(page, cause.operation)}`;
  return nameOfFinding(cause.finding ?? "");
}

/** "L1, remove and replace windshield": as much as is known of a line of the order. */
function nameOfLine(page: Page, id: string): string {
  const line = page.lines.get(id);
  return line === undefined ? id : `${id}, ${nameOfWork(line)}`;
}

function writeMethod(page: Page, { task, method }: Requirement): readonly Line[] {
  if (task !== "calibration") return [];
  if (method.value === "unknown") {
    const usual =
      method.usual === null || method.usual === "none" || method.usual === "unknown"
        ? ""
        : ` Usual on such sensors: ${METHODS[method.usual].label}.`;
    return row(page, "Method", `The maker's procedure decides; none was given.${usual}`);
  }
  const source = method.source === null ? "" : ` (${nameOfSource(method.source)})`;
  return row(page, "Method", `${capital(METHODS[method.value].label)}${source}`);
}

type PlanProcedure = NonNullable<Requirement["procedure"]>;
type PlanTarget = PlanProcedure["targets"][number];

/** What the maker's procedure states as numbers, as far as the plan carries it. */
function writeProcedure(page: Page, { procedure }: Requirement): readonly Line[] {
  if (procedure === null) return [];
  const { targets, clearArea, driveWindow, afterwards } = procedure;
  return [
    ...targets.flatMap((target) => row(page, "Target", writeTarget(target))),
    ...(clearArea === null ? [] : row(page, "Free floor", writeClearArea(clearArea))),
    ...(driveWindow === null ? [] : row(page, "Drive", writeDrive(driveWindow))),
    ...afterwards.flatMap((text) => row(page, "Afterwards", sentence(text))),
  ];
}

function writeTarget(target: PlanTarget): string {
  const { distance, lateral, height } = target;
  const size = ({ nominal, tolerance }: PlanTarget["distance"]): string => `${nominal} ±${tolerance}`;
  const line = target.referenceLine === "thrust-line" ? "thrust line" : "geometric centre line";
  const aside =
    lateral.nominal === 0
      ? `on it ±${lateral.tolerance} mm`
      : `${size({ ...lateral, nominal: Math.abs(lateral.nominal) })} mm ${lateral.nominal > 0 ? "left" : "right"} of it`;
  const turns = (["yaw", "pitch", "roll"] as const).map((each) => `${each} ${size(target[each])}°`);
  return [
    `${target.name}: ${size(distance)} mm from the ${target.datum.replaceAll("-", " ")} along the ${line}`,
    aside,
    `its centre ${size(height)} mm above the floor`,
    ...turns,
  ].join(", ");
}

function writeClearArea(area: NonNullable<PlanProcedure["clearArea"]>): string {
  const height = area.height === undefined ? "" : `, ${area.height} mm high`;
  return `${area.length} mm long, ${area.width} mm wide${height}, from the ${area.datum.replaceAll("-", " ")}`;
}

const LANE_MARKINGS = {
  "both-sides": "lane markings on both sides",
  "one-side": "lane markings on one side",
  "not-needed": "no lane markings needed",
} as const;

function writeDrive(drive: NonNullable<PlanProcedure["driveWindow"]>): string {
  const { speed, minutes, distance, roads, laneMarkings, weather } = drive;
  return [
    `${speed.low} to ${speed.high} ${speed.unit}`,
    ...(minutes === undefined ? [] : [`${minutes} min`]),
    ...(distance === undefined ? [] : [`${distance.value} ${distance.unit}`]),
    ...(roads === undefined ? [] : [`roads: ${roads.join(", ")}`]),
    ...(laneMarkings === undefined ? [] : [LANE_MARKINGS[laneMarkings]]),
    ...(weather === undefined ? [] : [weather]),
  ].join("; ");
}

function writeWhy(page: Page, requirement: Requirement): readonly Line[] {
  const reason = shortestReason(requirement.because);
  if (reason === undefined) return [];
  const more = requirement.because.length - 1;
  const key =
    requirement.position === null ? requirement.sensor : `${requirement.sensor}:${requirement.position}`;
  return [
    ...writeReason(page, reason),
    ...(more === 0
      ? []
      : under(page, `and ${count(more, "more reason")}; the command explain shows all: ${key}`, "", "faint")),
  ];
}

function writeReason(page: Page, reason: PlanReason): readonly Line[] {
  const text =
    reason.operation === null
      ? ""
      : (page.lines.get(reason.operation)?.text ?? "").replace(/\s+/g, " ").trim();
  const begins = `${capital(causeOf(page, reason))}${text === "" ? "" : ` ("${text}")`}`;
  const implied = reason.implied.flatMap((id) => under(page, `${id}, ${nameOfImplied(page, id)}`, "-> "));
  const disturbed = [`${DISTURBANCES[reason.disturbance].label}.`, ...reason.says.slice(0, 1).map(sentence)];
  const asks = [...reason.says.slice(-1).map(sentence), `[${reason.rule}; ${nameOfSource(reason.source)}]`];
  return [
    ...row(page, "Why", begins),
    ...implied,
    ...under(page, disturbed.join(" "), "-> "),
    ...under(page, asks.join(" "), "-> "),
    ...(reason.certain
      ? []
      : under(page, `This holds only as ${joinIds(reason.questions)} may be answered.`)),
  ];
}

function joinIds(ids: readonly string[]): string {
  return ids.length === 0 ? "open points" : ids.join(" and ");
}

function nameOfImplied(page: Page, id: string): string {
  const implied = page.plan.impliedOperations.find((each) => each.id === id);
  return implied === undefined ? "implied work" : `${nameOfWork(implied)} (implied)`;
}

/** Of the firmest reasons the one with the fewest implied operations; reasons come sorted, so the first wins a tie. */
function shortestReason(reasons: readonly PlanReason[]): PlanReason | undefined {
  const certain = reasons.filter((reason) => reason.certain);
  const candidates = certain.length > 0 ? certain : reasons;
  const firmest = STANDING_IDS.find((standing) => candidates.some((reason) => reason.standing === standing));
  return candidates
    .filter((reason) => reason.standing === firmest)
    .reduce<PlanReason | undefined>(
      (best, reason) => (best === undefined || reason.implied.length < best.implied.length ? reason : best),
      undefined,
    );
}

function writeFeatures(page: Page, requirement: Requirement): readonly Line[] {
  const { features, possibleFeatures } = requirement;
  const lost =
    features.length === 0
      ? []
      : row(page, "Until then", `may fail: ${features.map(labelOfFeature).join(", ")}`);
  if (possibleFeatures.length === 0) return lost;
  const possible = `${features.length === 0 ? "may fail, if it has them" : "and, if it has them"}: ${possibleFeatures.map(labelOfFeature).join(", ")}`;
  return [...lost, ...(lost.length === 0 ? row(page, "Until then", possible) : under(page, possible))];
}

function writeOwnSteps(page: Page, requirement: Requirement): readonly Line[] {
  const numbers = page.plan.steps
    .filter((step) => step.requirement === requirement.id)
    .flatMap(({ id }) => page.steps.get(id) ?? []);
  return numbers.length === 0
    ? []
    : row(page, numbers.length === 1 ? "Step" : "Steps", numbers.join(", "), "faint");
}

function writePreconditions(page: Page): readonly Line[] {
  const { preconditions } = page.plan;
  if (preconditions.length === 0) return [];
  const groups = new Map<string, PlanPrecondition[]>();
  for (const condition of preconditions) {
    const key = `${condition.certain ? 0 : 1} ${condition.neededBy.join()}`;
    groups.set(key, [...(groups.get(key) ?? []), condition]);
  }
  const certainFirst = [...groups].sort(([a], [b]) => Number(a.slice(0, 1)) - Number(b.slice(0, 1)));
  return section(
    page,
    `Before the work begins (${preconditions.length})`,
    null,
    certainFirst.flatMap(([, conditions]) => {
      const [first] = conditions;
      if (first === undefined) return [];
      const whose = nameNeeders(page, first.neededBy);
      return [
        EMPTY_LINE,
        ...paragraph(
          first.certain ? `For ${whose}` : `For ${whose}, if the method that is still open needs it`,
          {
            width: page.width,
            indent: 2,
            role: "strong",
          },
        ),
        ...conditions.flatMap((condition) => writePrecondition(page, condition)),
      ];
    }),
  );
}

type PlanPrecondition = Plan["preconditions"][number];

/** Requirements in as few words as say which they are: by what is left out, or by whole tasks, where that is shorter. */
function nameNeeders(page: Page, ids: readonly string[]): string {
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

function writePrecondition(page: Page, condition: PlanPrecondition): readonly Line[] {
  const limits = condition.limits.map(
    ({ requirement, limit, note, source }) =>
      `${writeLimit(limit)} for ${nameOfRequirement(requirement)} (${nameOfSource(source)})${note === null ? "" : `. ${sentence(note)}`}`,
  );
  return [
    ...paragraph(`${capital(PRECONDITIONS[condition.id].label)}: ${condition.statement}`, {
      width: page.width,
      indent: 2,
      lead: "[ ] ",
    }),
    ...limits.flatMap((limit) => paragraph(`Limit: ${limit}`, { width: page.width, indent: 6 })),
    ...condition.notes.flatMap(({ requirement, note }) =>
      paragraph(`Note: ${sentence(note)} (${nameOfRequirement(requirement)})`, {
        width: page.width,
        indent: 6,
      }),
    ),
  ];
}

function writeLimit(limit: PlanPrecondition["limits"][number]["limit"]): string {
  switch (limit.sense) {
    case "at-most":
      return `at most ${limit.value} ${limit.unit}`;
    case "at-least":
      return `at least ${limit.value} ${limit.unit}`;
    case "between":
      return `${limit.low ?? "?"} to ${limit.high ?? "?"} ${limit.unit}`;
  }
}

function writeSteps(page: Page): readonly Line[] {
  const { steps } = page.plan;
  if (steps.length === 0) return [];
  const digits = String(steps.length).length;
  return section(
    page,
    `Steps in order (${steps.length})`,
    null,
    steps.flatMap((step, index) => {
      const after = step.after.flatMap((id) => page.steps.get(id) ?? []).sort((a, b) => a - b);
      const lead = `[ ] ${String(index + 1).padStart(digits)}  `;
      const below = { width: page.width, indent: 2 + lead.length, role: "faint" } satisfies Placing;
      return [
        ...paragraph(`${sentence(step.says)}${after.length === 0 ? "" : ` After ${joinNumbers(after)}.`}`, {
          width: page.width,
          indent: 2,
          lead,
        }),
        ...(step.onlyIf === null ? [] : paragraph(`Condition: ${step.onlyIf}`, below)),
      ];
    }),
  );
}

/** Step numbers, runs of three and more drawn together: "3, 5 to 8". */
function joinNumbers(numbers: readonly number[]): string {
  const runs: { readonly first: number; last: number }[] = [];
  for (const number of numbers) {
    const run = runs.at(-1);
    if (run !== undefined && run.last === number - 1) run.last = number;
    else runs.push({ first: number, last: number });
  }
  return runs
    .map(({ first, last }) =>
      first === last ? String(first) : last === first + 1 ? `${first}, ${last}` : `${first} to ${last}`,
    )
    .join(", ");
}

function writeImplied(page: Page): readonly Line[] {
  const { impliedOperations } = page.plan;
  if (impliedOperations.length === 0) return [];
  return section(
    page,
    `Work that the order implies (${impliedOperations.length})`,
    "It stands on no line, but the lines named bring it with them.",
    impliedOperations.flatMap((implied) => {
      const from = implied.fromAll.map((root) => (root.startsWith("/") ? nameOfFinding(root) : root));
      const by = implied.fromRequirement === null ? "" : `, by ${nameOfRequirement(implied.fromRequirement)}`;
      const open = implied.certain ? "" : ` Possible, not certain: ${joinIds(implied.questions)}.`;
      return [
        ...paragraph(`${capital(nameOfWork(implied))}, from ${from.join(", ")}${by}.${open}`, {
          width: page.width,
          indent: 2,
          lead: implied.id.padEnd(5),
        }),
        ...paragraph(`[${implied.rules.join(", ")}]`, { width: page.width, indent: 7, role: "faint" }),
      ];
    }),
  );
}

function writeWaived(page: Page): readonly Line[] {
  const { waived } = page.plan;
  if (waived.length === 0) return [];
  return section(
    page,
    `Waived (${waived.length})`,
    "Rules asked for it, and a more specific document takes it away.",
    waived.flatMap((waiver) => [
      ...paragraph(
        `${capital(nameOfSensor(waiver.sensor, waiver.position))}: ${TASKS[waiver.task].label} (would have been: ${STANDINGS[waiver.wouldHaveBeen].label})`,
        { width: page.width, indent: 2, role: "strong" },
      ),
      ...row(page, "By", `${sentence(waiver.by.says)} [${waiver.by.rule}]`),
      ...row(page, "Document", nameOfSource(waiver.by.source)),
      ...row(page, "Waives", waiver.waives.join(", "), "faint"),
    ]),
  );
}

const NOT_INDICATED: readonly (readonly [Plan["notIndicated"][number]["reason"], string])[] = [
  ["no-rule-asks-for-it", "Fitted, and no rule asks for it"],
  ["fitment-unknown-but-no-rule-asks-for-it", "Not known whether fitted, and no rule would ask for it"],
  ["not-fitted", "Not fitted"],
];

function writeNotIndicated(page: Page): readonly Line[] {
  const { notIndicated } = page.plan;
  if (notIndicated.length === 0) return [];
  const considered = [...new Set(notIndicated.flatMap((each) => each.considered))];
  const lines =
    considered.length === 0
      ? "The order has no line to look at."
      : `Lines looked at: ${considered.join(", ")}.`;
  return section(
    page,
    `Not indicated (${notIndicated.length})`,
    `${lines} The command explain tells what would change it.`,
    NOT_INDICATED.flatMap(([reason, says]) => {
      const names = notIndicated
        .filter((each) => each.reason === reason)
        .map(({ sensor, position }) => (position === null ? sensor : `${sensor}:${position}`));
      return names.length === 0 ? [] : bullet(page, `${says}: ${namePlaces(names)}.`);
    }),
  );
}

function writeClaimed(page: Page): readonly Line[] {
  const { claimed } = page.plan;
  if (claimed.length === 0) return [];
  return section(
    page,
    `Claimed by the order (${claimed.length})`,
    "Lines that bill a calibration or a scan. They are no reason for one, and were not weighed here.",
    claimed.flatMap(({ operation, action, text }) =>
      bullet(page, `${operation}: ${action}${text === null ? "" : ` ("${text}")`}`),
    ),
  );
}

function writeUnread(page: Page): readonly Line[] {
  const { unread } = page.plan;
  if (unread.length === 0) return [];
  return section(
    page,
    `Lines nobody could read (${unread.length})`,
    null,
    unread.flatMap(({ operation, text, why }) =>
      bullet(page, `${operation}${text === null ? "" : ` ("${text}")`}: ${why}`, "alert"),
    ),
  );
}

function writeRemarks(page: Page): readonly Line[] {
  const { warnings, notes } = page.plan;
  const body = [
    ...warnings.flatMap(({ about, says }) => bullet(page, `${sentence(says)} (${about})`, "alert")),
    ...notes.flatMap((note) => bullet(page, note)),
  ];
  return body.length === 0 ? [] : section(page, "Remarks", null, body);
}

function writeCautions(page: Page): readonly Line[] {
  const { cautions } = page.plan;
  return section(
    page,
    "Cautions",
    null,
    cautions.flatMap((caution) => bullet(page, caution)),
  );
}

const APPLIES = {
  yes: "applied",
  no: "not for this vehicle, left aside",
  unknown: "not known whether it is for this vehicle, left aside",
} as const;

function writeBasis(page: Page): readonly Line[] {
  const { rulebook, procedures } = page.plan;
  const digest = (text: string): readonly Line[] =>
    paragraph(text, { width: page.width, indent: 4, role: "faint" });
  return section(page, "Made with", null, [
    ...rulebook.packs.flatMap((pack) => [
      ...bullet(page, `Rules ${pack.id} ${pack.version}`),
      ...digest(pack.digest),
    ]),
    ...procedures.flatMap((pack) => [
      ...bullet(
        page,
        `Procedures ${pack.id} ${pack.version}${pack.invented ? ", INVENTED for demonstration" : ""}: ${pack.cite}, issued ${pack.issued}; ${APPLIES[pack.applies]}`,
      ),
      ...digest(pack.digest),
    ]),
  ]);
}

function writeSignatures(page: Page): readonly Line[] {
  const rule = "_".repeat(page.width - 34);
  return section(page, "Signed", null, [
    EMPTY_LINE,
    ...["Technician", "Reviewer"].map((who): Line => ({
      text: `  ${who.padEnd(LABEL)} ${rule}  Date ____________`,
      role: "plain",
    })),
  ]);
}
