import { nameOfFinding } from "../explain/index.js";
import type { Plan } from "../plan/index.js";
import {
  keyOfPlace,
  EVIDENCE,
  INSPECTIONS,
  STANDINGS,
  STANDING_IDS,
  TASKS,
  capital,
  nameOfSensor,
} from "../vocabulary/index.js";
import {
  EMPTY_LINE,
  joinLines,
  pageWidth,
  paragraph,
  type Line,
  type Placing,
  type Styler,
} from "./layout.js";
import {
  LABEL,
  bullet,
  gatherMaterial,
  joinIds,
  nameNeeders,
  row,
  section,
  type MaterialOptions,
  type Page,
} from "./page.js";
import { writePreconditions } from "./preconditions.js";
import { writeContradictions, writeQuestions } from "./questions.js";
import { writeHolds, writeRequirements } from "./requirements.js";
import {
  APPLIES,
  NOT_INDICATED,
  dueOf,
  inspectionsOf,
  joinNumbers,
  outcomeOf,
  recordsOf,
} from "./tell-plan.js";
import {
  nameOfRequirement,
  nameOfSource,
  nameOfWork,
  namePlaces,
  nameRequirements,
  sentence,
} from "./words.js";

export type { OrderLine } from "./page.js";

/** How a report on a terminal or in a text file is to look. */
export interface TextOptions extends MaterialOptions {
  /** Columns of the page; 80 if left out, never fewer than 40. */
  readonly width?: number | undefined;
  /** Marks finished lines, with colour for one; left out, the text is plain. */
  readonly styler?: Styler | undefined;
}

/**
 * Writes a plan as text for a terminal or for paper: what is still to be answered first, then what is due and why,
 * what has to be true before, the steps in order, and everything that was left aside.
 *
 * No line is wider than `width` columns, and characters of the input that could steer a terminal are written out.
 */
export function renderText(plan: Plan, options: TextOptions = {}): string {
  const page: Page = {
    ...gatherMaterial(plan, options),
    width: pageWidth(options.width),
  };
  const sections = [
    writeHead(page),
    writeContradictions(page),
    writeQuestions(page),
    writeHolds(page),
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

function writeHead(page: Page): readonly Line[] {
  const { plan, width } = page;
  const { make, model, modelYears, vin } = plan.vehicle;
  const held = plan.requirements.filter(({ holds }) => holds.length > 0).map(({ id }) => id);
  const name = [make, model].filter((part) => part !== null).join(" ");
  const year = modelYears.length === 0 ? "model year not known" : `model year ${modelYears.join(" or ")}`;
  const vehicle = [name === "" ? "make and model not stated" : name, year, `VIN ${vin ?? "not stated"}`];
  return [
    ...paragraph("Calibration plan", { width, role: "title" }),
    ...row(page, "Order", plan.reference, "plain", 0),
    ...row(page, "Vehicle", vehicle.join(", "), "plain", 0),
    ...row(page, "Outcome", outcomeOf(plan), plan.outcome === "complete" ? "strong" : "alert", 0),
    ...row(page, "Due", dueOf(plan), "plain", 0),
    ...(held.length === 0 ? [] : row(page, "On hold", `${nameRequirements(held)}: see below`, "alert", 0)),
  ];
}

/** What each inspection looks at and when it fails, once for all that need it. */
function writeInspections(page: Page): readonly Line[] {
  const needed = inspectionsOf(page.plan);
  if (needed.length === 0) return [];
  return section(
    page,
    `Inspections (${needed.length})`,
    "Each with what counts as failing.",
    needed.flatMap(({ id, requirements }) => [
      EMPTY_LINE,
      ...paragraph(`${capital(INSPECTIONS[id].label)}, for ${nameNeeders(page, requirements)}`, {
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
  const needed = recordsOf(page.plan);
  if (needed.length === 0) return [];
  return section(
    page,
    `Records to keep (${needed.length})`,
    "Each for everything in this plan, unless it says for what.",
    needed.flatMap(({ id, requirements }) => {
      const isForAll = requirements.length === page.plan.requirements.length;
      return [
        ...paragraph(`${capital(EVIDENCE[id].label)}: ${EVIDENCE[id].meaning}`, {
          width: page.width,
          indent: 2,
          lead: "[ ] ",
        }),
        ...(isForAll
          ? []
          : paragraph(`For ${nameNeeders(page, requirements)}`, {
              width: page.width,
              indent: 6,
              role: "faint",
            })),
      ];
    }),
  );
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

function writeImplied(page: Page): readonly Line[] {
  const { impliedOperations } = page.plan;
  if (impliedOperations.length === 0) return [];
  return section(
    page,
    `Work that the order implies (${impliedOperations.length})`,
    "It stands on no line, but the lines named bring it with them.",
    impliedOperations.flatMap((implied) => {
      const from = implied.fromAll.map((root) =>
        root.startsWith("/") ? nameOfFinding(root, page.findings) : root,
      );
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
        .map(({ sensor, position }) => keyOfPlace(sensor, position));
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
